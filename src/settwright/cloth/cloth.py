"""A length of cloth: its sett in warp and weft, its width, its way of lying and what is wrong with it."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from functools import cached_property

from settwright.cloth.give import WOOL, Give


@dataclass(frozen=True, slots=True)
class Bar:
    """One coloured band of a sett. `name` is its id: the colour and its count from the sett's start ("navy 2")."""

    name: str
    colour: str  # name of a colour of the cloth
    width: float


@dataclass(frozen=True)
class Sequence:
    """The bars of one direction over one whole repeat, in order from the sett's origin."""

    bars: tuple[Bar, ...]

    @cached_property
    def repeat(self) -> float:
        """Width of one repeat."""
        return sum(bar.width for bar in self.bars)

    @cached_property
    def starts(self) -> tuple[float, ...]:
        """Where each bar begins, from the sett's origin."""
        total, starts = 0.0, list[float]()
        for bar in self.bars:
            starts.append(total)
            total += bar.width
        return tuple(starts)

    def bar_at(self, place: float) -> Bar:
        """Returns the bar that covers a place (taken modulo the repeat)."""
        place %= self.repeat
        for bar, start in zip(reversed(self.bars), reversed(self.starts), strict=True):
            if place >= start:
                return bar
        return self.bars[0]

    @cached_property
    def pivots(self) -> tuple[float, ...]:
        """The places about which the sequence reads the same both ways, in [0, repeat): none or two.

        Bars of one colour that touch count as one bar; widths equal within 0.05 mm count as equal.
        """
        merged: list[tuple[str, float, float]] = []
        for bar, start in zip(self.bars, self.starts, strict=True):
            if merged and merged[-1][0] == bar.colour:
                merged[-1] = (bar.colour, merged[-1][1], merged[-1][2] + bar.width)
            else:
                merged.append((bar.colour, start, bar.width))
        if len(merged) > 1 and merged[0][0] == merged[-1][0]:
            last = merged.pop()
            merged[0] = (last[0], last[1] - self.repeat, last[2] + merged[0][2])
        n = len(merged)
        if n == 1:
            return (0.0, self.repeat / 2)
        return tuple(
            sorted(
                (start + width / 2) % self.repeat
                for i, (_, start, width) in enumerate(merged)
                if all(
                    merged[(i + k) % n][0] == merged[(i - k) % n][0]
                    and abs(merged[(i + k) % n][2] - merged[(i - k) % n][2]) < 0.05
                    for k in range(1, n // 2 + 1)
                )
            )
        )

    @property
    def is_even(self) -> bool:
        """Whether it reads the same from both sides."""
        return bool(self.pivots)


class Nap(StrEnum):
    """Whether all pieces must lie the same way up."""

    NONE = "none"
    ONE_WAY = "one-way"


@dataclass(frozen=True, slots=True)
class Fault:
    """A place on the cloth that no piece may touch: a polygon in the cloth frame, millimetres."""

    name: str
    outline: tuple[tuple[float, float], ...]
    may_be_hidden: bool = False  # a stain, not a hole: pieces that don't show may lie on it


@dataclass(frozen=True)
class Cloth:
    """One cloth. `warp` runs across the width (upright bars), `weft` along the length (level bars).

    A plain cloth has one bar in each; a stripe has one bar in the weft.
    """

    name: str  # id in the commission: "shell"
    title: str
    colours: tuple[tuple[str, str], ...]  # (name, "#rrggbb")
    warp: Sequence
    weft: Sequence
    width: float  # from edge to edge
    selvedge: float  # unusable at each side
    thickness: float
    nap: Nap = Nap.NONE
    weave: str = "twill"  # "plain", "twill" or "satin"
    faces_alike: bool = False  # whether the wrong side may be used as the right one
    sett_at_left: float = 0.0  # ox: where in the cloth frame the warp sequence's origin lies
    sett_at_end: float | None = None  # oy likewise for a squared length in hand; None: free, chosen when buying
    price_per_metre: float | None = None
    length_in_hand: float | None = None
    shrinkage_warp: float = 0.02  # part of the length lost to sponging, until measured
    shrinkage_weft: float = 0.01
    faults: tuple[Fault, ...] = ()
    dominant_warp: str | None = None  # bar named by the person; None: as suggested
    dominant_weft: str | None = None
    give: Give = WOOL  # what it takes under the iron

    @property
    def is_plain(self) -> bool:
        """Whether there is nothing to match."""
        return len({bar.colour for bar in self.warp.bars} | {bar.colour for bar in self.weft.bars}) == 1

    @property
    def has_level_bars(self) -> bool:
        """Whether weft bars differ, so that pieces must agree in height."""
        return len({bar.colour for bar in self.weft.bars}) > 1

    @property
    def has_upright_bars(self) -> bool:
        """Whether warp bars differ, so that pieces must agree sideways."""
        return len({bar.colour for bar in self.warp.bars}) > 1
