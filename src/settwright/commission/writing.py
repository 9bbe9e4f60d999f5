"""Writes decisions back into the person's own file, leaving her comments, order and spacing as they are."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, MutableMapping, Sequence
from dataclasses import dataclass
from typing import Any, cast

import tomlkit
from tomlkit.exceptions import TOMLKitError
from tomlkit.items import AoT

from settwright.commission.migrating import migrate
from settwright.commission.model import CutAlready, Found, Placed
from settwright.commission.reading import read_commission, read_toml
from settwright.findings import refuse

Value = str | int | float | bool | Sequence[Any] | Mapping[str, Any]


@dataclass(frozen=True, slots=True)
class SetValue:
    """Gives a field a value: SetValue(("jacket", "buttons"), 2). Sections that don't exist yet are begun."""

    path: tuple[str | int, ...]
    value: Value


@dataclass(frozen=True, slots=True)
class RemoveValue:
    """Takes a field, a section or one element of a list out: RemoveValue(("pins", 0))."""

    path: tuple[str | int, ...]


@dataclass(frozen=True, slots=True)
class AddPin:
    """Adds a pin, its place named by bar and edge as the file does; `at` in the commission's units or as words."""

    piece: str
    axis: str
    bar: str | None = None
    at: str | float | None = None
    mark: str | None = None
    edge: str | None = None
    stop: str | None = None
    line: str | None = None


@dataclass(frozen=True, slots=True)
class AddFound:
    """Adds a layout that was found, in place of an older one for the same cloth."""

    found: Found


@dataclass(frozen=True, slots=True)
class AddCut:
    """Marks a piece as cut, in place of an older mark of the same piece."""

    cut: CutAlready


Change = SetValue | RemoveValue | AddPin | AddFound | AddCut


def write_back(text: str, changes: Iterable[Change], name: str = "the commission") -> str:
    """Returns the text with the changes made and its comments kept; the result is a commission that reads.

    An older file is brought up to the format of today on the way.

    Raises Refusal if the text can't be read, a path leads nowhere, or the changed commission would be refused.
    """
    written = changed(text, changes, name)
    read_commission(written, name)
    return written


def changed(text: str, changes: Iterable[Change], name: str = "the commission") -> str:
    """Returns the text with the changes made, as write_back does, whether or not the result can be planned yet.

    Raises Refusal if the text isn't a document of a known format or a path leads nowhere.
    """
    document = _parsed(text, name)
    migrate(document, name)
    for change in changes:
        _make(document, change, name)
    return tomlkit.dumps(document)


def bring_up_to_date(text: str, name: str = "the commission") -> str:
    """Returns an older file in the format of today, comments kept. Raises Refusal as migrate does."""
    document = _parsed(text, name)
    migrate(document, name)
    return tomlkit.dumps(document)


# tomlkit's containers have no useful types, so that the document is passed about as Any.


def _parsed(text: str, name: str) -> Any:
    read_toml(text.removeprefix("\ufeff"), name)  # for its messages
    try:
        return tomlkit.parse(text.removeprefix("\ufeff"))
    except TOMLKitError as wrong:
        raise refuse(name, f"it can't be changed: {wrong}", "Look for a field or section that stands twice.") from None


def _make(document: Any, change: Change, name: str) -> None:
    if isinstance(change, SetValue):
        section = _section(document, change.path[:-1], name, begin=True)
        section[cast(str, change.path[-1])] = _item(change.value)
    elif isinstance(change, RemoveValue):
        section = _section(document, change.path[:-1], name, begin=False)
        try:
            del section[cast(str, change.path[-1])]
        except (KeyError, IndexError, TOMLKitError):
            raise refuse(name, f"there is no {_dotted(change.path)} to take out.", "Look at the file again.") from None
    elif isinstance(change, AddPin):
        fields = {
            "piece": change.piece,
            "mark": change.mark,
            "edge": change.edge,
            "line": change.line,
            "stop": change.stop,
            "axis": change.axis,
            "bar": change.bar,
            "at": change.at,
        }
        _append(document, "pins", {key: value for key, value in fields.items() if value is not None}, name)
    elif isinstance(change, AddFound):
        _add_found(document, change.found, name)
    else:
        _add_cut(document, change.cut, name)


def _take_out(document: Any, section: str, key: str, value: str) -> None:
    """Takes out every entry of a list of sections that holds this value."""
    older: Any = document.get(section)
    if isinstance(older, AoT):
        for i in reversed(range(len(older))):
            if cast(Any, older[i]).get(key) == value:
                del older[i]
        if not older:
            del document[section]


def _add_cut(document: Any, cut: CutAlready, name: str) -> None:
    _take_out(document, "cut", "piece", cut.placed.piece)
    entry: dict[str, Any] = {"piece": cut.placed.piece, "cloth": cut.cloth}
    entry |= {key: value for key, value in _placement(cut.placed).items() if key != "piece"}
    if cut.outline:
        entry["outline"] = ", ".join(f"{x:g} {y:g}" for x, y in ((round(x, 3), round(y, 3)) for x, y in cut.outline))
    _append(document, "cut", entry, name)


def _add_found(document: Any, found: Found, name: str) -> None:
    _take_out(document, "found", "cloth", found.cloth)
    entry: dict[str, Any] = {"cloth": found.cloth, "inputs": found.inputs, "length": _millimetres(found.length)}
    if found.sett_at_end is not None:
        entry["sett_at_end"] = _millimetres(found.sett_at_end)
    placements: Any = tomlkit.array()
    for placed in found.placements:
        placements.append(_placement(placed))
    entry["placements"] = placements.multiline(True)
    _append(document, "found", entry, name)


def _placement(placed: Placed) -> Any:
    table: Any = tomlkit.inline_table()
    table["piece"] = placed.piece
    table["from_left"] = _millimetres(placed.x)
    table["from_end"] = _millimetres(placed.y)
    if placed.turned:
        table["turned"] = True
    if placed.wrong_side_up:
        table["wrong_side_up"] = True
    return table


def _millimetres(length: float) -> str:
    """Returns a length as the program writes it, to 0.001 mm, the same in a commission of either units."""
    return f"{round(length, 3):g} mm" if abs(length) < 1000 else f"{length:.3f} mm"


def _append(document: Any, name: str, fields: Mapping[str, Any], file: str) -> None:
    table: Any = tomlkit.table()
    for key, value in fields.items():
        table[key] = value
    entries: Any = document.get(name)
    if entries is None:
        entries = tomlkit.aot()
        entries.append(table)
        document[name] = entries
    elif isinstance(entries, AoT):
        cast(Any, entries).append(table)
    else:
        raise refuse(f"{file}, {name}", "it isn't written as a list of sections.", f"Begin each with [[{name}]].")


def _section(document: Any, path: tuple[str | int, ...], name: str, *, begin: bool) -> Any:
    place: Any = document
    for i, key in enumerate(path):
        if begin and _is_section(place) and key not in place:
            place[key] = tomlkit.table()
        try:
            place = place[key]
        except (KeyError, IndexError, TypeError, TOMLKitError):
            raise refuse(name, f"there is no {_dotted(path[: i + 1])}.", "Look at the file again.") from None
    if not (_is_section(place) or isinstance(place, list)):
        raise refuse(name, f"{_dotted(path)} is no section.", "Look at the file again.")
    return cast(Any, place)


def _is_section(place: Any) -> bool:
    return isinstance(place, MutableMapping)


def _item(value: Value) -> Any:
    if isinstance(value, Mapping):
        table: Any = tomlkit.inline_table()
        for key, entry in value.items():
            table[key] = entry
        return table
    return value


def _dotted(path: tuple[str | int, ...]) -> str:
    return ".".join(str(key) for key in path)


__all__ = [
    "AddCut",
    "AddFound",
    "AddPin",
    "Change",
    "RemoveValue",
    "SetValue",
    "bring_up_to_date",
    "changed",
    "write_back",
]
