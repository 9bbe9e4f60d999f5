"""A sleeve grown on the body: what of a body's piece is sleeve, laid out from the body as it lies spread."""

from __future__ import annotations

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from settwright.workbook.drawing.figure.body import BACKS, FRONTS, Body
from settwright.workbook.drawing.figure.form import FAR, Face, Floats, Half, Patch, View, mirrored, stacked, window
from settwright.workbook.drawing.plaid import Places

_MARGIN = 1.5  # a grown sleeve overlaps the body by this


def grown_sleeves(body: Body, view: Face) -> tuple[Patch, ...]:
    """Returns what of a body's pieces is kimono sleeve, laid out from the body's outline as it lies spread."""
    half = body.half
    found: list[Patch] = []
    for index, panel in enumerate(body.panels):
        if not _is_grown(half, body, index, view):
            continue
        underarm = float(_foot(body, index)[1])
        front = view is View.FRONT
        tall = np.linspace(underarm - 400.0, float(panel.region.bounds[3]) + 5.0, 200)
        limit = _limit(body, index, tall)
        beyond = -FAR if front else FAR
        ring = np.concatenate(
            (stacked(limit + (_MARGIN if front else -_MARGIN), tall), stacked(limit * 0 + beyond, tall)[::-1])
        )
        region = shapely.intersection(panel.region, shapely.make_valid(shapely.Polygon(ring)))
        parts = sorted(shapely.get_parts(region), key=lambda part: round(part.area, 3))
        if not parts or parts[-1].area < 400.0:
            continue

        def place(places: Places, index: int = index, underarm: float = underarm, front: bool = front) -> Places:
            y = np.maximum(places[:, 1], underarm)
            edge = _limit(body, index, y)
            at = body.place(index, stacked(edge, y), view)
            out = edge - places[:, 0] if front else places[:, 0] - edge
            return stacked(at[:, 0] + out, places[:, 1] + panel_rise(body, index))

        found.append(Patch(panel.piece.name, mirrored(parts[-1], half.sign), half.seen(view, place)))
    return tuple(found)


def panel_rise(body: Body, index: int) -> float:
    """Returns what is added to a panel's heights."""
    return body.panels[index].rise


def without_sleeve(body: Body, index: int, view: Face) -> BaseGeometry | None:
    """Returns the part of a panel that is body, where a sleeve grows on it; None where none does."""
    half, panel = body.half, body.panels[index]
    if not _is_grown(half, body, index, view):
        other = View.BACK if view is View.FRONT else View.FRONT
        if not _is_grown(half, body, index, other):
            return None
        return _below_the_arm(half, body, index)
    underarm = float(_foot(body, index)[1])
    tall = np.linspace(underarm, float(panel.region.bounds[3]) + 5.0, 100)
    limit = _limit(body, index, tall)
    front = view is View.FRONT
    far = np.full_like(limit, FAR if front else -FAR)
    upper = shapely.make_valid(shapely.Polygon(np.concatenate((stacked(limit, tall), stacked(far, tall)[::-1]))))
    return shapely.union(upper, _below_the_arm(half, body, index))


def _below_the_arm(half: Half, body: Body, index: int) -> BaseGeometry:
    """Returns the area of a panel below the underarm and within its side seam."""
    panel = body.panels[index]
    side = half.edge(panel.piece, "side")
    within = window(side, beyond=FAR if panel.piece.piece.name in FRONTS else -FAR)
    return shapely.intersection(within, shapely.box(-FAR, -FAR, FAR, float(side[:, 1].max())))


def _is_grown(half: Half, body: Body, index: int, view: Face) -> bool:
    panel = body.panels[index]
    edges = {edge.name.removesuffix(".right").removesuffix(".left") for edge in panel.piece.piece.edges}
    return "sleeve-underarm" in edges and panel.piece.piece.name in (FRONTS if view is View.FRONT else BACKS)


def _limit(body: Body, index: int, y: Floats) -> Floats:
    """Returns where on a panel body and sleeve part at its heights: at the foot of the arm, upright."""
    return np.full_like(y, _foot(body, index)[0])


def _foot(body: Body, index: int) -> Floats:
    """Returns where a panel's sleeve begins at its side."""
    piece = body.panels[index].piece
    underarm, side = body.half.edge(piece, "sleeve-underarm"), body.half.edge(piece, "side")
    top = side[int(np.argmax(side[:, 1]))]
    return min(underarm[[0, -1]], key=lambda end: round(float(np.square(end - top).sum()), 3))


__all__ = ["grown_sleeves", "without_sleeve"]
