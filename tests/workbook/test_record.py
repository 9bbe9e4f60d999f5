"""The drafting record on its pages: whatever the cut, nothing is taller than the paper, so that it can be printed."""

from __future__ import annotations

from dataclasses import replace

import pytest
from reportlab.platypus import Flowable

from settwright.body.estimate import complete
from settwright.commission.design import BodyCut, JacketDesign, LowerSection, SleeveCut
from settwright.pattern import Draft
from settwright.pattern.drafts.jacket import draft_jacket
from settwright.units import Units
from settwright.workbook.drawing.pen import POINT, register_fonts
from settwright.workbook.record import record_section
from tools.cuts import CUTS, Cut

BODY = complete({"bust_girth": 920.0, "waist_girth": 740.0, "hip_girth": 980.0, "height": 1680.0})
LETTER_LESS_MARGINS = (215.9 - 32.0, 279.4 - 32.0)  # the lower of the two papers
BOTTOM_PADDING = 10.0  # points, of a frame of the page


def heights(draft: Draft, units: Units) -> list[float]:
    """Of all flowables of a draft's record, in points."""
    register_fonts()
    room = LETTER_LESS_MARGINS
    section: list[Flowable] = record_section((draft,), units, room)
    return [flowable.wrap(room[0] / POINT, room[1] / POINT)[1] for flowable in section]


def check_fits(draft: Draft) -> None:
    page = LETTER_LESS_MARGINS[1] / POINT - BOTTOM_PADDING
    for units in Units:
        *head, first = heights(draft, units)[:5]
        assert sum(head) + first <= page
        assert all(height <= page for height in heights(draft, units))


@pytest.mark.parametrize("cut", CUTS, ids=lambda cut: cut.name)
def test_the_record_of_every_cut_fits_its_pages(cut: Cut) -> None:
    check_fits(cut.draft(BODY))


def test_rules_longer_than_a_column_go_on_in_the_next() -> None:
    """A raglan on a body cut at the waist constructs more points at one figure than a column holds."""
    design = replace(
        JacketDesign(),
        body_cut=BodyCut.DARTED,
        sleeve_cut=SleeveCut.RAGLAN,
        waist_seam=True,
        lower_section=LowerSection.PADDED_HIP,
        flaps=False,
    )
    check_fits(draft_jacket(BODY, design, 1.0))
