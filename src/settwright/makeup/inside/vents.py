"""Where the lining is cut away round a vent.

The seam of the lining is sewn down to the vent's top. The lining of the side that laps over is cut along the line
drawn here, 15 mm beyond the edge that is felled to the vent's facing; the other side's is as wide as the lap, and
felled to it. Where both halves are cut alike, which one laps over is settled when the lining is basted in.
"""

from __future__ import annotations

from dataclasses import replace

from settwright.geometry import Path
from settwright.pattern.drafts.vents import FACING, FOLD, TOP, UNDER, lap_width
from settwright.pattern.piece import Line, LineKind, Piece

TURNED = 15.0
OVER = 0.4  # of the facing's width: the cut begins so far below the vent's top, slanting as the facing does


def with_vent_cut(piece: Piece) -> Piece:
    """Returns a lining, still with its shell's lines, with the line along which the lapping side is cut away."""
    is_over = any(line.name == FOLD and line.kind is LineKind.FOLD for line in piece.lines)
    lap = next((line for line in piece.lines if line.name in (FACING, UNDER)), None)
    notch = next((notch for notch in piece.notches if notch.name == TOP and notch.edge != FOLD), None)
    if not is_over or lap is None or notch is None:
        return piece
    path, hem = piece.edge(notch.edge).path, piece.stop(notch.edge, "hem")
    seam = path.part(notch.at, hem)
    wide = lap_width(lap)
    into = wide - TURNED if (piece.area > 0) == (notch.at > hem) else TURNED - wide
    corner = seam.at(OVER * wide) + seam.tangent(OVER * wide).right * into
    foot = seam.end + seam.end_tangent.right * into
    line = Line("vent-cut", LineKind.PLACE, Path.line(seam.start, corner, foot), TOP, "hem")
    return replace(piece, lines=(*piece.lines, line))
