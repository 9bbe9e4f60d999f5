"""Curves measured with the tape, against circles, other libraries and each other."""

from __future__ import annotations

import itertools
import math
from collections.abc import Callable

import numpy as np
import pytest
from hypothesis import HealthCheck, Phase, assume, given, settings
from hypothesis import strategies as st
from shapely.geometry import LineString
from shapely.geometry import Point as Spot

from settwright.geometry import ORIGIN, Path, Point, Segment, Transform, crossing, direction, fair_curve, hook_curve

KAPPA = 4 / 3 * (math.sqrt(2) - 1)  # handles of a quarter circle as one Bézier, in radii (textbook value 0.5523)

# derandomised, and a failing curve isn't whittled down: it costs minutes and tells no more
QUICK = settings(
    max_examples=20,
    deadline=None,
    derandomize=True,
    phases=(Phase.explicit, Phase.generate),
    suppress_health_check=[HealthCheck.filter_too_much, HealthCheck.too_slow],
)

places = st.floats(-500, 500)
spots = st.builds(Point, places, places)
curves = st.builds(Path.curve, spots, spots, spots, spots)
angles = st.floats(-7, 7)
maps = st.builds(
    lambda angle, dx, dy, mirrored: (
        (Transform.mirror_x() if mirrored else Transform()).then(Transform.turn(angle)).then(Transform.shift(dx, dy))
    ),
    angles,
    places,
    places,
    st.booleans(),
)


def arc(radius: float, start: float, end: float, count: int) -> Path:
    """Returns an arc about the origin, as `count` Béziers of the standard handle length."""
    step = (end - start) / count
    pull = 4 / 3 * math.tan(step / 4) * radius
    segments: list[Segment] = []
    for i in range(count):
        a, b = start + i * step, start + (i + 1) * step
        p, q = direction(a) * radius, direction(b) * radius
        segments.append(Segment(p, p + direction(a).left * pull, q - direction(b).left * pull, q))
    return Path(tuple(segments))


def integrated(speed: Callable[[float], float]) -> float:
    """Returns the integral from 0 to 1 by numpy's Gauss-Legendre rule of 20 points on 40 parts."""
    nodes, weights = np.polynomial.legendre.leggauss(20)
    total = 0.0
    for part in range(40):
        total += sum(w * speed((part + (x + 1) / 2) / 40) for x, w in zip(nodes, weights, strict=True)) / 80
    return total


class Spline:
    """The cubic spline of the textbooks, in the other formulation: the second derivatives are the unknowns (a dense
    system, solved by numpy), not the velocities. `ends` are the first derivatives there, or None for a natural one.
    """

    def __init__(self, knots: list[float], rows: np.ndarray, ends: tuple[np.ndarray, np.ndarray] | None = None):
        n, h, slope = len(knots), np.diff(knots), np.diff(rows, axis=0) / np.diff(knots)[:, None]
        system, want = np.zeros((n, n)), np.zeros((n, 2))
        for i in range(1, n - 1):
            system[i, i - 1 : i + 2] = h[i - 1], 2 * (h[i - 1] + h[i]), h[i]
            want[i] = 6 * (slope[i] - slope[i - 1])
        if ends is None:
            system[0, 0] = system[-1, -1] = 1.0
        else:
            system[0, :2], want[0] = (2 * h[0], h[0]), 6 * (slope[0] - ends[0])
            system[-1, -2:], want[-1] = (h[-1], 2 * h[-1]), 6 * (ends[1] - slope[-1])
        self._bends, self._h, self._rows = np.linalg.solve(system, want), h, rows

    def at(self, i: int, t: float) -> Point:
        """Returns the point at part t of the stretch between knots i and i + 1."""
        a, b, h = 1 - t, t, self._h[i]
        xy = a * self._rows[i] + b * self._rows[i + 1]
        xy = xy + ((a**3 - a) * self._bends[i] + (b**3 - b) * self._bends[i + 1]) * h * h / 6
        return Point(float(xy[0]), float(xy[1]))


@pytest.mark.parametrize("radius", [12.0, 100.0, 800.0])
def test_a_circles_arc_has_a_circles_length_and_curvature(radius: float) -> None:
    half = arc(radius, 0.0, math.pi, 12)
    assert half.length == pytest.approx(math.pi * radius, rel=1e-7)
    for s in half.stations(radius / 5):
        assert half.at(s).length == pytest.approx(radius, rel=1e-6)
        assert (half.at(s) - direction(s / radius) * radius).length < 1e-5 * radius
        assert half.curvature(s) == pytest.approx(1 / radius, rel=2e-3)


def test_one_bezier_for_a_quarter_circle_strays_as_the_textbooks_say() -> None:
    # the known greatest error of the one-Bézier quarter circle is 0.0273 % of the radius
    quarter = Path.curve(Point(1, 0), Point(1, KAPPA), Point(KAPPA, 1), Point(0, 1))
    worst = max(abs(quarter.at(s).length - 1) for s in quarter.stations(0.005))
    assert worst == pytest.approx(0.000273, abs=5e-6)


@QUICK
@given(curves)
def test_arc_length_against_numerical_integration(path: Path) -> None:
    segment = path.segments[0]
    speeds = [segment.velocity(t / 50).length for t in range(51)]
    assume(min(speeds) > 0.1 * max(speeds) > 0)  # no cusp, where the speed has a corner and no rule is exact
    expected = integrated(lambda t: segment.velocity(t).length)
    assert path.length == pytest.approx(expected, rel=1e-6)


@QUICK
@given(curves, st.floats(0, 1))
def test_split_parts_are_the_curve(path: Path, part: float) -> None:
    segment = path.segments[0]
    first, second = segment.split(part)
    for t in (0.0, 0.3, 0.8, 1.0):
        assert (first.at(t) - segment.at(part * t)).length < 1e-9
        assert (second.at(t) - segment.at(part + (1 - part) * t)).length < 1e-9


@QUICK
@given(st.lists(st.floats(-0.6, 0.6), min_size=2, max_size=6), st.floats(0, 1), st.floats(0, 1))
def test_a_part_of_a_path_lies_where_the_path_says(headings: list[float], one: float, other: float) -> None:
    """On curves that bend as a pattern's edge may, never back on themselves."""
    points = [*itertools.accumulate((direction(h) * 60.0 for h in headings), initial=ORIGIN)]
    path = fair_curve(points)
    start, end = one * path.length, other * path.length
    assume(abs(end - start) > 1e-3)
    part = path.part(start, end)
    assert part.length == pytest.approx(abs(end - start), abs=1e-4)
    for share in (0.0, 0.25, 0.5, 1.0):
        assert (part.at(share * part.length) - path.at(start + share * (end - start))).length < 1e-3


@QUICK
@given(curves)
def test_walked_backwards(path: Path) -> None:
    back = path.reversed()
    assert back.length == pytest.approx(path.length, abs=1e-6)
    assert (back.reversed().at(1.0) - path.at(1.0)).length < 1e-9
    assert (back.start, back.end) == (path.end, path.start)


@QUICK
@given(curves, spots)
def test_nearest_place_against_a_polyline(path: Path, spot: Point) -> None:
    assume(path.length > 1 and not path.segments[0].is_straight)
    found = (path.at(path.nearest(spot)) - spot).length
    polyline = LineString([(p.x, p.y) for p in path.points(0.001)])
    assert found == pytest.approx(polyline.distance(Spot(spot.x, spot.y)), abs=0.02)


def test_nearest_place_on_a_circle() -> None:
    half = arc(100.0, 0.0, math.pi, 8)
    for angle in (0.2, 1.1, 2.9):
        for reach in (40.0, 100.0, 250.0):
            assert half.nearest(direction(angle) * reach) == pytest.approx(100 * angle, abs=1e-3)


@QUICK
@given(st.lists(spots, min_size=2, max_size=7, unique=True))
def test_a_fair_curve_is_the_cubic_spline_by_chord_length(points: list[Point]) -> None:
    """Against the textbook's natural cubic spline, worked out another way."""
    chords = [(q - p).length for p, q in itertools.pairwise(points)]
    assume(min(chords) > 5)
    path = fair_curve(points)
    spline = Spline([*itertools.accumulate(chords, initial=0.0)], np.array([(p.x, p.y) for p in points]))
    for i, segment in enumerate(path.segments):
        for t in (0.0, 0.25, 0.5, 0.9):
            assert (segment.at(t) - spline.at(i, t)).length < 1e-6


def test_a_fair_curve_with_directions_is_the_clamped_spline() -> None:
    points = [Point(0, 0), Point(60, 20), Point(140, 10), Point(200, 90)]
    start, end = Point(1, 1), Point(0, 3)
    chords = [(q - p).length for p, q in itertools.pairwise(points)]
    ends = tuple(np.array([way.unit.x, way.unit.y]) for way in (start, end))
    knots = [*itertools.accumulate(chords, initial=0.0)]
    spline = Spline(knots, np.array([(p.x, p.y) for p in points]), (ends[0], ends[1]))
    path = fair_curve(points, start, end)
    assert path.start_tangent.cross(start) == pytest.approx(0, abs=1e-9)
    for i, segment in enumerate(path.segments):
        assert (segment.at(0.4) - spline.at(i, 0.4)).length < 1e-6


@QUICK
@given(st.lists(spots, min_size=3, max_size=7, unique=True))
def test_a_fair_curve_goes_through_its_points_and_keeps_its_curvature(points: list[Point]) -> None:
    assume(min((q - p).length for p, q in itertools.pairwise(points)) > 5)
    path = fair_curve(points)
    assert [path.start, *(segment.d for segment in path.segments)] == points
    for before, after in itertools.pairwise(path.segments):
        v, w = before.velocity(1.0), after.velocity(0.0)
        assume(v.length > 1e-3)
        assert abs(math.atan2(v.cross(w), v.dot(w))) < 1e-6
        k_before = v.cross(before.acceleration(1.0)) / v.length**3
        k_after = w.cross(after.acceleration(0.0)) / w.length**3
        assert k_before == pytest.approx(k_after, abs=1e-6 * max(1.0, abs(k_before)))


def test_a_hook_leaves_and_arrives_as_told() -> None:
    path = hook_curve(Point(0, 0), Point(0, -2), Point(50, -80), Point(3, 0), (0.4, 0.5))
    assert path.start_tangent == Point(0, -1)
    assert path.end_tangent == Point(1, 0)


def test_crossings_with_level_and_upright_lines() -> None:
    half = arc(100.0, 0.0, math.pi, 8)
    assert half.where_y(50.0) == pytest.approx((100 * math.asin(0.5), 100 * (math.pi - math.asin(0.5))), abs=1e-4)
    assert half.where_x(-30.0) == pytest.approx((100 * math.acos(-0.3),), abs=1e-4)
    assert half.where_y(130.0) == ()
    assert Path.line(Point(0, 0), Point(10, 10), Point(20, 0)).where_y(10.0) == pytest.approx((math.sqrt(200),))


@QUICK
@given(curves)
def test_a_polyline_stays_within_its_tolerance(path: Path) -> None:
    assume(not path.segments[0].is_straight)
    polyline = LineString([(p.x, p.y) for p in path.points(0.5)])
    segment = path.segments[0]
    for i in range(101):
        p = segment.at(i / 100)
        assert polyline.distance(Spot(p.x, p.y)) <= 0.5


def test_stations_are_even_and_keep_their_spacing() -> None:
    path = Path.line(Point(0, 0), Point(100, 0))
    assert path.stations(30) == (0, 25, 50, 75, 100)
    assert path.stations(8, 10, 26) == (10, 18, 26)


def test_paths_that_do_not_meet_are_refused() -> None:
    with pytest.raises(ValueError, match="end to end"):
        Path((Segment.line(Point(0, 0), Point(1, 0)), Segment.line(Point(2, 0), Point(3, 0))))
    with pytest.raises(ValueError, match="at least two"):
        fair_curve([Point(0, 0)])
    with pytest.raises(ValueError, match="the same"):
        fair_curve([Point(0, 0), Point(0, 0)])


@QUICK
@given(maps, spots)
def test_every_map_has_its_way_back(by: Transform, spot: Point) -> None:
    assert (by.inverse()(by(spot)) - spot).length < 1e-6


@QUICK
@given(maps, maps, spots)
def test_maps_follow_one_another(first: Transform, second: Transform, spot: Point) -> None:
    assert (first.then(second)(spot) - second(first(spot))).length < 1e-6


@QUICK
@given(curves, maps)
def test_moving_keeps_lengths(path: Path, by: Transform) -> None:
    assert path.moved(by).length == pytest.approx(path.length, rel=1e-9, abs=1e-9)


def test_quarter_turns_are_exact() -> None:
    assert Transform.turn(math.pi / 2)(Point(3, 4)) == Point(-4, 3)
    assert Transform.turn(math.pi, Point(1, 1))(Point(2, 3)) == Point(0, -1)


@QUICK
@given(spots, st.floats(0.1, 3), spots, st.floats(3.3, 6))
def test_where_two_lines_meet(a: Point, one: float, b: Point, other: float) -> None:
    along_a, along_b = direction(one), direction(other)
    assume(abs(along_a.cross(along_b)) > 0.05)
    meeting = crossing(a, along_a, b, along_b)
    assert abs((meeting - a).cross(along_a)) < 1e-6
    assert abs((meeting - b).cross(along_b)) < 1e-6


def test_parallel_lines_never_meet() -> None:
    with pytest.raises(ValueError, match="never meet"):
        crossing(ORIGIN, Point(1, 2), Point(5, 0), Point(2, 4))
