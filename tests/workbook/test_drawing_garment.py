"""The garment's picture: the bars must be truly where they fall, and the figure must close at its seams."""

from __future__ import annotations

import itertools
import math
import random
from collections.abc import Iterator
from dataclasses import replace

import numpy as np
import pytest
import shapely
from shapely.geometry import Polygon
from shapely.geometry.base import BaseGeometry

from settwright.bars.model import Match, Phase
from settwright.cloth.cloth import Cloth
from settwright.cloth.colour import mixed_colour
from settwright.commission.design import FrontEdge
from settwright.geometry import Point
from settwright.makeup.model import CutPiece, Hand
from settwright.workbook.drawing.figure.body import jacket_body
from settwright.workbook.drawing.figure.figure import figure
from settwright.workbook.drawing.figure.form import DEPTH, Half, Layer, Patch, View, places_of
from settwright.workbook.drawing.garment import draw_garment
from settwright.workbook.drawing.pen import SvgPen
from settwright.workbook.drawing.recording import Recording
from tests.pattern.front_styles import body_of
from tests.workbook.worn import UNEVEN, Recorder, made_up_of, pleated_skirt, scattered, suit
from tools.cuts import CUTS

SCALE = 0.2


def expected_colour(cloth: Cloth, piece: CutPiece, phase: Phase, p: Point) -> tuple[str, float]:
    """The colour of the cloth under a point of a piece, by the frames of the plan (docs/plan-format.md) worked out
    here afresh, and how far the nearest bar's side is.
    """
    c, s = math.cos(piece.grain_turn), math.sin(piece.grain_turn)
    x = phase.u + phase.orientation.t * phase.orientation.f * (c * p.x - s * p.y)
    y = phase.v + phase.orientation.t * (s * p.x + c * p.y)
    found: list[str] = []
    nearest = math.inf
    for place, way in ((x, cloth.warp), (y, cloth.weft)):
        left = place % sum(bar.width for bar in way.bars)
        nearest = min(nearest, left)
        for bar in way.bars:
            if left < bar.width:
                found.append(dict(cloth.colours)[bar.colour])
                nearest = min(nearest, bar.width - left)
                break
            left -= bar.width
            nearest = min(nearest, left)
    return mixed_colour(found[0], found[1], cloth.weave), nearest


def samples(layers: tuple[Layer, ...], number: int) -> Iterator[tuple[Patch, Point, tuple[float, float]]]:
    """Points well inside each patch that no nearer patch hides, with where the figure shows them."""
    chance = random.Random(3)
    hides = [[patch.shape for patch in layer.patches] for layer in layers]
    for depth, layer in enumerate(layers):
        for order, patch in enumerate(layer.patches):
            nearer = [*hides[depth][order + 1 :], *(shape for later in hides[depth + 1 :] for shape in later)]
            hidden = shapely.buffer(shapely.union_all(nearer), 3.0)
            shapely.prepare(hidden)
            inner = shapely.buffer(patch.region, -4.0)
            shapely.prepare(inner)
            left, bottom, right, top = patch.region.bounds
            taken = 0
            for _ in range(400):
                p = Point(chance.uniform(left, right), chance.uniform(bottom, top))
                if taken == number or not shapely.contains_xy(inner, p.x, p.y):
                    continue
                at = patch.place(places_of([p]))[0]
                if shapely.contains_xy(hidden, at[0], at[1]) or is_edge_on(patch, p):
                    continue
                taken += 1
                yield patch, p, (float(at[0]), float(at[1]))


def is_edge_on(patch: Patch, p: Point) -> bool:
    """Whether a millimetre of cloth there is seen as less than a fifth, one way or the other."""
    at, across, along = patch.place(places_of([p, p + Point(1.0, 0.0), p + Point(0.0, 1.0)]))
    (a, b), (c, d) = across - at, along - at
    return abs(a * d - b * c) < 0.2 * max(math.hypot(a, b), math.hypot(c, d))


@pytest.mark.parametrize("view", list(View))
@pytest.mark.parametrize("front_edge", list(FrontEdge))
def test_bars_are_drawn_where_they_fall(view: View, front_edge: FrontEdge) -> None:
    made_up = suit(front_edge)
    match = scattered(made_up)
    phases = {phase.piece: phase for phase in match.phases}
    pen = Recorder()
    draw_garment(pen, made_up, match, [UNEVEN], view, scale=SCALE, button_diameter=0.0)
    seen: dict[str, int] = {}
    for patch, p, (x, y) in samples(figure(made_up, view), 25):
        piece = made_up.piece(patch.instance)
        wanted, nearest = expected_colour(UNEVEN, piece, phases[patch.instance], p)
        if nearest < 1.0:
            continue
        assert pen.colour_at(x * SCALE, y * SCALE) == wanted, (patch.instance, p)
        seen[patch.instance] = seen.get(patch.instance, 0) + 1
    hand, collar = view.value, set() if front_edge is FrontEdge.TO_NECK else {"top-collar"}
    wanted_pieces = {
        View.FRONT: {"front.right", "front.left", "upper-sleeve.right", "upper-sleeve.left", "skirt-front",
                     "flap.left"} | collar,
        View.BACK: {"back.right", "back.left", "side.right", "upper-sleeve.right", "under-sleeve.left",
                    "skirt-back.left"},
        View.LEFT: {f"{name}.{hand}" for name in ("front", "back", "upper-sleeve", "skirt-back")} | collar,
        View.RIGHT: {f"{name}.{hand}" for name in ("front", "back", "upper-sleeve", "skirt-back")} | {"skirt-front"},
    }[view]  # fmt: skip
    assert all(seen.get(name, 0) >= 4 for name in wanted_pieces), seen
    if view is View.FRONT and front_edge is FrontEdge.SEPARATE:
        assert seen.get("front-facing.right", 0) >= 4


SEAMS = [
    ("side-front", View.FRONT, 0.5),
    ("side-back", View.BACK, 0.5),
    ("sleeve-front", View.FRONT, 1.5),
    ("sleeve-back", View.BACK, 1.5),
    ("forearm", View.FRONT, 2.0),
    ("hindarm", View.BACK, 2.0),
    ("centre-back", View.BACK, 0.5),
    ("skirt-centre-back", View.BACK, 0.1),
]


@pytest.mark.parametrize(("seam", "view", "gap"), SEAMS)
def test_matched_points_of_a_seam_meet_on_the_figure(seam: str, view: View, gap: float) -> None:
    made_up = suit()
    patches = {patch.instance: patch for layer in figure(made_up, view) for patch in layer.patches}
    names = {sewn.name: sewn for sewn in made_up.sewn}
    sewn = names.get(seam) or names[f"{seam}.right"]
    a, b = patches[sewn.a.piece], patches[sewn.b.piece]
    on_a = a.place(places_of([pair[0] for pair in sewn.pairs]))
    on_b = b.place(places_of([pair[1] for pair in sewn.pairs]))
    across = np.abs(on_a[:, 0] - on_b[:, 0])
    assert across.max() <= gap
    if seam in ("forearm", "hindarm"):
        return  # the two sides differ in height there by what is eased
    assert np.abs(on_a[:, 1] - on_b[:, 1]).max() <= max(gap, 1.0)


@pytest.mark.parametrize("body", ["small", "middle", "large"])
@pytest.mark.parametrize("name", ["sleeve-one-piece", "sleeve-one-piece-eased"])
@pytest.mark.parametrize(("view", "turn"), [(View.FRONT, "forearm-top"), (View.BACK, "hindarm-top")])
def test_a_sleeve_in_one_piece_is_set_into_its_armhole(name: str, body: str, view: View, turn: str) -> None:
    """From the shoulder point down to where it turns under the arm no paper shows between the two."""
    cut = next(cut for cut in CUTS if cut.name == name)
    made_up = made_up_of(cut.draft(body_of(body)))
    patches = [patch for layer in figure(made_up, view) for patch in layer.patches]
    on_body = next(p for p in patches if p.instance == f"{view.value}.right")
    on_arm = [p for p in patches if p.instance == "sleeve.right"][-1]  # the nearer part of it
    sewn = next(sewn for sewn in made_up.sewn if sewn.name == f"sleeve-{view.value}.right")
    at = dict(sewn.stops)[turn]
    seen = sewn.pairs[at:] if sewn.pairs[0][1].y < sewn.pairs[-1][1].y else sewn.pairs[: at + 1]
    gaps = on_arm.place(places_of([b for _, b in seen])) - on_body.place(places_of([a for a, _ in seen]))
    assert np.abs(gaps).max() < 1.5


def test_a_back_s_darts_are_drawn() -> None:
    made_up = made_up_of(next(cut for cut in CUTS if cut.name == "darted").draft(body_of("middle")))
    back = next(layer for layer in figure(made_up, View.BACK) if layer.name == "back")
    cloth = shapely.union_all([patch.shape for patch in back.patches])
    assert len(back.lines) == 2
    assert all(shapely.contains(cloth, shapely.linestrings(line)) for line in back.lines)


@pytest.mark.parametrize("body", ["small", "middle", "large"])
@pytest.mark.parametrize("view", [View.FRONT, View.BACK])
def test_a_shoulder_is_straight_across_its_dart(view: View, body: str) -> None:
    """With the dart sewn no step shows where its legs meet, and the shoulder runs on to its point in one line."""
    made_up = made_up_of(next(cut for cut in CUTS if cut.name == "darted-shoulder").draft(body_of(body)))
    patches = [patch for layer in figure(made_up, view) for patch in layer.patches]
    patch = [p for p in patches if p.instance in (f"{view.value}.right", view.value)][-1]  # the right half of a whole
    piece = made_up.piece(patch.instance).piece
    name = "shoulder" if view is View.FRONT else "shoulder.right"
    path = piece.edge(name).path
    legs = sorted(n.at for n in piece.notches if n.edge == name and n.name.startswith("shoulder-dart"))
    ends = patch.place(places_of([path.at(s) for s in (0.0, legs[0], legs[-1], path.length)]))
    assert abs(ends[1, 1] - ends[2, 1]) < 0.5
    slopes = [math.atan2(abs(b[1] - a[1]), abs(b[0] - a[0])) for a, b in (ends[:2], ends[2:])]
    assert abs(slopes[0] - slopes[1]) < math.radians(4)


@pytest.mark.parametrize("body", ["small", "middle", "large"])
@pytest.mark.parametrize("name", ["trousers", "trousers-pleated"])
@pytest.mark.parametrize("view", [View.FRONT, View.BACK])
def test_trousers_end_at_the_centre_and_narrow_from_hip_to_knee(name: str, body: str, view: View) -> None:
    """What reaches between the legs is out of sight; the outline falls from the hip to the knee without a dent."""
    made_up = made_up_of(next(cut for cut in CUTS if cut.name == name).draft(body_of(body)))
    piece = next(p for p in made_up.pieces if p.name == f"trousers-{view.value}.right").piece
    leg = next(p for layer in figure(made_up, view) for p in layer.patches if p.instance == f"{piece.name}.right")
    out = -1.0 if view is View.FRONT else 1.0
    places = shapely.get_coordinates(leg.shape) * np.array([out, 1.0])
    assert places[:, 0].min() > -0.5
    rise = leg.place(places_of([piece.grain_mark]))[0, 1] - piece.grain_mark.y
    side = piece.edge("side").path
    hip, knee = (side.at(piece.stop("side", stop)).y + rise for stop in ("hip", "knee"))
    widths: list[float] = []
    for level in np.arange(hip - 40.0, knee, -8.0):
        cut = shapely.intersection(leg.shape, shapely.linestrings([(-900.0, level), (900.0, level)]))
        widths.append(max(out * float(x) for x, _ in shapely.get_coordinates(cut)))
    assert max(np.diff(widths)) < 0.3


def test_a_plain_cloth_covers_every_patch() -> None:
    """Where nobody chose how the bars lie; also where a patch falls into parts, its edge folding over itself."""
    cut = next(cut for cut in CUTS if cut.name == "waist-seam-padded")
    made_up = made_up_of(cut.draft(body_of("large")))
    pen = Recorder()
    draw_garment(pen, made_up, Match((), (), (), (), 0.0, (), ()), [UNEVEN], View.FRONT, scale=1.0)
    patches = [patch for layer in figure(made_up, View.FRONT) for patch in layer.patches]
    assert any(len(shapely.get_parts(patch.shape)) > 1 for patch in patches)
    filled = sum(shapely.polygons(ring).area for rings, colour in pen.areas for ring in rings if len(ring) > 60)
    assert filled > 0.95 * sum(patch.shape.area for patch in patches)


@pytest.mark.parametrize(("view", "name"), [(View.FRONT, "front"), (View.BACK, "back")])
def test_a_raglan_sleeve_meets_the_body_round_the_armhole(view: View, name: str) -> None:
    """Places sewn together are seen in one place, as far as the body's edge is on this side: nothing shows between."""
    cut = next(cut for cut in CUTS if cut.name == "sleeve-raglan")
    made_up = made_up_of(cut.draft(body_of("middle")))
    half = Half(made_up, Hand.RIGHT)
    body, pairs = jacket_body(half), half.pairs(f"sleeve-{name}")
    assert body is not None
    assert pairs is not None
    seen = body.is_on_this_side(0 if view is View.FRONT else len(body.panels) - 1, pairs[0], view)
    patches = {patch.instance: patch for layer in figure(made_up, view) for patch in layer.patches}
    on_body, on_sleeve = (
        patches[f"{piece}.right"].place(line[seen]) for piece, line in zip((name, f"{name}-sleeve"), pairs, strict=True)
    )
    assert len(on_body) > 8
    assert np.abs(on_body - on_sleeve).max() < 1.0


@pytest.mark.parametrize("view", [View.BACK, View.LEFT])
@pytest.mark.parametrize("name", ["trousers", "trousers-pleated"])
def test_trousers_are_level_at_the_waist_behind_and_keep_their_heights_at_the_fork(name: str, view: View) -> None:
    """The seat takes up what the centre back is cut higher: sewn to its band, the waist lies at one height."""
    made_up = made_up_of(next(cut for cut in CUTS if cut.name == name).draft(body_of("middle")))
    patches = {patch.instance: patch for layer in figure(made_up, view) for patch in layer.patches}
    back = patches["trousers-back.left"]
    sewn = [s for s in made_up.sewn if s.a.piece == back.instance and s.name.startswith("trousers-waist-back")]
    waist = places_of([at for s in sewn for at, _ in s.pairs])
    assert len(waist) > 20
    assert np.ptp(waist[:, 1]) > 15.0
    assert np.abs(back.place(waist)[:, 1]).max() < 0.5
    inseam = made_up.piece(back.instance).piece.edge("inseam").path
    fork = places_of([max((inseam.start, inseam.end), key=lambda p: p.y)])
    down = fork + np.array([[0.0, -200.0]])
    assert back.place(fork)[0, 1] - back.place(down)[0, 1] == pytest.approx(200.0, abs=3.0)


def test_the_front_keeps_every_height() -> None:
    made_up = suit()
    patch = next(p for layer in figure(made_up, View.FRONT) for p in layer.patches if p.instance == "front.left")
    points = places_of([Point(40.0, y) for y in range(-200, 300, 20)])
    heights = patch.place(points)[:, 1]
    assert np.diff(heights) == pytest.approx(20.0, abs=1e-6)


def test_the_waist_is_as_wide_as_an_ellipse_of_its_girth() -> None:
    """Half width against Ramanujan's second approximation of an ellipse's perimeter (1914)."""
    body = jacket_body(Half(suit(), Hand.RIGHT))
    assert body is not None
    level = np.array([0.0])
    girth = 2 * float(body.girth(level)[0])
    made_up = suit()
    waist = [
        abs(float(x))
        for layer in figure(made_up, View.FRONT)
        for patch in layer.patches
        if patch.instance in ("front.right", "side.right")
        for x, y in shapely.get_coordinates(patch.shape)
        if abs(y) < 4.0
    ]
    width = max(waist)
    h = ((1 - DEPTH) / (1 + DEPTH)) ** 2
    ramanujan = math.pi * (1 + DEPTH) * (1 + 3 * h / (10 + math.sqrt(4 - 3 * h)))
    assert width == pytest.approx(girth / ramanujan, rel=0.02)


@pytest.mark.parametrize("view", list(View))
def test_the_picture_is_compact_and_the_same_twice(view: View) -> None:
    made_up = suit()
    match = scattered(made_up)

    def drawn() -> str:
        drawing = Recording()
        box = draw_garment(drawing, made_up, match, [UNEVEN], view, scale=SCALE)
        pen = SvgPen(box, title="The suit", description="where its bars fall")
        drawing.draw(pen)
        return pen.finish()

    first = drawn()
    assert first == drawn()
    assert len(first) < 750_000  # both views together stay under 1.5 MB
    assert "nan" not in first


@pytest.mark.parametrize("view", list(View))
def test_all_stays_inside_the_box(view: View) -> None:
    made_up = suit()
    pen = Recorder()
    left, bottom, right, top = draw_garment(pen, made_up, scattered(made_up), [UNEVEN], view, scale=SCALE)
    places = [corner for rings, _ in pen.areas for ring in rings for corner in ring]
    assert min(x for x, _ in places) >= left
    assert max(x for x, _ in places) <= right
    assert min(y for _, y in places) >= bottom
    assert max(y for _, y in places) <= top
    if view in (View.FRONT, View.BACK):
        assert right == pytest.approx(-left, abs=3.0)  # the wearer stands straight


@pytest.mark.parametrize("view", list(View))
def test_a_skirt_alone_shows_its_waistband_on_its_waist(view: View) -> None:
    whole = suit()
    names = {piece.name for piece in whole.pieces if piece.garment == "skirt"}
    skirt = replace(
        whole,
        pieces=tuple(piece for piece in whole.pieces if piece.name in names),
        sewn=tuple(sewn for sewn in whole.sewn if {sewn.a.piece, sewn.b.piece} <= names),
    )
    layers = figure(skirt, view)
    assert [layer.name for layer in layers] == ["skirt", "waistband"]
    skirt_area, band = (shapely.union_all([p.shape for p in layer.patches]) for layer in layers)
    assert band.bounds[3] > skirt_area.bounds[3]  # it stands above the skirt,
    assert shapely.distance(band, skirt_area) < 1.0  # on its waist,
    assert shapely.area(shapely.intersection(band, skirt_area)) < 0.02 * shapely.area(band)  # not over it,
    assert band.bounds[2] - band.bounds[0] == pytest.approx(_waist_width(skirt_area, view), abs=8.0)  # and as wide


@pytest.mark.parametrize("view", [View.FRONT, View.BACK])
def test_a_pleated_skirt_keeps_its_silhouette_and_its_folds_in_it(view: View) -> None:
    """By geometry: pleats taken out of the girth leave a closed outline, for no fold shows beyond it, and no step."""
    layer = figure(pleated_skirt(), view)[0]
    outline = shapely.union_all([shapely.buffer(patch.shape, 1.0) for patch in layer.patches])
    assert layer.lines
    for line in layer.lines:
        assert shapely.covers(outline, shapely.linestrings(line))
    low, high = outline.bounds[1], outline.bounds[3] - 25.0  # the waist of the back isn't level
    slices = [shapely.clip_by_rect(outline, -900, y, 900, y + 1.0).bounds for y in np.arange(low + 5, high, 5.0)]
    widths = [right - left for left, _, right, _ in slices]
    assert max(abs(b - a) for a, b in itertools.pairwise(widths)) < 10.0  # 45° on either side


def _waist_width(skirt: BaseGeometry, view: View) -> float:
    """How wide the skirt's upper end is seen; from the side its waist rises to the side seam."""
    rises = 4.0 if view in (View.FRONT, View.BACK) else 22.0
    top = skirt.bounds[3]
    left, _, right, _ = shapely.clip_by_rect(skirt, -500, top - rises, 500, top + 1.0).bounds
    return right - left


@pytest.mark.parametrize("body", ["small", "middle", "large"])
@pytest.mark.parametrize("name", ["shawl", "shawl-double", "stand-collar", "stand-collar-double", "v-neck"])
def test_the_inside_of_a_neck_shows_no_lining_above_its_collar(name: str, body: str) -> None:
    """From the front a collar stands up behind the opening; the lining lies below it and never beside the neck."""
    layers = figure(made_up_of(next(cut for cut in CUTS if cut.name == name).draft(body_of(body))), View.FRONT)
    inside = next(layer for layer in layers if layer.name == "inside")
    cloth = shapely.union_all([shapely.buffer(patch.shape, 0.5) for layer in layers for patch in layer.patches])
    lining = shapely.union_all([Polygon(ring) for ring in inside.grounds])
    shown = shapely.difference(lining, cloth)
    assert shown.area > 500.0
    if name == "v-neck":
        assert not inside.patches
        return
    stands = shapely.union_all([shapely.buffer(patch.shape, 0.5) for patch in inside.patches])
    assert len(inside.patches) == 2
    assert shown.bounds[3] < stands.bounds[3] - 10.0
    assert max(abs(shown.bounds[0]), shown.bounds[2]) < stands.bounds[2]
