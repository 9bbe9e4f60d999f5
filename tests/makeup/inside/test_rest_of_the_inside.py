"""Canvas, stays, pads, pocket parts, linings of skirt and trousers: each lies on its shell piece and says how far.

Reach and widths are common practice, no source; checked is that the pieces keep them, measured on the pieces.
"""

import itertools
import math
from dataclasses import replace
from functools import cache

import pytest
from shapely.geometry import LineString, Polygon

from settwright.commission.design import (
    BodyCut,
    JacketDesign,
    SkirtCut,
    SkirtDesign,
    TrousersDesign,
    TrousersWaist,
    WaistFinish,
)
from settwright.commission.inside import Canvas, Inside, LegLining, Lined
from settwright.geometry.tolerances import WALK
from settwright.makeup.inside import inside_findings, with_inside
from settwright.makeup.inside.canvas import BEHIND_FACING, BEHIND_ROLL
from settwright.makeup.inside.skirt_lining import HEM_UP
from settwright.pattern import Draft, Layer, LineKind, Piece
from settwright.pattern.drafts.jacket import draft_jacket
from settwright.pattern.drafts.skirt import draft_skirt
from settwright.pattern.drafts.trousers import draft_trousers
from tests.bodies import completed_bodies
from tests.makeup.inside.cuts import JACKETS, body_of, of_layer, shell, whole

BODIES = ("small", "middle", "large")
STIFF = (Layer.INTERLINING, Layer.HAIRCLOTH, Layer.POCKETING, Layer.WADDING)
SKIRTS = {
    "straight": SkirtDesign(),
    "ribbon": SkirtDesign(waist_finish=WaistFinish.RIBBON),
    "bodice top": SkirtDesign(waist_finish=WaistFinish.BODICE_TOP),
    "flared": SkirtDesign(cut=SkirtCut.FLARED, vent_length=0.0),
    "pleated": SkirtDesign(cut=SkirtCut.PLEATED),
}
TROUSERS = {
    "plain": TrousersDesign(),
    "pleats": TrousersDesign(pleats=2),
    "ribbon": TrousersDesign(waist=TrousersWaist.RIBBON),
}
LEGS = Inside(trousers_lining=LegLining.BOTH)


@cache
def skirt(body: str, cut: str) -> Draft:
    return with_inside(draft_skirt(body_of(body), SKIRTS[cut], None), Inside(), tuple(Layer))


@cache
def trousers(body: str, cut: str) -> Draft:
    return with_inside(draft_trousers(body_of(body), TROUSERS[cut]), LEGS, tuple(Layer))


def polygon(piece: Piece) -> Polygon:
    return Polygon([(p.x, p.y) for p in piece.outline.points()])


def check_pieces(draft: Draft) -> None:
    for piece in draft.pieces:
        if piece.layer is Layer.SHELL:
            continue
        shape = polygon(piece)
        assert shape.is_valid, piece.name
        assert piece.area > 0, piece.name
        mark = piece.grain_mark
        assert shape.buffer(0.05).covers(LineString([(mark.x, mark.y), (mark.x + 0.01, mark.y)])), piece.name
        for notch in piece.notches:  # each on an edge or line that the piece has, within its length
            assert 0 <= notch.at <= piece.edge(notch.edge).path.length + 1e-6, (piece.name, notch)


def between(piece: Piece, edge: str, first: str, last: str) -> float:
    name = f"{edge}.right" if any(e.name == f"{edge}.right" for e in piece.edges) else edge
    return abs(piece.stop(name, last) - piece.stop(name, first))


def check_walks(draft: Draft) -> None:
    for seam in draft.seams:
        if seam.name.startswith("lining-"):
            for (first, last), stated in zip(itertools.pairwise(seam.stops), seam.ease, strict=True):
                on_a, on_b = (between(draft.piece(side.piece), side.edge, first, last) for side in (seam.a, seam.b))
                assert on_b - on_a == pytest.approx(stated, abs=WALK), (seam.name, first, last)


@pytest.mark.parametrize("cut", JACKETS)
def test_everything_inside_a_jacket_lies_on_its_shell_piece(cut: str):
    for body in ("small", "large"):
        draft = whole(body, cut)
        check_pieces(draft)
        for piece in of_layer(draft, Layer.INTERLINING, Layer.HAIRCLOTH):
            if piece.follows:
                over = polygon(draft.piece(piece.follows)).buffer(0.1)
                # where a dart is drawn open, a straight edge may cross its mouth
                assert polygon(piece).difference(over).area < 40.0, (cut, body, piece.name)
        names = {piece.name for piece in of_layer(draft, *STIFF)}
        assert {"front-canvas", "hem-stay"} <= names
        assert "back-stay" in names
        collars = {p.name for p in draft.pieces} & {"under-collar", "stand-collar"}
        assert {f"{name}-canvas" for name in collars} <= names


def test_the_canvas_is_stepped_against_the_facing_and_the_chest_piece_lets_the_lapel_roll():
    for body in BODIES:
        draft = whole(body, "side-panel")
        facing = draft.piece("front-facing").edge("inner").path
        canvas = draft.piece("front-canvas")
        foot = next(p for p in canvas.edge("back-edge").path.points()[::-1])
        assert -facing.start.x - foot.x == pytest.approx(BEHIND_FACING, abs=0.5)
        chest = polygon(draft.piece("front-chest-canvas"))
        roll = draft.piece("front").edge("roll-line").path
        line = LineString([(p.x, p.y) for p in roll.points()])
        assert chest.distance(LineString(line.coords[:1] * 2)) >= BEHIND_ROLL - 0.1
        assert chest.intersection(line).length < 1.0


def test_half_canvas_half_lining_and_none():
    plain = shell("middle", "side-panel")
    half = with_inside(plain, Inside(jacket_lining=Lined.HALF, canvas=Canvas.HALF), tuple(Layer))
    whole_one = whole("middle", "side-panel")
    assert polygon(half.piece("front-canvas")).area < 0.75 * polygon(whole_one.piece("front-canvas")).area
    assert "hem-of-half" in {edge.name for edge in half.piece("back-lining").edges}
    assert half.piece("side-lining").edges == whole_one.piece("side-lining").edges
    check_pieces(half)
    check_walks(half)
    nothing = with_inside(plain, Inside(jacket_lining=Lined.NONE, canvas=Canvas.NONE), tuple(Layer))
    names = {piece.name for piece in of_layer(nothing, Layer.LINING, Layer.INTERLINING, Layer.HAIRCLOTH)}
    assert names == {"flap-lining"}


def test_underlining_is_the_shell_itself():
    draft = with_inside(shell("middle", "side-panel"), Inside(underlining=True), (Layer.UNDERLINING,))
    assert [p.follows for p in of_layer(draft, Layer.UNDERLINING)] == [
        "back", "side", "front", "upper-sleeve", "under-sleeve",
    ]  # fmt: skip
    for piece in of_layer(draft, Layer.UNDERLINING):
        assert piece.edges == draft.piece(piece.follows).edges
        assert piece.notches == draft.piece(piece.follows).notches


def test_strips_and_heads_are_as_long_as_what_they_stay():
    for body in BODIES:
        draft = whole(body, "side-panel")
        hems = sum(draft.piece(name).edge("hem").path.length for name in ("back", "side"))
        strip = draft.piece("hem-stay")
        assert strip.edge("lower").path.length > hems
        sleeves = sum(draft.piece(name).edge("hem").path.length for name in ("upper-sleeve", "under-sleeve"))
        assert draft.piece("sleeve-hem-stay").edge("lower").path.length == pytest.approx(sleeves + 20.0, abs=0.01)
        cap, head = draft.piece("upper-sleeve"), draft.piece("sleeve-head")
        pitches = cap.stop("cap", "back-pitch") - cap.stop("cap", "front-pitch")
        assert head.edge("upper").path.length == pytest.approx(pitches, abs=0.01)
        assert all(math.isclose(piece.bias, math.pi / 4) for piece in (strip, head))


def test_the_shoulder_pad_is_as_long_as_the_shoulder_allows_and_lies_under_both_sides():
    for body, cut in itertools.product(BODIES, ("side-panel", "princess-shoulder", "princess-armhole")):
        draft = whole(body, cut)
        pad = draft.piece("shoulder-pad")
        seam = pad.edge("shoulder").path
        lengths = [
            draft.piece(name).edge("shoulder").path.length
            for name in ("front", "side-front")
            if any(p.name == name for p in draft.pieces)
            and "shoulder" in {e.name for e in draft.piece(name).edges}
        ]  # fmt: skip
        assert seam.length == pytest.approx(sum(lengths) - 25.0, abs=1.0), (body, cut)
        assert pad.edge("armhole").path.length == pytest.approx(170.0, abs=3.0)


@pytest.mark.parametrize("thickness", [0.0, 1.5, 8.0, 13.0])
def test_the_shoulder_pad_is_layered_to_its_thickness(thickness: float):
    """A layer of pressed wadding for every 2 mm (from memory), each lying within the one below."""
    design = replace(JacketDesign(), shoulder_pad=thickness)
    draft = with_inside(draft_jacket(body_of("middle"), design, 1.0), Inside(), (Layer.WADDING,))
    if not thickness:
        assert not any(piece.name == "shoulder-pad" for piece in draft.pieces)
        return
    pad = draft.piece("shoulder-pad")
    told = {step.name: step.value for step in draft.record if step.of == "shoulder pad"}
    assert told["thickness at the armhole"] == thickness
    layers = [line.path for line in pad.lines if line.name.startswith("layer-")]
    assert len(layers) + 1 == told["layers of wadding"] == math.ceil(thickness / 2.0)
    below = polygon(pad)
    for outline in layers:
        layer = Polygon([(p.x, p.y) for p in outline.points()])
        assert layer.is_valid
        assert below.buffer(2.0).contains(layer)
        assert layer.area < below.area
        below = layer


@pytest.mark.parametrize("cut", SKIRTS)
def test_every_skirt_is_lined(cut: str):
    for body in BODIES:
        draft = skirt(body, cut)
        check_pieces(draft)
        check_walks(draft)
        names = {seam.name for seam in draft.seams}
        assert {"lining-skirt-side", "lining-skirt-centre-back"} <= names
        for name in ("skirt-front", "skirt-back"):
            low = min(p.y for p in draft.piece(name).outline.points())
            lined = min(p.y for p in draft.piece(f"{name}-lining").outline.points())
            assert lined - low == pytest.approx(HEM_UP, abs=0.5), (cut, body, name)


@pytest.mark.parametrize("body", BODIES)
def test_the_lining_of_a_pleated_skirt_is_as_wide_as_what_is_seen(body: str):
    shell_skirt = draft_skirt(body_of(body), SKIRTS["pleated"], None)
    draft = skirt(body, "pleated")
    known = {step.name: step.value for step in shell_skirt.record}
    front, back = draft.piece("skirt-front-lining"), draft.piece("skirt-back-lining")
    level = next(line for line in draft.piece("skirt-front").lines if line.name.startswith("hip")).path.start.y

    def wide(piece: Piece) -> float:
        return polygon(piece).intersection(LineString([(-2000.0, level), (2000.0, level)])).length

    half = wide(front) / 2 + wide(back)
    assert half == pytest.approx(known["half hip"], abs=8.0)
    waist = front.edge("waist.right").path.length + back.edge("waist").path.length
    tucks = sum(
        between(piece, edge, "tuck-a", "tuck-b")
        for piece, edge in ((front, "waist.right"), (back, "waist"))
        if any(n.name == "tuck-a" and n.edge == edge for n in piece.notches)
    )
    assert waist - tucks == pytest.approx(known["half waist"], abs=8.0)


@pytest.mark.parametrize("cut", TROUSERS)
def test_trousers_are_lined_to_below_the_knee_and_have_their_bags(cut: str):
    for body in BODIES:
        draft = trousers(body, cut)
        check_pieces(draft)
        check_walks(draft)
        for name in ("trousers-front", "trousers-back"):
            lining = draft.piece(f"{name}-lining")
            knee = next(line for line in draft.piece(name).lines if line.name == "knee").path.start.y
            assert min(p.y for p in lining.outline.points()) == pytest.approx(knee - 60.0, abs=0.5)
            folds = [line.name for line in draft.piece(name).lines if line.name.startswith(("dart", "pleat"))]
            assert set(folds) <= {line.name for line in lining.lines}
        half, bag = draft.piece("pocket-bag-front"), draft.piece("pocket-bag-back")
        mouth = next(line for line in draft.piece("trousers-front").lines if line.name == "pocket-line").path
        assert half.edge("mouth").path.length == pytest.approx(mouth.length, abs=0.01)
        assert polygon(half).area < polygon(bag).area
        left, _, right, _ = polygon(bag).bounds
        assert right - left >= 150.0  # a hand goes in


def test_what_has_no_cloth_is_said_once_for_each_garment_and_cloth():
    draft = shell("middle", "side-panel")
    found = inside_findings(draft, Inside(), (Layer.SHELL,))
    assert len(found) == len({finding.what for finding in found}) >= 4
    assert all(finding.where == "jacket.inside" for finding in found)
    assert not inside_findings(draft, Inside(), tuple(Layer))
    said = " ".join(finding.remedy for finding in inside_findings(draft, Inside(canvas=Canvas.NONE), (Layer.LINING,)))
    assert "interlining" not in said


def test_each_part_says_in_the_record_how_far_it_reaches():
    before, after = shell("middle", "side-panel"), whole("middle", "side-panel")
    steps = after.record[len(before.record) :]
    assert {"body lining", "sleeve lining", "canvas", "back stay", "sleeve head", "shoulder pad", "pocket"} <= {
        step.of for step in steps
    }
    assert all(step.value is not None and step.source for step in steps)


def test_a_vent_has_the_line_along_which_the_lapping_half_is_cut():
    lining = skirt("middle", "straight").piece("skirt-back-lining")
    line = next(line for line in lining.lines if line.name == "vent-cut")
    assert line.kind is LineKind.PLACE
    top = lining.edge("centre-back").path.at(lining.stop("centre-back", "vent-top"))
    assert (line.path.start - top).length < 0.01
    assert not any(line.name == "vent-cut" for line in skirt("middle", "flared").piece("skirt-back-lining").lines)


def test_the_shoulder_pad_crosses_itself_for_no_woman_of_the_survey() -> None:
    """Its armhole passes the shoulder point without a turn back, whichever way the figures are rounded there."""
    for woman in completed_bodies()[::6]:
        draft = draft_jacket(woman, replace(JacketDesign(), body_cut=BodyCut.DARTED), 1.0)
        pad = with_inside(draft, Inside(), (Layer.WADDING,)).piece("shoulder-pad")
        assert polygon(pad).is_valid
        assert min(segment.length for segment in pad.edge("armhole").path.segments) > 0.01


@pytest.mark.parametrize("body", BODIES)
def test_canvas_ends_where_a_grown_on_sleeve_begins(body: str) -> None:
    """No canvas goes into a kimono sleeve, and no haircloth stiffens its soft shoulder (common practice, no source)."""
    for cut in ("sleeve-kimono", "sleeve-kimono-princess"):
        draft = whole(body, cut)
        assert not of_layer(draft, Layer.HAIRCLOTH)
        for piece in of_layer(draft, Layer.INTERLINING):
            if piece.name in ("front-canvas", "side-front-canvas"):
                names = {edge.name for edge in piece.edges}
                assert not names & {"sleeve-hem", "sleeve-underarm"}, piece.name
                own = draft.piece(piece.follows)
                if "overarm" in names:
                    to_the_point = own.stop("overarm", "shoulder-point")
                    assert piece.edge("overarm").path.length <= to_the_point + WALK
