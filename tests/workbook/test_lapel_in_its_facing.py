"""A turned lapel shows its facing's cloth: where the facing is a shaped strip, as its bars come to lie."""

from __future__ import annotations

import random
from functools import cache

import numpy as np
import pytest
import shapely

from settwright.body.estimate import complete
from settwright.commission.design import FacingGrain, FrontStyle, JacketDesign
from settwright.geometry import Point
from settwright.makeup.model import Hand, MadeUp
from settwright.pattern.asymmetry import in_halves
from settwright.pattern.drafts.jacket import draft_jacket
from settwright.workbook.drawing.figure.body import jacket_body
from settwright.workbook.drawing.figure.figure import figure
from settwright.workbook.drawing.figure.form import Half, View, places_of
from settwright.workbook.drawing.figure.neck import facing_on_front
from settwright.workbook.drawing.garment import draw_garment
from settwright.workbook.drawing.lying import as_cut, lying
from tests.workbook.test_drawing_garment import SCALE, expected_colour, samples
from tests.workbook.worn import UNEVEN, Recorder, made_up_of, scattered

STRIPS = (FacingGrain.ALONG, FacingGrain.ACROSS)
STYLES = (FrontStyle.NOTCHED, FrontStyle.PEAKED, FrontStyle.SHAWL)


@cache
def jacket(grain: FacingGrain, style: FrontStyle, drop: float = 0.0) -> MadeUp:
    body = complete({"bust_girth": 920.0, "waist_girth": 740.0, "hip_girth": 980.0, "height": 1680.0})
    right, left = (draft_jacket(body, JacketDesign(front_style=style), 1.0, lower) for lower in (0.0, drop))
    return made_up_of(in_halves(right, left), facing_grain=grain)


@pytest.mark.parametrize("style", STYLES)
def test_many_places_lie_as_the_strip_lays_each(style: FrontStyle) -> None:
    """Against the strip's own map, place by place; and back."""
    (shaped,) = jacket(FacingGrain.ALONG, style).shaped
    strip, mark = shaped.shaping.strip, shaped.cut.grain_mark
    chance = random.Random(5)
    told = [(chance.uniform(-20.0, strip.length + 20.0), chance.uniform(0.0, 100.0)) for _ in range(300)]
    laid = lying(shaped)(places_of([Point(depth - mark.x, -along - mark.y) for along, depth in told]))
    for (along, depth), at in zip(told, laid.tolist(), strict=True):
        assert (strip.at(along, depth) - Point(*at)).length < 0.02
    inner = shapely.buffer(shapely.Polygon([(p.x, p.y) for p in shaped.finished.outline.points(0.5)]), -3.0)
    left, bottom, right, top = inner.bounds
    points = [Point(chance.uniform(left, right), chance.uniform(bottom, top)) for _ in range(200)]
    within = places_of([p for p in points if shapely.contains_xy(inner, p.x, p.y)])
    assert np.abs(lying(shaped)(as_cut(shaped)(within)) - within).max() < 0.02


@pytest.mark.parametrize("drop", [0.0, 14.0])
@pytest.mark.parametrize("hand", list(Hand)[:2])
@pytest.mark.parametrize("style", STYLES)
def test_the_strip_s_straight_edge_lies_on_the_lapel_s_edge(style: FrontStyle, hand: Hand, drop: float) -> None:
    """Bars along the edge: the strip is cut straight, so the lapel's edge is everywhere one thread."""
    made_up = jacket(FacingGrain.ALONG, style, drop)
    half = Half(made_up, hand)
    body = jacket_body(half)
    assert body is not None
    front = body.panels[0].piece
    faced = facing_on_front(half, front)
    shaped = made_up.shaped_as(faced.piece) if faced is not None else None
    assert faced is not None
    assert shaped is not None
    edge = half.edge(front, "lapel")
    depth = faced.back(edge)[:, 0] + shaped.cut.grain_mark.x
    assert np.abs(depth).max() < 1.5  # the facing is cut larger than the front by the turn of the cloth
    assert np.ptp(depth) < (3.0 if style is FrontStyle.SHAWL else 1.0)


@pytest.mark.parametrize(
    ("view", "style"), [*((View.FRONT, style) for style in STYLES), (View.RIGHT, STYLES[0]), (View.LEFT, STYLES[0])]
)
@pytest.mark.parametrize("grain", STRIPS)
def test_the_lapel_s_bars_are_drawn_where_the_strip_takes_them(
    grain: FacingGrain, style: FrontStyle, view: View
) -> None:
    """From the side a peaked lapel is seen edge on, a notched one a little."""
    made_up = jacket(grain, style)
    match = scattered(made_up)
    phases = {phase.piece: phase for phase in match.phases}
    pen = Recorder()
    draw_garment(pen, made_up, match, [UNEVEN], view, scale=SCALE, button_diameter=0.0)
    seen = 0
    for patch, p, (x, y) in samples(figure(made_up, view), 40):
        if not patch.instance.startswith("front-facing"):
            continue
        wanted, nearest = expected_colour(UNEVEN, made_up.piece(patch.instance), phases[patch.instance], p)
        if nearest < 1.0:
            continue
        assert pen.colour_at(x * SCALE, y * SCALE) == wanted, (patch.instance, p)
        seen += 1
    assert seen >= (20 if view is View.FRONT else 6)
