"""The trousers on the figure: each half's front and back round the body, the legs hanging plumb beneath."""

from __future__ import annotations

import numpy as np
import shapely

from settwright.makeup.model import CutPiece
from settwright.workbook.drawing.figure.body import Body, Panel, registered
from settwright.workbook.drawing.figure.form import (
    Floats,
    Half,
    Patch,
    Profile,
    View,
    mirrored,
    receding,
    smooth,
    stacked,
)
from settwright.workbook.drawing.plaid import Places

_INTO_LEG = 120.0  # below the fork, within which the trunk gives way to the legs


def trousers_body(half: Half) -> Body | None:
    """Returns a half's trousers as panels between side and centre, or None; the waist lies at the figure's waist."""
    front, back = half.find("trousers-front"), half.find("trousers-back")
    if front is None or back is None:
        return None
    crotch, seat = half.edge(front, "crotch"), half.edge(back, "seat")
    side = half.edge(front, "side")
    rise = -float(side[:, 1].max())
    fork = float(crotch[:, 1].min())
    upper = seat[seat[:, 1] > fork + 60.0]
    front_panel = Panel(half, front, Profile.along(side), _upright(float(crotch[np.argmax(crotch[:, 1]), 0])), rise)
    back_rise, _ = registered(half, "trousers-side", rise)
    back_panel = Panel(
        half,
        back,
        Profile.along(upper if len(upper) > 1 else seat),
        Profile.along(half.edge(back, "side")),
        back_rise,
    )
    high = 0.0
    low = float(half.edge(front, "hem")[:, 1].max()) + rise
    return Body(half, (front_panel, back_panel), low, high, high + 100.0, high + 200.0)


def _upright(x: float) -> Profile:
    return Profile(np.array([0.0]), np.array([x]))


def leg_patch(body: Body, index: int, view: View) -> Patch | None:
    """Returns a half's front or back as it is seen: round the body down to the fork, below it a leg hanging plumb."""
    half, panel = body.half, body.panels[index]
    if (view is View.FRONT) != (index == 0):
        return None
    piece = panel.piece
    rise = panel.rise
    fork = float(half.edge(piece, "inseam")[:, 1].max())
    crease = float(half.edge(piece, "crease")[0, 0])
    front, back = (body.panels[0].piece, body.panels[1].piece)
    girth = _girth(half, front) + np.array([[0.0, rise]]), _girth(half, back) + np.array([[0.0, body.panels[1].rise]])
    middle = body.place(index, np.array([[crease, fork + 60.0]]), view)[0, 0]

    def place(places: Places) -> Places:
        upper = body.place(index, places, view)
        y = places[:, 1] + rise
        radius = sum(np.interp(y, widths[:, 1], widths[:, 0]) for widths in girth) / (2 * np.pi)
        out = (crease - places[:, 0]) if view is View.FRONT else (places[:, 0] - crease)
        leg = middle + radius * _sine(out / radius)
        part = smooth((fork + rise - y) / _INTO_LEG)
        return stacked(upper[:, 0] * (1 - part) + leg * part, y)

    left, low, right, high = panel.region.bounds
    trunk = shapely.box(left, fork, float(panel.right(np.array([high]))[0]) - 1.0, high + 10.0)
    if view is View.BACK:
        y = np.linspace(fork, high + 10.0, 60)
        edge = np.column_stack((panel.left(y) + 1.0, y))
        trunk = shapely.Polygon(np.concatenate((edge, [[right, high + 10.0], [right, fork]])))
    region = shapely.intersection(panel.region, shapely.union(trunk, shapely.box(left, low, right, fork)))
    return Patch(piece.name, mirrored(region, half.sign), half.seen(view, place))


def _girth(half: Half, piece: CutPiece) -> Places:
    """Returns a leg's flat width at heights of its piece, as (width, height), from the hem upwards."""
    side, inseam = half.edge(piece, "side"), half.edge(piece, "inseam")
    heights = np.linspace(max(side[:, 1].min(), inseam[:, 1].min()), float(inseam[:, 1].max()), 40)
    width = np.abs(Profile.along(side)(heights) - Profile.along(inseam)(heights))
    return stacked(width, heights)


def _sine(angle: Floats) -> Floats:
    """Returns the sine of an angle held within a quarter turn either way."""
    held = np.clip(np.abs(angle), 0.0, np.pi / 2)
    return np.sign(angle) * np.sqrt(np.maximum(1.0 - np.square(1.0 - receding(held)), 0.0))
