"""Finding the places in the repeat: alternating exact elimination, coarse first and then fine.

With one axis held still, the cost of the other is a sum of tables over pairs of groups, whose exact minimum bucket
elimination finds; the axes take turns until neither moves. First on a coarse grid with everything bonded that hard
joins settle, then in ever smaller windows with only pairs bonded, so that hard joins may use their millimetre. The
trade's orders are among the starting points, so the result is never worse than either.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np

from settwright.bars.bonds import Bonds, Clash, Fixed, Group, bonds_of
from settwright.bars.customs import FROM_THE_BACK, FROM_THE_FRONT
from settwright.bars.elimination import Order, Table, min_fill_order, minimise
from settwright.bars.model import Axis
from settwright.bars.objective import CELL, Array, Problem
from settwright.bars.trade import by_order

TABLE_LIMIT = 800_000  # states of one neighbourhood
GRID = (12, 48)  # fewest and most coarse states of an unknown
FINE_STEPS = (1000, 500, 250, 50)  # µm
REACH = 3  # fine states to each side
ROUNDS = 6
RESTARTS = 5
KEPT = 3  # so many of the best are taken further
SEED = 1


@dataclass(frozen=True)
class Solution:
    """Phases by instance in µm, their cost, the trade's costs, and what is bonded to what."""

    u: Array
    v: Array
    cost: int
    baselines: tuple[tuple[str, int], ...]
    clashes: tuple[tuple[Axis, Clash], ...]
    upright: Bonds
    level: Bonds


def solve(problem: Problem, pins: Mapping[Axis, Sequence[Fixed]], *, seeded: bool = True) -> Solution:
    """Returns the best placing found; with `seeded` False the trade's orders are judged but not started from."""
    bonded = {axis: bonds_of(problem, axis, pins[axis], pairs_only=False) for axis in Axis}
    clashes = tuple((axis, clash) for axis in Axis for clash in bonded[axis].clashes)
    problem = _released(problem, clashes)
    exact = {axis: bonds_of(problem, axis, pins[axis], pairs_only=True) for axis in Axis}
    trade = [
        (name, by_order(problem, exact[Axis.UPRIGHT], exact[Axis.LEVEL], order))
        for name, order in (("from the centre back", FROM_THE_BACK), ("from the front", FROM_THE_FRONT))
    ]
    coarse = {axis: _Search(problem, bonded[axis]) for axis in Axis}
    fine = {axis: _Search(problem, exact[axis]) for axis in Axis}

    found = _searched(problem, coarse)
    # hard joins that don't close exactly may share what is left over
    found.append(_refined(problem, fine, *found[0][1:]))
    baselines: list[tuple[str, int]] = []
    for name, (tu, tv) in trade:
        cost = problem.cost(tu, tv)
        baselines.append((name, cost))
        if seeded:
            found.append(_refined(problem, fine, tu, tv))
    cost, u, v = min(found, key=lambda entry: entry[0])  # the first of equals
    return Solution(
        u % problem.upright.repeat,
        v % problem.level.repeat,
        cost,
        tuple(baselines),
        clashes,
        exact[Axis.UPRIGHT],
        exact[Axis.LEVEL],
    )


def _released(problem: Problem, clashes: Sequence[tuple[Axis, Clash]]) -> Problem:
    """Returns the problem without asking pairs to be alike on an axis where they can't."""
    freed = {(clash.join.join.name, axis) for axis, clash in clashes if clash.join.join.kind == "pair"}
    joins = tuple(
        replace(
            join,
            level=None if (join.join.name, Axis.LEVEL) in freed else join.level,
            upright=None if (join.join.name, Axis.UPRIGHT) in freed else join.upright,
        )
        for join in problem.joins
    )
    return replace(problem, joins=joins)


def _searched(problem: Problem, coarse: Mapping[Axis, _Search]) -> list[tuple[int, Array, Array]]:
    """Returns the best placings found from several starts, the best first.

    The first start asks for level misses alone, then upright ones; the others begin anywhere (seeded).
    """
    count = len(problem.instances)
    nowhere = np.zeros(count, dtype=np.int64)
    u = coarse[Axis.UPRIGHT].on_grid(nowhere, nowhere, colour=False)
    v = coarse[Axis.LEVEL].on_grid(u, nowhere, colour=False)
    chance = np.random.Generator(np.random.PCG64(SEED))
    starts = [(u, v)]
    for _ in range(RESTARTS):
        u = coarse[Axis.UPRIGHT].anywhere(chance)
        starts.append((u, coarse[Axis.LEVEL].on_grid(u, nowhere)))
    rough = _best(problem, [_alternate_on_grid(coarse, *start) for start in starts])
    slid = _best(problem, [_slid(problem, coarse, *placing) for placing in rough])
    found = [_refined(problem, coarse, *placing) for placing in slid]
    return sorted(found, key=lambda entry: entry[0])


def _best(problem: Problem, placings: Sequence[tuple[Array, Array]]) -> list[tuple[Array, Array]]:
    """Returns the few best of some placings, each cost once."""
    by_cost: dict[int, tuple[Array, Array]] = {}
    for placing in placings:
        by_cost.setdefault(problem.cost(*placing), placing)
    return [by_cost[cost] for cost in sorted(by_cost)[:KEPT]]


def _alternate_on_grid(coarse: Mapping[Axis, _Search], u: Array, v: Array) -> tuple[Array, Array]:
    for _ in range(ROUNDS):
        v_new = coarse[Axis.LEVEL].on_grid(u, v)
        u_new = coarse[Axis.UPRIGHT].on_grid(u, v_new)
        if np.array_equal(u_new, u) and np.array_equal(v_new, v):
            break
        u, v = u_new, v_new
    return u, v


def _slid(problem: Problem, coarse: Mapping[Axis, _Search], u: Array, v: Array) -> tuple[Array, Array]:
    """Returns a placing that no piece can better by sliding both ways at once, the others lying still.

    It frees what turns of one axis at a time can't: a piece that must move sideways *and* up to show the same bars.
    """
    upright, level = coarse[Axis.UPRIGHT], coarse[Axis.LEVEL]
    touching = sorted({(upright.group_of[i][0], level.group_of[i][0]) for i in range(len(problem.instances))})
    for _ in range(ROUNDS):
        is_still = True
        for g, h in touching:
            us, vs = upright.domain(g, u), level.domain(h, v)
            ua = {i: s * us[:, None] + o for i, s, o in upright.groups[g].members}
            va = {i: s * vs[None, :] + o for i, s, o in level.groups[h].members}
            total: Array = np.zeros((len(us), len(vs)), dtype=np.int64)
            for join in problem.joins:
                if join.a in ua or join.b in ua or join.a in va or join.b in va:
                    places = [ua[i] if i in ua else u[i : i + 1, None] for i in (join.a, join.b)]
                    places += [va[i] if i in va else v[None, i : i + 1] for i in (join.a, join.b)]
                    total = total + problem.join_cost(join, *places, coarse=True)
            for wish in problem.wishes:
                sliding = va if wish.wish.axis is Axis.LEVEL else ua
                if wish.piece in sliding:
                    total = total + problem.wish_cost(wish, sliding[wish.piece])
            best = int(total.argmin())
            if total.flat[best] < total[0, 0]:
                is_still = False
                row, column = divmod(best, len(vs))
                u, v = u.copy(), v.copy()
                for i, values in ua.items():
                    u[i] = int(values[row, 0])
                for i, values in va.items():
                    v[i] = int(values[0, column])
        if is_still:
            break
    return u, v


def _refined(problem: Problem, fine: Mapping[Axis, _Search], u: Array, v: Array) -> tuple[int, Array, Array]:
    best = (problem.cost(u, v), u, v)
    for step in FINE_STEPS:
        for _ in range(ROUNDS):
            v = fine[Axis.LEVEL].in_window(u, v, step)
            u = fine[Axis.UPRIGHT].in_window(u, v, step)
            cost = problem.cost(u, v)
            if cost >= best[0]:
                _, u, v = best
                break
            best = (cost, u, v)
    return best


class _Search:
    """Exact minimisation over the groups of one axis while the other axis is held still."""

    def __init__(self, problem: Problem, bonds: Bonds):
        self.problem = problem
        self.axis = bonds.axis
        self.groups = bonds.groups
        self.group_of = {i: (g, s, o) for g, group in enumerate(bonds.groups) for i, s, o in group.members}
        self.joins = tuple(join for join in problem.joins if join.agreement(bonds.axis) is not None)
        self.wishes = tuple(wish for wish in problem.wishes if wish.wish.axis is bonds.axis)
        pairs = [(self.group_of[join.a][0], self.group_of[join.b][0]) for join in self.joins]
        self.order: Order = min_fill_order(len(self.groups), pairs)
        states = int(TABLE_LIMIT ** (1.0 / (self.order.width + 1)))
        self.grid = max(GRID[0], min(GRID[1], states))
        self.kept: dict[tuple[str, bool], Array] = {}  # grid tables that the other axis has no part in
        self.reach = REACH if (2 * REACH + 1) ** (self.order.width + 1) <= TABLE_LIMIT else 1

    def on_grid(self, u: Array, v: Array, *, colour: bool = True) -> Array:
        """Returns this axis's phases at their best over the whole repeat, in coarse steps."""
        return self._minimised(u, v, [self._grid_of(group) for group in self.groups], colour=colour, coarse=True)

    def domain(self, number: int, now: Array) -> Array:
        """Returns the values that a group's unknown may take: first where it is, then its grid."""
        i, sense, shift = self.groups[number].members[0]
        return np.concatenate((np.array([sense * (now[i] - shift)]), self._grid_of(self.groups[number])))

    def anywhere(self, chance: np.random.Generator) -> Array:
        """Returns phases of this axis by chance; settled groups keep to their values."""
        phases = np.zeros(len(self.problem.instances), dtype=np.int64)
        for group in self.groups:
            domain = self._grid_of(group)
            value = int(domain[int(chance.integers(len(domain)))])
            for i, sense, shift in group.members:
                phases[i] = sense * value + shift
        return phases

    def in_window(self, u: Array, v: Array, step: int) -> Array:
        """Returns this axis's phases at their best within a few steps of where they are."""
        now = v if self.axis is Axis.LEVEL else u
        # standing still comes first, so that nothing moves without a gain
        steps = np.array([0, *(k * s for k in range(1, self.reach + 1) for s in (-1, 1))], dtype=np.int64) * step
        domains: list[Array] = []
        for group in self.groups:
            i, sense, shift = group.members[0]
            at = sense * (now[i] - shift)
            domains.append(at + (steps if group.settled is None else np.zeros(1, dtype=np.int64)))
        return self._minimised(u, v, domains, colour=True, coarse=False)

    def _grid_of(self, group: Group) -> Array:
        if group.settled is not None:
            return np.array(group.settled, dtype=np.int64)
        base = 0
        for wish in self.wishes:
            g, sense, shift = self.group_of[wish.piece]
            if self.groups[g] is group:
                base = sense * (wish.phase - shift)
                break
        repeat = self.problem.threads(self.axis).repeat
        return base + np.arange(self.grid, dtype=np.int64) * repeat // self.grid // CELL * CELL

    def _minimised(self, u: Array, v: Array, domains: list[Array], *, colour: bool, coarse: bool) -> Array:
        tables: dict[tuple[int, ...], Array] = {}

        def add(unknowns: tuple[int, ...], costs: Array) -> None:
            tables[unknowns] = tables[unknowns] + costs if unknowns in tables else costs

        for join in self.joins:
            (ga, sa, oa), (gb, sb, ob) = self.group_of[join.a], self.group_of[join.b]
            a, b = sa * domains[ga] + oa, sb * domains[gb] + ob
            if ga != gb:
                a, b = (a[:, None], b[None, :]) if ga < gb else (a[None, :], b[:, None])
            alone = join.upright is None if self.axis is Axis.LEVEL else join.level is None
            if coarse and alone and (join.join.name, colour) in self.kept:
                add((ga,) if ga == gb else (min(ga, gb), max(ga, gb)), self.kept[join.join.name, colour])
                continue
            phases_of = (u[join.a], u[join.b], a, b) if self.axis is Axis.LEVEL else (a, b, v[join.a], v[join.b])
            costs = self.problem.join_cost(join, *phases_of, colour=colour, coarse=coarse)
            if coarse and alone:
                self.kept[join.join.name, colour] = costs
            add((ga,) if ga == gb else (min(ga, gb), max(ga, gb)), costs)
        for wish in self.wishes:
            g, sense, shift = self.group_of[wish.piece]
            add((g,), self.problem.wish_cost(wish, sense * domains[g] + shift))
        states, _ = minimise([len(d) for d in domains], [Table(k, c) for k, c in tables.items()], self.order)
        phases = np.zeros(len(u), dtype=np.int64)
        for group, domain, state in zip(self.groups, domains, states, strict=True):
            for i, sense, shift in group.members:
                phases[i] = sense * int(domain[state]) + shift
        return phases
