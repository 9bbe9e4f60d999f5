"""How much cloth to buy, each part with its own figure, beside what the trade's rules of thumb would buy."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass

from settwright.cloth import Cloth
from settwright.geometry import Point
from settwright.layout.model import Layout
from settwright.makeup.model import CutPiece
from settwright.pattern import Layer
from settwright.units import YARD

# Common practice, no source: what the ends lose when they are squared, both together; a strip across the cloth for
# pressing and thread trials; a strip for trial buttonholes with their interlining. Linings and what lies between are
# tried on their scraps.
SQUARING = 50.0
SWATCHES = 80.0
TRIAL_BUTTONHOLES = 60.0
PLAIN_USAGE = 0.8  # part of plain cloth that pieces usually cover; common practice, no source
LARGE_REPEAT = 100.0  # a repeat called large; common practice, no source


@dataclass(frozen=True)
class Reckoning:
    """Cloth for one layout, in mm of length. `buy` is `lays_in` and all `parts` together."""

    lays_in: float
    buy: float
    parts: tuple[tuple[str, float], ...]  # (what it is for, length)
    rule_of_thumb: float  # the upper middle one of `rules`
    sure_bound: float  # no layout can be shorter: area ÷ usable width, or the longest piece
    rules: tuple[tuple[str, float], ...]  # (rule of the trade, what it would buy), shortest first


def reckon(layout: Layout, pieces: Iterable[CutPiece], cloth: Cloth, *, is_toile: bool = False) -> Reckoning:
    """Returns what to buy for a layout of these pieces on this cloth, beside the trade's rules of thumb.

    A toile is fitted and taken apart: nothing is tried on its cloth.
    """
    pieces = tuple(pieces)
    usable = cloth.width - 2 * cloth.selvedge
    area = sum(_area(piece.cutting_line) for piece in pieces)
    heights = [_height(piece) for piece in pieces]
    besides = [("squaring both ends", SQUARING)]
    if not is_toile and any(piece.piece.layer is Layer.SHELL for piece in pieces):
        besides.append(("swatches for pressing and thread", SWATCHES))
    if not is_toile and any(mark.name.startswith("button") for piece in pieces for mark in piece.piece.marks):
        besides.append(("trial buttonholes", TRIAL_BUTTONHOLES))
    matched = [piece for piece in pieces if piece.is_matched] if cloth.has_level_bars else []
    parts = list(besides)
    if matched and cloth.sett_at_end is None:
        parts.append(("beginning at the right bar, one repeat at most", cloth.weft.repeat))
    parts.append(_shrinkage(layout.length + sum(length for _, length in parts), cloth))
    extras = sum(length for _, length in besides)
    plain = area / usable / PLAIN_USAGE
    rules = sorted(
        ((name, dry + _shrinkage(dry, cloth)[1]) for name, dry in _rules(plain + extras, plain, matched, cloth)),
        key=lambda rule: (rule[1], rule[0]),
    )
    return Reckoning(
        lays_in=layout.length,
        buy=layout.length + sum(length for _, length in parts),
        parts=tuple(parts),
        rule_of_thumb=rules[len(rules) // 2][1],
        sure_bound=max([area / usable, *heights]),
        rules=tuple(rules),
    )


def _shrinkage(length: float, cloth: Cloth) -> tuple[str, float]:
    """Returns what must be bought besides, so that `length` is left after sponging."""
    return "shrinkage in sponging", length / (1 - cloth.shrinkage_warp) - length


def _rules(start: float, plain: float, matched: list[CutPiece], cloth: Cloth) -> list[tuple[str, float]]:
    """Returns the trade's rules for extra cloth, before shrinkage, on what plain cloth would take."""
    if not matched:
        return [("plain cloth, pieces covering four fifths", start)]
    repeat = cloth.weft.repeat
    levels = max(1, math.ceil(plain / (sum(_height(piece) for piece in matched) / len(matched))))
    is_hard = repeat > LARGE_REPEAT or not (cloth.warp.is_even and cloth.weft.is_even)
    return [
        # Butterick, The New Dressmaker (1921), p. 34: up to one plaid lost for each gore that starts a new level
        ("a repeat for each row of pieces along the cloth", start + levels * repeat),
        # Stitch magazine (2010): a quarter of a yard; half a yard to a yard where the repeat is large or uneven
        ("a yard more" if is_hard else "a quarter of a yard more", start + (YARD if is_hard else YARD / 4)),
        ("half a yard more", start + YARD / 2),  # thriftyfun
        ("a quarter more", start + plain / 4),  # The Sewtionary
    ]


def _area(corners: tuple[Point, ...]) -> float:
    return abs(sum(a.cross(b) for a, b in zip(corners, (*corners[1:], corners[0]), strict=True))) / 2


def _height(piece: CutPiece) -> float:
    """Returns how much of the cloth's length a piece takes, upright."""
    c, s = math.cos(piece.grain_turn), math.sin(piece.grain_turn)
    levels = [s * p.x + c * p.y for p in piece.cutting_line]
    return max(levels) - min(levels)
