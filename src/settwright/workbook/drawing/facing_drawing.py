"""The front facing as it will lie, its bars where the cloth's grain and the iron take them."""

from __future__ import annotations

from shapely import box, difference, get_coordinates, get_exterior_ring, intersection

from settwright.bars.model import Phase
from settwright.cloth.cloth import Cloth
from settwright.geometry import Path, Point, Transform
from settwright.makeup.edges.shaped import STATION, ShapedFacing
from settwright.pattern import Piece
from settwright.workbook.drawing.lying import lying
from settwright.workbook.drawing.marks import INK, THREAD, scaled
from settwright.workbook.drawing.pen import Pen, Stroke
from settwright.workbook.drawing.plaid import affine, draw_plaid, paint, polygon

Box = tuple[float, float, float, float]
_OUTLINE = Stroke(0.32, INK)
_ROLL = Stroke(0.22, THREAD, (2.0, 1.0))
_STATION = Stroke(0.14, INK, (0.8, 0.6))
_NUMBER = 2.1  # height of a station's number
_FAR = 1e4
_STEP = 6.0  # mm of cloth: a bar's side is drawn with chords no longer


def facing_box(piece: Piece, scale: float) -> Box:
    """Returns (left, bottom, right, top) on the page of a finished facing, with room for its stations' numbers."""
    points = piece.outline.points()
    xs, ys = [p.x * scale for p in points], [p.y * scale for p in points]
    return (min(xs) - 5, min(ys) - 2, max(xs) + 2, max(ys) + 2)


def draw_facing(
    pen: Pen,
    piece: Piece,
    cloth: Cloth,
    phase: Phase,
    *,
    scale: float,
    shaped: ShapedFacing | None = None,
    folded: float = 0.0,
) -> None:
    """Draws a finished facing in its draft's frame, seen from its right side.

    Cut as the front lies, its bars are straight; `shaped` draws them as a strip's bars come to lie. Above the break
    point they turn by the angle `folded` where the facing is folded there. `phase` is that of the piece as it is cut,
    its grain mark the origin.
    """
    page = scaled(scale)
    if shaped is None:
        upright = Transform.shift(piece.grain_mark.x, piece.grain_mark.y)
        for part, turned in _parts(piece.on_grain(), folded):
            draw_plaid(pen, part, cloth, phase, place=turned.then(upright).then(page))
    else:
        lies, on_page = lying(shaped), affine(page)
        mark = shaped.cut.grain_mark
        region = polygon([p - mark for p in shaped.cut.outline.points()])
        paint(
            pen,
            region,
            cloth,
            phase,
            shaped.cut.bias,
            place=lambda places: on_page(lies(places)),
            scale=scale,
            step=_STEP,
        )
    pen.path(piece.outline.moved(page), stroke=_OUTLINE, closed=True)
    for line in piece.lines:
        if line.name == "roll-line":
            pen.path(line.path.moved(page), stroke=_ROLL)
    for line in shaped.finished.lines if shaped else ():
        if line.name.startswith(STATION):
            path = line.path.moved(page)
            pen.path(path, stroke=_STATION)
            away = -path.start_tangent
            at = path.start + away * 2.2 - Point(0.0, _NUMBER * 0.35)
            pen.text(at, line.name.removeprefix(STATION), size=_NUMBER, anchor="middle", colour=INK)


def _parts(piece: Piece, folded: float) -> list[tuple[Path | list[Point], Transform]]:
    """Returns the outlines of a facing on its grain, as it is cut, each with the map to where it lies: in one, or,
    where it is folded at the break point, what lies below it and what lies above.
    """
    if not folded:
        return [(piece.outline, Transform())]
    pivot = piece.edge("front-edge").path.start
    whole, below = polygon(piece.outline), box(-_FAR, -_FAR, _FAR, pivot.y)
    found: list[tuple[Path | list[Point], Transform]] = []
    for part, turned in ((intersection(whole, below), 0.0), (difference(whole, below), folded)):
        back = Transform.turn(-turned, pivot)
        corners = get_coordinates(get_exterior_ring(part)).tolist()
        found.append(([back(Point(x, y)) for x, y in corners], Transform.turn(turned, pivot)))
    return found
