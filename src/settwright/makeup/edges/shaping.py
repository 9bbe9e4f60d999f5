"""What a shaped facing asks of the cloth, station by station, and what to do where it asks too much."""

from __future__ import annotations

import itertools
import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from enum import StrEnum

from settwright.cloth.give import Give
from settwright.makeup.edges.bending import End, lies_flat, slipped, stretched, tuck_depth
from settwright.makeup.edges.strip import Strip

STATION = 30.0  # between stations along the edge
IRON_ALONE = 0.4  # up to this part of what the cloth takes, the iron alone does it: common practice, no source
UNSAID = 0.3  # mm: less than this over a station isn't worth an iron
_CANDIDATES = 12  # places along the edge that are tried for a join
_MOST_JOINS = 2
_LEAST_TURN = 0.05  # radians: a tuck for less can't be sewn


class Way(StrEnum):
    """How a stretch of the strip is brought to its shape."""

    AS_IT_LIES = "as it lies"
    IRON = "by the iron alone"
    STRETCH = "stretched damp, in several goes"
    EASE = "with ease bastings"
    NOT = "not on this curve"


@dataclass(frozen=True)
class Station:
    """A stretch of the edge from one mark to the next, and what the inner edge of the strip has to do there."""

    name: str  # "1", "2" …, from the top down
    start: float  # along the edge
    end: float
    change: float  # of the inner edge's length in mm; negative: to shrink
    part: float  # the largest part by which a thread there must change; negative: shrink
    askew: float  # largest angle by which crosswise threads leave the square, radians, signed
    cut_depth: float  # at its start: depth of the strip along its threads
    depth: float  # at its start: finished, square to the edge
    way: Way

    @property
    def length(self) -> float:
        """Along the edge."""
        return self.end - self.start


@dataclass(frozen=True)
class Remedy:
    """What would make a curve possible that asks too much."""

    joins: tuple[float, ...]  # along the edge, from the top; empty: no join helps
    gentler: float  # the part of its turning that the edge may keep, 0 to 1
    tuck_at: float  # where a tuck would do it, along the edge
    tuck_depth: float  # its width at the inner edge; 0: no tuck helps, for the inner edge is too short there


@dataclass(frozen=True)
class Shaping:
    """A straight strip along an edge: how it lies and what it asks of the cloth."""

    strip: Strip
    give: Give
    along_warp: bool  # the strip's length lies along the warp; else along the weft
    stations: tuple[Station, ...]
    ends: tuple[End, End]
    remedy: Remedy | None  # where it asks too much

    @property
    def way(self) -> Way:
        """How the whole is done: the hardest of its stations."""
        order = list(Way)
        return max((station.way for station in self.stations), key=order.index)

    @property
    def shrunk(self) -> float:
        """What the inner edge loses in all, mm."""
        return sum(max(-station.change, 0.0) for station in self.stations)

    @property
    def grown(self) -> float:
        """What the inner edge is stretched by in all, mm."""
        return sum(max(station.change, 0.0) for station in self.stations)

    @property
    def most_askew(self) -> float:
        """The largest angle by which crosswise threads leave the square, radians."""
        return max(abs(slip) for slip in self.strip.slips)

    @property
    def deepest(self) -> float:
        """The strip's depth as cut, without allowances."""
        return max(self.strip.depths)


def shaping_of(strip: Strip, give: Give, *, along_warp: bool, ends: tuple[End, End]) -> Shaping:
    """Returns what a strip asks of its cloth; a remedy is sought only where it asks too much."""
    stations = tuple(_stations(strip, give, along_warp))
    asks_too_much = any(station.way is Way.NOT for station in stations)
    remedy = _remedy(strip, give, along_warp, ends) if asks_too_much else None
    return Shaping(strip, give, along_warp, stations, ends, remedy)


def use_of(
    bends: Sequence[float], slips: Sequence[float], depths: Sequence[float], give: Give, *, along_warp: bool
) -> float:
    """Returns the largest part of what the cloth takes that any step of a strip asks for; above 1 is too much."""
    shrink, stretch = give.shrink(along_warp), give.stretch(along_warp)
    worst = max(*slips, -min(slips)) / give.shear
    for i, bend in enumerate(bends):
        lean, depth = math.cos((slips[i] + slips[i + 1]) / 2), (depths[i] + depths[i + 1]) / 2
        pull = bend * depth
        if lean + pull <= 0.0:
            return math.inf
        part = math.sqrt(1.0 + 2 * pull * lean + pull * pull) - 1.0
        worst = max(worst, part / stretch if part > 0 else -part / shrink)
    return worst


def _use(bend: float, slip: float, depth: float, give: Give, along_warp: bool) -> float:
    """Returns what part of the cloth's limit a lengthwise thread asks for at a depth; infinite where cloth folds."""
    if not lies_flat(bend, slip, depth):
        return math.inf
    part = stretched(bend, slip, depth)
    return part / give.stretch(along_warp) if part > 0 else -part / give.shrink(along_warp)


def _stations(strip: Strip, give: Give, along_warp: bool) -> list[Station]:
    count = max(1, round(strip.length / STATION))
    steps = len(strip.bends)
    marks = [round(i * steps / count) for i in range(count + 1)]
    found: list[Station] = []
    for number, (first, last) in enumerate(itertools.pairwise(marks), 1):
        change, part, use = 0.0, 0.0, 0.0
        for i in range(first, last):
            slip = (strip.slips[i] + strip.slips[i + 1]) / 2
            depth = (strip.depths[i] + strip.depths[i + 1]) / 2
            here = stretched(strip.bends[i], slip, depth)
            change += here * strip.step
            part = here if abs(here) > abs(part) else part
            use = max(use, _use(strip.bends[i], slip, depth, give, along_warp))
        askew = max(strip.slips[first : last + 1], key=abs)
        slip, depth = strip.slips[first], strip.depths[first]
        found.append(
            Station(
                name=str(number),
                start=first * strip.step,
                end=last * strip.step,
                change=change,
                part=part,
                askew=askew,
                cut_depth=depth,
                depth=depth * math.cos(slip),
                way=_way(use, abs(askew) / give.shear, change),
            )
        )
    return found


def _way(use: float, askew: float, change: float) -> Way:
    if max(use, askew) > 1.0:
        return Way.NOT
    if abs(change) < UNSAID and askew < 0.05:
        return Way.AS_IT_LIES
    if use <= IRON_ALONE:
        return Way.IRON
    return Way.EASE if change < 0 else Way.STRETCH


def _remedy(strip: Strip, give: Give, along_warp: bool, ends: tuple[End, End]) -> Remedy:
    turns = [after - before for before, after in itertools.pairwise(strip.headings)]

    def use(first: int, last: int, part: float = 1.0) -> float:
        """Returns what the strip from node to node asks, free where it is cut through, its turning eased to a part."""
        own = (ends[0] if first == 0 else End.FREE, ends[1] if last == len(turns) else End.FREE)
        depths = strip.depths[first : last + 1]
        eased = [turn * part for turn in turns[first:last]]
        slips = slipped(eased, depths, strip.step, give.askew_over_shrink, own)
        bends = [(b - a - turn) / strip.step for (a, b), turn in zip(itertools.pairwise(slips), eased, strict=True)]
        return use_of(bends, slips, depths, give, along_warp=along_warp)

    whole = len(turns)
    low, high = 0.0, 1.0
    for _ in range(8):
        middle = (low + high) / 2
        low, high = (middle, high) if use(0, whole, middle) <= 1.0 else (low, middle)
    worst = max(range(whole), key=lambda i: _use(strip.bends[i], strip.slips[i], strip.depths[i], give, along_warp))
    tuck = _tuck(strip, turns, worst)
    joins = _joins(use, whole)
    return Remedy(tuple(join * strip.step for join in joins), low, worst * strip.step, tuck)


def _joins(use: Callable[[int, int], float], whole: int) -> tuple[int, ...]:
    """Returns the fewest joins that make each part possible, placed so that the hardest asks least; () for none."""
    cuts = [0]
    every = max(1, whole // _CANDIDATES)
    for _ in range(_MOST_JOINS):
        ends = [*cuts[1:], whole]
        parts = list(zip(cuts, ends, strict=True))
        first, last = max(parts, key=lambda part: use(*part))
        tried = [i for i in range(first + every, last, every) if i - first >= 4 and last - i >= 4]
        if not tried:
            return ()
        best = min(tried, key=lambda i: (round(max(use(first, i), use(i, last)), 9), i))
        cuts = sorted([*cuts, best])
        if all(use(a, b) <= 1.0 for a, b in zip(cuts, [*cuts[1:], whole], strict=True)):
            return tuple(cuts[1:])
    return ()


def _tuck(strip: Strip, turns: Sequence[float], at: int) -> float:
    """Returns how wide a tuck at the inner edge takes up the turning round a step; 0 where the edge turns away."""
    reach = max(1, round(strip.depths[at] / 2 / strip.step))
    turn = sum(turns[max(0, at - reach) : at + reach + 1])
    return tuck_depth(strip.depths[at], turn) if turn > _LEAST_TURN else 0.0
