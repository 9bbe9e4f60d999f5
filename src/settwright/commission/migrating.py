"""Brings an older document to the format of today, one step at a time, and refuses a newer one plainly.

A step works on any mapping: on plain data when a commission is read, on tomlkit's document when the file itself is to
be brought up to date with its comments kept.

Format 0 is the earliest draft of this format:

- `client` was a name, not a section;
- measurements stood in `[measures]`, their names with hyphens ("bust-girth");
- one cloth stood in `[cloth]`, its bars as `warp = "navy 12, ivory 3"` in millimetres;
- the front that laps over was `laps = "right over left"`.
"""

from __future__ import annotations

from collections.abc import Callable, MutableMapping
from typing import Any

from settwright.findings import refuse

FORMAT = 1
"""The format that this program writes."""

Document = MutableMapping[str, Any]


def migrate(document: Document, name: str = "the commission") -> None:
    """Brings a document to FORMAT in place. Raises Refusal if its format isn't known."""
    found = document.get("format")
    if found is None:
        raise refuse(name, "it doesn't say its format.", f"Begin the file with the line: format = {FORMAT}")
    if isinstance(found, bool) or not isinstance(found, int) or found < 0:
        raise refuse(f"{name}, format", f"“{str(found)[:40]}” is no format.", f"Write: format = {FORMAT}")
    number = int(found)
    if number > FORMAT:
        raise refuse(
            f"{name}, format",
            f"it is written in format {str(number)[:12]}, which is newer than this program (format {FORMAT}).",
            "Bring the program up to date; the file has not been touched.",
        )
    for step in range(number, FORMAT):
        _STEPS[step](document)
        document["format"] = step + 1


def _from_0_to_1(document: Document) -> None:
    if isinstance(document.get("client"), str):
        document["client"] = {"name": document.pop("client")}
    if isinstance(document.get("measures"), MutableMapping):
        measures = document.pop("measures")
        for key in list(measures):
            if "-" in key:
                measures[key.replace("-", "_")] = measures.pop(key)
        document["measurements"] = measures
    if isinstance(document.get("cloth"), MutableMapping):
        cloth = document.pop("cloth")
        for direction in ("warp", "weft"):
            bars = cloth.get(direction)
            if isinstance(bars, str) and any(sign.isdigit() for sign in bars):
                cloth[direction] = {"bars_in": "mm", "bars": [bar.strip() for bar in bars.split(",")]}
        document["cloths"] = {"shell": cloth}
    if isinstance(document.get("laps"), str):
        document["choices"] = {"front_laps_over": str(document.pop("laps")).split(" ")[0]}


_STEPS: dict[int, Callable[[Document], None]] = {0: _from_0_to_1}
