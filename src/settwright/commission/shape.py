"""Holds a document against its form and says everything that doesn't fit, where the schema library stops at the first.

Each leaf is judged by msgspec; this walk only leads it there, so that one wrong field doesn't hide the next.
"""

from __future__ import annotations

import types
from functools import cache
from typing import Any, Union, cast, get_args, get_origin

import msgspec

from settwright.commission.desk import Desk, offer, short
from settwright.commission.document import BarPlaceForm, Document
from settwright.commission.lines import Path

Data = dict[str, Any]
_MISSING: Any = object()


def read_form(desk: Desk, data: Data) -> Document:
    """Returns the document's form; what didn't fit has been left out of it and noted at the desk."""
    fitting = _fit(desk, (), data, Document)
    return msgspec.convert(fitting if isinstance(fitting, dict) else {}, Document, strict=True)


def _fit(desk: Desk, path: Path, value: Any, form: Any) -> Any:
    kinds = _kinds(form)
    for kind in kinds:
        origin = get_origin(kind)
        if isinstance(value, dict):
            entries = cast(Data, value)
            if isinstance(kind, type) and issubclass(kind, msgspec.Struct):
                return _fit_struct(desk, path, entries, kind)
            if origin is dict:
                inner = get_args(kind)[1]
                fitted = {key: _fit(desk, (*path, key), entry, inner) for key, entry in entries.items()}
                return {key: entry for key, entry in fitted.items() if entry is not _MISSING}
        if isinstance(value, list) and origin is list:
            inner = get_args(kind)[0]
            elements = [_fit(desk, (*path, i), entry, inner) for i, entry in enumerate(cast(list[Any], value))]
            # A list keeps its count, or later messages would name the wrong element.
            return _MISSING if any(entry is _MISSING for entry in elements) else elements
    try:
        return msgspec.convert(value, form, strict=True)
    except msgspec.ValidationError:
        desk.refuse(path, f"{_got(value)} stands where {_wanted(kinds)} belongs.", _remedy(kinds, path))
        return _MISSING


def _fit_struct(desk: Desk, path: Path, value: Data, form: type[msgspec.Struct]) -> Data:
    fields = _fields(form)
    fitted: Data = {}
    for key, entry in value.items():
        if key not in fields:
            place = "the commission" if not path else "this section"
            desk.refuse((*path, key), f"{place} has no field {short(key)}.", offer(key, fields, few=6))
            continue
        kept = _fit(desk, (*path, key), entry, fields[key])
        if kept is not _MISSING:
            fitted[key] = kept
    return fitted


@cache
def _fields(form: type[msgspec.Struct]) -> dict[str, Any]:
    """Returns the types of a form's fields by name."""
    return {field.name: field.type for field in msgspec.structs.fields(form)}


def _kinds(form: Any) -> tuple[Any, ...]:
    if get_origin(form) in (Union, types.UnionType):
        return tuple(kind for kind in get_args(form) if kind is not type(None))
    return (form,)


def _got(value: Any) -> str:
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, dict):
        return "a section"
    if isinstance(value, list):
        return "a list"
    return f"{short(value)}"


def _wanted(kinds: tuple[Any, ...]) -> str:
    if set(kinds) == {int, float, str}:
        return "a length"
    if set(kinds) == {float, str}:
        return "a figure"
    return _WANTED.get(get_origin(kinds[0]) or kinds[0], "a section of fields")


_WANTED: dict[Any, str] = {
    str: "a word or sentence in quotation marks",
    int: "a whole number",
    float: "a figure",
    bool: "true or false",
    list: "a list",
    dict: "a section of fields",
}


def _remedy(kinds: tuple[Any, ...], path: Path) -> str:
    name = next((str(key) for key in reversed(path) if isinstance(key, str)), "it")
    section = ".".join(str(key) for key in path)
    kind = get_origin(kinds[0]) or kinds[0]
    ways: dict[Any, str] = {
        BarPlaceForm: f'Write {name} = {{ bar = "navy 1", at = "middle" }}.',
        str: 'Put each entry in quotation marks: "…".' if isinstance(path[-1], int) else f'Write {name} = "…".',
        int: "Write it without a comma, a point or quotation marks.",
        float: "Write a figure such as 68 or 68.50.",
        bool: "Write true or false, without quotation marks.",
        list: f"Begin each one with a line of its own: [[{name}]].",
    }
    if set(kinds) == {int, float, str}:
        return 'Write a figure such as 97.5, or words such as "38 1/2" or "12 mm".'
    if kind is list and get_args(kinds[0])[0] is str:
        return f'Write {name} = ["…", "…"].'
    return ways.get(kind, f"Begin a section with a line of its own, [{section}], and put its fields below.")
