"""Fronts and facings in every style, held against geometry and the customs of the trade.

Bodies: three invented sizes and ANSUR II women (tests/data/open-bodies.csv, origin beside it).
"""

from __future__ import annotations

import itertools
import math
import re
from dataclasses import replace
from pathlib import Path as File

import pytest
from shapely.geometry import LineString, MultiLineString
from shapely.geometry import Point as Spot

from settwright.commission.design import BodyCut, Closing, CollarStyle, FrontEdge, FrontStyle, JacketDesign
from settwright.findings import Refusal
from settwright.geometry import Path, Point, Transform
from settwright.geometry.tolerances import WALK
from settwright.pattern import Draft, Piece
from settwright.pattern.drafts.jacket import draft_jacket
from tests.bodies import bodies
from tests.pattern.front_styles import (
    CROSSED,
    LAPELS,
    NECKS,
    PEAKED,
    PLAIN,
    QUICK,
    SHAWL,
    SHAWLS,
    SIZES,
    STAND,
    STANDS,
    STYLES,
    V_NECK,
    bends,
    body_of,
    corners,
    drafted,
    drawn,
    has,
    interior,
    polygon,
    turn_between,
)

every_style = pytest.mark.parametrize("style", STYLES)
every_body = pytest.mark.parametrize("body", QUICK)

# by how much side b may be longer than side a over a whole seam; none named: not at all
EASE = {
    "side-front": (-6.5, 0.1),  # the front, side a, is held in over the bust
    "shoulder": (5.0, 10.0),  # back shoulder eased on to the front (drafting custom)
    "collar-outer": (-6.0, 5.0),  # a stand collar's inner layer lies on the smaller circle
    "collar-end": (-4.0, 4.0),
    "facing-front-edge": (-1.5, 0.5),
    "facing-front-edge-lower": (-0.5, 0.5),
    "facing-lapel": (0.0, 6.0),  # 1/8 in at a lapel's corner: Barlup, Threads no. 131; a shawl's is twice as long
    "facing-lapel-top": (0.0, 4.0),
    "facing-neckline": (-1.5, 0.5),
    "facing-centre-back": (0.0, 0.0),
    "facing-collar-front": (-2.5, 0.1),
    "facing-neck": (-2.0, 0.1),
}


# ------------------------------------------------------------------------------------------------------ seams


def check_walks(draft: Draft) -> None:
    sewn: dict[tuple[str, str], float] = {}
    for seam in draft.seams:
        a, b = draft.piece(seam.a.piece), draft.piece(seam.b.piece)
        assert len(seam.ease) == len(seam.stops) - 1 >= 1, seam.name
        for (first, last), ease in zip(itertools.pairwise(seam.stops), seam.ease, strict=True):
            on_a = abs(a.stop(seam.a.edge, last) - a.stop(seam.a.edge, first))
            on_b = abs(b.stop(seam.b.edge, last) - b.stop(seam.b.edge, first))
            assert on_b - on_a == pytest.approx(ease, abs=WALK), (seam.name, first, last)
            sewn[seam.a.piece, seam.a.edge] = sewn.get((seam.a.piece, seam.a.edge), 0.0) + on_a
            if not seam.across:
                sewn[seam.b.piece, seam.b.edge] = sewn.get((seam.b.piece, seam.b.edge), 0.0) + on_b
        low, high = EASE.get(seam.name, (0.0, 0.0))
        assert low - WALK <= sum(seam.ease) <= high + WALK, (seam.name, seam.ease)
        for side, piece in ((seam.a, a), (seam.b, b)):
            places = [piece.stop(side.edge, stop) for stop in seam.stops]
            assert places == sorted(places) or places == sorted(places, reverse=True), seam.name
    for piece in draft.pieces:
        for edge in piece.edges:
            if edge.name in {"hem", "inner", "armhole"} or piece.name.startswith(("flap", "jetting", "pocket-mouth")):
                continue
            if edge.name in {"centre-back", "outer"} and (piece.name, edge.name) not in sewn:
                assert piece.name in {"top-collar", "back-neck-facing", "stand-collar", "stand-collar-facing"}
                continue
            dart = sum(
                abs(piece.stop(edge.name, f"{name}-b") - piece.stop(edge.name, f"{name}-a"))
                for name in ("gorge-dart",)
                if any(n.edge == edge.name and n.name == f"{name}-a" for n in piece.notches)
            )
            there = sewn.get((piece.name, edge.name), 0.0)
            assert there == pytest.approx(edge.path.length - dart, abs=0.01), f"{piece.name}, {edge.name}"


@every_style
def test_every_edge_is_sewn_and_walks_to_its_stated_ease(style: str) -> None:
    for body in QUICK:
        check_walks(drafted(body, style))


@every_style
def test_touches_name_stops_that_both_sides_have(style: str) -> None:
    draft = drafted("middle", style)
    for touch in draft.touches:
        for side in (touch.a, touch.b):
            places = [draft.piece(side.piece).stop(side.edge, stop) for stop in touch.stops]
            assert places == sorted(places) or places == sorted(places, reverse=True), touch.name
    named = {touch.name for touch in draft.touches}
    assert ("collar-on-back" in named) == (style in LAPELS or style in SHAWLS)


# ------------------------------------------------------------------------------------------------- smoothness


def last_neck_edge(front: Piece) -> str:
    """Returns the front's edge that ends at the neck point."""
    return next(e.name for e in front.edges if e.end == "neck-point")


def check_smooth(draft: Draft, style: str) -> None:
    front, back = draft.piece("front"), draft.piece("back")
    facing, neck_facing = draft.piece("front-facing"), draft.piece("back-neck-facing")
    if style not in SHAWLS:
        neck = last_neck_edge(front)
        opened = any(n.name.startswith("gorge-dart") for n in front.notches)
        if not opened:  # a dart under the lapel turns the shoulder with the neck: see the body's tests
            both = interior(front, neck, "shoulder") + interior(back, "shoulder", "neck")
            assert both == pytest.approx(180, abs=1.0)
        inner = interior(facing, "shoulder", neck) + interior(neck_facing, "neck", "shoulder")
        assert inner == pytest.approx(180, abs=1.0)
    outer = interior(facing, "inner", "shoulder") + interior(neck_facing, "shoulder", "outer")
    assert outer == pytest.approx(180, abs=1.0)
    square = [
        ("back", "neck", "centre-back"),
        ("back-neck-facing", "centre-back", "neck"),
        ("back-neck-facing", "outer", "centre-back"),
    ]
    if style in SHAWLS:
        for piece in ("front", "front-facing"):
            first, second, third = ("lapel", "collar-centre-back", "collar-neck")
            names = (first, second, third) if piece == "front" else (third, second, first)
            square += [(piece, names[0], names[1]), (piece, names[1], names[2])]
    if style in LAPELS:
        square += [("under-collar", "centre-back", "neck"), ("under-collar", "outer", "centre-back")]
        square += [("top-collar", "neck", "centre-back"), ("top-collar", "centre-back", "outer")]
    if style in STANDS:
        square += [("stand-collar", "centre-back", "neck"), ("stand-collar", "outer", "centre-back")]
        square += [("stand-collar-facing", "neck", "centre-back"), ("stand-collar-facing", "centre-back", "outer")]
    for piece, first, second in square:
        assert interior(draft.piece(piece), first, second) == pytest.approx(90, abs=0.5), (piece, first, second)
    if not {"round", "stand"} & {style.split(",", maxsplit=1)[0]}:
        after = front.edges[[e.name for e in front.edges].index("front-edge") + 1].name
        assert interior(front, "front-edge", after) == pytest.approx(180, abs=0.01), "a corner at the break point"
    for piece in draft.pieces:
        for edge in piece.edges:
            if not any("dart" in n.name and n.edge == edge.name for n in piece.notches):
                assert all(abs(turn) < 0.5 for turn in corners(edge.path)), f"{piece.name}, {edge.name}: a corner"


@every_style
def test_lines_run_smooth_over_shoulder_centre_back_and_break(style: str) -> None:
    for body in QUICK:
        check_smooth(drafted(body, style), style)


@every_style
def test_no_outline_crosses_itself(style: str) -> None:
    for body in QUICK:
        for piece in drafted(body, style).pieces:
            assert polygon(piece).is_valid, (body, piece.name)
            assert piece.area > 0, (body, piece.name)


# ------------------------------------------------------------------------------------------------- the edges


@pytest.mark.parametrize("style", [s for s in LAPELS if s != "peaked, a fold"])
@every_body
def test_a_lapel_is_a_gentle_belly_as_wide_as_chosen(style: str, body: str) -> None:
    front = drafted(body, style).piece("front")
    edge, roll = front.edge("lapel").path, front.edge("roll-line").path
    assert min(bends(edge)) > -1e-7, "hollow"
    chord = (edge.end - edge.start).unit
    assert 2 <= max(abs(chord.cross(p - edge.start)) for p in edge.points(0.1)) <= 14
    square = (roll.end - roll.start).unit.right
    assert (edge.end - roll.start).dot(square) == pytest.approx(STYLES[style].lapel_width, abs=0.1)


@pytest.mark.parametrize("style", [s for s in LAPELS if s.startswith("peaked")])
@every_body
def test_a_peak_stands_over_the_gorge_as_chosen(style: str, body: str) -> None:
    """The collar's end lies along the lapel's top, shorter than that: common practice, no source."""
    draft, design = drafted(body, style), STYLES[style]
    front, collar = draft.piece("front"), draft.piece("under-collar")
    top, gorge = front.edge("lapel-top").path, front.edge("gorge").path
    peak = top.start - top.end
    if design.front_edge is FrontEdge.SEPARATE:  # a fold sets the width, and may shorten the peak
        assert peak.length == pytest.approx(design.peak_length, abs=0.01)
    assert 20 <= peak.length <= design.peak_length + 0.01
    assert turn_between(-gorge.start_tangent, peak) == pytest.approx(math.degrees(design.peak_angle), abs=0.1)
    end = collar.edge("end").path
    assert 0 < turn_between(peak, end.end - end.start) <= 6
    assert 0.5 <= end.length / peak.length <= 0.75
    tip = interior(front, "lapel", "lapel-top")
    assert 28 <= tip <= 75, "the tip is a needle or a tongue"
    roll = front.edge("roll-line").path
    along = (roll.end - roll.start).unit
    assert peak.dot(along) > 15, "the peak doesn't point up"


@pytest.mark.parametrize("style", SHAWLS)
@every_body
def test_a_shawl_is_one_fair_line_from_break_to_centre_back(style: str, body: str) -> None:
    """It bends one way only and without a jump, so that no corner shows; its width is the one chosen."""
    front, design = drafted(body, style).piece("front"), STYLES[style]
    edge, roll = front.edge("lapel").path, front.edge("roll-line").path
    bent = bends(edge, 120)
    assert min(bent) > -2.5e-4, "hollow: by less than a circle of 4 m none can see"
    assert max(abs(b - a) for a, b in itertools.pairwise(bent)) < 0.25 * max(bent)
    square = roll.start_tangent.right
    widths = [(edge.at(edge.length * i / 200) - roll.start).dot(square) for i in range(201)]
    assert max(widths) == pytest.approx(design.lapel_width, abs=0.1)
    depth = front.edge("collar-centre-back").path.length
    assert depth == pytest.approx(design.collar_stand + design.collar_fall, abs=0.01)
    neck = drafted(body, style).piece("back").edge("neck").path.length
    assert front.edge("collar-neck").path.length == pytest.approx(neck, abs=0.01)
    assert max(abs(turn) for turn in corners(roll)) < 0.5


@pytest.mark.parametrize("style", [s for s in NECKS if s.startswith(("V", "crossed"))])
@every_body
def test_a_slanting_edge_is_as_hollow_as_chosen(style: str, body: str) -> None:
    front, design = drafted(body, style).piece("front"), STYLES[style]
    edge = front.edge("neckline").path
    upper = edge.segments[-1]
    chord = (upper.d - upper.a).unit
    strays = [chord.cross(upper.at(i / 100) - upper.a) for i in range(101)]
    assert max(strays, key=abs) == pytest.approx(design.neck_edge_hollow, abs=0.2)
    outwards = edge.segments[0]
    assert min(bends(Path((outwards,)))) > -1e-9, "the soft turn at the break bends one way"
    if design.front_style is FrontStyle.CROSSED:
        centre = front.edge("centre-front").path.start.x
        assert front.edge("front-edge").path.length > 150
        assert edge.start.x - centre > 0.75 * design.crossed_wrap
        stop = front.stop("centre-front", "break-point")
        assert stop == pytest.approx(front.edge("centre-front").path.length, abs=0.01), "they lap up to the neckline"


@pytest.mark.parametrize("style", [s for s in STYLES if s.startswith(("round", "stand"))])
@every_body
def test_a_round_neck_is_level_at_the_centre_and_never_dented(style: str, body: str) -> None:
    front = drafted(body, style).piece("front")
    edge, centre = front.edge("neckline").path, front.edge("centre-front").path
    at = front.stop("neckline", "centre-front")
    assert (edge.at(at) - centre.end).length < 1e-6
    assert abs(turn_between(edge.tangent(at), Point(-1.0, 0.0))) < 0.1
    bent = bends(edge)
    assert max(bent) < 1e-9, "a round neck bends to the right all along, seen from the break point"
    half = bends(edge, 40, at / edge.length, 1.0)
    assert all(b >= a - 2e-5 for a, b in itertools.pairwise(half)), "it gets flatter and flatter to the shoulder"
    assert 1 / max(-b for b in bent) > 35, "pointed"


@pytest.mark.parametrize("style", ["round", "round, double", "stand", "stand, square"])
def test_lapped_round_necks_lie_on_one_another(style: str) -> None:
    """Buttoned, the upper front's neckline lies on the under front's: one is the other's mirror image there."""
    for body in SIZES:
        front = drafted(body, style).piece("front")
        edge, x = front.edge("neckline").path, front.edge("centre-front").path.start.x
        at = front.stop("neckline", "centre-front")
        for part in range(9):
            point = edge.at(at * part / 8)
            mirrored = Point(2 * x - point.x, point.y)
            assert (edge.at(edge.nearest(mirrored)) - mirrored).length < 0.01


# ------------------------------------------------------------------------------------------- wraps and buttons


@every_body
def test_hooks_of_fronts_that_meet_stand_on_their_edges(body: str) -> None:
    """A hook holds only what reaches it: geometry."""
    for style in (V_NECK, replace(PLAIN, front_style=FrontStyle.ROUND_NECK), PLAIN):
        front = draft_jacket(body_of(body), replace(style, closing=Closing.EDGE_TO_EDGE), 1.0).piece("front")
        hooks = [mark.at for mark in front.marks if mark.name.startswith("hook-")]
        assert hooks
        assert all(polygon(front).buffer(0.1).covers(Spot(at.x, at.y)) for at in hooks)


@pytest.mark.parametrize("cut", [BodyCut.PRINCESS_SHOULDER, BodyCut.PRINCESS_ARMHOLE])
@every_body
def test_buttons_beyond_a_princess_seam_stand_on_the_side_front(cut: BodyCut, body: str) -> None:
    """Sewn together, front and side front hold a button as far from the centre front as its twin: geometry."""
    draft = draft_jacket(body_of(body), replace(CROSSED, body_cut=cut), 1.0)
    front, beside = draft.piece("front"), draft.piece("side-front")
    x = front.edge("centre-front").path.start.x
    for number in range(1, CROSSED.buttons + 1):
        near = front.mark(f"button-{number}")
        holder = next(piece for piece in (front, beside) if f"twin-button-{number}" in {m.name for m in piece.marks})
        twin = holder.mark(f"twin-button-{number}")
        assert polygon(holder).covers(Spot(twin.x, twin.y))
        at = x - twin.x
        if holder is beside:
            edges = [piece.edge("princess-front").path for piece in (front, beside)]
            on_front, on_beside = (edge.at(edge.where_y(twin.y)[0]).x for edge in edges)
            at = x - on_front + on_beside - twin.x
        assert at == pytest.approx(near.x - x, abs=1e-6)


@pytest.mark.parametrize("style", [s for s in STYLES if "double" in s or s == "stand, square"])
@every_body
def test_a_double_breasted_front_has_two_columns_of_buttons(style: str, body: str) -> None:
    """As far to each side of the centre front, clear of the edge by half a button and more. Common practice."""
    front, design = drafted(body, style).piece("front"), STYLES[style]
    x = front.edge("centre-front").path.start.x
    reach = front.edge("front-edge").path.start.x - x
    assert reach <= design.double_wrap + 1e-6
    assert 40 <= reach <= 90
    for number in range(1, design.buttons + 1):
        near, twin = front.mark(f"button-{number}"), front.mark(f"twin-button-{number}")
        assert near.y == twin.y
        assert near.x - x == pytest.approx(x - twin.x)
        assert reach - (near.x - x) >= design.button_diameter / 2 + 8
        assert near.x - x >= design.button_diameter / 2 + 2, "the columns touch"


def test_fronts_edge_to_edge_meet_on_the_centre_front() -> None:
    for style in ("round, edge to edge", "stand, edge to edge"):
        front = drafted("middle", style).piece("front")
        x = front.edge("centre-front").path.start.x
        assert all(abs(p.x - x) < 1e-6 for p in front.edge("front-edge").path.points())
        assert not any(mark.name.startswith("button") for mark in front.marks)


# ------------------------------------------------------------------------------------------------- the facings


def in_front(piece: Piece) -> Piece:
    """Returns a facing laid on the front, whose mirror image it is drawn as."""
    return piece.moved(Transform.mirror_x())


@every_style
def test_a_facing_is_wide_enough_and_lies_within_the_front(style: str) -> None:
    """35 mm at its narrowest below the shoulder: common practice, no source."""
    for body in QUICK:
        draft = drafted(body, style)
        front, facing = draft.piece("front"), in_front(draft.piece("front-facing"))
        inner = facing.edge("inner").path
        outer = [e for e in facing.edges if e.name in {"front-edge", "lapel", "neckline", "gorge", "lapel-top"}]
        outline = MultiLineString([[(p.x, p.y) for p in e.path.points()] for e in outer])
        near = LineString([(p.x, p.y) for p in inner.part(0.0, 0.9 * inner.length).points()])
        assert near.distance(outline) >= 35, body
        below = polygon(front).buffer(0.5)
        level = min(front.edge("shoulder").path.start.y, front.edge("shoulder").path.end.y) - 60
        kept = [(p.x, p.y) for p in inner.points(0.5) if p.y < level]
        assert below.covers(LineString(kept)), (body, style)


@pytest.mark.parametrize("thickness", [0.0, 1.0, 2.0])
@pytest.mark.parametrize("style", ["shawl", "peaked", "peaked, double"])
def test_the_facing_grows_where_it_is_the_outer_layer(style: str, thickness: float) -> None:
    """Round a fold by π × the distance between the layers' middles (geometry), at the break point by nothing."""
    draft = drawn(body_of("middle"), STYLES[style], thickness)
    front, facing = draft.piece("front"), in_front(draft.piece("front-facing"))
    more, edge = math.pi * thickness, 0.5 + 0.7 * thickness
    assert (facing.edge("lapel").path.end - front.edge("lapel").path.start).length < 1e-6
    if style == "shawl":
        grown = facing.edge("collar-centre-back").path.length - front.edge("collar-centre-back").path.length
        assert grown == pytest.approx(more + edge, abs=0.01)
        roll = front.edge("roll-line").path
        square = roll.start_tangent.right
        widest = [
            max((p - roll.start).dot(square) for p in piece.edge("lapel").path.points(0.01))
            for piece in (front, facing)
        ]
        assert widest[1] - widest[0] == pytest.approx(more + edge, abs=0.1)
    else:
        top, under = draft.piece("top-collar"), draft.piece("under-collar")
        assert top.edge("centre-back").path.length - under.edge("centre-back").path.length == pytest.approx(
            more + edge, abs=0.01
        )
    inwards = front.edge("front-edge").path.start.x - facing.edge("front-edge").path.end.x
    assert 0 < inwards <= 1.5, "below the break the facing is the smaller side"


@pytest.mark.parametrize("style", [s for s in NECKS if "edge" not in s])
def test_the_facing_of_a_plain_neck_is_the_smaller_side(style: str) -> None:
    draft = drafted("middle", style)
    front, facing = draft.piece("front"), in_front(draft.piece("front-facing"))
    outer, inner = front.edge("neckline").path, facing.edge("neckline").path
    assert (outer.end - inner.start).length < 1e-6, "at the neck point they are one"
    for part in range(11):
        point = inner.at(inner.length * part / 10)
        at = outer.nearest(point)
        inside = -outer.tangent(at).right.dot(point - outer.at(at))
        assert -0.02 <= inside <= 1.0, "inside the front's edge, by a hair"
    assert abs(front.edge("front-edge").path.start.x - facing.edge("front-edge").path.end.x) == pytest.approx(
        (0.5 + 0.7) / 2, abs=0.01
    )


@pytest.mark.parametrize("below", [20.0, 60.0, 120.0])
def test_a_split_facing_is_the_whole_one_in_two(below: float) -> None:
    whole = drawn(body_of("middle"), SHAWL)
    split = drawn(body_of("middle"), replace(SHAWL, facing_split=below))
    upper, lower = split.piece("front-facing"), split.piece("front-facing-lower")
    assert upper.area + lower.area == pytest.approx(whole.piece("front-facing").area, abs=0.1)
    join = lower.edge("split").path
    assert join.length == pytest.approx(upper.edge("split").path.length, abs=1e-6)
    assert abs(join.start.y - join.end.y) < 1e-6, "straight across, on the cross grain"
    assert upper.edge("inner").path.end == whole.piece("front-facing").edge("inner").path.end
    for piece in (upper, lower):
        assert polygon(piece).covers(LineString([(piece.grain_mark.x, piece.grain_mark.y)] * 2)), piece.name
    for seam in split.seams:
        for side in (seam.a, seam.b):
            for stop in seam.stops:
                split.piece(side.piece).stop(side.edge, stop)


def test_a_facing_of_a_lapel_can_be_split_too() -> None:
    split = drawn(body_of("middle"), replace(PEAKED, facing_split=60.0))
    assert has(split, "front-facing-lower")
    check_walks(split)


# ---------------------------------------------------------------------------------------------------- refusals


@pytest.mark.parametrize(
    ("design", "named"),
    [
        (replace(PLAIN, closing=Closing.DOUBLE, double_wrap=30.0), "design.double_wrap"),
        (replace(V_NECK, collar_style=CollarStyle.STAND), "design.collar_style"),
        (replace(SHAWL, front_edge=FrontEdge.EXTENDED), "design.front_edge"),
        (replace(PLAIN, front_edge=FrontEdge.SPLIT, facing_split=30.0), "design.facing_split"),
        (replace(PLAIN, front_edge=FrontEdge.SPLIT, second_split=60.0), "design.second_split"),
        (replace(PLAIN, front_edge=FrontEdge.SPLIT, split_button=7), "design.split_button"),
        (replace(SHAWL, facing_split=0.0), "design.facing_split"),
        (replace(SHAWL, facing_split=600.0), "design.facing_split"),
        (replace(PEAKED, front_edge=FrontEdge.EXTENDED, facing_split=50.0), "design.facing_split"),
        (replace(CROSSED, crossed_wrap=300.0), "design.crossed_wrap"),
        (replace(V_NECK, neck_opening=90.0), "design.neck_opening"),
        (replace(NECKS["round"], neck_drop=400.0), "design.neck_drop"),
        (replace(SHAWL, collar_fall=28.0), "design.collar_fall"),
        (replace(STAND, stand_height=200.0), "design.stand_height"),
        (replace(STAND, stand_lean=math.radians(60)), "design.stand_lean"),
        (replace(PEAKED, lapel_width=30.0), "design.lapel_width"),
        (replace(PEAKED, peak_length=200.0), "design.peak_length"),
        (replace(PEAKED, peak_angle=math.radians(110)), "design.peak_angle"),
        (replace(V_NECK, buttons=0), "design.buttons"),
    ],
)
def test_a_front_that_cannot_be_drawn_is_refused_by_name(design: JacketDesign, named: str) -> None:
    with pytest.raises(Refusal) as refusal:
        drawn(body_of("middle"), design)
    assert any(f.where == named and f.remedy for f in refusal.value.findings)


# ---------------------------------------------------------------------------------------------------- the names


def listed(cell: str) -> list[tuple[str, list[str]]]:
    """Returns the edges in a cell of the names page, each with its stops; one without stops isn't checked for them."""
    found = re.findall(r"`([a-z-]+)`(?: \(([^)]*)\))?", cell)
    return [(edge, [s.strip() for s in re.split(r"[→;,]", stops) if s.strip()]) for edge, stops in found]


def cells(first: str) -> list[str]:
    """Returns the cells of the names page's row that begins so."""
    text = (File(__file__).parents[2] / "docs" / "names.md").read_text()
    row = next(line for line in text.splitlines() if line.startswith(f"| {first} "))
    return [cell.strip() for cell in row.strip("|").split("|")]


@pytest.mark.parametrize(
    ("style", "row"),
    [("shawl", "shawl"), ("V", "V neck,"), ("crossed", "V neck,"), ("round", "V neck,"), ("stand", "V neck,")],
)
def test_edges_of_the_front_are_those_of_the_names_page(style: str, row: str) -> None:
    edges = listed(cells(row)[1])
    for piece in ("front", "front-facing"):
        drawn_piece = drafted("middle", style).piece(piece)
        for name, stops in edges:
            edge = drawn_piece.edge(name)
            ends = (edge.start, edge.end) if piece == "front" else (edge.end, edge.start)
            assert ends == (stops[0], stops[1]), (piece, name)
            for stop in stops:
                drawn_piece.stop(name, stop)
    order = [edge.name for edge in drafted("middle", style).piece("front").edges]
    start = order.index("front-edge")
    assert order[start : start + len(edges)] == [name for name, _ in edges]


@pytest.mark.parametrize("piece", ["stand-collar", "stand-collar-facing", "front-facing-lower"])
def test_edges_of_new_pieces_are_those_of_the_names_page(piece: str) -> None:
    draft = drafted("middle", "shawl, wide" if piece == "front-facing-lower" else "stand")
    drawn_piece = draft.piece(piece)
    edges = listed(cells(f"`{piece}`")[2])
    order = [edge.name for edge in drawn_piece.edges]
    start = order.index(edges[0][0])
    assert order[start:] + order[:start] == [name for name, _ in edges]
    for name, stops in edges:
        if stops:
            assert (drawn_piece.edge(name).start, drawn_piece.edge(name).end) == (stops[0], stops[1])
        for stop in stops:
            drawn_piece.stop(name, stop)


# --------------------------------------------------------------------------------------------- the whole survey


@pytest.mark.slow
@pytest.mark.parametrize("row", range(0, len(bodies()), 2))
def test_women_of_the_survey_get_every_front(row: int) -> None:
    for style in STYLES:
        draft = drawn(body_of(f"survey {row}"), STYLES[style])
        check_walks(draft)
        check_smooth(draft, style)
        for piece in draft.pieces:
            assert polygon(piece).is_valid, (style, piece.name)
