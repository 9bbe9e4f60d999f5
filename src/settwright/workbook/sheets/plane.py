"""The paper plane: all pieces laid out at full size, and the tiles that it is cut into for printing.

The plane hangs down from y = 0, its x grows to the right; grain runs along the page. Row A is at the top. A tile
shows its own cell and a lap to the right and below, on to which its neighbours are pasted along their trimmed left
and upper sides.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import cached_property

import shapely
from shapely.affinity import translate

from settwright.geometry import Point
from settwright.geometry.shelves import ORDERS, Size, lay_on_strip
from settwright.makeup.model import CutPiece

GAP = 6.0  # between cutting lines
LAP = 10.0  # how far a tile goes on under its neighbour
INK = 0.5  # half the heaviest line, so that no line is lost at a tile's rim
MAX_COLUMNS = 12


@dataclass(frozen=True)
class Page:
    """A page that a printer takes, in millimetres, with the rim that it can't print on."""

    name: str
    width: float
    height: float
    margin: float = 10.0

    @property
    def window(self) -> tuple[float, float]:
        """Width and height of what can be printed."""
        return self.width - 2 * self.margin, self.height - 2 * self.margin

    @property
    def cell(self) -> tuple[float, float]:
        """Width and height that a tile adds to the plane."""
        return self.window[0] - LAP, self.window[1] - LAP


PAGES = {
    "A4": Page("A4", 210.0, 297.0),  # ISO 216
    "Letter": Page("Letter", 8.5 * 25.4, 11 * 25.4),  # ANSI/ASME Y14.1, size A
}


@dataclass(frozen=True)
class Laid:
    """A piece on the plane; `shift` takes its own frame to the plane's."""

    piece: CutPiece
    shift: Point

    @cached_property
    def outline(self) -> shapely.Polygon:
        """Cutting line on the plane."""
        return translate(_polygon(self.piece), self.shift.x, self.shift.y)


@dataclass(frozen=True)
class Tile:
    """One page of the plane: its place in rows and columns, and the pieces that show on it."""

    row: int
    column: int
    number: int  # from 1, in reading order, blank ones left out
    pieces: tuple[str, ...]

    @property
    def label(self) -> str:
        """Row letter and column number: "B3"."""
        return tile_label(self.row, self.column)


@dataclass(frozen=True)
class JoinMark:
    """A mark that two neighbouring tiles share, at the middle of the line where they meet."""

    name: str
    at: Point  # on the plane
    is_upright: bool  # the line that it sits on is upright: a left and a right neighbour
    tiles: tuple[str, str]


@dataclass(frozen=True)
class Plane:
    """Every piece laid at full size, and the tiles that show them."""

    page: Page
    laid: tuple[Laid, ...]
    columns: int
    rows: int
    tiles: tuple[Tile, ...]

    def cell(self, row: int, column: int) -> tuple[float, float, float, float]:
        """Returns left, bottom, right, top of a tile's own part of the plane."""
        return _cell(self.page, row, column)

    def window(self, tile: Tile) -> tuple[float, float, float, float]:
        """Returns left, bottom, right, top of all that the tile's page shows, laps included."""
        left, _, _, top = self.cell(tile.row, tile.column)
        wide, high = self.page.window
        return left, top - high, left + wide, top

    def tile_at(self, row: int, column: int) -> Tile | None:
        """Returns the tile in a row and column; None where it would be blank."""
        for tile in self.tiles:
            if (tile.row, tile.column) == (row, column):
                return tile
        return None

    @cached_property
    def joins(self) -> tuple[JoinMark, ...]:
        """The marks between neighbours, numbered in reading order."""
        marks: list[JoinMark] = []
        for tile in self.tiles:
            left, bottom, right, top = self.cell(tile.row, tile.column)
            beside = self.tile_at(tile.row, tile.column + 1)
            below = self.tile_at(tile.row + 1, tile.column)
            if beside:
                middle = Point(right, (top + bottom) / 2)
                marks.append(JoinMark(str(len(marks) + 1), middle, True, (tile.label, beside.label)))
            if below:
                middle = Point((left + right) / 2, bottom)
                marks.append(JoinMark(str(len(marks) + 1), middle, False, (tile.label, below.label)))
        return tuple(marks)

    def joins_of(self, tile: Tile) -> tuple[JoinMark, ...]:
        """Returns the marks on the four sides of a tile."""
        return tuple(mark for mark in self.joins if tile.label in mark.tiles)


def tile_label(row: int, column: int) -> str:
    """Returns the name of a place in the grid: rows A, B … Z, AA; columns from 1."""
    letters = ""
    row += 1
    while row:
        row, letter = divmod(row - 1, 26)
        letters = chr(ord("A") + letter) + letters
    return f"{letters}{column + 1}"


def lay(pieces: Sequence[CutPiece], width: float, first: Callable[[Size], float] = ORDERS[0]) -> tuple[Laid, ...]:
    """Returns the pieces laid on a plane no wider than `width`; `first` as for lay_on_strip."""
    boxes = [_box(piece) for piece in pieces]
    corners = lay_on_strip([(right - left, top - bottom) for left, bottom, right, top in boxes], width, GAP, first)
    return tuple(
        Laid(piece, corner + Point(INK - left, -INK - top))
        for piece, corner, (left, _, _, top) in zip(pieces, corners, boxes, strict=True)
    )


def tiled(pieces: Sequence[CutPiece], page: Page) -> Plane:
    """Returns the plane that needs the fewest pages of those tried: each number of columns, each order of laying.

    Of planes that need equally many, the squarest is the easiest to paste.
    """
    widest = max(box[2] - box[0] for box in map(_box, pieces)) + 2 * INK
    fewest = math.ceil(widest / page.cell[0])
    inked = [_polygon(piece).buffer(INK, quad_segs=2) for piece in pieces]
    planes = [
        _cut(page, lay(pieces, columns * page.cell[0] - 2 * INK, first), inked, columns)
        for columns in range(fewest, max(fewest, MAX_COLUMNS) + 1)
        for first in ORDERS
    ]
    return min(planes, key=lambda plane: (len(plane.tiles), abs(plane.columns - plane.rows), plane.columns))


def _polygon(piece: CutPiece) -> shapely.Polygon:
    return shapely.Polygon([(p.x, p.y) for p in piece.cutting_line])


def _box(piece: CutPiece) -> tuple[float, float, float, float]:
    xs, ys = [p.x for p in piece.cutting_line], [p.y for p in piece.cutting_line]
    return min(xs), min(ys), max(xs), max(ys)


def _cell(page: Page, row: int, column: int) -> tuple[float, float, float, float]:
    wide, high = page.cell
    return column * wide, -(row + 1) * high, (column + 1) * wide, -row * high


def _cut(page: Page, laid: Sequence[Laid], shapes: Sequence[shapely.Polygon], columns: int) -> Plane:
    """Returns the plane cut into tiles; a cell that no piece's ink reaches gets none.

    `shapes` are the pieces' outlines with their ink, each in its own frame.
    """
    inked = [translate(shape, entry.shift.x, entry.shift.y) for shape, entry in zip(shapes, laid, strict=True)]
    depth = max(-outline.bounds[1] for outline in inked)
    rows = math.ceil(depth / page.cell[1])
    cells = [(row, column) for row in range(rows) for column in range(columns)]
    tree = shapely.STRtree([shapely.box(*_cell(page, row, column)) for row, column in cells])
    held: dict[int, list[int]] = {}
    for index, outline in enumerate(inked):
        for cell in tree.query(outline, predicate="intersects"):
            held.setdefault(int(cell), []).append(index)
    tiles = [
        Tile(*cells[cell], number=number, pieces=tuple(laid[i].piece.name for i in sorted(held[cell])))
        for number, cell in enumerate(sorted(held), start=1)
    ]
    return Plane(page, tuple(laid), columns, rows, tuple(tiles))
