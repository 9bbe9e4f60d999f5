"""The front of the full-size sheets: squares to prove the printing, what the marks mean, where each page goes."""

from __future__ import annotations

from collections.abc import Sequence

from settwright.geometry import Path, Point, Transform
from settwright.pattern import LineKind
from settwright.workbook.drawing.marks import caption
from settwright.workbook.drawing.pen import Pen, Ring, Stroke, text_width
from settwright.workbook.sheets import piece_sheet
from settwright.workbook.sheets.plane import Plane, tile_label
from settwright.workbook.style import INK, PAPER, QUIET, RULE, THREAD

SQUARE_MM = 100.0
SQUARE_IN = 4 * 25.4
SQUARE_LINE = Stroke(0.2, INK)
BLOCK_HEIGHT = SQUARE_IN  # of the squares with what is written in them
_TEXT, _LEAD = 3.0, 4.3

PRINTING = (
    "Before you cut: measure both squares.",
    "",
    "Print at 100 % (actual size).",
    "Switch off “fit to page” and “shrink”.",
    "",
    "The inner square must measure 100 mm,",
    "the outer one 4 inches, along the sheet",
    "and across it. Measure with the tape",
    "that measured the client.",
    "If they are off, set the printer right",
    "and print again; don't mend by eye.",
)


def draw_squares(pen: Pen, corner: Point) -> None:
    """Draws the 100 mm square within the 4 inch one, the upper left corner of the outer one at `corner`.

    In them stands the key of the marks, beside them how to print.
    """
    foot = corner - Point(0.0, SQUARE_IN)
    rim = (SQUARE_IN - SQUARE_MM) / 2
    for inset in (0.0, rim):
        low, high = inset, SQUARE_IN - inset
        pen.path(
            [foot + Point(low, low), foot + Point(high, low), foot + Point(high, high), foot + Point(low, high)],
            stroke=SQUARE_LINE,
            closed=True,
        )
    title = "100 mm inside, 4 inches outside"
    pen.text(foot + Point(SQUARE_IN / 2, SQUARE_IN - 8.1), title, size=4.2, weight="semibold", anchor="middle")
    _draw_key(pen, corner + Point(rim + 4.0, -rim - 15.0))
    start = corner + Point(SQUARE_IN + 6.0, -8.1)
    for number, text in enumerate(PRINTING):
        pen.text(start - Point(0, number * 5.6), text, size=3.6, weight="semibold" if number == 0 else "regular")


def _draw_key(pen: Pen, corner: Point) -> None:
    """Draws one sample of each mark with its meaning."""
    lines = (
        (piece_sheet.CUTTING, "cutting line"),
        (piece_sheet.SEAM, "seam line"),
        (piece_sheet.GRAIN, "grain, towards the garment's top"),
        (piece_sheet.LINES[LineKind.FOLD], "fold"),
        (piece_sheet.LINES[LineKind.ROLL], "roll line"),
        (piece_sheet.LINES[LineKind.CENTRE], "centre front, centre back"),
        (piece_sheet.LINES[LineKind.DART], "dart"),
        (piece_sheet.LINES[LineKind.PLACE], "a place: pocket, button, other piece"),
        (piece_sheet.LINES[LineKind.LEVEL], "level: bust, waist, hip"),
    )
    y = 0.0
    for stroke, meaning in lines:
        at = corner + Point(0, y)
        pen.path(Path.line(at, at + Point(18, 0)), stroke=stroke)
        if stroke is piece_sheet.GRAIN:
            head = at + Point(18, 0)
            pen.path([head, head + Point(-5, 1.4), head + Point(-5, -1.4)], fill=INK, closed=True)
        pen.text(at + Point(21, -1.0), meaning, size=_TEXT)
        y -= 5.9
    seam = corner + Point(0, y - 1)
    pen.path(Path.line(seam, seam + Point(18, 0)), stroke=piece_sheet.SEAM)
    pen.path(Path.line(seam + Point(4, 6) - Point(0, 4), seam + Point(4, -2)), stroke=piece_sheet.NOTCH)
    pen.path(Path.line(seam + Point(13, 3), seam + Point(13, -3)), stroke=piece_sheet.NOTCH)
    pen.path(Path.line(seam + Point(10, 0), seam + Point(16, 0)), stroke=piece_sheet.NOTCH)
    pen.text(seam + Point(21, -1.0), "notch on a seam; a marked point (cross)", size=_TEXT)
    ticks = seam - Point(0, 9.5)
    pen.path(Path.line(ticks, ticks + Point(18, 0)), stroke=piece_sheet.SEAM)
    for x in (3.0, 15.0):
        pen.path(Path.line(ticks + Point(x, 1.5), ticks + Point(x, -2.5)), stroke=piece_sheet.TICK)
    for x in (6.5, 11.5):
        pen.path(Path.line(ticks + Point(x, 2.5), ticks + Point(x, -4.0)), stroke=piece_sheet.DOMINANT_TICK)
    for number, text in enumerate(
        (
            "bars cross the seam here: lay each tick on",
            "the bar it names. Thin: the middle of a bar.",
            "Red and long: an edge of the dominant bar.",
        )
    ):
        pen.text(ticks + Point(21, -1.0 - number * _LEAD), text, size=_TEXT)


def draw_heading(pen: Pen, corner: Point, width: float, title: str, lines: Sequence[str]) -> float:
    """Writes title and subtitles downwards from `corner`, no wider than `width`; returns the height taken."""
    size = min(8.0, width / text_width(title, 1.0, "semibold")) if title.strip() else 8.0
    pen.text(corner - Point(0, 6.5), title, size=size, weight="semibold", colour=INK)
    y = 12.5
    for line in lines:
        pen.text(corner - Point(0, y), line, size=3.6, colour=QUIET)
        y += 5.2
    return y


def draw_map(pen: Pen, plane: Plane, corner: Point, room: tuple[float, float], *, first_page: int) -> None:
    """Draws which tile goes where, to scale, into a room of (width, height) below `corner`; numbers as in the index.

    `first_page` is the page of the plane's first tile.
    """
    cell_wide, cell_high = plane.page.cell
    scale = min(room[0] / (plane.columns * cell_wide), room[1] / (plane.rows * cell_high))
    to_map = Transform(xx=scale, yy=scale, dx=corner.x, dy=corner.y)
    cells = [_ring(to_map, *plane.cell(tile.row, tile.column)) for tile in plane.tiles]
    outlines = [[_xy(to_map(p + laid.shift)) for p in laid.piece.cutting_line] for laid in plane.laid]
    pen.polygons(cells, fill=PAPER)
    pen.polygons(outlines, fill="#ffffff")
    pen.polylines(outlines, stroke=Stroke(0.15, QUIET), closed=True)
    pen.polylines(cells, stroke=Stroke(0.12, RULE), closed=True)
    for tile in plane.tiles:
        left, _, right, top = plane.cell(tile.row, tile.column)
        at = to_map(Point(left, top)) + Point(0.8, -2.6)
        pen.text(at, tile.label, size=2.2, colour=THREAD)
        page = f"p. {tile.number + first_page - 1}"
        if text_width(tile.label + page, 2.4) < (right - left) * scale - 2:
            pen.text(Point(to_map(Point(right, top)).x - 0.8, at.y), page, size=2.0, anchor="end", colour=QUIET)
    for number, laid in enumerate(plane.laid, start=1):
        heart = laid.outline.representative_point()
        at = to_map(Point(heart.x, heart.y)) - Point(0, 1.0)
        half = text_width(str(number), 3.0, "semibold") / 2 + 0.4
        pen.path(
            [at + Point(x, y) for x, y in ((-half, -0.5), (half, -0.5), (half, 2.6), (-half, 2.6))],
            fill="#ffffff",
            closed=True,
        )  # clear of the tiles' names
        pen.text(at, str(number), size=3.0, weight="semibold", anchor="middle", colour=INK)


def _ring(by: Transform, left: float, bottom: float, right: float, top: float) -> Ring:
    return [_xy(by(Point(x, y))) for x, y in ((left, bottom), (right, bottom), (right, top), (left, top))]


def _xy(p: Point) -> tuple[float, float]:
    return p.x, p.y


def draw_index(pen: Pen, plane: Plane, corner: Point, room: tuple[float, float], *, first_page: int) -> None:
    """Writes on which tiles and pages each piece stands, so that one piece can be printed again by itself."""
    lines = [(caption(laid.piece), _where(plane, laid.piece.name, first_page)) for laid in plane.laid]
    lead = min(5.0, room[1] / (len(lines) + 1))
    widest = max(text_width(name, 1.0) + text_width(where, 1.0) for name, where in lines)
    size = min(lead / 1.45, 3.0, (room[0] - 3.0) / (widest + 1.9))
    for number, (name, where) in enumerate(lines):
        at = corner - Point(0, (number + 0.75) * lead)
        pen.text(at + Point(size * 1.2, 0), str(number + 1), size=size, weight="semibold", anchor="end")
        pen.text(at + Point(size * 1.9, 0), name, size=size)
        pen.text(at + Point(room[0], 0), where, size=size, anchor="end", colour=QUIET)
        pen.path(Path.line(at - Point(0, lead * 0.3), at + Point(room[0], -lead * 0.3)), stroke=Stroke(0.1, RULE))


def _where(plane: Plane, name: str, first_page: int) -> str:
    """Returns the corners of the block of tiles that a piece lies on, and their pages: "A1 to C3, pages 2–18"."""
    tiles = [tile for tile in plane.tiles if name in tile.pieces]
    first = tile_label(min(t.row for t in tiles), min(t.column for t in tiles))
    last = tile_label(max(t.row for t in tiles), max(t.column for t in tiles))
    pages = [tile.number + first_page - 1 for tile in tiles]
    return f"{first} to {last}, pages {_runs(pages)}" if len(tiles) > 1 else f"{first}, page {pages[0]}"


def _runs(pages: Sequence[int]) -> str:
    """Returns page numbers in runs, as a print dialogue takes them: "2-4, 9-11"."""
    runs: list[list[int]] = []
    for page in pages:
        if runs and page == runs[-1][1] + 1:
            runs[-1][1] = page
        else:
            runs.append([page, page])
    return ", ".join(str(a) if a == b else f"{a}-{b}" for a, b in runs)
