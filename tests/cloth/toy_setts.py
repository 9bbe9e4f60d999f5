"""Setts simple enough to check with a pencil."""

from __future__ import annotations

from collections.abc import Sequence

from settwright.cloth import Bar, Cloth
from settwright.cloth import Sequence as Bars

COLOURS = (("navy", "#1c2445"), ("cream", "#e8e0cc"), ("rust", "#8c3b1f"), ("moss", "#55603a"))

EVEN = (("navy", 20.0), ("cream", 8.0), ("rust", 12.0), ("cream", 8.0), ("navy", 20.0), ("moss", 4.0))
UNEVEN = (("navy", 24.0), ("cream", 6.0), ("rust", 18.0), ("moss", 10.0), ("cream", 26.0), ("rust", 8.0))
PLAIN = (("navy", 10.0),)


def bars(*widths: tuple[str, float]) -> Bars:
    counts: dict[str, int] = {}
    found: list[Bar] = []
    for colour, width in widths:
        counts[colour] = counts.get(colour, 0) + 1
        found.append(Bar(f"{colour} {counts[colour]}", colour, width))
    return Bars(tuple(found))


def cloth(warp: Sequence[tuple[str, float]] = EVEN, weft: Sequence[tuple[str, float]] = UNEVEN) -> Cloth:
    return Cloth("shell", "the shell", COLOURS, bars(*warp), bars(*weft), 1500.0, 10.0, 0.8)
