"""One way of reading what was chosen of a cut: what each field holds, its limits, what it is called, where it bears.

A table of fields stands in choices.py for every garment; whatever is true of a field (a refusal's words, the custom
told) follows from it.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from enum import StrEnum
from typing import Any

import msgspec

from settwright.commission.desk import Desk, short
from settwright.commission.lines import Path
from settwright.findings import Weight
from settwright.units import Units, format_length


@dataclass(frozen=True)
class Bearing:
    """Which cuts a field belongs to."""

    said: str  # "a kimono sleeve"
    holds: Callable[[Any], bool]  # of the design


@dataclass(frozen=True, kw_only=True)
class Field:
    """One field of a garment's section."""

    title: str  # "lift of the sleeve"
    of: Bearing | None = None  # None: of every cut
    unset: str = ""  # the custom's words where the design leaves the value open


@dataclass(frozen=True, kw_only=True)
class LengthField(Field):
    """A length, limits in millimetres."""

    least: float
    most: float


@dataclass(frozen=True, kw_only=True)
class AngleField(Field):
    """An angle, written in degrees; limits in degrees."""

    least: float
    most: float


@dataclass(frozen=True, kw_only=True)
class CountField(Field):
    """A whole number."""

    least: int
    most: int


@dataclass(frozen=True, kw_only=True)
class WordField(Field):
    """One of a few words."""

    kind: type[StrEnum]


@dataclass(frozen=True, kw_only=True)
class SwitchField(Field):
    """True or false."""


Fields = Mapping[str, Field]


def read_fields(desk: Desk, path: Path, form: msgspec.Struct, fields: Fields) -> dict[str, Any]:
    """Returns the values that were given and can be read, as a design holds them: millimetres, radians.

    What can't be read is noted at the desk.
    """
    values: dict[str, Any] = {}
    for name, field in fields.items():
        given = getattr(form, name)
        if given is None:
            continue
        value = _read(desk, (*path, name), given, field)
        if value is not None:
            values[name] = value
    return values


def _read(desk: Desk, path: Path, given: Any, field: Field) -> Any:
    match field:
        case LengthField():
            return desk.length(path, given, field.title, field.least, field.most)
        case AngleField():
            text = given.replace("°", "").replace("degrees", "") if isinstance(given, str) else given
            degrees = desk.number(path, text, f"{field.title} in degrees", least=field.least, most=field.most)
            return None if degrees is None else math.radians(degrees)
        case CountField():
            if field.least <= given <= field.most:
                return given
            limits = f"{field.least} to {field.most}"
            what = f"{short(given)} {field.title} can't be: a cut takes {limits} {field.title}."
            desk.refuse(path, what, f"Write a number from {limits}.")
            return None
        case WordField():
            return desk.word(path, given, field.kind, field.title)
        case _:
            return given


def corrected(desk: Desk, path: Path, design: Any, fields: Fields, corrections: Mapping[str, float]) -> Any:
    """Returns a design with its lengths as the fittings correct them (mm, by dotted field), each told at the desk."""
    for name, field in fields.items():
        by = corrections.get(".".join(str(key) for key in (*path, name)))
        if not by or not isinstance(field, LengthField):
            continue
        before = getattr(design, name)
        if field.of is not None and not field.of.holds(design):
            what = f"the {field.title} is noted and not drafted: it bears on {field.of.said} only, and none is chosen."
            desk.say(Weight.CAUTION, ("fittings",), what)
        elif before is None:
            desk.refuse(
                ("fittings",),
                f"the {field.title} is left to the cut: there is no figure to correct.",
                f"Write the {field.title} itself.",
            )
        elif not field.least <= before + by <= field.most:
            limits = f"{format_length(field.least, desk.units)} to {format_length(field.most, desk.units)}"
            desk.refuse(
                ("fittings",),
                f"they would make the {field.title} {format_length(before + by, desk.units)}; "
                f"it must lie from {limits}.",
                "Look at the corrections again.",
            )
        else:
            design = replace(design, **{name: before + by})
            was, now = (format_length(length, desk.units) for length in (before, before + by))
            desk.say(Weight.NOTE, (*path, name), f"{field.title}: {now} since the fittings, before them {was}.")
    return design


def say_customs(desk: Desk, path: Path, form: msgspec.Struct, design: Any, fields: Fields) -> None:
    """Says which customs were taken where nothing was given, and which figures have no bearing on the cut chosen."""
    for name, field in fields.items():
        given = getattr(form, name)
        bears = field.of is None or field.of.holds(design)
        if given is None and bears:
            said = _said(field, getattr(design, name), desk.units)
            desk.say(Weight.DEFAULT, (*path, name), f"not said; the custom was taken: {said}.")
        elif given is not None and not bears and field.of is not None:
            desk.say(
                Weight.NOTE,
                (*path, name),
                f"{field.title}: kept, but it bears on {field.of.said} only, and none is chosen.",
            )


def _said(field: Field, custom: Any, units: Units) -> str:
    if custom is None:
        return field.unset
    match field:
        case LengthField():
            return format_length(custom, units)
        case AngleField():
            return f"{math.degrees(custom):.0f}°"
        case SwitchField():
            return "yes" if custom else "no"
        case _:
            return f"{custom}"
