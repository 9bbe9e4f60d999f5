"""Where each piece lies, told as the tailor finds it: by counted bars first, by tape as the check."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass

from settwright.cloth import Cloth, Sequence
from settwright.geometry.tolerances import HAND
from settwright.layout.model import Layout
from settwright.makeup.model import CutPiece
from settwright.units import Units, format_length


@dataclass(frozen=True)
class Place:
    """The place of one piece's grain mark on the cloth."""

    piece: str
    told: str  # by counted bars
    from_selvedge: float  # tape from the cloth's left edge, mm
    from_end: float  # tape from the squared end, mm


def places_of(layout: Layout, pieces: Iterable[CutPiece], cloth: Cloth, units: Units = Units.CM) -> tuple[Place, ...]:
    """Returns the places of all pieces of a layout in the order of cutting."""
    cut = {piece.name: piece for piece in pieces}
    lying = {placement.name: placement for placement in layout.placements}
    places: list[Place] = []
    for name in cutting_order(cut[placement.name] for placement in layout.placements):
        at = lying[name]
        told: list[str] = []
        if cut[name].is_matched and cloth.has_upright_bars:
            bar = counted(cloth.warp, at.x - cloth.sett_at_left, cloth.selvedge - cloth.sett_at_left, units)
            told.append(bar.told("left", "right", "left selvedge"))
        if cut[name].is_matched and cloth.has_level_bars:
            bar = counted(cloth.weft, at.y - layout.oy, -layout.oy, units)
            told.append(bar.told("lower", "upper", "end"))
        if not told:
            told.append("by tape")
        if at.t == -1:
            told.append("turned, its top towards the end")
        if at.f == -1:
            told.append("wrong side of the cloth up")
        places.append(Place(name, ", ".join(told), at.x, at.y))
    return tuple(places)


def cutting_order(pieces: Iterable[CutPiece]) -> tuple[str, ...]:
    """Returns the names of the pieces in the order of cutting.

    Matched pieces along the centre back come first, for the match begins there; then the other matched pieces as
    they are made up; then those on the bias; then what lies anywhere.
    """

    def rank(piece: CutPiece) -> int:
        if not piece.is_matched:
            return 3
        if piece.on_bias:
            return 2
        return 0 if any(edge.name == "centre-back" for edge in piece.piece.edges) else 1

    return tuple(piece.name for piece in sorted(pieces, key=rank))


@dataclass(frozen=True)
class Counted:
    """A bar found by counting, and where in it something lies."""

    name: str
    count: int  # the how-manieth of its name, counted from the selvedge or the end
    inside: float  # mm from the edge that comes first
    width: float
    units: Units

    def told(self, first: str, last: str, start: str) -> str:
        """Returns the place in words; `first` and `last` name the bar's edges, `start` where counting begins."""
        bar = f"the {ordinal(self.count)} {self.name} bar from the {start}"
        rest = self.width - self.inside
        if abs(self.inside - self.width / 2) < HAND and self.width > 4 * HAND:
            return f"in the middle of {bar}"
        edge, distance = (first, self.inside) if self.inside <= rest else (last, rest)
        if distance < HAND:
            return f"on the {edge} edge of {bar}"
        return f"{format_length(distance, self.units)} inside the {edge} edge of {bar}"


def counted(sequence: Sequence, place: float, start: float, units: Units = Units.CM) -> Counted:
    """Returns the bar under a place of the sett, counted from `start` (both from the sett's origin, unwrapped).

    A bar that `start` cuts counts when at least HAND of it is to be seen.
    """
    turns, within = divmod(round(place, 6), sequence.repeat)
    bar = sequence.bar_at(within)
    first = sequence.starts[sequence.bars.index(bar)]
    before = math.floor((start + HAND - first - bar.width) / sequence.repeat)
    return Counted(bar.name, int(turns) - before, within - first, bar.width, units)


def ordinal(number: int) -> str:
    """Returns 1st, 2nd, 3rd, 4th …"""
    if number % 100 in (11, 12, 13):
        return f"{number}th"
    return f"{number}{ {1: 'st', 2: 'nd', 3: 'rd'}.get(number % 10, 'th') }"
