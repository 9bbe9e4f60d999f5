"""Cutting lines and walked seams of the real jacket and skirt, over real bodies (the open survey's women)."""

import itertools
import math
from dataclasses import replace
from functools import cache

import pytest
from shapely import LineString

from settwright.body import Body
from settwright.commission.design import FrontEdge, FrontStyle, JacketDesign, SkirtDesign
from settwright.commission.inside import Inside, Lined
from settwright.findings import Refusal, Weight
from settwright.makeup import Hand, MadeUp, MakeUpCloths, Stage, make_up
from settwright.pattern import Draft
from settwright.pattern.drafts.jacket import draft_jacket
from settwright.pattern.drafts.skirt import draft_skirt
from tests.bodies import completed_bodies
from tests.makeup.toy_drafts import falls_short, polygon, shapely_point

THICKNESS = 0.6
SOME = (
    (0, FrontEdge.SEPARATE, Stage.BEFORE_FITTING),
    (88, FrontEdge.EXTENDED, Stage.AFTER_FITTING),
    (0, FrontEdge.TO_NECK, Stage.BEFORE_FITTING),
)


@cache
def drafts(index: int, edge: FrontEdge) -> tuple[Draft, ...]:
    body: Body = completed_bodies()[index]
    style = FrontStyle.V_NECK if edge is FrontEdge.TO_NECK else FrontStyle.NOTCHED
    design = replace(JacketDesign(), front_edge=edge, front_style=style)
    return (
        draft_jacket(body, design, THICKNESS),
        draft_skirt(body, SkirtDesign(), design.length_below_waist),
    )


@cache
def suit(index: int, edge: FrontEdge, stage: Stage, lining: str | None = "lining") -> MadeUp:
    return make_up(
        drafts(index, edge),
        front_edge=edge,
        front_laps_over=Hand.RIGHT,
        stage=stage,
        cloths=MakeUpCloths(lining=lining),
        thickness=THICKNESS,
    )


def check_cutting_lines(made: MadeUp, stage: Stage) -> None:
    for piece in made.pieces:
        outline, seam_line = polygon(piece.cutting_line), polygon(piece.seam_line)
        assert outline.is_valid, piece.name
        assert seam_line.is_valid, piece.name
        assert outline.exterior.is_ccw
        assert outline.contains(seam_line), piece.name
        assert falls_short(piece.piece, piece.allowances, stage, piece.cutting_line) < 0.05, piece.name
        # no horns: nothing lies farther out than a mitred or folded corner may reach
        widest = max(allowance.width(stage) for allowance in piece.allowances)
        assert seam_line.buffer(2.3 * widest).contains(outline), piece.name


def check_walks(made: MadeUp) -> None:
    for pair in made.sewn:
        for side, points in ((pair.a, [a for a, _ in pair.pairs]), (pair.b, [b for _, b in pair.pairs])):
            path = made.piece(side.piece).piece.edge(side.edge).path
            line = LineString([(p.x, p.y) for p in path.points()])
            assert max(line.distance(shapely_point(p)) for p in points) < 0.05, pair.name
            assert max((q - p).length for p, q in itertools.pairwise(points)) < 8.01, pair.name


@pytest.mark.parametrize(("index", "edge", "stage"), SOME)
def test_cutting_lines_keep_every_allowance_and_seams_walk_from_end_to_end(index: int, edge: FrontEdge, stage: Stage):
    made = suit(index, edge, stage)
    check_cutting_lines(made, stage)
    check_walks(made)


@pytest.mark.slow
@pytest.mark.parametrize("edge", FrontEdge)
def test_every_body(edge: FrontEdge):
    refused = 0
    for index in range(len(completed_bodies())):
        try:
            drafts(index, edge)
        except Refusal:  # the draft's own business, tested there
            refused += 1
            continue
        for stage in Stage:
            made = suit(index, edge, stage)
            check_cutting_lines(made, stage)
            check_walks(made)
    assert refused < len(completed_bodies()) / 4


@pytest.mark.parametrize("edge", FrontEdge)
def test_every_seam_and_touch_of_the_drafts_is_made_up(edge: FrontEdge):
    made = suit(0, edge, Stage.BEFORE_FITTING)
    names = {pair.name for pair in made.sewn}
    on_fold = {
        FrontEdge.SEPARATE: set[str](),
        FrontEdge.EXTENDED: {"facing-front-edge", "facing-lapel"},
        FrontEdge.TO_NECK: {"facing-front-edge", "facing-neckline"},
        FrontEdge.SPLIT: {"facing-front-edge-lower"},
    }[edge]
    for draft in made.drafts:
        for join in (*draft.seams, *draft.touches):
            if join.name in on_fold or len(join.stops) < 2:
                assert f"{join.name}.right" not in names
            else:
                assert ({join.name} if join.across else {f"{join.name}.right", f"{join.name}.left"}) <= names
    assert {"jacket-over-skirt-front.right", "jacket-over-skirt-back.left"} <= names


def test_left_and_right_walk_as_mirror_images():
    sewn = {pair.name: pair for pair in suit(0, FrontEdge.SEPARATE, Stage.BEFORE_FITTING).sewn}
    for name, right in sewn.items():
        if name.endswith(".right") and not name.startswith("waist"):
            left = sewn[name.removesuffix("right") + "left"]
            for (a, b), (c, d) in zip(right.pairs, left.pairs, strict=True):
                assert (a.x, a.y) == pytest.approx((-c.x, c.y), abs=0.0021)
                assert (b.x, b.y) == pytest.approx((-d.x, d.y), abs=0.0021)


def test_every_edge_has_a_custom_of_its_own():
    for edge in FrontEdge:
        findings = suit(0, edge, Stage.BEFORE_FITTING).findings
        assert not [f for f in findings if f.weight is Weight.DEFAULT]
        assert not [f for f in findings if "was meant" in f.what]


def test_without_a_lining_cloth_the_flap_lining_is_left_out_and_said():
    made = suit(0, FrontEdge.SEPARATE, Stage.AFTER_FITTING, lining=None)
    assert not any(piece.name.startswith("flap-lining") for piece in made.pieces)
    assert any(finding.where == "flap-lining" for finding in made.findings)


def test_what_is_wanted_inside_without_its_cloth_is_said():
    asked = {"front_edge": FrontEdge.SEPARATE, "front_laps_over": Hand.RIGHT, "stage": Stage.AFTER_FITTING}
    bare, lined, unlined = (
        make_up(
            drafts(0, FrontEdge.SEPARATE),
            **asked,
            cloths=MakeUpCloths(lining=cloth),
            thickness=THICKNESS,
            inside=wanted,
        )
        for cloth, wanted in ((None, Inside()), ("lining", Inside()), (None, Inside(jacket_lining=Lined.NONE)))
    )

    def said(made: MadeUp) -> bool:
        return any(f.where == "jacket.inside" and "no lining is named" in f.what for f in made.findings)

    assert said(bare)
    assert not said(lined)
    assert not said(unlined)
    assert lined.piece("front-lining.left").cloth == "lining"
    assert not lined.piece("front-lining.left").is_matched
    assert not any(piece.cloth == "lining" for piece in bare.pieces)


def test_the_turn_of_cloth_is_measured_on_the_collars():
    # geometry of a fold: pitch × angle; 0.6 mm of cloth turned by 180° takes 1.9 mm
    told = [f for f in suit(0, FrontEdge.SEPARATE, Stage.BEFORE_FITTING).findings if f.where.startswith("top-collar")]
    assert [f.weight for f in told] == [Weight.NOTE]
    assert f"{math.pi * THICKNESS:.1f} mm for the turn" in told[0].what
    thick = make_up(
        drafts(0, FrontEdge.SEPARATE),
        front_edge=FrontEdge.SEPARATE,
        front_laps_over=Hand.RIGHT,
        stage=Stage.AFTER_FITTING,
        cloths=MakeUpCloths(),
        thickness=2.5,
    )
    assert any(f.weight is Weight.CAUTION and f.where.startswith("top-collar") for f in thick.findings)
