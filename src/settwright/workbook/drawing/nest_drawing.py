"""A nest drawn: every piece in all its sizes on one grain mark, the smallest and the largest in strong ink."""

from __future__ import annotations

from collections.abc import Sequence

from settwright.geometry import Point
from settwright.geometry.shelves import lay_on_strip
from settwright.pattern.nest import Nest
from settwright.workbook.drawing.marks import INK, QUIET, THREAD, scaled
from settwright.workbook.drawing.pen import Pen, Stroke, text_width

_BETWEEN, _ENDS, _MARK = Stroke(0.13, QUIET), Stroke(0.26, INK), Stroke(0.16, THREAD)
_GAP, _CAPTION = 7.0, 6.0  # between pieces and under each, millimetres of the page
_TITLE = 2.6  # height of the type
_ARROW = 30.0  # of the grain mark, millimetres of the page at most
_FLAT = 0.3  # millimetres of the page's scale by which outlines are simplified


def nest_size(nests: Sequence[Nest], width: float, scale: float) -> tuple[float, float]:
    """Returns width and height on the page of `draw_nests` for a page that is `width` wide."""
    sizes = _sizes(nests, scale)
    places = lay_on_strip(sizes, width, _GAP)
    return width, max((-corner.y + high for corner, (_, high) in zip(places, sizes, strict=True)), default=0.0)


def widest(nests: Sequence[Nest], scale: float) -> float:
    """Returns how wide a page must be at least."""
    return max(wide for wide, _ in _sizes(nests, scale))


def draw_nests(pen: Pen, nests: Sequence[Nest], *, width: float, scale: float) -> None:
    """Draws the nests in rows, hanging down from (0, 0); `scale` is millimetres of the page to one of the pattern."""
    sizes = _sizes(nests, scale)
    for nest, corner, (wide, _) in zip(nests, lay_on_strip(sizes, width, _GAP), sizes, strict=True):
        left, bottom, right, top = _box(nest)
        middle = corner.x + wide / 2
        page = scaled(scale, Point(middle, corner.y), Point((left + right) / 2, top))
        last = len(nest.pieces) - 1
        for number, (_, piece) in enumerate(nest.pieces):
            outline = [page(p) for p in piece.outline.points(_FLAT)]
            pen.path(outline, stroke=_ENDS if number in (0, last) else _BETWEEN, closed=True)
        half = min(_ARROW, 0.3 * (top - bottom) * scale) / 2
        mark = page(Point(0.0, 0.0))
        upright = [(mark.x, mark.y - half), (mark.x, mark.y + half)]
        pen.polylines([upright, [(mark.x - 2, mark.y), (mark.x + 2, mark.y)]], stroke=_MARK)
        foot = corner.y - (top - bottom) * scale
        pen.text(Point(middle, foot - 4.0), _named(nest), size=_TITLE, weight="semibold", anchor="middle")


def _named(nest: Nest) -> str:
    first, last = nest.pieces[0][0], nest.pieces[-1][0]
    return f"{nest.title}, {first} to {last}" if first != last else f"{nest.title}, {first}"


def _sizes(nests: Sequence[Nest], scale: float) -> list[tuple[float, float]]:
    boxes = [_box(nest) for nest in nests]
    return [
        (max((right - left) * scale, text_width(_named(nest), _TITLE, "semibold")), (top - bottom) * scale + _CAPTION)
        for nest, (left, bottom, right, top) in zip(nests, boxes, strict=True)
    ]


def _box(nest: Nest) -> tuple[float, float, float, float]:
    points = [p for _, piece in nest.pieces for p in piece.outline.points(_FLAT)]
    xs, ys = [p.x for p in points], [p.y for p in points]
    return min(xs), min(ys), max(xs), max(ys)


__all__ = ["draw_nests", "nest_size", "widest"]
