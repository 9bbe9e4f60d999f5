"""Rectangles laid side by side on a strip, so that drawings of many pieces fill their sheet.

This is for paper and screen, where a few spare centimetres don't matter; cloth is laid by `layout`.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence

from settwright.geometry.point import Point
from settwright.geometry.tolerances import SAME

Size = tuple[float, float]  # width and height

# what decides which rectangle goes first
ORDERS: tuple[Callable[[Size], float], ...] = (
    lambda size: size[1],  # the tallest
    lambda size: size[0],  # the widest
    lambda size: size[0] * size[1],  # the largest
)


def lay_on_strip(
    sizes: Sequence[Size], width: float, gap: float, first: Callable[[Size], float] = ORDERS[0]
) -> tuple[Point, ...]:
    """Returns where the upper left corner of each (width, height) lies, on a strip that hangs down from y = 0.

    The one for which `first` is greatest goes first; each then takes the highest place left where it fits, and of
    those the leftmost. The gap lies between rectangles, not at the strip's rim. Raises ValueError for one wider than
    the strip.
    """
    corners: list[Point] = [Point(0.0, 0.0)] * len(sizes)
    edge: list[tuple[float, float, float]] = [(0.0, width + gap, 0.0)]  # (from x, to x, depth filled), left to right
    for index in sorted(range(len(sizes)), key=lambda i: (-round(first(sizes[i]), 3), i)):
        wide, high = sizes[index][0] + gap, sizes[index][1] + gap
        if wide > width + gap + SAME:
            raise ValueError(f"a rectangle {sizes[index][0]:.1f} mm wide doesn't fit a strip of {width:.1f} mm")
        places = [
            (max(depth for lo, hi, depth in edge if lo < left + wide - SAME and hi > left + SAME), left)
            for left, _, _ in edge
            if left + wide <= width + gap + SAME
        ]
        depth, left = min(places, key=lambda place: (round(place[0], 3), place[1]))
        corners[index] = Point(left, -depth)
        edge = _filled(edge, left, left + wide, depth + high)
    return tuple(corners)


def _filled(
    edge: Sequence[tuple[float, float, float]], left: float, right: float, depth: float
) -> list[tuple[float, float, float]]:
    kept: list[tuple[float, float, float]] = []
    for lo, hi, before in edge:
        if lo < left - SAME:
            kept.append((lo, min(hi, left), before))
        if hi > right + SAME:
            kept.append((max(lo, right), hi, before))
    kept.append((left, right, depth))
    return sorted(kept)
