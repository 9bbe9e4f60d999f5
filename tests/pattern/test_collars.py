"""Collars in every style: turned down over a lapel, cut in one with a shawl, and standing.

Bodies as in test_fronts. Where a check rests on geometry alone, it says so.
"""

from __future__ import annotations

import itertools
import math
from dataclasses import replace

import pytest

from settwright.commission.design import JacketDesign
from settwright.geometry import Path, Point, Transform
from settwright.pattern import Cut, Draft, Meeting
from tests.pattern.front_styles import (
    LAPELS,
    PEAKED,
    PLAIN,
    QUICK,
    SHAWL,
    SHAWLS,
    SIZES,
    STAND,
    STANDS,
    STYLES,
    bends,
    body_of,
    drafted,
    drawn,
    interior,
    turn_between,
)

every_body = pytest.mark.parametrize("body", QUICK)


def collar_edge(draft: Draft) -> Path:
    """Returns the line on the back where the collar's outer edge lies, from the centre back."""
    return draft.piece("back").edge("collar-edge").path


# --------------------------------------------------------------------------------------------- where it lies


@pytest.mark.parametrize("over", [6.0, 14.0, 24.0])
@every_body
def test_a_collar_lies_parallel_to_the_back_neck(body: str, over: float) -> None:
    """By fall − stand, however large that is; from the shoulder on it turns towards the collar's point."""
    draft = drawn(body_of(body), replace(PLAIN, collar_fall=PLAIN.collar_stand + over))
    edge, neck = collar_edge(draft), draft.piece("back").edge("neck").path
    for part in range(21):
        p = edge.at(edge.length * part / 20)
        assert (p - neck.at(neck.nearest(p))).length == pytest.approx(over, abs=0.5 if part <= 18 else 0.8), part
    assert abs(edge.start_tangent.y) < 1e-9
    assert min(bends(edge, 40, 0.0, 0.85)) > -1e-4, "the line round the neck bends one way only"
    shoulder = draft.piece("back").edge("shoulder").path
    assert (shoulder.at(shoulder.nearest(edge.end)) - edge.end).length < 1e-6


@pytest.mark.parametrize("style", SHAWLS)
@every_body
def test_a_shawl_lies_on_one_fair_line_round_the_neck(style: str, body: str) -> None:
    draft, design = drafted(body, style), STYLES[style]
    edge, neck = collar_edge(draft), draft.piece("back").edge("neck").path
    below = design.collar_fall - design.collar_stand
    assert (edge.start - neck.end).length == pytest.approx(below, abs=0.01)
    assert abs(edge.start_tangent.y) < 1e-9
    away = [(p - neck.at(neck.nearest(p))).length for p in (edge.at(edge.length * i / 20) for i in range(21))]
    assert min(away) > below - 1.5, "it uncovers the neck seam"
    assert min(bends(edge)) > -1e-4, "the line round the neck bends one way only"
    assert (edge.end - neck.start).length == pytest.approx(below + 0.6 * design.collar_stand, abs=0.01)


@pytest.mark.parametrize("style", [*LAPELS, *SHAWLS])
@every_body
def test_the_outer_edge_is_as_long_as_the_line_where_it_lies(style: str, body: str) -> None:
    """From the centre back to the shoulder, and as a whole never shorter than the shortest way on to the front."""
    draft, design = drafted(body, style), STYLES[style]
    front = draft.piece("front")
    roll = front.edge("roll-line").path
    square = roll.start_tangent.right

    def turned(point: Point) -> Point:
        return point - square * (2 * (point - roll.start).dot(square))

    edge, neck_point = (
        collar_edge(draft),
        front.edge(next(e.name for e in front.edges if e.end == "neck-point")).path.end,
    )
    if style in LAPELS:
        piece, name = draft.piece("under-collar"), "outer"
        outer = piece.edge("outer").path
        end = turned(piece.edge("end").path.end)
        whole, extra = outer.length, 1.03
    else:
        piece, name = front, "lapel"
        outer = front.edge("lapel").path
        upright = Transform.turn(math.pi / 2 - roll.start_tangent.angle, roll.start)
        values = {step.name: step.value for step in draft.record if step.value is not None}
        depth = neck_point.y - values["gorge depth"]
        at_gorge = roll.start + roll.start_tangent * ((depth - roll.start.y) / roll.start_tangent.y)
        leaves = outer.moved(upright).where_y(upright(at_gorge).y)[0]
        end = turned(outer.at(leaves))
        whole, extra = outer.length - leaves, 1.05
    shoulder = abs(outer.length - piece.stop(name, "shoulder"))
    assert shoulder == pytest.approx(edge.length, abs=0.2)
    reach = (edge.end - draft.piece("back").edge("neck").path.start).length
    if style in LAPELS:  # shoulders as drafted without the dart under the lapel: the neck point stays
        facing = draft.piece("front-facing").moved(Transform.mirror_x())
        along = facing.edge("shoulder").path.reversed()
    else:
        along = front.edge("shoulder").path
    start = along.start + along.start_tangent * reach
    shortest = edge.length + (end - start).length
    assert shortest - 0.5 <= whole <= shortest * extra
    assert design.collar_fall > design.collar_stand


@pytest.mark.parametrize("style", [*LAPELS, *SHAWLS])
def test_a_stop_near_the_centre_back_lets_bars_be_judged_there(style: str) -> None:
    for body in SIZES:
        draft = drafted(body, style)
        touch = next(t for t in draft.touches if t.name == "collar-on-back")
        assert touch.kind is Meeting.OVERLAY
        assert touch.stops == ("centre-back", "collar-third", "shoulder")
        for side in (touch.a, touch.b):
            piece = draft.piece(side.piece)
            near = abs(piece.stop(side.edge, "collar-third") - piece.stop(side.edge, "centre-back"))
            assert near == pytest.approx(40.0, abs=1e-6)


# ------------------------------------------------------------------------------------------------- the pieces


@pytest.mark.parametrize("style", LAPELS)
@every_body
def test_under_collars_are_two_halves_on_the_bias_with_a_fair_outline(style: str, body: str) -> None:
    draft = drafted(body, style)
    under, top = draft.piece("under-collar"), draft.piece("top-collar")
    assert under.cut is Cut.PAIR
    assert under.bias == pytest.approx(math.pi / 4)
    assert top.cut is Cut.WHOLE
    assert top.bias == 0
    outer = under.edge("outer").path
    bent = bends(outer)
    changes = sum(1 for a, b in itertools.pairwise(bent) if a * b < 0 and max(abs(a), abs(b)) > 2e-4)
    assert changes <= 1, "the outer edge waves"
    assert 50 <= interior(under, "end", "outer") <= 138, "the collar's point is a needle or a stump"


def test_a_notch_opens_and_a_peak_does_not() -> None:
    """Notched: legs close in length, angle 60 to 85° (common practice, no source). Peaked: a slit."""
    for body in QUICK:
        for style, low, high in (("notched", 60.0, 85.0), ("peaked", 0.0, 10.0)):
            draft = drafted(body, style)
            collar, front = draft.piece("under-collar"), draft.piece("front")
            notch = collar.edge("end").path.start
            assert (front.edge("lapel-top").path.end - notch).length < 1e-6
            lapel_leg, collar_leg = front.edge("lapel").path.end - notch, collar.edge("end").path.end - notch
            assert low <= turn_between(lapel_leg, collar_leg) <= high


@pytest.mark.parametrize("style", SHAWLS)
def test_a_shawls_outer_line_runs_smooth_across_the_centre_back(style: str) -> None:
    """Laid together at the centre back, both halves' edges are one line: no corner, and no jump in its bend."""
    for body in QUICK:
        for name in ("front", "front-facing"):
            piece = drafted(body, style).piece(name)
            seam, edge = piece.edge("collar-centre-back").path, piece.edge("lapel").path
            outer = seam.start if name == "front" else seam.end
            arriving = edge.end_tangent if (edge.end - outer).length < 1e-6 else -edge.start_tangent
            across = (seam.end - seam.start).unit
            assert abs(arriving.dot(across)) < math.sin(math.radians(0.5)), (body, name)


@pytest.mark.parametrize("lean", [-5.0, 0.0, 3.0, 8.0, 15.0])
@pytest.mark.parametrize("height", [25.0, 38.0, 60.0])
def test_a_stand_collar_is_a_strip_of_a_cone(lean: float, height: float) -> None:
    """Geometry: rolled up to the neck's circle, its upper edge is a circle smaller in radius by height × sin lean."""
    design = replace(STAND, stand_lean=math.radians(lean), stand_height=height)
    draft = drawn(body_of("middle"), replace(design, stand_ends=STYLES["stand, square"].stand_ends))
    collar = draft.piece("stand-collar")
    neck, outer = collar.edge("neck").path, collar.edge("outer").path
    radius = neck.length / math.pi
    above = radius - height * math.sin(math.radians(lean))
    assert outer.length == pytest.approx(math.pi * above, abs=0.01)
    for part in range(9):
        p = outer.at(outer.length * part / 8)
        assert (p - neck.at(neck.nearest(p))).length == pytest.approx(height, abs=0.01), "even in height"
    assert interior(collar, "neck", "end") == pytest.approx(90, abs=0.01)
    assert interior(collar, "end", "outer") == pytest.approx(90, abs=0.01)
    slant = math.inf if lean == 0 else radius / math.sin(math.radians(lean))
    assert all(b == pytest.approx(1 / slant, rel=0.01, abs=1e-9) for b in bends(neck))


@pytest.mark.parametrize("style", STANDS)
@every_body
def test_a_stand_collar_meets_the_neck_from_the_nape_to_the_centre_front(style: str, body: str) -> None:
    draft, design = drafted(body, style), STYLES[style]
    front, collar = draft.piece("front"), draft.piece("stand-collar")
    sewn = front.edge("neckline").path.length - front.stop("neckline", "centre-front")
    back = draft.piece("back").edge("neck").path.length
    assert collar.stop("neck", "neck-point") == pytest.approx(back, abs=0.01)
    assert collar.edge("neck").path.length == pytest.approx(back + sewn, abs=0.01)
    assert collar.cut is (Cut.PAIR if design.stand_halves else Cut.WHOLE)
    inner = draft.piece("stand-collar-facing")
    shorter = collar.edge("neck").path.length - inner.edge("neck").path.length
    assert shorter == pytest.approx(math.pi * 1.0, abs=0.01), "half a turn round the neck, 1 mm farther in"
    assert collar.edge("centre-back").path.length == pytest.approx(design.stand_height, abs=1e-6)
    whole = collar if design.stand_halves else collar.unfolded("centre-back")
    assert whole.area > 0


def test_round_ends_are_round_and_square_ends_square() -> None:
    for body in SIZES:
        round_end = drafted(body, "stand").piece("stand-collar")
        assert interior(round_end, "end", "outer") == pytest.approx(180, abs=0.5)
        assert interior(round_end, "neck", "end") == pytest.approx(90, abs=0.01)
        end = round_end.edge("end").path
        assert min(bends(end)) > -1e-9
        assert 1 / max(bends(end)) > 15, "a corner rather than a round"


def test_grain_marks_of_collars_lie_on_the_fold_or_inside() -> None:
    for style in ("stand", "stand, square"):
        draft = drafted("middle", style)
        for name in ("stand-collar", "stand-collar-facing"):
            piece = draft.piece(name).on_grain()
            assert piece.grain_mark.length < 1e-9
            if piece.cut is Cut.WHOLE:
                assert piece.unfolded("centre-back").area == pytest.approx(2 * piece.area, abs=0.01)


@pytest.mark.parametrize("design", [PLAIN, PEAKED, SHAWL])
def test_a_deeper_fall_swings_the_collar_farther_back(design: JacketDesign) -> None:
    swings: list[float] = []
    for fall in (34.0, 38.0, 44.0, 52.0):
        draft = drawn(body_of("middle"), replace(design, collar_fall=fall))
        swings.append(next(s.value for s in draft.record if s.name == "collar's swing angle" and s.value is not None))
    assert swings == sorted(swings)
    assert swings[0] > 0
    assert swings[-1] < math.radians(60)
