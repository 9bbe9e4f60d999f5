"""The drawing of what moved: only pieces that changed, inside its page."""

from __future__ import annotations

import re

from settwright.body.estimate import complete
from settwright.commission.design import JacketDesign
from settwright.pattern.drafts.jacket import draft_jacket
from settwright.units import Units
from settwright.workbook.drawing.moved_drawing import draw_moved, moved_size
from settwright.workbook.drawing.pen import SvgPen

MEASURED = {"height": 1680.0, "bust_girth": 920.0, "waist_girth": 740.0, "hip_girth": 980.0}


def test_only_pieces_whose_shape_changed_are_drawn() -> None:
    """A longer arm changes the sleeve and nothing else."""
    before, after = (
        draft_jacket(complete(MEASURED | {"arm_length": arm, "upper_arm_length": 345.0}), JacketDesign(), 1.0)
        for arm in (580.0, 600.0)
    )
    width, height = moved_size(before, after, 180.0, 0.16)
    pen = SvgPen((0.0, -height, width, 0.0), title="moved")
    draw_moved(pen, before, after, width=180.0, scale=0.16, units=Units.CM)
    drawing = pen.finish()
    titles = re.findall(r'font-weight="600">([^<]*)<', drawing)
    assert sorted(titles) == ["Under sleeve", "Upper sleeve"]
    assert drawing.count("<path") > 4  # two outlines each, and arrows


def test_nothing_is_drawn_where_nothing_moved() -> None:
    draft = draft_jacket(complete(MEASURED), JacketDesign(), 1.0)
    assert moved_size(draft, draft, 180.0, 0.16) == (180.0, 0.0)
