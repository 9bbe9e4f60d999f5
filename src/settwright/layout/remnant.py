"""What is left of a cloth when its pieces are laid: the whole end, and the largest rectangles between the pieces.

Good for a collar, a bag, a trial buttonhole, a patch twenty years on: a tailor writes it down and keeps it.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from shapely import Polygon, clip_by_rect

from settwright.bars.model import Orientation
from settwright.cloth import Cloth
from settwright.geometry import Point
from settwright.layout.model import Layout
from settwright.makeup.model import CutPiece

CELL = 10.0  # mm; rectangles are told in whole cells
LEAST = 80.0  # mm; a side shorter than this is a scrap
MOST = 3  # rectangles told
TOUCH = 1e-6  # what only touches a row doesn't take it


@dataclass(frozen=True)
class Remnant:
    """A rectangle of cloth left over, in the cloth frame."""

    left: float
    bottom: float
    width: float
    length: float
    is_end: bool = False  # the whole width beyond the pieces


def remnants_of(layout: Layout, pieces: Iterable[CutPiece], cloth: Cloth, whole: float) -> tuple[Remnant, ...]:
    """Returns what a layout leaves of `whole` mm of its cloth; rectangles between pieces keep clear of faults."""
    cut = {piece.name: piece for piece in pieces}
    laid: list[list[Point]] = []
    for at in layout.placements:
        lies, turn = Orientation(at.t, at.f), cut[at.name].grain_turn
        laid.append([Point(at.x, at.y) + lies.place(p, turn) for p in cut[at.name].cutting_line])
    return remnants(
        laid,
        left=cloth.selvedge,
        right=cloth.width - cloth.selvedge,
        length=layout.length,
        whole=whole,
        spoilt=[[Point(x, y) for x, y in fault.outline] for fault in cloth.faults],
    )


def remnants(
    laid: Iterable[Sequence[Point]],
    *,
    left: float,
    right: float,
    length: float,
    whole: float,
    spoilt: Iterable[Sequence[Point]] = (),
) -> tuple[Remnant, ...]:
    """Returns what is left of a cloth usable from `left` to `right`: its end beyond `length` up to `whole`, and the
    largest rectangles between the outlines `laid` below that, largest first; none holds a `spoilt` place.
    """
    found: list[Remnant] = []
    if whole - length >= LEAST:
        found.append(Remnant(left, length, right - left, whole - length, is_end=True))
    columns, rows = math.floor((right - left) / CELL), math.floor(length / CELL)
    free = [[True] * columns for _ in range(rows)]
    for row, first, last in _covered([*laid, *spoilt], left, right, rows):
        free[row][max(first, 0) : min(last, columns)] = [False] * (min(last, columns) - max(first, 0))
    while len(found) < MOST + 1 and (spot := _largest(free)):
        column, row, wide, high = spot
        found.append(Remnant(left + column * CELL, row * CELL, wide * CELL, high * CELL))
        for cells in free[row : row + high]:
            cells[column : column + wide] = [False] * wide
    return tuple(found)


def _covered(
    outlines: Sequence[Sequence[Point]], left: float, right: float, rows: int
) -> Iterator[tuple[int, int, int]]:
    """Yields which columns the outlines touch in each row of cells: (row, first column, the one after the last)."""
    for outline in outlines:
        shape = Polygon([(p.x, p.y) for p in outline])
        _, bottom, _, top = shape.bounds
        for row in range(max(math.floor(bottom / CELL), 0), min(math.ceil(top / CELL), rows)):
            band = clip_by_rect(shape, left, row * CELL + TOUCH, right, (row + 1) * CELL - TOUCH)
            for part in getattr(band, "geoms", (band,)):
                if not part.is_empty:
                    low, _, high, _ = part.bounds
                    yield row, math.floor((low - left) / CELL + 1e-9), math.ceil((high - left) / CELL - 1e-9)


def _largest(free: Sequence[Sequence[bool]]) -> tuple[int, int, int, int] | None:
    """Returns (column, row, columns, rows) of the largest free rectangle that is no scrap, the first of equals."""
    least = math.ceil(LEAST / CELL)
    best, area = None, 0
    heights = [0] * (len(free[0]) if free else 0)
    for row, cells in enumerate(free):
        heights = [height + 1 if cell else 0 for height, cell in zip(heights, cells, strict=True)]
        stack: list[tuple[int, int]] = []  # (first column, height), heights rising
        for column, height in enumerate(itertools.chain(heights, (0,))):
            first = column
            while stack and stack[-1][1] >= height:
                first, high = stack.pop()
                wide = column - first
                if wide >= least and high >= least and wide * high > area:
                    best, area = (first, row - high + 1, wide, high), wide * high
            stack.append((first, height))
    return best
