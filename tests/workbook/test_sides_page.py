"""The page of the two sides: pictures and the words under them stay on one page, however long the garment is."""

from __future__ import annotations

import io

import pytest
from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import Frame

from settwright.workbook.cover import Picture, sides_section
from settwright.workbook.drawing.figure.form import View
from settwright.workbook.drawing.pen import POINT, register_fonts
from settwright.workbook.drawing.recording import Recording

A4, LETTER = (210.0 - 32.0, 297.0 - 32.0), (215.9 - 32.0, 279.4 - 32.0)  # without the margins


@pytest.mark.parametrize("room", [A4, LETTER])
@pytest.mark.parametrize("height", [100.0, 250.0, 320.0, 500.0])
def test_both_sides_and_their_names_fit_one_page(room: tuple[float, float], height: float) -> None:
    register_fonts()
    views = {view: Picture(Recording(), (0.0, 0.0, 75.0, height)) for view in View}
    frame = Frame(0, 0, *(size / POINT for size in room), leftPadding=0, rightPadding=0, topPadding=0, bottomPadding=10)
    left_over = sides_section(views, room)
    frame.addFromList(left_over, Canvas(io.BytesIO()))
    assert left_over == []
