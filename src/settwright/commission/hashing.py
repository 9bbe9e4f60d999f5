"""A short name for a set of inputs, by which a layout found for them is known again."""

from __future__ import annotations

import dataclasses
import hashlib
import json
from enum import Enum
from typing import Any, cast


def canonical_hash(*inputs: Any) -> str:
    """Returns "sha256:…" of values in one canonical form: equal inputs hash alike, in every process.

    Dataclasses, mappings (in the order of their keys), sequences, enums and plain values; figures count to 0.001 mm.

    >>> canonical_hash(1.00001, "a") == canonical_hash(1.0, "a")
    True

    Raises TypeError for anything else.
    """
    text = json.dumps([_plain(value) for value in inputs], ensure_ascii=False, separators=(",", ":"))
    return "sha256:" + hashlib.sha256(text.encode()).hexdigest()


def _plain(value: Any) -> Any:
    if isinstance(value, Enum):
        return _plain(value.value)
    if value is None or isinstance(value, bool | str):
        return value
    if isinstance(value, int | float):
        return round(float(value), 3) + 0.0  # + 0.0 makes of a negative zero a plain one
    if dataclasses.is_dataclass(value) and not isinstance(value, type):
        kept = {field.name: _plain(getattr(value, field.name)) for field in dataclasses.fields(value)}
        return [type(value).__name__, kept]
    if isinstance(value, dict):
        entries = cast(dict[Any, Any], value)
        return {str(key): _plain(entries[key]) for key in sorted(entries, key=str)}
    if isinstance(value, list | tuple):
        return [_plain(element) for element in cast(list[Any], value)]
    raise TypeError(f"{type(value).__name__} has no canonical form")
