"""Where a jacket's hem lies on trousers: the level at which the bars of both are held together."""

from __future__ import annotations

from dataclasses import replace

from settwright.geometry import Path, Point
from settwright.pattern.drafts.bodies import HANG_END
from settwright.pattern.piece import Draft, Line, LineKind, Piece

_CENTRES = {"trousers-front": ("crotch", "centre-front", -1.0), "trousers-back": ("seat", "centre-back", 1.0)}


def with_jacket_hem(draft: Draft, waist_to_hip: float, drop: float) -> Draft:
    """Returns trousers with the line `jacket-hem`, `drop` below the waist, on front and back beside the centre.

    A jacket that reaches below the fork hangs beside the legs, and no line is drawn. Lengths in millimetres.
    """
    return replace(draft, pieces=tuple(_lined(piece, waist_to_hip - drop) for piece in draft.pieces))


def _lined(piece: Piece, below_hip: float) -> Piece:
    if piece.name not in _CENTRES:
        return piece
    edge, centre, inwards = _CENTRES[piece.name]
    path = piece.edge(edge).path
    y = piece.edge("hip").path.start.y + below_hip
    crossed = path.where_y(y)
    if not crossed:
        return piece
    start = path.at(crossed[0])
    line = Path.line(start, start + Point(inwards * HANG_END, 0.0))
    return replace(piece, lines=(*piece.lines, Line("jacket-hem", LineKind.PLACE, line, centre, "hang-end")))
