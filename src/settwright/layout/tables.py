"""How deep any two shapes overlap at any two of their places: one table for every pair, over its relative offsets."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from settwright.layout import kernels
from settwright.layout.grid import Way, fine_steps, way_of_fault, ways_of
from settwright.layout.model import Board, Shape
from settwright.layout.outline import MICRON, Outline

FINEST = 1.0  # mm; no finer step is of use before the free shapes are slid together
DEPTHS = 1000  # steps of depth of overlap told apart

Whole = NDArray[np.int64]


@dataclass(frozen=True)
class Grid:
    """Everything that the search needs: the ways of all shapes, those of the faults behind them, and the tables."""

    ways: tuple[Way, ...]
    of_piece: Whole  # (pieces, 2): first and end way
    fixed: int  # number of faults, each with one way and one place
    pairs: Whole  # (ways, ways, 9), see kernels
    table: NDArray[np.int16]


def grid_of(shapes: Sequence[Shape], board: Board, oy: float, cells: int) -> Grid:
    """Returns the grid with its tables filled, its step as fine as about `cells` table entries allow."""
    states = [state for shape in shapes for state in shape.states]
    is_mixed = (
        board.repeat_x is not None and any(s.u is None for s in states),
        board.repeat_y is not None and any(s.v is None for s in states),
    )
    fine = FINEST
    while True:
        steps = fine_steps(board, fine, is_mixed)
        ways = ways_of(shapes, board, oy, steps)
        fixed = tuple(way_of_fault(fault, len(shapes) + i) for i, fault in enumerate(board.faults))
        everything = ways + fixed
        pairs, jobs, bases, size = _jobs(everything, len(ways), steps)
        if size <= cells or fine > board.width / 20:
            break
        fine *= max(1.1, min(2.0, math.sqrt(size / cells)))
    corners, parts, owned = flat([way.outline for way in everything])
    deepest = max(min(way.outline.right - way.outline.left, way.outline.top - way.outline.bottom) for way in ways)
    table = np.zeros(max(size, 1), np.int16)
    kernels.fill_tables(jobs, bases, corners, parts, owned, float(max(1, deepest // DEPTHS)), table)
    starts = [next(i for i, way in enumerate(ways) if way.piece == piece) for piece in range(len(shapes))]
    of_piece = np.array(list(zip(starts, [*starts[1:], len(ways)], strict=True)), np.int64)
    return Grid(everything, of_piece, len(fixed), pairs, table)


def _jobs(
    ways: Sequence[Way], moving: int, steps: tuple[float, float]
) -> tuple[Whole, Whole, NDArray[np.float64], int]:
    """Returns the pairs' table of contents, the tables to fill, their first offsets and steps, and their size."""
    numbers: dict[Outline, int] = {}
    outline = [numbers.setdefault(way.outline, len(numbers)) for way in ways]
    boxes = [way.outline.grown_box for way in ways]
    pairs = np.zeros((len(ways), len(ways), 9), np.int64)
    known: dict[tuple[int, ...], int] = {}
    jobs: list[tuple[int, ...]] = []
    bases: list[tuple[float, ...]] = []
    size = 0
    for q, one in enumerate(ways):
        for r, two in enumerate(ways[:moving]):
            if one.piece == two.piece:
                continue
            row: list[int] = []
            base: list[float] = []
            for axis, (a, b, step) in enumerate(((one.x, two.x, steps[0]), (one.y, two.y, steps[1]))):
                unit = math.gcd(a.units, b.units)
                stride = unit * step * MICRON
                start = (b.first - a.first) * MICRON
                low = math.ceil((boxes[q][axis] - boxes[r][2 + axis] - start) / stride)
                high = math.floor((boxes[q][2 + axis] - boxes[r][axis] - start) / stride)
                low = max(low, -(a.count - 1) * a.units // unit)
                high = min(high, (b.count - 1) * b.units // unit)
                row += [low, max(0, high - low + 1), b.units // unit, a.units // unit]
                base += [start + low * stride, stride]
            (left, wide, step_x, other_x), (foot, deep, step_y, other_y) = row[:4], row[4:]
            key = (outline[q], outline[r], wide, deep, *(round(value) for value in base))
            if key not in known:
                known[key] = size
                jobs.append((outline[q], outline[r], size, wide, deep))
                bases.append((base[0], base[2], base[1], base[3]))
                size += wide * deep
            pairs[q, r] = known[key], wide, deep, left, foot, step_x, other_x, step_y, other_y
    return (
        pairs,
        np.array(jobs, np.int64).reshape(-1, 5),
        np.array(bases, np.float64).reshape(-1, 4),
        size,
    )


def flat(outlines: Sequence[Outline]) -> tuple[NDArray[np.float64], Whole, Whole]:
    """Returns all corners, the parts' first and end corners, the different outlines' first and end parts."""
    corners: list[tuple[float, float]] = []
    parts: list[tuple[int, int]] = []
    owned: list[tuple[int, int]] = []
    for outline in dict.fromkeys(outlines):
        first = len(parts)
        for part in outline.parts:
            parts.append((len(corners), len(corners) + len(part)))
            corners += [(float(x), float(y)) for x, y in part]
        owned.append((first, len(parts)))
    return np.array(corners, np.float64), np.array(parts, np.int64), np.array(owned, np.int64)
