"""The commands that ask the drafts: what a change moves, and a design in a range of sizes."""

from __future__ import annotations

import csv
import io
from pathlib import Path

import pypdfium2
import pytest

from settwright.body.sizes import EUROPEAN
from settwright.commission.reading import read_commission
from settwright.findings import Refusal
from settwright.pattern.moved import Kind
from settwright.planner.changing import change, change_pdf
from settwright.planner.grading import grade, graded_files
from settwright.units import Units

NAME = "plaid-suit.toml"
TEXT = (Path(__file__).parents[2] / "examples" / NAME).read_text()


def test_a_longer_skirt_moves_the_skirts_hem_and_nothing_else() -> None:
    # the example's skirt is 62 cm long; by pencil: every edge that reaches the hem grows by 20 mm, the waist stays
    before = read_commission(TEXT, NAME).skirt
    assert before is not None
    found = change(TEXT, NAME, f"skirt.length {(before.length + 20) / 10:g}")
    assert [garment for garment, _ in found.moved] == ["skirt"]
    edges = {(one.of, one.name): one.longer for one in found.moved[0][1] if one.kind is Kind.EDGE}
    assert edges[("skirt-back", "centre-back")] == pytest.approx(20.0, abs=0.01)
    assert ("skirt-back", "waist") not in edges


def test_a_measurement_is_named_alone_and_read_in_the_commissions_units() -> None:
    for said in ("waist_girth 78", "waist_girth = 78", 'waist_girth "780 mm"'):
        found = change(TEXT, NAME, said)
        band = next(one for one in found.moved[-1][1] if one.of == "waistband" and one.name == "lower")
        assert band.longer == pytest.approx(40.0, abs=0.1)  # 74 to 78 cm


def test_the_same_value_moves_nothing_and_a_page_says_so() -> None:
    found = change(TEXT, NAME, "waist_girth 74")
    assert found.moved == ()
    page = pypdfium2.PdfDocument(change_pdf(found))[0]
    assert "Nothing moves." in page.get_textpage().get_text_range()


def test_every_garment_that_moved_has_a_page() -> None:
    found = change(TEXT, NAME, "waist_girth 78")
    book = pypdfium2.PdfDocument(change_pdf(found))
    assert [len(book), *(page.get_textpage().get_text_range().splitlines()[0].split(", ")[1] for page in book)] == [
        2,
        "jacket: with waist girth 78",
        "skirt: with waist girth 78",
    ]


def test_a_low_shoulder_moves_its_own_half() -> None:
    # by pencil: the shoulder turns about its neck point, its other end goes down by 1 cm
    found = change(TEXT, NAME, "low_shoulder_left 1")
    edges = {(one.of, one.name): one for one in found.moved[0][1] if one.kind is Kind.EDGE}
    assert {of.partition(".")[2] for of, _ in edges} == {"left"}
    assert 10.0 <= edges["back.left", "shoulder"].distance < 12.0
    page = pypdfium2.PdfDocument(change_pdf(found))[0].get_textpage().get_text_range()
    assert "Back, left" in page
    assert "Back, right" not in page


def test_a_full_hip_moves_one_half_out_and_the_other_in() -> None:
    found = change(TEXT, NAME, "full_hip_left 3")
    hems = {one.of: one.longer for one in found.moved[0][1] if (one.kind, one.name) == (Kind.EDGE, "hem")}
    assert hems["side.left"] > 0 > hems["side.right"]


def test_a_vent_is_new() -> None:
    (jacket,) = change(TEXT, NAME, "jacket.vent back").moved
    assert {one.told(Units.CM) for one in jacket[1]} >= {"Back, vent fold: new.", "Back, vent lap: new."}


def test_a_change_of_the_body_is_said_where_nothing_moves() -> None:
    found = change(TEXT, NAME, "back_stoop 1")  # the example's lengths are all measured, and hold her posture
    assert found.moved == ()
    assert any("changes nothing" in one.what for one in found.findings)
    assert any(one.where == "measurements.waist_girth" for one in change(TEXT, NAME, "waist_girth 93").findings)


@pytest.mark.parametrize("said", ["waist_girth", "wiast_girth 78", "jacket.lapel_widht 9", "jacket.lapel_width much"])
def test_a_change_that_cannot_be_made_is_refused_with_a_remedy(said: str) -> None:
    with pytest.raises(Refusal) as refusal:
        change(TEXT, NAME, said)
    assert all(finding.remedy for finding in refusal.value.findings)


def test_a_design_is_graded_whoever_the_client_is() -> None:
    graded = grade(read_commission(TEXT, NAME), EUROPEAN, "84", "92")
    assert [size.name for size in graded.sizes] == ["84", "88", "92"]
    other = TEXT.replace("bust_girth = 92", "bust_girth = 96")
    assert other != TEXT
    again = grade(read_commission(other, NAME), EUROPEAN, "84", "92")
    assert [size.draft for size in again.sizes] == [size.draft for size in graded.sizes]


def test_graded_files_tell_every_edge_in_every_size() -> None:
    graded = grade(read_commission(TEXT, NAME), EUROPEAN, "84", "88")
    files = {file.name: file.content for file in graded_files(graded)}
    assert sorted(files) == sorted(
        f"{stem}-{garment}.{end}"
        for garment in ("jacket", "skirt")
        for stem, end in (("nest", "pdf"), ("nest", "svg"), ("grading", "csv"))
    )
    rows = list(csv.reader(io.StringIO(files["grading-skirt.csv"].decode())))
    assert rows[0] == ["piece", "edge", "84", "88"]
    back = next(row for row in rows if row[:2] == ["skirt-back", "waist"])
    piece = graded.garments[1][1].draft.piece("skirt-back")
    assert float(back[3]) == pytest.approx(piece.edge("waist").path.length, abs=0.05)
    assert files == {file.name: file.content for file in graded_files(graded)}
