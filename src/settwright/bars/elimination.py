"""Exact minimum of a sum of small cost tables: bucket elimination along a min-fill order.

Each unknown has a few states; each table tells the cost of one or two unknowns' states. Garments hang together
loosely (a piece has few neighbours), so eliminating one unknown after the other stays cheap and proves the minimum.
Costs are integers; ties go to the lowest state.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Any, cast

import numpy as np

Array = np.ndarray[Any, np.dtype[np.int64]]


@dataclass(frozen=True)
class Table:
    """Cost of the joint states of some unknowns: one axis of `costs` (int64) for each, ascending."""

    unknowns: tuple[int, ...]
    costs: np.ndarray


@dataclass(frozen=True)
class Order:
    """An order of elimination; `width` is the largest number of neighbours met, the cost being states^(width+1)."""

    unknowns: tuple[int, ...]
    width: int


@lru_cache(maxsize=256)
def min_fill_order(count: int, pairs: tuple[tuple[int, int], ...], last: int | None = None) -> Order:
    """Returns the order that adds the fewest new neighbourhoods at each step (ties: fewest neighbours, then index).

    `last`: an unknown that is left to the end.
    """
    near: dict[int, set[int]] = {i: set() for i in range(count)}
    for i, j in pairs:
        if i != j:
            near[i].add(j)
            near[j].add(i)
    order: list[int] = []
    width = 0
    while near:
        pick = min(near, key=lambda i: (i == last, _fill(near, i), len(near[i]), i))
        others = sorted(near.pop(pick))
        width = max(width, len(others))
        for i in others:
            near[i].discard(pick)
            near[i].update(j for j in others if j != i)
        order.append(pick)
    return Order(tuple(order), width)


def _fill(near: dict[int, set[int]], i: int) -> int:
    others = sorted(near[i])
    return sum(1 for k, a in enumerate(others) for b in others[k + 1 :] if b not in near[a])


@dataclass(frozen=True)
class Eliminated:
    """All unknowns but the last one of an order eliminated: what each choice of the last one costs at best."""

    count: int
    last: int
    costs: Array  # by state of the last unknown, all others at their best
    choices: tuple[tuple[int, tuple[int, ...], int], ...]  # unknown, those that it depends on, where its choices begin
    sizes: tuple[int, ...]
    chosen: Array

    def states(self, state: int) -> tuple[int, ...]:
        """Returns the best states of all unknowns where the last one has this state."""
        states = [0] * self.count
        states[self.last] = state
        for unknown, rest, begins in reversed(self.choices):
            cell = 0
            for other in rest:
                cell = cell * self.sizes[other] + states[other]
            states[unknown] = int(self.chosen[begins + cell])
        return tuple(states)


class Elimination:
    """A way of eliminating, worked out once for tables over known unknowns and then run on any costs.

    The tables stand one after the other in a row of costs, the table of `scopes[i]` (ascending unknowns) from
    `slots[i]` on in row-major order; `room` is the row's length with what the elimination itself needs.
    """

    def __init__(self, sizes: Sequence[int], scopes: Sequence[tuple[int, ...]], order: Order):
        self.sizes, self.last = tuple(sizes), order.unknowns[-1]
        self._cells = [math.prod(self.sizes[u] for u in scope) for scope in scopes]
        self.slots = tuple(itertools.accumulate(self._cells, initial=0))[:-1]
        room, chosen = sum(self._cells), 0
        left = list(zip(scopes, self.slots, strict=True))
        widest = order.width + 1
        steps: list[tuple[int, ...]] = []
        shapes: list[int] = []
        bases: list[int] = []
        strides: list[list[int]] = []
        choices: list[tuple[int, tuple[int, ...], int]] = []
        self._settled: list[int] = []  # where the least cost of a part that hangs on nothing more stands
        for unknown in order.unknowns[:-1]:
            mine = [table for table in left if unknown in table[0]]
            left = [table for table in left if unknown not in table[0]]
            rest = tuple(sorted({u for scope, _ in mine for u in scope if u != unknown}))
            steps.append((len(rest), len(shapes), len(bases), len(mine), room, chosen))
            shapes += [self.sizes[u] for u in (*rest, unknown)]
            for scope, begins in mine:
                apart = self._apart(scope)
                bases.append(begins)
                row = [apart.get(u, 0) for u in (*rest, unknown)]
                strides.append(row + [0] * (widest - len(row)))
            choices.append((unknown, rest, chosen))
            if rest:
                left.append((rest, room))
            else:
                self._settled.append(room)
            cells = math.prod(self.sizes[u] for u in rest)
            room, chosen = room + cells, chosen + cells
        self._remaining = [begins for scope, begins in left if scope]
        self.room, self._chosen, self._choices = room, chosen, tuple(choices)
        self._steps = np.array(steps, dtype=np.int64).reshape(-1, 6)
        self._shapes, self._bases = np.array(shapes, dtype=np.int64), np.array(bases, dtype=np.int64)
        self._strides = np.array(strides, dtype=np.int64).reshape(-1, widest)

    def _apart(self, scope: tuple[int, ...]) -> dict[int, int]:
        """Returns how far apart the states of each unknown of a table lie."""
        apart: dict[int, int] = {}
        run = 1
        for unknown in reversed(scope):
            apart[unknown] = run
            run *= self.sizes[unknown]
        return apart

    def row_of(self, costs: Iterable[Array]) -> Array:
        """Returns a row of costs from the tables in the order of their scopes."""
        row = np.zeros(self.room, dtype=np.int64)
        for begins, cells, table in zip(self.slots, self._cells, costs, strict=True):
            row[begins : begins + cells] = table.ravel()
        return row

    def run(self, row: Array) -> Eliminated:
        """Returns what each state of the last unknown costs, the others at their best; the row is used up."""
        # loading compiled code takes its time
        from settwright.bars.kernels import eliminated  # noqa: PLC0415  # pyright: ignore[reportUnknownVariableType]

        compiled = cast("Callable[..., Array]", eliminated)
        chosen = compiled(row, self._steps, self._shapes, self._bases, self._strides, self._chosen)
        costs = np.full(self.sizes[self.last], sum(int(row[at]) for at in self._settled), dtype=np.int64)
        for begins in self._remaining:
            costs += row[begins : begins + len(costs)]
        return Eliminated(len(self.sizes), self.last, costs, self._choices, self.sizes, chosen)


@lru_cache(maxsize=256)
def elimination_of(sizes: tuple[int, ...], scopes: tuple[tuple[int, ...], ...], order: Order) -> Elimination:
    """Returns the way of eliminating tables of these scopes; pins that follow one another mostly ask for the same."""
    return Elimination(sizes, scopes, order)


def eliminate(sizes: Sequence[int], tables: Sequence[Table], order: Order) -> Eliminated:
    """Returns what each state of the order's last unknown costs, the others at their best.

    `sizes` holds the number of states of each unknown. Memory grows with the product of the sizes of a neighbourhood.
    """
    way = elimination_of(tuple(sizes), tuple(table.unknowns for table in tables), order)
    return way.run(way.row_of(table.costs for table in tables))


def minimise(sizes: Sequence[int], tables: Sequence[Table], order: Order) -> tuple[tuple[int, ...], int]:
    """Returns the states with the least total cost, and that cost; ties go to the lowest state."""
    if not order.unknowns:
        return (), 0
    return least(eliminate(sizes, tables, order))


def least(found: Eliminated) -> tuple[tuple[int, ...], int]:
    """Returns the states with the least total cost, and that cost."""
    best = int(found.costs.argmin())
    return found.states(best), int(found.costs[best])
