"""Where the fastenings stand: the two fronts as they are worn, holes on one and buttons on the other, with the tape."""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence

from settwright.geometry import Path, Point, Transform, direction
from settwright.makeup.model import Closure, ClosureKind, CutPiece, Hand
from settwright.units import Units, format_length
from settwright.workbook.drawing.marks import INK, QUIET, THREAD, scaled
from settwright.workbook.drawing.pen import Pen, Stroke

_SEAM, _CENTRE = Stroke(0.25, INK), Stroke(0.18, QUIET, (3.0, 0.7, 0.6, 0.7))
_HOLE, _BUTTON, _TAPE = Stroke(0.6, THREAD), Stroke(0.3, INK), Stroke(0.15, QUIET)
_GAP = 30.0  # of the page, between the two fronts: room for the figures
_HOLES = (ClosureKind.WORKED_HOLE, ClosureKind.BOUND_HOLE)
Box = tuple[float, float, float, float]


def fronts_of(pieces: Sequence[CutPiece], closures: Sequence[Closure]) -> tuple[CutPiece, ...]:
    """Returns the fronts that have fastenings, right before left."""
    held = {closure.piece for closure in closures}
    return tuple(p for p in pieces if p.name in held and p.piece.name in ("front", "front-lower"))


def closure_box(fronts: Sequence[CutPiece], scale: float) -> Box:
    """Returns (left, bottom, right, top) on the page of the drawing."""
    wide = sum(_width(front) * scale + _GAP for front in fronts)
    return 0.0, 0.0, wide, max(_height(front) for front in fronts) * scale + 6.0


def draw_closures(
    pen: Pen, fronts: Sequence[CutPiece], closures: Sequence[Closure], *, scale: float, units: Units
) -> None:
    """Draws the fronts side by side at `scale`, the right one first as one looks at the wearer."""
    left = 0.0
    for front in fronts:
        xs, ys = [p.x for p in front.seam_line], [p.y for p in front.seam_line]
        room = 0.0 if front.hand is Hand.RIGHT else _GAP
        page = scaled(scale, Point(left + room, 4.0), Point(min(xs), min(ys)))
        pen.path([page(p) for p in front.seam_line], stroke=_SEAM, closed=True)
        for line in front.piece.lines:
            if line.name == "centre-front":
                pen.path(line.path.moved(page), stroke=_CENTRE)
            elif line.name.startswith("buttonhole-"):
                pen.path(line.path.moved(page), stroke=_HOLE)
        own = [closure for closure in closures if closure.piece == front.name and closure.at is not None]
        for closure in own:
            if closure.kind not in _HOLES and closure.at is not None:
                radius = max(closure.length / 2 * scale, 0.8)
                ring = [page(closure.at) + direction(math.tau * turn / 24) * radius for turn in range(24)]
                pen.path(ring, stroke=_BUTTON, closed=True)
        _figures(pen, front, own, page, units)
        pen.text(Point(left + room, 0.0), f"Front, {front.hand.value}", size=3.0, weight="italic", colour=QUIET)
        left += _width(front) * scale + _GAP


def _figures(pen: Pen, front: CutPiece, closures: Sequence[Closure], page: Transform, units: Units) -> None:
    """Writes from fastening to fastening, and from the lowest to the hem, how far it is."""
    levels = sorted((c.at.y for c in closures if c.at is not None), reverse=True)
    if not levels:
        return
    hem = next((edge.path for edge in front.piece.edges if edge.name in ("hem", "waist")), None)
    lowest = min((c.at for c in closures if c.at is not None), key=lambda p: p.y)
    if hem is not None:
        levels.append(hem.at(hem.nearest(lowest)).y)
    out = 1.0 if front.hand is Hand.RIGHT else -1.0
    side = max(out * p.x for p in front.seam_line) * out
    x = page(Point(side, 0.0)).x + out * 5.0
    for level in levels:
        y = page(Point(0.0, level)).y
        pen.path([Point(x - 1.5, y), Point(x + 1.5, y)], stroke=_TAPE)
    pen.path(Path.line(Point(x, page(Point(0.0, levels[0])).y), Point(x, page(Point(0.0, levels[-1])).y)), stroke=_TAPE)
    for above, below in itertools.pairwise(levels):
        y = (page(Point(0.0, above)).y + page(Point(0.0, below)).y) / 2
        anchor = "start" if out > 0 else "end"
        pen.text(Point(x + out * 2.0, y - 1.0), format_length(above - below, units), size=2.8, anchor=anchor)


def _width(front: CutPiece) -> float:
    xs = [p.x for p in front.seam_line]
    return max(xs) - min(xs)


def _height(front: CutPiece) -> float:
    ys = [p.y for p in front.seam_line]
    return max(ys) - min(ys)
