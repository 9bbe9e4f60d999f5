"""Where the lining is cut away round a vent.

Both halves are cut alike, their seam sewn down to the vent; which half laps over is settled when the lining is basted
in, and that half is cut along the line drawn here, 15 mm beyond the edge that is felled to the vent's facing.
"""

from __future__ import annotations

from dataclasses import replace

from settwright.geometry import Path
from settwright.pattern.piece import Line, LineKind, Piece

EXTENSION = 50.0  # of the shell's vent, finished
TURNED = 15.0
OVER = 20.0  # the cut begins so far below the vent's top, slanting


def with_vent_cut(piece: Piece) -> Piece:
    """Returns a lining whose vent at the centre back has the line along which the lapping half is cut away."""
    edge = next((e for e in piece.edges if e.name == "centre-back"), None)
    at = next((n.at for n in piece.notches if n.edge == "centre-back" and n.name == "vent-top"), None)
    if edge is None or at is None or edge.path.length - at < EXTENSION:
        return piece
    top, foot = edge.path.at(at), edge.path.end
    inwards = edge.path.tangent(at).left * (EXTENSION - TURNED)
    corner = edge.path.at(at + OVER) + inwards
    line = Line("vent-cut", LineKind.PLACE, Path.line(top, corner, foot + inwards), "vent-top", "hem")
    return replace(piece, lines=(*piece.lines, line))
