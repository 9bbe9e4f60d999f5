"""The trade's own way: piece after piece, each laid against the cut ones by its most important seam.

Two customary orders, from the centre back outwards and from the front. They are the baselines that the solver must
never lose to, and starting points for it.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from settwright.bars.bonds import Bonds, Group
from settwright.bars.joins import base_name
from settwright.bars.model import Axis
from settwright.bars.objective import Array, JoinCost, Problem


def by_order(problem: Problem, upright: Bonds, level: Bonds, order: Sequence[str]) -> tuple[Array, Array]:
    """Returns the phases (u, v) in µm that a tailor finds who lays piece after piece in this order."""
    return _one_axis(problem, upright, order), _one_axis(problem, level, order)


def _one_axis(problem: Problem, bonds: Bonds, order: Sequence[str]) -> Array:
    axis = bonds.axis
    phases = np.zeros(len(problem.instances), dtype=np.int64)
    placed: set[int] = set()
    ranks = {name: rank for rank, name in enumerate(order)}

    def rank(group: Group) -> tuple[int, int]:
        first = group.members[0][0]
        names = (base_name(problem.instances[i]) for i, _, _ in group.members)
        return min(ranks.get(name, len(ranks)) for name in names), first

    # pinned pieces lie already
    for group in sorted(bonds.groups, key=lambda g: (not (g.settled and len(g.settled) == 1), rank(g))):
        _lay(problem, axis, group, phases, placed)
    return phases


def _lay(problem: Problem, axis: Axis, group: Group, phases: Array, placed: set[int]) -> None:
    members = {i: (sense, shift) for i, sense, shift in group.members}
    within = [j for j in problem.joins if j.agreement(axis) and j.a in members and j.b in members]
    outside = [
        j
        for j in problem.joins
        if j.agreement(axis) and ((j.a in members and j.b in placed) or (j.b in members and j.a in placed))
    ]
    guide = min(outside, key=lambda j: -j.weight) if outside else None  # the first of the heaviest
    held = [j for j in outside if j is not guide and _targets(j, axis)]  # must meet all the same
    wishes = [w for w in problem.wishes if w.wish.axis is axis and w.piece in members]
    repeat = problem.threads(axis).repeat
    values: list[int]
    if group.settled is not None:
        values = list(group.settled)
    elif guide is not None:
        values = [value for join in (guide, *held) for value in _meeting(join, axis, members, phases)]
    elif wishes:
        values = [members[w.piece][0] * (w.phase - members[w.piece][1]) for w in wishes]
    else:
        values = [0]
    for join in within:
        values += _closing(join, axis, members, repeat)
    values = sorted({value % repeat for value in values})

    tried = np.array(values, dtype=np.int64)
    costs = np.zeros(len(tried), dtype=np.int64)
    # one axis at a time and by the bars alone, as the eye lays a piece against another
    for join in [*within, guide, *held] if guide is not None else within:
        alone = replace(join, upright=None) if axis is Axis.LEVEL else replace(join, level=None)
        a, b = (members[i][0] * tried + members[i][1] if i in members else phases[i : i + 1] for i in (join.a, join.b))
        costs = costs + problem.join_cost(alone, a, b, a, b, colour=False)
    for wish in wishes if guide is None else ():
        costs = costs + problem.wish_cost(wish, members[wish.piece][0] * tried + members[wish.piece][1])
    best = int(tried[costs.argmin()])
    for i, (sense, shift) in members.items():
        phases[i] = (sense * best + shift) % repeat
    placed.update(members)


def _targets(join: JoinCost, axis: Axis) -> tuple[int, ...]:
    agreement = join.agreement(axis)
    return agreement.targets if agreement is not None else ()


def _meeting(guide: JoinCost, axis: Axis, members: dict[int, tuple[int, int]], phases: Array) -> list[int]:
    """Returns the values of the group's unknown at which one sample of the guiding join, or its target, meets."""
    agreement = guide.agreement(axis)
    assert agreement is not None
    values: list[int] = []
    for offset in (*agreement.targets, *(int(o) for o in agreement.offsets)):
        # phase_a − s · phase_b + offset = 0
        if guide.a in members:
            i, phase = guide.a, agreement.sense * int(phases[guide.b]) - offset
        else:
            i, phase = guide.b, agreement.sense * (int(phases[guide.a]) + offset)
        sense, shift = members[i]
        values.append(sense * (phase - shift))
    return values


def _closing(join: JoinCost, axis: Axis, members: dict[int, tuple[int, int]], repeat: int) -> list[int]:
    """Returns the two values at which a hard join within the group meets, where the group's place decides on it."""
    agreement = join.agreement(axis)
    assert agreement is not None
    (sense_a, shift_a), (sense_b, shift_b) = members[join.a], members[join.b]
    if sense_a == agreement.sense * sense_b or not agreement.targets:
        return []
    twice = sense_a * (agreement.sense * shift_b - shift_a - agreement.targets[0]) % repeat
    return [twice // 2, (twice + repeat) // 2]
