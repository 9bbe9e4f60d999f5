"""Preparing the cloth: how many repeats are measured at once, and that a caution stands with what it speaks of."""

from __future__ import annotations

import io
from collections.abc import Callable
from pathlib import Path

import pypdfium2
import pytest
from hypothesis import given
from hypothesis import strategies as st
from reportlab.lib.pagesizes import A4
from reportlab.platypus import Flowable, SimpleDocTemplate, Spacer

from settwright.commission.reading import read_commission
from settwright.plan.plan import Plan
from settwright.planner import derive
from settwright.workbook.drawing.pen import register_fonts
from settwright.workbook.front_edge import front_edge_section
from settwright.workbook.sections import preparing_section, repeats_to_measure

SUIT = (Path(__file__).parents[2] / "examples" / "plaid-suit.toml").read_text()


@given(st.floats(1.0, 4000.0), st.floats(500.0, 12000.0))
def test_three_measures_lie_side_by_side_on_the_cloth_unless_each_is_a_single_repeat(
    repeat: float, room: float
) -> None:
    count = repeats_to_measure(repeat, room)
    assert 1 <= count <= 5
    assert count == 1 or 3 * count * repeat <= room
    assert count == 5 or 3 * (count + 1) * repeat > room


@pytest.fixture(scope="module")
def shaped() -> Plan:
    """A facing shaped along the edge of a curved front, so that the book has every caution about the iron."""
    text = SUIT.replace("[jacket]", '[jacket]\nfacing_grain = "along the edge"', 1)
    return derive(read_commission(text, "suit"), effort=1)


@pytest.mark.parametrize(
    ("section", "caution", "of"),
    [
        (front_edge_section, "keep hands clear of the edge under the iron", "Shaping it, station by station"),
        (preparing_section, "shears and needles cut and pierce", "Square the end"),
    ],
)
def test_a_caution_stands_on_the_page_of_what_it_speaks_of(
    shaped: Plan, section: Callable[[Plan], list[Flowable]], caution: str, of: str
) -> None:
    """However the pages fall: the section begins at one height of the page after another."""
    register_fonts()
    for begun_at in range(0, 640, 40):
        target = io.BytesIO()
        SimpleDocTemplate(target, pagesize=A4).build([Spacer(1, begun_at), *section(shaped)])
        pages = [page.get_textpage().get_text_range() for page in pypdfium2.PdfDocument(target.getvalue())]
        told = [page for page in pages if caution in " ".join(page.split())]
        assert len(told) == 1
        assert of in told[0], begun_at
