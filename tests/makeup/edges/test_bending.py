"""The strip along a curve against closed forms: its own limits, an arc's solution, the annulus, the tuck.

All expected figures are geometry or the equation's own closed solution, worked here; the worked example (R 400, L 300,
w 80, λ 150 mm) was computed by hand from that solution.
"""

import itertools
import math

import pytest

from settwright.cloth.give import Fibre, usual
from settwright.geometry import Path, Point, hook_curve
from settwright.makeup.edges.bending import (
    End,
    lies_flat,
    slipped,
    stretched,
    tuck_depth,
)
from settwright.makeup.edges.shaping import Way, shaping_of
from settwright.makeup.edges.strip import Strip, laid_along

FREE = (End.FREE, End.FREE)
R, LONG, DEEP, LAMBDA = 400.0, 300.0, 80.0, 150.0
RATIO = DEEP**2 / (3 * LAMBDA**2)  # λ = w √(a / 3b)


def arc(radius: float, length: float, towards: bool = True) -> Path:
    """Returns an arc by cubics, each turning less than 6°, going up from the origin and turning left (or right)."""
    parts = max(1, math.ceil(length / radius / 0.1))
    angle = length / radius / parts
    side = 1.0 if towards else -1.0
    centre = Point(-radius * side, 0.0)
    path: Path | None = None
    for i in range(parts):
        a, b = (centre + Point(radius * math.cos(t) * side, radius * math.sin(t)) for t in (i * angle, (i + 1) * angle))
        ta, tb = (Point(-math.sin(t) * side, math.cos(t)) for t in (i * angle, (i + 1) * angle))
        pull = 4 / 3 * math.tan(angle / 4) * radius / (b - a).length
        piece = hook_curve(a, ta, b, tb, (pull, pull))
        path = piece if path is None else path.then(piece)
    assert path is not None
    return path


def on_arc(steps: int, ratio: float, ends: tuple[End, End] = FREE) -> tuple[float, ...]:
    return slipped([LONG / R / steps] * steps, [DEEP] * (steps + 1), LONG / steps, ratio, ends)


def exact(s: float) -> float:
    return LAMBDA / R * math.sinh((s - LONG / 2) / LAMBDA) / math.cosh(LONG / 2 / LAMBDA)


def test_an_arc_gives_its_closed_solution() -> None:
    found = on_arc(75, RATIO)
    for i, slip in enumerate(found):
        assert slip == pytest.approx(exact(i * LONG / 75), abs=5e-5)


def test_the_worked_example() -> None:
    found = on_arc(300, RATIO)
    bends = [(b - a) - 1 / R for a, b in itertools.pairwise(found)]
    assert math.degrees(found[-1]) == pytest.approx(16.36, abs=0.005)
    parts = [stretched(bend, (a + b) / 2, DEEP) for bend, (a, b) in zip(bends, itertools.pairwise(found), strict=True)]
    assert 100 * parts[150] == pytest.approx(-7.04, abs=0.005)
    assert sum(parts) == pytest.approx(-14.2, abs=0.05)
    assert DEEP * LONG / R == 60.0  # what shrinking alone would take


def test_the_error_falls_with_the_square_of_the_step() -> None:
    errors = [abs(on_arc(n, RATIO)[-1] - exact(LONG)) for n in (10, 20, 40, 80)]
    for coarse, fine in itertools.pairwise(errors):
        assert coarse / fine == pytest.approx(4.0, abs=0.15)


def test_held_square_at_one_end() -> None:
    """φ = A sinh(s/λ), A from φ′(L) = k: φ(L) = kλ tanh(L/λ)."""
    found = on_arc(300, RATIO, (End.SQUARE, End.FREE))
    assert found[0] == 0.0
    assert found[-1] == pytest.approx(LAMBDA / R * math.tanh(LONG / LAMBDA), abs=1e-5)


def test_cloth_that_will_not_slip_shrinks_by_depth_times_turning() -> None:
    """λ → 0: φ → 0, and a thread at depth t changes by the factor 1 − k t, as in an annulus: in all w × θ."""
    found = on_arc(100, 1e7)
    assert max(map(abs, found)) < 1e-3
    step = LONG / 100
    for depth in (20.0, 50.0, DEEP):
        assert stretched(-1 / R, 0.0, depth) == pytest.approx(-depth / R, abs=1e-15)
        whole = sum(
            stretched((b - a) / step - 1 / R, (a + b) / 2, depth) * step for a, b in itertools.pairwise(found[5:-5])
        )
        assert whole == pytest.approx(-depth * (LONG - 10 * step) / R, rel=1e-3)


def test_cloth_that_will_not_shrink_slips_as_the_edge_turns() -> None:
    """λ → ∞, both ends free: φ′ = k, ∫φ = 0, every thread keeps its length."""
    found = on_arc(100, 1e-9)
    for a, b in itertools.pairwise(found):
        assert (b - a) == pytest.approx(LONG / R / 100, rel=1e-5)
    assert sum(found) - (found[0] + found[-1]) / 2 == pytest.approx(0.0, abs=1e-5)


def test_shrinking_alone_keeps_the_bars_at_their_distance() -> None:
    """φ = 0 on an arc about the far side: the strip is an annulus, its inner edge an arc of radius R − w."""
    strip = _arc_strip(1e7)
    for along in (50.0, 150.0, 250.0):
        assert (strip.at(along, DEEP) - Point(-R, 0.0)).length == pytest.approx(R - DEEP, abs=0.01)


def test_slipping_alone_lays_every_bar_as_a_copy_of_the_edge() -> None:
    strip = _arc_strip(1e-9)
    shift = strip.at(0.0, DEEP) - strip.at(0.0, 0.0)
    for along in (75.0, 150.0, 300.0):
        assert (strip.at(along, DEEP) - strip.at(along, 0.0) - shift).length == pytest.approx(0.0, abs=0.01)


def test_a_strip_finds_its_points_again() -> None:
    strip = _arc_strip(RATIO)
    for along, depth in ((-30.0, 20.0), (10.0, 0.0), (111.0, 45.0), (290.0, 79.0), (340.0, 60.0)):
        assert strip.of(strip.at(along, depth)) == pytest.approx((along, depth), abs=1e-6)
        assert strip.of(strip.at(along, depth), near=along + 20) == pytest.approx((along, depth), abs=1e-6)


def test_a_hollow_edge_stretches_the_inner_side() -> None:
    path = arc(R, LONG, towards=False)
    strip = laid_along(path, _inner(path, DEEP), RATIO, FREE)
    shaping = shaping_of(strip, usual(Fibre.WOOL), along_warp=True, ends=FREE)
    assert shaping.grown > 10.0
    assert shaping.shrunk == 0.0
    # wool stretches less than it shrinks: a hollow of this radius is beyond it, the belly of the same radius isn't
    assert shaping.way is Way.NOT
    assert shaping_of(_arc_strip(RATIO), usual(Fibre.WOOL), along_warp=True, ends=FREE).way is Way.EASE


def test_threads_that_would_meet_are_refused() -> None:
    assert lies_flat(-1 / 100, 0.0, 99.0)
    assert not lies_flat(-1 / 100, 0.0, 101.0)
    # a leaning thread meets its neighbour sooner: cos φ + t (φ′ − k) and not 1 + t (φ′ − k) cos φ decides
    assert not lies_flat(-1 / 100, math.radians(40), 80.0)
    assert 1 - 80 / 100 * math.cos(math.radians(40)) > 0


@pytest.mark.parametrize("degrees", [5.0, 12.0, 25.0])
def test_a_tuck_bends_a_rectangle_by_the_angle_of_its_wedge(degrees: float) -> None:
    """Fold a rectangle so that a wedge with its point on one edge disappears: the edge turns by the wedge's angle."""
    turn = math.radians(degrees)
    width = tuck_depth(DEEP, turn)
    left, right = Point(-width / 2, DEEP), Point(width / 2, DEEP)
    wedge = math.acos(left.dot(right) / left.length / right.length)
    assert wedge == pytest.approx(turn, abs=1e-12)


def test_a_join_and_a_gentler_curve_mend_what_asks_too_much() -> None:
    path = arc(250.0, LONG)
    cotton = usual(Fibre.COTTON)
    strip = laid_along(path, _inner(path, 60.0), cotton.askew_over_shrink, FREE)
    shaping = shaping_of(strip, cotton, along_warp=True, ends=FREE)
    assert shaping.way is Way.NOT
    assert shaping.remedy is not None
    assert 0.0 < shaping.remedy.gentler < 1.0
    # the gentler arc, drawn and judged anew, is just possible
    gentle = arc(250.0 / shaping.remedy.gentler, LONG)
    again = laid_along(gentle, _inner(gentle, 60.0), cotton.askew_over_shrink, FREE)
    assert shaping_of(again, cotton, along_warp=True, ends=FREE).way is not Way.NOT
    sharper = arc(250.0 / shaping.remedy.gentler * 0.92, LONG)
    over = laid_along(sharper, _inner(sharper, 60.0), cotton.askew_over_shrink, FREE)
    assert shaping_of(over, cotton, along_warp=True, ends=FREE).way is Way.NOT


def test_parts_between_joins_are_possible() -> None:
    path = arc(420.0, LONG)
    cotton = usual(Fibre.COTTON)
    strip = laid_along(path, _inner(path, 60.0), cotton.askew_over_shrink, FREE)
    shaping = shaping_of(strip, cotton, along_warp=True, ends=FREE)
    assert shaping.remedy is not None
    joins = shaping.remedy.joins
    assert joins
    for start, end in itertools.pairwise((0.0, *joins, LONG)):
        part = path.part(start, end)
        lies = laid_along(part, _inner(part, 60.0), cotton.askew_over_shrink, FREE)
        assert shaping_of(lies, cotton, along_warp=True, ends=FREE).way is not Way.NOT


def _inner(path: Path, depth: float) -> tuple[Point, ...]:
    """Returns the other edges of a strip of even depth: its ends and its inner edge."""
    stations = path.stations(2.0)
    side = [path.at(s) + path.tangent(s).left * depth for s in stations]
    return (path.start - path.start_tangent * 0.01, *side, path.end + path.end_tangent * 0.01)


def _arc_strip(ratio: float) -> Strip:
    path = arc(R, LONG)
    return laid_along(path, _inner(path, DEEP), ratio, FREE)
