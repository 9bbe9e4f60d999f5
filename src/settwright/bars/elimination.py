"""Exact minimum of a sum of small cost tables: bucket elimination along a min-fill order.

Each unknown has a few states; each table tells the cost of one or two unknowns' states. Garments hang together
loosely (a piece has few neighbours), so eliminating one unknown after the other stays cheap and proves the minimum.
Costs are integers; ties go to the lowest state.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Any, cast

import numpy as np

Array = np.ndarray[Any, np.dtype[np.int64]]


@dataclass(frozen=True)
class Order:
    """An order of elimination, and for each unknown its neighbourhood: itself and those that its tables then name."""

    unknowns: tuple[int, ...]
    neighbourhoods: tuple[tuple[int, ...], ...]

    @property
    def width(self) -> int:
        """The largest number of neighbours met."""
        return max((len(met) - 1 for met in self.neighbourhoods), default=0)

    def cells(self, sizes: Sequence[int]) -> int:
        """Returns how many joint states are looked at where the unknowns have so many states."""
        return sum(math.prod(sizes[unknown] for unknown in met) for met in self.neighbourhoods)


@lru_cache(maxsize=256)
def min_fill_order(sizes: tuple[int, ...], pairs: tuple[tuple[int, int], ...]) -> Order:
    """Returns the order that adds the least new neighbourhoods at each step (ties: fewest joint states, then index).

    `sizes` holds the number of states of each unknown: one that has a single state joins nothing.
    """
    near: dict[int, set[int]] = {i: set() for i in range(len(sizes))}
    for i, j in pairs:
        if i != j:
            near[i].add(j)
            near[j].add(i)
    order: list[int] = []
    met: list[tuple[int, ...]] = []
    while near:
        pick = min(near, key=lambda i: (_fill(near, sizes, i), math.prod(sizes[j] for j in near[i]), i))
        others = sorted(near.pop(pick))
        for i in others:
            near[i].discard(pick)
            near[i].update(j for j in others if j != i)
        order.append(pick)
        met.append((pick, *others))
    return Order(tuple(order), tuple(met))


def _fill(near: dict[int, set[int]], sizes: Sequence[int], i: int) -> int:
    others = sorted(near[i])
    return sum(
        (sizes[a] - 1) * (sizes[b] - 1) for k, a in enumerate(others) for b in others[k + 1 :] if b not in near[a]
    )


class Elimination:
    """A way of eliminating, worked out once for tables over known unknowns and then run on any costs.

    The tables stand one after the other in a row of costs, the table of `scopes[i]` from `slots[i]` on in row-major
    order; `room` is the row's length with what the elimination itself needs. It goes fastest where a scope names last
    what is eliminated first.
    """

    def __init__(self, sizes: Sequence[int], scopes: Sequence[tuple[int, ...]], order: Order):
        self.sizes = tuple(sizes)
        cells = [math.prod(self.sizes[u] for u in scope) for scope in scopes]
        self.slots = tuple(itertools.accumulate(cells, initial=0))[:-1]
        room, chosen = sum(cells), 0
        left = list(zip(scopes, self.slots, strict=True))
        turn = {unknown: place for place, unknown in enumerate(order.unknowns)}
        widest = order.width + 1
        steps: list[tuple[int, ...]] = []
        shapes: list[int] = []
        bases: list[int] = []
        strides: list[list[int]] = []
        choices: list[tuple[int, tuple[int, ...], int]] = []  # unknown, those it depends on, where its choices begin
        self._settled: list[int] = []  # where the least cost of a part that hangs on nothing more stands
        for unknown in order.unknowns:
            mine = [table for table in left if unknown in table[0]]
            left = [table for table in left if unknown not in table[0]]
            rest = tuple(sorted({u for scope, _ in mine for u in scope if u != unknown}, key=lambda u: -turn[u]))
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
            count = math.prod(self.sizes[u] for u in rest)
            room, chosen = room + count, chosen + count
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

    def least(self, row: Array) -> tuple[tuple[int, ...], int]:
        """Returns the states with the least total cost, and that cost; ties go to the lowest state.

        The row is used up. Memory grows with the product of the sizes of a neighbourhood.
        """
        # loading compiled code takes its time
        from settwright.bars.kernels import eliminated  # noqa: PLC0415  # pyright: ignore[reportUnknownVariableType]

        compiled = cast("Callable[..., Array]", eliminated)
        chosen = compiled(row, self._steps, self._shapes, self._bases, self._strides, self._chosen)
        states = [0] * len(self.sizes)
        for unknown, rest, begins in reversed(self._choices):
            cell = 0
            for other in rest:
                cell = cell * self.sizes[other] + states[other]
            states[unknown] = int(chosen[begins + cell])
        return tuple(states), sum(int(row[at]) for at in self._settled)


@lru_cache(maxsize=256)
def elimination_of(sizes: tuple[int, ...], scopes: tuple[tuple[int, ...], ...], order: Order) -> Elimination:
    """Returns the way of eliminating tables of these scopes; pins that follow one another mostly ask for the same."""
    return Elimination(sizes, scopes, order)
