"""Exact minimum of a sum of small cost tables: bucket elimination along a min-fill order.

Each unknown has a few states; each table tells the cost of one or two unknowns' states. Garments hang together
loosely (a piece has few neighbours), so eliminating one unknown after the other stays cheap and proves the minimum.
Costs are integers; ties go to the lowest state.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np


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


def min_fill_order(count: int, pairs: Iterable[tuple[int, int]], last: int | None = None) -> Order:
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
    costs: np.ndarray  # by state of the last unknown, all others at their best
    choices: tuple[tuple[int, tuple[int, ...], np.ndarray], ...]

    def states(self, state: int) -> tuple[int, ...]:
        """Returns the best states of all unknowns where the last one has this state."""
        states = [0] * self.count
        states[self.last] = state
        for unknown, rest, best in reversed(self.choices):
            states[unknown] = int(best[tuple(states[u] for u in rest)])
        return tuple(states)


def eliminate(sizes: Sequence[int], tables: Iterable[Table], order: Order) -> Eliminated:
    """Returns what each state of the order's last unknown costs, the others at their best.

    `sizes` holds the number of states of each unknown. Memory grows with the product of the sizes of a neighbourhood.
    """
    left = list(tables)
    total = 0
    choices: list[tuple[int, tuple[int, ...], np.ndarray]] = []
    last = order.unknowns[-1]
    summed = np.zeros(sizes[last], dtype=np.int64)
    for unknown in order.unknowns:
        mine = [table for table in left if unknown in table.unknowns]
        left = [table for table in left if unknown not in table.unknowns]
        scope = tuple(sorted({u for table in mine for u in table.unknowns} | {unknown}))
        summed = np.zeros([sizes[u] for u in scope], dtype=np.int64)
        for table in mine:
            shape = [sizes[u] if u in table.unknowns else 1 for u in scope]
            summed += table.costs.reshape(shape)
        if unknown == last:
            break
        axis = scope.index(unknown)
        rest = scope[:axis] + scope[axis + 1 :]
        choices.append((unknown, rest, summed.argmin(axis=axis)))
        least = summed.min(axis=axis)
        if rest:
            left.append(Table(rest, least))
        else:
            total += int(least)
    return Eliminated(len(sizes), last, summed + total, tuple(choices))


def minimise(sizes: Sequence[int], tables: Iterable[Table], order: Order) -> tuple[tuple[int, ...], int]:
    """Returns the states with the least total cost, and that cost; ties go to the lowest state."""
    if not order.unknowns:
        return (), 0
    found = eliminate(sizes, tables, order)
    best = int(found.costs.argmin())
    return found.states(best), int(found.costs[best])
