"""Stays against the net of threads, and their cutting plan against plane geometry."""

import itertools
import math
from dataclasses import replace

import pytest
from shapely import Polygon, box

from settwright.cloth.give import Fibre, Give, usual
from settwright.commission.design import FrontEdge, JacketDesign
from settwright.makeup import Hand, MakeUpCloths, Stage, make_up
from settwright.makeup.edges.stay_plan import stay_plan
from settwright.makeup.edges.stays import Material, Stay, stays_of
from tests.pattern.front_styles import PLAIN, V_NECK, body_of, drawn

SILK = usual(Fibre.SILK)


def stays(design: JacketDesign = PLAIN, edge: FrontEdge = FrontEdge.SEPARATE, give: Give = SILK) -> dict[str, Stay]:
    made = make_up(
        (drawn(body_of("middle"), replace(design, front_edge=edge)),),
        front_edge=edge,
        front_laps_over=Hand.RIGHT,
        stage=Stage.BEFORE_FITTING,
        cloths=MakeUpCloths(),
        thickness=0.8,
    )
    return {stay.title: stay for stay in stays_of(made.pieces, give)}


def test_bias_strips_follow_the_net() -> None:
    """With α half the angle between the threads: length × √2 cos α, width × √2 sin α, α = (90° − shear) / 2."""
    alpha = (math.pi / 2 - SILK.shear) / 2
    armhole = stays()["Armhole, front"]
    assert armhole.material is Material.BIAS
    assert armhole.cut_length * math.sqrt(2) * math.cos(alpha) == pytest.approx(armhole.length + 24.0)
    assert armhole.cut_width * math.sqrt(2) * math.sin(alpha) == pytest.approx(armhole.width)
    assert armhole.cut_length * armhole.cut_width == pytest.approx(
        (armhole.length + 24.0) * armhole.width / math.cos(SILK.shear)
    )


def test_a_stay_is_as_long_as_its_edge_less_what_is_held_in() -> None:
    for stay in stays().values():
        spare = 50.0 if stay.material is Material.STRAIGHT else 0.0
        assert stay.length == pytest.approx(stay.along - stay.hold_in + spare)
        assert 0 <= stay.hold_in <= 0.03 * stay.along
        if stay.material is not Material.BIAS:
            assert (stay.cut_width, stay.cut_length) == pytest.approx((stay.width, stay.length + 24.0))


def test_the_regions_of_the_trade_are_there() -> None:
    lapelled, v_neck = stays(), stays(V_NECK)
    assert {"Break line", "Lapel's edge", "Front edge", "Shoulder", "Armhole, front", "Pocket's mouth"} <= set(lapelled)
    assert "Neck's edge" in v_neck
    assert "Break line" not in v_neck
    assert lapelled["Break line"].hold_in > lapelled["Lapel's edge"].hold_in > lapelled["Front edge"].hold_in > 0
    folded = stays(edge=FrontEdge.EXTENDED)
    assert folded["Fold of the front"].material is Material.BIAS
    assert "Front edge" not in folded
    assert "Lapel's edge" not in folded
    split = stays(edge=FrontEdge.SPLIT)
    assert split["Fold of the front"].along + split["Front edge"].along == pytest.approx(lapelled["Front edge"].along)


@pytest.mark.parametrize("room", [300.0, 870.0, 1370.0])
def test_the_cutting_plan(room: float) -> None:
    wanted = tuple(stays(edge=FrontEdge.EXTENDED).values())
    plan = stay_plan(wanted, room)
    cloth = box(-0.001, -0.001, room + 0.001, plan.length + 0.001)
    shapes = [Polygon([(p.x, p.y) for p in strip.corners]) for strip in plan.strips]
    for shape in shapes:
        assert cloth.contains(shape)
    for a, b in itertools.combinations(shapes, 2):
        assert not a.intersects(b)
    for stay in wanted:
        parts = [s for s in plan.strips if s.stay == stay.title]
        if stay.material is Material.TAPE:
            assert not parts
            continue
        long = sum((s.corners[1] - s.corners[0]).length for s in parts)
        across = [(s.corners[3] - s.corners[0]).length for s in parts]
        if stay.material is Material.STRAIGHT:
            assert sum(across) == pytest.approx(stay.count * stay.cut_length)
            continue
        joins = len(parts) - stay.count
        assert long == pytest.approx(stay.count * stay.cut_length + joins * 20.0)
        assert across == pytest.approx([stay.cut_width] * len(parts))
        for s in parts:
            assert (s.corners[1] - s.corners[0]).angle == pytest.approx(math.pi / 4)
    assert plan.tape == pytest.approx(sum(s.cut_length * s.count for s in wanted if s.material is Material.TAPE))


def test_a_swatch_that_gives_more_makes_the_cut_shorter_and_wider() -> None:
    more = replace(SILK, shear=math.radians(25))
    a, b = stays()["Armhole, front"], stays(give=more)["Armhole, front"]
    assert b.cut_length < a.cut_length
    assert b.cut_width > a.cut_width
