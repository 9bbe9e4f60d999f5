"""Frames and drifts as docs/plan-format.md states them."""

import math
import random

import pytest

from settwright.bars import Axis, Mode, Orientation, Phase, drift, place_under, sense, wrap
from settwright.geometry import Point
from tests.cloth.toy_setts import EVEN, UNEVEN, bars


@pytest.mark.parametrize(
    ("miss", "repeat", "inside"),
    [
        (0.0, 72.0, 0.0),
        (70.0, 72.0, -2.0),
        (36.0, 72.0, 36.0),
        (-36.0, 72.0, 36.0),
        (-37.0, 72.0, 35.0),
        (145.0, 72.0, 1.0),
    ],
)
def test_wrap_lies_in_half_a_repeat_each_way(miss: float, repeat: float, inside: float) -> None:
    assert wrap(miss, repeat) == pytest.approx(inside)


def test_place_under_a_point_follows_the_documented_formula() -> None:
    phase = Phase("p", 10.0, 20.0, Orientation(t=-1, f=-1))
    g = math.pi / 2  # R turns counter-clockwise: (3, 4) goes to (−4, 3); S = −diag(−1, 1)
    place = place_under(phase, Point(3.0, 4.0), g)
    assert (place.x, place.y) == pytest.approx((10.0 - 4.0, 20.0 - 3.0))


@pytest.mark.parametrize("mode", [Mode.CONTINUE, Mode.MIRROR])
@pytest.mark.parametrize("turned", [1, -1])
def test_drift_is_the_same_seen_from_either_piece(mode: Mode, turned: int) -> None:
    chance = random.Random(7)
    sett = bars(*EVEN)
    a, b = Orientation(), Orientation(t=turned)
    for axis in Axis:
        for _ in range(50):
            p, q = chance.uniform(-200, 200), chance.uniform(-200, 200)
            there = drift(sense(axis, mode, a, b), p, q, sett)
            back = drift(sense(axis, mode, b, a), q, p, sett)
            assert there is not None
            assert back is not None
            assert abs(there) == pytest.approx(abs(back))


def test_bars_that_agree_show_one_colour_on_either_side_of_the_seam() -> None:
    # drift 0 means: going on from a over the seam, or back from it, b shows what a would have shown
    chance = random.Random(3)
    sett = bars(*EVEN)
    for mode in (Mode.CONTINUE, Mode.MIRROR):
        for lying in (Orientation(), Orientation(t=-1)):
            way = sense(Axis.UPRIGHT, mode, Orientation(), lying)
            for _ in range(40):
                place_a, step = chance.uniform(0, 72), chance.uniform(-30, 30)
                place_b = place_a if way > 0 else 2 * sett.pivots[1] - place_a
                assert drift(way, place_a, place_b, sett) == pytest.approx(0.0, abs=1e-9)
                on_b = step if mode is Mode.CONTINUE else -step
                seen_a = sett.bar_at(place_a + step).colour
                seen_b = sett.bar_at(place_b + lying.reading(Axis.UPRIGHT) * on_b).colour
                assert seen_a == seen_b


def test_an_uneven_sett_has_no_mirror() -> None:
    assert drift(-1, 3.0, 4.0, bars(*UNEVEN)) is None
