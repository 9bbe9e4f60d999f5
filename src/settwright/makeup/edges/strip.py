"""A strip laid along a curved edge: the map between the straight strip as it is cut and the facing as it lies."""

from __future__ import annotations

import bisect
import itertools
import math
from collections.abc import Callable
from dataclasses import dataclass
from functools import cached_property

from settwright.geometry import Path, Point, direction
from settwright.makeup.edges.bending import End, slipped

STEP = 8.0  # between nodes along the edge
_NEAR = 1e-7  # mm: a thread runs through a point that it misses by less
LEAST_DEPTH = 6.0  # where a facing runs out in a point, it still resists like a strip of this depth


@dataclass(frozen=True)
class Strip:
    """A strip along an edge, with the facing to the left of its direction; beyond its ends it goes on straight.

    In the strip's own frame a point is told as (s, t): length along the edge, depth.
    """

    edge: tuple[Point, ...]  # at the nodes, evenly spaced by arc length
    headings: tuple[float, ...]  # of the edge at the nodes, without jumps
    depths: tuple[float, ...]  # of the strip along its crosswise threads
    slips: tuple[float, ...]  # φ at the nodes
    step: float

    @property
    def length(self) -> float:
        """Along the edge."""
        return self.step * (len(self.edge) - 1)

    @cached_property
    def bends(self) -> tuple[float, ...]:
        """φ' − k in each step: what shrinks or stretches a thread, per millimetre of depth."""
        return tuple(
            (self.slips[i + 1] - self.slips[i] - self.headings[i + 1] + self.headings[i]) / self.step
            for i in range(len(self.edge) - 1)
        )

    @cached_property
    def _tangents(self) -> tuple[Point, ...]:
        """The edge's direction at each node, a step long."""
        return tuple(direction(heading) * self.step for heading in self.headings)

    def depth_at(self, along: float) -> float:
        """Returns the strip's depth at a place along the edge."""
        return self._between(self.depths, along)

    def slip_at(self, along: float) -> float:
        """Returns how far the crosswise thread leaves the normal at a place along the edge."""
        return self._between(self.slips, along)

    def at(self, along: float, depth: float) -> Point:
        """Returns where a point of the strip comes to lie."""
        edge, heading, slip = self._frame(along)
        return edge + direction(heading + math.pi / 2 - slip) * depth

    def of(self, point: Point, near: float | None = None) -> tuple[float, float]:
        """Returns the point of the strip (along, depth) that comes to lie on a point; `near` speeds the search.

        It is the crosswise thread that runs through the point; while the strip lies flat there is one.
        """

        def beside(along: float) -> float:
            edge, heading, slip = self._frame(along)
            return (point - edge).dot(direction(heading - slip))

        start = (point - self.edge[0]).dot(direction(self.headings[0])) if near is None else near
        along = _root(beside, start)
        edge, heading, slip = self._frame(along)
        return along, (point - edge).dot(direction(heading + math.pi / 2 - slip))

    def _between(self, values: tuple[float, ...], along: float) -> float:
        place = min(max(along / self.step, 0.0), len(values) - 1.0)
        i = min(int(place), len(values) - 2)
        return values[i] + (values[i + 1] - values[i]) * (place - i)

    def _frame(self, along: float) -> tuple[Point, float, float]:
        """Returns edge, heading and φ at a place; beyond the ends the strip goes on as it ends."""
        last = len(self.edge) - 1
        if along <= 0.0:
            return self.edge[0] + direction(self.headings[0]) * along, self.headings[0], self.slips[0]
        if along >= self.length:
            over = along - self.length
            return self.edge[last] + direction(self.headings[last]) * over, self.headings[last], self.slips[last]
        place = along / self.step
        i = min(int(place), last - 1)
        u = place - i
        a, b = self.edge[i], self.edge[i + 1]
        ta, tb = self._tangents[i], self._tangents[i + 1]
        v = 1 - u
        at = a * (v * v * (1 + 2 * u)) + b * (u * u * (3 - 2 * u)) + ta * (u * v * v) - tb * (u * u * v)
        heading = self.headings[i] * v + self.headings[i + 1] * u
        return at, heading, self.slips[i] * v + self.slips[i + 1] * u


def _root(miss: Callable[[float], float], start: float) -> float:
    """Returns where a falling function of slope about −1 crosses zero: the secant rule, else by halving."""
    a, at_a = start, miss(start)
    b = a + at_a
    for _ in range(8):
        at_b = miss(b)
        if abs(at_b) < _NEAR:
            return b
        if abs(at_b - at_a) < 1e-12:
            break
        a, at_a, b = b, at_b, b - at_b * (b - a) / (at_b - at_a)
    low, high, reach = start, start, 16.0
    while miss(low) < 0.0 and reach < 1e5:
        low, reach = low - reach, reach * 2
    while miss(high) > 0.0 and reach < 1e5:
        high, reach = high + reach, reach * 2
    for _ in range(40):
        middle = (low + high) / 2
        low, high = (middle, high) if miss(middle) > 0.0 else (low, middle)
    return (low + high) / 2


def nodes_of(path: Path, step: float = STEP) -> tuple[tuple[Point, ...], tuple[float, ...], float]:
    """Returns points and headings (without jumps) along a path divided evenly, and the step."""
    steps = max(4, math.ceil(path.length / step - 1e-9))
    step = path.length / steps
    points = tuple(path.at(i * step) for i in range(steps + 1))
    headings: list[float] = []
    for i in range(steps + 1):
        angle = path.tangent(i * step).angle
        last = headings[-1] if headings else angle
        headings.append(last + math.remainder(angle - last, 2 * math.pi))
    return points, tuple(headings), step


def laid_along(
    path: Path,
    inner: tuple[Point, ...],
    askew_over_shrink: float,
    ends: tuple[End, End],
    step: float = STEP,
) -> Strip:
    """Returns the strip along an edge, as deep as the facing: to its other edges `inner`, told as a polyline.

    The depth is measured square to the edge, then along the threads as they come to lie: cut deeper where they lean.
    """
    points, headings, step = nodes_of(path, step)
    square = _depths(points, headings, inner)
    turns = tuple(after - before for before, after in itertools.pairwise(headings))
    slips = slipped(turns, square, step, askew_over_shrink, ends)
    depths = tuple(depth / math.cos(slip) for depth, slip in zip(square, slips, strict=True))
    return Strip(points, headings, depths, slipped(turns, depths, step, askew_over_shrink, ends), step)


_EVERY = 3  # the depth is looked up at every third node


def _depths(points: tuple[Point, ...], headings: tuple[float, ...], inner: tuple[Point, ...]) -> tuple[float, ...]:
    """Returns how far the facing reaches at each node, square to the edge."""
    last = len(points) - 1
    places = sorted({*range(0, last + 1, _EVERY), last})
    found = [_reach(points[i], direction(headings[i] + math.pi / 2), inner) for i in places]
    depths: list[float] = []
    for i in range(last + 1):
        j = min(max(bisect.bisect_right(places, i) - 1, 0), len(places) - 2)
        part = (i - places[j]) / (places[j + 1] - places[j])
        depths.append(found[j] + (found[j + 1] - found[j]) * part)
    return tuple(depths)


def _reach(start: Point, way: Point, line: tuple[Point, ...]) -> float:
    """Returns how far it is from a point along a direction to a polyline; at least LEAST_DEPTH."""
    nearest = math.inf
    across = way.left
    sides = [across.dot(p - start) for p in line]
    for i in range(len(line) - 1):
        a, b = sides[i], sides[i + 1]
        if a * b > 0 or a == b:
            continue
        far = way.dot(line[i].between(line[i + 1], a / (a - b)) - start)
        if LEAST_DEPTH < far < nearest:
            nearest = far
    return nearest if nearest < math.inf else LEAST_DEPTH
