"""Of a pair of inside pieces one is printed for both; shell pieces, told apart by their bars, right and left."""

import pypdfium2 as pdfium

from settwright.geometry import Path, Point
from settwright.makeup.garment import cut_instances
from settwright.makeup.model import Stage
from settwright.pattern import Cut, Edge, Layer, Piece
from settwright.units import Units
from settwright.workbook.sheets import drawn_pattern, tile_sheets


def square(name: str, layer: Layer) -> Piece:
    corners = [Point(-60, -60), Point(60, -60), Point(60, 60), Point(-60, 60)]
    names = ("hem", "side", "shoulder", "centre-back")
    edges = tuple(
        Edge(edge, Path.line(corners[i], corners[(i + 1) % 4]), names[i - 1], names[(i + 1) % 4])
        for i, edge in enumerate(names)
    )
    return Piece(name, name.capitalize(), Cut.PAIR, edges, layer=layer)


def test_one_lining_is_drawn_for_both_hands():
    shell, _ = cut_instances(square("back", Layer.SHELL), "jacket", "shell", Stage.AFTER_FITTING)
    lining, _ = cut_instances(square("back-lining", Layer.LINING), "jacket", "lining", Stage.AFTER_FITTING)
    pattern = drawn_pattern((*shell, *lining), {}, units=Units.CM, title="A back", stage=Stage.AFTER_FITTING)
    assert [piece.name for piece in pattern.pieces] == ["back.right", "back.left", "back-lining.right"]
    words = " ".join(page.get_textpage().get_text_bounded() for page in pdfium.PdfDocument(tile_sheets(pattern)))
    assert words.count("cut two, one turned over; lining") == 1
    assert words.count("cut one; shell") == 2
    assert "Back-lining, right and left" in words
