"""Every cut of the trade on bodies of every kind, with its inside."""

from __future__ import annotations

import math
from dataclasses import replace
from functools import cache

from settwright.body import Body
from settwright.body.estimate import complete
from settwright.commission.inside import Inside
from settwright.makeup.inside import with_inside
from settwright.pattern import Draft, Layer, Piece
from settwright.pattern.design import (
    BackShoulder,
    BodyCut,
    BustDart,
    CentreBack,
    Closing,
    CollarStyle,
    FrontEdge,
    FrontStyle,
    JacketDesign,
    LowerSection,
    SleeveCut,
    StandEnds,
    Vent,
)
from settwright.pattern.drafts.jacket import draft_jacket
from tests.bodies import bodies

PLAIN = JacketDesign()
DARTED = replace(PLAIN, body_cut=BodyCut.DARTED)
PRINCESS = replace(PLAIN, body_cut=BodyCut.PRINCESS_SHOULDER)
JACKETS = {
    "side panel": PLAIN,
    "extended facing": replace(PLAIN, front_edge=FrontEdge.EXTENDED),
    "darted, side dart": DARTED,
    "darted from the shoulder, back on the fold": replace(
        DARTED, bust_dart=BustDart.SHOULDER, back_shoulder=BackShoulder.DART, centre_back=CentreBack.FOLD
    ),
    "princess, shoulder": PRINCESS,
    "princess, coat, double": replace(PRINCESS, length_below_waist=600.0, closing=Closing.DOUBLE),
    "princess, armhole, side vents": replace(PLAIN, body_cut=BodyCut.PRINCESS_ARMHOLE, vent=Vent.SIDES),
    "back vent": replace(PLAIN, length_below_waist=600.0, vent=Vent.BACK, vent_length=300.0),
    "waist seam": replace(PLAIN, waist_seam=True),
    "flared": replace(PRINCESS, waist_seam=True, lower_section=LowerSection.FLARED),
    "padded hips": replace(DARTED, waist_seam=True, lower_section=LowerSection.PADDED_HIP, length_below_waist=200.0),
    "peaked, double": replace(PLAIN, front_style=FrontStyle.PEAKED, closing=Closing.DOUBLE, lapel_width=98.0),
    "shawl": replace(PLAIN, front_style=FrontStyle.SHAWL, buttons=1),
    "shawl, split facing": replace(
        PLAIN, front_style=FrontStyle.SHAWL, closing=Closing.DOUBLE, buttons=2, facing_split=60.0
    ),
    "V": replace(PLAIN, front_style=FrontStyle.V_NECK),
    "round": replace(PLAIN, front_style=FrontStyle.ROUND_NECK, closing=Closing.EDGE_TO_EDGE, neck_drop=40.0, buttons=5),
    "crossed": replace(PLAIN, front_style=FrontStyle.CROSSED, buttons=2),
    "stand": replace(PLAIN, front_style=FrontStyle.ROUND_NECK, collar_style=CollarStyle.STAND, buttons=6),
    "stand in halves": replace(
        PLAIN,
        front_style=FrontStyle.ROUND_NECK,
        collar_style=CollarStyle.STAND,
        stand_ends=StandEnds.SQUARE,
        stand_halves=True,
        closing=Closing.DOUBLE,
        buttons=5,
    ),
    "sleeve with a vent": replace(PLAIN, sleeve_vent=100.0),
    "one-piece sleeve": replace(PLAIN, sleeve_cut=SleeveCut.ONE_PIECE),
    "one-piece sleeve, eased": replace(DARTED, sleeve_cut=SleeveCut.ONE_PIECE, elbow_dart=False),
    "raglan": replace(DARTED, sleeve_cut=SleeveCut.RAGLAN),
    "raglan, side panel": replace(PLAIN, sleeve_cut=SleeveCut.RAGLAN),
    "kimono": replace(DARTED, sleeve_cut=SleeveCut.KIMONO),
    "kimono, lifted": replace(DARTED, sleeve_cut=SleeveCut.KIMONO, sleeve_lift=math.radians(68)),
}
SIZES = {
    "small": {"bust_girth": 820.0, "waist_girth": 640.0, "hip_girth": 890.0, "height": 1630.0},
    "middle": {"bust_girth": 920.0, "waist_girth": 740.0, "hip_girth": 980.0, "height": 1680.0},
    "large": {"bust_girth": 1120.0, "waist_girth": 950.0, "hip_girth": 1170.0, "height": 1680.0},
}
EVERY = Inside()


@cache
def body_of(name: str) -> Body:
    """Returns a size by name, or a woman of the survey by her row: "survey 12"."""
    if name.startswith("survey "):
        return complete(bodies()[int(name.split()[1])])
    return complete(SIZES[name])


@cache
def shell(body: str, cut: str) -> Draft:
    """Returns the draft of a jacket by its cut."""
    return draft_jacket(body_of(body), JACKETS[cut], 1.0)


@cache
def whole(body: str, cut: str) -> Draft:
    """Returns the draft with everything inside."""
    return with_inside(shell(body, cut), EVERY, tuple(Layer))


def of_layer(draft: Draft, *layers: Layer) -> list[Piece]:
    """Returns the pieces of some layers."""
    return [piece for piece in draft.pieces if piece.layer in layers]
