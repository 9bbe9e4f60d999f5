"""The own shape of an uneven half: dropped and let out by what was measured, seams as long as they were.

Bodies: ANSUR II women (Gordon et al. 2014, open data), three of the file's sample. Tolerances: paired edges walk
alike within 0.2 mm, joins run smooth within 1°, as the project asks of every draft.
"""

from __future__ import annotations

import itertools
import math
from dataclasses import replace
from functools import cache
from itertools import pairwise

import pytest
from shapely.geometry import Polygon

from settwright.body import Body
from settwright.body.estimate import complete
from settwright.commission.design import (
    BodyCut,
    FrontEdge,
    FrontStyle,
    JacketDesign,
    SkirtDesign,
    TrousersDesign,
    Vent,
    WaistFinish,
)
from settwright.geometry import Path, Point
from settwright.geometry.tolerances import WALK
from settwright.pattern import Draft, Piece, Seam, Side
from settwright.pattern.asymmetry import (
    Half,
    halves_of,
    hip_edges,
    in_halves,
    with_own_hips,
    with_own_straps,
)
from settwright.pattern.drafts.jacket import draft_jacket
from settwright.pattern.drafts.reshaping import reshaped
from settwright.pattern.drafts.skirt import draft_skirt
from settwright.pattern.drafts.trousers import draft_trousers
from tests.bodies import completed_bodies
from tests.pattern.joined import bends, check_darts, check_outlines, check_seams
from tests.pattern.sound import check_smooth
from tools.cuts import CUTS, Cut

CLIENT = {"height": 1680.0, "bust_girth": 920.0, "waist_girth": 740.0, "hip_girth": 980.0}
JACKETS = [cut for cut in CUTS if cut.jacket]
UNEVEN = [
    cut
    for cut in JACKETS
    if cut.name in ("side-panel", "darted", "waist-seam", "peaked-double", "shawl", "v-neck", "crossed", "stand-collar")
    or cut.name in ("side-panel-folded", "sleeve-one-piece", "princess-shoulder", "princess-armhole", "darted-shoulder")
    or cut.name in ("sleeve-raglan", "sleeve-kimono", "sleeve-kimono-lifted")
]
HALVES = [Half(12.0, 0.0), Half(0.0, 20.0), Half(0.0, -20.0), Half(15.0, 24.0)]


@cache
def bodies() -> tuple[Body, ...]:
    return tuple(completed_bodies()[::43])


@cache
def jackets() -> tuple[tuple[Body, Draft], ...]:
    return tuple((body, draft_jacket(body, JacketDesign(), 1.0)) for body in bodies())


@cache
def jacket() -> Draft:
    return draft_jacket(complete(CLIENT), JacketDesign(), 1.0)


@cache
def skirt() -> Draft:
    return draft_skirt(complete(CLIENT), SkirtDesign(), None)


def own_half(cut: Cut, body: Body, half: Half) -> Draft:
    """The jacket as a half has it."""
    assert cut.jacket
    return with_own_hips(draft_jacket(body, cut.jacket, 1.0, half.shoulder_drop), half, Half(), body["waist_to_hip"])


def lowered(body: Body, drop: float) -> Draft:
    """The plain jacket of a half whose shoulder is lower."""
    return draft_jacket(body, JacketDesign(), 1.0, drop)


def walked(draft: Draft, seam: Seam, hand: str = "right") -> list[float]:
    """How much longer side b is than side a in each interval of a seam, on a hand where a piece has both."""

    def length(side: Side, first: str, last: str) -> float:
        piece = draft.piece(side.piece)
        both = f"{side.edge}.{hand}"
        edge = both if both in {line.name for line in (*piece.edges, *piece.lines)} else side.edge
        return abs(piece.stop(edge, last) - piece.stop(edge, first))

    return [length(seam.b, *stops) - length(seam.a, *stops) for stops in pairwise(seam.stops)]


def check_half(cut: Cut, body: Body, half: Half) -> None:
    """A half's seams walk to their stated ease, which is the even half's but where a raglan's line meets the armhole
    elsewhere; collars and a sleeve set in stay; outlines, darts and joins are sound. That ease may differ by 0.75 mm,
    less than is felt in sewing: common practice, no source."""
    even, own = cut.draft(body), own_half(cut, body, half)
    pieces = {piece.name: piece for piece in own.pieces}
    assert [seam.name for seam in own.seams] == [seam.name for seam in even.seams]
    for before, after in zip(even.seams, own.seams, strict=True):
        if "sleeve-raglan" in cut.name and before.name.startswith("sleeve-"):
            assert 0.0 <= sum(after.ease) <= max(sum(before.ease), 4.0) + WALK
            continue
        assert after.stops == before.stops
        for stated, alike in zip(after.ease, before.ease, strict=True):
            assert stated == pytest.approx(alike, abs=0.75), before.name
    check_seams(pieces, own.seams)
    check_outlines(own.pieces)
    for piece in own.pieces:
        check_darts(piece)
        is_sleeve = piece.name in ("upper-sleeve", "under-sleeve", "sleeve")
        if is_sleeve or piece.name in ("under-collar", "top-collar", "stand-collar"):
            assert piece.edges == even.piece(piece.name).edges


@pytest.mark.parametrize("half", HALVES)
@pytest.mark.parametrize("cut", UNEVEN, ids=lambda cut: cut.name)
def test_a_half_is_sound(cut: Cut, half: Half) -> None:
    check_half(cut, complete(CLIENT), half)


@pytest.mark.slow
@pytest.mark.parametrize("drop", [5.0, 12.0, 25.0])
@pytest.mark.parametrize("cut", JACKETS, ids=lambda cut: cut.name)
def test_a_low_shoulder_of_every_cut_is_sound_for_many_bodies(cut: Cut, drop: float) -> None:
    for body in completed_bodies()[::3]:
        check_half(cut, body, Half(drop, 0.0))
        if runs_smooth(cut):
            check_smooth(own_half(cut, body, Half(drop, 0.0)))


def runs_smooth(cut: Cut) -> bool:
    """But for a shawl, whose collar turns the neck's corner, and a kimono, whose side turns into the sleeve."""
    return not cut.name.startswith(("shawl", "sleeve-kimono"))


@pytest.mark.parametrize("cut", [cut for cut in UNEVEN if runs_smooth(cut)], ids=lambda cut: cut.name)
def test_neck_armhole_and_hem_still_run_smooth_across_their_seams(cut: Cut) -> None:
    check_smooth(own_half(cut, complete(CLIENT), Half(12.0, 0.0)))


@pytest.mark.parametrize("style", [FrontStyle.V_NECK, FrontStyle.CROSSED])
def test_a_neck_that_is_a_fold_stays_straight_and_smooth_over_the_shoulder(style: FrontStyle) -> None:
    design = JacketDesign(front_style=style, front_edge=FrontEdge.TO_NECK)
    own = draft_jacket(complete(CLIENT), design, 1.0, 15.0)
    neck = own.piece("front").edge("neckline").path
    assert neck.length == pytest.approx((neck.end - neck.start).length, abs=1e-6)
    check_smooth(own)
    check_seams({piece.name: piece for piece in own.pieces}, own.seams)


@pytest.mark.parametrize("drop", [5.0, 12.0, 25.0])
def test_the_strap_of_a_bodice_top_goes_down_with_the_shoulder(drop: float) -> None:
    design = SkirtDesign(waist_finish=WaistFinish.BODICE_TOP)
    for body in bodies():
        even = draft_skirt(body, design, None)
        own = with_own_straps(even, Half(), Half(shoulder_drop=drop), body["shoulder_length"])
        assert [piece.name for piece in own.left] == ["top-back"]
        assert own.piece("top-front").edge("shoulder.right") == even.piece("top-front").edge("shoulder.right")
        check_outlines([*own.pieces, *own.left])
        for before, after, edge in (
            (even.piece("top-front"), own.piece("top-front"), "shoulder.left"),
            (even.piece("top-back"), own.of_left.piece("top-back"), "shoulder"),
        ):
            a, b = before.edge(edge).path, after.edge(edge).path
            assert b.length == pytest.approx(a.length, abs=1e-6)
            assert 0.3 * drop < a.at(a.length / 2).y - b.at(b.length / 2).y < drop
            hand = edge.removeprefix("shoulder")
            for other in (f"armhole{hand}", f"neck{hand}"):
                turned = corner(after, other, edge) - corner(before, other, edge)
                assert turned == pytest.approx(0.0, abs=math.radians(0.05))


@pytest.mark.parametrize("drop", [4.0, 10.0, 18.0])
@pytest.mark.parametrize("name", ["back", "front"])
def test_shoulder_and_armhole_fall_together_and_the_neck_stays(drop: float, name: str) -> None:
    for body, even in jackets():
        piece, own = even.piece(name), lowered(body, drop).piece(name)
        assert (place(own, "shoulder", "neck-point") - place(piece, "shoulder", "neck-point")).length < 1e-9
        fall = place(piece, "shoulder", "shoulder-point").y - place(own, "shoulder", "shoulder-point").y
        assert fall == pytest.approx(drop, abs=1e-6 if name == "back" else 0.08 * drop)  # a dart of the neck turns it
        assert own.edge("shoulder").path.length == pytest.approx(piece.edge("shoulder").path.length, abs=1e-6)
        foot = place(piece, "armhole", f"underarm-{name}") - place(own, "armhole", f"underarm-{name}")
        assert foot.y == pytest.approx(drop, abs=0.2 * drop)
        assert abs(foot.x) < 0.5
        pitch = place(piece, "armhole", f"{name}-pitch") - place(own, "armhole", f"{name}-pitch")
        assert (pitch - foot).length < 0.5


def test_the_armhole_stays_as_long_and_its_notches_where_they_were() -> None:
    for body, even in jackets():
        own = lowered(body, 12.0)
        for name in ("back", "side", "front"):
            before, after = (draft.piece(name).edge("armhole").path.length for draft in (even, own))
            assert after == pytest.approx(before, abs=0.01)
            for notch in even.piece(name).notches:
                if notch.edge == "armhole":
                    assert own.piece(name).stop("armhole", notch.name) == pytest.approx(notch.at, abs=0.02)


def test_the_lowered_armhole_is_hardly_dented() -> None:
    """Under 2° back in 12 mm, where the even one doesn't bend back: less than the eye sees at arm's length."""
    for body, even in jackets():
        own = lowered(body, 12.0)
        for name, way in (("back", 1.0), ("front", 1.0)):
            least = [min(way * t for t in bends(draft.piece(name).edge("armhole").path, 12.0)) for draft in (even, own)]
            assert least[1] > min(least[0], 0.0) - math.radians(2.0)


def test_a_drop_beyond_what_is_cut_is_left_to_a_pad() -> None:
    most, more = (lowered(complete(CLIENT), drop).piece("front") for drop in (25.0, 45.0))
    assert most == more


def place(piece: Piece, edge: str, stop: str) -> Point:
    return piece.edge(edge).path.at(piece.stop(edge, stop))


@pytest.mark.parametrize(("name", "neck"), [("back", "neck"), ("front", "gorge")])
def test_neck_and_armhole_meet_the_lowered_shoulder_at_the_angles_they_had(name: str, neck: str) -> None:
    """So that both run smooth across the shoulder seam, as they did before."""
    for body, even in jackets():
        piece, own = even.piece(name), lowered(body, 12.0).piece(name)
        for other in ("armhole", neck):
            assert corner(own, other) == pytest.approx(corner(piece, other), abs=math.radians(0.05))


def corner(piece: Piece, other: str, shoulder: str = "shoulder") -> float:
    """The angle between the shoulder and another edge where they meet."""
    a, b = piece.edge(shoulder).path, piece.edge(other).path
    if (a.end - b.start).length < 1e-3:
        return math.acos(max(-1.0, min(1.0, a.end_tangent.dot(b.start_tangent))))
    return math.acos(max(-1.0, min(1.0, a.start_tangent.dot(b.end_tangent))))


@pytest.mark.parametrize("out", [24.0, -16.0])
def test_the_half_hip_grows_by_the_amount_and_the_waist_stays(out: float) -> None:
    for body, even in jackets():
        own = with_own_hips(even, Half(hip_out=out), Half(), body["waist_to_hip"])
        hip, grown, waist = -body["waist_to_hip"], 0.0, 0.0
        for name, edge in hip_edges(even):
            before, after = even.piece(name).edge(edge).path, own.piece(name).edge(edge).path
            way = 1.0 if with_side_at_right(even.piece(name), edge) else -1.0
            grown += way * (crossing_x(after, hip) - crossing_x(before, hip))
            waist += abs(crossing_x(after, 0.0) - crossing_x(before, 0.0))
        assert grown == pytest.approx(out, abs=0.05)
        assert waist < 0.01


def test_the_record_tells_what_a_full_hip_and_a_low_shoulder_altered() -> None:
    body = complete(CLIENT)
    right, left = (draft_jacket(body, JacketDesign(), 1.0, drop) for drop in (0.0, 12.0))
    uneven = with_own_hips(in_halves(right, left), Half(hip_out=-15.0), Half(12.0, 15.0), body["waist_to_hip"])
    told = {(step.of, step.name): step.value for step in uneven.record if step.value is not None}
    assert told["low left shoulder", "drop of the shoulder point"] == 12.0
    sides = [edge for _, edge in hip_edges(right) if edge.startswith("side")]
    assert told["full hip", "left side, out at the hip"] == pytest.approx(15.0 / len(sides))
    assert told["full hip", "right side, out at the hip"] == pytest.approx(-15.0 / len(sides))


LET_OUT = [
    cut
    for cut in CUTS
    if cut.name.startswith(("trousers", "skirt"))
    or cut.name in ("side-panel", "darted", "darted-short", "darted-shoulder", "princess-shoulder-coat")
    or cut.name in ("princess-armhole", "waist-seam", "waist-seam-flared", "waist-seam-padded")
]


def check_hips_walk_as_they_did(cut: Cut, body: Body) -> None:
    """With hips that differ by 40 mm either way, the seams of both halves walk as before between every two notches."""
    even = cut.draft(body)
    for out, hand in itertools.product((20.0, -20.0), ("right", "left")):
        uneven = with_own_hips(even, Half(hip_out=out), Half(hip_out=-out), body["waist_to_hip"])
        own = uneven if hand == "right" else uneven.of_left
        for seam in even.seams:
            for before, after in zip(walked(even, seam, hand), walked(own, seam, hand), strict=True):
                assert after == pytest.approx(before, abs=WALK), (seam.name, hand)


@pytest.mark.parametrize("cut", LET_OUT, ids=lambda cut: cut.name)
def test_side_seams_walk_as_they_did_where_the_hips_differ(cut: Cut) -> None:
    for body in completed_bodies()[::60]:
        check_hips_walk_as_they_did(cut, body)


@pytest.mark.slow
@pytest.mark.parametrize("cut", CUTS, ids=lambda cut: cut.name)
def test_side_seams_of_every_cut_walk_as_they_did_where_the_hips_differ(cut: Cut) -> None:
    for body in completed_bodies()[::15]:
        check_hips_walk_as_they_did(cut, body)


def with_side_at_right(piece: Piece, edge: str) -> bool:
    xs = [e.path.start.x for e in piece.edges]
    return piece.edge(edge).path.start.x > (min(xs) + max(xs)) / 2


def crossing_x(path: Path, y: float) -> float:
    return path.at(path.where_y(y)[0]).x


def test_a_side_seam_leaves_waist_and_hem_in_its_old_directions() -> None:
    """No corner at the waist, and the hem stays square to the seam."""
    for body, even in jackets():
        piece = even.piece("back")
        own = with_own_hips(even, Half(hip_out=48.0), Half(), body["waist_to_hip"]).piece("back")
        before, after = piece.edge("side-back").path, own.edge("side-back").path
        at_waist = [e.stop("side-back", "waist") for e in (piece, own)]
        turns = [
            abs(before.tangent(at_waist[0]).cross(after.tangent(at_waist[1]))),
            abs(before.start_tangent.cross(after.start_tangent)),
        ]
        assert max(turns) < math.sin(math.radians(1.0))


def test_a_jacket_that_ends_above_the_hip_is_let_out_at_its_hem_in_part() -> None:
    body = complete(CLIENT)
    short = draft_jacket(body, replace(JacketDesign(), length_below_waist=140.0), 1.0)
    back = short.piece("back")
    own = with_own_hips(short, Half(hip_out=40.0), Half(), body["waist_to_hip"]).piece("back")
    moved = own.edge("side-back").path.start - back.edge("side-back").path.start
    assert 3.0 < moved.x < 10.0  # a quarter of it on each of the two side seams' edges, at the hip
    assert abs(moved.y) < 0.2  # slid along itself so that both edges stay alike


@pytest.mark.parametrize("half", HALVES)
def test_outlines_stay_whole_and_mirror(half: Half) -> None:
    for body, _ in jackets():
        for piece in own_half(CUTS[0], body, half).pieces:
            for one in (piece, piece.mirrored()):
                assert Polygon([(p.x, p.y) for p in one.outline.points(0.5)]).is_valid
            for notch in piece.notches:
                assert 0.0 <= notch.at <= piece.edge(notch.edge).path.length + 1e-6


@pytest.mark.parametrize("pleats", [0, 1, 2])
@pytest.mark.parametrize("number", [5, 40, 70, 110])
def test_a_slant_pocket_goes_with_one_full_hip(number: int, pleats: int) -> None:
    body = completed_bodies()[number]
    even = draft_trousers(body, TrousersDesign(pleats=pleats))
    uneven = with_own_hips(even, Half(hip_out=-10.0), Half(hip_out=10.0), body["waist_to_hip"])
    assert uneven.left
    for half in (uneven, uneven.of_left):
        front, back = half.piece("trousers-front"), half.piece("trousers-back")
        underlay, facing = half.piece("pocket-underlay"), half.piece("pocket-facing")
        mouth = front.edge("pocket-line").path
        assert (mouth.start - front.edge("waist").path.at(front.stop("waist", "pocket-top"))).length < 1e-6
        assert (mouth.end - front.edge("side").path.at(front.stop("side", "pocket-end"))).length < 1e-6
        assert mouth.length == pytest.approx((mouth.end - mouth.start).length, abs=1e-6)
        for other in (underlay.edge("pocket-line").path, facing.edge("mouth").path):
            assert other.length == pytest.approx(mouth.length, abs=WALK)
        down = [abs(p.stop("side", "pocket-end") - p.stop("side", "waist")) for p in (front, back, underlay)]
        assert max(down) - min(down) < WALK
        side = [p.edge("side").path.length for p in (front, back)]
        assert side[0] == pytest.approx(side[1], abs=WALK)
        hips = [p.edge("side").path.at(p.stop("side", "hip")) for p in (front, even.piece("trousers-front"))]
        assert abs(hips[0].x - hips[1].x) == pytest.approx(5.0, abs=0.5)
        assert all(piece.area > 0 for piece in (underlay, facing))


@pytest.mark.parametrize("cut", list(BodyCut))
def test_a_side_vent_goes_with_one_full_hip(cut: BodyCut) -> None:
    body = complete(CLIENT)
    even = draft_jacket(body, replace(JacketDesign(), body_cut=cut, vent=Vent.SIDES), 1.0)
    uneven = with_own_hips(even, Half(hip_out=-10.0), Half(hip_out=10.0), body["waist_to_hip"])
    (vent,) = (touch for touch in even.touches if touch.name == "side-vent")
    seam = next(seam for seam in even.seams if "vent-top" in seam.stops)
    edges = {seam.a.piece: seam.a.edge, seam.b.piece: seam.b.edge}
    for half, name in itertools.product((uneven, uneven.of_left), (vent.a.piece, vent.b.piece)):
        piece = half.piece(name)
        fold, edge = piece.edge("vent-fold").path, piece.edge(edges[name]).path
        lap = next(line.path for line in piece.lines if line.name in ("vent-facing", "vent-lap"))
        assert max((p - edge.at(edge.nearest(p))).length for p in fold.points()) < 0.05
        assert (fold.start - edge.at(piece.stop(edges[name], "vent-top"))).length < 0.05
        away = [(p - edge.at(edge.nearest(p))).length for p in lap.points()]
        assert max(away) == pytest.approx(50.0, abs=1.0)


def test_an_even_half_changes_nothing() -> None:
    assert own_half(CUTS[0], complete(CLIENT), Half()).pieces == CUTS[0].draft(complete(CLIENT)).pieces
    back = jacket().piece("back")
    same = reshaped(back, {"armhole": lambda along: Point(0.0, 0.0)})
    for edge in back.edges:
        path = same.edge(edge.name).path
        assert path.length == pytest.approx(edge.path.length, abs=1e-6)
        for part in (0.2, 0.5, 0.8):
            assert (path.at(part * path.length) - edge.path.at(part * path.length)).length < 1e-4


def test_both_halves_share_the_measured_hip_girth() -> None:
    right, left = halves_of(complete(CLIENT | {"full_hip_left": 30.0, "low_shoulder_right": 9.0}))
    assert (right, left) == (Half(9.0, -15.0), Half(0.0, 15.0))
    assert halves_of(complete(CLIENT)) == (Half(), Half())
    assert Half().is_even
