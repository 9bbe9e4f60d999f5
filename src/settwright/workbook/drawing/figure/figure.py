"""The whole figure from one side: layers of patches from the farthest to the nearest."""

from __future__ import annotations

import numpy as np
import shapely

from settwright.makeup.model import Hand, MadeUp
from settwright.workbook.drawing.figure.body import Body, dart_lines, jacket_body, skirt_body
from settwright.workbook.drawing.figure.collar import collar_of
from settwright.workbook.drawing.figure.form import FAR, Half, Layer, Patch, View, by, places_of
from settwright.workbook.drawing.figure.neck import flap_patch, front_of, lapel_patch, roll_of
from settwright.workbook.drawing.figure.sleeve import jacket_sleeve
from settwright.workbook.drawing.figure.waistband import waistband_patch
from settwright.workbook.drawing.plaid import Places

_OVER = 2.0  # the halves of a whole piece overlap by this


def figure(made_up: MadeUp, view: View) -> tuple[Layer, ...]:
    """Returns what is seen of an ensemble from one side, the farthest first."""
    over = over_hand(made_up)
    hands = (Hand.LEFT, Hand.RIGHT) if over is Hand.RIGHT else (Hand.RIGHT, Hand.LEFT)
    halves = tuple(Half(made_up, hand) for hand in hands)
    jackets = [body for half in halves if (body := jacket_body(half)) is not None]
    layers = _skirt(halves, view, alone=not jackets)
    layers += _fronts(jackets) if view is View.FRONT else _backs(jackets)
    layers += _sleeves(jackets, view)
    return tuple(layers)


def over_hand(made_up: MadeUp) -> Hand:
    """Returns which front lies over the other: side a of the closing."""
    for sewn in made_up.sewn:
        if sewn.name == "closing":
            return Hand.LEFT if sewn.a.piece.endswith(Hand.LEFT.value) else Hand.RIGHT
    return Hand.RIGHT


def _skirt(halves: tuple[Half, ...], view: View, *, alone: bool) -> list[Layer]:
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
            patch = body.patch(index, view, region)
            if patch is not None:
                patches.append(patch)
                lines += dart_lines(body, index, view)
        if view is View.BACK:
            lines += _vent(body)
        if alone:
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
    for seam in ("jacket-over-skirt-front", "jacket-over-skirt-back"):
        pairs = half.pairs(seam)
        if pairs is not None:
            jacket, skirt = pairs
            return float(np.median(jacket[:, 1] - skirt[:, 1]))
    front = half.find("skirt-front")
    return -float(half.edge(front, "side")[:, 1].max()) if front else 0.0


def _fronts(jackets: list[Body]) -> list[Layer]:
    layers = _inside(jackets)
    for body in jackets:
        front = front_of(body)
        hand = body.half.hand.value
        found = [body.patch(1, View.FRONT), body.patch(0, View.FRONT, front.flat)]
        patches = tuple(patch for patch in found if patch is not None)
        layers.append(Layer(f"front.{hand}", patches, dart_lines(body, 0, View.FRONT)))
        flap = flap_patch(front)
        if flap is not None:
            layers.append(Layer(f"flap.{hand}", (flap,)))
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
    return roll.start.y if roll is not None else 0.0


def _closing(jackets: list[Body]) -> list[Layer]:
    """Returns the buttons of the front that lies over, in buttonholes that reach inwards from the centre front."""
    buttons: list[Places] = []
    for body in jackets:
        for mark in body.panels[0].piece.piece.marks:
            if mark.name.startswith("button-"):
                at = body.half.turned(places_of([mark.at]))
                buttons.append(body.place(0, at, View.FRONT) * np.array([-body.half.sign, 1.0]))
    return [Layer("closing", (), buttons=tuple(buttons))] if buttons else []


def _inside(jackets: list[Body]) -> list[Layer]:
    """Returns what is seen in the neck's opening: the lining, and the stand of the collar before it."""
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
    found = [body.patch(index, View.BACK) for body in jackets for index in (1, 2)]
    patches = tuple(patch for patch in found if patch is not None)
    layers = [Layer("back", patches)] if patches else []
    collars = [collar_of(front_of(body)) for body in jackets]
    falls = tuple(collar.back_patch() for collar in collars if collar is not None)
    return [*layers, Layer("collar", falls)] if falls else layers


def _sleeves(jackets: list[Body], view: View) -> list[Layer]:
    layers: list[Layer] = []
    for body in jackets:
        sleeve = jacket_sleeve(body, view)
        if sleeve is not None:
            layers.append(Layer(f"sleeve.{body.half.hand.value}", sleeve.patches()))
    return layers


__all__ = ["figure", "over_hand"]
