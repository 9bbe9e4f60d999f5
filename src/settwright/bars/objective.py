"""The one function by which every way of placing the bars is judged, and its coefficients.

In order: hard joins broken; then the sum over joins of weight × (mean CIEDE2000 across the join, with the sequence
8 mm to each side of it, plus the capped misses of level and upright bars, what hard joins miss by once more, and a
leading or receding bar that stands doubled at the named stop); then the customs about single places. All of it in
integers, lengths in micrometres and colour differences in thousandths, so that no processor decides otherwise.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Any

import numpy as np

from settwright.bars.frames import sense
from settwright.bars.model import Axis, Join, Mode, Orientation, Wish
from settwright.cloth import Bar, Cloth
from settwright.cloth import Sequence as Bars
from settwright.cloth.colour import Palette
from settwright.cloth.dominance import warp_dominance
from settwright.geometry import Point
from settwright.geometry.tolerances import HAND

Array = np.ndarray[Any, np.dtype[np.int64]]

MICRON = 1000  # whole units of length in a millimetre
CELL = 50  # colours are looked up in cells of this many µm
SHARES = 4096  # what the samples of one join weigh together
SIDES = (-8.0, -4.0, 0.0, 4.0, 8.0)  # mm off the seam: the bars go on across it


@dataclass(frozen=True)
class Coefficients:
    """What a mean miss of 1 mm costs, told in ΔE."""

    colour: int = 1
    level: int = 3
    upright: int = 1
    cap: float = 8.0  # mm: a miss beyond this costs no more, lest a hopeless seam spoil a good one
    wish: int = 2
    limit: float = HAND  # mm beyond the floor that a hard join may miss
    doubled: int = 6  # a leading or receding bar standing doubled at the named stop
    doubled_from: float = 2.0  # mm more than its own width
    hold: int = 6  # what a millimetre of that costs: it is there for rings that don't close, not to be traded away


COEFFICIENTS = Coefficients()
BROKEN = 10**15  # outweighs all else together
BAR = SHARES * 1000  # cost units to one ΔE of a tenth of weight
SCALE = 10 * BAR  # cost units to one ΔE of weight 1


def wrapped(miss: Array, repeat: int) -> Array:
    """Returns misses modulo the repeat, in (−repeat/2, repeat/2]."""
    half = repeat // 2
    return half - (half - miss) % repeat


def microns(length: float) -> int:
    """Returns a length in whole µm."""
    return round(length * MICRON)


@dataclass(frozen=True)
class Threads:
    """One direction of the sett, ready for look-up."""

    axis: Axis
    repeat: int  # µm
    twice_pivot: int | None  # µm; None: uneven
    colours: Array  # colour number in each cell of the repeat
    watched: Array  # number of the leading or receding bar in each cell, −1 elsewhere

    @classmethod
    def of(cls, axis: Axis, bars: Bars, names: Sequence[str], watched: Sequence[Bar | None]) -> Threads:
        """Returns the look-up of a sequence; `names` are the colours by number, `watched` bars mustn't be doubled."""
        repeat = microns(bars.repeat)
        middles = (np.arange(-(-repeat // CELL), dtype=np.int64) * CELL) + CELL // 2
        starts = np.array([microns(start) for start in bars.starts], dtype=np.int64)
        numbers = np.array([names.index(bar.colour) for bar in bars.bars], dtype=np.int64)
        bar_numbers = np.searchsorted(starts, middles, side="right") - 1
        pivot = microns(2 * bars.pivots[0]) % repeat if bars.pivots else None
        marks = np.array([index if bar in watched else -1 for index, bar in enumerate(bars.bars)], dtype=np.int64)
        return cls(axis, repeat, pivot, numbers[bar_numbers], marks[bar_numbers])

    @property
    def has_bars(self) -> bool:
        """Whether there is more than one colour."""
        return bool((self.colours != self.colours[0]).any())

    def colour_at(self, places: Array) -> Array:
        """Returns the colour numbers at places in µm."""
        return self.colours[(places % self.repeat) // CELL]

    def watched_at(self, places: Array) -> Array:
        """Returns the numbers of watched bars at places in µm, −1 elsewhere."""
        return self.watched[(places % self.repeat) // CELL]


@dataclass(frozen=True)
class Agreement:
    """What a join asks of one axis: phase_a − sense · phase_b + offsets should be 0 modulo the repeat, in µm."""

    sense: int
    offsets: Array  # by sample
    targets: tuple[int, ...]  # offsets that a hard join must bring within the limit of 0

    @property
    def middle(self) -> int:
        """The offset that leaves the least worst miss."""
        return (int(self.offsets.max()) + int(self.offsets.min())) // 2


@dataclass(frozen=True)
class Patch:
    """Places on both pieces whose colours are compared: µm, by sample, with their shares."""

    ax: Array
    ay: Array
    bx: Array
    by: Array
    shares: Array


@dataclass(frozen=True)
class Doubling:
    """The named stop of a seam: its place on both pieces in µm, and 1 where a reads towards b, −1 where away."""

    ax: int
    bx: int
    towards: int


@dataclass(frozen=True)
class JoinCost:
    """A join made ready for judging."""

    join: Join
    a: int  # instance numbers
    b: int
    weight: int  # tenths
    shares: Array
    level: Agreement | None
    upright: Agreement | None
    fine: Patch
    coarse: Patch
    doubling: Doubling | None

    @property
    def is_idle(self) -> bool:
        """Whether nothing can be asked: the sett lacks the bars, or the pivot, that it would take."""
        return self.level is None and self.upright is None

    def agreement(self, axis: Axis) -> Agreement | None:
        """Returns what is asked of an axis; None where nothing is, or nothing can be."""
        return self.level if axis is Axis.LEVEL else self.upright


@dataclass(frozen=True)
class WishCost:
    """A wish made ready: the phase that grants it."""

    wish: Wish
    piece: int
    phase: int  # µm
    weight: int  # tenths


@dataclass(frozen=True)
class Problem:
    """All that the solver needs to know: joins and wishes in integers, over numbered instances."""

    instances: tuple[str, ...]
    upright: Threads
    level: Threads
    joins: tuple[JoinCost, ...]
    wishes: tuple[WishCost, ...]
    palette: Palette
    coefficients: Coefficients = COEFFICIENTS

    def threads(self, axis: Axis) -> Threads:
        """Returns one direction of the sett."""
        return self.level if axis is Axis.LEVEL else self.upright

    @cached_property
    def _tables(self) -> tuple[Array, Array, Array]:
        return self.palette.differences, self.palette.warp_differences, self.palette.weft_differences

    def join_cost(
        self, join: JoinCost, ua: Array, ub: Array, va: Array, vb: Array, *, colour: bool = True, coarse: bool = False
    ) -> Array:
        """Returns what a join costs at the phases of its two pieces (µm, any shapes that broadcast together).

        `colour` False leaves the colours out; `coarse` compares them at fewer places.
        """
        c = self.coefficients
        cap = microns(c.cap)
        step = max(1, len(join.shares) // 12) if coarse else 1
        shares = join.shares[::step]
        total = int(shares.sum())
        cost: Array = np.zeros(np.broadcast_shapes(ua.shape, ub.shape, va.shape, vb.shape), dtype=np.int64)
        for agreement, threads, a, b, factor in (
            (join.level, self.level, va, vb, c.level),
            (join.upright, self.upright, ua, ub, c.upright),
        ):
            if agreement is None:
                continue
            base = a - agreement.sense * b
            miss = np.abs(wrapped(base[..., None] + agreement.offsets[::step], threads.repeat))
            loss = (np.minimum(miss, cap) * shares).sum(axis=-1) * SHARES // total
            cost = cost + factor * join.weight * loss
            for target in agreement.targets:
                miss = np.abs(wrapped(base + target, threads.repeat))
                cost = cost + BROKEN * (miss > microns(c.limit))
                cost = cost + c.hold * join.weight * SHARES * np.minimum(miss, microns(c.limit))
        if join.doubling is not None:
            cost = cost + BAR * c.doubled * join.weight * self.is_doubled(join.doubling, ua, ub)
        if colour and not join.is_idle:
            cost = cost + c.colour * join.weight * self._colour(join, ua, ub, va, vb, coarse=coarse)
        return cost

    def is_doubled(self, stop: Doubling, ua: Array, ub: Array) -> Array:
        """Returns where the seam shows more of a leading or receding bar than the bar is wide (bool)."""
        a, b = ua + stop.ax, ub + stop.bx
        bar = self.upright.watched_at(a)
        more = stop.towards * wrapped(a - b, self.upright.repeat)
        return (bar >= 0) & (bar == self.upright.watched_at(b)) & (more > microns(self.coefficients.doubled_from))

    def _colour(self, join: JoinCost, ua: Array, ub: Array, va: Array, vb: Array, *, coarse: bool) -> Array:
        """Returns Σ share × ΔE in thousandths."""
        patch = join.coarse if coarse else join.fine
        both, warp_only, weft_only = self._tables
        if join.level is not None and join.upright is not None:
            wefts = len(self.palette.weft)
            a = self.upright.colour_at(ua[..., None] + patch.ax) * wefts + self.level.colour_at(
                va[..., None] + patch.ay
            )
            b = self.upright.colour_at(ub[..., None] + patch.bx) * wefts + self.level.colour_at(
                vb[..., None] + patch.by
            )
            table = both
        elif join.level is not None:
            a = self.level.colour_at(va[..., None] + patch.ay)
            b = self.level.colour_at(vb[..., None] + patch.by)
            table = weft_only
        else:
            a = self.upright.colour_at(ua[..., None] + patch.ax)
            b = self.upright.colour_at(ub[..., None] + patch.bx)
            table = warp_only
        return (table[a, b] * patch.shares).sum(axis=-1) * SHARES // int(patch.shares.sum())

    def wish_cost(self, wish: WishCost, phase: Array) -> Array:
        """Returns what it costs to leave a wish ungranted at the phases of its piece (µm, on the wish's axis)."""
        miss = np.abs(wrapped(phase - wish.phase, self.threads(wish.wish.axis).repeat))
        capped = np.minimum(miss, microns(self.coefficients.cap))
        return capped * (self.coefficients.wish * wish.weight * SHARES)

    def cost(self, u: Array, v: Array) -> int:
        """Returns what a whole placing costs: the phases of all instances in µm."""
        total = sum(int(self.join_cost(join, u[join.a], u[join.b], v[join.a], v[join.b])) for join in self.joins)
        for wish in self.wishes:
            total += int(self.wish_cost(wish, (v if wish.wish.axis is Axis.LEVEL else u)[wish.piece]))
        return total

    def mean_colour(self, join: JoinCost, u: Array, v: Array) -> float:
        """Returns the mean ΔE across a join; 0 where its bars can't be matched at all."""
        if join.is_idle:
            return 0.0
        found = self._colour(join, u[join.a], u[join.b], v[join.a], v[join.b], coarse=False)
        return int(found) / BAR


UPRIGHT_AND_FACE_UP = Orientation()


@dataclass(frozen=True)
class Lying:
    """How an instance lies on the cloth."""

    name: str
    grain_turn: float = 0.0
    orientation: Orientation = UPRIGHT_AND_FACE_UP

    def at(self, point: Point) -> Point:
        """Returns where a point of the piece lies from its grain mark, in the cloth's directions."""
        return self.orientation.place(point, self.grain_turn)


def problem_of(
    lying: Sequence[Lying],
    joins: Sequence[Join],
    wishes: Sequence[Wish],
    cloth: Cloth,
    coefficients: Coefficients = COEFFICIENTS,
) -> Problem:
    """Returns the problem of placing these instances; joins and wishes must name them."""
    palette = Palette.of(cloth)
    leading = warp_dominance(cloth)
    upright = Threads.of(Axis.UPRIGHT, cloth.warp, palette.warp, (leading.dominant, leading.recessive))
    level = Threads.of(Axis.LEVEL, cloth.weft, palette.weft, ())
    number = {instance.name: index for index, instance in enumerate(lying)}
    return Problem(
        instances=tuple(number),
        upright=upright,
        level=level,
        joins=tuple(_ready(join, number, lying, upright, level) for join in joins),
        wishes=tuple(
            WishCost(
                wish,
                number[wish.piece],
                phase_for(lying[number[wish.piece]], wish.at, wish.axis, wish.place),
                round(10 * wish.weight),
            )
            for wish in wishes
        ),
        palette=palette,
        coefficients=coefficients,
    )


def phase_for(lying: Lying, at: Point, axis: Axis, place: float) -> int:
    """Returns the phase in µm that brings a point of an instance to a place in the sett."""
    on_cloth = lying.at(at)
    return microns(place - (on_cloth.y if axis is Axis.LEVEL else on_cloth.x))


def _ready(join: Join, number: Mapping[str, int], lying: Sequence[Lying], upright: Threads, level: Threads) -> JoinCost:
    a, b = number[join.a], number[join.b]
    on_a = [lying[a].at(sample.a) for sample in join.samples]
    on_b = [lying[b].at(sample.b) for sample in join.samples]
    shares = np.array([round(SHARES * sample.weight) for sample in join.samples], dtype=np.int64)
    agreements: dict[Axis, Agreement | None] = {}
    senses: dict[Axis, int] = {}
    for axis, mode, threads, stop in (
        (Axis.LEVEL, join.level, level, join.level_at),
        (Axis.UPRIGHT, join.upright, upright, join.upright_at),
    ):
        s = sense(axis, mode, lying[a].orientation, lying[b].orientation)
        senses[axis] = s
        agreements[axis] = None
        if mode is Mode.NONE or not threads.has_bars or (s < 0 and threads.twice_pivot is None):
            continue
        places = [(p.y, q.y) if axis is Axis.LEVEL else (p.x, q.x) for p, q in zip(on_a, on_b, strict=True)]
        offsets = np.array([microns(p) - s * microns(q) for p, q in places], dtype=np.int64)
        if s < 0 and threads.twice_pivot is not None:
            offsets = offsets - threads.twice_pivot
        agreement = Agreement(s, offsets, ())
        targets = [int(offsets[dict(join.stops)[stop]])] if stop else []
        if join.hard and (axis is Axis.LEVEL or join.kind == "pair"):
            targets.append(agreement.middle)
        agreements[axis] = Agreement(s, offsets, tuple(dict.fromkeys(targets)))
    doubling = None
    if join.named and join.a_lies and agreements[Axis.UPRIGHT] is not None and senses[Axis.UPRIGHT] > 0:
        k = dict(join.stops)[join.named]
        towards = join.a_lies * lying[a].orientation.reading(Axis.UPRIGHT)
        doubling = Doubling(microns(on_a[k].x), microns(on_b[k].x), towards)
    return JoinCost(
        join=join,
        a=a,
        b=b,
        weight=round(10 * join.weight),
        shares=shares,
        level=agreements[Axis.LEVEL],
        upright=agreements[Axis.UPRIGHT],
        fine=_patch(join, on_a, on_b, senses),
        coarse=_patch(join, on_a, on_b, senses, step=max(1, len(on_a) // 8)),
        doubling=doubling,
    )


def _patch(
    join: Join,
    on_a: Sequence[Point],
    on_b: Sequence[Point],
    senses: Mapping[Axis, int],
    *,
    step: int = 1,
) -> Patch:
    """Returns the compared places: every step-th sample, each at some distances off the seam on both pieces.

    Both pieces are read in a's directions: where b reads an axis the other way round, its places run backwards.
    """
    rows: list[tuple[int, int, int, int, int]] = []
    last = len(on_a) - 1
    for index in range(0, last + 1, step):
        p, q = on_a[index], on_b[index]
        off = (on_a[min(index + 1, last)] - on_a[max(index - 1, 0)]).unit.left
        share = round(SHARES * join.samples[index].weight)
        for side in SIDES if join.kind != "pair" else (0.0,):
            x, y = side * off.x, side * off.y
            rows.append(
                (
                    microns(p.x + x),
                    microns(p.y + y),
                    microns(q.x + senses[Axis.UPRIGHT] * x),
                    microns(q.y + senses[Axis.LEVEL] * y),
                    share,
                )
            )
    columns = np.array(rows, dtype=np.int64).T
    return Patch(*(np.ascontiguousarray(column) for column in columns))
