"""The way from a text to a `Commission`: read, migrate, check all of it, then either the value or everything wrong.

No step stops at its first fault, so that a tailor mends a file once.
"""

from __future__ import annotations

import datetime
import math
import re
import tomllib
from collections.abc import Mapping
from typing import Any, cast

from settwright.body.catalogue import BY_NAME
from settwright.body.estimate import check
from settwright.commission.choices import read_jacket, read_skirt, read_trousers
from settwright.commission.cloths import read_cloths
from settwright.commission.design import FlyLap
from settwright.commission.desk import Desk, nearest, offer, short
from settwright.commission.document import (
    ChoicesForm,
    ClosuresForm,
    CostForm,
    Document,
    HoursForm,
    InsideForm,
    Length,
)
from settwright.commission.fittings import of_the_cut, read_fittings
from settwright.commission.handwork import read_closures, read_hours, read_prices
from settwright.commission.inside import read_inside
from settwright.commission.lines import Lines, lines_of
from settwright.commission.migrating import migrate
from settwright.commission.model import Choices, Commission, Cutting, Hand, Stage, Uneven
from settwright.commission.names import Garments
from settwright.commission.pins import read_cut, read_found, read_importance, read_pins
from settwright.commission.shape import read_form
from settwright.findings import Finding, Refusal, Weight, refuse
from settwright.units import CM, INCH, Units

_PLACE = re.compile(r"\(at line (\d+), column (\d+)\)")


def read_commission(text: str, name: str) -> Commission:
    """Returns the commission that a TOML text holds; `name` is how messages call the file ("plaid-suit.toml").

    Raises Refusal with every fault found, each with its line, its field and what mends it.
    """
    commission, wrong = read_as_far(text, name)
    if wrong:
        raise Refusal(wrong)
    return commission


def read_as_far(text: str, name: str) -> tuple[Commission, tuple[Finding, ...]]:
    """Returns a commission as far as it can be read, customs in the place of the rest, and every fault found.

    Raises Refusal where the text isn't a document of a known format.
    """
    text = text.removeprefix("\ufeff")
    data = read_toml(text, name)
    migrate(data, name)
    desk = Desk(name, Lines(text))
    commission = _checked(desk, read_form(desk, data))
    return commission, tuple(_in_order(desk))


def read_toml(text: str, name: str) -> dict[str, Any]:
    """Returns the plain data of a TOML text, dates as words. Raises Refusal where it isn't TOML."""
    try:
        return cast(dict[str, Any], _worded(tomllib.loads(text)))
    except RecursionError:
        raise refuse(
            name, "brackets stand within brackets without end.", "Look for an opening bracket too many."
        ) from None
    except ValueError as wrong:
        raise _not_toml(text, name, str(wrong)) from None


def _worded(value: Any) -> Any:
    """Returns data with dates and times as words, which is all that the form needs of them."""
    if isinstance(value, dict):
        return {key: _worded(entry) for key, entry in cast(dict[str, Any], value).items()}
    if isinstance(value, list):
        return [_worded(entry) for entry in cast(list[Any], value)]
    if isinstance(value, datetime.date | datetime.time):
        return value.isoformat()
    return value


def _not_toml(text: str, name: str, wrong: str) -> Refusal:
    if text.lstrip()[:1] == "{":
        told = "a plan that was worked out" if '"sett_origin"' in text else "a JSON file"
        return refuse(name, f"this is {told}, not a commission.", _COPY_ONE)
    if not re.search(r"^\s*(\[|[\w.\"'-]+\s*=)", text, re.MULTILINE):
        return refuse(name, "no line of it is a section or a field with its value: it is no commission.", _COPY_ONE)
    lines = lines_of(text)
    found = _PLACE.search(wrong)
    number = int(found[1]) if found else len(lines)
    line = lines[number - 1].strip() if 0 < number <= len(lines) else ""
    shown = f"“{line[:70]}” can't be read." if line else "the file can't be read."
    if any(word in wrong for word in ("overwrite", "twice", "already", "immutable", "redefine", "Duplicate")):
        shown, remedy = f"“{line[:70]}”: this field or section stands in the file twice.", "Keep one of the two."
    else:
        remedy = _remedy_for_line(line)
    return refuse(f"{name}, line {number}", shown, remedy)


_COPY_ONE = (
    "A commission is a text file of lines such as: bust_girth = 92. The quickest way to one is to copy an example "
    "(examples/plaid-suit.toml) and to change it."
)


def _remedy_for_line(line: str) -> str:
    """Returns what most likely mends a line that isn't TOML."""
    field, equals, value = (part.strip() for part in line.partition("="))
    bare = value.partition("#")[0].strip()
    remedy = "Look for a missing quotation mark, comma or bracket in this line or the one above."
    if not equals and line.startswith("["):
        remedy = "A section's line holds its name in brackets and nothing else: [measurements]."
    elif equals and re.fullmatch(r"\w+(?: +\w+)+", field):
        remedy = f"The name of a field is one word: {field.replace(' ', '_')} = {value}."
    elif not equals:
        remedy = "Each line is a field with its value (buttons = 3), a [section], or a # note; see the line above too."
    elif re.fullmatch(r"[-+]?\d+,\d+", bare):
        remedy = f'Write {field} = {bare.replace(",", ".")} or {field} = "{bare}".'
    elif re.match(r"[-+\w¼½¾⅛⅜⅝⅞]", bare):
        remedy = f'Put what isn\'t a plain figure in quotation marks: {field} = "{bare}".'
    elif bare[:1] in ('"', "'") and (len(bare) == 1 or bare[-1] != bare[0]):
        remedy = "A quotation mark is missing at the end, or something stands behind it."
    return remedy


def _checked(desk: Desk, document: Document) -> Commission:
    units = Units.CM
    if document.units is None:
        desk.say(Weight.DEFAULT, ("units",), "not said; figures are taken as centimetres.", 'Write units = "cm".')
    else:
        written = document.units.strip().lower()
        read = _CALLED.get(written) or desk.word(("units",), document.units, Units, "unit")
        if read is None:
            raise Refusal(desk.wrong)  # no figure can be read without it
        units = read
    desk.units = units
    if document.title is None or not document.title.strip():
        desk.say(Weight.DEFAULT, ("title",), "the commission has no title.", 'Add title = "…".')
    client = document.client.name if document.client and document.client.name else ""
    if not client:
        desk.say(Weight.DEFAULT, ("client", "name"), "the client isn't named.", "")
    measured = _measurements(desk, document.measurements or {})
    cloths = read_cloths(desk, document.cloths)
    shell = next((cloth for cloth in cloths if cloth.name == "shell"), None)
    choices = _choices(desk, document.choices or ChoicesForm(), document.jacket is not None)
    commissioned = [name for name in ("jacket", "skirt", "trousers") if getattr(document, name) is not None]
    fittings = read_fittings(desk, document.fittings or [], commissioned)
    corrections = of_the_cut(fittings)
    jacket = read_jacket(desk, document.jacket, corrections) if document.jacket is not None else None
    skirt = read_skirt(desk, document.skirt, shell, corrections) if document.skirt is not None else None
    trousers = None
    if document.trousers is not None:
        laps = FlyLap(choices.front_laps_over.value)
        trousers = read_trousers(desk, document.trousers, laps, corrections)
    garments = Garments(jacket, skirt, trousers)
    if not garments.names:
        desk.refuse(
            (),
            "no garment is commissioned.",
            "Begin a section [jacket], [skirt] or [trousers]; it may stay empty, the customs are taken.",
        )
    given = tuple(document.cloths or {})
    closures, jacket = read_closures(desk, document.closures or ClosuresForm(), jacket)
    notes = [text for text in (document.notes, document.client.notes if document.client else None) if text]
    return Commission(
        title=(document.title or "").strip() or "Commission",
        client=client.strip(),
        units=units,
        currency=(document.currency or "€").strip(),
        measured=measured,
        jacket=jacket,
        skirt=skirt,
        cloths=cloths,
        choices=choices,
        inside=read_inside(desk, document.inside or InsideForm()),
        pins=read_pins(desk, document.pins or [], cloths, garments),
        importance=read_importance(desk, document.importance or {}),
        cut=read_cut(desk, document.cut or [], given, garments),
        fittings=fittings,
        found=read_found(desk, document.found or [], given, garments),
        notes="\n".join(notes),
        closures=closures,
        hours=read_hours(desk, document.hours or HoursForm()),
        prices=read_prices(desk, document.cost or CostForm()),
        findings=tuple(desk.said),
        trousers=trousers,
    )


def _measurements(desk: Desk, given: Mapping[str, Length]) -> tuple[tuple[str, float], ...]:
    """Returns the measured values in the catalogue's order, millimetres and radians."""
    measured: dict[str, float] = {}
    for name, figure in given.items():
        path = ("measurements", name)
        definition = BY_NAME.get(name)
        if definition is None:
            remedy = f"{offer(name, BY_NAME, few=0)} docs/measurements.md lists them all.".strip()
            desk.refuse(path, f"no measurement is called {short(name)}.", remedy)
        elif definition.is_angle:
            degrees = _degrees(desk, path, figure)
            if degrees is not None:
                measured[name] = math.radians(degrees)
        else:
            value = desk.length(path, figure, definition.title)
            if value is not None:
                measured[name] = value
    # A measure that couldn't be read, or stands under a name misspelt, isn't said to be missing as well.
    told = {name if name in BY_NAME else nearest(name, BY_NAME) for name in given}
    misread = _in_other_units(measured, desk.units)
    if len(misread) >= _SURELY:
        names = ", ".join(BY_NAME[name].title for name in misread)
        other = Units.INCHES if desk.units is Units.CM else Units.CM
        what = (
            f"figures are read as {desk.units}; no adult body has these, but in {other} they would be right: {names}."
        )
        desk.refuse(("units",), what, f'Write units = "{other}".')
        told |= set(misread)
        measured = {name: value for name, value in measured.items() if name not in misread}
    for finding in check(measured, desk.units):
        field = finding.where.removeprefix("measurements.")
        if field in measured or field not in told:
            desk.refuse(("measurements", field), finding.what, finding.remedy)
    return tuple((name, measured[name]) for name in BY_NAME if name in measured)


_CALLED = {"in": Units.INCHES, "inch": Units.INCHES, "centimetres": Units.CM, "centimeters": Units.CM}
_SURELY = 3  # measurements that would be right in the other unit: then the unit was mistaken, not the figures


def _in_other_units(measured: Mapping[str, float], units: Units) -> list[str]:
    """Returns the measurements that no body has, but would have if their figures were in the other unit."""
    ratio = INCH / CM if units is Units.CM else CM / INCH
    known = ((BY_NAME[name], value) for name, value in measured.items() if not BY_NAME[name].is_angle)
    return [
        definition.name
        for definition, value in known
        if not definition.lowest <= value <= definition.highest
        and definition.lowest <= value * ratio <= definition.highest
    ]


def _degrees(desk: Desk, path: tuple[str, str], figure: Length) -> float | None:
    text = figure.replace("°", "").replace("degrees", "") if isinstance(figure, str) else figure
    return desk.number(path, text, "angle in degrees", least=-360, most=360)


def _choices(desk: Desk, form: ChoicesForm, has_jacket: bool) -> Choices:
    laps, stage = Hand.RIGHT, Stage.BEFORE_FITTING
    if form.front_laps_over is not None:
        laps = desk.word(("choices", "front_laps_over"), form.front_laps_over, Hand, "side") or laps
    elif has_jacket:
        desk.say(
            Weight.DEFAULT,
            ("choices", "front_laps_over"),
            "not said; the custom was taken: right over left for a woman.",
        )
    if form.stage is not None:
        stage = desk.word(("choices", "stage"), form.stage, Stage, "stage of the work") or stage
    else:
        desk.say(Weight.DEFAULT, ("choices", "stage"), f"not said; allowances are those {stage}.")
    uneven = Uneven.ROUND
    if form.uneven is not None:
        uneven = desk.word(("choices", "uneven"), form.uneven, Uneven, "way of laying an uneven sett") or uneven
    cutting = Cutting.EVERYTHING
    if form.cutting is not None:
        cutting = desk.word(("choices", "cutting"), form.cutting, Cutting, "stage of cutting") or cutting
    return Choices(laps, stage, uneven, form.hem_on_a_bar is not False, bool(form.bar_off_the_fullest), cutting)


def _in_order(desk: Desk) -> list[Any]:
    """Returns the faults as they stand in the file, those without a line first."""
    found = [re.search(r", line (\d+)", finding.where) for finding in desk.wrong]
    lines = [int(match[1]) if match else 0 for match in found]
    return [
        finding for _, _, finding in sorted(zip(lines, range(len(lines)), desk.wrong, strict=True), key=lambda t: t[:2])
    ]
