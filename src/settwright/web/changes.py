"""Changes as the page sends them, made in a commission's text: what was typed is kept, what can't be is refused.

A commission may be completed field by field, so a text that can't be planned yet may be changed too; only a change
that brings a fault of its own is turned away.
"""

from __future__ import annotations

import json
import re
import types
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Any, Union, get_args, get_origin

import msgspec

from settwright.body.catalogue import BY_NAME
from settwright.commission.document import Document, Length
from settwright.commission.lines import Path
from settwright.commission.model import Commission
from settwright.commission.reading import read_as_far, read_commission, read_toml
from settwright.commission.wording import in_words
from settwright.commission.writing import AddPin, Change, RemoveValue, SetValue, changed
from settwright.findings import Finding, Refusal, refuse
from settwright.units import Units

NAME = "commission"  # what messages call the document: the person sees no file

_KEY = re.compile(r'\s*(?:"((?:[^"\\]|\\.)*)"|([^."\s][^."]*))\s*(\.|$)')
_BARE_KEY = re.compile(r"[A-Za-z_-][\w-]*", re.ASCII)
_PLAIN_FIGURE = re.compile(r"[+-]?\d{1,9}(\.\d{1,12})?")
_BARE_FIGURE = re.compile(r"[+-]?\s*(\d{1,9}([.,]\d{1,12})?)?\s*[\s-]?(\d{1,4}\s*/\s*\d{1,4}|[¼½¾⅛⅜⅝⅞])?")
_FIELDS = (
    *("jacket", "skirt", "trousers", "cloths", "choices", "pins", "importance", "measurements", "cut", "found"),
    *("closures", "inside", "hours", "cost"),
)
_YES, _NO = ("true", "yes", "on"), ("false", "no", "off")
_MOST_CHANGES = 200


class PinForm(msgspec.Struct, forbid_unknown_fields=True, omit_defaults=True):
    """A pin as the page sends it."""

    piece: str
    axis: str
    bar: str | None = None
    at: str | float | None = None
    edge: str | None = None
    line: str | None = None
    mark: str | None = None
    stop: str | None = None


class CutForm(msgspec.Struct, forbid_unknown_fields=True):
    """Pieces cut as the plan lays them."""

    pieces: list[str]


class Wish(msgspec.Struct, forbid_unknown_fields=True):
    """One change: exactly one of its kinds is given."""

    set: str | None = None
    to: Any = None
    take_out: str | None = None
    pin: PinForm | None = None
    cut: CutForm | None = None
    measure_in: Units | None = None


@dataclass(frozen=True, slots=True)
class Changed:
    """A text with changes made, which fields they touched, and what to say of them in the history."""

    text: str
    touched: frozenset[Path]
    says: str


def make(text: str, wishes: Sequence[Wish], marks: Sequence[Change] = ()) -> Changed:
    """Returns the text with all of the changes made; `marks` are those that mark pieces as cut, as the plan lays them.

    Raises Refusal where one leads nowhere or brings a new fault; then nothing is changed.
    """
    if not wishes or len(wishes) > _MOST_CHANGES:
        raise refuse(NAME, "there is nothing to change.", "Choose something first.")
    before = faults(text)
    after, touched, says = text, set[Path](), list[str]()
    for wish in wishes:
        after, more, said = _made(after, wish, marks)
        touched |= more
        says.append(said)
    _turn_away_faults(before, after, touched)
    return Changed(after, frozenset(_to_list(path) for path in touched), "; ".join(says)[:300])


def _turn_away_faults(before: Sequence[Finding], after: str, touched: Iterable[Path]) -> None:
    known = {field_of(finding) for finding in before}
    fields = [dotted(path) for path in touched]

    def is_new(finding: Finding) -> bool:
        field = field_of(finding)
        return field not in known or any(field == own or (field or "").startswith(f"{own}.") for own in fields)

    wrong = [finding for finding in faults(after) if is_new(finding)]
    if wrong:
        raise Refusal(wrong)


@lru_cache(maxsize=32)
def as_read(text: str) -> tuple[Commission, tuple[Finding, ...]]:
    """Returns a commission as far as it can be read, and every fault found; kept, for each change is read often.

    Raises Refusal where the text isn't a document of a known format.
    """
    return read_as_far(text, NAME)


def faults(text: str) -> tuple[Finding, ...]:
    """Returns what stands in the way of reading a commission; nothing where it can be planned."""
    try:
        return as_read(text)[1]
    except Refusal as refusal:
        return refusal.findings


def field_of(finding: Finding) -> str | None:
    """Returns the dotted path of the field that a finding of the commission speaks of, None where it speaks of none.

    >>> from settwright.findings import Weight
    >>> field_of(Finding(Weight.REFUSED, "commission, line 3, pins, no. 2, bar", "isn't there."))
    'pins.1.bar'
    """
    where = re.sub(rf"^{NAME}(, line \d+)?(, |$)", "", finding.where)
    where = re.sub(r", no\. (\d+)(?:, )?", lambda found: f".{int(found[1]) - 1}.", where).rstrip(".")
    return where or None


def finding_data(finding: Finding, *, of_file: bool = False) -> dict[str, Any]:
    """Returns a finding as the page shows it; one of a file that was brought in keeps the file's words and lines."""
    field = field_of(finding)
    if of_file:
        where = finding.where.removeprefix(NAME).removeprefix(", ")
        return {
            "weight": finding.weight.value,
            "where": where,
            "field": None,
            "what": finding.what,
            "remedy": finding.remedy,
        }
    is_field = field is not None and field.split(".")[0] in (*_FIELDS, "units", "title", "client", "fittings")
    return {
        "weight": finding.weight.value,
        "where": field or "",
        "field": field if is_field else None,
        "what": in_words(finding.what, field or ""),
        "remedy": in_words(finding.remedy, field or ""),
    }


def parse_path(dotted_path: str) -> Path:
    """Returns a dotted path's keys, places in a list as figures.

    >>> parse_path('importance."flap.left"')
    ('importance', 'flap.left')
    >>> parse_path("pins.0.bar")
    ('pins', 0, 'bar')

    Raises Refusal for anything else.
    """
    keys: list[str | int] = []
    at = 0
    while at < len(dotted_path) or not keys:
        found = _KEY.match(dotted_path, at)
        if not found or len(keys) > 8:
            raise refuse(NAME, f"“{dotted_path[:60]}” is no field.", "")
        keys.append(_key(found[1], found[2]))
        at = found.end()
        if not found[3]:
            break
    return tuple(keys)


def _key(quoted: str | None, bare: str) -> str | int:
    if quoted is None:
        return int(bare) if bare.strip().isdecimal() else bare.strip()
    try:
        return str(json.loads(f'"{quoted}"', strict=False))
    except ValueError:
        raise refuse(NAME, f"“{quoted[:60]}” is no field.", "") from None


def dotted(path: Path) -> str:
    """Returns a path as the page writes it."""
    return ".".join(f"{key}" if isinstance(key, int) or _BARE_KEY.fullmatch(key) else json.dumps(key) for key in path)


def _made(text: str, wish: Wish, marks: Sequence[Change]) -> tuple[str, set[Path], str]:
    """Returns the text with one change made, the fields touched, and what it was."""
    kinds = [kind for kind in ("set", "take_out", "pin", "cut", "measure_in") if getattr(wish, kind) is not None]
    if len(kinds) != 1:
        raise refuse(NAME, "a change is one of: set, take_out, pin, cut, measure_in.", "")
    if wish.pin is not None:
        return _pinned(text, wish.pin)
    if wish.cut is not None:
        return _cut(text, wish.cut, marks)
    if wish.measure_in is not None:
        return measured_in(text, wish.measure_in), {("units",)}, f"figures in {wish.measure_in}"
    path = parse_path(wish.set if wish.set is not None else wish.take_out or "")
    value = None if wish.set is None else as_written(path, wish.to)
    if value is None:
        if not holds(text, path):
            return text, {path}, f"{spoken(path)}: left to custom"
        return _exactly(text, RemoveValue(path), path, None), {path}, f"{spoken(path)}: taken out"
    shown = value if isinstance(value, str | int | float) else "changed"
    shown = {True: "yes", False: "no"}[value] if isinstance(value, bool) else shown
    return _exactly(text, SetValue(path, value), path, value), {path}, f"{spoken(path)}: {shown}"


def spoken(path: Path) -> str:
    """Returns a field in words.

    >>> spoken(("jacket", "length_below_waist"))
    'jacket, length below waist'
    """
    words = [f"no. {key + 1}" if isinstance(key, int) else key.replace("_", " ").replace("-", " ") for key in path]
    return ", ".join(words[1:] if len(words) > 1 and words[0] in ("cloths", "choices", "measurements") else words)


_NOTHING: Any = object()


def _get(data: Any, path: Path) -> Any:
    for key in path:
        try:
            data = data[key]
        except (KeyError, IndexError, TypeError):
            return _NOTHING
    return data


def holds(text: str, path: Path) -> bool:
    """Whether a field stands in a text."""
    return _get(read_toml(text, NAME), path) is not _NOTHING


def _exactly(text: str, change: Change, path: Path, value: Any) -> str:
    """Returns the text with a change made, sure that it and nothing else came out of it.

    The library that keeps comments sometimes puts a value that takes the place of a section where it belongs to
    another one; then the section is taken out first.
    """
    wanted = read_toml(text, NAME)
    _put(wanted, path, value)
    ways: list[list[Change]] = [[change]]
    if value is not None and isinstance(_get(read_toml(text, NAME), path), dict):
        ways.append([RemoveValue(path), change])
    for way in ways:
        after = changed(text, way, NAME)
        if _without_empty(read_toml(after, NAME)) == _without_empty(wanted):
            return after
    raise refuse(dotted(path), "it can't be changed here.", "Write it into the file itself and bring the file in.")


def _put(data: Any, path: Path, value: Any) -> None:
    for i, key in enumerate(path[:-1]):
        if isinstance(data, dict) and key not in data:
            data[key] = {}
        try:
            data = data[key]
        except (KeyError, IndexError, TypeError):
            raise refuse(NAME, f"there is no {dotted(path[: i + 1])}.", "") from None
    try:
        if value is None:
            del data[path[-1]]
        else:
            data[path[-1]] = value
    except (KeyError, IndexError, TypeError):
        raise refuse(NAME, f"there is no {dotted(path)}.", "") from None


def _without_empty(data: Any) -> Any:
    """Returns data without empty lists, which leave no trace in the text."""
    if isinstance(data, Mapping):
        return {key: _without_empty(value) for key, value in data.items() if value != []}
    return data


def _pinned(text: str, pin: PinForm) -> tuple[str, set[Path], str]:
    """Returns the text with a pin, in place of one on the same piece and axis."""
    entries = read_toml(text, NAME).get("pins") or []
    older = [
        i
        for i, entry in enumerate(entries)
        if isinstance(entry, dict) and (entry.get("piece"), entry.get("axis")) == (pin.piece, pin.axis)
    ]
    changes: list[Change] = [RemoveValue(("pins", i)) for i in reversed(older)]
    if older and len(older) == len(entries):
        changes = [RemoveValue(("pins",))]
    changes.append(AddPin(**msgspec.structs.asdict(pin)))
    said = f"{pin.at or 'middle'} of {pin.bar}" if pin.bar else f"{pin.at}"
    where = (pin.edge or pin.line or pin.mark or "").replace("-", " ")
    return changed(text, changes, NAME), {("pins",)}, f"{pin.piece.replace('.', ', ')}, {where}: {said}"


def _cut(text: str, cut: CutForm, marks: Sequence[Change]) -> tuple[str, set[Path], str]:
    """Returns the text with pieces marked as cut."""
    touched: set[Path] = {("cut",), *(mark.path for mark in marks if isinstance(mark, SetValue))}
    said = ", ".join(name.replace(".", ", ").replace("-", " ") for name in cut.pieces)
    return changed(text, marks, NAME), touched, f"cut: {said}"


def kind_of(path: Path) -> Any:
    """Returns the form's type at a path; None where the form has no such field."""
    form: Any = Document
    for key in path:
        form = _inner(form, key)
        if form is None:
            return None
    return form


def _alternatives(form: Any) -> tuple[Any, ...]:
    if get_origin(form) in (Union, types.UnionType):
        return tuple(kind for kind in get_args(form) if kind is not type(None))
    return (form,)


def _inner(form: Any, key: str | int) -> Any:
    for kind in _alternatives(form):
        if isinstance(key, int) and get_origin(kind) is list:
            return get_args(kind)[0]
        if isinstance(key, str) and get_origin(kind) is dict:
            return get_args(kind)[1]
        if isinstance(key, str) and isinstance(kind, type) and issubclass(kind, msgspec.Struct):
            found = next((field.type for field in msgspec.structs.fields(kind) if field.name == key), None)
            if found is not None:
                return found
    return None


def is_length(form: Any) -> bool:
    """Whether a field of the form holds a length (or an angle, which the form doesn't tell from one)."""
    return set(get_args(Length)) <= set(_alternatives(form))


def as_written(path: Path, value: Any) -> Any:
    """Returns what was typed as the file writes it: plain figures as figures, yes as true; None where nothing is left.

    What can't be made out stays as it is, for the reader to refuse in its own words.
    """
    if isinstance(value, list | dict) or value is None:
        return value
    kinds = set(_alternatives(kind_of(path)))
    text = value.strip() if isinstance(value, str) else value
    if text == "":
        return None
    if isinstance(text, str) and bool in kinds and text.lower() in (*_YES, *_NO):
        return text.lower() in _YES
    if isinstance(text, str) and kinds & {int, float} and _PLAIN_FIGURE.fullmatch(text):
        return float(text) if "." in text else int(text)
    return text


def measured_in(text: str, units: Units) -> str:
    """Returns the commission in other units; every figure that was written keeps its own. Raises Refusal."""
    data = read_toml(text, NAME)
    sign = Units(data.get("units") or "cm").sign if data.get("units", "cm") in list(Units) else "cm"
    changes: list[Change] = [
        SetValue(path, f"{str(value).strip().removesuffix('.0')} {sign}")
        for path, value in _bare_lengths(data, (), Document)
    ]
    changes += [SetValue(path, bars) for path, bars in _bare_bars(data, sign)]
    after = changed(text, [*changes, SetValue(("units",), units.value)], NAME)
    if not faults(text) and _measures(read_commission(after, NAME)) != _measures(read_commission(text, NAME)):
        raise refuse("units", "some figures would come to something else in other units.", "Change them by hand.")
    return after


def _measures(commission: Commission) -> tuple[Any, ...]:
    pins = tuple((pin.piece, pin.axis, pin.place) for pin in commission.pins)
    garments = commission.jacket, commission.skirt, commission.trousers
    return commission.measured, *garments, commission.cloths, commission.fittings, pins


def _bare_lengths(data: Any, path: Path, form: Any) -> Iterable[tuple[Path, Any]]:
    """Yields every length that is written without a unit."""
    if isinstance(data, dict):
        for key, value in data.items():
            yield from _bare_lengths(value, (*path, key), _inner(form, key))
    elif isinstance(data, list):
        for i, value in enumerate(data):
            yield from _bare_lengths(value, (*path, i), _inner(form, i))
    elif is_length(form) and not isinstance(data, bool) and not _is_other(path):
        bare = isinstance(data, int | float) or (data.strip() and _BARE_FIGURE.fullmatch(data.strip()))
        if bare:
            yield path, data


def _bare_bars(data: Any, sign: str) -> Iterable[tuple[Path, list[str]]]:
    """Yields every list of bars whose widths are in the commission's units, with the unit behind each width."""
    for name, cloth in (data.get("cloths") or {}).items():
        for way in ("warp", "weft"):
            form = cloth.get(way) if isinstance(cloth, dict) else None
            path: Path = ("cloths", name, way)
            if isinstance(form, dict) and not any(
                key in form for key in ("bars_in", "threads_per_cm", "threads_per_inch")
            ):
                form, path = form.get("bars"), (*path, "bars")
            if isinstance(form, list):
                yield path, [f"{bar} {sign}" if bar[-1:].isdecimal() or bar[-1:] in "¼½¾⅛⅜⅝⅞" else bar for bar in form]


def _is_other(path: Path) -> bool:
    """Whether a figure of the form counts threads or degrees."""
    name = str(path[-1])
    known = BY_NAME.get(name) if path[0] == "measurements" else None
    return bool(known and known.is_angle) or name.startswith("threads_per")


def _to_list(path: Path) -> Path:
    """Returns a path as far as the first list: two changes in one list touch the same field."""
    return next((path[:i] for i, key in enumerate(path) if isinstance(key, int)), path)


def differing(a: str, b: str) -> frozenset[Path]:
    """Returns the fields in which two texts differ; a list is one field."""
    one, other = dict(_leaves(read_toml(a, NAME), ())), dict(_leaves(read_toml(b, NAME), ()))
    return frozenset(path for path in (*one, *other) if one.get(path, _NOTHING) != other.get(path, _NOTHING))


def _leaves(data: Any, path: Path) -> Iterable[tuple[Path, Any]]:
    if isinstance(data, dict) and data:
        for key, value in data.items():
            yield from _leaves(value, (*path, key))
    else:
        yield path, data


def clash(mine: Iterable[Path], theirs: Iterable[Path]) -> frozenset[Path]:
    """Returns those of their fields that lie within one of mine or around it."""
    own = list(mine)
    return frozenset(
        path for path in theirs if any(path[: len(field)] == field or field[: len(path)] == path for field in own)
    )
