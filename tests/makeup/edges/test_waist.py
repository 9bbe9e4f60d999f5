"""The skirt's waist held in to a ribbon: sums, the custom's limits, what the cloth takes, the ladder.

Limits are common practice, no source: about 50 mm held in, the ribbon 5 to 6 mm short of the skirt at the zip.
"""

from dataclasses import replace

import pytest

from settwright.cloth.give import WOOL, Fibre, usual
from settwright.commission.design import FrontEdge, SkirtCut, SkirtDesign, WaistFinish
from settwright.geometry.tolerances import PRINT
from settwright.makeup import Hand, MakeUpCloths, Stage, make_up
from settwright.makeup.edges.waist import MOST_HELD_IN, WaistPlan, reserves_of, waist_findings, waist_plan
from settwright.pattern import Draft
from settwright.pattern.drafts.skirt import draft_skirt
from settwright.pattern.drafts.skirt_waist import SHORT
from tests.pattern.front_styles import body_of

RIBBON = replace(SkirtDesign(), waist_finish=WaistFinish.RIBBON)
PLEATED = replace(RIBBON, cut=SkirtCut.PLEATED, vent_length=0.0)


def skirt(design: SkirtDesign) -> Draft:
    return draft_skirt(body_of("middle"), design, None)


def planned(design: SkirtDesign = RIBBON, fibre: Fibre = Fibre.WOOL) -> WaistPlan:
    plan = waist_plan(skirt(design), usual(fibre), design.ribbon_width)
    assert plan is not None
    return plan


@pytest.mark.parametrize("design", [RIBBON, replace(RIBBON, cut=SkirtCut.FLARED), PLEATED], ids=lambda d: str(d.cut))
@pytest.mark.parametrize("held_in", [0.0, 20.0, 50.0])
def test_what_is_held_in_sums_and_keeps_clear_of_the_zip(design: SkirtDesign, held_in: float) -> None:
    plan = planned(replace(design, held_in=held_in))
    assert plan.held_in == pytest.approx(held_in, abs=0.01)
    draft = skirt(replace(design, held_in=held_in))
    ribbon = draft.piece("waist-ribbon").edge("lower").path.length
    assert plan.length == pytest.approx(ribbon, abs=PRINT)
    beside_zip = [each for each in plan.held if "ribbon-end" in (each.first, each.last)]
    assert len(beside_zip) == 1
    assert beside_zip[0].by == pytest.approx(0.0, abs=1e-6)
    assert 5.0 <= SHORT <= 6.0
    others = [each.part for each in plan.held if each not in beside_zip]
    assert max(others) == pytest.approx(min(others), abs=1e-4), "spread by panel, in proportion"
    assert not waist_findings(plan)


def test_the_ladder_of_longer_ribbons_ends_at_the_waist_itself() -> None:
    plan = planned(replace(RIBBON, held_in=35.0))
    assert list(plan.ladder) == sorted(plan.ladder)
    assert plan.ladder[0] == pytest.approx(plan.length + 10.0)
    assert plan.ladder[-1] == pytest.approx(plan.waist)
    assert len(plan.ladder) == 4
    assert not planned(replace(RIBBON, held_in=0.0)).ladder


def test_cloth_that_cannot_be_shrunk_is_told() -> None:
    much = replace(RIBBON, held_in=MOST_HELD_IN)
    assert not waist_findings(planned(much))
    found = waist_findings(planned(much, Fibre.SYNTHETIC))
    assert len(found) == 1
    assert "shrunk" in found[0].what


def test_a_shaped_ribbon_is_longer_below_as_the_skirt_is() -> None:
    """Checked on the draft itself: the girth that the panels have 25 mm below the waist, darts taken out there."""
    plan = planned()
    draft = skirt(RIBBON)
    below = 25.0
    width = 0.0
    for name, centre in (("skirt-front", "centre-front"), ("skirt-back", "centre-back")):
        piece = draft.piece(name)
        hand = ".right" if any(e.name == "side.right" for e in piece.edges) else ""
        side, middle = piece.edge(f"side{hand}").path, piece.edge(centre).path
        top = max(middle.start.y, middle.end.y)
        level = top - below
        width += abs(side.at(side.where_y(level)[0]).x - middle.at(middle.where_y(level)[0]).x)
        for line in piece.lines:
            if line.name.startswith("dart-") and not line.name.endswith(".left"):
                at = [line.path.at(s).x for s in line.path.where_y(level)]
                width -= max(at) - min(at)
    grown = 2 * width - (plan.waist + 2 * SHORT)
    assert plan.lower_longer == pytest.approx(grown, rel=0.35)
    assert plan.lower_longer > 5.0


def test_what_can_be_let_out() -> None:
    made = make_up(
        (skirt(SkirtDesign()),),
        front_edge=FrontEdge.SEPARATE,
        front_laps_over=Hand.RIGHT,
        stage=Stage.AFTER_FITTING,
        cloths=MakeUpCloths(),
        thickness=0.8,
    )
    reserves = {reserve.seam: reserve.by for reserve in reserves_of(made)}
    # 25 mm kept on each side, 10 of them sewn: 15 + 15 at the centre back, twice that at the two side seams
    assert reserves["skirt-side"] == pytest.approx(60.0)
    assert reserves["skirt-centre-back"] == pytest.approx(30.0)
    assert "waist-front-1" not in reserves
    assert WOOL.shrink_weft > 0
