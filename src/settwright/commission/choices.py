"""Reads what was chosen of a garment's cut; what wasn't is the custom, and is said to be.

Limits are plausibility guards from memory, no source; what a body makes impossible, its draft refuses.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace
from typing import Any

from settwright.cloth import Cloth
from settwright.commission.design import (
    BackShoulder,
    BodyCut,
    BustDart,
    CentreBack,
    Closing,
    CollarStyle,
    FacingGrain,
    FlyLap,
    FrontEdge,
    FrontPocket,
    FrontStyle,
    JacketDesign,
    JacketEase,
    JacketMoved,
    LowerSection,
    SkirtCut,
    SkirtDesign,
    SkirtMoved,
    SleeveCut,
    SleeveLength,
    StandEnds,
    TrousersDesign,
    TrousersWaist,
    Vent,
    WaistFinish,
)
from settwright.commission.desk import Desk
from settwright.commission.document import (
    EaseForm,
    JacketForm,
    JacketMovedForm,
    SkirtForm,
    SkirtMovedForm,
    TrousersForm,
)
from settwright.commission.fields import (
    AngleField,
    Bearing,
    CountField,
    Fields,
    LengthField,
    SwitchField,
    WordField,
    corrected,
    read_fields,
    say_customs,
)
from settwright.findings import Weight
from settwright.units import format_length

LAPELS = (FrontStyle.NOTCHED, FrontStyle.PEAKED)
PRINCESS = (BodyCut.PRINCESS_SHOULDER, BodyCut.PRINCESS_ARMHOLE)


def _turns_down(design: JacketDesign) -> bool:
    return design.front_style in (*LAPELS, FrontStyle.SHAWL)


def _buttons(design: JacketDesign) -> bool:
    return design.closing is not Closing.EDGE_TO_EDGE or design.front_style is FrontStyle.CROSSED


def takes_pockets(design: JacketDesign) -> bool:
    """Returns whether a cut can carry pockets: princess fronts are too narrow, a curved section takes none."""
    curved = design.waist_seam and design.lower_section is not LowerSection.STRAIGHT
    return design.body_cut not in PRINCESS and not curved


_ROLLED = Bearing("a front with lapel or shawl", _turns_down)
_COLLARLESS = Bearing(
    "a neckline without a collar",
    lambda d: not _turns_down(d) and d.collar_style is CollarStyle.OF_THE_FRONT,
)
_STAND = Bearing("a stand collar", lambda d: d.collar_style is CollarStyle.STAND)
_PEAKED = Bearing("a peaked lapel", lambda d: d.front_style is FrontStyle.PEAKED)
_FLAPPED = Bearing("flap pockets", lambda d: d.pocket is FrontPocket.FLAP)
_POCKETED = Bearing("pockets on the fronts", lambda d: d.pocket is not None)
_SET_IN = Bearing("a set-in sleeve", lambda d: d.sleeve_cut in (SleeveCut.TWO_PIECE, SleeveCut.ONE_PIECE))
_LOWER = Bearing("a section below a waist seam", lambda d: d.waist_seam)

_SLANTING = (FrontStyle.V_NECK, FrontStyle.CROSSED)

EASE: Fields = {
    "bust": LengthField(title="ease at the bust", least=20.0, most=350.0),
    "waist": LengthField(title="ease at the waist", least=20.0, most=350.0),
    "hip": LengthField(title="ease at the hip", least=10.0, most=350.0),
    "upper_arm": LengthField(title="ease at the upper arm", least=15.0, most=200.0),
}
JACKET: Fields = {
    # the body
    "body_cut": WordField(title="cut of the body", kind=BodyCut),
    "length_below_waist": LengthField(title="length below the waist", least=60.0, most=800.0),
    "bust_dart": WordField(
        title="place of the bust dart",
        kind=BustDart,
        of=Bearing("a darted body", lambda d: d.body_cut is BodyCut.DARTED),
    ),
    "back_shoulder": WordField(
        title="way to shape the back shoulder",
        kind=BackShoulder,
        of=Bearing("a body without a seam from the shoulder", lambda d: d.body_cut is not BodyCut.PRINCESS_SHOULDER),
    ),
    "shoulder_pad": LengthField(title="thickness of the shoulder pad", least=0.0, most=25.0),
    "centre_back": WordField(title="way to join the back", kind=CentreBack),
    "vent": WordField(title="place of the vent", kind=Vent),
    "vent_length": LengthField(
        title="length of the vent",
        least=40.0,
        most=500.0,
        of=Bearing("a jacket with vents", lambda d: d.vent is not Vent.NONE),
    ),
    "waist_seam": SwitchField(title="waist seam"),
    "lower_section": WordField(title="shape of the section below the waist seam", kind=LowerSection, of=_LOWER),
    "flare": LengthField(
        title="flare of the section",
        least=20.0,
        most=1500.0,
        of=Bearing(
            "a flared section below a waist seam", lambda d: d.waist_seam and d.lower_section is LowerSection.FLARED
        ),
    ),
    "hip_pad": LengthField(
        title="thickness of the hip's padding",
        least=0.0,
        most=40.0,
        of=Bearing("a section for padded hips", lambda d: d.waist_seam and d.lower_section is LowerSection.PADDED_HIP),
    ),
    # the front
    "front_style": WordField(title="style of the front", kind=FrontStyle),
    "closing": WordField(
        title="way to close the front",
        kind=Closing,
        of=Bearing("a front that isn't crossed over", lambda d: d.front_style is not FrontStyle.CROSSED),
    ),
    "buttons": CountField(title="buttons", least=1, most=6, of=Bearing("a front that buttons", _buttons)),
    "button_diameter": LengthField(
        title="diameter of a button", least=8.0, most=45.0, of=Bearing("a front that buttons", _buttons)
    ),
    "wrap": LengthField(
        title="wrap beyond centre front",
        least=10.0,
        most=60.0,
        of=Bearing(
            "a single-breasted front",
            lambda d: d.closing is Closing.SINGLE and d.front_style is not FrontStyle.CROSSED,
        ),
    ),
    "double_wrap": LengthField(
        title="wrap of a double-breasted front",
        least=50.0,
        most=110.0,
        of=Bearing(
            "a double-breasted front",
            lambda d: d.closing is Closing.DOUBLE and d.front_style is not FrontStyle.CROSSED,
        ),
    ),
    "crossed_wrap": LengthField(
        title="wrap of a crossed-over front",
        least=60.0,
        most=180.0,
        of=Bearing("a crossed-over front", lambda d: d.front_style is FrontStyle.CROSSED),
    ),
    "front_edge": WordField(title="way to finish the edge", kind=FrontEdge),
    "facing_grain": WordField(title="grain of the facing", kind=FacingGrain),
    "facing_split": LengthField(
        title="place of the facing's join below the break point",
        least=10.0,
        most=400.0,
        unset="the facing in one piece",
    ),
    "split_button": CountField(title="button at which the facing is joined", least=1, most=6, unset="at none"),
    "second_split": LengthField(
        title="place of a second join below the first", least=40.0, most=400.0, unset="no second join"
    ),
    "front_hem_radius": LengthField(title="rounding of the front at the hem", least=0.0, most=150.0),
    "lapel_width": LengthField(title="width of the lapel", least=40.0, most=130.0, of=_ROLLED),
    "peak_angle": AngleField(title="rise of the peak", least=15.0, most=80.0, of=_PEAKED),
    "peak_length": LengthField(title="length of the peak", least=25.0, most=110.0, of=_PEAKED),
    "collar_style": WordField(title="style of the collar", kind=CollarStyle),
    "collar_stand": LengthField(title="stand of the collar", least=12.0, most=50.0, of=_ROLLED),
    "collar_fall": LengthField(title="fall of the collar", least=20.0, most=90.0, of=_ROLLED),
    "neck_opening": LengthField(title="opening of the neck", least=0.0, most=60.0, of=_COLLARLESS),
    "neck_drop": LengthField(
        title="depth of the round neck",
        least=0.0,
        most=140.0,
        of=Bearing(
            "a round neck without a collar",
            lambda d: d.front_style is FrontStyle.ROUND_NECK and d.collar_style is CollarStyle.OF_THE_FRONT,
        ),
    ),
    "neck_edge_hollow": LengthField(
        title="hollow of the neck's edge",
        least=-15.0,
        most=25.0,
        of=Bearing(
            "a V neck or a crossed-over front whose neck's edge is no fold",
            lambda d: d.front_style in _SLANTING and d.front_edge is not FrontEdge.TO_NECK,
        ),
    ),
    "stand_height": LengthField(title="height of the stand collar", least=15.0, most=90.0, of=_STAND),
    "stand_lean": AngleField(title="lean of the stand collar", least=0.0, most=20.0, of=_STAND),
    "stand_ends": WordField(title="shape of the stand collar's ends", kind=StandEnds, of=_STAND),
    "stand_halves": SwitchField(title="stand collar in halves", of=_STAND),
    # pockets
    "pockets": WordField(title="kind of the fronts' pockets", kind=FrontPocket, of=_POCKETED),
    "flaps": SwitchField(
        title="flap pockets", of=Bearing("pockets with flaps", lambda d: d.pockets is FrontPocket.FLAP)
    ),
    "flap_width": LengthField(title="width of a flap, welt or patch", least=80.0, most=200.0, of=_POCKETED),
    "flap_depth": LengthField(title="depth of a flap", least=25.0, most=90.0, of=_FLAPPED),
    # the sleeve
    "sleeve_cut": WordField(title="cut of the sleeve", kind=SleeveCut),
    "sleeve_length": WordField(title="length of the sleeve", kind=SleeveLength),
    "sleeve_hem": LengthField(title="width round the sleeve's hem", least=180.0, most=400.0, unset="by the arm"),
    "sleeve_vent": LengthField(
        title="length of the sleeve's vent",
        least=0.0,
        most=200.0,
        of=Bearing("a two-piece sleeve", lambda d: d.sleeve_cut is SleeveCut.TWO_PIECE),
    ),
    "cap_ease": LengthField(title="ease of the sleeve's cap", least=0.0, most=70.0, of=_SET_IN),
    "elbow_dart": SwitchField(
        title="elbow dart", of=Bearing("a one-piece sleeve", lambda d: d.sleeve_cut is SleeveCut.ONE_PIECE)
    ),
    "sleeve_lift": AngleField(
        title="lift of the sleeve",
        least=35.0,
        most=85.0,
        of=Bearing("a kimono sleeve", lambda d: d.sleeve_cut is SleeveCut.KIMONO),
    ),
    "raglan_reach": LengthField(
        title="reach of the raglan seam along the neck",
        least=15.0,
        most=70.0,
        of=Bearing("a raglan sleeve", lambda d: d.sleeve_cut is SleeveCut.RAGLAN),
    ),
}

_PLEATED = Bearing("a pleated skirt", lambda d: d.cut is SkirtCut.PLEATED)
_NOT_PLEATED = Bearing("a skirt without pleats", lambda d: d.cut is not SkirtCut.PLEATED)
_RIBBON = Bearing("a waist faced with a ribbon", lambda d: d.waist_finish is WaistFinish.RIBBON)
_TOP = Bearing("a bodice top", lambda d: d.waist_finish is WaistFinish.BODICE_TOP)

SKIRT: Fields = {
    "cut": WordField(title="cut of the skirt", kind=SkirtCut),
    "length": LengthField(title="length of the skirt", least=250.0, most=1200.0),
    "ease_waist": LengthField(title="ease at the waist", least=0.0, most=60.0),
    "ease_hip": LengthField(title="ease at the hip", least=5.0, most=250.0),
    "hem_taper": LengthField(
        title="taper of each side seam at the hem",
        least=-200.0,
        most=60.0,
        of=Bearing("a straight skirt", lambda d: d.cut is SkirtCut.STRAIGHT),
    ),
    "flare": LengthField(
        title="flare at the hem",
        least=40.0,
        most=700.0,
        of=Bearing("a flared skirt", lambda d: d.cut is SkirtCut.FLARED),
    ),
    "pleat_repeat": LengthField(title="repeat on which the pleats are laid", least=15.0, most=150.0, of=_PLEATED),
    "zip_length": LengthField(title="length of the zip", least=100.0, most=260.0),
    "vent_length": LengthField(title="length of the vent", least=0.0, most=600.0, of=_NOT_PLEATED),
    "waist_finish": WordField(title="finish of the waist", kind=WaistFinish),
    "waistband_width": LengthField(
        title="width of the waistband",
        least=10.0,
        most=90.0,
        of=Bearing("a waistband", lambda d: d.waist_finish is WaistFinish.WAISTBAND),
    ),
    "held_in": LengthField(title="what the ribbon holds the waist in", least=0.0, most=50.0, of=_RIBBON),
    "ribbon_width": LengthField(title="width of the ribbon", least=10.0, most=60.0, of=_RIBBON),
    "top_ease": LengthField(title="ease of the bodice top at the bust", least=10.0, most=150.0, of=_TOP),
    "let_out": LengthField(title="reserve at the seams of the bodice top", least=10.0, most=50.0, of=_TOP),
}

# what gives way to the cloth's bars; not said, it stays where it is, and no word is lost on it
JACKET_MOVED: Fields = {
    "centre_back": LengthField(title="straightening of the centre back", least=0.0, most=10.0),
    "side_back": LengthField(title="move of the side back seam", least=-20.0, most=20.0),
    "side_front": LengthField(title="move of the side front seam", least=-20.0, most=20.0),
    "front_dart": LengthField(title="move of the front's dart", least=-15.0, most=15.0),
    "pocket": LengthField(title="move of the pocket", least=-20.0, most=20.0),
    "buttons": LengthField(title="move of the buttons", least=-20.0, most=20.0),
}
SKIRT_MOVED: Fields = {
    "front_dart": LengthField(title="move of the front's darts", least=-15.0, most=15.0),
    "back_darts": LengthField(title="move of the back's darts", least=-15.0, most=15.0),
}

_BANDED = Bearing("a waistband", lambda d: d.waist is not TrousersWaist.RIBBON)

TROUSERS: Fields = {
    "hem_above_floor": LengthField(title="height of the hem over the floor", least=-40.0, most=600.0),
    "hem_slant": LengthField(title="slant of the hem", least=0.0, most=15.0),
    "ease_waist": LengthField(title="ease at the waist", least=0.0, most=80.0),
    "ease_hip": LengthField(title="ease at the hip", least=5.0, most=250.0),
    "ease_thigh": LengthField(title="ease at the thigh", least=20.0, most=350.0),
    "ease_rise": LengthField(title="ease of the rise", least=0.0, most=60.0),
    "pleats": CountField(title="pleats on each half", least=0, most=2),
    "back_darts": CountField(title="back darts on each half", least=1, most=2),
    "knee_width": LengthField(title="width round the knee", least=280.0, most=900.0, unset="by hip and knee"),
    "hem_width": LengthField(title="width round the hem", least=220.0, most=900.0, unset="by the knee's width"),
    "waist": WordField(title="finish of the waist", kind=TrousersWaist),
    "waistband_width": LengthField(title="width of the waistband", least=15.0, most=90.0, of=_BANDED),
    "zip_length": LengthField(title="length of the zip", least=90.0, most=260.0),
    "fly_lap": WordField(title="side of the fly that lies on top", kind=FlyLap),
    "pockets": SwitchField(title="side pockets"),
}


Corrections = Mapping[str, float]
"""What the fittings correct of a cut's lengths: mm by dotted field ("jacket.ease.waist")."""


def read_jacket(desk: Desk, form: JacketForm, corrections: Corrections) -> JacketDesign:
    """Returns the jacket's design; fields that can't be read, and choices that exclude each other, are noted."""
    ease_form = form.ease or EaseForm()
    ease = replace(JacketEase(), **read_fields(desk, ("jacket", "ease"), ease_form, EASE))
    values = read_fields(desk, ("jacket",), form, JACKET)
    moved = JacketMoved(**read_fields(desk, ("jacket", "moved"), form.moved or JacketMovedForm(), JACKET_MOVED))
    design = replace(JacketDesign(ease=ease, moved=moved), **values)
    if form.body_cut is None and design.sleeve_cut is SleeveCut.KIMONO:
        design = replace(design, body_cut=BodyCut.DARTED)
    if form.flaps is None:
        design = replace(design, flaps=takes_pockets(design))
    say_customs(desk, ("jacket", "ease"), ease_form, ease, EASE)
    say_customs(desk, ("jacket",), form, design, JACKET)
    ease = corrected(desk, ("jacket", "ease"), ease, EASE, corrections)
    moved = corrected(desk, ("jacket", "moved"), moved, JACKET_MOVED, corrections)
    design = corrected(desk, ("jacket",), replace(design, ease=ease, moved=moved), JACKET, corrections)
    _check_front(desk, design)
    _check_collar(desk, design)
    _check_body(desk, design)
    _check_sleeve(desk, design)
    return design


def _check_front(desk: Desk, design: JacketDesign) -> None:
    def refuse(field: str, what: str, remedy: str) -> None:
        desk.refuse(("jacket", field), what, remedy)

    least = design.button_diameter / 2 + 3
    field = "double_wrap" if design.closing is Closing.DOUBLE else "wrap"
    wraps = design.closing is not Closing.EDGE_TO_EDGE and design.front_style is not FrontStyle.CROSSED
    if wraps and design.reach < least:
        refuse(
            field,
            f"a wrap of {format_length(design.reach, desk.units)} is too little for a button of "
            f"{format_length(design.button_diameter, desk.units)}: it would stand over the edge.",
            f"Wrap at least {format_length(least, desk.units)}: half the button and a little more.",
        )
    _check_facing(refuse, design)


def _check_facing(refuse: Callable[[str, str, str], None], design: JacketDesign) -> None:
    sewn_on = 'Choose a facing sewn on (front_edge = "separate")'
    in_one = design.front_edge is not FrontEdge.SEPARATE
    if in_one and design.waist_seam:
        refuse(
            "front_edge",
            "a waist seam would cut the front off from the facing that is cut in one with it.",
            f"{sewn_on}, or leave the waist seam out.",
        )
    joins = [field for field in ("facing_split", "split_button", "second_split") if getattr(design, field) is not None]
    if design.front_edge is FrontEdge.EXTENDED and design.front_style is FrontStyle.SHAWL:
        refuse(
            "front_edge",
            "a shawl's edge curves from the break point on and can't be a fold.",
            f'{sewn_on}, or split below the break (front_edge = "split").',
        )
    if design.front_edge is FrontEdge.TO_NECK and design.front_style not in _SLANTING:
        what = (
            "a round neck's edge curves, and up to it the edge is straight: nothing is left over to fold at the top"
            " button."
            if design.front_style is FrontStyle.ROUND_NECK
            else "above its top button a lapel's edge leans outwards: there cloth is wanting, not left over to fold."
        )
        refuse("front_edge", what, f'Choose front_edge = "extended" or "split". {sewn_on[:1].upper()}{sewn_on[1:]}.')
    if design.front_edge is FrontEdge.TO_NECK and design.sleeve_cut is SleeveCut.RAGLAN:
        refuse(
            "front_edge",
            "a raglan sleeve takes the end of the neck with it: the neck's edge can't be one fold.",
            f'End the fold at the break point (front_edge = "extended"). {sewn_on[:1].upper()}{sewn_on[1:]}.',
        )
    if design.front_edge.is_in_one:
        if design.facing_grain is FacingGrain.ACROSS:
            refuse(
                "facing_grain",
                "a facing cut in one with the front has the front's grain, which can't lie across its edge.",
                f'{sewn_on}, or split (front_edge = "split").',
            )
        if design.front_edge is FrontEdge.TO_NECK and design.facing_grain is FacingGrain.ALONG:
            refuse(
                "facing_grain",
                "a facing folded over at front edge and neck has the grain that its two folds give it.",
                'Leave its grain as the front\'s, or end the fold at the break point (front_edge = "extended").',
            )
        for field in joins:
            refuse(
                field,
                "a facing cut in one with the front all along has no join.",
                f'{sewn_on}, or front_edge = "split", or take {field} out.',
            )
    if "facing_split" in joins and "split_button" in joins:
        refuse("split_button", "the join's place is given twice.", "Keep facing_split or split_button.")
    if "second_split" in joins and (len(joins) == 1 or design.front_edge is FrontEdge.SPLIT):
        what = (
            "the lower part is cut in one with the front, so there is nothing to join below."
            if design.front_edge is FrontEdge.SPLIT
            else "a second join needs a first."
        )
        refuse("second_split", what, "Take it out, or give facing_split and a facing sewn on.")


def _check_collar(desk: Desk, design: JacketDesign) -> None:
    if _turns_down(design) and design.collar_fall <= design.collar_stand:
        desk.refuse(
            ("jacket", "collar_fall"),
            f"a fall of {format_length(design.collar_fall, desk.units)} doesn't cover a stand of "
            f"{format_length(design.collar_stand, desk.units)}.",
            f"Make the fall about {format_length(10, desk.units)} more than the stand.",
        )
    if design.collar_style is CollarStyle.STAND and design.front_style is not FrontStyle.ROUND_NECK:
        desk.refuse(
            ("jacket", "collar_style"),
            "a stand collar is sewn to a round neck, and this front has another.",
            'Write front_style = "round neck" with it, or take the stand collar out.',
        )


def _check_body(desk: Desk, design: JacketDesign) -> None:
    def refuse(field: str, what: str, remedy: str) -> None:
        desk.refuse(("jacket", field), what, remedy)

    if design.vent is Vent.BACK and design.centre_back is CentreBack.FOLD:
        refuse(
            "vent",
            "a centre back that is a fold has no seam to leave open.",
            'Write centre_back = "seam", or vent = "sides".',
        )
    if design.vent is not Vent.NONE and design.vent_length > design.length_below_waist - 30:
        refuse(
            "vent_length",
            f"a vent of {format_length(design.vent_length, desk.units)} in a jacket that reaches "
            f"{format_length(design.length_below_waist, desk.units)} below the waist would open into the waist.",
            f"Make it {format_length(design.length_below_waist - 30, desk.units)} at most.",
        )
    if not design.waist_seam and design.lower_section is not LowerSection.STRAIGHT:
        refuse(
            "lower_section",
            f"a {design.lower_section} section is sewn on at a waist seam, and this body has none.",
            "Write waist_seam = true, or take lower_section out.",
        )
    if design.waist_seam and design.lower_section is not LowerSection.STRAIGHT and design.front_hem_radius > 0:
        refuse(
            "front_hem_radius",
            "a section that curves at the hem takes no rounded corner in front.",
            'Write front_hem_radius = 0, or lower_section = "straight".',
        )
    if design.pocket is not None and not takes_pockets(design):
        kind, field = str(design.pocket), "flaps" if design.pocket is FrontPocket.FLAP else "pockets"
        without = "Write flaps = false" if field == "flaps" else "Take pockets out"
        if design.body_cut in PRINCESS:
            refuse(
                field,
                f"the front of a princess body is too narrow for {kind} pockets: its seam would run through them.",
                f"{without}, or choose a darted body or side panels.",
            )
        else:
            refuse(
                field,
                f"a section that springs out below the waist takes no {kind} pockets.",
                f'{without}, or write lower_section = "straight".',
            )


def _check_sleeve(desk: Desk, design: JacketDesign) -> None:
    def refuse(field: str, what: str, remedy: str) -> None:
        desk.refuse(("jacket", field), what, remedy)

    if design.sleeve_vent > 0 and design.sleeve_cut is not SleeveCut.TWO_PIECE:
        refuse(
            "sleeve_vent",
            "a sleeve's vent opens the hindarm seam of a two-piece sleeve, and this sleeve has no such seam.",
            'Take it out, or write sleeve_cut = "two-piece".',
        )
    if design.sleeve_cut is SleeveCut.KIMONO and design.body_cut in (BodyCut.SIDE_PANEL, BodyCut.PRINCESS_ARMHOLE):
        refuse(
            "sleeve_cut",
            f"a kimono sleeve grows on a body with a single seam under the arm, and a {_body_said(design)} has "
            "none there or seams that end in the armhole.",
            'Write body_cut = "darted" or "princess from the shoulder".',
        )
    if design.sleeve_cut is SleeveCut.RAGLAN:
        if design.body_cut in PRINCESS:
            refuse(
                "sleeve_cut",
                "the raglan's line would cut through the princess seams.",
                'Write body_cut = "darted" or "side panel".',
            )
        if design.front_style is FrontStyle.SHAWL:
            refuse(
                "sleeve_cut",
                "a shawl collar grows from the front's neck, and the raglan's line would cut it off there.",
                'Write front_style = "notched lapel", or sleeve_cut = "two-piece".',
            )
    if design.sleeve_cut in (SleeveCut.RAGLAN, SleeveCut.KIMONO):
        on_it = f"would lie on the {design.sleeve_cut} sleeve, which takes the shoulder."
        if design.body_cut is BodyCut.DARTED and design.bust_dart is BustDart.SHOULDER:
            refuse("bust_dart", f"a dart in the front's shoulder {on_it}", 'Write bust_dart = "side".')
        if design.back_shoulder is BackShoulder.DART and design.body_cut is not BodyCut.PRINCESS_SHOULDER:
            refuse("back_shoulder", f"a dart in the back's shoulder {on_it}", 'Write back_shoulder = "ease".')


def _body_said(design: JacketDesign) -> str:
    return "side-panel body" if design.body_cut is BodyCut.SIDE_PANEL else "body with princess seams from the armhole"


def read_skirt(desk: Desk, form: SkirtForm, shell: Cloth | None, corrections: Corrections) -> SkirtDesign:
    """Returns the skirt's design; fields that can't be read are noted at the desk.

    A pleated skirt is laid on the repeat of the shell's upright bars.
    """
    moved = SkirtMoved(**read_fields(desk, ("skirt", "moved"), form.moved or SkirtMovedForm(), SKIRT_MOVED))
    design = replace(SkirtDesign(moved=moved), **read_fields(desk, ("skirt",), form, SKIRT))
    told = SKIRT
    if design.cut is SkirtCut.PLEATED:
        repeat = shell.warp.repeat if shell is not None and shell.has_upright_bars else None
        if form.pleat_repeat is None and repeat is not None:
            told = {name: field for name, field in SKIRT.items() if name != "pleat_repeat"}
            design = _on_the_bars(desk, design, repeat)
        elif repeat is not None and abs(design.pleat_repeat / repeat - round(design.pleat_repeat / repeat)) > 1e-3:
            desk.say(
                Weight.CAUTION,
                ("skirt", "pleat_repeat"),
                f"the cloth's upright bars repeat at {format_length(repeat, desk.units)}; folds laid at "
                f"{format_length(design.pleat_repeat, desk.units)} will show another bar each.",
                "Take it out, and the pleats are laid on the bars.",
            )
    say_customs(desk, ("skirt",), form, design, told)
    moved = corrected(desk, ("skirt", "moved"), moved, SKIRT_MOVED, corrections)
    design = corrected(desk, ("skirt",), replace(design, moved=moved), SKIRT, corrections)
    if design.cut is not SkirtCut.PLEATED and design.vent_length > design.length - 250:
        desk.refuse(
            ("skirt", "vent_length"),
            f"a vent of {format_length(design.vent_length, desk.units)} in a skirt of "
            f"{format_length(design.length, desk.units)} would open above the hip.",
            "Shorten the vent: its top should lie well below the seat.",
        )
    return design


def _on_the_bars(desk: Desk, design: SkirtDesign, repeat: float) -> SkirtDesign:
    """Returns a pleated design laid on a repeat: as it is, or the fewest of a narrow one that make a pleat."""
    field: Any = SKIRT["pleat_repeat"]
    count = max(1, -int(-field.least // repeat))
    if repeat > field.most:
        desk.refuse(
            ("skirt", "cut"),
            f"the cloth's upright bars repeat at {format_length(repeat, desk.units)}: too wide for every fold to lie "
            "on the same bar.",
            f'Choose cut = "flared" or "straight", or say pleat_repeat yourself, up to '
            f"{format_length(field.most, desk.units)}.",
        )
        return design
    taken = "the repeat of the cloth's upright bars" if count == 1 else f"{count} repeats of the cloth's upright bars"
    desk.say(
        Weight.DEFAULT,
        ("skirt", "pleat_repeat"),
        f"not said; the pleats are laid on {taken}, {format_length(count * repeat, desk.units)}.",
    )
    return replace(design, pleat_repeat=count * repeat)


def read_trousers(desk: Desk, form: TrousersForm, laps: FlyLap, corrections: Corrections) -> TrousersDesign:
    """Returns the trousers' design; `laps` is the side that the fly takes where nothing is said."""
    usual = TrousersDesign(fly_lap=laps)
    design = replace(usual, **read_fields(desk, ("trousers",), form, TROUSERS))
    say_customs(desk, ("trousers",), form, design, TROUSERS)
    design = corrected(desk, ("trousers",), design, TROUSERS, corrections)
    if design.hem_width is not None and design.knee_width is not None and design.hem_width > design.knee_width + 250:
        desk.refuse(
            ("trousers", "hem_width"),
            f"a hem of {format_length(design.hem_width, desk.units)} under a knee of "
            f"{format_length(design.knee_width, desk.units)} can't be drawn fair.",
            "Widen the knee with it.",
        )
    return design
