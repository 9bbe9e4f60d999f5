"""The page's server as its own page sees it: kept changes, undo, two windows, tries, and plans from the benches."""

from __future__ import annotations

import io
import json
import zipfile

import pytest
from starlette.testclient import TestClient

from settwright.store import open_book
from settwright.verify import verify
from settwright.web.front import Front
from settwright.web.keys import Keys
from settwright.web.room import Room

HERE = "http://127.0.0.1:8000"

SKIRT = """
format = 1
title = "Striped skirt"
units = "cm"

[measurements]
height = 171
bust_girth = 88
waist_girth = 70
hip_girth = "96,5"

[skirt]
length = 58

[cloths.shell]
title = "Blazer stripe"
colours = { cream = "#eae3d2", green = "#2f4a3c" }
warp = ["cream 24 mm", "green 12 mm"]
weft = "cream"
width = 145
price_per_metre = 40
"""


class Window:
    """A browser's window on the page."""

    def __init__(self, client: TestClient):
        self.client = client

    def get(self, path, **more):
        return self.client.get(path, **more)

    def post(self, path, **body):
        return self.client.post(path, json=body, headers={"origin": HERE})

    def begin(self, **body):
        answer = self.post("/api/commissions", **body)
        assert answer.status_code == 201, answer.text
        return answer.json()

    def change(self, state, *changes, on=None):
        return self.post(f"/api/commissions/{state['id']}/changes", on=on or state["revision"], changes=list(changes))


def entered(app, keys):
    client = TestClient(app, base_url=HERE)
    client.get(f"/?token={keys.token}")
    return Window(client)


@pytest.fixture
def window(tmp_path, monkeypatch):
    """A window on a workroom whose benches stand still."""
    monkeypatch.setattr(Room, "warm", lambda self, text: None)
    monkeypatch.setattr(Room, "want", lambda self, commission, role, key: None)
    keys, book = Keys.fresh(), open_book(tmp_path / "workroom.db")
    with entered(Front(book, keys), keys).client as client:
        yield Window(client)
    book.close()


def test_the_page_and_its_files_are_there(window):
    page = window.get("/")
    assert page.headers["content-type"].startswith("text/html")
    assert window.get("/static/nowhere.js").status_code == 404
    assert window.get("/static/../../app.py").status_code == 404
    assert window.get("/static/%2e%2e/app.py").status_code == 404


def test_the_first_view_offers_the_examples(window):
    found = window.get("/api/start").json()
    assert found["commissions"] == []
    assert "plaid-suit" in [example["name"] for example in found["examples"]]


def test_a_commission_is_begun_changed_and_listed(window):
    state = window.begin(toml=SKIRT)
    assert (state["title"], state["units"], state["undo"]) == ("Striped skirt", "cm", None)
    state = window.change(state, {"set": "skirt.length", "to": "60,5"}).json()
    assert state["values"]["skirt"]["length"] == "60,5"
    assert (state["undo"], state["redo"], state["merged"]) == ("skirt, length: 60,5", None, [])
    (listed,) = window.get("/api/start").json()["commissions"]
    assert (listed["title"], listed["garments"], listed["revision"]) == ("Striped skirt", ["skirt"], state["revision"])
    assert window.get(f"/api/commissions/{state['id']}").json()["toml"] == state["toml"]


def test_the_ticket_says_what_was_chosen_and_what_custom_chose(window):
    state = window.begin(toml=SKIRT)
    choices = {
        part["field"]: part
        for section in state["ticket"]
        for sentence in section["sentences"]
        for part in sentence["parts"]
        if isinstance(part, dict) and part["field"]
    }
    assert (choices["skirt.length"]["says"], choices["skirt.length"]["custom"]) == ("58 cm", False)
    assert choices["skirt.zip_length"]["custom"]
    assert "jacket.buttons" not in choices


def test_what_is_refused_is_not_kept(window):
    state = window.begin(toml=SKIRT)
    answer = window.change(state, {"set": "skirt.length", "to": "very long"})
    assert (answer.status_code, answer.json()["kind"]) == (422, "refused")
    (finding,) = answer.json()["findings"]
    assert finding["field"] == "skirt.length"
    assert "not a length" in finding["what"]
    assert window.get(f"/api/commissions/{state['id']}").json()["revision"] == state["revision"]


def test_undo_and_redo(window):
    first = window.begin(toml=SKIRT)
    second = window.change(first, {"set": "skirt.length", "to": "60"}).json()
    back = window.post(f"/api/commissions/{first['id']}/undo", on=second["revision"]).json()
    assert back["toml"] == first["toml"]
    again = window.post(f"/api/commissions/{first['id']}/redo", on=back["revision"]).json()
    assert again["toml"] == second["toml"]


def test_two_windows_change_two_fields_and_neither_loses_anything(window):
    state = window.begin(toml=SKIRT)
    window.change(state, {"set": "skirt.length", "to": "60"})
    answer = window.change(state, {"set": "skirt.zip_length", "to": "20"})
    both = answer.json()
    assert answer.status_code == 200
    assert both["merged"] == ["skirt.length"]
    assert (both["values"]["skirt"]["length"], both["values"]["skirt"]["zip_length"]) == (60, 20)


def test_two_windows_change_one_field_and_the_later_one_is_told(window):
    state = window.begin(toml=SKIRT)
    taken = window.change(state, {"set": "skirt.length", "to": "60"}).json()
    answer = window.change(state, {"set": "skirt.length", "to": "64"})
    assert (answer.status_code, answer.json()["kind"]) == (409, "changed-elsewhere")
    assert answer.json()["commission"]["values"]["skirt"]["length"] == 60
    assert window.change(taken, {"set": "skirt.length", "to": "64"}).status_code == 200
    late = window.post(f"/api/commissions/{state['id']}/undo", on=state["revision"])
    assert (late.status_code, late.json()["kind"]) == (409, "changed-elsewhere")


def test_the_same_change_in_two_windows_is_no_quarrel(window):
    state = window.begin(toml=SKIRT)
    window.change(state, {"set": "skirt.length", "to": "60"})
    assert window.change(state, {"set": "skirt.length", "to": "60"}).status_code == 200


def test_versions_are_named_and_come_back(window):
    first = window.begin(toml=SKIRT)
    named = window.post(f"/api/commissions/{first['id']}/versions", name="  as shown ", revision=first["revision"])
    assert named.json()["versions"] == [{"name": "as shown", "revision": first["revision"]}]
    second = window.change(first, {"set": "skirt.length", "to": "60"}).json()
    back = window.post(
        f"/api/commissions/{first['id']}/restore", on=second["revision"], revision=first["revision"]
    ).json()
    assert (back["toml"], back["undo"]) == (first["toml"], "back to “as shown”")
    rows = window.get(f"/api/commissions/{first['id']}/history").json()["revisions"]
    assert [row["says"] for row in rows] == ["back to “as shown”", "skirt, length: 60", "brought in from a file"]


def test_a_commission_goes_out_as_a_file_and_comes_in_again(window):
    state = window.begin(toml=SKIRT)
    out = window.get(f"/api/commissions/{state['id']}/commission.toml")
    assert out.headers["content-disposition"] == 'attachment; filename="striped-skirt.toml"'
    assert window.begin(toml=out.text)["toml"] == state["toml"]


@pytest.mark.parametrize(
    "body",
    [
        {"toml": "format = 1\nunits = 'furlongs'"},
        {"toml": "nothing of the kind"},
        {"example": "../../etc/passwd"},
        {"toml": SKIRT.replace("skirt]", "kilt]")},
    ],
)
def test_what_cannot_be_read_is_refused_with_findings(window, body):
    answer = window.post("/api/commissions", **body)
    assert answer.status_code == 422
    assert answer.json()["findings"]
    assert window.get("/api/start").json()["commissions"] == []


@pytest.mark.parametrize(
    ("path", "body", "status"),
    [
        ("/api/commissions/none/changes", {"on": 1, "changes": [{"set": "title", "to": "a"}]}, 404),
        ("/api/commissions/none/undo", {"on": 1}, 404),
        ("/api/commissions", {"surprise": 1}, 400),
        ("/api/plans/none/slide", {"piece": "a", "axis": "upright", "place": 1}, 404),
        ("/api/plans/none/slide", {"piece": "a", "axis": "sideways", "place": 1}, 404),
        ("/api/plans/none/slide", {"piece": "a", "axis": "upright", "place": "1"}, 400),
        ("/api/nowhere", {}, 404),
    ],
)
def test_every_fault_is_answered_in_one_shape(window, path, body, status):
    answer = window.post(path, **body)
    assert answer.status_code == status
    assert set(answer.json()) >= {"error", "kind", "findings"}


@pytest.mark.parametrize("path", ["/api/plans/none", "/api/plans/none/picture/front", "/api/plans/none/files/../../x"])
def test_plans_that_nobody_has_are_unknown(window, path):
    assert window.get(path).status_code == 404


def test_settings_are_kept_and_long_ones_are_not(window):
    assert window.post("/api/settings", theme="dark", motion="x" * 300).json() == {"theme": "dark"}
    assert window.get("/api/start").json()["settings"] == {"theme": "dark"}


def test_the_starter_is_offered_once(window, monkeypatch):
    monkeypatch.setattr("settwright.web.start.can_offer", lambda: True)
    assert window.get("/api/start").json()["offers_starter"]
    window.post("/api/starter", add=False)
    assert not window.get("/api/start").json()["offers_starter"]


def test_a_starter_is_put_into_the_menu(window, monkeypatch, tmp_path):
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path))
    window.post("/api/starter", add=True)
    entry = (tmp_path / "applications" / "settwright.desktop").read_text().splitlines()
    assert entry[0] == "[Desktop Entry]"
    assert any(line.startswith("Exec=") and "settwright" in line for line in entry)


@pytest.fixture(scope="module")
def workroom(tmp_path_factory):
    """A window on a workroom with both benches at work."""
    keys, book = Keys.fresh(), open_book(tmp_path_factory.mktemp("book") / "workroom.db")
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(Room, "warm", lambda self, text: None)
        with entered(Front(book, keys), keys).client as client:
            yield Window(client)
    book.close()


@pytest.fixture(scope="module")
def skirt(workroom):
    return workroom.begin(toml=SKIRT)


def test_a_plan_is_reported_drawn_and_reckoned(workroom, skirt):
    at = f"/api/plans/{skirt['plan']}"
    report = workroom.get(at).json()
    assert report["pieces"]["skirt-front"]["title"] == "Skirt front"
    tile = report["cloths"]["shell"]["tile"]
    assert (tile["width"], len(tile["rects"])) == (36.0, 2)
    for view in report["views"]:
        picture = workroom.get(f"{at}/picture/{view}").json()
        assert {patch["piece"] for layer in picture["layers"] for patch in layer["patches"]} >= {"skirt-front"}
    pieces = {piece["name"]: piece for piece in workroom.get(f"{at}/pieces").json()["pieces"]}
    assert set(pieces) == set(report["pieces"])
    reckoning = workroom.get(f"{at}/reckoning").json()
    (cloth,) = reckoning["cloths"]
    assert cloth["buy"] > cloth["lays_in"] > 580  # a skirt of 58 cm can't be cut from less
    assert reckoning["price"]["amount"] == pytest.approx(cloth["buy"] / 1000 * 40, abs=0.01)


def test_a_slide_moves_the_piece_and_keeps_as_a_pin(workroom, skirt):
    at = f"/api/plans/{skirt['plan']}"
    before = workroom.get(at).json()
    hold = before["pieces"]["skirt-front"]["hold"]["upright"]
    place = (6.0 - hold["offset"]) % 36
    slid = workroom.post(f"{at}/slide", piece="skirt-front", axis="upright", place=place).json()
    assert slid["phases"]["skirt-front"][0] == pytest.approx(place, abs=0.01)
    assert slid["snap"]["says"] == "6.0 mm into cream 1 on the centre front"
    tried = workroom.post(f"/api/commissions/{skirt['id']}/try", on=skirt["revision"], changes=slid["changes"]).json()
    kept = workroom.get(f"/api/plans/{tried['plan']}").json()
    assert kept["phases"]["skirt-front"][0] == pytest.approx(place, abs=0.01)


def test_pieces_are_marked_as_cut_where_the_plan_lays_them(workroom):
    state = workroom.begin(toml=SKIRT)
    laid = workroom.get(f"/api/plans/{state['plan']}/reckoning").json()["cloths"][0]["layout"]["pieces"]
    state = workroom.change(state, {"cut": {"pieces": ["skirt-front"]}}).json()
    (mark,) = state["values"]["cut"]
    assert (mark["piece"], mark["cloth"]) == ("skirt-front", "shell")
    report = workroom.get(f"/api/plans/{state['plan']}").json()
    assert report["pieces"]["skirt-front"]["is_cut"]
    again = workroom.get(f"/api/plans/{state['plan']}/reckoning").json()["cloths"][0]["layout"]["pieces"]
    assert again["skirt-front"] == laid["skirt-front"]
    assert workroom.change(state, {"cut": {"pieces": ["nose"]}}).status_code == 422


def test_a_try_is_planned_and_not_kept(workroom, skirt):
    change = {"set": "skirt.length", "to": "70"}
    tried = workroom.post(f"/api/commissions/{skirt['id']}/try", on=skirt["revision"], changes=[change]).json()
    assert tried["changed"] == ["skirt.length"]
    found = workroom.get(f"/api/plans/{tried['plan']}/differences", params={"from": skirt["plan"]}).json()
    cloth = next(row for row in found["differences"] if row["what"] == "cloth")
    assert cloth["says"].endswith("more")
    assert workroom.get(f"/api/commissions/{skirt['id']}").json()["revision"] == skirt["revision"]


def test_the_sheets_are_there_and_the_plan_holds(workroom, skirt):
    at = f"/api/plans/{skirt['plan']}/files"
    offered = [file["name"] for file in workroom.get(at).json()["files"]]
    answer = workroom.get(f"{at}/workbook.pdf")
    assert answer.content.startswith(b"%PDF")
    assert answer.headers["content-disposition"] == 'attachment; filename="striped-skirt-workbook.pdf"'
    archive = zipfile.ZipFile(io.BytesIO(workroom.get(f"{at}/all.zip").content))
    assert set(offered) - {"all.zip"} <= set(archive.namelist())
    assert verify(archive.read("plan.json")).is_sound
    assert workroom.get(f"{at}/nothing.pdf").status_code == 404


def test_what_is_read_is_told(workroom, skirt):
    at = f"/api/plans/{skirt['plan']}"
    (draft,) = workroom.get(f"{at}/lesson").json()["drafts"]
    drawings = [figure["svg"] for figure in draft["figures"]]
    assert drawings[0] is None, "the first figures are only worked out"
    assert drawings[-1].startswith("<svg")
    assert [step for figure in draft["figures"] for step in figure["steps"] if step["value"]]
    assert "press" in json.dumps(workroom.get(f"{at}/order").json())
    measures = workroom.get(f"/api/commissions/{skirt['id']}/measurements").json()
    stands = {m["name"]: m for m in measures["measures"]}
    assert (stands["hip_girth"]["written"], stands["hip_girth"]["is_estimate"]) == ("96,5", False)
    assert stands["wrist_girth"]["is_estimate"]
    assert 'id="measure-hip_girth"' in measures["svg"]


def test_a_swatch_is_shown_and_faults_are_told_by_field(workroom):
    cloth = {"colours": {"a": "#112233", "b": "#ffeedd"}, "warp": ["a 12 mm", "b 3 mm"], "weft": "as warp"}
    shown = workroom.post("/api/swatch", cloth=cloth, units="cm").json()
    assert shown["tile"]["width"] == 15.0
    assert shown["woven"]["a"]["a"] == "#112233"
    wrong = workroom.post("/api/swatch", cloth={**cloth, "warp": ["a 12 mm", "c 3 mm"]}, units="cm").json()
    assert wrong["tile"] is None
    assert "warp.1" in [finding["field"] for finding in wrong["findings"]]


def test_a_body_that_no_draft_fits_is_refused_in_words(workroom):
    state = workroom.begin(toml=SKIRT)
    answer = workroom.change(state, {"set": "cloths.shell.width", "to": "40"})
    if answer.status_code == 200:
        answer = workroom.get(f"/api/plans/{answer.json()['plan']}/reckoning")
    assert (answer.status_code, answer.json()["kind"]) == (422, "refused")
    assert answer.json()["findings"][0]["what"]
