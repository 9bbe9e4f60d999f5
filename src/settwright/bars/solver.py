"""Finding the places in the repeat: exact elimination, one axis after the other, in leaps and then in small steps.

With one axis held still, the cost of the other is a sum of tables over pairs of groups, whose exact minimum bucket
elimination finds; the axes take turns until neither moves. From each of several starts every group either stays or
leaps anywhere on a grid, then moves in ever smaller windows. What the starts came to is brought together: each group
takes its place from any of them, again exactly. First with everything bonded that hard joins settle, at last with only
pairs bonded, so that hard joins may use their millimetre. The trade's orders are among the starts, so the result is
never worse than either.
"""

from __future__ import annotations

import itertools
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import cast

import numpy as np

from settwright.bars.bonds import Bonds, Clash, Fixed, bonds_of
from settwright.bars.customs import FROM_THE_BACK, FROM_THE_FRONT
from settwright.bars.elimination import Order, elimination_of, min_fill_order
from settwright.bars.model import Axis
from settwright.bars.objective import SHARES, Array, Problem, microns
from settwright.bars.trade import by_order

ORDERS = (("from the centre back", FROM_THE_BACK), ("from the front", FROM_THE_FRONT))
GRID = (6, 16)  # fewest and most places of a group on the grid onto which it leaps
LEAPS = 3  # such grids, each between the others
MOST_CELLS = 200_000  # joint states that one elimination may look at
FEW_CELLS = 30_000  # likewise near an earlier answer
FINE_STEPS = (1000, 500, 250, 50)  # µm
NEAR_STEPS = (1000, 250, 50)  # from an earlier answer
REACH = 3  # fine states to each side
ROUNDS = 6
RESTARTS = (4, 24)  # fewest and most places to begin at by chance
EFFORT = 2_000_000  # figures worked out in one leap from each of them: small problems begin at more
SEED = 1


@dataclass(frozen=True)
class Baseline:
    """One of the trade's orders: where it lays each instance (µm), and what that costs."""

    name: str
    u: Array
    v: Array
    cost: int


Placing = tuple[Array, Array]
Found = tuple[int, Array, Array]
"""A placing with its cost before it."""


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
) -> Solution:
    """Returns the best placing found.

    With `seeded` False the trade's orders are judged but not started from. From a `start` (an earlier answer) the
    search looks near it only, for speed, and leaves the trade's orders out; `is_wide` lets it begin from those and from
    the least misses as well.
    """
    bonded = {axis: bonds_of(problem, axis, pins[axis], pairs_only=False) for axis in Axis}
    clashes = tuple((axis, clash) for axis in Axis for clash in bonded[axis].clashes)
    problem = _released(problem, clashes)
    exact = {axis: bonds_of(problem, axis, pins[axis], pairs_only=True) for axis in Axis}
    baselines: list[Baseline] = []
    for name, order in ORDERS if start is None or is_wide else ():
        u, v = by_order(problem, exact[Axis.UPRIGHT], exact[Axis.LEVEL], order)
        baselines.append(Baseline(name, u, v, problem.cost(u, v)))
    is_near = start is not None and not is_wide
    most, steps = (FEW_CELLS, NEAR_STEPS) if is_near else (MOST_CELLS, FINE_STEPS)
    rough = _Searches(problem, bonded, most, steps)
    fine = _Searches(problem, exact, most, steps)

    starts = [] if start is None else [rough.standing(*start)]
    if start is None or is_wide:
        starts.append(rough.by_misses())
    if start is None:
        starts += rough.anywhere(max(RESTARTS[0], min(RESTARTS[1], EFFORT // rough.effort)))
    found = [rough.improved(*placing) for placing in starts]
    # hard joins that don't close exactly may share what is left over
    best = fine.refined(*rough.together(found)[1:])
    if start is not None:
        here = fine.standing(*start)
        if problem.cost(*here) < best[0]:
            best = fine.refined(*here)
    unseeded = best[0]
    if seeded and baselines:
        from_trade = [rough.improved(*rough.standing(order.u, order.v)) for order in baselines]
        told = [fine.refined(*rough.together([best, *from_trade])[1:])]
        told += [fine.refined(order.u, order.v) for order in baselines if order.cost < unseeded]
        best = min((best, *told), key=lambda entry: entry[0])  # the first of equals
    cost, u, v = best
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


class _Searches:
    """Both axes of a problem, searched in turns with the same things bonded."""

    def __init__(self, problem: Problem, bonds: Mapping[Axis, Bonds], most: int, steps: Sequence[int]):
        self.problem = problem
        self.steps = steps
        self.on = {axis: _Search(problem, bonds[axis], most) for axis in Axis}

    @property
    def effort(self) -> int:
        """How many figures are worked out when all groups leap once."""
        return sum(search.effort for search in self.on.values())

    def standing(self, u: Array, v: Array) -> Placing:
        """Returns a placing as it stands, what is settled or bonded moved to its place."""
        return self.on[Axis.UPRIGHT].standing(u), self.on[Axis.LEVEL].standing(v)

    def by_misses(self) -> Placing:
        """Returns the placing on the grid whose misses are least, colours left out."""
        u, v = self.standing(self.on[Axis.UPRIGHT].custom(), self.on[Axis.LEVEL].custom())
        u = self.on[Axis.UPRIGHT].in_leaps(u, v, 0, colour=False)
        return u, self.on[Axis.LEVEL].in_leaps(u, v, 0, colour=False)

    def anywhere(self, count: int) -> list[Placing]:
        """Returns placings by (seeded) chance."""
        chance = np.random.Generator(np.random.PCG64(SEED))
        return [(self.on[Axis.UPRIGHT].anywhere(chance), self.on[Axis.LEVEL].anywhere(chance)) for _ in range(count)]

    def improved(self, u: Array, v: Array) -> Found:
        """Returns a placing that leaps, and then small steps, have bettered."""
        return self.refined(*self._leapt(u, v)[1:])

    def refined(self, u: Array, v: Array) -> Found:
        """Returns a placing that no small step of some groups, the others staying, can better."""
        best = (self.problem.cost(u, v), u, v)
        for step in self.steps:
            best = self._in_turns(best, lambda axis, u, v, step=step: self.on[axis].in_window(u, v, step))
        return best

    def together(self, found: Sequence[Found]) -> Found:
        """Returns the best of some placings, bettered by what the others hold."""
        best = min(found, key=lambda entry: entry[0])  # the first of equals
        if len(found) == 1:
            return best
        places = {Axis.UPRIGHT: [u for _, u, _ in found], Axis.LEVEL: [v for _, _, v in found]}
        mixed = self._in_turns(best, lambda axis, u, v: self.on[axis].among(u, v, places[axis]))
        return self.improved(*self.improved(*mixed[1:])[1:])

    def _leapt(self, u: Array, v: Array) -> Found:
        """Returns a placing that no leap of some groups, the others staying, can better."""
        best = (self.problem.cost(u, v), u, v)
        for part in range(LEAPS):
            best = self._in_turns(best, lambda axis, u, v, part=part: self.on[axis].in_leaps(u, v, part))
        return best

    def _in_turns(self, best: Found, moved: Callable[[Axis, Array, Array], Array]) -> Found:
        """Returns the placing to which moving one axis after the other leads, for as long as it gains."""
        _, u, v = best
        for turn in range(ROUNDS):
            v_new = moved(Axis.LEVEL, u, v)
            is_still = np.array_equal(v_new, v)
            if turn > 0 and is_still:  # and the upright bars were found for these level ones
                break
            u_new = moved(Axis.UPRIGHT, u, v_new)
            has_moved = not np.array_equal(u_new, u)
            if is_still and not has_moved:
                break
            cost = self.problem.cost(u_new, v_new)
            if cost >= best[0]:
                break
            u, v = u_new, v_new
            best = (cost, u, v)
            if not has_moved:  # the level bars were found for these upright ones
                break
        return best


class _Search:
    """Exact minimisation over the groups of one axis while the other axis is held still."""

    def __init__(self, problem: Problem, bonds: Bonds, most: int):
        self.problem = problem
        self.axis = bonds.axis
        self.repeat = problem.threads(bonds.axis).repeat
        self.groups = bonds.groups
        self.group_of = {i: (g, s, o) for g, group in enumerate(bonds.groups) for i, s, o in group.members}
        self.joins = tuple((n, join) for n, join in enumerate(problem.joins) if join.agreement(bonds.axis) is not None)
        self.wishes = tuple(wish for wish in problem.wishes if wish.wish.axis is bonds.axis)
        self.pairs = [(self.group_of[join.a][0], self.group_of[join.b][0]) for _, join in self.joins]
        self.order: Order = min_fill_order(self._sizes(GRID[0]), tuple(self.pairs))
        self.turn = {number: place for place, number in enumerate(self.order.unknowns)}
        self.grid = next((g for g in range(GRID[1], GRID[0], -1) if self.order.cells(self._sizes(g)) <= most), GRID[0])
        self.reach = REACH if self.order.cells(self._sizes(2 * REACH + 1)) <= most else 1
        self._filled: dict[tuple[int, ...], _Filled] = {}

    @property
    def effort(self) -> int:
        """How many figures are worked out when the groups leap once: table entries, and colours compared for them."""
        filled = sum(self.grid**2 * len(join.patch.shares) for _, join in self.joins)
        return 1 + filled + self.order.cells(self._sizes(self.grid))

    def scope(self, g: int, h: int) -> tuple[int, ...]:
        """Returns the groups of a table, the one that is eliminated first last."""
        return (g,) if g == h else (g, h) if self.turn[g] > self.turn[h] else (h, g)

    def custom(self) -> Array:
        """Returns phases of this axis at which each group grants its first wish."""
        values = [0] * len(self.groups)
        for wish in reversed(self.wishes):
            g, sense, shift = self.group_of[wish.piece]
            values[g] = sense * (wish.phase - shift)
        return self._phases([np.array([value], dtype=np.int64) for value in values], [0] * len(values))

    def standing(self, now: Array) -> Array:
        """Returns this axis's phases as they are, settled groups and those bonded to others where they must be."""
        domains: list[Array] = []
        for number, group in enumerate(self.groups):
            here = self._here(number, now)
            if group.settled is not None:
                places = np.array(group.settled, dtype=np.int64)
                way = np.abs(self.repeat // 2 - (self.repeat // 2 - (places - here)) % self.repeat)
                here = places[[int(way.argmin())]]
            domains.append(here)
        return self._phases(domains, [0] * len(domains))

    def anywhere(self, chance: np.random.Generator) -> Array:
        """Returns phases of this axis by chance; settled groups keep to their values."""
        domains = [
            np.array([chance.choice(group.settled) if group.settled else chance.integers(self.repeat)], dtype=np.int64)
            for group in self.groups
        ]
        return self._phases(domains, [0] * len(domains))

    def in_window(self, u: Array, v: Array, step: int) -> Array:
        """Returns this axis's phases at their best within a few steps of where they are."""
        # standing still comes first, so that nothing moves without a gain
        steps = np.array([0, *(k * s for k in range(1, self.reach + 1) for s in (-1, 1))], dtype=np.int64) * step
        return self._moved(u, v, lambda number, here: here if self.groups[number].settled else here + steps)

    def in_leaps(self, u: Array, v: Array, part: int, *, colour: bool = True) -> Array:
        """Returns this axis's phases at their best where each group stays or leaps anywhere on a grid."""
        count = self.grid - 1
        steps = (LEAPS * np.arange(count, dtype=np.int64) + part) * self.repeat // (LEAPS * count)

        def reached(number: int, here: Array) -> Array:
            return np.concatenate((here, self._settled(number, here + steps)))

        return self._moved(u, v, reached, colour=colour)

    def among(self, u: Array, v: Array, places: Sequence[Array]) -> Array:
        """Returns this axis's phases at their best where each group takes its place from one of several placings."""

        def reached(number: int, here: Array) -> Array:
            there = np.concatenate([self._here(number, place) for place in places])
            return np.concatenate((here, self._settled(number, there)))

        return self._moved(u, v, reached)

    def _sizes(self, grid: int) -> tuple[int, ...]:
        """Returns the number of states of each group where those that aren't settled have so many."""
        return tuple(grid if group.settled is None else len(group.settled) for group in self.groups)

    def _here(self, number: int, now: Array) -> Array:
        """Returns the value of a group's unknown as its first member lies."""
        i, sense, shift = self.groups[number].members[0]
        return sense * (now[i : i + 1] - shift)

    def _settled(self, number: int, places: Array) -> Array:
        """Returns these places, or those to which a group is settled."""
        settled = self.groups[number].settled
        return places if settled is None else np.array(settled, dtype=np.int64)

    def _moved(self, u: Array, v: Array, reached: Callable[[int, Array], Array], *, colour: bool = True) -> Array:
        """Returns this axis's phases at their best where each group may take the places that it reaches."""
        now = v if self.axis is Axis.LEVEL else u
        domains = [reached(number, self._here(number, now)) for number in range(len(self.groups))]
        if not domains:
            return now
        sizes = tuple(len(domain) for domain in domains)
        filled = self._filled.get(sizes)
        if filled is None:
            filled = self._filled[sizes] = _Filled(self, sizes)
        return self._phases(domains, filled.states(u, v, domains, colour=colour))

    def _phases(self, domains: Sequence[Array], states: Sequence[int]) -> Array:
        """Returns the phases of all instances where each group has this state."""
        phases = np.zeros(len(self.problem.instances), dtype=np.int64)
        for group, domain, state in zip(self.groups, domains, states, strict=True):
            for i, sense, shift in group.members:
                phases[i] = sense * int(domain[state]) + shift
        return phases


class _Filled:
    """The tables of one axis over a few places of every group, filled by compiled code in one go and eliminated."""

    def __init__(self, search: _Search, sizes: tuple[int, ...]):
        self.search = search
        group_of = search.group_of
        scopes = {(g,): None for g in range(len(search.groups))} | {
            search.scope(*pair): None for pair in search.pairs if pair[0] != pair[1]
        }
        self.way = elimination_of(sizes, tuple(scopes), search.order)
        self._begins = np.array((0, *itertools.accumulate(sizes)), dtype=np.int64)
        slots = dict(zip(scopes, self.way.slots, strict=True))
        sides: list[tuple[int, ...]] = []
        for number, join in search.joins:
            (ga, sa, oa), (gb, sb, ob) = group_of[join.a], group_of[join.b]
            scope = search.scope(ga, gb)
            sides.append((number, join.a, join.b, ga, sa, oa, gb, sb, ob, slots[scope], scope[0] != ga))
        problem = search.problem
        repeat = problem.threads(search.axis).repeat
        wishes = [
            (*group_of[wish.piece], wish.phase, microns(wish.wish.off), slots[group_of[wish.piece][:1]],
             repeat, microns(problem.coefficients.cap), problem.coefficients.wish * wish.weight * SHARES)
            for wish in search.wishes
        ]  # fmt: skip
        self._sides = np.array(sides, dtype=np.int64).reshape(-1, 11)
        self._wishes = np.array(wishes, dtype=np.int64).reshape(-1, 9)

    def states(self, u: Array, v: Array, domains: Sequence[Array], *, colour: bool) -> tuple[int, ...]:
        """Returns the state of each group at which all of it costs least."""
        from settwright.bars.kernels import axis_tables  # noqa: PLC0415  # pyright: ignore[reportUnknownVariableType]

        fill = cast("Callable[..., Array]", axis_tables)
        search = self.search
        row = fill(
            self.way.room, search.axis is Axis.LEVEL, u, v, np.concatenate(domains), self._begins,
            self._sides, self._wishes, *(search.problem.pack if colour else search.problem.colourless),
        )  # fmt: skip
        return self.way.least(row)[0]
