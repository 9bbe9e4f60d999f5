"""The cutting layout to scale: the cloth as it lies on the table, right side up, and every piece on its bars."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from settwright.bars.model import Orientation, Phase
from settwright.cloth.cloth import Cloth
from settwright.geometry import Point, Transform
from settwright.layout.model import Layout, Placement
from settwright.makeup.model import CutPiece
from settwright.units import Units, format_length
from settwright.workbook.drawing.marks import INK, QUIET, THREAD, arrow, caption, label, scaled, tape
from settwright.workbook.drawing.pen import Pen, Stroke
from settwright.workbook.drawing.plaid import cloth_colour, draw_plaid, faded

MARGIN = 11.0  # room for tape and counted repeats around the cloth, millimetres of the page
_GROUND_FADE, _PIECE_FADE = 0.78, 0.3
_SELVEDGE = "#d8d0c2"


def layout_box(cloth: Cloth, length: float, scale: float) -> tuple[float, float, float, float]:
    """Returns (left, bottom, right, top) on the page of a layout drawn with `draw_layout`."""
    return (-MARGIN, -MARGIN, cloth.width * scale + MARGIN, length * scale + MARGIN)


def on_cloth(placement: Placement, grain_turn: float) -> Transform:
    """Returns the map from the piece frame to the cloth frame: (x, y) + S R(g) p."""
    turned = Orientation(placement.t, placement.f)
    along, across = turned.place(Point(1.0, 0.0), grain_turn), turned.place(Point(0.0, 1.0), grain_turn)
    return Transform(along.x, across.x, along.y, across.y, placement.x, placement.y)


@dataclass(frozen=True)
class _Spread:
    """The cloth spread on the page: what every part of the drawing looks at."""

    pen: Pen
    cloth: Cloth
    layout: Layout
    length: float
    page: Transform  # from the cloth frame to the page
    origin: Phase  # of the cloth frame's origin in the sett
    units: Units


def draw_layout(
    pen: Pen,
    cloth: Cloth,
    pieces: Sequence[CutPiece],
    layout: Layout,
    *,
    scale: float,
    length: float | None = None,
    units: Units = Units.CM,
) -> None:
    """Draws a layout with the cloth frame's origin at the pen's.

    `scale` is millimetres of the page to one of cloth; `length` is the cloth in hand or to buy: what lies above the
    layout is drawn as left over.
    """
    spread = _Spread(
        pen,
        cloth,
        layout,
        max(length or 0.0, layout.length),
        scaled(scale),
        Phase("cloth", -cloth.sett_at_left, -layout.oy),
        units,
    )
    _draw_ground(spread)
    by_name = {piece.name: piece for piece in pieces}
    for placement in layout.placements:
        if placement.name in by_name:
            _draw_placed(spread, by_name[placement.name], placement)
    _draw_tapes(spread)
    _draw_repeats(spread)


def _rectangle(left: float, bottom: float, right: float, top: float) -> list[Point]:
    return [Point(left, bottom), Point(right, bottom), Point(right, top), Point(left, top)]


def _draw_ground(spread: _Spread) -> None:
    pen, cloth, layout, length, page = spread.pen, spread.cloth, spread.layout, spread.length, spread.page
    whole = _rectangle(0.0, 0.0, cloth.width, length)
    draw_plaid(pen, whole, cloth, spread.origin, place=page, fade=_GROUND_FADE)
    if length > layout.length + 1:
        rest = _rectangle(0.0, layout.length, cloth.width, length)
        pen.path([page(p) for p in rest], fill="#fbfaf7", closed=True)
        middle = page(Point(cloth.width / 2, (layout.length + length) / 2))
        room = (length - layout.length) * page.yy
        if room > 3:
            pen.text(
                Point(middle.x, middle.y - 1),
                f"left over: {format_length(length - layout.length, spread.units)}",
                size=min(3.2, room * 0.7),
                weight="italic",
                anchor="middle",
                colour=QUIET,
            )
        pen.path(
            [page(Point(0, layout.length)), page(Point(cloth.width, layout.length))],
            stroke=Stroke(0.3, THREAD, (2.0, 1.2)),
        )
    for left, right in ((0.0, cloth.selvedge), (cloth.width - cloth.selvedge, cloth.width)):
        pen.path([page(p) for p in _rectangle(left, 0.0, right, length)], fill=_SELVEDGE, closed=True)
    for fault in cloth.faults:
        corners = [page(Point(x, y)) for x, y in fault.outline]
        _draw_hatched(pen, corners)
        label(pen, corners, [(fault.name, 2.4, "italic")], colour=THREAD)
    pen.path([page(p) for p in whole], stroke=Stroke(0.25, INK), closed=True)
    pen.path([page(Point(0, 0)), page(Point(cloth.width, 0))], stroke=Stroke(0.6, INK))


def _draw_hatched(pen: Pen, corners: Sequence[Point]) -> None:
    left, right = min(p.x for p in corners), max(p.x for p in corners)
    bottom, top = min(p.y for p in corners), max(p.y for p in corners)
    rise = top - bottom
    pen.path(corners, fill="#ffffff", closed=True)
    with pen.clipped(corners):
        for k in range(math.ceil((right - left + rise) / 1.2) + 1):
            x = left - rise + k * 1.2
            pen.path([Point(x, bottom), Point(x + rise, top)], stroke=Stroke(0.12, THREAD))
    pen.path(corners, stroke=Stroke(0.3, THREAD), closed=True)


def _draw_placed(spread: _Spread, piece: CutPiece, placement: Placement) -> None:
    pen, cloth, page = spread.pen, spread.cloth, spread.page
    lies = on_cloth(placement, piece.grain_turn)
    cutting = [lies(p) for p in piece.cutting_line]
    to_page = lies.then(page)
    drawn = [to_page(p) for p in piece.cutting_line]
    draw_plaid(pen, cutting, cloth, spread.origin, place=page, fade=_PIECE_FADE)
    pen.path([to_page(p) for p in piece.seam_line], stroke=Stroke(0.13, INK, (1.0, 0.6)), closed=True)
    pen.path(drawn, stroke=Stroke(0.3, INK), closed=True)
    _draw_grain(pen, piece, lies, page, drawn)
    notes = "".join((", turned" if placement.t < 0 else "", ", face down" if placement.f < 0 else ""))
    lines = [(caption(piece), 2.5, "semibold")]
    if notes:
        lines.append((notes[2:], 2.1, "italic"))
    if piece.is_later:
        lines.append(("a block for later" if piece.is_block else "after the fitting", 2.1, "italic"))
    if not piece.is_matched:
        lines.append(("lies anywhere", 2.1, "italic"))
    label(pen, drawn, lines, halo=faded(cloth_colour(cloth), 0.88))


def _draw_grain(pen: Pen, piece: CutPiece, lies: Transform, page: Transform, drawn: Sequence[Point]) -> None:
    """Draws the grain arrow through the grain mark, along the warp, towards the garment's top."""
    left, right = min(p.x for p in drawn), max(p.x for p in drawn)
    bottom, top = min(p.y for p in drawn), max(p.y for p in drawn)
    at = page(lies(Point(0.0, 0.0)))
    if not (left < at.x < right and bottom < at.y < top):
        at = Point((left + right) / 2, (bottom + top) / 2)
    up = (lies(Point(0.0, 1.0).rotated(-piece.grain_turn)) - lies(Point(0.0, 0.0))).unit
    half = min(9.0, (top - bottom) * 0.16)
    arrow(pen, at - up * half, at + up * half, both=False, size=1.6)


def _draw_tapes(spread: _Spread) -> None:
    pen, cloth, length, page, units = spread.pen, spread.cloth, spread.length, spread.page, spread.units
    for at, figure in tape(cloth.width, units):
        x = page(Point(at, 0)).x
        pen.path([Point(x, -1.2), Point(x, -3.4 if figure else -2.3)], stroke=Stroke(0.15, INK))
        if figure:
            pen.text(Point(x, -5.8), figure, size=2.1, anchor="middle", colour=QUIET)
    for at, figure in tape(length, units):
        y = page(Point(0, at)).y
        pen.path([Point(-1.2, y), Point(-3.4 if figure else -2.3, y)], stroke=Stroke(0.15, INK))
        if figure:
            pen.text(Point(-3.9, y - 0.7), figure, size=2.1, anchor="end", colour=QUIET)
    pen.text(
        Point(0, -9.2), f"squared end; {units.sign} from the left selvedge", size=2.3, weight="italic", colour=QUIET
    )


def _draw_repeats(spread: _Spread) -> None:
    """Counts the repeats along the right and the upper edge, the first whole one being 1."""
    pen, cloth, layout, length, page = spread.pen, spread.cloth, spread.layout, spread.length, spread.page
    right, top = page(Point(cloth.width, length)).x, page(Point(cloth.width, length)).y
    if cloth.has_level_bars:
        for count, at in _starts(cloth.weft.repeat, layout.oy, length):
            y = page(Point(0, at)).y
            pen.path([Point(right + 1, y), Point(right + 3.2, y)], stroke=Stroke(0.2, THREAD))
            pen.text(Point(right + 3.8, y - 0.7), f"{count}", size=2.1, colour=THREAD)
    if cloth.has_upright_bars:
        for count, at in _starts(cloth.warp.repeat, cloth.sett_at_left, cloth.width):
            x = page(Point(at, 0)).x
            pen.path([Point(x, top + 1), Point(x, top + 3.2)], stroke=Stroke(0.2, THREAD))
            pen.text(Point(x, top + 4), f"{count}", size=2.1, anchor="middle", colour=THREAD)
    if cloth.has_level_bars or cloth.has_upright_bars:
        pen.text(Point(right, top + 7.4), "repeats counted", size=2.3, weight="italic", anchor="end", colour=THREAD)


def _starts(repeat: float, origin: float, length: float) -> list[tuple[int, float]]:
    first = origin % repeat
    return [(count + 1, first + count * repeat) for count in range(math.floor((length - first) / repeat + 1e-9) + 1)]


__all__ = ["MARGIN", "draw_layout", "layout_box", "on_cloth"]
