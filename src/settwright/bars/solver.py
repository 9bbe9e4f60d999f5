"""Finding the places in the repeat: alternating exact elimination, coarse first and then fine.

With one axis held still, the cost of the other is a sum of tables over pairs of groups, whose exact minimum bucket
elimination finds; the axes take turns until neither moves. First on a coarse grid with everything bonded that hard
joins settle, then in ever smaller windows with only pairs bonded, so that hard joins may use their millimetre. The
trade's orders are among the starting points, so the result is never worse than either.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from typing import cast

import numpy as np

from settwright.bars.bonds import Bonds, Clash, Fixed, Group, bonds_of
from settwright.bars.customs import FROM_THE_BACK, FROM_THE_FRONT
from settwright.bars.elimination import Order, Table, eliminate, elimination_of, least, min_fill_order, minimise
from settwright.bars.model import Axis
from settwright.bars.objective import CELL, SHARES, Array, JoinCost, Problem, microns
from settwright.bars.trade import by_order

ORDERS = (("from the centre back", FROM_THE_BACK), ("from the front", FROM_THE_FRONT))
TABLE_LIMIT = 800_000  # states of one neighbourhood
GRID = (12, 48)  # fewest and most coarse states of an unknown
FINE_STEPS = (1000, 500, 250, 50)  # µm
NEAR_STEPS = (1000, 250, 50)  # from an earlier answer
REACH = 3  # fine states to each side
ZERO: Array = np.zeros(1, dtype=np.int64)
ROUNDS = 6
RESTARTS = 5
PARTS = 8  # of the repeat, to each of which a group is held in turn
KEPT = 3  # so many of the best are taken further
SEED = 1


@dataclass(frozen=True)
class Baseline:
    """One of the trade's orders: where it lays each instance (µm), and what that costs."""

    name: str
    u: Array
    v: Array
    cost: int


Placing = tuple[Array, Array]
Tables = dict[tuple[object, ...], Array]
"""Tables of joins on the coarse grid, kept between tries of one prepared problem; they depend on nothing else."""
MOST_TABLES = 20_000  # about 400 MB at worst, a tenth of that in practice


@dataclass(frozen=True)
class Solution:
    """Phases by instance in µm, their cost, the trade's costs, and what is bonded to what."""

    u: Array
    v: Array
    cost: int
    unseeded: int  # the best cost found without starting from the trade's orders
    baselines: tuple[Baseline, ...]
    clashes: tuple[tuple[Axis, Clash], ...]
    upright: Bonds
    level: Bonds


def solve(
    problem: Problem,
    pins: Mapping[Axis, Sequence[Fixed]],
    *,
    seeded: bool = True,
    start: Placing | None = None,
    is_wide: bool = False,
    tables: Tables | None = None,
) -> Solution:
    """Returns the best placing found.

    With `seeded` False the trade's orders are judged but not started from. From a `start` (an earlier answer) the
    search looks near it only, for speed, and leaves the trade's orders out; `is_wide` lets it begin from those and from
    the least misses as well, and slide pieces both ways. `tables` made for the same problem may be given again.
    """
    bonded = {axis: bonds_of(problem, axis, pins[axis], pairs_only=False) for axis in Axis}
    clashes = tuple((axis, clash) for axis in Axis for clash in bonded[axis].clashes)
    problem = _released(problem, clashes)
    exact = {axis: bonds_of(problem, axis, pins[axis], pairs_only=True) for axis in Axis}
    baselines: list[Baseline] = []
    for name, order in ORDERS if start is None or is_wide else ():
        u, v = by_order(problem, exact[Axis.UPRIGHT], exact[Axis.LEVEL], order)
        baselines.append(Baseline(name, u, v, problem.cost(u, v)))
    tables = {} if tables is None else tables
    if len(tables) > MOST_TABLES:
        tables.clear()
    coarse = {axis: _Search(problem, bonded[axis], tables) for axis in Axis}
    fine = {axis: _Search(problem, exact[axis], tables) for axis in Axis}

    if start is None:
        found = _searched(problem, coarse)
        # hard joins that don't close exactly may share what is left over
        found.append(_refined(problem, fine, *found[0][1:]))
        from_trade = baselines if seeded else []
    else:
        near = [_alternate_on_grid(coarse, *start), *_beside(coarse, *start)]
        if is_wide:
            near.append(_alternate_on_grid(coarse, *_by_misses(problem, coarse)))
            near.append(_slid(problem, coarse, *_best(problem, near)[0]))
        found = [_refined(problem, fine, *_best(problem, near)[0], NEAR_STEPS)]
        from_trade = [order for order in baselines if seeded and order.cost < found[0][0]]
    unseeded = min(entry[0] for entry in found)
    found += [_refined(problem, fine, order.u, order.v) for order in from_trade]
    cost, u, v = min(found, key=lambda entry: entry[0])  # the first of equals
    return Solution(
        u % problem.upright.repeat,
        v % problem.level.repeat,
        cost,
        unseeded,
        tuple(baselines),
        clashes,
        exact[Axis.UPRIGHT],
        exact[Axis.LEVEL],
    )


def _released(problem: Problem, clashes: Sequence[tuple[Axis, Clash]]) -> Problem:
    """Returns the problem without asking pairs to be alike on an axis where they can't."""
    freed = {(clash.join.join.name, axis) for axis, clash in clashes if clash.join.join.kind == "pair"}
    if not freed:
        return problem
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
    nowhere = np.zeros(len(problem.instances), dtype=np.int64)
    chance = np.random.Generator(np.random.PCG64(SEED))
    starts = [_by_misses(problem, coarse)]
    for _ in range(RESTARTS):
        u = coarse[Axis.UPRIGHT].anywhere(chance)
        starts.append((u, coarse[Axis.LEVEL].on_grid(u, nowhere)))
    rough = _best(problem, [_alternate_on_grid(coarse, *start) for start in starts])
    slid = _best(problem, [_slid(problem, coarse, *placing) for placing in rough])
    found = [_refined(problem, coarse, *placing) for placing in slid]
    best = min(found, key=lambda entry: entry[0])
    found += [_refined(problem, coarse, *placing) for placing in _varied(problem, coarse, *best[1:])]
    return sorted(found, key=lambda entry: entry[0])


def _by_misses(problem: Problem, coarse: Mapping[Axis, _Search]) -> Placing:
    """Returns the placing whose misses are least, colours left out."""
    nowhere = np.zeros(len(problem.instances), dtype=np.int64)
    u = coarse[Axis.UPRIGHT].on_grid(nowhere, nowhere, colour=False)
    return u, coarse[Axis.LEVEL].on_grid(u, nowhere, colour=False)


def _varied(problem: Problem, coarse: Mapping[Axis, _Search], u: Array, v: Array) -> list[Placing]:
    """Returns the few best placings that differ from a good one by where one group is held.

    The coarse grid judges by fewer colours, so that the best there may be the second best in truth: each group is
    held to each part of the repeat in turn, the rest follows exactly, and all of it is judged truly.
    """
    placings: list[Placing] = []
    for axis in Axis:
        search = coarse[axis]
        for number, group in enumerate(search.groups):
            if group.settled is None:
                found = search.held_to_parts(u, v, number)
                placings += [(phases, v) if axis is Axis.UPRIGHT else (u, phases) for phases in found]
    return _best(problem, placings)


def _best(problem: Problem, placings: Sequence[tuple[Array, Array]]) -> list[tuple[Array, Array]]:
    """Returns the few best of some placings, each cost once."""
    by_cost: dict[int, tuple[Array, Array]] = {}
    for placing in {(u.tobytes(), v.tobytes()): (u, v) for u, v in placings}.values():
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


def _beside(coarse: Mapping[Axis, _Search], u: Array, v: Array) -> list[Placing]:
    """Returns a placing as it stands, what is settled moved to its place, and with one axis found anew on the grid.

    The grid judges by fewer colours, so that taking turns on it may leave a placing that was better in truth.
    """
    u, v = coarse[Axis.UPRIGHT].standing(u), coarse[Axis.LEVEL].standing(v)
    return [(u, v), (coarse[Axis.UPRIGHT].on_grid(u, v), v), (u, coarse[Axis.LEVEL].on_grid(u, v))]


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


def _refined(
    problem: Problem, fine: Mapping[Axis, _Search], u: Array, v: Array, steps: Sequence[int] = FINE_STEPS
) -> tuple[int, Array, Array]:
    best = (problem.cost(u, v), u, v)
    for step in steps:
        for _ in range(ROUNDS):
            v_new = fine[Axis.LEVEL].in_window(u, v, step)
            u_new = fine[Axis.UPRIGHT].in_window(u, v_new, step)
            if np.array_equal(u_new, u) and np.array_equal(v_new, v):
                break
            cost = problem.cost(u_new, v_new)
            if cost >= best[0]:
                break
            u, v = u_new, v_new
            best = (cost, u, v)
    return best


class _Search:
    """Exact minimisation over the groups of one axis while the other axis is held still."""

    def __init__(self, problem: Problem, bonds: Bonds, tables: Tables):
        self.problem = problem
        self.axis = bonds.axis
        self.groups = bonds.groups
        self.group_of = {i: (g, s, o) for g, group in enumerate(bonds.groups) for i, s, o in group.members}
        self.joins = tuple((n, join) for n, join in enumerate(problem.joins) if join.agreement(bonds.axis) is not None)
        self.wishes = tuple(wish for wish in problem.wishes if wish.wish.axis is bonds.axis)
        self.pairs = [(self.group_of[join.a][0], self.group_of[join.b][0]) for _, join in self.joins]
        self.order: Order = min_fill_order(len(self.groups), tuple(self.pairs))
        states = int(TABLE_LIMIT ** (1.0 / (self.order.width + 1)))
        self.grid = max(GRID[0], min(GRID[1], states))
        self.kept = tables
        self.reach = REACH if (2 * REACH + 1) ** (self.order.width + 1) <= TABLE_LIMIT else 1

    @cached_property
    def window(self) -> _Window | None:
        """The tables over a few steps; None where there is nothing to place."""
        return _Window(self) if self.groups else None

    def on_grid(self, u: Array, v: Array, *, colour: bool = True) -> Array:
        """Returns this axis's phases at their best over the whole repeat, in coarse steps."""
        return self._minimised(u, v, [self._grid_of(group) for group in self.groups], colour=colour, coarse=True)

    def held_to_parts(self, u: Array, v: Array, number: int) -> list[Array]:
        """Returns this axis's phases at their best with one group held to each part of the repeat in turn."""
        domains = [self._grid_of(group) for group in self.groups]
        order = min_fill_order(len(self.groups), tuple(self.pairs), last=number)
        if order.width > self.order.width:
            return []
        found = eliminate(*self._tables(u, v, domains, colour=True, coarse=True), order)
        count = len(domains[number])
        bests: list[Array] = []
        for part in range(PARTS):
            low, high = count * part // PARTS, count * (part + 1) // PARTS
            state = low + int(found.costs[low:high].argmin())
            bests.append(self._phases(domains, found.states(state)))
        return bests

    def domain(self, number: int, now: Array) -> Array:
        """Returns the values that a group's unknown may take: first where it is, then its grid."""
        i, sense, shift = self.groups[number].members[0]
        return np.concatenate((np.array([sense * (now[i] - shift)]), self._grid_of(self.groups[number])))

    def standing(self, now: Array) -> Array:
        """Returns this axis's phases as they are, settled groups and those bonded to others where they must be."""
        domains: list[Array] = []
        for number, group in enumerate(self.groups):
            here, places = np.split(self.domain(number, now), [1])
            if group.settled is not None:
                repeat = self.problem.threads(self.axis).repeat
                way = np.abs(repeat // 2 - (repeat // 2 - (places - here)) % repeat)
                here = places[[int(way.argmin())]]
            domains.append(here)
        return self._phases(domains, [0] * len(domains))

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
        domains = np.zeros((len(self.groups), len(steps)), dtype=np.int64)
        for number, group in enumerate(self.groups):
            i, sense, shift = group.members[0]
            domains[number] = sense * (now[i] - shift)
            if group.settled is None:
                domains[number] += steps
        states = self.window.states(u, v, domains) if self.window is not None else ()
        return self._phases(list(domains), states)

    def _costs_of(
        self,
        number: int,
        join: JoinCost,
        places: Placing,
        others: Placing,
        *,
        across: bool,
        colour: bool,
        coarse: bool,
    ) -> Array:
        """Returns a join's table over this axis's places of a and b; `others` are their places on the other axis.

        Coarse tables are kept.
        """
        a, b = places
        alone = join.upright is None if self.axis is Axis.LEVEL else join.level is None
        if alone:
            others = (ZERO, ZERO)
        key = None
        if coarse:
            still = (0, 0) if alone else (int(others[0][0]), int(others[1][0]))
            asked = (join.level is None, join.upright is None)
            key = (self.axis, number, asked, a.tobytes(), b.tobytes(), still, across, colour)
            if key in self.kept:
                return self.kept[key]
        phases = (*others, a, b) if self.axis is Axis.LEVEL else (a, b, *others)
        ask = self.problem.join_table if across else self.problem.join_cost
        costs = ask(join, *phases, colour=colour, coarse=coarse)
        if key is not None:
            self.kept[key] = costs
        return costs

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
        states, _ = minimise(*self._tables(u, v, domains, colour=colour, coarse=coarse), self.order)
        return self._phases(domains, states)

    def _phases(self, domains: Sequence[Array], states: Sequence[int]) -> Array:
        """Returns the phases of all instances where each group has this state."""
        phases = np.zeros(len(self.problem.instances), dtype=np.int64)
        for group, domain, state in zip(self.groups, domains, states, strict=True):
            for i, sense, shift in group.members:
                phases[i] = sense * int(domain[state]) + shift
        return phases

    def _tables(
        self, u: Array, v: Array, domains: list[Array], *, colour: bool, coarse: bool
    ) -> tuple[list[int], list[Table]]:
        """Returns the number of each group's states, and the tables of what pairs of states cost."""
        tables: dict[tuple[int, ...], Array] = {}

        def add(unknowns: tuple[int, ...], costs: Array) -> None:
            tables[unknowns] = tables[unknowns] + costs if unknowns in tables else costs

        for number, join in self.joins:
            (ga, sa, oa), (gb, sb, ob) = self.group_of[join.a], self.group_of[join.b]
            a, b = sa * domains[ga] + oa, sb * domains[gb] + ob
            still = u if self.axis is Axis.LEVEL else v
            others = (still[join.a : join.a + 1], still[join.b : join.b + 1])
            costs = self._costs_of(number, join, (a, b), others, across=ga != gb, colour=colour, coarse=coarse)
            add((ga,) if ga == gb else (min(ga, gb), max(ga, gb)), costs if ga <= gb else costs.T)
        for wish in self.wishes:
            g, sense, shift = self.group_of[wish.piece]
            add((g,), self.problem.wish_cost(wish, sense * domains[g] + shift))
        return [len(domain) for domain in domains], [Table(unknowns, costs) for unknowns, costs in tables.items()]


class _Window:
    """The tables of one axis over a few steps of every group, filled by compiled code in one go and eliminated."""

    def __init__(self, search: _Search):
        self.search = search
        group_of, states = search.group_of, 2 * search.reach + 1
        scopes = {(g,): None for g in range(len(search.groups))} | {
            tuple(sorted(pair)): None for pair in search.pairs if pair[0] != pair[1]
        }
        self.way = elimination_of((states,) * len(search.groups), tuple(scopes), search.order)
        slots = dict(zip(scopes, self.way.slots, strict=True))
        sides: list[tuple[int, ...]] = []
        for number, join in search.joins:
            (ga, sa, oa), (gb, sb, ob) = group_of[join.a], group_of[join.b]
            slot = slots[(ga,) if ga == gb else (min(ga, gb), max(ga, gb))]
            sides.append((number, join.a, join.b, ga, sa, oa, gb, sb, ob, slot, ga > gb))
        problem = search.problem
        repeat = problem.threads(search.axis).repeat
        wishes = [
            (*group_of[wish.piece], wish.phase, microns(wish.wish.off), slots[group_of[wish.piece][:1]],
             repeat, microns(problem.coefficients.cap), problem.coefficients.wish * wish.weight * SHARES)
            for wish in search.wishes
        ]  # fmt: skip
        self._sides = np.array(sides, dtype=np.int64).reshape(-1, 11)
        self._wishes = np.array(wishes, dtype=np.int64).reshape(-1, 9)

    def states(self, u: Array, v: Array, domains: Array) -> tuple[int, ...]:
        """Returns the state of each group at which all of it costs least; `domains` by group and state."""
        from settwright.bars.kernels import window_tables  # noqa: PLC0415  # pyright: ignore[reportUnknownVariableType]

        fill = cast("Callable[..., Array]", window_tables)
        is_level = self.search.axis is Axis.LEVEL
        row = fill(self.way.room, is_level, u, v, domains, self._sides, self._wishes, *self.search.problem.pack)
        return least(self.way.run(row))[0]
