"""The printed sheets, measured on the rendered page (pypdfium2, the PDFium renderer) as with a ruler."""

from __future__ import annotations

import hashlib
import math
import subprocess
import sys
from dataclasses import replace
from functools import cache
from itertools import pairwise
from pathlib import Path as FilePath

import numpy as np
import pypdfium2 as pdfium
import pytest
import shapely

from settwright.bars.crossings import crossings
from settwright.findings import Refusal
from settwright.geometry import Point, Transform
from settwright.makeup.model import Drawn, Hand, Stage
from settwright.units import Units
from settwright.workbook.sheets import drawn_pattern, one_large_sheet, tile_sheets
from settwright.workbook.sheets.plane import PAGES, tiled
from tests.cut_pieces import SHELL, cut, phases, renamed, suit, waistband

POINT = 25.4 / 72
FINE = 14  # pixels for a millimetre
COARSE = 12
PRINT = 0.1  # mm, geometry.tolerances.PRINT
TITLE = "The suit of the example"


@cache
def tiles(page: str) -> bytes:
    pieces = suit()
    ticks = {piece.name: crossings(piece, phases(pieces)[piece.name], SHELL) for piece in pieces}
    return tile_sheets(drawn_pattern(pieces, ticks, units=Units.CM, title=TITLE, stage=Stage.BEFORE_FITTING), page)


def ink(page: pdfium.PdfPage, per_mm: int, crop: tuple[float, float, float, float] = (0, 0, 0, 0)) -> np.ndarray:
    """Returns the page's darkness from 0 to 1, first row at the top; `crop` is (left, bottom, right, top) in mm."""
    bitmap = page.render(scale=per_mm * POINT, crop=tuple(c / POINT for c in crop), grayscale=True)
    return 1.0 - bitmap.to_numpy() / 255.0


def long_lines(darkness: np.ndarray, per_mm: int, at_least: float) -> list[float]:
    """Returns where, in mm from the left, upright lines at least so long stand (their middles, by weight of ink)."""
    dark = darkness > 0.2
    tall = np.zeros(dark.shape[1], dtype=int)
    run = np.zeros(dark.shape[1], dtype=int)
    for row in dark:
        run = np.where(row, run + 1, 0)
        tall = np.maximum(tall, run)
    columns = np.flatnonzero(tall >= at_least * per_mm)
    groups = np.split(columns, np.flatnonzero(np.diff(columns) > 1) + 1)
    middles: list[float] = []
    for group in groups:
        span = np.arange(group[0] - 2, group[-1] + 3)
        weight = np.median(darkness[:, span][dark[:, group].all(axis=1)], axis=0)
        middles.append(float(((span + 0.5) * weight).sum() / weight.sum() / per_mm))
    return middles


@pytest.mark.parametrize("page", ["A4", "Letter"])
def test_the_test_squares_measure_true(page: str):
    """100 mm and 4 in (101.6 mm; 1 in = 25.4 mm exactly since 1959), upright and level, within 0.1 mm."""
    front = pdfium.PdfDocument(tiles(page))[0]
    darkness = ink(front, FINE, (0, PAGES[page].height - 145, 0, 0))  # above the map
    for lines in (long_lines(darkness, FINE, 95.0), long_lines(darkness.T, FINE, 95.0)):
        gaps = [b - a for i, a in enumerate(lines) for b in lines[i + 1 :]]
        assert min(abs(gap - 100.0) for gap in gaps) < PRINT
        assert min(abs(gap - 101.6) for gap in gaps) < PRINT
    assert len(long_lines(darkness, FINE, 95.0)) == 4


@pytest.mark.parametrize(("page", "width", "height"), [("A4", 210.0, 297.0), ("Letter", 215.9, 279.4)])
def test_page_boxes(page: str, width: float, height: float):
    document = pdfium.PdfDocument(tiles(page))
    assert len(document) == len(tiled(suit(), PAGES[page]).tiles) + 1
    for sheet in document:
        left, bottom, right, top = (edge * POINT for edge in sheet.get_mediabox())
        assert (left, bottom) == (0, 0)
        assert (right, top) == pytest.approx((width, height), abs=0.001)


def strays(darkness: np.ndarray, per_mm: int, polygon: np.ndarray, keep: shapely.Geometry) -> list[float]:
    """Returns by how much, in mm, the drawn line strays from the polygon, at places 3 mm apart.

    The polygon is in mm on the page, y down from its top; places outside `keep` are passed over. At each place the
    ink is weighed along the normal, 1 mm to each side.
    """
    found: list[float] = []
    reach = np.arange(-1.0, 1.0001, 0.02)
    for (ax, ay), (bx, by) in pairwise([*polygon, polygon[0]]):
        length = math.hypot(bx - ax, by - ay)
        if length < 3:
            continue
        tx, ty = (bx - ax) / length, (by - ay) / length
        for s in np.arange(1.5, length - 1.4, 3.0):
            x, y = ax + tx * s, ay + ty * s
            if not keep.contains(shapely.Point(x, y)):
                continue
            xs, ys = ((x - ty * reach) * per_mm - 0.5, (y + tx * reach) * per_mm - 0.5)
            seen = sampled(darkness, xs, ys)
            seen = np.where(seen > 0.3, seen, 0.0)
            assert seen.sum() > 0, f"no line at {x:.1f}, {y:.1f}"
            found.append(float((seen * reach).sum() / seen.sum()))
    return found


def sampled(darkness: np.ndarray, xs: np.ndarray, ys: np.ndarray) -> np.ndarray:
    """Returns the darkness at pixel coordinates, mixed from the four pixels around."""
    i, j = np.floor(ys).astype(int), np.floor(xs).astype(int)
    fy, fx = ys - i, xs - j
    return (
        darkness[i, j] * (1 - fy) * (1 - fx)
        + darkness[i, j + 1] * (1 - fy) * fx
        + darkness[i + 1, j] * fy * (1 - fx)
        + darkness[i + 1, j + 1] * fy * fx
    )


@pytest.mark.parametrize("page", ["A4", "Letter"])
def test_a_tile_shows_the_outline_at_full_size_in_its_place(page: str):
    """The cutting line of every piece on two tiles, measured across the line within 0.1 mm."""
    plane = tiled(suit(), PAGES[page])
    document = pdfium.PdfDocument(tiles(page))
    for tile in (plane.tiles[0], plane.tiles[len(plane.tiles) // 2]):
        darkness = ink(document[tile.number], COARSE)
        left, _, _, top = plane.window(tile)
        wide, high = plane.page.cell
        keep = shapely.box(10 + 12, 10 + 12, 10 + wide - 12, 10 + high - 12)  # clear of trim lines and join marks
        measured = 0
        for laid in plane.laid:
            if laid.piece.name not in tile.pieces:
                continue
            at = [(p.x + laid.shift.x, p.y + laid.shift.y) for p in laid.piece.cutting_line]
            polygon = np.array([(x - left + 10, top - y + 10) for x, y in at])
            off = strays(darkness, COARSE, polygon, keep)
            measured += len(off)
            assert max(map(abs, off), default=0.0) < PRINT
        assert measured > 20


def test_the_large_sheet_shows_the_outline_at_full_size():
    """Placed by the ink's own extent, so that nothing of our arrangement goes into the measuring."""
    piece = suit()[0]
    sheet = pdfium.PdfDocument(
        one_large_sheet(drawn_pattern([piece], {}, units=Units.INCHES, title=TITLE, stage=Stage.BEFORE_FITTING))
    )[0]
    width, height = (side * POINT for side in sheet.get_size())
    assert width == pytest.approx(914.0, abs=0.001)
    darkness = ink(sheet, 8, (0, 0, 0, 140))  # below the test squares
    dark = darkness > 0.5
    rows, columns = np.flatnonzero(dark.any(axis=1)), np.flatnonzero(dark.any(axis=0))
    x, y = np.array([p.x for p in piece.cutting_line]), np.array([p.y for p in piece.cutting_line])
    assert (columns[-1] + 1 - columns[0]) / 8 == pytest.approx(float(np.ptp(x)) + 0.6, abs=0.2)
    left = (columns[0] + columns[-1] + 1) / 16 - (x.min() + x.max()) / 2
    top = (rows[0] + rows[-1] + 1) / 16 + (y.min() + y.max()) / 2
    polygon = np.stack([x + left, top - y], axis=1)
    off = strays(darkness, 8, polygon, shapely.box(0, 0, width, height))
    assert len(off) > 200
    assert max(map(abs, off)) < PRINT


@pytest.mark.parametrize("page", ["A4", "Letter"])
def test_neighbours_print_the_same_lap(page: str):
    """What one page shows on its lap is what the next page shows along its trimmed side."""
    plane = tiled(suit(), PAGES[page])
    document = pdfium.PdfDocument(tiles(page))
    by_label = {tile.label: tile for tile in plane.tiles}
    wide, _ = plane.page.cell
    per_mm, dark, agreeing = 10, 0, 0
    pages = {label: ink(document[tile.number], per_mm) for label, tile in by_label.items()}
    for mark in (mark for mark in plane.joins if mark.is_upright):
        first, second = (pages[label] for label in mark.tiles)
        rows = slice(12 * per_mm, -30 * per_mm)  # clear of margins and of the lower lap
        a, b = shifted(first, 10 + wide, per_mm)[rows], shifted(second, 10.0, per_mm)[rows]
        heavy = (a > 0.85) | (b > 0.85)
        dark += int(heavy.sum())
        agreeing += int((np.abs(a - b) < 0.5)[heavy].sum())
    assert dark > 3000
    assert agreeing > 0.97 * dark


def shifted(darkness: np.ndarray, left: float, per_mm: int) -> np.ndarray:
    """Returns 7 mm of the page from 1.5 mm right of `left`, between pixels where it must be."""
    start = (left + 1.5) * per_mm
    whole, part = math.floor(start), start - math.floor(start)
    strip = darkness[:, whole : whole + 7 * per_mm + 1]
    return strip[:, :-1] * (1 - part) + strip[:, 1:] * part


def test_words_on_the_sheets():
    document = pdfium.PdfDocument(tiles("A4"))
    front = document[0].get_textpage().get_text_bounded()
    for words in (TITLE, "measure both squares", "100 %", "fit to page", "before the fitting", "100 mm", "4 inches"):
        assert words in front
    rest = " ".join(document[i].get_textpage().get_text_bounded() for i in range(1, len(document)))
    for words in (
        "front, right",
        "front, left",
        "cut one; shell",
        "right side of the cloth",
        "green 2 upright, left edge",
        "navy 1 level, upper edge",
        "bust point",
        "roll line",
        "front pitch",
        "on the bias",
        "side front, 2.5 cm",
        f"A1 · page 2 of {len(document)}",
    ):
        assert words in rest, words


def test_every_tile_says_which_pieces_it_shows():
    plane = tiled(suit(), PAGES["A4"])
    document = pdfium.PdfDocument(tiles("A4"))
    titles = {laid.piece.name: laid.piece for laid in plane.laid}
    for tile in plane.tiles:
        text = document[tile.number].get_textpage().get_text_bounded()
        foot = next(line for line in text.splitlines() if f"{tile.label} · page" in line)
        assert foot
        for name in tile.pieces:
            assert titles[name].piece.title in text


def test_same_bytes_twice_and_in_another_process():
    tiled_once = tiles("A4")
    tiles.cache_clear()
    assert tiles("A4") == tiled_once
    pieces = suit()
    large = one_large_sheet(drawn_pattern(pieces, {}, units=Units.CM, title=TITLE, stage=Stage.AFTER_FITTING))
    program = (
        "import hashlib, sys; sys.path[:0] = sys.argv[1:]; import test_sheets_printed as t; "
        "from settwright.workbook.sheets import drawn_pattern, one_large_sheet; "
        "pattern = drawn_pattern(t.suit(), {}, units=t.Units.CM, title=t.TITLE, stage=t.Stage.AFTER_FITTING); "
        "large = one_large_sheet(pattern); "
        "print(hashlib.sha256(t.tiles('A4') + large).hexdigest())"
    )
    here = FilePath(__file__).parent
    result = subprocess.run(
        [sys.executable, "-c", program, str(here), str(here.parent)],
        capture_output=True,
        text=True,
        check=True,
        env={"PYTHONHASHSEED": "7", "PATH": ""},
    )
    assert result.stdout.strip() == hashlib.sha256(tiled_once + large).hexdigest()


def test_what_a_page_cannot_hold_goes_on_to_the_next():
    """No page is longer than 14400 points (ISO 32000-1, annex C.2, from memory); no piece is lost."""
    pieces = [renamed(piece, f"{piece.name}.{copy}") for copy in range(6) for piece in suit()]
    document = pdfium.PdfDocument(
        one_large_sheet(drawn_pattern(pieces, {}, units=Units.CM, title=TITLE, stage=Stage.BEFORE_FITTING), width=700.0)
    )
    assert len(document) > 1
    assert all(page.get_height() <= 14400 for page in document)
    words = " ".join(page.get_textpage().get_text_bounded() for page in document)
    assert words.count("right side of the cloth") == len(pieces)


def test_a_long_title_and_a_tiny_piece_still_name_the_piece():
    piece = cut(waistband(), Hand.WHOLE, 5.0)
    small = piece.piece.moved(Transform(xx=0.05, yy=0.3))
    tiny = replace(
        piece,
        piece=small,
        seam_line=tuple(Point(p.x * 0.05, p.y * 0.3) for p in piece.seam_line),
        outline=Drawn(tuple(Point(p.x * 0.06, p.y * 0.4) for p in piece.cutting_line)),
    )
    title = "The suit for the spring showing of a house with a very long name indeed, second version"
    document = pdfium.PdfDocument(
        tile_sheets(drawn_pattern([tiny], {}, units=Units.INCHES, title=title, stage=Stage.AFTER_FITTING), "Letter")
    )
    assert "waistband" in document[1].get_textpage().get_text_bounded()
    assert title in document[0].get_textpage().get_text_bounded()
    dark = ink(document[0], 2) > 0.3
    assert not dark[:, : 2 * 9].any()  # nothing on the margins
    assert not dark[:, -2 * 9 :].any()


def test_refusals():
    pieces = suit()
    told = {"units": Units.CM, "title": TITLE, "stage": Stage.BEFORE_FITTING}
    with pytest.raises(Refusal, match="A4 or Letter"):
        tile_sheets(drawn_pattern(pieces, {}, **told), "A5")
    with pytest.raises(Refusal, match="no piece"):
        drawn_pattern([], {}, **told)
    with pytest.raises(Refusal, match="front, right is"):
        one_large_sheet(drawn_pattern(pieces, {}, **told), width=300.0)
