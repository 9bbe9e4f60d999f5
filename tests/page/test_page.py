"""The page driven as a dressmaker drives it: from a new commission to printed sheets, trying, sliding, undoing.

Nothing here is compared with the program's own drawings: what is checked is what she would see and keep.
"""

from __future__ import annotations

import json
import re
import zipfile
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import BrowserContext, Page, expect

from tests.page.conftest import LAYING, Workroom


def open_example(page: Page, title: str = "Plaid suit for the autumn fair") -> str:
    """Opens a fresh copy of an example and returns its id, once its picture is there."""
    page.locator(".example", has_text=title).click()
    expect(page.locator("garment-picture")).to_be_visible(timeout=LAYING)
    return page.url.split("#/")[1].split("/")[0]


def asked(page: Page, path: str) -> Any:
    """Returns what the server tells this page at an address."""
    return page.evaluate("path => fetch(path).then(answer => answer.json())", path)


def state_of(page: Page, commission: str) -> dict[str, Any]:
    return asked(page, f"/api/commissions/{commission}")


def report_of(page: Page, commission: str) -> dict[str, Any]:
    """Returns the report of a commission's plan when the whole search is done."""
    for _ in range(240):
        report = asked(page, f"/api/plans/{state_of(page, commission)['plan']}")
        if not report.get("provisional"):
            return report
        page.wait_for_timeout(250)
    raise AssertionError("the bars were never settled")


def word(page: Page, field: str) -> Any:
    """Returns the choice of a field where it stands in the ticket."""
    return page.locator(f'.ticket [data-field="{field}"]')


def kept(page: Page) -> None:
    """Waits until every change has been kept."""
    expect(page.locator(".saved")).to_have_text("all kept")


def test_from_a_new_commission_to_printed_sheets(page: Page, tmp_path: Path) -> None:
    page.get_by_label("Title").fill("Skirt for a rainy day")
    page.get_by_label("jacket", exact=True).uncheck()
    page.get_by_role("button", name="Begin").click()
    expect(page.get_by_role("heading", name="Measurements")).to_be_visible()
    for name, written in (("Height", "168"), ("Bust girth", "92"), ("Waist girth", "74,5"), ("Hip girth", "98")):
        page.get_by_role("textbox", name=re.compile(f"^{name}")).fill(written)
        page.keyboard.press("Enter")
    kept(page)
    expect(page.get_by_label("Waist to hip")).to_have_attribute("placeholder", re.compile(r"^\d+\.\d cm$"))
    page.get_by_role("link", name="Cloth", exact=True).click()
    page.get_by_role("textbox", name="Width of bar 1").fill("26")
    page.keyboard.press("Enter")
    kept(page)
    page.get_by_role("link", name="Plan", exact=True).click()
    expect(page.locator("garment-picture canvas.cloth")).to_be_visible(timeout=LAYING)
    expect(page.locator(".cell .big").first).to_contain_text("buy", timeout=LAYING)
    page.get_by_role("link", name="Sheets to print").click()
    everything = page.get_by_role("link", name="All of them in one file")
    expect(everything).to_be_visible(timeout=LAYING)
    with page.expect_download(timeout=LAYING) as download:
        everything.click()
    sheets = tmp_path / "sheets.zip"
    download.value.save_as(sheets)
    with zipfile.ZipFile(sheets) as found:
        assert {"workbook.pdf", "plan.json"} <= {Path(name).name for name in found.namelist()}
        workbook = next(name for name in found.namelist() if name.endswith("workbook.pdf"))
        assert found.read(workbook).startswith(b"%PDF")
        plan = json.loads(found.read(next(name for name in found.namelist() if name.endswith("plan.json"))))
    assert plan["title"] == "Skirt for a rainy day"
    assert plan["cloths"][0]["warp"]["bars"][0]["width"] == pytest.approx(26.0)
    told = {measure["name"]: measure for measure in plan["body"]}
    assert told["waist_girth"]["value"] == pytest.approx(745.0)
    assert told["waist_to_hip"]["source"] != told["waist_girth"]["source"]


def test_a_choice_is_tried_beside_the_other_and_taken(page: Page) -> None:
    commission = open_example(page)
    expect(page.locator(".cells")).to_have_attribute("aria-busy", "false", timeout=LAYING)
    before = state_of(page, commission)
    word(page, "jacket.front_edge").click()
    page.get_by_role("dialog").get_by_role("button", name="Try: a fold, its facing cut in one").click()
    expect(page.locator(".both garment-picture")).to_have_count(2)
    expect(page.locator(".tried-bar table tbody tr").first).to_be_visible(timeout=LAYING)
    assert state_of(page, commission)["revision"] == before["revision"], "trying keeps nothing"
    page.get_by_role("button", name="Leave it").click()
    expect(page.locator(".both")).to_have_count(0)
    expect(word(page, "jacket.front_edge")).to_contain_text("a seam")
    expect(word(page, "jacket.front_edge")).to_be_focused()

    word(page, "jacket.front_edge").click()
    page.get_by_role("dialog").get_by_role("button", name="Try: a fold, its facing cut in one").click()
    page.get_by_role("button", name="Take it").click()
    expect(word(page, "jacket.front_edge")).to_contain_text("a fold")
    expect(word(page, "jacket.front_edge")).to_be_focused()
    expect(page.locator(".both")).to_have_count(0)
    assert state_of(page, commission)["values"]["jacket"]["front_edge"] == "extended"
    page.keyboard.press("Control+z")
    expect(word(page, "jacket.front_edge")).to_contain_text("a seam")
    page.keyboard.press("Control+y")
    expect(word(page, "jacket.front_edge")).to_contain_text("a fold")


def test_cloth_is_slid_and_the_neighbours_follow_while_a_pin_holds(page: Page) -> None:
    commission = open_example(page)
    before = report_of(page, commission)
    repeat = before["cloths"]["shell"]["weft"]["repeat"]
    piece = page.locator('path.touch[data-piece="front.right"]').first
    box = piece.bounding_box()
    assert box is not None
    x, y = box["x"] + 0.6 * box["width"], box["y"] + 0.5 * box["height"]
    seen = page.locator("garment-picture canvas.cloth").screenshot()
    page.mouse.move(x, y)
    page.mouse.down()
    for step in range(1, 9):
        page.mouse.move(x, y + 3 * step)
    expect(page.locator(".caption.live")).to_contain_text("level bars")
    snapped = re.compile("(edge|middle) of")
    for step in range(24, 48):  # a hand stops at a bar, and no repeat is without one for so long
        page.mouse.move(x, y + step)
        page.wait_for_timeout(60)
        if snapped.search(page.locator(".caption.live").inner_text()):
            break
    expect(page.locator(".caption.live")).to_contain_text(snapped)
    assert page.locator("garment-picture canvas.cloth").screenshot() != seen, (
        "the picture moves before anything is kept"
    )
    page.mouse.up()
    expect(page.locator(".pin-tag", has_text="Front, right, level")).to_be_visible()
    after = report_of(page, commission)
    moved = after["phases"]["front.right"][1] - before["phases"]["front.right"][1]
    assert min(moved % repeat, -moved % repeat) > 1.0

    def level(report: dict[str, Any], piece: str) -> float:
        return report["phases"][piece][1]

    for neighbour in ("front.left", "side.right", "back.right"):
        way = level(after, neighbour) - level(before, neighbour)
        assert abs((way - moved + repeat / 2) % repeat - repeat / 2) < 1.0, f"{neighbour} follows"
    misses = {seam["join"]: seam["level"] for seam in after["seams"]}
    assert misses["closing"] < 1.0
    assert misses["side-front.right"] <= 1.0 + next(
        seam["floor"] for seam in after["seams"] if seam["join"] == "side-front.right"
    )
    assert after["phases"]["back.right"][0] == pytest.approx(before["phases"]["back.right"][0]), "its pin holds"

    page.get_by_role("button", name="Take out the pin on Front, right, level bars").click()
    expect(page.locator(".pin-tag", has_text="Front, right, level")).to_have_count(0)


@pytest.mark.slow
def test_arrow_keys_slide_to_the_next_bar_and_p_takes_the_pin_out(page: Page) -> None:
    open_example(page)
    page.locator('path.touch[data-piece="front.right"][tabindex="0"]').focus()
    page.keyboard.press("ArrowRight")
    expect(page.locator(".caption.live")).to_contain_text("on the centre front")
    expect(page.locator("#spoken")).to_contain_text("Pinned on")
    expect(page.locator(".caption.live")).to_have_count(0)
    page.locator('path.touch[data-piece="front.right"][tabindex="0"]').focus()
    page.keyboard.press("p")
    expect(page.locator("#spoken")).to_contain_text("the pin is out")


@pytest.mark.slow
def test_undo_reaches_back_over_a_restart(page: Page, workroom: Workroom) -> None:
    open_example(page)
    length = word(page, "skirt.length")
    length.fill("58,5")
    page.keyboard.press("Enter")
    kept(page)
    expect(page.get_by_role("button", name="Undo: ")).to_be_enabled()
    workroom.stop()
    workroom.start()
    page.reload()
    expect(length).to_have_value("58,5")
    page.get_by_role("button", name="Undo: ").click()
    expect(length).to_have_value("62")
    page.get_by_role("button", name="Do again: ").click()
    expect(length).to_have_value("58,5")


@pytest.mark.slow
def test_two_tabs_keep_each_others_work(page: Page, context: BrowserContext) -> None:
    commission = open_example(page)
    other = context.new_page()
    other.goto(page.url)
    expect(word(other, "skirt.length")).to_have_value("62")
    word(page, "skirt.length").fill("60")
    page.keyboard.press("Enter")
    expect(word(other, "skirt.length")).to_have_value("60")
    word(other, "jacket.wrap").fill("2,5")
    other.keyboard.press("Enter")
    word(page, "jacket.lapel_width").fill("9")
    page.keyboard.press("Enter")
    expect(word(page, "jacket.wrap")).to_have_value("2,5")
    expect(word(other, "jacket.lapel_width")).to_have_value("9")
    values = state_of(page, commission)["values"]
    assert (str(values["jacket"]["wrap"]), str(values["jacket"]["lapel_width"])) == ("2,5", "9")
    other.close()


@pytest.mark.parametrize(
    "written",
    ["92 bananas", *(pytest.param(text, marks=pytest.mark.slow) for text in ("abc", "3 1/0", "9999", "<b>1</b>"))],
)
def test_a_figure_that_cannot_be_is_refused_in_place(page: Page, written: str) -> None:
    commission = open_example(page)
    before = state_of(page, commission)["revision"]
    page.get_by_role("link", name="Measurements", exact=True).click()
    field = page.locator("#measure-field-bust_girth")
    field.fill(written)
    page.keyboard.press("Enter")
    expect(field).to_have_attribute("aria-invalid", "true")
    expect(page.locator("#fault-measurements-bust-girth")).not_to_be_empty()
    expect(field).to_have_value(written)
    assert state_of(page, commission)["revision"] == before
    field.fill("93")
    page.keyboard.press("Enter")
    expect(page.locator("#fault-measurements-bust-girth")).to_have_count(0)
    kept(page)
    assert str(state_of(page, commission)["values"]["measurements"]["bust_girth"]) == "93"


def test_a_file_that_is_no_commission_is_refused_in_words(page: Page) -> None:
    page.locator('input[type="file"]').set_input_files(
        {"name": "shopping.toml", "mimeType": "text/plain", "buffer": b"format = 1\neggs = 12\n"}
    )
    expect(page.get_by_role("alert")).to_contain_text("eggs")


@pytest.mark.slow
def test_a_commission_goes_out_as_a_file_and_comes_in_again(page: Page, tmp_path: Path) -> None:
    open_example(page)
    page.get_by_role("link", name="Sheets", exact=True).click()
    with page.expect_download() as download:
        page.get_by_role("link", name="The commission as a file").click()
    file = tmp_path / "commission.toml"
    download.value.save_as(file)
    assert "# A plaid suit for a client of an invented workroom." in file.read_text(encoding="utf-8")
    page.get_by_role("link", name="Settwright: all commissions").click()
    page.locator('input[type="file"]').set_input_files(file)
    expect(page.locator("garment-picture")).to_be_visible(timeout=LAYING)
    expect(page.locator(".ticket-title")).to_have_text("Plaid suit for the autumn fair")


@pytest.mark.slow
def test_a_bar_is_split_widened_and_typed_on_the_swatch(page: Page) -> None:
    commission = open_example(page)
    page.get_by_role("link", name="Cloth", exact=True).click()
    bars = page.locator(".bar-list li")
    expect(bars).to_have_count(8)
    page.get_by_role("button", name="Bar 1: navy 14").click()
    page.get_by_role("button", name="Split it").click()
    expect(bars).to_have_count(9)
    side = page.locator(".swatch .side.warp").first
    box = side.bounding_box()
    assert box is not None
    page.mouse.move(box["x"] + box["width"] / 2, box["y"] + box["height"] / 2)
    page.mouse.down()
    page.mouse.move(box["x"] + box["width"] / 2 + 30, box["y"] + box["height"] / 2, steps=5)
    page.mouse.up()
    kept(page)
    expect(page.get_by_label("Width of bar 1")).not_to_have_value("7")
    page.get_by_label("type them").check()
    page.locator(".typed textarea").fill("navy 20\nrust 4\nmoss 16\nivory 2")
    page.locator(".typed textarea").blur()
    expect(page.locator(".swatch-side")).to_contain_text("repeat after 42 mm")
    kept(page)
    assert state_of(page, commission)["values"]["cloths"]["shell"]["warp"]["bars"] == [
        "navy 20",
        "rust 4",
        "moss 16",
        "ivory 2",
    ]


@pytest.mark.slow
def test_a_piece_that_is_cut_keeps_its_bars(page: Page) -> None:
    commission = open_example(page)
    page.get_by_role("link", name="On the cloth", exact=True).click()
    expect(page.locator("laid-cloth .flat").first).to_be_visible(timeout=LAYING)
    before = report_of(page, commission)["phases"]["back.right"]
    page.get_by_role("button", name="Mark as cut").click()
    page.get_by_role("checkbox", name="Back, right", exact=True).check()
    page.get_by_role("button", name="They are cut").click()
    expect(page.locator("laid-cloth .flat.is-cut")).to_have_count(1, timeout=LAYING)
    after = report_of(page, commission)
    assert after["pieces"]["back.right"]["is_cut"]
    assert after["phases"]["back.right"][:2] == pytest.approx(before[:2], abs=0.01)
    page.get_by_role("link", name="Garment", exact=True).click()
    page.get_by_role("button", name="Back", exact=True).click()
    expect(page.locator('path.touch[data-piece="back.left"][tabindex="0"]')).to_have_count(1)
    expect(page.locator('path.touch[data-piece="back.right"][tabindex="0"]')).to_have_count(0)


@pytest.mark.slow
def test_a_choice_is_found_opened_tried_and_taken_by_keyboard_alone(page: Page) -> None:
    page.locator(".example").first.focus()
    page.keyboard.press("Enter")
    choice = word(page, "choices.front_laps_over")
    expect(choice).to_be_visible()
    expect(page.locator("garment-picture")).to_be_visible(timeout=LAYING)
    for _ in range(60):
        page.keyboard.press("Tab")
        if choice.evaluate("element => element === document.activeElement"):
            break
    expect(choice).to_be_focused()
    page.keyboard.press("Enter")
    expect(page.locator("#choices .take").first).to_be_focused()
    page.keyboard.press("ArrowDown")
    page.keyboard.press("ArrowRight")
    page.keyboard.press("Enter")
    expect(page.locator(".both garment-picture")).to_have_count(2)
    take = page.get_by_role("button", name="Take it")
    for _ in range(90):
        page.keyboard.press("Tab")
        if take.evaluate("element => element === document.activeElement"):
            break
    page.keyboard.press("Enter")
    expect(choice).to_contain_text("left")


def test_the_first_screen_is_light_and_asks_nobody_else(context: BrowserContext, workroom: Workroom) -> None:
    page = context.new_page()
    hosts: set[str] = set()
    page.on("request", lambda request: hosts.add(request.url.split("/")[2]))
    page.goto(f"http://127.0.0.1:{workroom.port}/")
    expect(page.get_by_role("heading", name="A new commission")).to_be_visible()
    page.wait_for_load_state("networkidle")
    sizes = page.evaluate(
        "() => performance.getEntries().map(entry => entry.encodedBodySize ?? 0).reduce((sum, size) => sum + size, 0)"
    )
    page.close()
    assert hosts == {f"127.0.0.1:{workroom.port}"}
    assert 50_000 < sizes < 400_000


def test_a_fitting_is_entered_and_its_correction_is_drafted(page: Page) -> None:
    commission = open_example(page)
    page.goto(f"{page.url.split('#')[0]}#/{commission}/measurements")
    page.get_by_role("button", name="Enter a fitting").click()
    page.locator(".fittings select").select_option("arm_length")
    by = page.locator(".fittings").get_by_role("textbox", name="Arm length")
    by.fill("-1")
    by.press("Tab")
    expect(by).to_have_value("-1")
    kept(page)
    values = state_of(page, commission)["values"]
    assert values["fittings"][0]["corrections"] == {"arm_length": -1}
    told = [finding["what"] for finding in report_of(page, commission)["findings"]]
    assert any(what.startswith("arm length: ") and "since the fittings" in what for what in told)
    page.get_by_role("button", name="Take this fitting out").click()
    expect(page.locator(".fittings li")).to_have_count(0)
