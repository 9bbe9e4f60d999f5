"""Joins, phases and drifts: the values of the bars stage.

Frames (docs/plan-format.md): a piece's point p lies on the cloth at (x, y) + S R(g) p with S = t·diag(f, 1), t and f
each ±1. Its phase is (u, v) = (x − ox, y − oy) modulo the repeat. So the sett place under p is
(u, v) + S R(g) p modulo the repeat.
"""

from __future__ import annotations

import itertools
import math
from dataclasses import dataclass
from enum import StrEnum
from functools import cached_property

import numpy as np

from settwright.commission.model import Axis, Importance
from settwright.findings import Finding
from settwright.geometry import Point


class Mode(StrEnum):
    """What the bars of one axis should do at a join."""

    CONTINUE = "continue"
    MIRROR = "mirror"
    NONE = "none"


@dataclass(frozen=True)
class Sample:
    """A matched pair of points on the two flat pieces, each in its piece's frame, with its share of the join."""

    a: Point
    b: Point
    weight: float


@dataclass(frozen=True)
class Join:
    """Anything across which bars should agree."""

    name: str  # "side seam.right"
    kind: str  # seam, overlay, lap, hang, pair
    a: str  # instance
    a_edge: str
    b: str
    b_edge: str
    level: Mode
    upright: Mode
    stretch: tuple[str, str]  # stops from and to; samples cover exactly this
    hard: bool
    importance: Importance
    weight: float
    ease: float
    samples: tuple[Sample, ...]
    level_at: str = ""  # a stop where the level bars must meet, whatever happens elsewhere
    upright_at: str = ""  # likewise for the upright bars
    stops: tuple[tuple[str, int], ...] = ()  # named places of the stretch, by sample
    named: str = ""  # the stop where no leading or receding bar should stand doubled
    a_lies: int = 0  # 1: a lies left of the seam, −1: right of it, 0: neither
    is_across: bool = False  # between a right and a left half

    @cached_property
    def along(self) -> tuple[float, ...]:
        """How far along a's side each sample lies."""
        walked = [0.0]
        for p, q in itertools.pairwise(self.samples):
            walked.append(walked[-1] + (q.a - p.a).length)
        return tuple(walked)

    @cached_property
    def places(self) -> np.ndarray:
        """The samples as an array with rows ax, ay, bx, by (float64, shape (4, samples))."""
        return np.array([(s.a.x, s.a.y, s.b.x, s.b.y) for s in self.samples], dtype=np.float64).T


@dataclass(frozen=True)
class Pin:
    """The person's word: this point of this instance lies at this place in the sett."""

    piece: str
    at: Point  # in the piece's frame
    axis: Axis
    place: float  # mm from the sett's origin
    name: str = ""  # as she said it: "centre-front"


@dataclass(frozen=True)
class Wish:
    """A custom about one place, kept where nothing speaks against it: the leading bar on the centre back."""

    piece: str
    at: Point
    axis: Axis
    place: float
    weight: float
    reason: str
    off: float = 0.0  # the point keeps this far away from the place, instead of lying on it


@dataclass(frozen=True)
class Orientation:
    """How an instance lies: t = −1 turned by 180°, f = −1 wrong side up."""

    t: int = 1
    f: int = 1

    def reading(self, axis: Axis) -> int:
        """Returns 1 where the piece reads that axis of the sett forwards, −1 where backwards."""
        return self.t * self.f if axis is Axis.UPRIGHT else self.t

    def place(self, p: Point, grain_turn: float) -> Point:
        """Returns S R(g) p."""
        c, s = math.cos(grain_turn), math.sin(grain_turn)
        return Point(self.t * self.f * (c * p.x - s * p.y), self.t * (s * p.x + c * p.y))


@dataclass(frozen=True)
class Phase:
    """Where an instance's grain mark falls in the repeat, and how the instance lies."""

    piece: str
    u: float
    v: float
    orientation: Orientation = Orientation()
    free_u: bool = False  # any upright place will do: no upright bars, or a hidden piece; u is then 0
    free_v: bool = False  # likewise for v


@dataclass(frozen=True)
class Drift:
    """How one join came out. Arrays run over its samples; None where the mode is none or no pivot exists."""

    join: str
    level: tuple[float, ...] | None
    upright: tuple[float, ...] | None
    floor: float  # the least that the worst level drift of these samples can be, wherever the pieces lie
    worst_level: float  # largest |level|, 0 where None
    worst_upright: float
    worst_at: int  # sample index of the worst level (else upright) drift
    colour: float  # mean CIEDE2000 over the samples
    summary: str  # a sentence for the tailor


@dataclass(frozen=True)
class Cycle:
    """A closed ring of joins whose level offsets don't add up: somewhere along it bars must miss by `closing`."""

    joins: tuple[str, ...]
    closing: float


@dataclass(frozen=True)
class Trade:
    """One seam let miss so that another one meets."""

    axis: Axis
    misses: str  # the join that pays
    by: float  # mm, where it should meet or in its middle
    meets: str  # the join that gains
    would_miss: float  # mm by which that one would miss otherwise


@dataclass(frozen=True)
class Order:
    """What one of the trade's customary orders would have made of it, piece after piece."""

    name: str  # "from the centre back"
    cost: float
    phases: tuple[Phase, ...]
    drifts: tuple[Drift, ...]  # how each join would have come out


@dataclass(frozen=True)
class Match:
    """The bars stage's whole answer."""

    phases: tuple[Phase, ...]
    joins: tuple[Join, ...]
    drifts: tuple[Drift, ...]
    cycles: tuple[Cycle, ...]
    cost: float
    baselines: tuple[tuple[str, float], ...]  # the trade's orders and their cost
    reasons: tuple[tuple[str, str], ...]  # (instance, which join or pin fixed it)
    findings: tuple[Finding, ...] = ()
    wishes: tuple[Wish, ...] = ()
    orders: tuple[Order, ...] = ()  # the baselines, seam by seam
    trades: tuple[Trade, ...] = ()  # what was traded against what

    def phase(self, piece: str) -> Phase:
        """Returns an instance's phase; raises KeyError."""
        for phase in self.phases:
            if phase.piece == piece:
                return phase
        raise KeyError(piece)


__all__ = [
    "Axis",
    "Cycle",
    "Drift",
    "Importance",
    "Join",
    "Match",
    "Mode",
    "Order",
    "Orientation",
    "Phase",
    "Pin",
    "Sample",
    "Trade",
    "Wish",
]
