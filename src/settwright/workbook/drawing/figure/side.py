"""The whole figure from the left or the right: what one half shows, the sleeve hanging before the body."""

from __future__ import annotations

import math

from settwright.makeup.model import Hand, MadeUp
from settwright.workbook.drawing.figure.body import Body, covered_above, dart_lines, jacket_body, lower_body, skirt_body
from settwright.workbook.drawing.figure.collar import collar_of
from settwright.workbook.drawing.figure.form import Half, Layer, Patch, Side, View
from settwright.workbook.drawing.figure.kimono import without_sleeve
from settwright.workbook.drawing.figure.legs import leg_patch, trousers_body
from settwright.workbook.drawing.figure.neck import front_of, lapel_patch, pocket_patch
from settwright.workbook.drawing.figure.plain_neck import shawl_back, stand_patch
from settwright.workbook.drawing.figure.side_sleeve import side_sleeve
from settwright.workbook.drawing.figure.waistband import waistband_patch
from settwright.workbook.drawing.plaid import Places


def hand_of(view: Side) -> Hand:
    """Returns the half of the wearer that is seen from a side."""
    return Hand.LEFT if view is View.LEFT else Hand.RIGHT


def side_figure(made_up: MadeUp, view: Side, hang: float) -> tuple[Layer, ...]:
    """Returns what is seen of an ensemble from one side, the farthest first; `hang` as for the skirt's body."""
    half = Half(made_up, hand_of(view))
    jacket = jacket_body(half)
    covered = covered_above([jacket] if jacket is not None else [], view)
    layers = [*_trousers(half, view, covered), *_skirt(half, view, hang, covered)]
    if jacket is not None:
        layers += _jacket(jacket, view)
    return tuple(layers)


def _layer(name: str, *patches: Patch | None, lines: tuple[Places, ...] = ()) -> list[Layer]:
    found = tuple(patch for patch in patches if patch is not None)
    return [Layer(name, found, lines)] if found else []


def _darts(body: Body, view: Side) -> tuple[Places, ...]:
    return tuple(line for index in range(len(body.panels)) for line in dart_lines(body, index, view))


def _panels(body: Body, view: Side) -> list[Patch | None]:
    """Returns the panels from the back to the front, without a sleeve that grows on them."""
    found: list[Patch | None] = []
    for index in range(len(body.panels) - 1, -1, -1):
        flat = front_of(body, view).flat if index == 0 else None
        if index > 0:
            flat = without_sleeve(body, index, View.BACK if index == len(body.panels) - 1 else View.FRONT)
        found.append(body.patch(index, view, flat))
    return found


def _worn_under(body: Body, patches: tuple[Patch | None, Patch | None], covered: float) -> list[Patch | None]:
    """Returns the back and the front of a lower garment as far as no jacket covers them."""
    panels = body.panels[::-1]
    return [
        patch.below(covered - panel.rise) if patch is not None else None
        for patch, panel in zip(patches, panels, strict=True)
    ]


def _trousers(half: Half, view: Side, covered: float) -> list[Layer]:
    body = trousers_body(half)
    if body is None:
        return []
    legs = _worn_under(body, (leg_patch(body, 1, view), leg_patch(body, 0, view)), covered)
    if not math.isinf(covered):
        return _layer("trousers", *legs)
    band = waistband_patch(body, view, "trousers-waistband")
    return [*_layer("trousers", *legs, lines=_darts(body, view)), *_layer("trousers waistband", band)]


def _skirt(half: Half, view: Side, hang: float, covered: float) -> list[Layer]:
    body = skirt_body(half, hang)
    if body is None:
        return []
    panels = _worn_under(body, (body.patch(1, view), body.patch(0, view)), covered)
    if not math.isinf(covered):
        return _layer("skirt", *panels)
    return [
        *_layer("skirt", *panels, lines=_darts(body, view)),
        *_layer("waistband", waistband_patch(body, view)),
    ]


def _jacket(body: Body, view: Side) -> list[Layer]:
    hand = body.half.hand.value
    front = front_of(body, view)
    layers: list[Layer] = []
    lower = lower_body(body.half, body)
    if lower is not None:
        layers += _layer(f"lower.{hand}", *_panels(lower, view), lines=_darts(lower, view))
        layers += _layer(f"pocket.{hand}", pocket_patch(front_of(lower, view), "front-lower"))
    layers += _layer(f"body.{hand}", *_panels(body, view), lines=_darts(body, view))
    layers += _layer(f"pocket.{hand}", pocket_patch(front))
    layers += _layer(f"sleeve.{hand}", *side_sleeve(body, view))
    layers += _layer(f"collar.{hand}", stand_patch(body, view), shawl_back(body, view))
    layers += _layer(f"lapel.{hand}", lapel_patch(front))
    collar = collar_of(front)
    return [*layers, *_layer(f"collar.{hand}", collar.side_patch() if collar is not None else None)]


__all__ = ["hand_of", "side_figure"]
