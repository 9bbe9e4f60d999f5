"""The front's pockets by their kinds, held against geometry; their widths are common practice, no source."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import pytest
from shapely.geometry import Polygon

from settwright.commission.design import BodyCut, Closing, FrontPocket, FrontStyle, JacketDesign
from settwright.commission.inside import Inside
from settwright.findings import Refusal
from settwright.geometry import Transform
from settwright.makeup.allowances import allowances_of
from settwright.makeup.inside import with_inside
from settwright.pattern import Draft, Layer, Piece
from settwright.pattern.drafts.jacket import draft_jacket
from settwright.pattern.drafts.pocket import PLACES
from tests.pattern.front_styles import body_of
from tests.pattern.joined import check_outlines

BODIES = ("small", "middle", "large", "survey 3", "survey 60")
PLAIN = JacketDesign()
DESIGNS = {
    "side panel": PLAIN,
    "darted": replace(PLAIN, body_cut=BodyCut.DARTED),
    "waist seam": replace(PLAIN, waist_seam=True),
    "coat": replace(PLAIN, length_below_waist=600.0),
}
JETTINGS = ("jetting-upper", "jetting-lower")
PIECES = {
    FrontPocket.FLAP: {"flap", "flap-lining", *JETTINGS, "pocket-mouth-facing"},
    FrontPocket.JETTED: {*JETTINGS, "pocket-mouth-facing"},
    FrontPocket.WELT: {"welt", "pocket-mouth-facing"},
    FrontPocket.PATCH: {"patch-pocket", "patch-pocket-lining"},
}
INSIDE = {
    FrontPocket.FLAP: {"flap-pocket-bag", "flap-pocket-bag-inner", "flap-pocket-stay"},
    FrontPocket.JETTED: {"jetted-pocket-bag", "jetted-pocket-bag-inner", "jetted-pocket-stay"},
    FrontPocket.WELT: {"welt-pocket-bag", "welt-pocket-bag-inner", "welt-pocket-stay", "welt-canvas"},
    FrontPocket.PATCH: set[str](),
}
every_case = pytest.mark.parametrize(
    ("body", "design", "kind"), [(body, design, kind) for body in BODIES for design in DESIGNS for kind in FrontPocket]
)


@cache
def drafted(body: str, design: str, kind: FrontPocket) -> Draft:
    return draft_jacket(body_of(body), replace(DESIGNS[design], pockets=kind), 1.0)


def polygon(piece: Piece) -> Polygon:
    return Polygon([(p.x, p.y) for p in piece.outline.points()])


def front_of(draft: Draft, kind: FrontPocket) -> Piece:
    """Returns the piece on which the pocket lies."""
    return next(piece for piece in draft.pieces if any(line.name == PLACES[kind] for line in piece.lines))


@every_case
def test_a_kind_has_its_pieces_as_long_as_the_mouth(body: str, design: str, kind: FrontPocket) -> None:
    draft = drafted(body, design, kind)
    every = set().union(*PIECES.values())
    assert {piece.name for piece in draft.pieces} & every == PIECES[kind]
    pieces = [draft.piece(name) for name in PIECES[kind]]
    check_outlines(pieces)
    assert all(piece.area > 0 for piece in pieces)
    mouth = front_of(draft, kind).edge(PLACES[kind]).path
    for piece in pieces:
        top = piece.edge("mouth" if piece.name in ("welt", *JETTINGS) else "top").path
        beside = 2 * 15.0 if piece.name == "pocket-mouth-facing" else 2 * 4.0 if "lining" in piece.name else 0.0
        assert 0 <= top.length - mouth.length <= beside + 1e-6, piece.name


@every_case
def test_what_lies_on_the_front_lies_wholly_on_it(body: str, design: str, kind: FrontPocket) -> None:
    draft = drafted(body, design, kind)
    front = front_of(draft, kind)
    assert front.name == ("front-lower" if design == "waist seam" else "front")
    place = front.edge(PLACES[kind]).path
    hem = front.edge("hem").path
    assert min(place.start.y, place.end.y) - max(p.y for p in hem.points()) >= 35.0 - 1e-6
    touches = [touch for touch in draft.touches if touch.b.edge == PLACES[kind]]
    assert len(touches) == (0 if kind is FrontPocket.JETTED else 1)
    for touch in touches:
        assert touch.b.piece == front.name
        piece = draft.piece(touch.a.piece)
        on = place.start - piece.edge(touch.a.edge).path.at(piece.stop(touch.a.edge, "front-end"))
        # a welt stands up over the mouth, above a waist seam if need be
        if kind is not FrontPocket.WELT:
            assert polygon(front).buffer(0.01).contains(polygon(piece.moved(Transform.shift(on.x, on.y))))


@pytest.mark.parametrize("body", BODIES)
def test_a_strip_that_is_folded_shows_half_of_itself(body: str) -> None:
    for kind, name, shows in (
        (FrontPocket.WELT, "welt", 25.0),
        *((kind, name, 5.0) for kind in (FrontPocket.JETTED, FrontPocket.FLAP) for name in JETTINGS),
    ):
        strip = drafted(body, "side panel", kind).piece(name)
        fold, mouth, inner = (strip.edge(edge).path for edge in ("fold", "mouth", "inner"))
        gaps = [min((fold.at(s) - p).length for p in path.points(0.1)) for path in (mouth, inner) for s in (0.0,)]
        assert gaps == pytest.approx([shows, shows], abs=1e-6)
        along = strip.on_grain().edge("mouth").path
        is_along = abs((along.end - along.start).unit.y) > 0.999
        assert is_along is (name in JETTINGS)  # a jetting's thread runs along the mouth, so that it keeps it


@pytest.mark.parametrize("body", BODIES)
def test_a_flap_and_its_lining_are_caught_in_the_upper_jettings_seam(body: str) -> None:
    """The flap hangs from the middle of the mouth; a jetting's width above it lies the seam. Beyond that they keep
    6 mm, a narrow seam's allowance, at least. From memory.
    """
    draft = drafted(body, "side panel", FrontPocket.FLAP)
    upper = draft.piece("jetting-upper")
    width = abs(upper.edge("fold").path.start.y - upper.edge("mouth").path.start.y)
    for name in ("flap", "flap-lining"):
        (top,) = (a for a in allowances_of(draft.piece(name))[0] if a.edge == "top")
        assert min(top.before, top.after) >= width + 6.0, name


@every_case
def test_the_inside_follows_the_mouth(body: str, design: str, kind: FrontPocket) -> None:
    draft = with_inside(drafted(body, design, kind), Inside(), tuple(Layer))
    every = set().union(*INSIDE.values())
    assert {piece.name for piece in draft.pieces} & every == INSIDE[kind]
    mouth = front_of(draft, kind).edge(PLACES[kind]).path.length
    for name in INSIDE[kind]:
        piece = draft.piece(name)
        if name.endswith(("bag", "bag-inner")):
            on = abs(piece.stop("top", "back-end") - piece.stop("top", "front-end"))
            assert on == pytest.approx(mouth, abs=1e-6)
        if name == "welt-canvas":
            assert polygon(piece).area == pytest.approx(polygon(draft.piece("welt")).area / 2, rel=1e-6)


@pytest.mark.parametrize("kind", list(FrontPocket))
def test_a_pocket_that_finds_no_place_is_refused_by_name(kind: FrontPocket) -> None:
    for length in (80.0, 128.0):
        design = replace(PLAIN, length_below_waist=length, pockets=kind)
        if length > 100.0 and kind is not FrontPocket.PATCH:
            assert draft_jacket(body_of("middle"), design, 1.0)
            continue
        with pytest.raises(Refusal) as refused:
            draft_jacket(body_of("middle"), design, 1.0)
        (finding,) = refused.value.findings
        assert finding.where == "design.length_below_waist"


@pytest.mark.parametrize("kind", list(FrontPocket))
@pytest.mark.parametrize("body", BODIES)
@pytest.mark.parametrize("style", [FrontStyle.PEAKED, FrontStyle.ROUND_NECK])
def test_no_button_of_a_double_breasted_front_is_sewn_through_its_pocket(
    style: FrontStyle, body: str, kind: FrontPocket
) -> None:
    """A clear stretch of cloth lies between the second column and the pocket: 10 mm and the button's half. From
    memory.
    """
    design = replace(PLAIN, front_style=style, closing=Closing.DOUBLE, pockets=kind)
    draft = draft_jacket(body_of(body), design, 1.0)
    front = front_of(draft, kind)
    twins = [mark.at.x for mark in front.marks if mark.name.startswith("twin-button")]
    end = max(p.x for p in front.edge(PLACES[kind]).path.points())
    assert twins
    assert min(twins) - end >= design.button_diameter / 2 + 10.0
