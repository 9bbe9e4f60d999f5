"""Toile, body first, and what is cut stays: through the whole line, looked at by the verifier."""

from __future__ import annotations

from pathlib import Path

import pytest
from shapely import Polygon

from settwright.commission.reading import read_commission
from settwright.findings import Refusal, Weight
from settwright.makeup.staging import BODY, block_of
from settwright.plan.build import document_of
from settwright.plan.document import encode
from settwright.plan.plan import Plan
from settwright.planner.derive import derive
from settwright.planner.files import sheet_files
from settwright.planner.marking import mark_cut
from settwright.verify import verify

EXAMPLE = (Path(__file__).parents[2] / "examples" / "plaid-suit.toml").read_text()
QUICK = 60


def choosing(cutting: str, text: str = EXAMPLE) -> str:
    return text.replace("[choices]\n", f'[choices]\ncutting = "{cutting}"\n')


def planned(text: str) -> Plan:
    plan = derive(read_commission(text, "suit"), effort=QUICK)
    assert verify(encode(document_of(plan))).faults == ()
    return plan


@pytest.fixture(scope="module")
def cut_body() -> str:
    text, marked = mark_cut(choosing("body first"), "suit", ["body"], lambda stage: None)
    assert {name.split(".")[0] for name in marked} == {"back", "side", "front", "skirt-front", "skirt-back"}
    return text


def test_a_toile_has_a_plain_layout_of_the_fitted_pieces():
    plan = planned(choosing("toile"))
    assert [cloth.cloth.title for cloth in plan.cloths] == ["Calico"]
    assert any(f.where == "cloths.toile" and f.weight is Weight.DEFAULT for f in plan.findings)
    names = {piece.piece.name for piece in plan.made_up.pieces}
    assert {"back", "front", "side", "upper-sleeve", "under-sleeve", "under-collar", "skirt-front"} <= names
    assert not names & {"front-facing", "back-neck-facing", "top-collar", "flap", "flap-lining"}
    assert not any(piece.is_matched for piece in plan.made_up.pieces)
    assert plan.cloths[0].layout.length < derive(read_commission(EXAMPLE, "suit"), effort=QUICK).cloths[0].layout.length


def test_the_toile_takes_the_cloth_that_is_named_for_it():
    text = choosing("toile") + '\n[cloths.toile]\ntitle = "Sheeting"\nwidth = 90\ncolours = { white = "#ffffff" }\n'
    (cloth,) = planned(text).cloths
    assert (cloth.cloth.title, cloth.cloth.width) == ("Sheeting", 900.0)


def test_the_body_first_keeps_blocks_that_hold_the_rest_on_the_repeat():
    plan = planned(choosing("body first"))
    for piece in plan.made_up.pieces:
        if piece.cloth != "shell":
            continue
        assert piece.is_block == (piece.piece.name not in BODY)
        if piece.is_block:
            assert len(piece.cutting_line) == 4
            outline = Polygon([(p.x, p.y) for p in piece.cutting_line])
            assert outline.exterior.distance(Polygon([(p.x, p.y) for p in piece.seam_line])) > 15.0
    assert not any(piece.is_block and block_of(piece).cutting_line == piece.seam_line for piece in plan.made_up.pieces)
    names = b"".join(file.content for file in sheet_files(plan) if file.name == "pieces.svg")
    assert b'<g id="upper-sleeve.right"' not in names
    assert b'<g id="front.right"' in names


def test_linings_and_what_lies_between_wait_for_the_fitting():
    """Their cloth stays whole, so that they need no blocks; an underlining goes with what it is mounted to."""
    text = EXAMPLE.replace("[inside]\n", "[inside]\nunderlining = true\n")
    text += '\n[cloths.underlining]\ntitle = "Organza"\nwidth = 110\ncolours = { white = "#ffffff" }\n'
    plan = planned(choosing("body first", text))
    inner = [piece for piece in plan.made_up.pieces if piece.cloth != "shell"]
    assert {piece.cloth for piece in inner} == {"lining", "interlining", "pocketing", "underlining"}
    for piece in inner:
        assert not piece.is_block
        assert piece.is_later == (piece.piece.name.removesuffix("-underlining") not in BODY)
    (sheets,) = (file.content for file in sheet_files(plan) if file.name == "pieces.svg")
    for piece in plan.made_up.pieces:
        assert (f'<g id="{piece.name}"'.encode() in sheets) == (not piece.is_later)


def test_what_is_cut_stays_and_the_rest_is_laid_anew_around_it(cut_body: str):
    before = derive(read_commission(choosing("body first"), "suit"))
    commission = read_commission(cut_body.replace('"body first"', '"everything"'), "suit")
    assert commission.cloth("shell").sett_at_end is not None
    plan = planned(cut_body.replace('"body first"', '"everything"'))
    assert not any(piece.is_block for piece in plan.made_up.pieces)
    lay = {p.name: p for p in before.cloth_plan("shell").layout.placements}
    lies = {p.name: p for p in plan.cloth_plan("shell").layout.placements}
    for entry in commission.cut:
        name = entry.placed.piece
        assert (lies[name].x, lies[name].y) == pytest.approx((lay[name].x, lay[name].y), abs=0.001)
        assert plan.made_up.piece(name).cutting_line == before.made_up.piece(name).cutting_line
    # the rest fits inside what was bought for the blocks
    assert plan.cloth_plan("shell").layout.length <= before.cloth_plan("shell").layout.length + 0.001


def test_a_correction_uses_the_allowances_of_what_is_cut_and_no_more(cut_body: str):
    def wider(ease: str) -> str:
        return cut_body.replace("waist = 8\n", f"waist = {ease}\n")

    plan = planned(wider("9.5"))
    front = plan.made_up.piece("front.right")
    was = derive(read_commission(cut_body, "suit"), effort=QUICK).made_up.piece("front.right")
    assert front.cutting_line == was.cutting_line
    assert front.seam_line != was.seam_line
    told = [finding for finding in plan.findings if finding.where.startswith("cut.")]
    assert all("least allowance" in finding.what for finding in told)
    with pytest.raises(Refusal) as refused:
        planned(cut_body.replace("length_below_waist = 25 ", "length_below_waist = 36 "))
    assert "outside what was cut" in refused.value.findings[0].what


def test_a_piece_that_is_not_there_or_still_a_block_cannot_be_marked():
    for piece, what in (("bakc", "no such piece"), ("upper-sleeve", "rough block")):
        with pytest.raises(Refusal) as refused:
            mark_cut(choosing("body first"), "suit", [piece], lambda stage: None)
        assert what in refused.value.findings[0].what
    with pytest.raises(Refusal) as refused:
        mark_cut(choosing("toile"), "suit", ["body"], lambda stage: None)
    assert "toile" in refused.value.findings[0].what
