"""The paper plane: pieces at full size, tiles that miss nothing, marks on which neighbours agree."""

from __future__ import annotations

import itertools

import pytest
import shapely

from settwright.geometry import Point
from settwright.workbook.sheets.lettering import Box, Room, lettered
from settwright.workbook.sheets.plane import GAP, LAP, PAGES, Page, Plane, tile_label, tiled
from tests.cut_pieces import renamed, suit

MANY = tuple(renamed(piece, f"{piece.name}.{copy}") for copy in range(3) for piece in suit())


@pytest.fixture(scope="module", params=["A4", "Letter"])
def plane(request: pytest.FixtureRequest) -> Plane:
    return tiled(MANY, PAGES[request.param])


def test_page_sizes():
    """A4 is 210 × 297 mm (ISO 216); Letter 8½ × 11 in, 215.9 × 279.4 mm (ANSI/ASME Y14.1). From memory."""
    assert (PAGES["A4"].width, PAGES["A4"].height) == (210.0, 297.0)
    assert (PAGES["Letter"].width, PAGES["Letter"].height) == pytest.approx((215.9, 279.4))


def test_pieces_keep_their_size_their_grain_and_their_distance(plane: Plane):
    assert [laid.piece.name for laid in plane.laid] == [piece.name for piece in MANY]
    for laid in plane.laid:
        at = [(p.x + laid.shift.x, p.y + laid.shift.y) for p in laid.piece.cutting_line]
        assert laid.outline.equals(shapely.Polygon(at))
    for a, b in itertools.combinations(plane.laid, 2):
        assert a.outline.distance(b.outline) > GAP - 1e-6


def test_tiles_show_every_piece_whole_and_none_is_blank(plane: Plane):
    cells = shapely.union_all([shapely.box(*plane.cell(t.row, t.column)) for t in plane.tiles])
    for laid in plane.laid:
        assert laid.outline.difference(cells.buffer(1e-6)).area < 1e-6
    for tile in plane.tiles:
        cell = shapely.box(*plane.cell(tile.row, tile.column))
        shown = {laid.piece.name for laid in plane.laid if laid.outline.buffer(0.5).intersects(cell)}
        assert set(tile.pieces) == shown
        assert shown
    assert [tile.number for tile in plane.tiles] == list(range(1, len(plane.tiles) + 1))
    assert [(t.row, t.column) for t in plane.tiles] == sorted((t.row, t.column) for t in plane.tiles)


def test_a_window_is_what_the_page_can_print(plane: Plane):
    for tile in plane.tiles:
        left, bottom, right, top = plane.window(tile)
        assert right - left == pytest.approx(plane.page.width - 20)
        assert top - bottom == pytest.approx(plane.page.height - 20)


def test_neighbours_share_their_marks_and_the_lap(plane: Plane):
    by_label = {tile.label: tile for tile in plane.tiles}
    assert len({mark.name for mark in plane.joins}) == len(plane.joins)
    joined = {mark.tiles for mark in plane.joins}
    for tile in plane.tiles:
        for row, column in ((tile.row, tile.column + 1), (tile.row + 1, tile.column)):
            if plane.tile_at(row, column):
                assert (tile.label, tile_label(row, column)) in joined
    for mark in plane.joins:
        first, second = (by_label[label] for label in mark.tiles)
        assert mark in plane.joins_of(first)
        assert mark in plane.joins_of(second)
        windows = [shapely.box(*plane.window(tile)) for tile in (first, second)]
        shared = windows[0].intersection(windows[1])
        left, bottom, right, top = shared.bounds
        across = right - left if mark.is_upright else top - bottom
        assert across == pytest.approx(LAP)
        assert shared.buffer(1e-9).contains(shapely.Point(mark.at.x, mark.at.y))
        # the mark sits on the rim of the second tile's own cell: that is where the second page is trimmed
        cell = plane.cell(second.row, second.column)
        assert (mark.at.x == cell[0]) if mark.is_upright else (mark.at.y == cell[3])


def test_packing_saves_paper():
    """Fewer pages than one grid of pages for each piece by itself would take."""
    page = PAGES["A4"]
    apart = sum(len(tiled([piece], page).tiles) for piece in MANY)
    assert len(tiled(MANY, page).tiles) < apart


@pytest.mark.parametrize(
    ("row", "column", "label"), [(0, 0, "A1"), (1, 11, "B12"), (25, 0, "Z1"), (26, 0, "AA1"), (51, 2, "AZ3")]
)
def test_labels(row: int, column: int, label: str):
    assert tile_label(row, column) == label


def test_a_piece_wider_than_the_widest_plane_tried_still_gets_its_tiles():
    narrow = Page("slip", 50.0, 297.0)
    assert tiled(suit()[:1], narrow).columns >= 17


def test_names_keep_off_each_other_and_inside():
    room = Room(shapely.box(0, 0, 100, 50))
    first = lettered("navy 2 upright", Point(10, 20), Point(1, 0), 3.0)
    assert room.claim([first]) == first
    assert room.claim([lettered("green 1", Point(12, 20.5), Point(1, 0), 3.0)]) is None
    assert room.claim([lettered("green 1", Point(12, 25.5), Point(1, 0), 3.0)]) is not None
    assert room.claim([lettered("too near the rim", Point(90, 40), Point(1, 0), 3.0)]) is None


def test_type_never_stands_on_its_head():
    assert lettered("a", Point(0, 0), Point(-1, 0), 3.0).along == Point(1, 0)
    assert lettered("a", Point(0, 0), Point(0, -1), 3.0).along == Point(0, 1)
    assert lettered("a", Point(0, 0), Point(0, 1), 3.0).along == Point(0, 1)


def test_turned_boxes_meet_or_dont():
    level = Box(Point(0, 0), Point(1, 0), 10, 1)
    upright = Box(Point(0, 5), Point(0, 1), 3, 1)
    assert not level.meets(upright)  # its foot is at y = 2
    assert level.meets(Box(Point(0, 3), Point(0, 1), 3, 1))
