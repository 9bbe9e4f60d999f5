"""One piece by itself at reduced scale."""

from __future__ import annotations

import math

import shapely
from shapely.geometry.base import BaseGeometry

from settwright.bars.model import Phase
from settwright.cloth.cloth import Cloth
from settwright.geometry import Point, Transform
from settwright.makeup.model import CutPiece
from settwright.pattern import Edge, LineKind
from settwright.workbook.drawing.marks import INK, QUIET, THREAD, arrow, caption, label, scaled
from settwright.workbook.drawing.pen import Pen, Stroke, text_width
from settwright.workbook.drawing.plaid import draw_plaid, polygon
from settwright.workbook.drawing.seam_drawing import SeamSide, draw_seam_card, seam_card_size

_LINES = {
    LineKind.LEVEL: Stroke(0.12, QUIET, (0.5, 0.8)),
    LineKind.CENTRE: Stroke(0.18, INK, (3.0, 0.7, 0.6, 0.7)),
    LineKind.ROLL: Stroke(0.22, THREAD, (2.0, 1.0)),
    LineKind.FOLD: Stroke(0.3, INK, (2.2, 0.8)),
    LineKind.DART: Stroke(0.2, INK),
    LineKind.PLACE: Stroke(0.16, INK, (1.0, 0.7)),
}


def piece_box(piece: CutPiece, scale: float) -> tuple[float, float, float, float]:
    """Returns (left, bottom, right, top) on the page of a piece drawn with `draw_piece`, grain mark at (0, 0)."""
    xs, ys = [p.x for p in piece.cutting_line], [p.y for p in piece.cutting_line]
    return (min(xs) * scale - 1, min(ys) * scale - 1, max(xs) * scale + 1, max(ys) * scale + 1)


def draw_piece(
    pen: Pen,
    piece: CutPiece,
    *,
    scale: float,
    cloth: Cloth | None = None,
    phase: Phase | None = None,
    fade: float = 0.45,
    edge_names: bool = True,
) -> None:
    """Draws a piece with its grain mark at the pen's origin: cutting and seam line, notches, grain, inner lines,
    marks, the names of its edges and its own; with `cloth` and `phase` the bars too.

    `scale` is millimetres of the page to one of cloth.
    """
    page = scaled(scale)
    cutting = [page(p) for p in piece.cutting_line]
    if cloth and phase:
        draw_plaid(pen, piece.cutting_line, cloth, phase, piece.grain_turn, place=page, fade=fade)
    for line in piece.piece.lines:
        pen.path(line.path.moved(page), stroke=_LINES[line.kind])
    for mark in piece.piece.marks:
        _draw_cross(pen, page(mark.at))
    pen.path([page(p) for p in piece.seam_line], stroke=Stroke(0.18, INK, (1.4, 0.7)), closed=True)
    pen.path(cutting, stroke=Stroke(0.32, INK), closed=True)
    shape = polygon(piece.seam_line)
    for notch in piece.piece.notches:
        edge = piece.piece.edge(notch.edge)
        _draw_notch(pen, page(edge.path.at(notch.at)), _outward(edge, notch.at, shape))
    if edge_names:
        for edge in piece.piece.edges:
            _draw_edge_name(pen, edge, shape, page)
    _draw_grain(pen, piece, page)
    label(pen, [page(p) for p in piece.seam_line], [(caption(piece), 3.0, "semibold")], halo="#ffffff")


def _draw_cross(pen: Pen, at: Point, size: float = 0.8) -> None:
    for way in (Point(size, 0.0), Point(0.0, size)):
        pen.path([at - way, at + way], stroke=Stroke(0.18, INK))


def _outward(edge: Edge, at: float, shape: BaseGeometry) -> Point:
    """Returns the unit normal of an edge that leads out of the piece."""
    normal, place = edge.path.tangent(at).right, edge.path.at(at)
    inner = place - normal * 0.5
    return normal if shapely.contains_xy(shape, inner.x, inner.y) else -normal


def _draw_notch(pen: Pen, at: Point, outward: Point) -> None:
    pen.path([at - outward * 0.6, at + outward * 1.6], stroke=Stroke(0.28, INK))


def _draw_edge_name(pen: Pen, edge: Edge, shape: BaseGeometry, page: Transform) -> None:
    """Writes an edge's name along its middle, inside, if there is room for it."""
    middle, size = edge.path.length / 2, 2.0
    text = edge.name.replace("-", " ").replace(".", ", ")
    if text_width(text, size, "italic") > edge.path.length * page.yy * 0.9:
        return
    inward = -_outward(edge, middle, shape)
    along = edge.path.tangent(middle)
    angle = along.angle
    if not -math.pi / 2 + 0.01 < angle <= math.pi / 2 + 0.01:
        angle += math.pi
    up = Point(-math.sin(angle), math.cos(angle))
    drop = 0.7 if up.dot(inward) > 0 else -2.0
    spot = page(edge.path.at(middle)) + inward * 0.4 + up * drop
    pen.text(spot, text, size=size, weight="italic", anchor="middle", angle=angle, colour=QUIET)


def _draw_grain(pen: Pen, piece: CutPiece, page: Transform) -> None:
    """Draws the grain arrow: along the warp through the grain mark, over the middle of what lies there."""
    warp = Point(0.0, 1.0).rotated(-piece.grain_turn)
    reach = warp * 5000.0
    inside = shapely.intersection(
        polygon(piece.seam_line), shapely.linestrings([(-reach.x, -reach.y), (reach.x, reach.y)])
    )
    spans = [shapely.get_coordinates(part).tolist() for part in shapely.get_parts(inside)]
    if not spans:
        return
    (x0, y0), (x1, y1) = max(spans, key=lambda ends: abs(ends[0][0] - ends[-1][0]) + abs(ends[0][1] - ends[-1][1]))
    low, high = sorted((Point(x0, y0), Point(x1, y1)), key=lambda p: p.dot(warp))
    arrow(pen, page(low.between(high, 0.14)), page(low.between(high, 0.86)), both=True)


__all__ = ["SeamSide", "draw_piece", "draw_seam_card", "piece_box", "seam_card_size"]
