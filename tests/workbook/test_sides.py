"""The garment from the left and the right: what one half shows, drawn for every cut."""

from __future__ import annotations

import math
from functools import cache

import numpy as np
import pytest
import shapely
from shapely.geometry.base import BaseGeometry

from settwright.body.estimate import complete
from settwright.commission.design import JacketDesign, SkirtDesign, TrousersDesign
from settwright.makeup.model import Hand, MadeUp
from settwright.pattern.asymmetry import Half as Uneven
from settwright.pattern.asymmetry import in_halves, with_own_hips
from settwright.pattern.drafts.jacket import draft_jacket
from settwright.pattern.drafts.skirt import draft_skirt
from settwright.pattern.drafts.trousers import draft_trousers
from settwright.workbook.drawing.figure.body import jacket_body
from settwright.workbook.drawing.figure.figure import figure
from settwright.workbook.drawing.figure.form import DEPTH, Half, Layer, Side, View, places_of
from tests.makeup.handwork.every_cut import NAMES, SUIT, made
from tests.workbook.worn import made_up_of

SIDES: tuple[Side, ...] = (View.LEFT, View.RIGHT)
GAP = 30.0  # mm² of paper: no hole in the garment is larger


def shapes(layers: tuple[Layer, ...]) -> list[BaseGeometry]:
    return [patch.shape for layer in layers for patch in layer.patches]


@pytest.mark.parametrize("side", SIDES)
@pytest.mark.parametrize("name", NAMES)
def test_a_side_is_drawn_of_its_own_half_alone(name: str, side: Side) -> None:
    made_up = made(name)
    layers = figure(made_up, side)
    hands = {made_up.piece(patch.instance).hand for layer in layers for patch in layer.patches}
    assert hands <= {Hand(side.value), Hand.WHOLE}
    for shape in shapes(layers):
        assert shape.is_valid
        assert shape.area > 1.0
        assert np.isfinite(shapely.get_coordinates(shape)).all()
    seen = shapely.union_all([shapely.buffer(shape, 0.5) for shape in shapes(layers)])
    parts = shapely.get_parts(seen)
    assert len(parts) == 1  # nothing floats,
    holes = [shapely.polygons(ring) for part in parts for ring in part.interiors]
    assert all(hole.area < GAP for hole in holes)  # and no paper shows within
    left, bottom, right, top = seen.bounds
    assert top - bottom > right - left > 200.0  # a person's depth, and she stands


@pytest.mark.parametrize("name", NAMES)
def test_a_straight_figure_s_sides_mirror_each_other(name: str) -> None:
    left, right = (
        shapely.union_all([shapely.buffer(shape, 0.3) for shape in shapes(figure(made(name), side))]) for side in SIDES
    )
    mirrored = shapely.transform(right, lambda places: places * np.array([-1.0, 1.0]))
    assert shapely.symmetric_difference(left, mirrored).area < 0.002 * left.area + 600.0  # lap and fly on one side


def test_the_front_points_the_way_that_the_wearer_looks() -> None:
    """Seen from her right she looks to the looker's right."""
    for side, way in ((View.RIGHT, 1.0), (View.LEFT, -1.0)):
        patches = {patch.instance: patch for layer in figure(made(SUIT), side) for patch in layer.patches}
        front, back = (patches[f"{name}.{side.value}"].shape.centroid.x for name in ("front", "back"))
        assert way * front > 40.0
        assert way * back < -40.0


@pytest.mark.parametrize("level", [0.0, 90.0, -180.0])
def test_the_body_is_as_deep_as_an_ellipse_of_its_girth(level: float) -> None:
    """Whole depth against Ramanujan's second approximation of an ellipse's perimeter (1914)."""
    body = jacket_body(Half(made("v-neck"), Hand.RIGHT))
    assert body is not None
    girth = 2 * float(body.girth(np.array([level]))[0])
    whole = shapely.union_all([shapely.buffer(shape, 0.3) for shape in shapes(figure(made("v-neck"), View.RIGHT))])
    cut = shapely.intersection(whole, shapely.linestrings([(-900.0, level), (900.0, level)]))
    h = ((1 - DEPTH) / (1 + DEPTH)) ** 2
    ramanujan = math.pi * (1 + DEPTH) * (1 + 3 * h / (10 + math.sqrt(4 - 3 * h)))
    assert cut.length == pytest.approx(DEPTH * girth * 2 / ramanujan, rel=0.02)


SEAMS = [
    ("suit", "side-front", 0.5),
    ("suit", "side-back", 0.5),
    ("suit", "shoulder", 1.0),
    ("suit", "skirt-side", 1.0),
    ("darted", "shoulder", 1.0),
    ("princess-shoulder", "princess-front", 0.5),
    ("princess-shoulder", "princess-back", 2.0),
    ("princess-shoulder", "side", 0.5),
    ("princess-shoulder", "side-shoulder", 2.0),
    ("sleeve-raglan", "overarm", 1.0),
    ("sleeve-raglan", "raglan-front", 1.0),
    ("sleeve-raglan", "raglan-back", 1.0),
    ("sleeve-kimono", "side", 2.5),
    ("waist-seam", "waist-front", 1.0),
    ("trousers", "trousers-side", 2.5),
]


@pytest.mark.parametrize("side", SIDES)
@pytest.mark.parametrize(("name", "seam", "gap"), SEAMS)
def test_matched_points_of_a_seam_meet(name: str, seam: str, gap: float, side: Side) -> None:
    """Where both sides of a seam lie within their patches; seams eased by hand differ in height by what is eased.
    Girths are told at 160 heights, so at a corner, where a dart or a seam ends, up to 2.5 mm are left.
    """
    made_up = made(name)
    sewn = next(s for s in made_up.sewn if s.name in (seam, f"{seam}.{side.value}"))
    patches = [(patch.instance, patch) for layer in figure(made_up, side) for patch in layer.patches]
    seen: list[np.ndarray] = []
    within: list[np.ndarray] = []
    for k, piece in ((0, sewn.a.piece), (1, sewn.b.piece)):
        places = places_of([pair[k] for pair in sewn.pairs])
        patch = max((p for instance, p in patches if instance == piece), key=lambda p: p.region.area)
        seen.append(patch.place(places))
        within.append(np.asarray(shapely.dwithin(patch.region, shapely.points(places), 0.5)))
    both = within[0] & within[1]
    assert both.sum() >= 4
    apart = np.abs(seen[0] - seen[1])[both]
    assert apart[:, 0].max() <= gap
    assert apart[:, 1].max() <= max(gap, abs(sewn.ease) + 1.0)


@pytest.mark.parametrize("name", ["suit", "sleeve-three-quarter", "sleeve-one-piece", "sleeve-raglan", "sleeve-kimono"])
@pytest.mark.parametrize("side", SIDES)
def test_the_sleeve_hangs_before_the_body_and_covers_the_armhole(name: str, side: Side) -> None:
    layers = figure(made(name), side)
    order = [layer.name.split(".")[0] for layer in layers]
    assert order.index("sleeve") > order.index("body")
    sleeve = shapely.union_all(
        [patch.shape for layer in layers if layer.name.startswith("sleeve") for patch in layer.patches]
    )
    body = shapely.union_all(
        [patch.shape for layer in layers if layer.name.startswith("body") for patch in layer.patches]
    )
    left, bottom, right, top = sleeve.bounds
    assert bottom < 100.0 < top  # from over the bust to below the waist, elbow at least
    assert body.bounds[0] < left < right < body.bounds[2]  # within the body's depth


CLIENT = {"height": 1680.0, "bust_girth": 920.0, "waist_girth": 740.0, "hip_girth": 980.0}


@cache
def uneven(garment: str) -> MadeUp:
    """An invented client whose left shoulder is 14 mm lower and whose left hip is 20 mm fuller."""
    body = complete(CLIENT)
    draft = {
        "jacket": lambda: in_halves(*(draft_jacket(body, JacketDesign(), 1.0, drop) for drop in (0.0, 14.0))),
        "skirt": lambda: draft_skirt(body, SkirtDesign(), None),
        "trousers": lambda: draft_trousers(body, TrousersDesign()),
    }[garment]()
    halves = Uneven(), Uneven(14.0, 20.0)
    draft = with_own_hips(draft, *halves, body["waist_to_hip"])
    assert draft.left
    return made_up_of(draft)


@pytest.mark.parametrize("garment", ["jacket", "skirt", "trousers"])
def test_each_side_of_an_uneven_figure_is_drawn_in_its_own_shape(garment: str) -> None:
    """The low shoulder is seen lower, the full hip deeper; the even half stays."""
    made_up = uneven(garment)
    left, right = (
        shapely.union_all([shapely.buffer(shape, 0.5) for shape in shapes(figure(made_up, side))]) for side in SIDES
    )
    for side in (left, right):
        assert len(shapely.get_parts(side)) == 1
        assert all(shapely.polygons(ring).area < GAP for ring in shapely.get_parts(side)[0].interiors)
    if garment == "jacket":
        tops = [
            max(patch.shape.bounds[3] for layer in figure(made_up, side) if layer.name.startswith("sleeve")
                for patch in layer.patches)
            for side in SIDES
        ]  # fmt: skip
        assert 6.0 < tops[1] - tops[0] < 20.0
    level = shapely.linestrings([(-900.0, -180.0), (900.0, -180.0)])
    deeper = shapely.intersection(left, level).length - shapely.intersection(right, level).length
    assert deeper > 5.0


@pytest.mark.parametrize("view", list(View))
def test_a_skirt_hangs_at_its_waist_and_stands_out_nowhere_over_the_hem(view: View) -> None:
    """Whether the jacket has a waist seam or not; what is worn under it isn't drawn through it."""
    body = complete(CLIENT)
    bottoms: list[float] = []
    for design in (JacketDesign(), JacketDesign(waist_seam=True)):
        skirt = draft_skirt(body, SkirtDesign(), design.length_below_waist)
        made_up = made_up_of(draft_jacket(body, design, 1.0), skirt)
        layers = figure(made_up, view)
        below = shapely.union_all([patch.shape for layer in layers if layer.name == "skirt" for patch in layer.patches])
        jacket = shapely.union_all(
            [patch.shape for layer in layers if layer.name != "skirt" for patch in layer.patches]
        )
        _, bottom, _, top = below.bounds
        bottoms.append(bottom)
        assert top < -design.length_below_waist + 3.0
        assert shapely.intersects(jacket, shapely.linestrings([(-400.0, top), (400.0, top)]))
    assert bottoms[0] == pytest.approx(bottoms[1], abs=2.0)
