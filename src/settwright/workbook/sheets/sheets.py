"""Full-size pattern sheets: pages of A4 or Letter to paste together, or one sheet off a roll.

Every piece is drawn once, as a form that each page shows through its own window: so a line that runs over several
pages is the same line on all of them, and the file stays small.
"""

from __future__ import annotations

import io
import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from reportlab.pdfgen.canvas import Canvas

from settwright.bars.crossings import Crossing
from settwright.findings import refuse
from settwright.geometry import Path, Point
from settwright.makeup.model import CutPiece, Hand, Stage
from settwright.pattern import Layer
from settwright.units import Units, format_length
from settwright.workbook.drawing.marks import caption
from settwright.workbook.drawing.pen import POINT, PdfPen, Stroke, new_canvas, text_width
from settwright.workbook.drawing.recording import Recording
from settwright.workbook.sheets import front
from settwright.workbook.sheets.piece_sheet import draw_piece, draw_template
from settwright.workbook.sheets.plane import INK as HALF_LINE
from settwright.workbook.sheets.plane import LAP, PAGES, Laid, Plane, Tile, lay, tiled
from settwright.workbook.style import INK, QUIET, RULE

ROLL_WIDTHS = (914.0, 1067.0, 1524.0)  # rolls of 36, 42 and 60 inches
ROLL_MARGIN = 10.0
LONGEST_PAGE = 5000.0  # PDF viewers needn't take pages over 14400 points, 5080 mm (ISO 32000-1, annex C.2)

_MAP_SHARE = 0.58  # of the front page's width is the map's, the rest the index's
_RIM = 2.0  # room around a piece in its form, for lines at its very edge
_TRIM = Stroke(0.15, QUIET, (2.0, 2.0))
_LAP = Stroke(0.15, RULE)
_MARK = Stroke(0.3, INK)


@dataclass(frozen=True)
class Pattern:
    """Every piece as it is drawn at full size, whatever paper it goes on."""

    pieces: tuple[CutPiece, ...]
    drawings: dict[str, Recording]  # by the piece's name, in its own frame
    title: str
    stage: Stage
    units: Units


def drawn_pattern(
    pieces: Sequence[CutPiece],
    crossings: Mapping[str, Sequence[Crossing]],
    *,
    units: Units,
    title: str,
    stage: Stage,
    templates: Sequence[CutPiece] = (),
) -> Pattern:
    """Returns the pieces drawn and lettered, for the sheets to show; `templates` are shapes to steam on.

    `crossings` holds the bars' crossings by the piece's name; a piece that isn't in it gets no ticks. Of a pair of
    inside pieces, which no bars tell apart, one is drawn for both. Raises Refusal when there is nothing to draw.
    """
    if not pieces:
        raise refuse("sheets", "There is no piece to draw.", "Plan the commission first.")
    drawings: dict[str, Recording] = {}
    printed = tuple(_on_paper(pieces))
    for piece, for_both in printed:
        drawings[piece.name] = drawing = Recording()
        draw_piece(
            drawing,
            piece,
            crossings.get(piece.name, ()),
            units=units,
            note=f"{title}; allowances {stage}",
            for_both=for_both,
        )
    for piece in templates:
        drawings[piece.name] = drawing = Recording()
        draw_template(drawing, piece, units=units, note=title)
    return Pattern((*(piece for piece, _ in printed), *templates), drawings, title, stage, units)


def _on_paper(pieces: Sequence[CutPiece]) -> Iterator[tuple[CutPiece, bool]]:
    """Yields the pieces as they are printed, and whether one is drawn for both of a pair."""
    for piece in pieces:
        if piece.piece.layer is Layer.SHELL or piece.hand is Hand.WHOLE:
            yield piece, False
        elif piece.hand is Hand.RIGHT:
            title = f"{piece.piece.title}, right and left"
            yield replace(piece, hand=Hand.WHOLE, piece=replace(piece.piece, title=title)), True


def tile_sheets(pattern: Pattern, page: str = "A4") -> bytes:
    """Returns a PDF of all pieces at full size on A4 or Letter pages to paste together, a map of them in front.

    Raises Refusal for a page size that isn't known.
    """
    if page not in PAGES:
        raise refuse("sheets.page", f"{page!r} is not a page size known here.", f"Choose {' or '.join(PAGES)}.")
    plane, title = tiled(pattern.pieces, PAGES[page]), pattern.title
    target = io.BytesIO()
    canvas = _canvas(target, (plane.page.width, plane.page.height), title)
    _draw_front_page(canvas, plane, title, pattern.stage)
    _keep_forms(canvas, plane.laid, pattern)
    for tile in plane.tiles:
        _draw_tile(canvas, plane, tile, title)
        canvas.showPage()
    canvas.save()
    return target.getvalue()


def _wide(piece: CutPiece) -> float:
    return max(p.x for p in piece.cutting_line) - min(p.x for p in piece.cutting_line)


def one_large_sheet(pattern: Pattern, width: float | None = None) -> bytes:
    """Returns a PDF of all pieces at full size on one page as wide as the roll and as long as it takes.

    Without a `width`, the narrowest roll that the widest piece fits on. What would make the page longer than 5 m goes
    on to a further page. Raises Refusal when a piece is wider than the roll.
    """
    pieces, units = pattern.pieces, pattern.units
    if width is None:
        widest = max(_wide(piece) for piece in pieces)
        needed = widest + 2 * (ROLL_MARGIN + HALF_LINE)
        width = next((roll for roll in ROLL_WIDTHS if roll >= needed), ROLL_WIDTHS[-1])
    room = width - 2 * ROLL_MARGIN
    for piece in pieces:
        wide = _wide(piece)
        if wide > room - 2 * HALF_LINE:
            raise refuse(
                "sheets.roll",
                f"{caption(piece)} is {format_length(wide, units)} wide; the roll has room for"
                f" {format_length(room - 2 * HALF_LINE, units)}.",
                "Take a wider roll, or the tiled sheets.",
            )
    head = front.BLOCK_HEIGHT + 42.0
    target = io.BytesIO()
    canvas: Canvas | None = None
    rest: Sequence[CutPiece] = pieces
    while rest:
        sheet, rest = _that_fit(rest, room, LONGEST_PAGE - head - 2 * ROLL_MARGIN)
        depth = max(-laid.outline.bounds[1] for laid in sheet) + HALF_LINE
        size = (width, head + depth + 2 * ROLL_MARGIN)
        if canvas is None:
            canvas = _canvas(target, size, pattern.title)
        canvas.setPageSize((size[0] / POINT, size[1] / POINT))
        corner = Point(ROLL_MARGIN, size[1] - ROLL_MARGIN)
        pen = PdfPen(canvas)
        used = front.draw_heading(pen, corner, room, pattern.title, _about(pieces, pattern.stage))
        front.draw_squares(pen, corner - Point(0, used))
        _keep_forms(canvas, sheet, pattern)
        for laid in sheet:
            _show(canvas, laid, corner - Point(0, head))
        canvas.showPage()
    assert canvas is not None
    canvas.save()
    return target.getvalue()


def _that_fit(pieces: Sequence[CutPiece], width: float, depth: float) -> tuple[tuple[Laid, ...], tuple[CutPiece, ...]]:
    """Returns the pieces laid on one page, and those left for the next; the first always goes on."""
    for count in range(len(pieces), 0, -1):
        laid = lay(pieces[:count], width - 2 * HALF_LINE)
        if count == 1 or max(-piece.outline.bounds[1] for piece in laid) <= depth:
            return laid, tuple(pieces[count:])
    raise AssertionError("unreachable: one piece always goes on")


def _canvas(target: io.BytesIO, page: tuple[float, float], title: str) -> Canvas:
    canvas = new_canvas(target, page)
    canvas.setTitle(f"{title}: full-size sheets")
    canvas.setAuthor("Settwright")
    return canvas


def _about(pieces: Sequence[CutPiece], stage: Stage) -> tuple[str, ...]:
    return (
        f"Full-size pattern, {len(pieces)} pieces, each drawn as it is cut; right and left apart, but for the inside.",
        f"Allowances {stage}: cut on the heavy line, sew on the fine one.",
    )


# --- the pieces as forms -------------------------------------------------------------------------------------------


def _keep_forms(canvas: Canvas, laid: Sequence[Laid], pattern: Pattern) -> None:
    for entry in laid:
        piece = entry.piece
        xs, ys = [p.x for p in piece.cutting_line], [p.y for p in piece.cutting_line]
        low, high = Point(min(xs) - _RIM, min(ys) - _RIM) / POINT, Point(max(xs) + _RIM, max(ys) + _RIM) / POINT
        canvas.beginForm(piece.name, low.x, low.y, high.x, high.y)  # type: ignore[arg-type]  floats are right
        pattern.drawings[piece.name].draw(PdfPen(canvas))
        canvas.endForm()


def _show(canvas: Canvas, laid: Laid, origin: Point) -> None:
    """Shows a piece's form; `origin` is where the plane's origin lies on the page."""
    at = origin + laid.shift
    canvas.saveState()
    canvas.translate(at.x / POINT, at.y / POINT)
    canvas.doForm(laid.piece.name)
    canvas.restoreState()


# --- pages ---------------------------------------------------------------------------------------------------------


def _draw_front_page(canvas: Canvas, plane: Plane, title: str, stage: Stage) -> None:
    page = plane.page
    pen = PdfPen(canvas)
    corner = Point(page.margin, page.height - page.margin)
    wide, high = page.window
    last = plane.tiles[-1].label.rstrip("0123456789")
    sheets = f"{len(plane.tiles)} pages to paste together after this one, rows A to {last}."
    used = front.draw_heading(pen, corner, wide, title, (*_about([laid.piece for laid in plane.laid], stage), sheets))
    front.draw_squares(pen, corner - Point(0, used))
    used += front.BLOCK_HEIGHT + 8.0
    how = (
        "Trim each page along its dashed left and upper lines, lay it on its neighbour's lap so that the numbered"
        " marks meet, and paste."
    )
    pen.text(corner - Point(0, used), how, size=min(3.3, 3.3 * wide / text_width(how, 3.3)), colour=INK)
    used += 4.0
    front.draw_map(pen, plane, corner - Point(0, used), (wide * _MAP_SHARE - 6.0, high - used), first_page=2)
    index = corner + Point(wide * _MAP_SHARE, -used)
    front.draw_index(pen, plane, index, (wide * (1 - _MAP_SHARE), high - used), first_page=2)
    canvas.showPage()


def _draw_tile(canvas: Canvas, plane: Plane, tile: Tile, title: str) -> None:
    page = plane.page
    left, bottom, right, top = plane.window(tile)
    origin = Point(page.margin - left, page.margin - bottom)
    pen = PdfPen(canvas, origin)
    window = [Point(left, bottom), Point(right, bottom), Point(right, top), Point(left, top)]
    with pen.clipped(window):
        for laid in plane.laid:
            lo_x, lo_y, hi_x, hi_y = laid.outline.bounds
            if lo_x - _RIM < right and hi_x + _RIM > left and lo_y - _RIM < top and hi_y + _RIM > bottom:
                _show(canvas, laid, origin)
        _draw_joining(pen, plane, tile)
    _write_rim(PdfPen(canvas), plane, tile, title)


def _write_rim(pen: PdfPen, plane: Plane, tile: Tile, title: str) -> None:
    """Writes on the page's rim which tile it is, which pieces it shows and under which neighbours its laps go."""
    page, size = plane.page, 2.8
    beside = plane.tile_at(tile.row, tile.column + 1)
    below = plane.tile_at(tile.row + 1, tile.column)
    if beside:
        at = Point(page.width - 5.5, page.margin + LAP)
        pen.text(at, f"this side goes under {beside.label}", size=size, angle=math.pi / 2, colour=QUIET)
    foot = f"{tile.label} · page {tile.number + 1} of {len(plane.tiles) + 1} · {title}"
    if below:
        foot += f" · this side goes under {below.label}"
    names = " · ".join(caption(laid.piece) for laid in plane.laid if laid.piece.name in tile.pieces)
    together = text_width(foot, size, "semibold") + 6.0 + text_width(names, size)
    size *= min(1.0, page.window[0] / together)
    pen.text(Point(page.margin, 5.5), foot, size=size, weight="semibold", colour=INK)
    pen.text(Point(page.width - page.margin, 5.5), names, size=size, anchor="end", colour=QUIET)


def _draw_joining(pen: PdfPen, plane: Plane, tile: Tile) -> None:
    """Draws the lines to trim and to lay on, the shared marks, and who the neighbours are."""
    left, bottom, right, top = plane.cell(tile.row, tile.column)
    low, far = bottom - LAP, right + LAP
    sides = (
        ((0, -1), Path.line(Point(left, low), Point(left, top)), _TRIM),
        ((-1, 0), Path.line(Point(left, top), Point(far, top)), _TRIM),
        ((0, 1), Path.line(Point(right, low), Point(right, top)), _LAP),
        ((1, 0), Path.line(Point(left, bottom), Point(far, bottom)), _LAP),
    )
    for (down, along), line, stroke in sides:
        if plane.tile_at(tile.row + down, tile.column + along):
            pen.path(line, stroke=stroke)
    for mark in plane.joins_of(tile):
        diamond = [mark.at + Point(3, 0), mark.at + Point(0, 3), mark.at + Point(-3, 0), mark.at + Point(0, -3)]
        pen.path(diamond, stroke=_MARK, closed=True)
        for side in (-1.0, 1.0):
            away = Point(side * 6.5, 0.0) if mark.is_upright else Point(0.0, side * 5.5)
            pen.text(mark.at + away - Point(0, 1.0), mark.name, size=3.0, weight="semibold", anchor="middle")
    corner = Point(left + 2.5, top - 7.0)
    pen.text(corner, tile.label, size=7.0, weight="semibold", colour=RULE)
