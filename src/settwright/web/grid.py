"""The map from a piece to the figure, sampled for the page: the browser draws the bars for any place itself.

The mesh runs in the cloth's own directions with its origin at the grain mark: its point (x, y) is S R(g) p of a point
p of the piece, so that it falls in the sett at (u + x, v + y). Sliding the cloth changes u and v, never the mesh.
The map means nothing beyond its region, so points there are carried on straight from those inside.
"""

from __future__ import annotations

import math
from typing import Any

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

from settwright.bars.model import Orientation
from settwright.geometry import Point
from settwright.workbook.drawing.plaid import Map

Floats = NDArray[np.float64]

STEP = 12.0  # mm of cloth between two points; between them the map is taken as straight
_ROUNDS = 4  # of carrying on: no needed point lies farther out
_CORNERS = (
    (slice(None, -1), slice(None, -1)),
    (slice(None, -1), slice(1, None)),
    (slice(1, None), slice(1, None)),
    (slice(1, None), slice(None, -1)),
)


def grid_of(region: BaseGeometry, place: Map, orientation: Orientation, grain_turn: float) -> dict[str, Any]:
    """Returns the mesh that covers a region of a piece: its least point, step, counts, and where each point is seen.

    `places` are X, Y, X, Y … on the figure (mm, y downwards), row by row from y0 upwards; null where nothing is seen.
    """
    along, across = orientation.place(Point(1.0, 0.0), grain_turn), orientation.place(Point(0.0, 1.0), grain_turn)
    turn = np.array([[along.x, across.x], [along.y, across.y]])  # S R(g), orthogonal: its inverse is its transpose
    corners = shapely.get_coordinates(region) @ turn.T
    x0, y0 = (math.floor(float(least) / STEP) * STEP for least in corners.min(axis=0))
    columns, rows = (
        max(math.ceil((float(most) - least) / STEP) + 1, 2)
        for most, least in zip(corners.max(axis=0), (x0, y0), strict=True)
    )
    mesh = np.meshgrid(x0 + STEP * np.arange(columns, dtype=np.float64), y0 + STEP * np.arange(rows, dtype=np.float64))
    x, y = (np.asarray(axis, dtype=np.float64) for axis in mesh)
    seen = _carried_on(region, place, x, y, turn) * np.array([1.0, -1.0])
    flat = seen.round(1).ravel() + 0.0
    known = [None if math.isnan(value) else value for value in flat.tolist()]
    return {"x0": x0, "y0": y0, "step": STEP, "nx": columns, "ny": rows, "places": known}


def _carried_on(region: BaseGeometry, place: Map, x: Floats, y: Floats, turn: Floats) -> Floats:
    """Returns where the mesh's points are seen, shape (rows, columns, 2): those inside by the map, those about them
    carried on straight, nan farther out.
    """
    points = np.column_stack((x.ravel(), y.ravel())) @ turn
    shapely.prepare(region)
    inside = shapely.contains_xy(region, points[:, 0], points[:, 1])
    seen = np.full(points.shape, np.nan)
    if inside.any():
        seen[inside] = place(points[inside])
    seen = seen.reshape(*x.shape, 2)
    needed = _needed(region, x, y, turn)
    for _ in range(_ROUNDS):
        found = _next_to(seen)
        missing = np.isnan(seen[..., 0]) & ~np.isnan(found[..., 0]) & needed
        if not missing.any():
            break
        seen[missing] = found[missing]
    alone = needed & np.isnan(seen[..., 0])
    if alone.any():  # in a sliver: nothing to go by but the map itself
        seen[alone] = place(points.reshape(*x.shape, 2)[alone])
    return seen


def _needed(region: BaseGeometry, x: Floats, y: Floats, turn: Floats) -> NDArray[np.bool_]:
    """Returns which points are corners of a box of the mesh in which some of the region lies, or next to one."""
    corners = [np.stack((x[j, i], y[j, i]), axis=-1) for j, i in _CORNERS]
    boxes = shapely.polygons(np.stack(corners, axis=-2).reshape(-1, 4, 2) @ turn)
    met = shapely.intersects(region, boxes).reshape(x.shape[0] - 1, x.shape[1] - 1)
    needed = np.zeros(x.shape, dtype=np.bool_)
    for j, i in _CORNERS:
        needed[j, i] |= met
    wider = needed.copy()
    wider[1:] |= needed[:-1]
    wider[:-1] |= needed[1:]
    wide = wider.copy()
    wide[:, 1:] |= wider[:, :-1]
    wide[:, :-1] |= wider[:, 1:]
    return wide


def _next_to(seen: Floats) -> Floats:
    """Returns for each point the mean of what straight lines through two known points beside it tell; nan for none."""
    rows, columns = seen.shape[:2]
    padded = np.full((rows + 4, columns + 4, 2), np.nan)
    padded[2:-2, 2:-2] = seen
    total, count = np.zeros(seen.shape), np.zeros(seen.shape)
    for dj, di in ((0, 1), (0, -1), (1, 0), (-1, 0)):
        near = padded[2 + dj : 2 + dj + rows, 2 + di : 2 + di + columns]
        far = padded[2 + 2 * dj : 2 + 2 * dj + rows, 2 + 2 * di : 2 + 2 * di + columns]
        line = 2 * near - far
        known = ~np.isnan(line)
        total += np.where(known, line, 0.0)
        count += known
    return np.asarray(np.where(count > 0, total / np.maximum(count, 1), np.nan), dtype=np.float64)
