"""What the layout engine sees of a shape: a simple outline in whole micrometres, cut into convex parts.

Convex parts let two shapes be tested for overlap exactly, in integers, by their edges' half-planes alone: the
no-fit polygon of two convex parts is the meeting of the half-planes of both, and the no-fit polygon of two shapes is
the union of those of their parts. So no polygon has to be clipped, and nothing is rounded after this module.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property, lru_cache

from shapely import Polygon, constrained_delaunay_triangles, make_valid
from shapely.geometry.base import BaseGeometry

from settwright.geometry import Point

MICRON = 1000.0  # whole units in a millimetre
STRAY = 0.3  # mm by which the simplified outline may lie outside the shape's own, besides the gap
CERTAIN = 0.01  # mm added to every growth, more than all rounding together
FEW_CORNERS = 40  # an outline with no more corners is taken as it is when no gap is asked for

Corner = tuple[int, int]
Ring = tuple[Corner, ...]


@dataclass(frozen=True)
class Outline:
    """A shape in one of its ways of lying, about its grain mark, in µm."""

    left: int  # the shape's own extent, without the gap
    right: int
    bottom: int
    top: int
    parts: tuple[Ring, ...]  # convex, counter-clockwise; together the shape grown by half the gap

    @cached_property
    def grown_box(self) -> tuple[int, int, int, int]:
        """Left, bottom, right, top of the parts."""
        xs = [x for part in self.parts for x, _ in part]
        ys = [y for part in self.parts for _, y in part]
        return min(xs), min(ys), max(xs), max(ys)

    def lying(self, t: int, f: int) -> Outline:
        """Returns the outline turned by 180° (t = −1) or with its wrong side up (f = −1)."""
        sx, sy = t * f, t
        xs, ys = sorted((sx * self.left, sx * self.right)), sorted((sy * self.bottom, sy * self.top))
        turned = (tuple((sx * x, sy * y) for x, y in part) for part in self.parts)
        parts = tuple(part if f == 1 else part[::-1] for part in turned)
        return Outline(xs[0], xs[1], ys[0], ys[1], parts)

    @property
    def swapped(self) -> Outline:
        """The outline with across and along exchanged, so that what slides down can slide sideways."""
        parts = tuple(tuple((y, x) for x, y in reversed(part)) for part in self.parts)
        return Outline(self.bottom, self.top, self.left, self.right, parts)


@lru_cache(maxsize=256)  # grids of several steps ask for the same shapes
def outline_of(corners: tuple[Point, ...], gap: float) -> Outline:
    """Returns the outline that the engine lays: any two keep at least `gap` between the shapes' own lines.

    Each shape is grown by half the gap, then simplified outwards by less than 2 × STRAY.
    """
    own = _whole(Polygon([(p.x, p.y) for p in corners]))
    left, bottom, right, top = own.bounds
    is_plain = len(corners) <= FEW_CORNERS
    stray = 0.0 if gap <= 0 and is_plain else STRAY
    grow = max(gap, 0.0) / 2 + stray + (CERTAIN if stray else 0.0)
    grown = own.buffer(grow, quad_segs=8).simplify(stray) if grow else own
    return Outline(
        math.floor(left * MICRON),
        math.ceil(right * MICRON),
        math.floor(bottom * MICRON),
        math.ceil(top * MICRON),
        convex_parts(_rounded(_whole(grown))),
    )


def _whole(polygon: BaseGeometry) -> Polygon:
    """Returns the largest simple polygon of a geometry, its holes filled."""
    valid = polygon if polygon.is_valid else make_valid(polygon)
    pieces = [g for g in getattr(valid, "geoms", (valid,)) if isinstance(g, Polygon)]
    return Polygon(max(pieces, key=lambda piece: piece.area).exterior)


def _rounded(polygon: Polygon) -> Ring:
    """Returns the corners in whole µm, counter-clockwise, none repeated."""
    corners = [(round(x * MICRON), round(y * MICRON)) for x, y in polygon.exterior.coords]
    ring = [c for c, before in zip(corners[1:], corners, strict=False) if c != before]
    return tuple(ring if _area_twice(ring) > 0 else ring[::-1])


def _area_twice(ring: Sequence[Corner]) -> int:
    return sum(a[0] * b[1] - b[0] * a[1] for a, b in zip(ring, (*ring[1:], ring[0]), strict=True))


def _cross(a: Corner, b: Corner, c: Corner) -> int:
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])


def convex_parts(ring: Ring) -> tuple[Ring, ...]:
    """Returns convex parts that together are the polygon, exactly: triangles joined while they stay convex.

    At most four times as many parts as the fewest (Hertel & Mehlhorn 1983, from memory).
    """
    if all(_cross(ring[i - 2], ring[i - 1], ring[i]) >= 0 for i in range(len(ring))):
        return (ring,)
    parts: dict[int, list[Corner]] = {}
    owner: dict[tuple[Corner, Corner], int] = {}
    for triangle in constrained_delaunay_triangles(Polygon(ring)).geoms:
        assert isinstance(triangle, Polygon)
        corners = [(round(x), round(y)) for x, y in triangle.exterior.coords[:3]]
        area = _area_twice(corners)
        if area:
            _own(owner, len(parts), corners if area > 0 else corners[::-1])
            parts[len(parts)] = corners if area > 0 else corners[::-1]
    for a, b in sorted(owner):
        first, second = owner.get((a, b)), owner.get((b, a))
        if first is None or second is None:
            continue
        joined = _joined(parts[first], parts[second], a, b)
        if joined is not None:
            parts[first] = joined
            del parts[second], owner[a, b], owner[b, a]
            _own(owner, first, joined)
    return tuple(tuple(part) for part in parts.values())


def _own(owner: dict[tuple[Corner, Corner], int], part: int, corners: list[Corner]) -> None:
    for edge in zip(corners, (*corners[1:], corners[0]), strict=True):
        owner[edge] = part


def _joined(first: list[Corner], second: list[Corner], a: Corner, b: Corner) -> list[Corner] | None:
    """Returns the union of two convex parts that share the edge a → b of the first; None where it isn't convex."""
    i, j = first.index(b), second.index(a)
    round_first = first[i:] + first[:i]  # b … a
    round_second = second[j:] + second[:j]  # a … b
    if a != round_first[-1] or b != round_second[-1]:
        return None
    ring = round_first + round_second[1:-1]
    if len(set(ring)) < len(ring):
        return None
    at = len(round_first) - 1
    convex_at_a = _cross(ring[at - 1], ring[at], ring[(at + 1) % len(ring)]) >= 0
    convex_at_b = _cross(ring[-1], ring[0], ring[1]) >= 0
    return ring if convex_at_a and convex_at_b else None
