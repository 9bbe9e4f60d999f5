"""The ticket: the commission as sentences with choices set in them, in the order in which a tailor asks.

A sentence is written once, below, with its fields in braces; what may be chosen, and what custom would choose, is read
off the design itself. A field that doesn't bear on the cut chosen takes its sentence with it.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from enum import StrEnum
from typing import Any

from settwright.cloth import Cloth, Nap, Sequence
from settwright.commission.cloths import Weave
from settwright.commission.fields import AngleField, CountField, Field
from settwright.commission.lines import Path
from settwright.commission.names import piece_of
from settwright.commission.reading import read_toml
from settwright.commission.wording import FIELDS, SAYS
from settwright.units import Units, format_fine, format_length
from settwright.web.changes import NAME, as_read, parse_path

Data = dict[str, Any]


@dataclass(frozen=True)
class Section:
    """Sentences about one thing; `of` is the part of the commission that must be there."""

    title: str
    of: str
    sentences: tuple[str, ...]


SECTIONS = (
    Section(
        "The jacket",
        "jacket",
        (
            "It is cut {jacket.body_cut}.",
            "The bust dart lies {jacket.bust_dart}.",
            "The back shoulder is {jacket.back_shoulder}.",
            "It reaches {jacket.length_below_waist} below the waist.",
            "The centre back is {jacket.centre_back}.",
            "It has {jacket.vent}.",
            "The vent is {jacket.vent_length} long.",
            "At the waist {jacket.waist_seam}.",
            "Below the seam hangs {jacket.lower_section}.",
            "It flares by {jacket.flare} at the hem.",
            "The padding of the hip is {jacket.hip_pad} thick.",
            "The shoulder pads are {jacket.shoulder_pad} thick.",
            "It is eased by {jacket.ease.bust} at the bust, {jacket.ease.waist} at the waist, "
            "{jacket.ease.hip} at the hip and {jacket.ease.upper_arm} at the upper arm.",
            "Inside it has {inside.jacket_lining} and, in the fronts, {inside.canvas}.",
        ),
    ),
    Section(
        "The front",
        "jacket",
        (
            "The front has {jacket.front_style}.",
            "It closes {jacket.closing}.",
            "The front edge is {jacket.front_edge}.",
            "The grain of its facing runs {jacket.facing_grain}.",
            "The facing is joined {jacket.facing_split} below the break point, or at {jacket.split_button}.",
            "A second join lies {jacket.second_split} below the first.",
            "The wearer’s {choices.front_laps_over} front lies on top.",
            "It closes with {jacket.buttons} of {jacket.button_diameter}.",
            "From centre front to the edge it wraps {jacket.wrap}.",
            "It wraps {jacket.double_wrap} past the centre front.",
            "It crosses {jacket.crossed_wrap} past the centre front.",
            "The lapel is {jacket.lapel_width} wide.",
            "The peak rises {jacket.peak_angle} over the gorge and is {jacket.peak_length} long.",
            "The collar is {jacket.collar_style}.",
            "The collar stands {jacket.collar_stand} and falls {jacket.collar_fall}.",
            "The neckline is set out by {jacket.neck_opening}.",
            "It lies {jacket.neck_drop} lower in front than the neck.",
            "Its edge is hollowed by {jacket.neck_edge_hollow}.",
            "The stand collar is {jacket.stand_height} high, {jacket.stand_ends}.",
            "It leans {jacket.stand_lean} to the neck and is {jacket.stand_halves}.",
            "The front’s corner at the hem is rounded by {jacket.front_hem_radius}.",
            "Its pockets are {jacket.pockets}, {jacket.flap_width} wide.",
            "It has {jacket.flaps}, {jacket.flap_depth} deep.",
        ),
    ),
    Section(
        "The sleeves",
        "jacket",
        (
            "They are {jacket.sleeve_cut} and {jacket.sleeve_length}.",
            "The hem is {jacket.sleeve_hem} round.",
            "The hindarm opens in a vent of {jacket.sleeve_vent}.",
            "The cap is eased by {jacket.cap_ease}.",
            "The elbow has {jacket.elbow_dart}.",
            "The arm is lifted by {jacket.sleeve_lift} when the cloth lies smooth.",
            "The raglan seam reaches {jacket.raglan_reach} along the neck.",
        ),
    ),
    Section(
        "The skirt",
        "skirt",
        (
            "It is {skirt.cut}.",
            "It is {skirt.length} long from waist to hem.",
            "It is eased by {skirt.ease_waist} at the waist and {skirt.ease_hip} at the hip.",
            "Each side seam comes in by {skirt.hem_taper} at the hem.",
            "The hem is {skirt.flare} wider than a straight one.",
            "It hangs from {skirt.waist_finish}.",
            "The waistband is {skirt.waistband_width} wide.",
            "The ribbon is {skirt.ribbon_width} wide and holds the waist in by {skirt.held_in}.",
            "The pleats are laid on a repeat of {skirt.pleat_repeat}.",
            "The bodice top is eased by {skirt.top_ease} and keeps {skirt.let_out} at its seams.",
            "The zip is {skirt.zip_length} long.",
            "The vent is {skirt.vent_length} long.",
            "Inside it has {inside.skirt_lining}.",
        ),
    ),
    Section(
        "The trousers",
        "trousers",
        (
            "They hang {trousers.hem_above_floor} above the floor.",
            "They are eased by {trousers.ease_waist} at the waist and {trousers.ease_hip} at the hip.",
            "They are eased by {trousers.ease_thigh} at the thigh and {trousers.ease_rise} in the rise.",
            "Each front has {trousers.pleats}, each back {trousers.back_darts}.",
            "The leg is {trousers.knee_width} round the knee and {trousers.hem_width} round the hem.",
            "The hem slants by {trousers.hem_slant}.",
            "The waist has {trousers.waist}.",
            "The waistband is {trousers.waistband_width} wide.",
            "The zip is {trousers.zip_length} long.",
            "At the fly the wearer’s {trousers.fly_lap} front lies on top.",
            "They have {trousers.pockets}.",
            "Inside they have {inside.trousers_lining}.",
        ),
    ),
    Section(
        "How the bars lie",
        "choices",
        (
            "Where the sett is uneven, the halves lie {choices.uneven}.",
            "The hem {choices.hem_on_a_bar}.",
            "The strongest level bar {choices.bar_off_the_fullest}.",
        ),
    ),
    Section(
        "Cutting",
        "choices",
        (
            "What is cut now is {choices.cutting}.",
            "Allowances are cut as {choices.stage}.",
            "The outer cloth is {inside.underlining}.",
        ),
    ),
)

_COUNTED = {"jacket.buttons": "button", "trousers.pleats": "pleat", "trousers.back_darts": "dart"}
_NUMBERED = {"jacket.split_button": "button"}

PLACES: tuple[tuple[str, str, dict[str, str]], ...] = (
    ("jacket", "The centre back", {"piece": "back.right", "edge": "centre-back", "stop": "blade", "axis": "upright"}),
    ("jacket", "The centre front", {"piece": "front.right", "line": "centre-front", "axis": "upright"}),
    ("jacket", "The jacket’s hem", {"piece": "back.right", "edge": "centre-back", "stop": "hem", "axis": "level"}),
    ("skirt", "The skirt’s centre front", {"piece": "skirt-front", "line": "centre-front", "axis": "upright"}),
    ("skirt", "The skirt’s hem", {"piece": "skirt-front", "line": "centre-front", "stop": "hem", "axis": "level"}),
)  # fmt: skip
"""Places that a tailor settles first; the rest follows."""


@dataclass(frozen=True)
class _Read:
    """The commission as far as it can be read, section by section."""

    data: Data
    units: Units
    parts: dict[str, Any]  # jacket, skirt, trousers, choices: their designs
    cloths: dict[str, Cloth]

    def value(self, path: Path) -> Any:
        """Returns what a field comes to, custom counted in; None where there is none."""
        if path[0] == "cloths":
            return getattr(self.cloths.get(str(path[1])), str(path[2]), None)
        found = self.parts.get(str(path[0]))
        for key in path[1:]:
            found = getattr(found, str(key), None)
        return found

    def written(self, path: Path) -> Any:
        """Returns what stands in the text; None where the field was left out."""
        found: Any = self.data
        for key in path:
            found = found.get(key) if isinstance(found, dict) else None
        return found


def ticket_of(text: str) -> list[Data]:
    """Returns the ticket's sections as the page shows them. Raises Refusal where the text isn't a document."""
    commission, _ = as_read(text)
    parts = {name: getattr(commission, name) for name in ("jacket", "skirt", "trousers", "choices", "inside")}
    read = _Read(read_toml(text, NAME), commission.units, parts, {cloth.name: cloth for cloth in commission.cloths})
    sections = [*_cloth_sections(read)]
    for section in SECTIONS:
        if parts[section.of] is None:
            continue
        sentences = [
            {"id": f"{section.title}: {sentence}", "parts": _parts(read, sentence)}
            for sentence in section.sentences
            if _matters(read, sentence)
        ]
        if section.title == "How the bars lie":
            if not any(c.has_upright_bars or c.has_level_bars for c in read.cloths.values()):
                continue
            sentences = [*_places(read), *sentences]
        if sentences:
            sections.append({"title": section.title, "sentences": sentences})
    return sections


_FIELD = re.compile(r"\{([^}]+)\}")


def _matters(read: _Read, sentence: str) -> bool:
    """Whether all of a sentence's fields bear on the cut chosen."""
    for name in _FIELD.findall(sentence):
        garment, field = read.parts.get(name.split(".")[0]), _field(name)
        if garment is None or (field is not None and field.of is not None and not field.of.holds(garment)):
            return False
    return True


def _field(name: str) -> Field | None:
    section, _, last = name.rpartition(".")
    return FIELDS.get(section, {}).get(last)


def _parts(read: _Read, text: str) -> list[Any]:
    return [_choice(read, part) if number % 2 else part for number, part in enumerate(_FIELD.split(text)) if part]


def _choice(read: _Read, field: str) -> Data:
    path = parse_path(field)
    value, written = read.value(path), read.written(path)
    options: list[Data] = []
    if isinstance(value, bool):
        kind = "yes-no"
        options = [{"value": word, "says": _says(field, flag)} for word, flag in (("true", True), ("false", False))]
        says = _says(field, value)
    elif isinstance(value, StrEnum):
        kind = "words"
        options = [{"value": member.value, "says": _says(field, member.value)} for member in type(value)]
        says = _says(field, value.value)
    elif isinstance(value, int) or isinstance(_field(field), CountField):
        kind = "count"
        known = _field(field)
        counts = range(known.least, known.most + 1) if isinstance(known, CountField) else range(0)
        options = [{"value": str(count), "says": _counted(field, count)} for count in counts]
        says = _says(field, None) if value is None else _counted(field, value)
    elif isinstance(value, str):
        kind, says = "text", value
    else:
        kind = "length"
        says = _says(field, None) if value is None else _measured(read, field, value)
    return {
        "field": field,
        "value": None if written is None else _plain(written),
        "says": says,
        "custom": written is None,
        "kind": kind,
        "options": options,
        "title": known.title if (known := _field(field)) else " ".join(str(key).replace("_", " ") for key in path[1:]),
    }


def _plain(written: Any) -> str:
    return str(written).lower() if isinstance(written, bool) else str(written)


def _measured(read: _Read, field: str, value: float) -> str:
    if isinstance(_field(field), AngleField):
        return f"{math.degrees(value):.0f}°"
    if field.endswith(("price_per_metre",)):
        return f"{value:.2f}"
    if value < 10 and field.endswith(("thickness", "pad")):
        return format_fine(value, read.units).replace(".0 mm", " mm")
    return format_length(value, read.units).replace(".0 cm", " cm")


def _says(field: str, value: Any) -> str:
    usual = field.replace("cloths.lining", "cloths.shell").replace("cloths.interlining", "cloths.shell")
    return SAYS.get((usual, value), "not said" if value is None else str(value).replace("-", " "))


def _counted(field: str, count: int) -> str:
    if field in _NUMBERED:
        return f"{_NUMBERED[field]} {count}"
    words = ("no", "one", "two", "three", "four", "five", "six")
    word, noun = words[count] if count < len(words) else str(count), _COUNTED.get(field, "")
    return f"{word} {noun}{'' if count == 1 else 's'}" if noun else str(count)


_CLOTH_TITLES = {"shell": "The cloth", "lining": "The lining", "interlining": "The interlining"}
_CLOTH_SENTENCES = (
    "It is {cloths.NAME.title}, {cloths.NAME.width} wide with {cloths.NAME.selvedge} of selvedge.",
    "It has {cloths.NAME.nap} and {cloths.NAME.faces_alike}, in a {cloths.NAME.weave} weave.",
    "It is {cloths.NAME.thickness} thick.",
    "There is {cloths.NAME.length_in_hand} in hand.",
)


def _cloth_sections(read: _Read) -> Iterator[Data]:
    for name, title in _CLOTH_TITLES.items():
        if name in read.cloths:
            texts = [text.replace("NAME", name) for text in _CLOTH_SENTENCES]
            texts = [text for text in texts if name == "shell" or "faces_alike" not in text]
            sentences = [{"id": text, "parts": _cloth_parts(read, text)} for text in texts]
            yield {"title": title, "cloth": name, "sentences": sentences}


def _cloth_parts(read: _Read, text: str) -> list[Any]:
    parts = _parts(read, text)
    for part in parts:
        if isinstance(part, dict):
            last = part["field"].rsplit(".", 1)[1]
            kinds: dict[str, type[StrEnum]] = {"nap": Nap, "weave": Weave}
            if last in kinds:
                part["kind"] = "words"
                part["options"] = [{"value": m.value, "says": _says(part["field"], m.value)} for m in kinds[last]]
                part["says"] = _says(part["field"], str(read.value(parse_path(part["field"]))))
            if last == "length_in_hand" and part["value"] is None:
                part["says"] = "no length yet"
    return parts


def _places(read: _Read) -> Iterator[Data]:
    """Yields the sentences that tell where bars fall: the first things a tailor settles, and every pin besides."""
    shell = read.cloths.get("shell")
    if shell is None:
        return
    pins: list[Data] = [pin for pin in read.data.get("pins") or [] if isinstance(pin, dict)]
    told: set[int] = set()
    for of, title, place in PLACES:
        if read.parts.get(of) is None or not _has_bars(shell, place["axis"]):
            continue
        number = next((i for i, p in enumerate(pins) if _same_place(p, place)), None)
        if number is not None:
            told.add(number)
        yield _place(title, place, number, pins, shell)
    for number, pin in enumerate(pins):
        if number not in told and isinstance(pin.get("piece"), str):
            place = {k: str(v) for k, v in pin.items() if k in ("piece", "edge", "line", "mark", "stop", "axis")}
            yield _place(_titled(place), place, number, pins, shell)


def _has_bars(shell: Cloth, axis: str) -> bool:
    return shell.has_level_bars if axis == "level" else shell.has_upright_bars


def _same_place(pin: Mapping[str, Any], place: Mapping[str, str]) -> bool:
    where = [pin.get("edge") or pin.get("line"), place.get("edge") or place.get("line")]
    twin = str(pin.get("piece", "")).split(".")[0] == place["piece"].split(".")[0]
    return twin and pin.get("axis") == place["axis"] and where[0] == where[1] and pin.get("mark") is None


def _titled(place: Mapping[str, str]) -> str:
    instance = place["piece"]
    piece = piece_of(instance)
    title = (piece.name if piece else instance).replace("-", " ")
    hand = instance.rsplit(".", 1)[1] if "." in instance else ""
    where = " ".join(place[key].replace("-", " ") for key in ("edge", "line", "mark", "stop") if key in place)
    return f"On the {hand + ' ' if hand else ''}{title}, {where}".strip(", ")


def _place(title: str, place: Mapping[str, str], number: int | None, pins: list[Data], shell: Cloth) -> Data:
    pin = pins[number] if number is not None else {}
    sequence = shell.weft if place["axis"] == "level" else shell.warp
    bars = [
        {"bar": bar.name, "at": at, "says": f"the {at} of {bar.name}"}
        for bar in sequence.bars
        for at in ("middle", *_edges(place["axis"]))
    ]
    says = "where custom puts it"
    if number is not None:
        at = str(pin.get("at", "middle"))
        says = f"the {at} of {pin['bar']}" if pin.get("bar") else f"{at} into the sett"
        says = says if not at[:1].isdigit() or not pin.get("bar") else f"{at} into {pin['bar']}"
    choice = {
        "field": f"pins.{number}" if number is not None else None,
        "value": None if number is None else f"{pin.get('bar', '')}|{pin.get('at', 'middle')}",
        "says": says,
        "custom": number is None,
        "kind": "place",
        "options": [],
        "title": title,
        "pin": dict(pin_place(pin) if number is not None else place),
        "bars": bars,
    }
    return {
        "id": f"place: {title}, {place['axis']}",
        "parts": [f"{title} falls on " if number is not None else f"{title} falls ", choice, "."],
    }


def pin_place(pin: Mapping[str, Any]) -> dict[str, str]:
    """Returns where a pin sits, without the bar that it holds."""
    return {key: str(pin[key]) for key in ("piece", "edge", "line", "mark", "stop", "axis") if key in pin}


def _edges(axis: str) -> tuple[str, str]:
    return ("lower edge", "upper edge") if axis == "level" else ("left edge", "right edge")


def _bar_said(width: float, units: Units) -> str:
    return f"{round(width, 2):g} mm" if units is Units.CM else format_fine(width, units)


def sequence_data(sequence: Sequence, colours: Mapping[str, str], units: Units, dominant: str | None) -> Data:
    """Returns a sequence as the page shows it."""
    return {
        "repeat": round(sequence.repeat, 3),
        "said": _bar_said(sequence.repeat, units),
        "is_even": sequence.is_even,
        "dominant": dominant,
        "bars": [
            {
                "name": bar.name,
                "colour": bar.colour,
                "hex": colours[bar.colour],
                "start": round(start, 3),
                "width": round(bar.width, 3),
                "said": _bar_said(bar.width, units),
            }
            for bar, start in zip(sequence.bars, sequence.starts, strict=True)
        ],
    }


__all__ = ["PLACES", "SECTIONS", "Section", "pin_place", "sequence_data", "ticket_of"]
