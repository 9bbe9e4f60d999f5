"""What hard joins, pairs and pins already settle: instances whose phases follow from one another.

On one axis a bond says phase_i = sense · phase_j + shift modulo the repeat. Bonded instances form a group with one
unknown; a pin bonds an instance to the cloth itself. Bonds are taken in order of rank: one that contradicts those
before it is left out and told.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from settwright.bars.model import Axis
from settwright.bars.objective import JoinCost, Problem, microns


@dataclass(frozen=True)
class Fixed:
    """A pin made ready: an instance's phase in µm."""

    piece: int
    phase: int
    name: str


@dataclass(frozen=True)
class Clash:
    """A bond that contradicts those before it, and by how much (µm)."""

    join: JoinCost
    miss: int


@dataclass(frozen=True)
class Group:
    """Instances that move together: phase of a member = sense · unknown + shift."""

    members: tuple[tuple[int, int, int], ...]  # (instance, sense, shift)
    settled: tuple[int, ...] | None  # the only values that the unknown may take; None: any


@dataclass(frozen=True)
class Bonds:
    """The groups of one axis, what was left out, and which join tied which instance."""

    axis: Axis
    groups: tuple[Group, ...]
    clashes: tuple[Clash, ...]
    kept: tuple[JoinCost, ...]  # bonds in force, in order of rank


EXACT = 5  # µm: a bond that closes a ring within this holds exactly


class _Bonding:
    """Weighted union of instances; instance number `count` is the cloth, whose phase is 0."""

    def __init__(self, count: int, repeat: int):
        self.repeat = repeat
        self.root = list(range(count + 1))
        self.sense = [1] * (count + 1)
        self.shift = [0] * (count + 1)
        self.cloth = count
        self.doubled: dict[int, int] = {}  # root: K, where 2 · unknown ≡ K

    def wrapped(self, value: int) -> int:
        half = self.repeat // 2
        return half - (half - value) % self.repeat

    def bond(self, i: int, j: int, sense: int, shift: int) -> int:
        """Asks that phase_i = sense · phase_j + shift; returns 0, or by how much it is contradicted."""
        if self.root[i] == self.root[j]:
            return self._close(i, j, sense, shift)
        if self.root[j] == self.root[self.cloth]:
            # the cloth's root stays: ask the other way round
            i, j, shift = j, i, -sense * shift
        keep, lose = self.root[i], self.root[j]
        # unknown_lose = turn · unknown_keep + by
        turn = self.sense[j] * sense * self.sense[i]
        by = self.sense[j] * (sense * (self.shift[i] - shift) - self.shift[j])
        doubled = self.doubled.pop(lose, None)
        for k, root in enumerate(self.root):
            if root == lose:
                self.root[k] = keep
                self.shift[k] += self.sense[k] * by
                self.sense[k] *= turn
        if doubled is None:
            return 0
        return self._double(keep, turn * (doubled - 2 * by))

    def _close(self, i: int, j: int, sense: int, shift: int) -> int:
        gap = self.shift[i] - sense * self.shift[j] - shift
        if self.root[i] == self.root[self.cloth] or self.sense[i] == sense * self.sense[j]:
            return self.wrapped(gap)
        return self._double(self.root[i], -self.sense[i] * gap)

    def _double(self, root: int, k: int) -> int:
        """Asks that 2 · unknown ≡ k."""
        if root == self.root[self.cloth]:
            return self.wrapped(-k)
        known = self.doubled.setdefault(root, k)
        return self.wrapped(known - k)


def bonds_of(problem: Problem, axis: Axis, pins: Sequence[Fixed], *, pairs_only: bool) -> Bonds:
    """Returns the groups that pins, hard joins (by weight) and then pairs make on one axis.

    `pairs_only` leaves the hard joins out: what then moves together must do so exactly.
    """
    threads = problem.threads(axis)
    count = len(problem.instances)
    bonding = _Bonding(count, threads.repeat)
    clashes: list[Clash] = []
    kept: list[JoinCost] = []
    for pin in pins:
        bonding.bond(pin.piece, bonding.cloth, 1, pin.phase)
    hard = [join for join in problem.joins if _target(join, axis) is not None]
    hard.sort(key=lambda join: (join.join.kind == "pair", -join.weight))  # stable
    for join in hard:
        agreement, target = join.agreement(axis), _target(join, axis)
        assert agreement is not None
        assert target is not None
        is_pair = join.join.kind == "pair"
        if pairs_only and not is_pair:
            continue
        miss = bonding.bond(join.a, join.b, agreement.sense, -target)
        if abs(miss) > (EXACT if is_pair else microns(problem.coefficients.limit)):
            clashes.append(Clash(join, miss))
        else:
            kept.append(join)
    return Bonds(axis, _groups(bonding, count), tuple(clashes), tuple(kept))


def _target(join: JoinCost, axis: Axis) -> int | None:
    agreement = join.agreement(axis)
    return agreement.targets[0] if agreement is not None and agreement.targets else None


def _groups(bonding: _Bonding, count: int) -> tuple[Group, ...]:
    roots = sorted(set(bonding.root[:count]), key=bonding.root.index)
    groups: list[Group] = []
    for root in roots:
        members = tuple((i, bonding.sense[i], bonding.shift[i]) for i in range(count) if bonding.root[i] == root)
        settled: tuple[int, ...] | None = None
        if root == bonding.root[bonding.cloth]:
            # the cloth's own phase is 0, whatever the unknown's sense to it
            settled = (-bonding.sense[bonding.cloth] * bonding.shift[bonding.cloth],)
        elif root in bonding.doubled:
            k = bonding.doubled[root] % bonding.repeat
            settled = (k // 2, (k + bonding.repeat) // 2)
        groups.append(Group(members, settled))
    return tuple(groups)
