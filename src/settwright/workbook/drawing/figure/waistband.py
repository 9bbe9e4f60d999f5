"""The waistband of a skirt worn without a jacket: its outer half laid above the waist seam."""

from __future__ import annotations

import numpy as np
import shapely

from settwright.workbook.drawing.figure.body import Body
from settwright.workbook.drawing.figure.form import Patch, View, places_of, stacked
from settwright.workbook.drawing.plaid import Places


def waistband_patch(body: Body, view: View, name: str = "waistband") -> Patch | None:
    """Returns one half of the waistband as it is seen, or None. The band lies along its y axis, its sewn edge at the
    right; that edge follows the skirt's waist on the figure.
    """
    half = body.half
    band = half.find(name)
    if band is None:
        return None
    outward = half.outward(view)
    found: list[tuple[float, float, float, float]] = []  # along the band, outwards and up on the figure, across
    for index, panel in enumerate(body.panels):
        shown = body.seen(index, view)
        for sewn in half.made_up.sewn:
            if sewn.b.piece != band.name or sewn.a.piece != panel.piece.name:
                continue
            if panel.piece.hand.value == "whole" and not sewn.name.endswith(half.hand.value):
                continue
            on_skirt = half.turned(places_of([a for a, _ in sewn.pairs]))
            for at, (o, y), (_, b) in zip(on_skirt, body.place(index, on_skirt, view), sewn.pairs, strict=True):
                if shapely.distance(shown, shapely.points(at)) < 1.0:
                    found.append((b.y, float(o), float(y), b.x))
    if len(found) < 2:
        return None
    lines = np.array(sorted(found))
    edge = found[0][3]
    left, _, right, _ = half.region(band).bounds
    middle = (left + right) / 2

    def place(places: Places) -> Places:
        x = np.interp(places[:, 1], lines[:, 0], lines[:, 1])
        y = np.interp(places[:, 1], lines[:, 0], lines[:, 2]) + np.abs(edge - places[:, 0])
        return stacked(x * outward, y)

    low, high = float(lines[0, 0]), float(lines[-1, 0])
    sides = sorted((edge, middle))
    region = shapely.intersection(half.region(band), shapely.box(sides[0], low - 0.4, sides[1], high + 0.4))
    return Patch(band.name, region, place) if not region.is_empty else None
