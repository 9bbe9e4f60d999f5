"""What the person decides of fastenings, and what she knows of her own hours and prices: [closures], [hours], [cost].

Hours and prices have no custom: what she hasn't set stays blank, and a sum with a blank in it is told as such.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from enum import StrEnum

from settwright.commission.design import JacketDesign
from settwright.commission.desk import Desk, offer, short
from settwright.commission.document import ClosuresForm, CostForm, HoursForm
from settwright.findings import Weight
from settwright.units import CM, INCH, Units, format_length

STITCHES = (
    "thread trace",
    "baste",
    "slip baste",
    "ease thread",
    "lockstitch",
    "back stitch",
    "prick stitch",
    "fell",
    "slip stitch",
    "catch stitch",
    "overcast",
    "pad stitch",
)
"""The stitches that minutes may be set for."""

FASTENINGS = ("buttonhole", "button", "hook", "snap", "zip")
"""What minutes apiece may be set for."""

_LONGEST_TASK = 6000.0  # minutes: two weeks and a half


class Buttonholes(StrEnum):
    """How the buttonholes are made."""

    HAND_WORKED = "hand-worked"
    BOUND = "bound"


class BandFastening(StrEnum):
    """What closes a band at the waist."""

    HOOK = "hook and bar"
    SNAP = "snap"
    BUTTON = "button"


@dataclass(frozen=True, slots=True)
class Closures:
    """What the person chose of the fastenings; by default the trade's custom."""

    buttonholes: Buttonholes = Buttonholes.HAND_WORKED
    button_thickness: float = 4.0
    covered_buttons: bool = False
    band: BandFastening = BandFastening.HOOK


@dataclass(frozen=True, slots=True)
class Hours:
    """How long her handwork takes her, in minutes; empty until she sets it."""

    per: float = 100.0  # the length of stitching that the minutes of a stitch speak of
    stitches: tuple[tuple[str, float], ...] = ()
    steps: tuple[tuple[str, float], ...] = ()  # whole steps of the order of work, besides their stitching
    each: tuple[tuple[str, float], ...] = ()  # apiece: "buttonhole", "button" …

    @property
    def is_blank(self) -> bool:
        """Whether she has set nothing yet."""
        return not (self.stitches or self.steps or self.each)


@dataclass(frozen=True, slots=True)
class Prices:
    """What an hour and the small things cost, in the commission's currency; None or empty until she sets it."""

    hour: float | None = None
    thread_per_100_m: float | None = None
    other: tuple[tuple[str, float], ...] = ()


def read_closures(desk: Desk, form: ClosuresForm, jacket: JacketDesign | None) -> tuple[Closures, JacketDesign | None]:
    """Returns the fastenings, and the jacket with its buttons where she put them."""
    chosen, path = Closures(), "closures"
    if form.buttonholes is not None:
        word = desk.word((path, "buttonholes"), form.buttonholes, Buttonholes, "way to make a buttonhole")
        chosen = replace(chosen, buttonholes=word or chosen.buttonholes)
    elif jacket is not None:
        desk.say(Weight.DEFAULT, (path, "buttonholes"), "not said; the custom was taken: hand-worked.")
    if form.button_thickness is not None:
        thick = desk.length((path, "button_thickness"), form.button_thickness, "thickness of a button", 0.5, 20.0)
        chosen = replace(chosen, button_thickness=thick or chosen.button_thickness)
    elif jacket is not None:
        usual = format_length(chosen.button_thickness, desk.units)
        desk.say(
            Weight.DEFAULT,
            (path, "button_thickness"),
            f"not said; {usual} was taken.",
            "Measure the button: buttonholes are cut by its diameter and thickness.",
        )
    if form.band is not None:
        band = desk.word((path, "band"), form.band, BandFastening, "fastening of a band")
        chosen = replace(chosen, band=band or chosen.band)
    chosen = replace(chosen, covered_buttons=bool(form.covered_buttons))
    if jacket is not None:
        for field, given, title, most in (
            ("top_button_above_waist", form.top_button_above_waist, "height of the top button over the waist", 450.0),
            (
                "lowest_button_above_hem",
                form.lowest_button_above_hem,
                "height of the lowest button over the hem",
                700.0,
            ),
        ):
            read = None if given is None else desk.length((path, field), given, title, -150.0, most)
            if read is not None:
                jacket = replace(jacket, **{field: read})
    return chosen, jacket


def read_hours(desk: Desk, form: HoursForm) -> Hours:
    """Returns her table of minutes; a stitch that doesn't exist is refused by name."""
    per = 100.0 if desk.units is Units.CM else 4 * INCH
    if form.per is not None:
        per = desk.length(("hours", "per"), form.per, "length that the minutes speak of", CM, 100 * CM) or per
    return Hours(
        per,
        _minutes(desk, "stitches", form.stitches or {}, STITCHES, "stitch"),
        _minutes(desk, "steps", form.steps or {}, None, "step"),
        _minutes(desk, "each", form.each or {}, FASTENINGS, "fastening"),
    )


def _minutes(
    desk: Desk, section: str, given: Mapping[str, float | str], known: tuple[str, ...] | None, kind: str
) -> tuple[tuple[str, float], ...]:
    found: list[tuple[str, float]] = []
    for name, figure in given.items():
        path = ("hours", section, name)
        if known is not None and name not in known:
            desk.refuse(path, f"no {kind} is called {short(name)}.", offer(name, known, few=len(known)))
            continue
        minutes = desk.number(path, figure, "time in minutes", least=0.0, most=_LONGEST_TASK)
        if minutes is not None:
            found.append((name, minutes))
    return tuple(found)


def read_prices(desk: Desk, form: CostForm) -> Prices:
    """Returns her prices."""
    other = tuple(
        (name, price)
        for name, figure in (form.other or {}).items()
        if (price := _price(desk, ("cost", "other", name), figure)) is not None
    )
    return Prices(
        None if form.hour is None else _price(desk, ("cost", "hour"), form.hour),
        None if form.thread_per_100_m is None else _price(desk, ("cost", "thread_per_100_m"), form.thread_per_100_m),
        other,
    )


def _price(desk: Desk, path: tuple[str, ...], figure: float | str) -> float | None:
    return desk.number(path, figure, "price", least=0.0, most=1e6)


__all__ = [
    "FASTENINGS",
    "STITCHES",
    "BandFastening",
    "Buttonholes",
    "Closures",
    "Hours",
    "Prices",
    "read_closures",
    "read_hours",
    "read_prices",
]
