"""One full hip: each half is cut in its own shape, its seams walk, and the plan's geometry holds for both."""

from __future__ import annotations

import json
from functools import cache
from pathlib import Path
from typing import Any

import pytest

from settwright.commission.reading import read_commission
from settwright.findings import Weight
from settwright.pattern import Layer
from settwright.plan.build import document_of
from settwright.plan.document import encode
from settwright.plan.plan import Plan
from settwright.planner.derive import derive
from settwright.verify.checks import check_all, check_hands

EXAMPLES = Path(__file__).parents[2] / "examples"
MORE = 30.0  # of the left half's hip than the right's


@cache
def planned(example: str, said: str) -> Plan:
    text = (EXAMPLES / f"{example}.toml").read_text()
    return derive(read_commission(text.replace("hip_girth =", f"{said}hip_girth =", 1), "suit"), effort=5)


def written(plan: Plan) -> dict[str, Any]:
    return json.loads(encode(document_of(plan)))


@pytest.mark.parametrize("example", ["plaid-suit", "striped-trouser-suit"])
def test_the_halves_are_cut_apart_and_the_plan_holds(example: str) -> None:
    even, uneven = planned(example, ""), planned(example, "full_hip_left = 3\n")
    document = written(uneven)
    assert check_all(document)[0] == ()
    assert any(not piece["mirrors"] for piece in document["pieces"])
    assert all(piece["mirrors"] for piece in written(even)["pieces"])
    sewn = {pair.name: pair for pair in even.made_up.sewn if pair.kind == "seam"}
    for pair in uneven.made_up.sewn:
        if pair.kind == "seam":
            assert pair.ease == pytest.approx(sewn[pair.name].ease, abs=0.2), pair.name
    assert not [f.what for f in uneven.findings if "full_hip" in f.where and f.weight is Weight.CAUTION]


@pytest.mark.parametrize("example", ["plaid-suit", "striped-trouser-suit"])
def test_what_one_half_gains_at_the_hip_the_other_loses(example: str) -> None:
    """The client's girth stays whole: half of the difference goes to either side, in the shell and in its lining."""
    even, uneven = planned(example, ""), planned(example, "full_hip_left = 3\n")
    gains: dict[tuple[str, str], dict[str, float]] = {}
    for cut in uneven.made_up.pieces:
        is_of_pocket = cut.piece.name.startswith("pocket")  # its mouth moves with the seam: it stays as wide
        if not cut.mirrors and not is_of_pocket and cut.piece.layer in (Layer.SHELL, Layer.LINING):
            gains.setdefault((cut.garment, cut.piece.name), {})[cut.hand.value] = abs(cut.piece.area) - abs(
                even.made_up.piece(cut.name).piece.area
            )
    assert gains
    for piece, by_hand in gains.items():
        assert by_hand["left"] > 0.0 > by_hand["right"], piece
        assert by_hand["left"] == pytest.approx(-by_hand["right"], rel=0.1, abs=30.0), piece


def test_a_half_that_differs_unsaid_is_a_fault() -> None:
    document = written(planned("plaid-suit", "full_hip_left = 3\n"))
    for piece in document["pieces"]:
        piece["mirrors"] = True
    assert any("outlines differ" in fault.what for fault in check_hands(document))
    next(piece for piece in document["pieces"] if piece["hand"] == "left")["mirrors"] = False
    assert any("says otherwise" in fault.what for fault in check_hands(document))
