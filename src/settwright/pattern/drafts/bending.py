"""Curves told by how they bend: headings along the tape, as a flexible rule laid on edge.

A cap, a scye and a hip curve are asked for by length and by the directions of their ends. Drawn through points they
take dents from the points; drawn by a heading that changes evenly they can't.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence

from settwright.geometry import Path, Point, Segment, direction


def bent_path(start: Point, headings: Sequence[float], steps: Sequence[float]) -> Path:
    """Returns the curve that turns evenly from each heading to the next while it goes the step between them.

    `headings` are angles from the +x axis, one more than `steps`; each step becomes one arc (turning under a
    quarter), whose length the curve keeps to about a millionth.
    """
    segments: list[Segment] = []
    here = start
    for step, before, after in zip(steps, headings[:-1], headings[1:], strict=True):
        half = (after - before) / 2
        chord = step * sinc(half)
        there = here + direction((before + after) / 2) * chord
        pull = step / 3 * (math.tan(half / 2) / (half / 2) if abs(half) > 1e-9 else 1.0)
        segments.append(Segment(here, here + direction(before) * pull, there - direction(after) * pull, there))
        here = there
    return Path(tuple(segments))


def bend_by(start: Point, heading: Callable[[float], float], length: float, count: int) -> Path:
    """Returns the curve of a length whose heading at part u of it, 0 to 1, is `heading(u)`, in `count` arcs."""
    return bent_path(start, [heading(i / count) for i in range(count + 1)], [length / count] * count)


def reach(heading: Callable[[float], float], count: int) -> Point:
    """Returns how far `bend_by` gets with this heading and count and a length of 1: the displacement of its end."""
    return reach_of([heading(i / count) for i in range(count + 1)])


def reach_of(headings: Sequence[float]) -> Point:
    """Returns how far `bent_path` gets with these headings and even steps, 1 in all."""
    x = y = 0.0
    before = headings[0]
    for after in headings[1:]:
        chord, middle = sinc((after - before) / 2), (before + after) / 2
        x += chord * math.cos(middle)
        y += chord * math.sin(middle)
        before = after
    return Point(x, y) / (len(headings) - 1)


def sinc(half: float) -> float:
    """Returns the chord of an arc that turns by twice this angle, as a part of its length."""
    return math.sin(half) / half if abs(half) > 1e-9 else 1.0


def swing(u: float) -> float:
    """Returns 0 before u = 0, 1 after u = 1 and an even change between, without a jump of curvature."""
    u = min(max(u, 0.0), 1.0)
    return u * u * (3 - 2 * u)


def root(miss: Callable[[float], float], low: float, high: float, tolerance: float = 1e-9) -> float:
    """Returns where `miss` is zero between two values of opposite sign (false position, Illinois rule).

    Raises ValueError when the signs agree.
    """
    at_low, at_high = miss(low), miss(high)
    if at_low * at_high > 0:
        raise ValueError(f"no change of sign between {low:.4g} and {high:.4g}")
    middle, at_middle = (low, at_low) if abs(at_low) < abs(at_high) else (high, at_high)
    for _ in range(100):
        if at_middle == 0.0 or abs(high - low) < tolerance:
            break
        before = middle
        middle = high - at_high * (high - low) / (at_high - at_low)
        at_middle = miss(middle)
        if at_middle * at_high < 0:
            low, at_low = high, at_high
        else:
            at_low /= 2
        high, at_high = middle, at_middle
        if abs(middle - before) < tolerance / 4 and abs(at_middle) < tolerance:
            break
    return middle


__all__ = ["bend_by", "bent_path", "reach", "reach_of", "root", "sinc", "swing"]
