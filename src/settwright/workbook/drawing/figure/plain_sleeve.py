"""Sleeves that aren't cut in two with a cap of their own, drawn plainly: in one piece as a tube, raglan as it lies
spread, its bars joined to the body's at the raglan seam.
"""

from __future__ import annotations

import math

import numpy as np
import shapely

from settwright.workbook.drawing.figure.body import BACKS, FRONTS, Body
from settwright.workbook.drawing.figure.form import FAR, Face, Patch, View, fitted, mirrored, receding, stacked
from settwright.workbook.drawing.plaid import Places, affine

_LEAN = math.tan(math.radians(9.0))  # of a hanging sleeve, outwards
_INTO = 18.0  # a hung sleeve begins this far inside the shoulder point, under the body


def plain_sleeve(body: Body, view: Face) -> Patch | None:
    """Returns a half's sleeve as seen from one side, or None where it has none of these cuts."""
    half = body.half
    if half.find("sleeve") is not None:
        return _hung(body, view)
    if half.find("front-sleeve") is not None:
        return _raglan(body, view)
    return None


def _hung(body: Body, view: Face) -> Patch | None:
    """A sleeve in one piece: a tube from the shoulder point down, its top under the body."""
    half = body.half
    sleeve = half.find("sleeve")
    at = shoulder_seen(body, view)
    if sleeve is None or at is None:
        return None
    front = view is View.FRONT
    cap = half.edge(sleeve, "front-cap" if front else "back-cap")
    under = half.edge(sleeve, "front-underarm" if front else "back-underarm")
    top = cap[int(np.argmax(cap[:, 1]))]
    wide = float(np.abs(half.edge(sleeve, "hem")[:, 0] - top[0]).max())
    low, high = float(under[:, 1].min()), float(under[:, 1].max())
    inner = under[np.argsort(under[:, 1], kind="stable")]

    def place(places: Places) -> Places:
        y = places[:, 1]
        girth = np.maximum(np.abs(np.interp(np.minimum(y, high), inner[:, 1], inner[:, 0]) - top[0]), wide * 0.5)
        radius = 2 * girth / (2 * math.pi)
        angle = np.clip(np.abs(places[:, 0] - top[0]) / radius, 0.0, math.pi)
        down = top[1] - y
        outline = at[0, 0] - _INTO + 34.0 * np.clip(down / 60.0, 0.0, 1.0) + _LEAN * down
        return stacked(outline - radius * receding(angle), at[0, 1] - down)

    side = (
        shapely.box(top[0], low - FAR, FAR, FAR) if cap[:, 0].mean() > top[0] else shapely.box(-FAR, -FAR, top[0], FAR)
    )
    region = shapely.intersection(mirrored(half.region(sleeve), half.sign), side)
    return Patch(sleeve.name, mirrored(region, half.sign), half.seen(view, place))


def shoulder_seen(body: Body, view: Face) -> Places | None:
    """Returns where the shoulder point is seen: the top of the armhole."""
    names = FRONTS if view is View.FRONT else BACKS
    tops: list[Places] = []
    for index, panel in enumerate(body.panels):
        if panel.piece.piece.name in names and any(edge.name.startswith("armhole") for edge in panel.piece.piece.edges):
            armhole = body.half.edge(panel.piece, "armhole")
            highest = armhole[int(np.argmax(armhole[:, 1]))][None, :]
            tops.append(body.place(index, highest, view))
    return max(tops, key=lambda top: round(float(top[0, 1]), 3)) if tops else None


def _raglan(body: Body, view: Face) -> Patch | None:
    """One half of a raglan sleeve, laid flat against the raglan seam."""
    half = body.half
    front = view is View.FRONT
    sleeve = half.find("front-sleeve" if front else "back-sleeve")
    pairs = half.pairs("raglan-front" if front else "raglan-back")
    if sleeve is None or pairs is None:
        return None
    on_body, on_sleeve = pairs
    index = 0 if front else len(body.panels) - 1
    onto = affine(fitted(on_sleeve, body.place(index, on_body, view), mirror=front))
    return Patch(sleeve.name, half.region(sleeve), half.seen(view, onto))


__all__ = ["plain_sleeve", "shoulder_seen"]
