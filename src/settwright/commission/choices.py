"""Reads what was chosen of a garment's cut; what wasn't is the custom, and is said to be."""

from __future__ import annotations

from dataclasses import replace

import msgspec

from settwright.commission.design import FacingGrain, FrontEdge, JacketDesign, JacketEase, SkirtDesign
from settwright.commission.desk import Desk
from settwright.commission.document import EaseForm, JacketForm, SkirtForm
from settwright.commission.lines import Path
from settwright.findings import Weight
from settwright.units import format_length

# field: (title, least, most), in mm; limits are plausibility guards from memory, no source.
_EASE = {
    "bust": ("ease at the bust", 20.0, 350.0),
    "waist": ("ease at the waist", 20.0, 350.0),
    "hip": ("ease at the hip", 10.0, 350.0),
    "upper_arm": ("ease at the upper arm", 15.0, 200.0),
}
_JACKET = {
    "length_below_waist": ("length below the waist", 60.0, 800.0),
    "button_diameter": ("diameter of a button", 8.0, 45.0),
    "wrap": ("wrap beyond centre front", 10.0, 60.0),
    "lapel_width": ("width of the lapel", 40.0, 130.0),
    "collar_stand": ("stand of the collar", 12.0, 50.0),
    "collar_fall": ("fall of the collar", 20.0, 90.0),
    "shoulder_pad": ("thickness of the shoulder pad", 0.0, 25.0),
    "front_hem_radius": ("rounding of the front at the hem", 0.0, 150.0),
    "flap_width": ("width of a flap", 80.0, 200.0),
    "flap_depth": ("depth of a flap", 25.0, 90.0),
    "cap_ease": ("ease of the sleeve's cap", 0.0, 70.0),
}
_SKIRT = {
    "length": ("length of the skirt", 250.0, 1200.0),
    "ease_waist": ("ease at the waist", 0.0, 60.0),
    "ease_hip": ("ease at the hip", 5.0, 250.0),
    "hem_taper": ("taper of each side seam at the hem", -200.0, 60.0),
    "waistband_width": ("width of the waistband", 10.0, 90.0),
    "zip_length": ("length of the zip", 100.0, 260.0),
    "vent_length": ("length of the vent", 0.0, 600.0),
}
_MOST_BUTTONS = 6


def read_jacket(desk: Desk, form: JacketForm) -> JacketDesign:
    """Returns the jacket's design; fields that can't be read are noted at the desk."""
    path: Path = ("jacket",)
    ease = JacketEase(**_lengths(desk, (*path, "ease"), form.ease or EaseForm(), JacketEase(), _EASE))
    design = replace(JacketDesign(ease=ease), **_lengths(desk, path, form, JacketDesign(), _JACKET))
    if form.sleeve_hem is None:
        _usual(desk, (*path, "sleeve_hem"), "by the arm")
    else:
        hem = desk.length((*path, "sleeve_hem"), form.sleeve_hem, "width round the sleeve's hem", 180.0, 400.0)
        design = replace(design, sleeve_hem=hem)
    buttons, front_edge = design.buttons, design.front_edge
    if form.buttons is None:
        _usual(desk, (*path, "buttons"), f"{buttons}")
    elif 1 <= form.buttons <= _MOST_BUTTONS:
        buttons = form.buttons
    else:
        desk.refuse((*path, "buttons"), "a single-breasted front takes 1 to 6 buttons.", "Write a number from 1 to 6.")
    if form.front_edge is None:
        _usual(desk, (*path, "front_edge"), f"a {front_edge} facing")
    else:
        front_edge = (
            desk.word((*path, "front_edge"), form.front_edge, FrontEdge, "way to finish the edge") or front_edge
        )
    design = replace(design, buttons=buttons, front_edge=front_edge, facing_grain=_facing_grain(desk, path, form))
    if design.collar_fall <= design.collar_stand:
        desk.refuse(
            (*path, "collar_fall"),
            f"a fall of {format_length(design.collar_fall, desk.units)} doesn't cover a stand of "
            f"{format_length(design.collar_stand, desk.units)}.",
            f"Make the fall about {format_length(10, desk.units)} more than the stand.",
        )
    least = design.button_diameter / 2 + 3
    if design.wrap < least:
        desk.refuse(
            (*path, "wrap"),
            f"a wrap of {format_length(design.wrap, desk.units)} is too little for a button of "
            f"{format_length(design.button_diameter, desk.units)}: it would stand over the edge.",
            f"Wrap at least {format_length(least, desk.units)}: half the button and a little more.",
        )
    return design


def _facing_grain(desk: Desk, path: Path, form: JacketForm) -> FacingGrain:
    usual = JacketDesign().facing_grain
    if form.facing_grain is None:
        _usual(desk, (*path, "facing_grain"), f"{usual}")
        return usual
    return desk.word((*path, "facing_grain"), form.facing_grain, FacingGrain, "grain of a facing") or usual


def read_skirt(desk: Desk, form: SkirtForm) -> SkirtDesign:
    """Returns the skirt's design; fields that can't be read are noted at the desk."""
    design = replace(SkirtDesign(), **_lengths(desk, ("skirt",), form, SkirtDesign(), _SKIRT))
    if design.vent_length > design.length - 250:
        desk.refuse(
            ("skirt", "vent_length"),
            f"a vent of {format_length(design.vent_length, desk.units)} in a skirt of "
            f"{format_length(design.length, desk.units)} would open above the hip.",
            "Shorten the vent: its top should lie well below the seat.",
        )
    return design


def _lengths(
    desk: Desk,
    path: Path,
    form: msgspec.Struct,
    usual: JacketDesign | JacketEase | SkirtDesign,
    limits: dict[str, tuple[str, float, float]],
) -> dict[str, float]:
    """Returns a length for each field that `limits` names: as given, or the custom."""
    values: dict[str, float] = {}
    for field, (title, least, most) in limits.items():
        given = getattr(form, field)
        custom: float = getattr(usual, field)
        if given is None:
            _usual(desk, (*path, field), format_length(custom, desk.units))
            values[field] = custom
        else:
            read = desk.length((*path, field), given, title, least, most)
            values[field] = custom if read is None else read
    return values


def _usual(desk: Desk, path: Path, custom: str) -> None:
    desk.say(Weight.DEFAULT, path, f"not said; the custom was taken: {custom}.")
