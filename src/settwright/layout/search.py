"""The search for the shortest cloth: a first fill, then the cloth made shorter step by step.

At each step the shapes are pushed inside the shorter cloth and separated (kernels.separate). What can't be separated
is kept as it overlaps least, shaken and tried again, on several islands that take turns: each has its own start of
the repeat where that is free. Work is counted, not timed, so a result never depends on the clock.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from typing import cast

import numpy as np

from settwright.layout import kernels
from settwright.layout.grid import Way
from settwright.layout.outline import MICRON, Outline, Ring
from settwright.layout.tables import Grid, Whole, flat

COARSE = 25  # a first look at a free axis takes about this many steps across the cloth
STARTS = 24  # starts of the repeat tried in the first fill
ISLANDS = 8
PATIENCE = 20  # rounds without a fiftieth less overlap before a separation is given up
RESTLESS = 12  # one shape in so many moves although it overlaps nothing
FIRST_SHORTENING = 0.01  # part of the length
LEAST_SHORTENING = 0.0005
TRIES = 5  # separations on each island before a smaller shortening is tried
SETTLINGS = 4  # times that shapes slide down and aside
LEAST_WORK = 1000  # counted for a separation however small


@dataclass(frozen=True)
class Found:
    """A layout on the grid: rows of (way, column, row), and the window of cloth that it takes, in mm."""

    place: Whole
    bottom: float
    top: float
    start: float = 0.0  # where the window began in which it was found

    @property
    def rows(self) -> list[tuple[int, int, int]]:
        """The places as plain numbers."""
        return rows_of(self.place)

    @property
    def length(self) -> float:
        """Cloth taken, in mm."""
        return self.top - self.bottom


@dataclass(eq=False)
class Island:
    """One line of the search: the start of its window and the least overlapping state at the present target."""

    bottom: float
    place: Whole
    left: int = 0  # overlap in that state
    tries: int = 0  # separations at the present target


def rows_of(place: Whole) -> list[tuple[int, int, int]]:
    """Returns (way, column, row) of every piece as plain numbers."""
    return cast("list[tuple[int, int, int]]", place.tolist())


class Search:
    """One search on one grid: the arrays that the kernels share, and the luck."""

    def __init__(self, grid: Grid, board_width: float, start_is_free: bool, seed: int, least_top: float = 0.0):
        self.grid = grid
        self.least_top = least_top  # of the shapes that stay, mm
        self.moving = len(grid.of_piece)
        self.start_is_free = start_is_free
        self.chance = np.array([1 + (seed * 7919) % 2147483646], np.int64)
        areas = [_area(grid, piece) for piece in range(self.moving)]
        self.area = sum(areas) / MICRON**2
        self.by_size = sorted(range(self.moving), key=lambda p: (-areas[p], p))
        total = self.moving + grid.fixed
        self.weights = np.full((total, total), kernels.PLAIN_WEIGHT, np.int32)
        self.variants = np.zeros((len(grid.ways), 6), np.int64)
        for q, way in enumerate(grid.ways):
            strides = [
                int(every) * max(1, round(board_width / COARSE / axis.step / every)) if axis.is_free else 1
                for axis, every in zip((way.x, way.y), grid.every, strict=True)
            ]
            self.variants[q] = grid.kind[q], way.x.count, 0, 0, *strides
        self.board = np.zeros(1, np.int32)
        self.repeat = max((way.y.step for way in self.moving_ways if not way.y.is_free), default=0.0)
        bottoms = {round((way.y.first + way.bottom) % self.repeat, 6) for way in self.moving_ways if not way.y.is_free}
        self.starts = sorted(bottoms) if start_is_free else [0.0]

    @property
    def moving_ways(self) -> tuple[Way, ...]:
        """The ways of everything but the faults."""
        return self.grid.ways[: len(self.grid.ways) - self.grid.fixed]

    def window(self, bottom: float, top: float) -> bool:
        """Allows only rows inside the window; returns whether every shape has one."""
        has_row = [False] * self.moving
        largest = 1
        for q, way in enumerate(self.moving_ways):
            low = max(0, way.y.low(bottom - way.bottom))
            high = max(low, way.y.high(top - way.top) + 1)
            self.variants[q, kernels.LOW], self.variants[q, kernels.HIGH] = low, high
            if way.x.count > 0 and high > low:
                has_row[way.piece] = True
                largest = max(largest, (high - low) * way.x.count)
        if largest > len(self.board):
            self.board = np.zeros(largest, np.int32)
        return all(has_row)

    def measured(self, place: Whole) -> Found:
        """Returns the places with the window that they really take."""
        ways = [self.grid.ways[way] for way, _, _ in rows_of(place)[: self.moving]]
        levels = [way.y.at(row) for way, (_, _, row) in zip(ways, rows_of(place), strict=False)]
        return Found(place.copy(), *self._window_of(ways, levels))

    def _window_of(self, ways: Sequence[Way], levels: Sequence[float]) -> tuple[float, float]:
        """Returns where the cloth begins and ends that shapes take, their grain marks at these levels, in mm."""
        bottom = min(y + way.bottom for way, y in zip(ways, levels, strict=True)) if self.start_is_free else 0.0
        top = max(y + way.top for way, y in zip(ways, levels, strict=True))
        return bottom, max(top, self.least_top)

    def fills(self) -> list[Found]:
        """Returns first fills, biggest shapes first, one for each of several starts of the repeat; shortest first."""
        ways = self.moving_ways
        tops = np.array([((w.y.first + w.top) * MICRON, w.y.step * MICRON) for w in ways])
        lefts = np.array([(w.x.first * MICRON + w.outline.left, w.x.step * MICRON) for w in ways])
        starts = self.starts[:: max(1, len(self.starts) // STARTS)]
        reach = max(w.x.step * w.x.count + (w.outline.right - w.outline.left) / MICRON for w in ways)
        height = 2 * max(w.top - w.bottom + w.y.step for w in ways) + 2 * self.area / reach
        height += max((fault.top for fault in self.grid.ways[len(ways) :]), default=0.0)
        order = np.array(self.by_size, np.int64)
        fills: list[Found] = []
        while not fills:
            for start in starts:
                self.window(start, start + height)
                place = self._empty()
                if kernels.first_fill(
                    order, place, self.variants, tops, lefts, self.grid.of_piece, self.weights,
                    self.grid.pairs, self.grid.table, self.grid.every, self.board,
                ):  # fmt: skip
                    fills.append(replace(self.measured(place), start=start))
            height *= 2
        return sorted(fills, key=lambda found: round(found.length * MICRON))

    def _empty(self) -> Whole:
        """Returns places where only what is fixed lies."""
        place = np.zeros((self.moving + self.grid.fixed, 3), np.int64)
        place[self.moving :, 0] = np.arange(len(self.grid.ways) - self.grid.fixed, len(self.grid.ways))
        return place

    def pushed_inside(self, place: Whole) -> Whole:
        """Returns the places with every shape moved to the nearest row of the window."""
        pushed = place.copy()
        for p, (way, column, row) in enumerate(rows_of(place)[: self.moving]):
            low, high = self._rows(way)
            if high <= low:
                first, end = (int(q) for q in self.grid.of_piece[p])
                way = next(q for q in range(first, end) if self._rows(q)[1] > self._rows(q)[0])
                low, high = self._rows(way)
                column = min(column, self.grid.ways[way].x.count - 1)
            pushed[p] = way, column, min(max(row, low), high - 1)
        return pushed

    def _rows(self, way: int) -> tuple[int, int]:
        """Returns the first row and the one after the last that the window leaves to a way."""
        if self.grid.ways[way].x.count <= 0:
            return 0, 0
        return int(self.variants[way, kernels.LOW]), int(self.variants[way, kernels.HIGH])

    def shaken(self, place: Whole) -> Whole:
        """Returns the places with two of the larger shapes exchanged."""
        large = self.by_size[: max(2, self.moving // 2)]
        if len(large) < 2:
            return place
        first, second = kernels.draw(self.chance, len(large)), kernels.draw(self.chance, len(large) - 1)
        a, b = large[first], large[second + (second >= first)]
        shaken = place.copy()
        rows = rows_of(place)
        for p, other in ((a, b), (b, a)):
            way, there = self.grid.ways[rows[p][0]], self.grid.ways[rows[other][0]]
            x, y = there.x.at(rows[other][1]) + there.middle[0], there.y.at(rows[other][2]) + there.middle[1]
            column = round((x - way.middle[0] - way.x.first) / way.x.step)
            shaken[p, 1] = min(max(column, 0), way.x.count - 1)
            shaken[p, 2] = round((y - way.middle[1] - way.y.first) / way.y.step)
        return self.pushed_inside(shaken)

    def separated(self, place: Whole, budget: int) -> tuple[Whole, int, int]:
        """Returns the least overlapping state found from here, the overlap left in it, and the work done."""
        self.weights[:] = kernels.PLAIN_WEIGHT
        best = place.copy()
        left, work = kernels.separate(
            place.copy(), best, self.variants, self.grid.of_piece, self.weights, self.grid.pairs,
            self.grid.table, self.grid.every, self.board, self.chance, PATIENCE, RESTLESS, budget,
        )  # fmt: skip
        return best, int(left), int(work) + LEAST_WORK

    def run(self, effort: int, bound: float, told: Callable[[float, float], bool | None]) -> Found:
        """Returns the shortest layout found within `effort` units of work; `bound`: no layout can be shorter, mm."""
        fills = self.fills()
        best = fills[0]
        islands = [Island(fill.start, fill.place) for fill in (fills * ISLANDS)[:ISLANDS]]
        part, work, tries = FIRST_SHORTENING, 0, 0
        while islands and work < effort and best.length > bound + 1 / MICRON:
            if told(work / effort, best.length):
                break
            island = self._drawn(islands)
            target = best.length - max(part * best.length, 1 / MICRON)
            tries += 1
            if self.window(island.bottom, island.bottom + target):
                place = self.pushed_inside(island.place)
                state, left, spent = self.separated(self.shaken(place) if island.tries else place, effort - work)
                work += spent
                if left == 0:
                    best = self.measured(state)
                    island.bottom, island.place, tries = best.bottom, state, 0
                    _begin_anew(islands)
                else:
                    if left <= island.left or not island.tries:
                        island.place, island.left = state, left
                    island.tries += 1
            elif part <= LEAST_SHORTENING:
                islands.remove(island)
            else:
                tries = TRIES * ISLANDS
            if tries >= TRIES * ISLANDS:
                tries = 0
                if part > LEAST_SHORTENING:
                    part = max(part / 2, LEAST_SHORTENING)
                    _begin_anew(islands)
                else:
                    self._move_worst(islands, best)
        return best

    def _drawn(self, islands: list[Island]) -> Island:
        """Returns the less overlapping one of two islands drawn."""
        a, b = (islands[kernels.draw(self.chance, len(islands))] for _ in range(2))
        return a if a.left <= b.left else b

    def _move_worst(self, islands: list[Island], best: Found) -> None:
        """Lets the most overlapping island begin again from the best layout, at another start of the repeat."""
        if not self.start_is_free or not islands:
            return
        worst = max(islands, key=lambda island: island.left)
        start = self.starts[kernels.draw(self.chance, len(self.starts))]
        turns = round((best.bottom - start) / self.repeat)
        worst.bottom, worst.place = start + max(turns, 0) * self.repeat, best.place
        worst.left, worst.tries = 0, 0

    def settled(self, found: Found) -> tuple[list[tuple[float, float]], float, float]:
        """Returns each shape's place, and where the cloth taken begins and ends, all in mm.

        Shapes that are free along the cloth slide down it, those free across it to the left, by turns, as far as they
        go. Their places become whole µm, so that the cloth taken is measured anew.
        """
        ways = [self.grid.ways[way] for way, _, _ in found.rows]
        spots = [(way.x.at(i), way.y.at(j)) for way, (_, i, j) in zip(ways, found.rows, strict=True)]
        lowest = [math.ceil(found.bottom * MICRON) - way.outline.bottom for way in ways]
        leftmost = [math.ceil((way.x.first if way.x.is_free else 0.0) * MICRON) for way in ways]
        falls = [way.y.is_free and way.piece < self.moving for way in ways]
        drifts = [way.x.is_free and way.piece < self.moving for way in ways]
        outlines = [way.outline for way in ways]
        for _ in range(SETTLINGS if any(drifts) else 1):
            before = spots
            spots = _slid(outlines, spots, lowest, falls)
            aside = [(y, x) for x, y in spots]
            spots = [(x, y) for y, x in _slid([outline.swapped for outline in outlines], aside, leftmost, drifts)]
            if spots == before:
                break
        if any(drifts):
            spots = _slid(outlines, spots, lowest, falls)
        spots = spots[: self.moving]
        return spots, *self._window_of(ways[: self.moving], [y for _, y in spots])


def _begin_anew(islands: list[Island]) -> None:
    """Makes every island start from its state at a new target."""
    for island in islands:
        island.left, island.tries = 0, 0


def _slid(
    outlines: list[Outline], spots: list[tuple[float, float]], lowest: list[int], free: list[bool]
) -> list[tuple[float, float]]:
    """Returns the places, mm, with the free shapes slid down as far as they go, none below its `lowest`, µm."""
    if not any(free):
        return spots
    corners, parts, owned = flat(outlines)
    numbers = {outline: i for i, outline in enumerate(dict.fromkeys(outlines))}
    whole = np.array([(round(x * MICRON), round(y * MICRON)) for x, y in spots], np.float64)
    order = np.array(
        sorted(range(len(spots)), key=lambda p: (round(spots[p][1] * MICRON) + outlines[p].bottom, p)), np.int64
    )
    numbered = np.array([numbers[outline] for outline in outlines], np.int64)
    kernels.settle(
        order, np.array(free, np.int64), numbered, whole, np.array(lowest, np.float64), corners, parts, owned
    )
    return [(x, float(whole[p, 1]) / MICRON) if free[p] else (x, y) for p, (x, y) in enumerate(spots)]


def _area(grid: Grid, piece: int) -> int:
    """Returns the area of a shape's parts, µm²; they don't overlap."""

    def of(ring: Ring) -> int:
        return abs(sum(a[0] * b[1] - b[0] * a[1] for a, b in zip(ring, (*ring[1:], ring[0]), strict=True))) // 2

    return sum(of(part) for part in grid.ways[int(grid.of_piece[piece, 0])].outline.parts)
