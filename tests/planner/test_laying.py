"""Layouts kept as found, and pieces that are cut: through the whole line, looked at by the verifier."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from settwright.commission.reading import read_commission
from settwright.findings import Weight
from settwright.plan.build import document_of
from settwright.plan.document import encode
from settwright.planner.derive import derive
from settwright.planner.laying import board_of
from settwright.planner.longer import search_longer
from settwright.verify import verify

EXAMPLE = (Path(__file__).parents[2] / "examples" / "even-plaid-suit.toml").read_text()
QUICK = 60


@pytest.fixture(scope="module")
def searched() -> str:
    return search_longer(EXAMPLE, "suit", lambda stage: None, lambda *told: None, effort=QUICK)


def test_a_layout_found_is_kept_in_the_commission_and_used(searched: str):
    assert searched.startswith(EXAMPLE.rstrip())  # her words and comments stay
    commission = read_commission(searched, "suit")
    plan = derive(commission, effort=0)
    kept = {found.cloth: found.length for found in commission.found}
    assert {cloth.cloth.name: round(cloth.layout.length, 3) for cloth in plan.cloths} == kept
    assert derive(read_commission(EXAMPLE, "suit"), effort=0).cloths[0].layout.length > kept["shell"]
    assert verify(encode(document_of(plan))).faults == ()


def test_a_stale_one_is_left_aloud(searched: str):
    changed = searched.replace('length = "24 1/2"', 'length = "24"')
    assert changed != searched
    plan = derive(read_commission(changed, "suit"), effort=1)
    told = [finding for finding in plan.findings if finding.where == "found.shell"]
    assert [finding.weight for finding in told] == [Weight.NOTE]
    assert "not used" in told[0].what


def test_cut_pieces_keep_their_place_and_bars(searched: str):
    shell = next(found for found in read_commission(searched, "suit").found if found.cloth == "shell")
    cut = [placed for placed in shell.placements if placed.piece.startswith(("back.", "front."))]
    sections = "".join(
        f'\n[[cut]]\npiece = "{p.piece}"\nfrom_left = "{p.x:.3f} mm"\nfrom_end = "{p.y:.3f} mm"\n' for p in cut
    )
    plan = derive(read_commission(EXAMPLE + sections, "suit"), effort=QUICK)
    lies = {p.name: (p.x, p.y) for p in plan.cloth_plan("shell").layout.placements}
    for placed in cut:
        assert lies[placed.piece] == pytest.approx((placed.x, placed.y), abs=0.001)
    assert verify(encode(document_of(plan))).faults == ()


def test_a_stain_may_be_hidden_and_a_hole_may_not():
    hole = "\n[[cloths.shell.faults]]\nname = 'hole'\ncorners = [[10, 20], [13, 20], [11, 24]]\n"
    stain = "\n[[cloths.shell.faults]]\nname = 'stain'\nmay_be_hidden = true\nfrom_left = 20\nfrom_end = 20\n"
    text = EXAMPLE + hole + stain + "width = 12\nlength = 12\n"
    plan = derive(read_commission(text, "suit"), effort=QUICK)
    (board,) = [board_of(cloth.cloth) for cloth in plan.cloths if cloth.cloth.name == "shell"]
    assert (len(board.faults), len(board.blemishes)) == (1, 1)
    document = json.loads(encode(document_of(plan)))
    assert verify(json.dumps(document).encode()).faults == ()
    # the same stain as a hole, put where a hidden piece lies: the verifier tells it from a stain
    hidden = next(p for p in document["pieces"] if not p["visible"] and p["cloth"] == "shell")
    at = next(p for p in document["placements"] if p["piece"] == hidden["name"])
    x, y = at["x"], at["y"]
    for may_be_hidden in (True, False):
        spot = {"name": "stain", "outline": [[x, y], [x + 1, y], [x, y + 1]], "may_be_hidden": may_be_hidden}
        next(cloth for cloth in document["cloths"] if cloth["name"] == "shell")["faults"] = [spot]
        faults = verify(json.dumps(document).encode()).faults
        assert [fault.check for fault in faults] == ([] if may_be_hidden else ["layout"])
