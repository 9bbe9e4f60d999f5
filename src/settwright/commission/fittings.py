"""Reads the fittings so far. What they correct of a measurement or a length of the cut is drafted; the rest is kept."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Any, cast

from settwright.body.catalogue import BY_NAME
from settwright.commission.choices import EASE, JACKET, JACKET_MOVED, SKIRT, SKIRT_MOVED, TROUSERS
from settwright.commission.desk import Desk, offer, short
from settwright.commission.document import FittingForm
from settwright.commission.fields import Fields, LengthField
from settwright.commission.lines import Path
from settwright.commission.model import Fitting
from settwright.findings import Weight

_SECTIONS: Mapping[str, Fields] = {
    "jacket": JACKET,
    "jacket.ease": EASE,
    "jacket.moved": JACKET_MOVED,
    "skirt": SKIRT,
    "skirt.moved": SKIRT_MOVED,
    "trousers": TROUSERS,
}
LENGTHS: Mapping[str, LengthField] = {
    f"{section}.{name}": field
    for section, fields in _SECTIONS.items()
    for name, field in fields.items()
    if isinstance(field, LengthField)
}
"""The lengths of a cut that a fitting may correct, by their dotted names."""

_MOST = 500.0  # mm of a correction


def read_fittings(desk: Desk, forms: Sequence[FittingForm], garments: Iterable[str]) -> tuple[Fitting, ...]:
    """Returns the fittings so far; a correction that can't be drafted is cautioned about and kept as a note."""
    commissioned = tuple(garments)
    fittings: list[Fitting] = []
    for i, form in enumerate(forms):
        corrections: list[tuple[str, float]] = []
        for keys, given in _flat(form.corrections or {}):
            path: Path = ("fittings", i, "corrections", *keys)
            name = _named(".".join(keys), commissioned)
            if name in BY_NAME and BY_NAME[name].is_angle:
                desk.refuse(path, "a slope isn't corrected by a length.", "Measure it again.")
                continue
            value = desk.length(path, given, "correction", -_MOST, _MOST)
            if value is None:
                continue
            corrections.append((name, value))
            if not _is_drafted(name, commissioned):
                desk.say(
                    Weight.CAUTION,
                    path,
                    f"{short(name)} is noted and not drafted: it is no measurement and no length of what is cut.",
                    f"{offer(name, [*BY_NAME, *LENGTHS], few=0)} Mark it on the pieces by hand.".strip(),
                )
        fittings.append(Fitting(form.date or "", form.note or "", tuple(corrections)))
    return tuple(fittings)


def of_the_cut(fittings: Iterable[Fitting]) -> dict[str, float]:
    """Returns by how much the fittings together correct each length of the cut, in mm."""
    return _summed(fittings, LENGTHS)


def of_the_body(fittings: Iterable[Fitting]) -> dict[str, float]:
    """Returns by how much the fittings together correct each measurement, in mm."""
    return _summed(fittings, BY_NAME)


def _summed(fittings: Iterable[Fitting], known: Mapping[str, Any]) -> dict[str, float]:
    summed: dict[str, float] = {}
    for fitting in fittings:
        for name, by in fitting.corrections:
            if name in known:
                summed[name] = summed.get(name, 0.0) + by
    return summed


def _flat(given: Mapping[str, Any], keys: tuple[str, ...] = ()) -> Iterator[tuple[tuple[str, ...], Any]]:
    for key, value in given.items():
        if isinstance(value, dict):
            yield from _flat(cast("dict[str, Any]", value), (*keys, key))
        else:
            yield (*keys, key), value


def _named(written: str, garments: Sequence[str]) -> str:
    """Returns the name that was meant: capitals, spaces and hyphens don't count, nor the garment where one alone has
    such a length; what is none comes back as written.
    """
    name = written.strip().lower().replace("-", "_").replace(" ", "_")
    if name in BY_NAME or name in LENGTHS:
        return name
    found = [known for known in LENGTHS if known.partition(".")[2] == name and known.split(".")[0] in garments]
    return found[0] if len(found) == 1 else written


def _is_drafted(name: str, garments: Sequence[str]) -> bool:
    return name in BY_NAME or (name in LENGTHS and name.split(".", maxsplit=1)[0] in garments)
