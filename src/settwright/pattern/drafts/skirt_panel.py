"""Half a skirt panel: a side seam that rounds over the hip, darts, and a waist drawn smooth with the darts closed.

The panel stands with its centre at x = 0 and its side to the left, the waist's level at y = 0. The waist is drawn as it
will be worn, darts closed and square to centre and side, and then opened dart by dart: so it can't peak at a dart.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence
from dataclasses import dataclass

from settwright.geometry import ORIGIN, Path, Point, Transform, crossing, fair_curve, hook_curve
from settwright.pattern.drafts.bending import root

LEFT, DOWN = Point(-1.0, 0.0), Point(0.0, -1.0)
LEAST_DART = 8.0  # a smaller one isn't worth sewing (common practice, no source)


@dataclass(frozen=True)
class Profile:
    """How far the side seam lies outside the hip's line, by height: straight, rounded over the hip, straight."""

    waist: float  # height of its upper end
    hip: float  # height of the hip, negative
    hem: float
    round_from: float
    round_to: float
    above: float  # outward change per mm downwards, above the rounding
    below: float

    @classmethod
    def of(cls, waist: float, hip: float, hem: float, intake: float, taper: float) -> Profile:
        """Returns the profile that lies inside the hip's line by `intake` at the waist and by `taper` at the hem."""
        drop = waist - hip
        round_from = waist - 0.12 * drop
        round_to = max(hip - 0.35 * drop, hem + 0.25 * (hip - hem))
        unit_above = cls(waist, hip, hem, round_from, round_to, 1.0, 0.0)
        unit_below = cls(waist, hip, hem, round_from, round_to, 0.0, 1.0)
        a, b = unit_above._gone(hip), unit_below._gone(hip)
        c, d = unit_above._gone(hem), unit_below._gone(hem)
        # out by the intake at the hip, by intake less taper at the hem
        area = a * d - b * c
        above = (intake * d - b * (intake - taper)) / area
        below = (a * (intake - taper) - intake * c) / area
        return cls(waist, hip, hem, round_from, round_to, above, below)

    def _gone(self, y: float) -> float:
        """How far out the seam has come from the waist down to a height."""
        span = self.round_from - self.round_to
        u = min(max((self.round_from - y) / span, 0.0), 1.0)
        swung = span * (u * u * u - u**4 / 2) + max(self.round_to - y, 0.0)
        return self.above * (self.waist - y) + (self.below - self.above) * swung

    def slope(self, y: float) -> float:
        """Returns the outward change per mm downwards at a height."""
        u = min(max((self.round_from - y) / (self.round_from - self.round_to), 0.0), 1.0)
        return self.above + (self.below - self.above) * u * u * (3 - 2 * u)

    def path(self, hip_width: float) -> tuple[Path, float]:
        """Returns the side seam of a panel, downwards, and where on it the hip lies."""
        first = -self._gone(self.hip)
        rounding = _steps(self.waist, self.hip, 20.0)
        lower = _steps(self.hip, self.round_to, 20.0)[1:]
        heights = [*rounding, *lower]
        points = [Point(-(hip_width + first + self._gone(y)), y) for y in heights]
        ends = [Point(-self.slope(y), -1.0) for y in (heights[0], heights[-1])]
        curve = fair_curve(points, ends[0], ends[1])
        foot = Point(-(hip_width + first + self._gone(self.hem)), self.hem)
        return curve.then(Path.line(curve.end, foot)), sum(s.length for s in curve.segments[: len(rounding) - 1])


def _steps(start: float, end: float, most: float) -> list[float]:
    count = max(2, math.ceil(abs(end - start) / most))
    return [start + (end - start) * i / count for i in range(count + 1)]


@dataclass(frozen=True)
class DartPlan:
    """A dart wanted: how far along the closed waist from the centre (a part of it), how much it takes out, how long."""

    place: float
    intake: float
    length: float


@dataclass(frozen=True)
class Dart:
    """A dart as drawn, from the leg nearer the centre over its point to the other; `peak` is its mouth's."""

    inner: Point
    peak: Point
    outer: Point
    point: Point


@dataclass(frozen=True)
class Panel:
    """Half a panel's lines; the waist in stretches between darts from the centre outwards, the side downwards."""

    stretches: tuple[Path, ...]
    closed: Path  # the waist with its darts closed
    darts: tuple[Dart, ...]
    side: Path
    hip: float  # arc length on the side
    hem: Path  # from the side to the centre
    centre_waist: Point
    centre_hem: Point
    hip_line: Path  # from the centre to the side


def draw_panel(
    profile: Profile,
    hip_width: float,
    waist: float,
    darts: Sequence[DartPlan],
    *,
    centre_drop: float,
    hem: float,
    flare: float = 0.0,
) -> Panel:
    """Returns a panel whose closed waist is `waist` long and whose centre lies `centre_drop` below the waist's level.

    The darts take what brings the waist to its length; their plans share it. `flare` is what they give to the hem: so
    far each is shut, the panel spread below its point. Raises ValueError where the waist can't come to its length.
    """
    side, hip = profile.path(hip_width)
    centre = Point(0.0, -centre_drop)
    scale = root(lambda k: _waist(side, centre, darts, k)[0].length - waist, 0.1, 2.0, 1e-7) if darts else 0.0
    closed, turns, points = _waist(side, centre, darts, scale)
    kept = _kept(darts, turns, points, flare, hem) if flare else turns
    stretches, drawn, spread = _open(closed, darts, turns, kept, points)
    side = side.moved(spread[-1])
    square = side.end_tangent.left
    foot = Point(0.0, hem)
    if flare:
        hem_line = hook_curve(side.end, square, foot, Point(1.0, 0.0), (0.36, 0.36))
    else:
        run = min(0.75 * hip_width, 150.0)
        bend = Point(side.end.x + run, hem)
        hem_line = hook_curve(side.end, square, bend, Point(1.0, 0.0)).then(Path.line(bend, foot))
    hip_line = _hip_line(Point(0.0, profile.hip), side.at(hip), points, spread)
    return Panel(stretches, closed, drawn, side, hip, hem_line, centre, foot, hip_line)


def _kept(
    darts: Sequence[DartPlan], turns: Sequence[float], points: Sequence[Point], flare: float, hem: float
) -> list[float]:
    """Returns how much of each dart is left when `flare` is given to the hem; a rest not worth sewing is shut too."""
    most = sum(turn * (point.y - hem) for turn, point in zip(turns, points, strict=True))
    share = min(1.0, flare / most) if most > 0 else 0.0
    return [
        turn * (1 - share) if turn * (1 - share) * dart.length >= LEAST_DART else 0.0
        for dart, turn in zip(darts, turns, strict=True)
    ]


def _hip_line(centre: Point, side: Point, points: Sequence[Point], spread: Sequence[Transform]) -> Path:
    """Returns the hip's level through a spread panel: level at the centre, bent with the side."""
    turn = math.atan2(spread[-1].yx, spread[-1].xx)
    if abs(turn) < 1e-12:
        return Path.line(centre, side)
    return hook_curve(centre, LEFT, side, LEFT.rotated(turn))


def _waist(side: Path, centre: Point, darts: Sequence[DartPlan], scale: float) -> tuple[Path, list[float], list[Point]]:
    """Returns the closed waist, the turn of each dart and their points (in the open panel), darts scaled."""
    lengths = [dart.length for dart in darts]
    turns = [2 * math.asin(min(scale * dart.intake / (2 * dart.length), 0.9)) for dart in darts]
    square = side.start_tangent.right
    closed = _swept(centre, side.start, square)
    points: list[Point] = []
    for _ in range(30):
        before = closed.end
        points = []
        opened = Transform()  # from the closed panel to the open one, inside the dart at hand
        for dart, turn, length in zip(darts, turns, lengths, strict=True):
            inner = opened(closed.at(dart.place * closed.length))
            points.append(inner - Point(math.sin(turn / 2), math.cos(turn / 2)) * length)
            opened = opened.then(Transform.turn(turn, points[-1]))
        back = opened.inverse()
        closed = _swept(centre, back(side.start), back(square) - back(ORIGIN))
        if (closed.end - before).length < 1e-9:
            break
    return closed, turns, points


def _swept(centre: Point, end: Point, arriving: Point) -> Path:
    """Returns the waist from the centre, level there, to the side, square to it: a parabola where there is one."""
    slope = arriving.y / -arriving.x
    rise = end.y - centre.y
    reach = rise / slope if abs(slope) > 1e-6 else -1.0
    if 0.08 * -end.x < reach < 0.92 * -end.x:
        corner = Point(end.x + reach, centre.y)
        return Path.curve(centre, centre.between(corner, 2 / 3), end.between(corner, 2 / 3), end)
    return hook_curve(centre, LEFT, end, arriving, (0.4, 0.25))


def _open(
    closed: Path,
    darts: Sequence[DartPlan],
    turns: Sequence[float],
    kept: Sequence[float],
    points: Sequence[Point],
) -> tuple[tuple[Path, ...], tuple[Dart, ...], tuple[Transform, ...]]:
    """Returns the waist's stretches, the darts and how the panel is moved beyond each, against one with open darts.

    `turns` are the darts as the straight panel has them, `kept` what is left of them.
    """
    places = [0.0, *(dart.place * closed.length for dart in darts), closed.length]
    stretches: list[Path] = []
    drawn: list[Dart] = []
    wide, opened = Transform(), Transform()  # from the closed panel: all darts open, and as they are kept
    spread = [Transform()]
    for index, (first, last) in enumerate(itertools.pairwise(places)):
        stretches.append(closed.part(first, last).moved(opened))
        if index < len(darts):
            point = opened(wide.inverse()(points[index]))
            swing = Transform.turn(kept[index], point)
            wide = wide.then(Transform.turn(turns[index], points[index]))
            inner = stretches[-1].end
            if kept[index]:
                outer = swing(inner)
                leg, axis = (inner - point).unit, ((inner + outer) / 2 - point).unit
                inwards = -stretches[-1].end_tangent
                folded = leg * (2 * inwards.dot(leg)) - inwards  # pressed to the centre, its mouth lies under the waist
                drawn.append(Dart(inner, crossing(inner, folded, point, axis), outer, point))
            opened = opened.then(swing)
            spread.append(wide.inverse().then(opened))
    return _joined(stretches, kept), tuple(drawn), tuple(spread)


def _joined(stretches: list[Path], kept: Sequence[float]) -> tuple[Path, ...]:
    """Returns the stretches between the darts that are left."""
    found = [stretches[0]]
    for stretch, turn in zip(stretches[1:], kept, strict=True):
        if turn:
            found.append(stretch)
        else:
            found[-1] = found[-1].then(stretch)
    return tuple(found)


__all__ = ["DOWN", "LEAST_DART", "LEFT", "Dart", "DartPlan", "Panel", "Profile", "draw_panel"]
