"""The commission as it stands on paper: the form of the TOML document, format 1.

These are transport forms only, made anew at each reading and thrown away. A field that is left out is None; what a
figure means, and whether it can be true, is decided by reading.py, which makes a `Commission` of them.
docs/commission.md explains every field.
"""

from __future__ import annotations

import msgspec

Length = int | float | str
"""A figure in the commission's units, or words such as "38 1/2", "97,5", "12 mm"."""
Degrees = float | str
"""An angle in degrees, or words such as "50°"."""


class _Form(msgspec.Struct, forbid_unknown_fields=True):
    """Refuses a field that the format doesn't know."""


class ClientForm(_Form):
    """[client]."""

    name: str | None = None
    notes: str | None = None


class EaseForm(_Form):
    """[jacket.ease]."""

    bust: Length | None = None
    waist: Length | None = None
    hip: Length | None = None
    upper_arm: Length | None = None


class JacketMovedForm(_Form):
    """[jacket.moved]."""

    centre_back: Length | None = None
    side_back: Length | None = None
    side_front: Length | None = None
    front_dart: Length | None = None
    pocket: Length | None = None
    buttons: Length | None = None


class SkirtMovedForm(_Form):
    """[skirt.moved]."""

    front_dart: Length | None = None
    back_darts: Length | None = None


class JacketForm(_Form):
    """[jacket]."""

    body_cut: str | None = None
    length_below_waist: Length | None = None
    ease: EaseForm | None = None
    bust_dart: str | None = None
    back_shoulder: str | None = None
    shoulder_pad: Length | None = None
    centre_back: str | None = None
    vent: str | None = None
    vent_length: Length | None = None
    waist_seam: bool | None = None
    lower_section: str | None = None
    flare: Length | None = None
    hip_pad: Length | None = None
    front_style: str | None = None
    closing: str | None = None
    buttons: int | None = None
    button_diameter: Length | None = None
    wrap: Length | None = None
    double_wrap: Length | None = None
    crossed_wrap: Length | None = None
    front_edge: str | None = None
    facing_grain: str | None = None
    facing_split: Length | None = None
    split_button: int | None = None
    second_split: Length | None = None
    front_hem_radius: Length | None = None
    lapel_width: Length | None = None
    peak_angle: Degrees | None = None
    peak_length: Length | None = None
    collar_style: str | None = None
    collar_stand: Length | None = None
    collar_fall: Length | None = None
    neck_opening: Length | None = None
    neck_drop: Length | None = None
    neck_edge_hollow: Length | None = None
    stand_height: Length | None = None
    stand_lean: Degrees | None = None
    stand_ends: str | None = None
    stand_halves: bool | None = None
    flaps: bool | None = None
    pockets: str | None = None
    flap_width: Length | None = None
    flap_depth: Length | None = None
    sleeve_cut: str | None = None
    sleeve_length: str | None = None
    sleeve_hem: Length | None = None
    sleeve_vent: Length | None = None
    cap_ease: Length | None = None
    elbow_dart: bool | None = None
    sleeve_lift: Degrees | None = None
    raglan_reach: Length | None = None
    moved: JacketMovedForm | None = None


class SkirtForm(_Form):
    """[skirt]."""

    cut: str | None = None
    length: Length | None = None
    ease_waist: Length | None = None
    ease_hip: Length | None = None
    hem_taper: Length | None = None
    flare: Length | None = None
    pleat_repeat: Length | None = None
    zip_length: Length | None = None
    vent_length: Length | None = None
    waist_finish: str | None = None
    waistband_width: Length | None = None
    held_in: Length | None = None
    ribbon_width: Length | None = None
    top_ease: Length | None = None
    let_out: Length | None = None
    moved: SkirtMovedForm | None = None


class TrousersForm(_Form):
    """[trousers]."""

    hem_above_floor: Length | None = None
    hem_slant: Length | None = None
    ease_waist: Length | None = None
    ease_hip: Length | None = None
    ease_thigh: Length | None = None
    ease_rise: Length | None = None
    pleats: int | None = None
    back_darts: int | None = None
    knee_width: Length | None = None
    hem_width: Length | None = None
    waist: str | None = None
    waistband_width: Length | None = None
    zip_length: Length | None = None
    fly_lap: str | None = None
    pockets: bool | None = None


class BarsForm(_Form):
    """[cloths.shell.warp] and .weft."""

    bars: list[str] | None = None
    bars_in: str | None = None
    mirrored: bool | None = None
    threads_per_cm: Length | None = None
    threads_per_inch: Length | None = None


class BarPlaceForm(_Form):
    """{ bar = "navy 1", at = "middle" }."""

    bar: str | None = None
    at: Length | None = None


class FaultForm(_Form):
    """[[cloths.shell.faults]]."""

    name: str | None = None
    from_left: Length | None = None
    from_end: Length | None = None
    width: Length | None = None
    length: Length | None = None
    corners: list[list[Length]] | None = None
    may_be_hidden: bool | None = None


class SwatchForm(_Form):
    """[cloths.shell.swatch]: what a swatch took under the iron, in percent."""

    shrinks_in_length: float | str | None = None
    shrinks_in_width: float | str | None = None
    stretches_in_length: float | str | None = None
    stretches_in_width: float | str | None = None
    bias_gives: float | str | None = None


class ClothForm(_Form):
    """[cloths.shell], [cloths.lining]."""

    title: str | None = None
    colours: dict[str, str] | None = None
    warp: BarsForm | list[str] | str | None = None
    weft: BarsForm | list[str] | str | None = None
    width: Length | None = None
    selvedge: Length | None = None
    thickness: Length | None = None
    nap: str | None = None
    weave: str | None = None
    fibre: str | None = None
    swatch: SwatchForm | None = None
    faces_alike: bool | None = None
    at_left_selvedge: BarPlaceForm | None = None
    at_squared_end: BarPlaceForm | None = None
    dominant_warp: str | None = None
    dominant_weft: str | None = None
    price_per_metre: float | str | None = None
    price_per_yard: float | str | None = None
    length_in_hand: Length | None = None
    shrinks_in_length: float | str | None = None
    shrinks_in_width: float | str | None = None
    faults: list[FaultForm] | None = None


class ChoicesForm(_Form):
    """[choices]."""

    front_laps_over: str | None = None
    stage: str | None = None
    uneven: str | None = None
    hem_on_a_bar: bool | None = None
    bar_off_the_fullest: bool | None = None
    cutting: str | None = None


class InsideForm(_Form):
    """[inside]."""

    jacket_lining: str | None = None
    skirt_lining: bool | None = None
    trousers_lining: str | None = None
    canvas: str | None = None
    underlining: bool | None = None


class ClosuresForm(_Form):
    """[closures]."""

    buttonholes: str | None = None
    button_thickness: Length | None = None
    covered_buttons: bool | None = None
    top_button_above_waist: Length | None = None
    lowest_button_above_hem: Length | None = None
    band: str | None = None


class HoursForm(_Form):
    """[hours]: her own minutes."""

    per: Length | None = None
    stitches: dict[str, float | str] | None = None
    steps: dict[str, float | str] | None = None
    each: dict[str, float | str] | None = None


class CostForm(_Form):
    """[cost]."""

    hour: float | str | None = None
    thread_per_100_m: float | str | None = None
    other: dict[str, float | str] | None = None


class PinForm(_Form):
    """[[pins]]."""

    piece: str | None = None
    seam: str | None = None
    mark: str | None = None
    edge: str | None = None
    line: str | None = None
    stop: str | None = None
    axis: str | None = None
    bar: str | None = None
    at: Length | None = None


class PlacedForm(_Form):
    """One piece on the cloth."""

    piece: str | None = None
    from_left: Length | None = None
    from_end: Length | None = None
    turned: bool | None = None
    wrong_side_up: bool | None = None


class CutForm(_Form):
    """[[cut]]."""

    piece: str | None = None
    cloth: str | None = None
    from_left: Length | None = None
    from_end: Length | None = None
    turned: bool | None = None
    wrong_side_up: bool | None = None
    plan: str | None = None
    outline: str | None = None


class FittingForm(_Form):
    """[[fittings]]."""

    date: str | None = None
    note: str | None = None
    corrections: dict[str, Length | dict[str, Length | dict[str, Length]]] | None = None


class FoundForm(_Form):
    """[[found]]: written by the program, not by hand."""

    cloth: str | None = None
    inputs: str | None = None
    length: Length | None = None
    sett_at_end: Length | None = None
    placements: list[PlacedForm] | None = None


class Document(_Form):
    """The whole file."""

    format: int | None = None
    title: str | None = None
    units: str | None = None
    currency: str | None = None
    notes: str | None = None
    client: ClientForm | None = None
    measurements: dict[str, Length] | None = None
    jacket: JacketForm | None = None
    skirt: SkirtForm | None = None
    trousers: TrousersForm | None = None
    cloths: dict[str, ClothForm] | None = None
    choices: ChoicesForm | None = None
    inside: InsideForm | None = None
    closures: ClosuresForm | None = None
    hours: HoursForm | None = None
    cost: CostForm | None = None
    pins: list[PinForm] | None = None
    importance: dict[str, str | dict[str, str]] | None = None
    cut: list[CutForm] | None = None
    fittings: list[FittingForm] | None = None
    found: list[FoundForm] | None = None
