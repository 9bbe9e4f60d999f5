"""Open curves made of straight lines and cubic Béziers, measured by arc length.

A pattern edge is walked with a tape, so length comes first here: every place on a Path is told as the distance
from its start. Curves stay exact; polylines are made from them only where another library asks for points.
"""

from __future__ import annotations

import bisect
import itertools
import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from functools import cached_property

from settwright.geometry.point import Point, Transform
from settwright.geometry.tolerances import FLATTEN, SAME

# Gauss-Legendre nodes and weights on [-1, 1], 5 points (Abramowitz & Stegun table 25.4, from memory;
# tests check arc lengths against a circle's).
_GAUSS = (
    (0.0, 0.5688888888888889),
    (-0.5384693101056831, 0.47862867049936647),
    (0.5384693101056831, 0.47862867049936647),
    (-0.906179845938664, 0.23692688505618908),
    (0.906179845938664, 0.23692688505618908),
)
# Arc length is tabulated at equal steps of a segment's parameter: (bend up to, steps), the bend being the largest
# second difference of the control points as a part of the chord. A gentle arc needs few for ten figures.
_PARTS = ((0.04, 1), (0.15, 2), (0.4, 6), (math.inf, 16))


@dataclass(frozen=True)
class Segment:
    """One cubic Bézier from `a` to `d` with handles `b` and `c`; straight when both handles lie on the chord.

    Most of a plan's time goes by here, so what is asked for by the ten thousand is written out in plain numbers.
    """

    a: Point
    b: Point
    c: Point
    d: Point

    @classmethod
    def line(cls, a: Point, d: Point) -> Segment:
        """Returns the straight segment, handles at its thirds."""
        return cls(a, a.between(d, 1 / 3), a.between(d, 2 / 3), d)

    @cached_property
    def is_straight(self) -> bool:
        """Whether the curve never leaves its chord by more than rounding."""
        along = (self.d - self.a).unit
        return all(abs(along.cross(h - self.a)) < SAME for h in (self.b, self.c))

    @cached_property
    def _is_even(self) -> bool:
        """Whether it is straight and run through at one speed, so that lengths need no table."""
        first, last = self.b - self.a, self.d - self.c
        return (first - last).length < SAME and (first * 3 - (self.d - self.a)).length < SAME

    def at(self, t: float) -> Point:
        """Returns the point at parameter t in [0, 1]."""
        s = 1.0 - t
        wa, wb, wc, wd = s * s * s, 3 * s * s * t, 3 * s * t * t, t * t * t
        return Point(
            wa * self.a.x + wb * self.b.x + wc * self.c.x + wd * self.d.x,
            wa * self.a.y + wb * self.b.y + wc * self.c.y + wd * self.d.y,
        )

    def velocity(self, t: float) -> Point:
        """Returns the first derivative by t."""
        s = 1.0 - t
        k0, k1, k2 = 3 * s * s, 6 * s * t, 3 * t * t
        a, b, c, d = self.a, self.b, self.c, self.d
        return Point(
            (b.x - a.x) * k0 + (c.x - b.x) * k1 + (d.x - c.x) * k2,
            (b.y - a.y) * k0 + (c.y - b.y) * k1 + (d.y - c.y) * k2,
        )

    def acceleration(self, t: float) -> Point:
        """Returns the second derivative by t."""
        k0, k1 = 6 * (1 - t), 6 * t
        a, b, c, d = self.a, self.b, self.c, self.d
        return Point(
            (a.x - b.x * 2 + c.x) * k0 + (b.x - c.x * 2 + d.x) * k1,
            (a.y - b.y * 2 + c.y) * k0 + (b.y - c.y * 2 + d.y) * k1,
        )

    def tangent(self, t: float) -> Point:
        """Returns the unit direction of travel, also where a handle has no length."""
        for candidate in (self.velocity(t), self.acceleration(t) * (1 if t < 0.5 else -1), self.d - self.a):
            if candidate.length > 1e-9:
                return candidate.unit
        return Point(0.0, 0.0)

    @cached_property
    def _parts(self) -> int:
        chord, bend = (self.d - self.a).length, self._second_difference
        return next(parts for most, parts in _PARTS if bend <= most * chord or most == math.inf)

    @property
    def _second_difference(self) -> float:
        a, b, c, d = self.a, self.b, self.c, self.d
        first = Point(a.x - b.x * 2 + c.x, a.y - b.y * 2 + c.y)
        last = Point(b.x - c.x * 2 + d.x, b.y - c.y * 2 + d.y)
        return max(first.length, last.length)

    @cached_property
    def _table(self) -> tuple[float, ...]:
        total, table, parts = 0.0, [0.0], self._parts
        for part in range(parts):
            total += self._arc(part / parts, (part + 1) / parts)
            table.append(total)
        return tuple(table)

    def _arc(self, t0: float, t1: float) -> float:
        half, middle = (t1 - t0) / 2, (t1 + t0) / 2
        a, b, c, d = self.a, self.b, self.c, self.d
        x0, y0, x1, y1, x2, y2 = b.x - a.x, b.y - a.y, c.x - b.x, c.y - b.y, d.x - c.x, d.y - c.y
        total = 0.0
        for node, weight in _GAUSS:
            t = middle + half * node
            s = 1.0 - t
            k0, k1, k2 = 3 * s * s, 6 * s * t, 3 * t * t
            vx, vy = x0 * k0 + x1 * k1 + x2 * k2, y0 * k0 + y1 * k1 + y2 * k2
            total += weight * math.sqrt(vx * vx + vy * vy)
        return half * total

    @property
    def length(self) -> float:
        """Arc length."""
        return (self.d - self.a).length if self._is_even else self._table[-1]

    def length_to(self, t: float) -> float:
        """Returns the arc length from the start to parameter t."""
        if self._is_even:
            return self.length * t
        part = min(int(t * self._parts), self._parts - 1)
        return self._table[part] + self._arc(part / self._parts, t)

    def parameter_at(self, distance: float) -> float:
        """Returns the parameter at an arc length, clamped to the segment."""
        if self._is_even:
            return min(max(distance / self.length, 0.0), 1.0) if self.length else 0.0
        table = self._table
        if distance <= 0:
            return 0.0
        if distance >= table[-1]:
            return 1.0
        part = bisect.bisect_right(table, distance) - 1
        span = table[part + 1] - table[part]
        parts = self._parts
        t = (part + ((distance - table[part]) / span if span else 0.0)) / parts
        for _ in range(4):
            speed = self.velocity(t).length
            if speed < 1e-9:
                break
            step = (self.length_to(t) - distance) / speed
            t = min(max(t - step, part / parts), (part + 1) / parts)
            if abs(step) < 1e-12:
                break
        return t

    def split(self, t: float) -> tuple[Segment, Segment]:
        """Returns the two halves of the curve at parameter t (de Casteljau)."""
        ab, bc, cd = self.a.between(self.b, t), self.b.between(self.c, t), self.c.between(self.d, t)
        abc, bcd = ab.between(bc, t), bc.between(cd, t)
        middle = abc.between(bcd, t)
        return Segment(self.a, ab, abc, middle), Segment(middle, bcd, cd, self.d)

    def reversed(self) -> Segment:
        """Returns the same curve walked the other way."""
        return Segment(self.d, self.c, self.b, self.a)

    def moved(self, by: Transform) -> Segment:
        """Returns the curve under an affine map."""
        return Segment(by(self.a), by(self.b), by(self.c), by(self.d))

    def flat_steps(self, tolerance: float) -> int:
        """Returns into how many equal parameter steps to cut so that chords stray less than `tolerance`."""
        if self.is_straight:
            return 1
        # the largest second difference of the control points bounds the second derivative (Wang's formula)
        return max(1, math.ceil(math.sqrt(6 * self._second_difference / (8 * tolerance))))

    def is_farther(self, point: Point, distance: float) -> bool:
        """Whether the box round the control points, and so the curve, lies farther from a point than that."""
        xs, ys = (self.a.x, self.b.x, self.c.x, self.d.x), (self.a.y, self.b.y, self.c.y, self.d.y)
        dx = max(min(xs) - point.x, point.x - max(xs), 0.0)
        dy = max(min(ys) - point.y, point.y - max(ys), 0.0)
        return dx * dx + dy * dy > distance * distance


@dataclass(frozen=True)
class Path:
    """An open curve: segments end to end. Places are told as arc length from the start.

    >>> Path.line(Point(0, 0), Point(30, 40)).at(25)
    Point(x=15.0, y=20.0)
    """

    segments: tuple[Segment, ...]

    def __hash__(self) -> int:
        return self._hash

    @cached_property
    def _hash(self) -> int:
        return hash(self.segments)

    def __post_init__(self) -> None:
        if not self.segments:
            raise ValueError("a path needs at least one segment")
        for before, after in zip(self.segments, self.segments[1:], strict=False):
            if before.d != after.a and (before.d - after.a).length > SAME:
                raise ValueError(f"a path's segments must meet end to end; {before.d} and {after.a} don't")

    @classmethod
    def line(cls, *points: Point) -> Path:
        """Returns straight lines from point to point."""
        return cls(tuple(Segment.line(p, q) for p, q in itertools.pairwise(points)))

    @classmethod
    def curve(cls, a: Point, b: Point, c: Point, d: Point) -> Path:
        """Returns one cubic Bézier."""
        return cls((Segment(a, b, c, d),))

    @property
    def start(self) -> Point:
        """First point."""
        return self.segments[0].a

    @property
    def end(self) -> Point:
        """Last point."""
        return self.segments[-1].d

    @cached_property
    def _starts(self) -> tuple[float, ...]:
        total, starts = 0.0, [0.0]
        for segment in self.segments:
            total += segment.length
            starts.append(total)
        return tuple(starts)

    @property
    def length(self) -> float:
        """Arc length."""
        return self._starts[-1]

    def _locate(self, distance: float) -> tuple[int, float]:
        index = min(max(bisect.bisect_right(self._starts, distance) - 1, 0), len(self.segments) - 1)
        return index, self.segments[index].parameter_at(distance - self._starts[index])

    def at(self, distance: float) -> Point:
        """Returns the point at an arc length from the start, clamped to the ends."""
        index, t = self._locate(distance)
        return self.segments[index].at(t)

    def tangent(self, distance: float) -> Point:
        """Returns the unit direction of travel there; at a corner, that of the segment after it."""
        index, t = self._locate(distance)
        return self.segments[index].tangent(t)

    @property
    def start_tangent(self) -> Point:
        """Direction of travel at the start."""
        return self.segments[0].tangent(0.0)

    @property
    def end_tangent(self) -> Point:
        """Direction of travel at the end."""
        return self.segments[-1].tangent(1.0)

    def curvature(self, distance: float) -> float:
        """Returns the signed curvature, positive where the path bends to its left."""
        index, t = self._locate(distance)
        v, a = self.segments[index].velocity(t), self.segments[index].acceleration(t)
        return v.cross(a) / max(v.length**3, 1e-12)

    def part(self, start: float, end: float) -> Path:
        """Returns the piece of the path between two arc lengths; reversed when end < start."""
        if end < start:
            return self.part(end, start).reversed()
        first, t0 = self._locate(start)
        last, t1 = self._locate(end)
        kept: list[Segment] = []
        for index in range(first, last + 1):
            segment = self.segments[index]
            lo, hi = (t0 if index == first else 0.0), (t1 if index == last else 1.0)
            if hi < 1.0:
                segment = segment.split(hi)[0]
            if lo > 0.0 and hi > 0.0:
                segment = segment.split(lo / hi)[1]
            if segment.length > SAME or index == first == last:
                kept.append(segment)
        return Path(tuple(kept or [self.segments[last]]))

    def reversed(self) -> Path:
        """Returns the path walked the other way."""
        return Path(tuple(segment.reversed() for segment in reversed(self.segments)))

    def starting(self, at: Point) -> Path:
        """Returns the path with its first point moved."""
        return Path((replace(self.segments[0], a=at), *self.segments[1:]))

    def ending(self, at: Point) -> Path:
        """Returns the path with its last point moved."""
        return Path((*self.segments[:-1], replace(self.segments[-1], d=at)))

    def moved(self, by: Transform) -> Path:
        """Returns the path under an affine map."""
        return Path(tuple(segment.moved(by) for segment in self.segments))

    def then(self, *others: Path) -> Path:
        """Returns this path and others end to end."""
        return Path(self.segments + tuple(s for other in others for s in other.segments))

    def points(self, tolerance: float = FLATTEN) -> tuple[Point, ...]:
        """Returns a polyline whose chords stray from the curve by less than `tolerance`."""
        points = [self.start]
        for segment in self.segments:
            steps = segment.flat_steps(tolerance)
            points += [segment.at(step / steps) for step in range(1, steps)] + [segment.d]
        return tuple(points)

    def stations(self, spacing: float, start: float = 0.0, end: float | None = None) -> tuple[float, ...]:
        """Returns arc lengths from start to end inclusive, evenly spaced, at most `spacing` apart."""
        end = self.length if end is None else end
        steps = max(1, math.ceil(abs(end - start) / spacing - 1e-9))
        return tuple(start + (end - start) * step / steps for step in range(steps + 1))

    def nearest(self, point: Point) -> float:
        """Returns the arc length of the place on the path nearest to a point."""
        best, best_distance = 0.0, math.inf
        surely = min((segment.a - point).length for segment in self.segments) + SAME  # no farther than the ends
        for index, segment in enumerate(self.segments):
            if segment.is_farther(point, min(best_distance, surely)):
                continue
            steps = 1 if segment.is_straight else 24
            samples = [segment.at(step / steps) for step in range(steps + 1)]
            for step in range(steps):
                p, q = samples[step], samples[step + 1]
                chord = q - p
                part = min(max((point - p).dot(chord) / max(chord.dot(chord), 1e-18), 0.0), 1.0)
                if (p + chord * part - point).length - chord.length > min(best_distance, surely):
                    continue  # so short an arc bulges from its chord by less than the chord's length
                t = (step + part) / steps
                for _ in range(0 if segment.is_straight else 6):
                    v = segment.velocity(t)
                    away = segment.at(t) - point
                    slope = v.dot(v) + away.dot(segment.acceleration(t))
                    if slope > 1e-12:
                        t = min(max(t - away.dot(v) / slope, step / steps), (step + 1) / steps)
                distance = (segment.at(t) - point).length
                if distance < best_distance - 1e-12:
                    best, best_distance = self._starts[index] + segment.length_to(t), distance
        return best

    def where_x(self, x: float) -> tuple[float, ...]:
        """Returns the arc lengths at which the path crosses the upright line at x, in order."""
        return self._crossings([(s.a.x - x, s.b.x - x, s.c.x - x, s.d.x - x) for s in self.segments])

    def where_y(self, y: float) -> tuple[float, ...]:
        """Returns the arc lengths at which the path crosses the level line at y, in order."""
        return self._crossings([(s.a.y - y, s.b.y - y, s.c.y - y, s.d.y - y) for s in self.segments])

    def _crossings(self, sides: Sequence[tuple[float, float, float, float]]) -> tuple[float, ...]:
        """Returns where the path crosses a line, from how far each segment's control points lie to its side."""
        found: list[float] = []
        for index, (segment, heights) in enumerate(zip(self.segments, sides, strict=True)):
            if min(heights) > 0.0 or max(heights) < 0.0:  # the curve stays within its control points' hull
                continue
            steps = 1 if segment.is_straight else 24
            for step in range(steps):
                lo, hi = step / steps, (step + 1) / steps
                s_lo, s_hi = _height(heights, lo), _height(heights, hi)
                if s_lo == 0.0:
                    found.append(self._starts[index] + segment.length_to(lo))
                if s_lo * s_hi < 0:
                    for _ in range(60):
                        middle = (lo + hi) / 2
                        if _height(heights, middle) * s_lo > 0:
                            lo = middle
                        else:
                            hi = middle
                    found.append(self._starts[index] + segment.length_to((lo + hi) / 2))
        if sides[-1][3] == 0.0:
            found.append(self.length)
        distinct: list[float] = []
        for s in found:
            if not distinct or s - distinct[-1] > SAME:
                distinct.append(s)
        return tuple(distinct)


def _height(heights: tuple[float, float, float, float], t: float) -> float:
    s = 1.0 - t
    a, b, c, d = heights
    return s * s * s * a + 3 * s * s * t * b + 3 * s * t * t * c + t * t * t * d


def fair_curve(
    points: Sequence[Point],
    start: Point | None = None,
    end: Point | None = None,
) -> Path:
    """Returns the smooth curve through all points: a cubic spline by chord length, curvature continuous.

    `start` and `end` are directions of travel at the ends; without one, the curve runs out with no curvature
    there (the natural spline), as a flexible curve laid on nails does.
    """
    if len(points) < 2:
        raise ValueError("a curve needs at least two points")
    steps = [(q - p).length for p, q in itertools.pairwise(points)]
    if min(steps) < SAME:
        raise ValueError("two points of the curve are the same")
    n = len(points)
    # unknown: velocity m_i at each point, per unit of chord length; tridiagonal, solved by Thomas' algorithm
    low, mid, high, want = [0.0] * n, [1.0] * n, [0.0] * n, [Point(0.0, 0.0)] * n
    for i in range(1, n - 1):
        h0, h1 = steps[i - 1], steps[i]
        low[i], mid[i], high[i] = h1, 2 * (h0 + h1), h0
        want[i] = ((points[i] - points[i - 1]) * (h1 / h0) + (points[i + 1] - points[i]) * (h0 / h1)) * 3
    if start is None:
        mid[0], high[0], want[0] = 2.0, 1.0, (points[1] - points[0]) * (3 / steps[0])
    else:
        want[0] = start.unit
    if end is None:
        low[-1], mid[-1], want[-1] = 1.0, 2.0, (points[-1] - points[-2]) * (3 / steps[-1])
    else:
        want[-1] = end.unit
    for i in range(1, n):
        factor = low[i] / mid[i - 1]
        mid[i] -= factor * high[i - 1]
        want[i] = want[i] - want[i - 1] * factor
    velocity = [Point(0.0, 0.0)] * n
    velocity[-1] = want[-1] / mid[-1]
    for i in range(n - 2, -1, -1):
        velocity[i] = (want[i] - velocity[i + 1] * high[i]) / mid[i]
    return Path(
        tuple(
            Segment(p, p + velocity[i] * (steps[i] / 3), q - velocity[i + 1] * (steps[i] / 3), q)
            for i, (p, q) in enumerate(itertools.pairwise(points))
        )
    )


def hook_curve(a: Point, start: Point, d: Point, end: Point, pull: tuple[float, float] = (1 / 3, 1 / 3)) -> Path:
    """Returns one cubic from `a`, leaving along `start`, to `d`, arriving along `end`.

    `pull` is each handle's length as a part of the chord: 1/3 for a gentle curve, up to 0.6 for a hollow one.
    """
    chord = (d - a).length
    return Path.curve(a, a + start.unit * (chord * pull[0]), d - end.unit * (chord * pull[1]), d)


def joined(paths: Iterable[Path]) -> Path:
    """Returns paths end to end as one."""
    return Path(tuple(segment for path in paths for segment in path.segments))
