"""Vents: a seam left open below, one side lapping over the other.

The seam's own line goes on to the hem and is where the edge is seen: a fold on the side that laps over, its facing cut
on beyond it, and on the side below the line on which that fold lies, its lap cut on as far. The top of what is cut on
slants down from the seam, so that it is sewn down through all layers without a step. Where both halves of a piece meet
they are cut alike and both have the fold; the one that laps over is turned on it. Widths and slant are common
practice, no source.
"""

from __future__ import annotations

from dataclasses import replace

from settwright.geometry import Path, fair_curve
from settwright.pattern.drafts.parts import Parts
from settwright.pattern.drafts.record import Recorder
from settwright.pattern.piece import Line, LineKind, Meeting, Notch, Piece, Side, Touch

LAP = 50.0  # of a jacket or skirt
SLEEVE_LAP = 38.0
TOP, CORNER = "vent-top", "vent-corner"
FOLD, FACING, UNDER = "vent-fold", "vent-facing", "vent-lap"

_SLANT = 0.4  # of the lap's width, by which its top falls to the outside
_FROM_THE_BACK = ("back", "side-back", "side", "side-front", "front")


def with_vents(r: Recorder, jacket: Parts) -> Parts:
    """Returns a jacket's body with its vents: behind, the half that laps over as the front does; at the sides, the
    back over the front."""
    pieces = {piece.name: piece for piece in jacket.pieces}
    touches: list[Touch] = []
    for each in (joining for joining in jacket.joinings if TOP in joining.stops):
        over, under = sorted((each.a, each.b), key=_from_the_back)
        laps = {under: (UNDER, each.across), over: (UNDER if each.across else FACING, True)}
        for side, (name, is_fold) in laps.items():
            pieces[side.piece] = lapped(pieces[side.piece], side.edge, LAP, name, is_fold=is_fold)
            record_lap(r, pieces[side.piece])
        touches.append(vent_touch("back-vent" if each.across else "side-vent", over, under, across=each.across))
    return replace(jacket, pieces=tuple(pieces.values()), touches=(*jacket.touches, *touches))


def _from_the_back(side: Side) -> int:
    return _FROM_THE_BACK.index(side.piece.removesuffix("-lower"))


def lapped(piece: Piece, edge: str, wide: float, name: str, *, is_fold: bool) -> Piece:
    """Returns a piece with what is cut on at the vent of an edge, from its top to the hem, drawn beyond the seam."""
    top, hem = piece.stop(edge, TOP), piece.stop(edge, "hem")
    seam, slant = piece.edge(edge).path.part(top, hem), _SLANT * wide
    outwards = wide if (piece.area > 0) == (top < hem) else -wide
    outer = fair_curve([seam.at(s) + seam.tangent(s).right * outwards for s in seam.stations(20.0, slant)])
    outline = Path.line(seam.start, outer.start).then(outer, Path.line(outer.end, seam.end))
    kind = LineKind.FOLD if is_fold else LineKind.PLACE
    lines = (Line(FOLD, kind, seam, TOP, "hem"), Line(name, LineKind.PLACE, outline, TOP, "hem"))
    corner = Notch(CORNER, name, outline.segments[0].length)
    return replace(piece, lines=(*piece.lines, *lines), notches=(*piece.notches, corner))


def lap_width(lap: Line) -> float:
    """Returns how wide a lap or facing is at the hem."""
    return lap.path.segments[-1].length


def vent_touch(name: str, over: Side, under: Side, *, across: bool = False) -> Touch:
    """Returns how the fold of the side that laps over lies on the other side's line."""
    return Touch(name, Meeting.LAP, Side(over.piece, FOLD), Side(under.piece, FOLD), (TOP, "hem"), across=across)


def record_lap(r: Recorder, piece: Piece) -> None:
    """Keeps the lines of a piece's vent and the width of its lap."""
    r.found("lap of the vent", piece.name, "beyond the seam's line, down to the hem", LAP)
    for line in (line for line in piece.lines if line.name in (FOLD, FACING, UNDER)):
        rule = _RULES[line.name, line.kind]
        r.drawn(line.name.replace("-", " "), piece.name, rule, line.path)


_RULES = {
    (FOLD, LineKind.FOLD): "the seam's own line from the vent's top to the hem: the edge is turned here",
    (FOLD, LineKind.PLACE): "the seam's own line from the vent's top to the hem: the other side's fold lies here",
    (FACING, LineKind.PLACE): "cut on beyond the fold, its top slanting down from the seam",
    (UNDER, LineKind.PLACE): "cut on beyond the seam's line, its top slanting down from the seam",
}
