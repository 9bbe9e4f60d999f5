"""Whether the outer layer of collar and lapel is large enough to lie over the inner one.

The drafts give the turn of cloth; here it is measured on the pieces, because nothing shows it until the collar
refuses to turn.
"""

from __future__ import annotations

import math
from collections.abc import Mapping

from settwright.findings import Finding, Weight
from settwright.geometry.tolerances import WALK
from settwright.pattern import Draft, Piece
from settwright.units import Units, format_fine

# outer and inner layer with the edge along which each is measured across the fold
_ACROSS_THE_FOLD = (
    ("top-collar", "under-collar", "centre-back", "under collar"),
    ("front-facing", "front", "collar-centre-back", "front's collar"),
)


def turn_findings(draft: Draft, thickness: float, units: Units = Units.CM) -> tuple[Finding, ...]:
    """Returns what there is to say of the turn of cloth, in the person's units, for a shell cloth of that thickness.

    Round a fold the outer layer needs π × the distance between the two layers' middles more (geometry; 1 mm of cloth
    takes 3.1 mm, the workroom's 1/8 in). So does one that stands round the neck outside another, on each half.
    """
    pieces = {piece.name: piece for piece in draft.pieces}
    found: list[Finding] = []
    for outer, inner, edge, said in _ACROSS_THE_FOLD:
        if _has(pieces, outer, edge) and _has(pieces, inner, edge):
            given = pieces[outer].edge(edge).path.length - pieces[inner].edge(edge).path.length
            found.append(_turned_down(f"{outer}.{edge}", said, given, math.pi * thickness, units))
    if _has(pieces, "stand-collar", "neck") and _has(pieces, "stand-collar-facing", "neck"):
        halves = [_half_neck(pieces[name]) for name in ("stand-collar", "stand-collar-facing")]
        found.append(_standing(halves[0] - halves[1], math.pi * thickness, units))
    return tuple(found)


def _has(pieces: Mapping[str, Piece], name: str, edge: str) -> bool:
    return name in pieces and any(known.name.removesuffix(".right") == edge for known in pieces[name].edges)


def _half_neck(piece: Piece) -> float:
    """Returns the length of half a stand collar's neck edge, drafted as a half or whole."""
    return next(e for e in piece.edges if e.name.removesuffix(".right") == "neck").path.length


def _turned_down(where: str, inner: str, given: float, needed: float, units: Units) -> Finding:
    deeper, turn = format_fine(given, units), format_fine(needed, units)
    if given < needed - WALK:
        return Finding(
            Weight.CAUTION,
            where,
            f"is {deeper} deeper than the {inner}; this cloth needs {turn} to turn.",
            "Cut the outer collar's edge wider by the difference, and less at its ends.",
        )
    return Finding(
        Weight.NOTE,
        where,
        f"is {deeper} deeper than the {inner}: {turn} for the turn, the rest to roll the seam under.",
    )


def _standing(given: float, needed: float, units: Units) -> Finding:
    where, shorter = "stand-collar-facing.neck", f"is {format_fine(given, units)} shorter than the collar on each half"
    if abs(given - needed) > WALK:
        return Finding(
            Weight.CAUTION,
            where,
            f"{shorter}; inside it this cloth needs {format_fine(needed, units)} less.",
            "Take in the inner collar's centre back by the difference.",
        )
    return Finding(Weight.NOTE, where, f"{shorter}, for it stands inside: stretch it on to the neck.")
