"""The one function by which every way of placing the bars is judged, and its coefficients.

In order: hard joins broken; then the sum over joins of weight × (mean CIEDE2000 across the join, with the sequence
8 mm to each side of it, plus the capped misses of level and upright bars, what hard joins miss by once more, and a
leading or receding bar that stands doubled at the named stop); then the customs about single places. All of it in
integers, lengths in micrometres and colour differences in thousandths, so that no processor decides otherwise.
"""

from __future__ import annotations

import itertools
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Any, cast

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
MIDDLE = 1000  # µm to each side: a bar that mirrors about its middle is one bar
CELL = 50  # colours are looked up in cells of this many µm
SHARES = 4096  # what the samples of one join weigh together
LEVEL_SENSE, UPRIGHT_SENSE, COLOUR_FACTOR, WEFTS = 0, 1, 10, 11  # places in the numbers that kernels.py reads
NOTHING: Array = np.zeros(0, dtype=np.int64)
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
    watched: Array  # 4 × number of the leading or receding bar in each cell + its part (0 to 2), −1 elsewhere

    @classmethod
    def of(cls, axis: Axis, bars: Bars, names: Sequence[str], watched: Sequence[Bar | None]) -> Threads:
        """Returns the look-up of a sequence; `names` are the colours by number, `watched` bars mustn't be doubled."""
        repeat = microns(bars.repeat)
        middles = (np.arange(-(-repeat // CELL), dtype=np.int64) * CELL) + CELL // 2
        starts = np.array([microns(start) for start in bars.starts], dtype=np.int64)
        numbers = np.array([names.index(bar.colour) for bar in bars.bars], dtype=np.int64)
        bar_numbers = np.searchsorted(starts, middles, side="right") - 1
        pivot = microns(2 * bars.pivots[0]) % repeat if bars.pivots else None
        marks = np.array([4 * index if bar in watched else -1 for index, bar in enumerate(bars.bars)], dtype=np.int64)
        centres = starts + np.array([microns(bar.width / 2) for bar in bars.bars], dtype=np.int64)
        off = middles - centres[bar_numbers]
        parts = np.where(off < -MIDDLE, 0, np.where(off > MIDDLE, 2, 1))
        watch = np.where(marks[bar_numbers] < 0, -1, marks[bar_numbers] + parts)
        return cls(axis, repeat, pivot, numbers[bar_numbers], watch)

    @property
    def has_bars(self) -> bool:
        """Whether there is more than one colour."""
        return bool((self.colours != self.colours[0]).any())

    def colour_at(self, places: Array) -> Array:
        """Returns the colour numbers at places in µm."""
        return self.colours[(places % self.repeat) // CELL]

    def watched_at(self, places: Array) -> Array:
        """Returns 4 × the number of the watched bar at places in µm + its part (before, in, after middle), or −1."""
        return self.watched[(places % self.repeat) // CELL]


@dataclass(frozen=True)
class Agreement:
    """What a join asks of one axis: phase_a − sense · phase_b + offsets should be 0 modulo the repeat, in µm."""

    sense: int
    offsets: Array  # by sample
    targets: tuple[int, ...]  # offsets that a hard join must bring within the limit of 0
    within: Array  # the offsets within the repeat
    at: Array  # the targets within the repeat

    @property
    def middle(self) -> int:
        """The offset that leaves the least worst miss."""
        return (int(self.offsets.max()) + int(self.offsets.min())) // 2


@dataclass(frozen=True)
class Patch:
    """Places on both pieces whose colours are compared: µm within the repeat, by sample, with their shares."""

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
    is_mirrored: bool = False  # the sequence mirrors about the seam, instead of going on


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
    patch: Patch
    doubling: Doubling | None
    numbers: Array  # what the compiled code asks for: see kernels.py

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
class Seen:
    """What is looked up to compare colours, by kind: both directions of the sett, level bars alone, upright alone."""

    warps: Array  # colour number by cell, (kind, cell)
    wefts: Array
    counts: tuple[int, int, int]  # weft colours
    tables: Array  # ΔE between crossings in thousandths, (kind, crossing, crossing)

    @classmethod
    def of(cls, upright: Threads, level: Threads, palette: Palette) -> Seen:
        """Returns the look-up of a cloth."""
        no_warp, no_weft = np.zeros_like(upright.colours), np.zeros_like(level.colours)
        differences = (palette.differences, palette.weft_differences, palette.warp_differences)
        most = max(len(table) for table in differences)
        tables = np.zeros((3, most, most), dtype=np.int64)
        for kind, table in enumerate(differences):
            tables[kind, : len(table), : len(table)] = table
        return cls(
            np.stack((upright.colours, no_warp, upright.colours)),
            np.stack((level.colours, level.colours, no_weft)),
            (len(palette.weft), len(palette.weft), 1),
            tables,
        )

    @staticmethod
    def kind(join: JoinCost) -> int:
        """Returns which look-up a join asks for."""
        if join.level is None:
            return 2
        return 0 if join.upright is not None else 1


@dataclass(frozen=True)
class Problem:
    """All that the solver needs to know: joins and wishes in integers, over numbered instances."""

    instances: tuple[str, ...]
    upright: Threads
    level: Threads
    joins: tuple[JoinCost, ...]
    wishes: tuple[WishCost, ...]
    palette: Palette
    seen: Seen
    coefficients: Coefficients = COEFFICIENTS

    def threads(self, axis: Axis) -> Threads:
        """Returns one direction of the sett."""
        return self.level if axis is Axis.LEVEL else self.upright

    @cached_property
    def pack(self) -> tuple[Array, ...]:
        """All joins in a row, as the compiled code reads them (kernels.PACK)."""

        def row(parts: Sequence[Array]) -> Array:
            return np.concatenate(parts) if parts else NOTHING

        def begins(parts: Sequence[Array]) -> Array:
            return np.array([0, *itertools.accumulate(len(part) for part in parts)], dtype=np.int64)

        def within(asked: Agreement | None, shares: Array) -> Array:
            return np.zeros_like(shares) if asked is None else asked.within

        joins = self.joins
        levels = [NOTHING if join.level is None else join.level.at for join in joins]
        uprights = [NOTHING if join.upright is None else join.upright.at for join in joins]
        numbers = [self._numbers(join) for join in joins]
        return (
            np.stack(numbers) if numbers else np.zeros((0, 19), dtype=np.int64),
            np.array([Seen.kind(join) for join in joins], dtype=np.int64),
            begins([join.shares for join in joins]),
            begins(levels),
            begins(uprights),
            begins([join.patch.shares for join in joins]),
            row([within(join.level, join.shares) for join in joins]),
            row(levels),
            row([within(join.upright, join.shares) for join in joins]),
            row(uprights),
            row([join.shares for join in joins]),
            row([join.patch.ax for join in joins]),
            row([join.patch.ay for join in joins]),
            row([join.patch.bx for join in joins]),
            row([join.patch.by for join in joins]),
            row([join.patch.shares for join in joins]),
            self.seen.warps,
            self.seen.wefts,
            self.upright.watched,
            self.seen.tables,
        )

    @cached_property
    def colourless(self) -> tuple[Array, ...]:
        """The same with the colours left out."""
        numbers = [self._numbers(join, colour=False) for join in self.joins]
        return (np.stack(numbers) if numbers else self.pack[0], *self.pack[1:])

    @cached_property
    def ends(self) -> tuple[Array, Array]:
        """Instance numbers of the joins' first and second pieces."""
        first, second = ([join.a for join in self.joins], [join.b for join in self.joins])
        return np.array(first, dtype=np.int64), np.array(second, dtype=np.int64)

    def _numbers(self, join: JoinCost, *, colour: bool = True) -> Array:
        """Returns a join's plain numbers with what it doesn't ask for left out."""
        numbers = join.numbers.copy()
        numbers[WEFTS] = self.seen.counts[Seen.kind(join)]
        if join.level is None:
            numbers[LEVEL_SENSE] = 0
        if join.upright is None:
            numbers[UPRIGHT_SENSE] = 0
        if not colour or join.is_idle:
            numbers[COLOUR_FACTOR] = 0
        return numbers

    def join_cost(self, join: JoinCost, ua: Array, ub: Array, va: Array, vb: Array, *, colour: bool = True) -> Array:
        """Returns what a join costs at the phases of its two pieces (µm, any shapes that broadcast together).

        `colour` False leaves the colours out.
        """
        # loading compiled code takes its time
        from settwright.bars.kernels import join_costs  # noqa: PLC0415  # pyright: ignore[reportUnknownVariableType]

        shape = np.broadcast_shapes(ua.shape, ub.shape, va.shape, vb.shape)
        flat = [np.broadcast_to(phases, shape).flatten() for phases in (ua, va, ub, vb)]
        level, upright, patch = join.level, join.upright, join.patch
        kind = Seen.kind(join)
        offsets = [NOTHING if asked is None else asked.within for asked in (level, upright)]
        targets = [NOTHING if asked is None else asked.at for asked in (level, upright)]
        compiled = cast("Callable[..., Array]", join_costs)
        return compiled(
            *flat, self._numbers(join, colour=colour),
            offsets[0], targets[0], offsets[1], targets[1], join.shares,
            patch.ax, patch.ay, patch.bx, patch.by, patch.shares,
            self.seen.warps[kind], self.seen.wefts[kind], self.upright.watched, self.seen.tables[kind],
        ).reshape(shape)  # fmt: skip

    def is_doubled(self, stop: Doubling, ua: Array, ub: Array) -> Array:
        """Returns where the seam shows more of a leading or receding bar than the bar is wide (bool)."""
        a, b = ua + stop.ax, ub + stop.bx
        bar = self.upright.watched_at(a)
        if stop.is_mirrored:
            return (bar >= 0) & (bar % 4 == (2 if stop.towards > 0 else 0))
        bar = bar // 4
        more = stop.towards * wrapped(a - b, self.upright.repeat)
        return (bar >= 0) & (bar == self.upright.watched_at(b) // 4) & (more > microns(self.coefficients.doubled_from))

    def wish_miss(self, wish: WishCost, phase: Array) -> Array:
        """Returns by how much (µm) a wish goes ungranted at the phases of its piece."""
        miss = np.abs(wrapped(phase - wish.phase, self.threads(wish.wish.axis).repeat))
        return np.maximum(microns(wish.wish.off) - miss, 0) if wish.wish.off else miss

    def wish_cost(self, wish: WishCost, phase: Array) -> Array:
        """Returns what it costs to leave a wish ungranted at the phases of its piece (µm, on the wish's axis)."""
        miss = self.wish_miss(wish, phase)
        capped = np.minimum(miss, microns(self.coefficients.cap))
        return capped * (self.coefficients.wish * wish.weight * SHARES)

    def costs_by_join(self, u: Array, v: Array) -> tuple[int, ...]:
        """Returns what each join costs in a whole placing: the phases of all instances in µm."""
        return tuple(self._placed(u, v).sum(axis=0).tolist())

    def _placed(self, u: Array, v: Array) -> Array:
        from settwright.bars.kernels import placing_costs  # noqa: PLC0415  # pyright: ignore[reportUnknownVariableType]

        return cast("Callable[..., Array]", placing_costs)(*self.ends, u, v, *self.pack)

    def cost(self, u: Array, v: Array) -> int:
        """Returns what a whole placing costs: the phases of all instances in µm."""
        total = int(self._placed(u, v).sum())
        for wish in self.wishes:
            total += int(self.wish_cost(wish, (v if wish.wish.axis is Axis.LEVEL else u)[wish.piece]))
        return total

    def mean_colours(self, u: Array, v: Array) -> tuple[float, ...]:
        """Returns the mean ΔE across each join; 0 where its bars can't be matched at all."""
        return tuple(
            cost / (BAR * self.coefficients.colour * join.weight)
            for cost, join in zip(self._placed(u, v)[1].tolist(), self.joins, strict=True)
        )


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
        joins=tuple(_ready(join, number, lying, (upright, level), coefficients) for join in joins),
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
        seen=Seen.of(upright, level, palette),
        coefficients=coefficients,
    )


def phase_for(lying: Lying, at: Point, axis: Axis, place: float) -> int:
    """Returns the phase in µm that brings a point of an instance to a place in the sett."""
    on_cloth = lying.at(at)
    return microns(place - (on_cloth.y if axis is Axis.LEVEL else on_cloth.x))


def _ready(
    join: Join,
    number: Mapping[str, int],
    lying: Sequence[Lying],
    both: tuple[Threads, Threads],
    coefficients: Coefficients,
) -> JoinCost:
    upright, level = both
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
        targets = [int(offsets[dict(join.stops)[stop]])] if stop else []
        if join.hard and (axis is Axis.LEVEL or join.kind == "pair"):
            targets.append((int(offsets.max()) + int(offsets.min())) // 2)
        within = offsets % threads.repeat
        found = tuple(dict.fromkeys(targets))
        at = np.array(found, dtype=np.int64) % threads.repeat
        agreements[axis] = Agreement(s, offsets, found, within, at)
    repeats = (upright.repeat, level.repeat)
    doubling = None
    if join.named and join.a_lies and agreements[Axis.UPRIGHT] is not None and senses[Axis.UPRIGHT] > 0:
        k = dict(join.stops)[join.named]
        towards = join.a_lies * lying[a].orientation.reading(Axis.UPRIGHT)
        doubling = Doubling(microns(on_a[k].x), microns(on_b[k].x), towards, join.upright is Mode.MIRROR)
    weight = round(10 * join.weight)
    return JoinCost(
        join=join,
        a=a,
        b=b,
        weight=weight,
        shares=shares,
        level=agreements[Axis.LEVEL],
        upright=agreements[Axis.UPRIGHT],
        patch=_patch(join, on_a, on_b, senses, repeats),
        doubling=doubling,
        numbers=_numbers(weight, senses, repeats, doubling, coefficients),
    )


def _numbers(
    weight: int,
    senses: Mapping[Axis, int],
    repeats: tuple[int, int],
    stop: Doubling | None,
    c: Coefficients,
) -> Array:
    """Returns the plain numbers of a join in the order of kernels.py."""
    return np.array(
        (
            senses[Axis.LEVEL],
            senses[Axis.UPRIGHT],
            c.level * weight,
            c.upright * weight,
            repeats[1],
            repeats[0],
            microns(c.cap),
            microns(c.limit),
            c.hold * weight * SHARES,
            BROKEN,
            c.colour * weight,
            1,
            stop.ax if stop else 0,
            stop.bx if stop else 0,
            stop.towards if stop else 0,
            BAR * c.doubled * weight,
            microns(c.doubled_from),
            SHARES,
            bool(stop and stop.is_mirrored),
        ),
        dtype=np.int64,
    )


def _patch(
    join: Join,
    on_a: Sequence[Point],
    on_b: Sequence[Point],
    senses: Mapping[Axis, int],
    repeats: tuple[int, int],
) -> Patch:
    """Returns the compared places: every sample at some distances off the seam on both pieces.

    Both pieces are read in a's directions: where b reads an axis the other way round, its places run backwards.
    """
    rows: list[tuple[int, int, int, int, int]] = []
    last = len(on_a) - 1
    for index in range(last + 1):
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
    ax, ay, bx, by, shares = (np.ascontiguousarray(column) for column in np.array(rows, dtype=np.int64).T)
    return Patch(ax % repeats[0], ay % repeats[1], bx % repeats[0], by % repeats[1], shares)
