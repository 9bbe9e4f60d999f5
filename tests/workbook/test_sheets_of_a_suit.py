"""The sheets of a whole drafted suit: every piece there, and nearly every tick named."""

from __future__ import annotations

from collections import Counter

import pypdfium2 as pdfium
import pytest

from settwright.bars.crossings import crossings
from settwright.bars.model import Axis
from settwright.body.estimate import complete
from settwright.commission.design import FrontEdge, JacketDesign, SkirtDesign
from settwright.makeup.garment import make_up
from settwright.makeup.model import Hand, MakeUpCloths, Stage
from settwright.pattern.drafts.jacket import draft_jacket
from settwright.pattern.drafts.skirt import draft_skirt
from settwright.units import Units
from settwright.workbook.drawing.marks import caption
from settwright.workbook.sheets import drawn_pattern, one_large_sheet
from tests.cut_pieces import SHELL, phases


@pytest.mark.slow
@pytest.mark.parametrize("stage", Stage)
def test_a_suit_on_one_large_sheet(stage: Stage):
    body = complete({"height": 1680.0, "bust_girth": 920.0, "waist_girth": 740.0, "hip_girth": 980.0})
    jacket = JacketDesign()
    made = make_up(
        (draft_jacket(body, jacket, 0.6), draft_skirt(body, SkirtDesign(), jacket.length_below_waist)),
        front_edge=FrontEdge.SEPARATE,
        front_laps_over=Hand.RIGHT,
        stage=stage,
        cloths=MakeUpCloths(),
        thickness=0.6,
    )
    places = phases(made.pieces)
    ticks = {p.name: crossings(p, places[p.name], SHELL) for p in made.pieces if p.is_matched}
    assert all({tick.axis for tick in found} == set(Axis) for found in ticks.values())
    sheet = one_large_sheet(drawn_pattern(made.pieces, ticks, units=Units.INCHES, title="A suit", stage=stage))
    words = " ".join(page.get_textpage().get_text_bounded() for page in pdfium.PdfDocument(sheet))
    for piece in made.pieces:
        assert caption(piece) in words
    assert words.count("cut one; shell") == len(made.pieces)
    wanted = Counter(tick.label for found in ticks.values() for tick in found)
    # a middle's name is the beginning of its edges' names, so longest first, each occurrence counted once
    named = 0
    for label in sorted(wanted, key=len, reverse=True):
        named += words.count(label)
        words = words.replace(label, "")
    assert 0.9 * wanted.total() < named <= wanted.total()
