"""A card for each piece to cut by: on which bar its grain mark lies, and on which its lowest and highest corners."""

from __future__ import annotations

import itertools
from dataclasses import dataclass

from settwright.bars.frames import place_under, wrap
from settwright.bars.model import Axis, Phase
from settwright.cloth import Cloth, Sequence
from settwright.cloth.dominance import warp_dominance, weft_dominance
from settwright.geometry import Point
from settwright.makeup.model import CutPiece
from settwright.units import Units, format_fine

ON = 0.75  # mm: what lies as near as this to a bar's edge or middle lies on it
NARROW = 6.0  # mm: of a narrower bar the middle is told, its edges aren't


@dataclass(frozen=True)
class Checkpoint:
    """One place of a piece and the bars on which it lies."""

    where: str  # a mark, or the two edges that meet there: "grain mark", "hem and side back"
    at: Point  # in the piece's frame
    upright: str  # "on the left edge of rust 1"; empty where no upright bar is matched
    level: str

    @property
    def told(self) -> str:
        """The whole sentence."""
        told = [f"{text} ({axis})" for text, axis in ((self.upright, Axis.UPRIGHT), (self.level, Axis.LEVEL)) if text]
        return f"{self.where}: {', '.join(told)}"


@dataclass(frozen=True)
class CuttingCard:
    """What to check on one piece before the shears touch the cloth; the grain mark comes first."""

    piece: str
    checkpoints: tuple[Checkpoint, ...]
    turned: str  # how it lies where it doesn't lie upright and face up


def cutting_card(piece: CutPiece, phase: Phase, cloth: Cloth, units: Units = Units.CM) -> CuttingCard:
    """Returns the card of a matched piece."""
    places = [("grain mark", Point(0.0, 0.0)), *_corners(piece)]
    lies = phase.orientation
    ways = (("end for end", lies.t < 0), ("wrong side of the cloth up", lies.f < 0))
    return CuttingCard(
        piece.name,
        tuple(_checkpoint(name, at, piece, phase, cloth=cloth, units=units) for name, at in places),
        ", ".join(word for word, is_so in ways if is_so),
    )


def _corners(piece: CutPiece) -> list[tuple[str, Point]]:
    """Returns the two lowest corners of a piece, the outer ones first, and the highest one."""
    edges = piece.piece.edges
    corners = [
        (f"{_spoken(a.name)} and {_spoken(b.name)}", b.path.start)
        for a, b in itertools.pairwise((*edges, edges[0]))
        if _spoken(a.name) != _spoken(b.name)
    ]
    low = sorted(corners, key=lambda corner: round(corner[1].y, 3))[:2]
    high = max(corners, key=lambda corner: round(corner[1].y, 3), default=None)
    chosen = [*low, *([high] if high is not None and high not in low else [])]
    return list(dict.fromkeys(chosen))


def _spoken(edge: str) -> str:
    return edge.removesuffix(".right").removesuffix(".left").replace("-", " ")


def _checkpoint(where: str, at: Point, piece: CutPiece, phase: Phase, *, cloth: Cloth, units: Units) -> Checkpoint:
    place = place_under(phase, at, piece.grain_turn)
    lies = phase.orientation
    has_upright = cloth.has_upright_bars and not phase.free_u
    has_level = cloth.has_level_bars and not phase.free_v
    warp, weft = warp_dominance(cloth).dominant, weft_dominance(cloth).dominant
    upright = told_place(
        cloth.warp, place.x, Axis.UPRIGHT, units, reading=lies.reading(Axis.UPRIGHT), leading=warp.name if warp else ""
    )
    level = told_place(
        cloth.weft, place.y, Axis.LEVEL, units, reading=lies.reading(Axis.LEVEL), leading=weft.name if weft else ""
    )
    return Checkpoint(where, at, upright if has_upright else "", level if has_level else "")


def told_place(
    sequence: Sequence, place: float, axis: Axis, units: Units, *, reading: int = 1, leading: str = ""
) -> str:
    """Returns a place of the sett in words, as seen on the piece: "2 mm right of the left edge of navy 2".

    `reading` −1: the piece reads the sett backwards, so that a bar's first edge is its right or upper one. Where two
    bars meet, the `leading` one is named: it is found first.
    """
    first, last, more, less = (
        ("left edge", "right edge", "right of", "left of")
        if axis is Axis.UPRIGHT
        else ("lower edge", "upper edge", "above", "below")
    )
    if reading < 0:
        first, last = last, first
    parts: list[tuple[float, str, bool]] = []
    for bar, start in zip(sequence.bars, sequence.starts, strict=True):
        other = bar.name != leading
        parts.append((start + bar.width / 2, f"the middle of {bar.name}", other))
        if bar.width > NARROW:
            ends = ((start, first), (start + bar.width, last))
            parts += [(at, f"the {end} of {bar.name}", other) for at, end in ends]
    offs = [(wrap(place - at, sequence.repeat) * reading, name, other) for at, name, other in parts]
    off, name, _ = min(offs, key=lambda entry: (round(abs(entry[0]), 2), entry[2]))
    if abs(off) <= ON:
        return f"on {name}"
    return f"{format_fine(abs(off), units)} {more if off > 0 else less} {name}"


__all__ = ["Checkpoint", "CuttingCard", "cutting_card", "told_place"]
