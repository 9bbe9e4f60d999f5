"""What the page is told agrees with the bars' own frames and with the drawings that are printed."""

from __future__ import annotations

import numpy as np
import pytest

from settwright.bars.frames import place_under
from settwright.commission.reading import read_commission
from settwright.geometry import Point
from settwright.planner.derive import derive_bars
from settwright.web.commissions import example
from settwright.web.picture import picture_data, pieces_data, sampled
from settwright.web.report import differences_data, report_data
from settwright.workbook.drawing.figure.figure import figure
from settwright.workbook.drawing.figure.form import View
from settwright.workbook.drawing.plaid import colour_at


@pytest.fixture(scope="module")
def plan():
    return derive_bars(read_commission(example("plaid-suit"), "suit")).plan


@pytest.fixture(scope="module")
def report(plan):
    return report_data("key", plan)


def tile_colour(tile, x, y):
    """Returns the colour that the browser sees at a place of the sett: the last rectangle drawn there."""
    x, y = x % tile["width"], y % tile["height"]
    return next(c for left, low, w, h, c in reversed(tile["rects"]) if left <= x < left + w and low <= y < low + h)


def test_the_tile_shows_what_the_printed_drawing_shows(plan, report):
    cloth, tile = plan.commission.cloth("shell"), report["cloths"]["shell"]["tile"]
    for name in ("front.right", "top-collar", "upper-sleeve.left"):
        piece, phase = plan.made_up.piece(name), plan.phase(name)
        for at in (Point(3.3, 7.7), Point(-41.9, 60.1), Point(22.4, -88.8)):
            place = place_under(phase, at, piece.grain_turn)
            assert tile_colour(tile, place.x, place.y) == colour_at(cloth, phase, piece.grain_turn, at)


def test_a_grid_tells_where_cloth_is_seen(plan):
    told = picture_data(plan.made_up, plan.match, View.FRONT, 22.0)
    layers = figure(plan.made_up, View.FRONT)
    pairs = [
        (patch, seen)
        for layer, drawn in zip(layers, told["layers"], strict=True)
        for patch, seen in zip(layer.patches, drawn["patches"], strict=True)
    ]
    assert len(pairs) > 10
    for patch, seen in pairs:
        grid, phase = seen["grid"], plan.phase(patch.instance)
        piece = plan.made_up.piece(patch.instance)
        inside = patch.region.representative_point()
        under = place_under(phase, Point(inside.x, inside.y), piece.grain_turn)
        i, j = (under.x - phase.u - grid["x0"]) / grid["step"], (under.y - phase.v - grid["y0"]) / grid["step"]
        nodes = np.array([np.nan if v is None else v for v in grid["places"]], dtype=float).reshape(
            grid["ny"], grid["nx"], 2
        )
        corner, (s, t) = nodes[int(j) : int(j) + 2, int(i) : int(i) + 2], (i % 1, j % 1)
        at = (corner[0, 0] * (1 - s) + corner[0, 1] * s) * (1 - t) + (corner[1, 0] * (1 - s) + corner[1, 1] * s) * t
        expected = patch.place(np.array([[inside.x, inside.y]]))[0] * (1, -1)
        assert at == pytest.approx(expected, abs=2.5), patch.instance  # mm of the garment


def test_a_flat_piece_lies_on_its_bars(plan, report):
    pieces = {piece["name"]: piece for piece in pieces_data(plan.made_up, plan.match, ())}
    for name in ("front.left", "under-collar.right"):
        a, b, c, d, e, f = pieces[name]["matrix"]
        phase, piece, at = plan.phase(name), plan.made_up.piece(name), Point(12.5, -30.0)
        place = place_under(phase, at, piece.grain_turn)
        x, y = place.x - phase.u, place.y - phase.v
        assert (a * x + c * y + e, b * x + d * y + f) == pytest.approx((at.x, -at.y), abs=0.01)


def test_what_is_held_is_said_where_it_is(plan, report):
    warp = plan.commission.cloth("shell").warp
    told = report["pieces"]["back.right"]["hold"]["upright"]
    place = report["phases"]["back.right"][0] + told["offset"]
    piece = plan.made_up.piece("back.right")
    edge = piece.piece.edge("centre-back").path
    under = place_under(plan.phase("back.right"), edge.at(edge.length / 2), piece.grain_turn)
    assert warp.bar_at(place).name == warp.bar_at(under.x).name


def test_level_ties_hold_in_the_plan(plan, report):
    ties = report["pieces"]["front.right"]["ties"]["level"]
    assert ties["front.left"] == 1
    assert report["pieces"]["front.right"]["ties"]["upright"].get("side.left", 1) == 1  # uneven: nothing mirrors


def test_seams_are_told_as_the_bars_found_them(plan, report):
    drifts = {drift.join: drift for drift in plan.match.drifts}
    assert len(report["seams"]) > 20
    for seam in report["seams"]:
        drift = drifts[seam["join"]]
        assert seam["level"] == (None if drift.level is None else pytest.approx(drift.worst_level, abs=0.006))
        assert seam["summary"] == drift.summary


@pytest.mark.parametrize("count", [1, 2, 15, 16, 17, 300])
def test_samples_told_begin_and_end_with_the_seam(count):
    chosen = sampled(count)
    assert (chosen[0], chosen[-1]) == (0, count - 1)
    assert chosen == sorted(set(chosen))
    assert len(chosen) <= 16


def test_a_plan_differs_in_nothing_from_itself(plan):
    assert all(row["same"] for row in differences_data(plan, plan))


def test_a_facing_along_the_edge_differs_in_shaping(plan):
    text = example("plaid-suit").replace(
        'front_edge = "separate"', 'facing_grain = "along the edge"\nfront_edge = "separate"'
    )
    tried = derive_bars(read_commission(text, "suit")).plan
    row = next(row for row in differences_data(plan, tried) if row["what"] == "shaping")
    assert (row["taken"], row["same"]) == ("none", False)
    assert "shrink" in row["tried"] or "stretch" in row["tried"]
