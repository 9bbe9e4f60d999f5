"""Where a facing that is cut as a strip comes to lie when it is shaped: from its piece frame to the finished facing."""

from __future__ import annotations

import math
from functools import lru_cache

import numpy as np

from settwright.geometry import Point, direction
from settwright.makeup.edges.shaped import ShapedFacing
from settwright.workbook.drawing.plaid import Map, Places


@lru_cache(maxsize=8)
def lying(shaped: ShapedFacing) -> Map:
    """Returns the map of many places from the strip as cut, its grain mark the origin, to the finished facing in its
    draft's frame: the strip's own map, its threads' directions told between nodes by chords.
    """
    strip, mark = shaped.shaping.strip, shaped.cut.grain_mark
    edge = _told(strip.edge)
    along = _told([direction(heading) for heading in strip.headings])
    across = _told([
        direction(heading + math.pi / 2 - slip) for heading, slip in zip(strip.headings, strip.slips, strict=True)
    ])  # fmt: skip
    last = len(edge) - 1

    def place(places: Places) -> Places:
        depth, way = (places[:, 0] + mark.x)[:, None], -(places[:, 1] + mark.y)
        at = np.clip(way / strip.step, 0.0, last)
        i = np.minimum(at.astype(np.int64), last - 1)
        u = (at - i)[:, None]
        v = 1 - u
        on_edge = edge[i] * (v * v * (1 + 2 * u)) + edge[i + 1] * (u * u * (3 - 2 * u))
        on_edge = on_edge + (along[i] * (u * v * v) - along[i + 1] * (u * u * v)) * strip.step
        beyond = (way - at * strip.step)[:, None]
        on_edge = on_edge + np.where(beyond > 0, along[last], along[0]) * beyond
        thread = across[i] * v + across[i + 1] * u
        return on_edge + thread / np.sqrt(np.square(thread).sum(axis=1))[:, None] * depth

    return place


def as_cut(shaped: ShapedFacing) -> Map:
    """Returns the map back, from the finished facing to the strip."""
    strip, mark = shaped.shaping.strip, shaped.cut.grain_mark

    def place(places: Places) -> Places:
        found: dict[tuple[float, float], tuple[float, float]] = {}  # a ring ends exactly where it began
        near: float | None = None
        told = [(float(x), float(y)) for x, y in places]
        for at in told:
            if at not in found:
                near, depth = strip.of(Point(*at), near)
                found[at] = (depth - mark.x, -near - mark.y)
        return np.array([found[at] for at in told]).reshape(-1, 2)

    return place


def _told(points: list[Point] | tuple[Point, ...]) -> Places:
    return np.array([(p.x, p.y) for p in points], dtype=np.float64)


__all__ = ["as_cut", "lying"]
