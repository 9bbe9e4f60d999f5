"""The jacket's lining follows the shell in every cut: its seams walk, its ease is what it says, it meets the facings.

Figures of ease are common practice, no source; what is checked is that the pieces have them, measured on the pieces.
"""

import itertools
import math

import pytest
from shapely.geometry import Polygon

from settwright.commission.design import BodyCut, FrontStyle, JacketDesign
from settwright.commission.inside import Inside
from settwright.findings import Refusal
from settwright.geometry import Point, Transform
from settwright.geometry.tolerances import HAND, WALK
from settwright.makeup.inside import with_inside
from settwright.makeup.inside.body_lining import EASE, HEM_UP, PLEAT_AT_HEM, PLEAT_AT_NECK
from settwright.pattern import Draft, Layer, Piece
from settwright.pattern.drafts.jacket import draft_jacket
from tests.makeup.inside.cuts import JACKETS, of_layer, shell, whole
from tests.pattern.front_styles import body_of as front_body

SOME = ("small", "large")


def polygon(piece: Piece) -> Polygon:
    return Polygon([(p.x, p.y) for p in piece.outline.points()])


def lining_of(draft: Draft, name: str) -> Piece:
    return draft.piece(f"{name}-lining")


def length_of(piece: Piece, edge: str, first: str, last: str) -> float:
    return abs(piece.stop(edge, last) - piece.stop(edge, first))


def check_outlines(draft: Draft) -> None:
    for piece in of_layer(draft, Layer.LINING):
        assert polygon(piece).is_valid, piece.name
        assert piece.area > 0, piece.name
        mark = piece.grain_mark
        assert polygon(piece).buffer(0.05).covers(Polygon([(mark.x + dx, mark.y + dy) for dx, dy in _AROUND]).centroid)


_AROUND = ((-0.01, -0.01), (0.01, -0.01), (0.0, 0.02))


def check_walks(draft: Draft, cut: str) -> None:
    """Paired edges are as long as the seam says, and lining seams ease as the shell's do, but at the sleeve's head."""
    shells = {seam.name: seam for seam in draft.seams}
    for seam in draft.seams:
        if not seam.name.startswith("lining-"):
            continue
        a, b = draft.piece(seam.a.piece), draft.piece(seam.b.piece)
        assert len(seam.ease) == len(seam.stops) - 1 >= 1, seam.name
        for (first, last), stated in zip(itertools.pairwise(seam.stops), seam.ease, strict=True):
            on_a = abs(a.stop(seam.a.edge, last) - a.stop(seam.a.edge, first))
            on_b = abs(b.stop(seam.b.edge, last) - b.stop(seam.b.edge, first))
            assert on_b - on_a == pytest.approx(stated, abs=WALK), (cut, seam.name, first, last)
        own = shells.get(seam.name.removeprefix("lining-"))
        if own and not any(word in seam.name for word in ("sleeve", "facing")):
            kept = dict(zip(itertools.pairwise(own.stops), own.ease, strict=True))
            for stops, ease in zip(itertools.pairwise(seam.stops), seam.ease, strict=True):
                if stops in kept:
                    assert ease == pytest.approx(kept[stops], abs=HAND), (cut, seam.name, stops)


@pytest.mark.parametrize("cut", JACKETS)
def test_every_cut_is_lined(cut: str):
    for body in SOME:
        draft = whole(body, cut)
        lined = {piece.follows for piece in of_layer(draft, Layer.LINING)}
        for piece in draft.pieces:
            is_body = piece.name.removesuffix("-lower") in ("back", "side", "side-back", "side-front", "front")
            if piece.layer is Layer.SHELL and (is_body or "sleeve" in piece.name or piece.name == "gusset"):
                assert piece.name in lined, (cut, body, piece.name)
        check_outlines(draft)
        check_walks(draft, cut)


@pytest.mark.parametrize("cut", JACKETS)
def test_the_lining_meets_the_facings(cut: str):
    for body in SOME:
        draft = whole(body, cut)
        names = {seam.name for seam in draft.seams}
        assert "lining-neck" in names
        assert "lining-facing" in names or "lining-facing-2" in names
        # from the free end above the hem to the shoulder, no gap and no lap in between
        parts = [s for s in draft.seams if s.a.piece in ("front-facing", "front-facing-lower") and "lining" in s.name]
        sewn = sum(length_of(draft.piece(s.a.piece), "inner", s.stops[0], s.stops[-1]) for s in parts)
        whole_edge = sum(
            draft.piece(n).edge("inner").path.length for n in ("front-facing", "front-facing-lower")
            if n in {p.name for p in draft.pieces}
        )  # fmt: skip
        assert sewn == pytest.approx(whole_edge - 50.0, abs=1.5), (cut, body)


def test_ease_in_width_pleat_and_hem_are_what_they_say():
    draft = whole("middle", "side-panel")
    side, lining = draft.piece("side"), lining_of(draft, "side")
    level = Point(0.0, -60.0)
    for name, way in (("side-back", -1), ("side-front", 1)):
        a = side.edge(name).path.at(side.edge(name).path.where_y(level.y)[0]).x
        b = lining.edge(name).path.at(lining.edge(name).path.where_y(level.y)[0]).x
        assert (b - a) * way == pytest.approx(EASE, abs=0.15)
    back, lined = draft.piece("back"), lining_of(draft, "back")
    neck = lined.edge("centre-back").path.start
    centre = back.edge("centre-back").path
    assert centre.at(centre.where_y(neck.y)[0]).x - neck.x == pytest.approx(PLEAT_AT_NECK, abs=0.01)
    foot = lined.edge("centre-back").path.end
    assert centre.at(centre.where_y(foot.y)[0]).x - foot.x == pytest.approx(PLEAT_AT_HEM, abs=0.5)
    assert foot.y - centre.end.y == pytest.approx(HEM_UP, abs=0.1)


def test_a_back_on_the_fold_is_lined_on_a_fold_with_the_pleat_in_it():
    draft = whole("middle", "darted-shoulder")
    fold = lining_of(draft, "back").edge("centre-back").path
    assert fold.start.x == pytest.approx(-PLEAT_AT_NECK, abs=1e-6)
    assert fold.end.x == pytest.approx(-PLEAT_AT_NECK, abs=1e-6)
    assert lining_of(draft, "back").unfolded("centre-back").area > 0


def test_the_back_vent_is_left_open_and_the_pleat_ends_there():
    draft = whole("middle", "side-panel-coat")
    seam = next(s for s in draft.seams if s.name == "lining-centre-back")
    assert "vent-top" in seam.stops
    assert "hem" not in seam.stops
    back, lining = draft.piece("back"), lining_of(draft, "back")
    at = lining.edge("centre-back").path.at(lining.stop("centre-back", "vent-top"))
    assert (at - back.edge("centre-back").path.at(back.stop("centre-back", "vent-top"))).length < 0.01


def test_the_sleeve_lining_goes_up_under_the_arm_and_keeps_its_crown():
    draft = whole("middle", "side-panel")
    upper, under = draft.piece("upper-sleeve"), draft.piece("under-sleeve")
    crown = upper.edge("cap").path.at(upper.stop("cap", "shoulder-point"))
    lining = lining_of(draft, "upper-sleeve")
    assert (lining.edge("cap").path.at(lining.stop("cap", "shoulder-point")) - crown).length < 0.01
    deepest = min(p.y for p in under.edge("scye").path.points())
    raised = min(p.y for p in lining_of(draft, "under-sleeve").edge("scye").path.points())
    assert 12 <= raised - deepest <= 18
    # no corner at the crown
    path, at = lining.edge("cap").path, lining.stop("cap", "shoulder-point")
    before, after = path.tangent(at - 0.01), path.tangent(at + 0.01)
    assert abs(math.degrees(math.atan2(before.cross(after), before.dot(after)))) < 1.0


@pytest.mark.parametrize("cut", [name for name in JACKETS if "kimono" not in name and "raglan" not in name])
def test_the_lining_s_sleeve_head_has_less_ease_than_the_shell_s_but_some(cut: str):
    for body in SOME:
        draft = whole(body, cut)
        shell_s, lining_s = (
            sum(sum(seam.ease) for seam in draft.seams if seam.name.startswith(word))
            for word in ("sleeve-", "lining-sleeve-")
        )
        assert 10.0 <= lining_s <= shell_s + 1.0, (cut, body)


def test_the_tuck_takes_what_the_facing_s_edge_is_open_by():
    for body in ("small", "middle", "large"):
        draft = whole(body, "side-panel")
        front = lining_of(draft, "front")
        line = next(line for line in front.lines if line.name == "bust-tuck")
        legs = [segment.length for segment in line.path.segments]
        assert legs[0] == pytest.approx(legs[1], rel=0.02)
        a, b = front.stop("facing", "bust-tuck-a"), front.stop("facing", "bust-tuck-b")
        assert (line.path.start - front.edge("facing").path.at(a)).length < 0.01
        assert 2.0 <= b - a <= 40.0


def test_the_shell_is_as_it_was_but_for_stops():
    for cut in JACKETS:
        before, after = shell("middle", cut), whole("middle", cut)
        for piece in before.pieces:
            now = after.piece(piece.name)
            assert (now.edges, now.lines, now.marks) == (piece.edges, piece.lines, piece.marks)
            assert now.notches[: len(piece.notches)] == piece.notches


def test_facings_lie_turned_over_on_the_fronts_that_they_face():
    # the lining's edge relies on it
    for cut in JACKETS:
        draft = shell("middle", cut)
        facing = draft.piece("front-facing").moved(Transform.mirror_x())
        corner = draft.piece("front").edge("front-edge").path
        if not cut.startswith("waist-seam"):
            at = facing.edge("front-edge").path.start if "front-edge" in {e.name for e in facing.edges} else None
            assert at is None or (corner.at(corner.nearest(at)) - at).length < 3.0, cut


@pytest.mark.slow
@pytest.mark.parametrize("cut", JACKETS)
def test_every_body(cut: str):
    for index in range(129):
        try:
            shell(f"survey {index}", cut)
        except (Refusal, IndexError):  # the draft's own business, tested there
            continue
        draft = whole(f"survey {index}", cut)
        check_outlines(draft)
        check_walks(draft, cut)


@pytest.mark.parametrize("opening", [0.0, 30.0, 60.0])
def test_an_open_neck_leaves_the_lining_its_panels_beside_a_princess_seam(opening: float) -> None:
    """The facings end before the seam from the shoulder, however far the neck is set out."""
    design = JacketDesign(
        front_style=FrontStyle.V_NECK, body_cut=BodyCut.PRINCESS_SHOULDER, neck_opening=opening, flaps=False
    )
    draft = with_inside(draft_jacket(front_body("middle"), design, 1.0), Inside(), (Layer.SHELL, Layer.LINING))
    for name in ("front", "back"):
        lining = lining_of(draft, name).edge("shoulder").path.length
        assert 0 < lining < draft.piece(name).edge("shoulder").path.length
    check_outlines(draft)
    check_walks(draft, "princess from the shoulder, open neck")
