"""The trousers on the figure: each half's front and back round the body, the legs hanging plumb beneath."""

from __future__ import annotations

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from settwright.makeup.model import CutPiece
from settwright.workbook.drawing.figure.body import Body, registered
from settwright.workbook.drawing.figure.form import (
    FAR,
    Face,
    Half,
    Patch,
    Profile,
    Side,
    View,
    mirrored,
    sine,
    smooth,
    stacked,
)
from settwright.workbook.drawing.figure.panel import Panel
from settwright.workbook.drawing.plaid import Places

_PRESSED, _TURNED = 0.92, 1.1  # seen from the side a pressed leg is this part of its flat width, its side rounded
_INTO_SIDE = 300.0  # the same seen from the side
_SEAT = 0.8  # of the way from the waist to the fork, above which the seat takes up what the centre back is cut higher;
# from memory, no source
_SLIT = 0.4  # both halves end so far from the centre, where they are drawn as one
_INTO_LEG = 120.0  # below the fork, within which the trunk gives way to the legs
_OVER_FORK = 120.0  # at the outer silhouette that begins so far above the fork, and ends as far lower


def trousers_body(half: Half) -> Body | None:
    """Returns a half's trousers as panels between side and centre, or None; the waist lies at the figure's waist,
    behind level with it.
    """
    front, back = half.find("trousers-front"), half.find("trousers-back")
    if front is None or back is None:
        return None
    crotch, seat = half.edge(front, "crotch"), half.edge(back, "seat")
    side = half.edge(front, "side")
    rise = -float(side[:, 1].max())
    fork = float(crotch[:, 1].min())
    upper = seat[seat[:, 1] > fork + 60.0]
    front_panel = Panel(half, front, Profile.along(side), _upright(float(crotch[np.argmax(crotch[:, 1]), 0])), rise)
    back_rise, lift = registered(half, "trousers-side", rise)
    back_panel = Panel(
        half,
        back,
        Profile.along(upper if len(upper) > 1 else seat),
        Profile.along(half.edge(back, "side")),
        back_rise,
    )
    high = 0.0
    low = float(half.edge(front, "hem")[:, 1].max()) + rise
    body = Body(half, (front_panel, back_panel), low, high, high + 100.0, high + 200.0, (None, lift))
    return body.levelled(1, "waist", (fork + rise) * _SEAT)


def _upright(x: float) -> Profile:
    return Profile(np.array([0.0]), np.array([x]))


def leg_patch(body: Body, index: int, view: View) -> Patch | None:
    """Returns a half's front or back as it is seen: round the body down to the fork, below it a leg hanging plumb."""
    match view:
        case View.FRONT | View.BACK:
            return _from_before(body, index, view) if (view is View.FRONT) == (index == 0) else None
        case View.LEFT | View.RIGHT:
            return _from_beside(body, index, view)


def _from_before(body: Body, index: int, view: Face) -> Patch:
    half, panel = body.half, body.panels[index]
    rise = panel.rise
    fork = float(half.edge(panel.piece, "inseam")[:, 1].max())
    crease = float(half.edge(panel.piece, "crease")[0, 0])
    around = _around(body)
    middle = body.place(index, np.array([[crease, fork + 60.0]]), view)[0, 0]

    def place(places: Places) -> Places:
        upper = body.place(index, places, view)
        y = places[:, 1] + rise
        radius = around(y) / (2 * np.pi)
        out = (crease - places[:, 0]) if view is View.FRONT else (places[:, 0] - crease)
        leg = middle + radius * sine(out / radius)
        part = smooth((fork + rise - y) / _INTO_LEG)
        inner = np.maximum(middle - radius, 0.0) * part  # what reaches on between the legs is out of sight
        early = smooth((fork + rise + _OVER_FORK - y) / (_INTO_LEG + 2 * _OVER_FORK))
        part = part + (early - part) * smooth(out / radius)
        return stacked(np.maximum(upper[:, 0] * (1 - part) + leg * part, inner), upper[:, 1])

    region = shapely.intersection(panel.region, _trunk_and_leg(body, index))
    return Patch(panel.piece.name, mirrored(region, half.sign), half.seen(view, place))


def _from_beside(body: Body, index: int, view: Side) -> Patch:
    """The side seam hangs plumb, front and back of the leg lie before and behind it."""
    half, panel = body.half, body.panels[index]
    rise = panel.rise
    fork = float(half.edge(panel.piece, "inseam")[:, 1].max())
    around = _around(body)
    side = panel.left if index == 0 else panel.right

    def place(places: Places) -> Places:
        upper = body.place(index, places, view)
        y = body.lifted(index, places)
        quarter = around(y) / 4
        share = np.clip((places[:, 0] - side(places[:, 1])) / quarter, -1.0, 1.0)
        leg = quarter * _PRESSED * sine(share * _TURNED) / sine(np.array([_TURNED]))
        part = smooth((fork + rise - y) / _INTO_SIDE)
        return stacked(upper[:, 0] * (1 - part) + leg * part, upper[:, 1] * (1 - part) + y * part)

    y = np.linspace(float(panel.region.bounds[1]) - 10.0, float(panel.region.bounds[3]) + 10.0, 300)
    part = smooth((fork - y) / _INTO_SIDE)
    trunk = np.abs((panel.right if index == 0 else panel.left)(y) - side(y))
    reach = trunk * (1 - part) + around(y + rise) / 4 * part
    edge = side(y) + (reach if index == 0 else -reach)
    ring = np.concatenate((stacked(edge, y), stacked(side(y) + (-FAR if index == 0 else FAR), y)[::-1]))
    region = shapely.intersection(panel.region, shapely.make_valid(shapely.Polygon(ring)))
    return Patch(panel.piece.name, mirrored(region, half.sign), half.seen(view, place))


def _trunk_and_leg(body: Body, index: int) -> BaseGeometry:
    """Returns the area of a panel that is seen: above the fork without what reaches between the legs."""
    panel = body.panels[index]
    fork = float(body.half.edge(panel.piece, "inseam")[:, 1].max())
    left, low, right, high = panel.region.bounds
    trunk = shapely.box(left, fork, float(panel.right(np.array([high]))[0]) - _SLIT, high + 10.0)
    if index > 0:
        y = np.linspace(fork, high + 10.0, 60)
        edge = np.column_stack((panel.left(y) + _SLIT, y))
        trunk = shapely.Polygon(np.concatenate((edge, [[right, high + 10.0], [right, fork]])))
    return shapely.union(trunk, shapely.box(left, low, right, fork))


def _around(body: Body) -> Profile:
    """Returns a leg's girth by height of the figure."""
    widths = [_girth(body.half, panel.piece) + np.array([[0.0, panel.rise]]) for panel in body.panels]
    y = np.unique(np.concatenate([width[:, 1] for width in widths]))
    return Profile(y, sum((np.interp(y, width[:, 1], width[:, 0]) for width in widths), np.zeros_like(y)))


def _girth(half: Half, piece: CutPiece) -> Places:
    """Returns a leg's flat width at heights of its piece, as (width, height), from the hem upwards."""
    side, inseam = half.edge(piece, "side"), half.edge(piece, "inseam")
    heights = np.linspace(max(side[:, 1].min(), inseam[:, 1].min()), float(inseam[:, 1].max()), 40)
    width = np.abs(Profile.along(side)(heights) - Profile.along(inseam)(heights))
    return stacked(width, heights)
