"""What was traded against what: the seam that would pay if a seam that misses were made to meet.

For each join whose bars miss more than shape alone would have it, one of its pieces is moved (with whatever is cut
alike to it) until the bars meet there; the seam that loses most by that is the one in whose favour the plan decides.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np

from settwright.bars.bonds import Bonds
from settwright.bars.model import Axis, Importance, Trade
from settwright.bars.objective import Array, JoinCost, Problem, microns, wrapped
from settwright.geometry.tolerances import HAND

LEAST = 2.0  # mm: a smaller miss is no trade to speak of


def trades_of(problem: Problem, bonds: Mapping[Axis, Bonds], u: Array, v: Array) -> tuple[Trade, ...]:
    """Returns the trades of a placing (µm), in the order of the joins; left halves repeat the right ones."""
    found: list[Trade] = []
    for axis in Axis:
        phases = v if axis is Axis.LEVEL else u
        groups = {i: group.members for group in bonds[axis].groups for i, _, _ in group.members}
        for join in problem.joins:
            if join.join.kind == "pair" or join.join.name.endswith(".left"):
                continue
            if join.join.importance not in (Importance.ALWAYS, Importance.IF_POSSIBLE):
                continue
            trade = _trade(problem, axis, join, groups, phases)
            if trade is not None:
                found.append(trade)
    return tuple(found)


def _trade(
    problem: Problem,
    axis: Axis,
    join: JoinCost,
    groups: Mapping[int, Sequence[tuple[int, int, int]]],
    phases: Array,
) -> Trade | None:
    agreement = join.agreement(axis)
    if agreement is None:
        return None
    miss = _miss_of(problem, axis, join, phases)
    if abs(miss) < microns(LEAST):
        return None
    best: tuple[int, JoinCost, int] | None = None
    for mover, way in ((join.a, -1), (join.b, agreement.sense)):
        members = {i: sense for i, sense, _ in groups[mover]}
        if (join.a in members) == (join.b in members):
            continue
        moved = phases.copy()
        for i, sense in members.items():
            moved[i] += sense * members[mover] * way * miss
        losses = [
            (other.weight * (after - before), other, after)
            for other in problem.joins
            if other is not join and other.join.kind != "pair" and other.agreement(axis) is not None
            for before, after in (
                (abs(_miss_of(problem, axis, other, phases)), abs(_miss_of(problem, axis, other, moved))),
            )
        ]
        loss, other, after = max(losses, key=lambda entry: entry[0], default=(0, join, 0))
        if loss > 0 and (best is None or loss < best[0]):
            best = (loss, other, after)
    if best is None or best[2] < microns(HAND):
        return None
    return Trade(axis, join.join.name, abs(miss) / 1000, best[1].join.name, best[2] / 1000)


def _miss_of(problem: Problem, axis: Axis, join: JoinCost, phases: Array) -> int:
    """Returns by how much (µm, signed) a join misses where it must meet or counts most, else in its middle."""
    agreement = join.agreement(axis)
    assert agreement is not None
    named = dict(join.join.stops).get(join.join.named)
    if agreement.targets:
        offset = agreement.targets[0]
    else:
        offset = agreement.middle if named is None else int(agreement.offsets[named])
    base = phases[join.a] - agreement.sense * phases[join.b] + offset
    return int(wrapped(np.asarray(base), problem.threads(axis).repeat))


__all__ = ["trades_of"]
