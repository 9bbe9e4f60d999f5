"""Sliding a piece by hand and changing a pin: what follows, and what stays."""

from __future__ import annotations

import pytest

from settwright.bars import Axis, Match, Pin, Prepared, match, prepare, slide, try_pins, wrap
from settwright.findings import Refusal
from settwright.geometry import Point
from tests.bars.toys import jacket
from tests.cloth.toy_setts import UNEVEN, cloth


@pytest.fixture(scope="module")
def plan() -> tuple[Prepared, Match]:
    prepared = prepare(jacket(9.0, 14.0, 6.0), cloth(UNEVEN, UNEVEN))
    return prepared, match(prepared)


@pytest.mark.parametrize(("axis", "by"), [(Axis.UPRIGHT, 7.0), (Axis.LEVEL, -4.5)])
def test_the_bars_of_a_piece_slide_by_what_was_asked(plan: tuple[Prepared, Match], axis: Axis, by: float) -> None:
    prepared, now = plan
    found = slide(prepared, now, "front.right", axis, by)
    moved = {move.piece: move for move in found.moved}["front.right"]
    assert (moved.right if axis is Axis.UPRIGHT else moved.up) == pytest.approx(by, abs=0.002)
    # the slide is a pin like any other
    again = try_pins(prepared, now, found.pins)
    assert again == found


def test_level_bars_follow_round_the_body_and_go_on_meeting(plan: tuple[Prepared, Match]) -> None:
    prepared, now = plan
    found = slide(prepared, now, "back.right", Axis.LEVEL, 11.0)
    assert {move.piece for move in found.moved} >= {"back.left", "side.right", "side.left", "front.right", "front.left"}
    drifts = {drift.join: drift for drift in found.match.drifts}
    assert drifts["centre-back"].worst_level <= 1.0
    assert drifts["side-back.right"].worst_level <= 1.0


def test_with_the_rest_staying_only_what_touches_the_piece_moves(plan: tuple[Prepared, Match]) -> None:
    prepared, now = plan
    found = slide(prepared, now, "back.right", Axis.UPRIGHT, 11.0, rest_stays=True)
    assert not {move.piece for move in found.moved} & {"front.right", "front.left"}
    changed = {seam.join: seam for seam in found.seams}
    assert changed
    for seam in changed.values():
        assert seam.said
        assert seam.level[0] != seam.level[1] or seam.upright[0] != seam.upright[1]


def test_a_slide_takes_the_place_of_the_pieces_own_pin(plan: tuple[Prepared, Match]) -> None:
    prepared, now = plan
    own = Pin("front.right", Point(110.0, 200.0), Axis.UPRIGHT, 20.0, "centre-front")
    other = Pin("back.right", Point(0.0, 0.0), Axis.LEVEL, 5.0)
    found = slide(prepared, now, "front.right", Axis.UPRIGHT, 3.0, pins=(own, other))
    assert own not in found.pins
    assert other in found.pins
    assert wrap(found.match.phase("back.right").v - 5.0, prepared.cloth.weft.repeat) == pytest.approx(0.0, abs=0.002)


def test_what_isnt_matched_cant_be_slid(plan: tuple[Prepared, Match]) -> None:
    with pytest.raises(Refusal, match="isn't matched"):
        slide(plan[0], plan[1], "under-collar", Axis.LEVEL, 3.0)
