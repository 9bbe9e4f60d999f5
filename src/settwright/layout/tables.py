"""How deep any two shapes overlap at any two of their places: one table for every pair, over its relative offsets."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from settwright.layout import kernels
from settwright.layout.grid import CLEAR_OF_FAULTS, Axis, Way, fine_steps, fixed_way, lying_of, ways_of
from settwright.layout.model import Board, Laid, Shape
from settwright.layout.outline import MICRON, Outline

FINEST = 0.5  # mm; no finer step is of use before the free shapes are slid together
COARSE = 16.0  # mm of a step of the coarse tables, about
DEPTHS = 1000  # steps of depth of overlap told apart

Whole = NDArray[np.int64]


@dataclass(frozen=True)
class Grid:
    """Everything that the search needs: the ways of all shapes, those of the faults behind them, and the tables."""

    ways: tuple[Way, ...]
    of_piece: Whole  # (pieces, 2): first and end way
    fixed: int  # number of faults and of shapes that stay, each with one way and one place
    kind: Whole  # (ways,): ways of one kind have the same outline and the same places
    pairs: Whole  # (kinds, kinds, 10), see kernels
    every: Whole  # steps across and along to one of the coarse tables
    table: NDArray[np.int16]  # the fine tables and after them the coarse ones


def grid_of(shapes: Sequence[Shape], board: Board, oy: float, cells: int, stays: Sequence[Laid] = ()) -> Grid:
    """Returns the grid with its tables filled, its step as fine as about `cells` table entries allow."""
    states = [state for shape in shapes for state in shape.states]
    is_mixed = (
        board.repeat_x is not None and any(s.u is None for s in states),
        board.repeat_y is not None and any(s.v is None for s in states),
    )
    spots = [(laid.corners, board.gap) for laid in stays]
    spots += [(spot, CLEAR_OF_FAULTS) for spot in (*board.faults, *board.blemishes)]
    fixed = tuple(fixed_way(corners, clear, len(shapes) + i) for i, (corners, clear) in enumerate(spots))
    blemished = range(len(shapes) + len(fixed) - len(board.blemishes), len(shapes) + len(fixed))
    spared = frozenset((fault, i) for i, shape in enumerate(shapes) if not shape.is_visible for fault in blemished)
    lying = lying_of(shapes, board.gap)
    fine = FINEST
    while True:
        steps = fine_steps(board, fine, is_mixed)
        ways = ways_of(lying, board, oy, steps)
        everything = ways + fixed
        kind, pairs, jobs, bases, size = _jobs(everything, len(ways), steps, spared)
        if size <= cells or fine > board.width / 20:
            break
        fine *= max(1.1, min(2.0, math.sqrt(size / cells)))
    every = np.array([max(1, round(COARSE / step)) for step in steps], np.int64)
    size = _coarse(pairs, jobs, every, size)
    corners, parts, owned = flat([way.outline for way in everything])
    deepest = max(min(way.outline.right - way.outline.left, way.outline.top - way.outline.bottom) for way in ways)
    table = np.zeros(max(size, 1), np.int16)
    kernels.fill_tables(jobs, bases, corners, parts, owned, float(max(1, deepest // DEPTHS)), every, table)
    starts = [next(i for i, way in enumerate(ways) if way.piece == piece) for piece in range(len(shapes))]
    of_piece = np.array(list(zip(starts, [*starts[1:], len(ways)], strict=True)), np.int64)
    return Grid(everything, of_piece, len(fixed), kind, pairs, every, table)


def _jobs(
    ways: Sequence[Way], moving: int, steps: tuple[float, float], spared: frozenset[tuple[int, int]]
) -> tuple[Whole, Whole, Whole, NDArray[np.float64], int]:
    """Returns the pairs' table of contents, the tables to fill, their first offsets and steps, and their size."""
    numbers: dict[Outline, int] = {}
    outline = [numbers.setdefault(way.outline, len(numbers)) for way in ways]
    named: dict[tuple[int, Axis, Axis, bool], int] = {}
    hidden = {piece for _, piece in spared}
    kind = [named.setdefault((outline[q], way.x, way.y, way.piece in hidden), len(named)) for q, way in enumerate(ways)]
    members = [[q for q, k in enumerate(kind) if k == number] for number in range(len(named))]
    pieces = [{ways[q].piece for q in own} for own in members]
    boxes = [way.outline.grown_box for way in ways]
    pairs = np.zeros((len(named), len(named), 10), np.int64)
    known: dict[tuple[int, ...], int] = {}
    jobs: list[tuple[int, ...]] = []
    bases: list[tuple[float, ...]] = []
    size = 0
    for k, fixed in enumerate(members):
        for m, moved in enumerate(members):
            q, r = fixed[0], moved[0]
            one, two = ways[q], ways[r]
            if r >= moving or pieces[k] == pieces[m] == {one.piece} or (one.piece, two.piece) in spared:
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
                jobs.append((outline[q], outline[r], size, wide, deep, -1))
                bases.append((base[0], base[2], base[1], base[3]))
                size += wide * deep
            pairs[k, m] = known[key], wide, deep, left, foot, step_x, other_x, step_y, other_y, -1
    return (
        np.array(kind, np.int64),
        pairs,
        np.array(jobs, np.int64).reshape(-1, 6),
        np.array(bases, np.float64).reshape(-1, 4),
        size,
    )


def _coarse(pairs: Whole, jobs: Whole, every: Whole, size: int) -> int:
    """Gives every large table a coarse one behind all others; returns the size of all together."""
    if every.max() == 1:
        return size
    starts: dict[int, int] = {}
    for job in jobs:
        wide, deep = (int(job[3 + axis] - 1) // int(every[axis]) + 1 for axis in (0, 1))
        if wide > 1 and deep > 1:
            starts[int(job[2])] = job[5] = size
            size += wide * deep
    for row in pairs.reshape(-1, pairs.shape[2]):
        row[9] = starts.get(int(row[0]), -1)
    return size


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
