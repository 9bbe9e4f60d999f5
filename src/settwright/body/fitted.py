"""The body as the fittings show it: what they correct of a measurement is added to what was measured or estimated."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from settwright.body.catalogue import BY_NAME, DEPARTURES
from settwright.body.estimate import check, complete
from settwright.body.model import Body, Source
from settwright.findings import Finding, Refusal, Weight
from settwright.units import Units, format_length

_DEPARTURES = {definition.name for definition in DEPARTURES}


def as_fitted(measured: Mapping[str, float], corrections: Mapping[str, float], units: Units = Units.CM) -> Body:
    """Returns the completed body with every correction of the fittings, each told as a note.

    Both in mm by measurement. A corrected length changes no estimate of another: it was found on the garment. A
    departure from an even figure counts from nothing where none was measured. Raises Refusal as `complete` does, and
    where a correction makes a measurement impossible.
    """
    corrections = {name: by for name, by in corrections.items() if by}
    uneven = {name: measured.get(name, 0.0) + by for name, by in corrections.items() if name in _DEPARTURES}
    body = complete({**measured, **uneven}, units)
    lengths = {name: by for name, by in corrections.items() if name not in _DEPARTURES}
    measures = tuple(
        replace(m, value=m.value + lengths.get(m.name, 0.0), how=_how(m.how, corrections[m.name], units))
        if m.name in corrections
        else m
        for m in body.measures
    )
    known = {m.name: m.value for m in measures if m.source is Source.MEASURED or m.name in lengths}
    if wrong := check(known, units):
        raise Refusal(wrong)
    after = {measure.name: measure.value for measure in measures}
    told = (_told(name, after[name] - by, after[name], units) for name, by in corrections.items())
    return replace(body, measures=measures, findings=(*body.findings, *told))


def _how(how: str, by: float, units: Units) -> str:
    said = f"{format_length(abs(by), units)} {'more' if by > 0 else 'less'} since the fittings"
    return f"{how}; {said}" if how else said


def _told(name: str, before: float, after: float, units: Units) -> Finding:
    was, now = (format_length(length, units) for length in (before, after))
    return Finding(
        Weight.NOTE,
        f"measurements.{name}",
        f"{BY_NAME[name].title}: {now} since the fittings, before them {was}.",
        "When you measure it anew, take the correction out.",
    )
