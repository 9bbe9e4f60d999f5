"""Every cut that can be drafted, by name: what the contact sheets draw, the benchmark times and the tests check.

A cut is added by a line in CUTS.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, replace

from settwright.body import Body
from settwright.commission.design import (
    BackShoulder,
    BodyCut,
    BustDart,
    CentreBack,
    Closing,
    CollarStyle,
    FrontEdge,
    FrontPocket,
    FrontStyle,
    JacketDesign,
    LowerSection,
    SkirtCut,
    SkirtDesign,
    SleeveCut,
    SleeveLength,
    StandEnds,
    TrousersDesign,
    TrousersWaist,
    Vent,
    WaistFinish,
)
from settwright.pattern.drafts.jacket import draft_jacket
from settwright.pattern.drafts.skirt import draft_skirt
from settwright.pattern.drafts.trousers import draft_trousers
from settwright.pattern.piece import Draft


@dataclass(frozen=True)
class Cut:
    """A cut: how it is drafted, and which seams are laid together in its assembled flats.

    Each of `flats` is a chain of seams, each with the stop at which it is laid together, edges pointing the same way:
    "side@hem"; without one, at its last stop. `over` is such a chain for the close view of neck and armhole on both
    sides of the shoulder. `in_sizes` draws it as a nest as well.
    """

    name: str
    title: str
    draft: Callable[[Body], Draft]
    flats: tuple[tuple[str, ...], ...]
    over: tuple[str, ...] = ()
    in_sizes: bool = False
    jacket: JacketDesign | None = None


BELOW_THE_WAIST = (
    "waist-back@centre-back",
    "waist-side-back",
    "waist-side",
    "waist-side-front",
    "waist-front-2",
    "waist-front",
)
AROUND = ("side-back", "princess-back", "side-2", "side", "side-front", "princess-front", *BELOW_THE_WAIST)
OVER = ("shoulder", "side-shoulder")
AROUND_THE_NECK = ("raglan-front@neck", "raglan-back@neck", "overarm@neck-point")
GROWN_ON = ("overarm@shoulder-point",)


def jacket(name: str, title: str, design: JacketDesign, *, in_sizes: bool = False) -> Cut:
    """Returns the cut of a jacket: assembled round the body and over the shoulder, or along the sleeve's own seams."""
    flats = {SleeveCut.RAGLAN: (AROUND, AROUND_THE_NECK), SleeveCut.KIMONO: (GROWN_ON,)}
    has_shoulder = design.sleeve_cut not in flats
    return Cut(
        name,
        title,
        lambda body: draft_jacket(body, design, 1.0),
        flats.get(design.sleeve_cut, (AROUND,)),
        OVER if has_shoulder else (),
        in_sizes,
        design,
    )


def skirt(name: str, title: str, design: SkirtDesign, *, in_sizes: bool = False) -> Cut:
    """Returns the cut of a skirt, assembled at the side."""
    return Cut(name, title, lambda body: draft_skirt(body, design, None), (("skirt-side@hip",),), (), in_sizes)


def trousers(name: str, title: str, design: TrousersDesign, *, in_sizes: bool = False) -> Cut:
    """Returns the cut of a pair of trousers, assembled at the fork."""
    return Cut(name, title, lambda body: draft_trousers(body, design), (("trousers-inseam@fork",),), (), in_sizes)


PLAIN = JacketDesign()
COAT = replace(PLAIN, length_below_waist=600.0)
DARTED = replace(PLAIN, body_cut=BodyCut.DARTED)
SHOULDER = replace(PLAIN, body_cut=BodyCut.PRINCESS_SHOULDER)
ARMHOLE = replace(PLAIN, body_cut=BodyCut.PRINCESS_ARMHOLE)
SEAMED = {"waist_seam": True}

CUTS: tuple[Cut, ...] = (
    jacket("side-panel", "Side panel, dart under the lapel", PLAIN, in_sizes=True),
    jacket("side-panel-coat", "Side panel, coat length, back vent", replace(COAT, vent=Vent.BACK, vent_length=300.0)),
    jacket(
        "side-panel-folded",
        "Side panel, the front cut in one with its facing",
        replace(PLAIN, front_edge=FrontEdge.EXTENDED),
    ),
    jacket("darted", "Darted, side bust dart", DARTED, in_sizes=True),
    jacket(
        "darted-shoulder",
        "Darted from the shoulder, back shoulder dart, back on the fold",
        replace(DARTED, bust_dart=BustDart.SHOULDER, back_shoulder=BackShoulder.DART, centre_back=CentreBack.FOLD),
    ),
    jacket("darted-short", "Short darted jacket", replace(DARTED, length_below_waist=150.0)),
    jacket("princess-shoulder", "Princess from the shoulder", SHOULDER, in_sizes=True),
    jacket(
        "princess-shoulder-coat",
        "Princess from the shoulder, coat length, double-breasted",
        replace(SHOULDER, length_below_waist=600.0, closing=Closing.DOUBLE),
    ),
    jacket(
        "princess-armhole", "Princess from the armhole, side vents", replace(ARMHOLE, vent=Vent.SIDES), in_sizes=True
    ),
    jacket(
        "waist-seam",
        "Side panel with a waist seam, straight below it",
        replace(PLAIN, **SEAMED),
    ),
    jacket(
        "waist-seam-flared",
        "Princess from the shoulder with a flared section below the waist",
        replace(SHOULDER, **SEAMED, lower_section=LowerSection.FLARED),
    ),
    jacket(
        "waist-seam-padded",
        "Darted with a section for padded hips",
        replace(DARTED, **SEAMED, lower_section=LowerSection.PADDED_HIP, length_below_waist=200.0),
    ),
    jacket(
        "peaked",
        "Peaked lapel, welt pockets",
        replace(PLAIN, front_style=FrontStyle.PEAKED, lapel_width=92.0, buttons=2, pockets=FrontPocket.WELT),
    ),
    jacket(
        "peaked-double",
        "Peaked lapel, double-breasted",
        replace(PLAIN, front_style=FrontStyle.PEAKED, closing=Closing.DOUBLE, lapel_width=98.0),
    ),
    jacket("shawl", "Shawl collar", replace(PLAIN, front_style=FrontStyle.SHAWL, buttons=1)),
    jacket(
        "shawl-double",
        "Shawl collar, double-breasted, the facing split below the break point",
        replace(PLAIN, front_style=FrontStyle.SHAWL, closing=Closing.DOUBLE, buttons=2, facing_split=60.0),
    ),
    jacket(
        "v-neck",
        "V neck without collar, jetted pockets",
        replace(PLAIN, front_style=FrontStyle.V_NECK, pockets=FrontPocket.JETTED),
    ),
    jacket(
        "round-neck",
        "Round neck without collar, edge to edge",
        replace(PLAIN, front_style=FrontStyle.ROUND_NECK, closing=Closing.EDGE_TO_EDGE, neck_drop=40.0, buttons=5),
    ),
    jacket(
        "round-neck-double",
        "Round neck without collar, double-breasted",
        replace(PLAIN, front_style=FrontStyle.ROUND_NECK, closing=Closing.DOUBLE, buttons=4),
    ),
    jacket(
        "crossed",
        "Crossed-over front, patch pockets",
        replace(PLAIN, front_style=FrontStyle.CROSSED, buttons=2, pockets=FrontPocket.PATCH),
    ),
    jacket(
        "crossed-straight",
        "Crossed-over front with straight edges, princess from the shoulder",
        replace(SHOULDER, front_style=FrontStyle.CROSSED, buttons=1, neck_edge_hollow=0.0),
    ),
    jacket(
        "stand-collar",
        "Stand collar, round ends",
        replace(PLAIN, front_style=FrontStyle.ROUND_NECK, collar_style=CollarStyle.STAND, buttons=6),
    ),
    jacket(
        "stand-collar-double",
        "Stand collar in halves, square ends, double-breasted",
        replace(
            PLAIN,
            front_style=FrontStyle.ROUND_NECK,
            collar_style=CollarStyle.STAND,
            stand_ends=StandEnds.SQUARE,
            stand_halves=True,
            closing=Closing.DOUBLE,
            buttons=5,
        ),
    ),
    jacket(
        "sleeve-three-quarter",
        "Three-quarter sleeve in two pieces",
        replace(PLAIN, sleeve_length=SleeveLength.THREE_QUARTER),
    ),
    jacket("sleeve-vent", "Two-piece sleeve with a vent", replace(PLAIN, sleeve_vent=100.0)),
    jacket("sleeve-one-piece", "One-piece sleeve with an elbow dart", replace(PLAIN, sleeve_cut=SleeveCut.ONE_PIECE)),
    jacket(
        "sleeve-one-piece-eased",
        "One-piece sleeve, the elbow eased",
        replace(DARTED, sleeve_cut=SleeveCut.ONE_PIECE, elbow_dart=False),
    ),
    jacket("sleeve-raglan", "Raglan sleeve", replace(DARTED, sleeve_cut=SleeveCut.RAGLAN), in_sizes=True),
    jacket("sleeve-kimono", "Kimono sleeve with a gusset", replace(DARTED, sleeve_cut=SleeveCut.KIMONO), in_sizes=True),
    jacket(
        "sleeve-kimono-lifted",
        "Kimono sleeve lifted, without a gusset",
        replace(DARTED, sleeve_cut=SleeveCut.KIMONO, sleeve_lift=math.radians(68)),
    ),
    skirt("skirt-straight", "Straight skirt", SkirtDesign(), in_sizes=True),
    skirt("skirt-ribbon", "Straight skirt, waist faced with ribbon", SkirtDesign(waist_finish=WaistFinish.RIBBON)),
    skirt("skirt-bodice-top", "Straight skirt on a bodice top", SkirtDesign(waist_finish=WaistFinish.BODICE_TOP)),
    skirt("skirt-flared", "Slightly flared skirt", SkirtDesign(cut=SkirtCut.FLARED, vent_length=0.0), in_sizes=True),
    skirt("skirt-pleated", "Pleated on the bars", SkirtDesign(cut=SkirtCut.PLEATED)),
    trousers("trousers", "Trousers, flat front", TrousersDesign(), in_sizes=True),
    trousers("trousers-pleated", "Trousers, two pleats", TrousersDesign(pleats=2)),
    trousers(
        "trousers-ribbon",
        "Trousers, one pleat, waist faced with ribbon",
        TrousersDesign(pleats=1, waist=TrousersWaist.RIBBON),
    ),
)
