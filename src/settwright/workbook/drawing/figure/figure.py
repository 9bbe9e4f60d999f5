"""The whole figure from one side: layers of patches from the farthest to the nearest."""

from __future__ import annotations

import math

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from settwright.makeup.model import Hand, MadeUp
from settwright.workbook.drawing.figure.body import Body, covered_above, dart_lines, jacket_body, lower_body, skirt_body
from settwright.workbook.drawing.figure.collar import collar_of
from settwright.workbook.drawing.figure.form import FAR, Face, Half, Layer, Patch, View, by, places_of
from settwright.workbook.drawing.figure.kimono import grown_sleeves, without_sleeve
from settwright.workbook.drawing.figure.legs import leg_patch, trousers_body
from settwright.workbook.drawing.figure.neck import front_of, lapel_patch, pocket_patch, roll_of
from settwright.workbook.drawing.figure.plain_neck import behind_the_neck, neck_opening, shawl_back, stand_patch
from settwright.workbook.drawing.figure.raglan import raglan_sleeve
from settwright.workbook.drawing.figure.side import hand_of, side_figure
from settwright.workbook.drawing.figure.sleeve import jacket_sleeve
from settwright.workbook.drawing.figure.waistband import waistband_patch
from settwright.workbook.drawing.plaid import Places

_OVER = 2.0  # the halves of a whole piece overlap by this


def figure(made_up: MadeUp, view: View) -> tuple[Layer, ...]:
    """Returns what is seen of an ensemble from one side, the farthest first."""
    match view:
        case View.FRONT | View.BACK:
            return _before_or_behind(made_up, view)
        case View.LEFT | View.RIGHT:
            return side_figure(made_up, view, _hang(Half(made_up, hand_of(view))))


def _before_or_behind(made_up: MadeUp, view: Face) -> tuple[Layer, ...]:
    over = over_hand(made_up)
    hands = (Hand.LEFT, Hand.RIGHT) if over is Hand.RIGHT else (Hand.RIGHT, Hand.LEFT)
    halves = tuple(Half(made_up, hand) for hand in hands)
    jackets = [body for half in halves if (body := jacket_body(half)) is not None]
    covered = covered_above(jackets, view)
    layers = [*_trousers(halves, view, covered), *_skirt(halves, view, covered)]
    layers += _spread_sleeves(jackets, view)
    layers += _lower(jackets, view)
    layers += _fronts(jackets) if view is View.FRONT else _backs(jackets)
    layers += _sleeves(jackets, view)
    return tuple(layers)


def _trousers(halves: tuple[Half, ...], view: Face, covered: float) -> list[Layer]:
    patches: list[Patch] = []
    bands: list[Patch] = []
    lines: list[Places] = []
    for half in halves:
        body = trousers_body(half)
        if body is None:
            continue
        for index in (1, 0) if view is View.FRONT else (0, 1):
            whole = leg_patch(body, index, view)
            patch = whole.below(covered - body.panels[index].rise) if whole is not None else None
            if patch is not None:
                patches.append(patch)
                lines += dart_lines(body, index, view)
        band = waistband_patch(body, view, "trousers-waistband") if math.isinf(covered) else None
        if band is not None:
            bands.append(band)
    layers = [Layer("trousers", tuple(patches), tuple(lines))] if patches else []
    return [*layers, Layer("trousers waistband", tuple(bands))] if bands else layers


def _spread_sleeves(jackets: list[Body], view: Face) -> list[Layer]:
    layers: list[Layer] = []
    for body in jackets:
        sleeve = raglan_sleeve(body, view)
        patches = (sleeve,) if sleeve is not None else grown_sleeves(body, view)
        if patches:
            layers.append(Layer(f"sleeve.{body.half.hand.value}", patches))
    return layers


def _lower(jackets: list[Body], view: Face) -> list[Layer]:
    """Returns the sections below a waist seam."""
    layers: list[Layer] = []
    for body in jackets:
        lower = lower_body(body.half, body)
        if lower is None:
            continue
        last = len(lower.panels) - 1
        order = range(last, -1, -1) if view is View.FRONT else range(last + 1)
        found = [lower.patch(index, view, _half_of(lower, index)) for index in order]
        patches = tuple(patch for patch in found if patch is not None)
        buttons = _buttons(lower) if view is View.FRONT and body is jackets[-1] else ()
        layers.append(Layer(f"lower.{body.half.hand.value}", patches, buttons=buttons))
        pocket = pocket_patch(front_of(lower), "front-lower") if view is View.FRONT else None
        if pocket is not None:
            layers.append(Layer(f"pocket.{body.half.hand.value}", (pocket,)))
    return layers


def _panel(body: Body, index: int, view: Face) -> Patch | None:
    """Returns a panel as it is seen, without a sleeve that grows on it and without the other half of a whole one."""
    parts = [part for part in (without_sleeve(body, index, view), _half_of(body, index)) if part is not None]
    return body.patch(index, view, shapely.intersection_all(parts) if parts else None)


def _half_of(body: Body, index: int) -> BaseGeometry | None:
    """Returns the right half of a back that is cut whole, None where a panel is cut in a pair."""
    if body.panels[index].piece.hand is not Hand.WHOLE:
        return None
    centre = float(body.panels[index].left.values[0])
    return shapely.box(centre - _OVER, -FAR, FAR, FAR)


def over_hand(made_up: MadeUp) -> Hand:
    """Returns which front lies over the other: side a of the closing."""
    for sewn in made_up.sewn:
        if sewn.name == "closing":
            return Hand.LEFT if sewn.a.piece.endswith(Hand.LEFT.value) else Hand.RIGHT
    return Hand.RIGHT


def _skirt(halves: tuple[Half, ...], view: Face, covered: float) -> list[Layer]:
    patches: list[Patch] = []
    bands: list[Patch | None] = []
    lines: list[Places] = []
    for half in halves:
        body = skirt_body(half, _hang(half))
        if body is None:
            continue
        for index, panel in enumerate(body.panels):
            region = panel.region
            if panel.piece.hand is Hand.WHOLE:
                region = shapely.intersection(region, shapely.box(-FAR, -FAR, _OVER, FAR))
            whole = body.patch(index, view, region)
            patch = whole.below(covered - panel.rise) if whole is not None else None
            if patch is not None:
                patches.append(patch)
                lines += dart_lines(body, index, view)
        if view is View.BACK:
            lines += _vent(body)
        if math.isinf(covered):
            bands.append(waistband_patch(body, view))
    layers = [Layer("skirt", tuple(patches), tuple(lines))] if patches else []
    sewn_on = tuple(band for band in bands if band is not None)
    return [*layers, Layer("waistband", sewn_on)] if sewn_on else layers


def _vent(body: Body) -> list[Places]:
    """Returns the stitches that hold a vent's top and a zip's end."""
    back = body.panels[-1]
    lines: list[Places] = []
    for notch in back.piece.piece.notches:
        if notch.edge == "centre-back" and notch.name in ("vent-top", "zip-end"):
            at = body.half.turned(places_of([back.piece.piece.edge(notch.edge).path.at(notch.at)]))
            seen = body.place(len(body.panels) - 1, at, View.BACK)
            lines.append(np.concatenate((seen, seen + by(9.0 * body.half.sign, 0.0))))
    return lines


def _hang(half: Half) -> float:
    """Returns by how much the skirt front's heights rise to hang at its place under the jacket."""
    jacket = jacket_body(half)
    lower = lower_body(half, jacket) if jacket is not None else None
    rises = {panel.piece.name: panel.rise for body in (jacket, lower) if body is not None for panel in body.panels}
    for seam in ("jacket-over-skirt-front", "jacket-over-skirt-back"):
        sewn, pairs = half.sewn(seam), half.pairs(seam)
        if sewn is not None and pairs is not None:
            over, skirt = pairs
            return float(np.median(over[:, 1] - skirt[:, 1])) + rises.get(sewn.a.piece, 0.0)
    front = half.find("skirt-front")
    return -float(half.edge(front, "side")[:, 1].max()) if front else 0.0


def _fronts(jackets: list[Body]) -> list[Layer]:
    layers = _inside(jackets)
    for body in jackets:
        front = front_of(body)
        hand = body.half.hand.value
        rest = [_panel(body, index, View.FRONT) for index in range(len(body.panels) - 1, 0, -1)]
        found = [*rest, body.patch(0, View.FRONT, front.flat)]
        patches = tuple(patch for patch in found if patch is not None)
        layers.append(Layer(f"front.{hand}", patches, dart_lines(body, 0, View.FRONT)))
        pocket = pocket_patch(front)
        if pocket is not None:
            layers.append(Layer(f"pocket.{hand}", (pocket,)))
        stand = stand_patch(body, View.FRONT)
        if stand is not None:
            layers.append(Layer(f"collar.{hand}", (stand,)))
        lapel = lapel_patch(front)
        if lapel is not None:
            layers.append(Layer(f"lapel.{hand}", (lapel,)))
        collar = collar_of(front)
        fall = collar.front_patch() if collar is not None else None
        if fall is not None:
            layers.append(Layer(f"collar.{hand}", (fall,)))
    return [*layers, *_closing(jackets[-1:])]


def _break_height(body: Body) -> float:
    roll = roll_of(body.half, body.panels[0].piece)
    return roll.start.y + body.panels[0].rise if roll is not None else 0.0


def _closing(jackets: list[Body]) -> list[Layer]:
    """Returns the buttons of the front that lies over, in buttonholes that reach inwards from the centre front."""
    buttons = tuple(button for body in jackets for button in _buttons(body))
    return [Layer("closing", (), buttons=buttons)] if buttons else []


def _buttons(body: Body) -> tuple[Places, ...]:
    found: list[Places] = []
    for number, panel in enumerate(body.panels):
        for mark in panel.piece.piece.marks:
            if mark.name.startswith(("button-", "twin-button-")):
                at = body.half.turned(places_of([mark.at]))
                found.append(body.place(number, at, View.FRONT) * np.array([-body.half.sign, 1.0]))
    return tuple(found)


def _inside(jackets: list[Body]) -> list[Layer]:
    """Returns what is seen in the neck's opening: the lining, and the stand of the collar before it."""
    plain = neck_opening(jackets)
    if plain is not None:
        behind = tuple(patch for body in jackets if (patch := behind_the_neck(body)) is not None)
        return [Layer("inside", behind, grounds=(plain,))]
    stands: list[Patch] = []
    opening: list[Places] = []
    for body in jackets:
        front = front_of(body)
        collar = collar_of(front)
        if collar is None or front.roll is None:
            continue
        stand, seam = collar.stand_patch()
        stands.append(stand)
        opening.append(seam)
    if len(opening) < 2:
        return []
    low = min(_break_height(body) for body in jackets) - 30
    ring = np.concatenate((opening[0][::-1], opening[1], [[0.0, low]]))
    return [Layer("inside", tuple(stands), grounds=(ring,))]


def _backs(jackets: list[Body]) -> list[Layer]:
    found = [_panel(body, index, View.BACK) for body in jackets for index in range(len(body.panels))]
    patches = tuple(patch for patch in found if patch is not None)
    darts = [line for body in jackets for line in dart_lines(body, len(body.panels) - 1, View.BACK)]
    layers = [Layer("back", patches, tuple(darts))] if patches else []
    collars = [collar_of(front_of(body)) for body in jackets]
    own = [collar.back_patch() if collar is not None else None for collar in collars]
    own += [patch for body in jackets for patch in (stand_patch(body, View.BACK), shawl_back(body))]
    falls = tuple(patch for patch in own if patch is not None)
    return [*layers, Layer("collar", falls)] if falls else layers


def _sleeves(jackets: list[Body], view: Face) -> list[Layer]:
    layers: list[Layer] = []
    for body in jackets:
        sleeve = jacket_sleeve(body, view)
        if sleeve is not None:
            layers.append(Layer(f"sleeve.{body.half.hand.value}", sleeve.patches()))
    return layers


__all__ = ["figure", "over_hand"]
