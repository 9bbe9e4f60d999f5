"""A stooping or an erect back, brought into the lengths that a draft is made from.

"A longer back and shorter front shoulder for a stooping form", the reverse for an erect one: Vincent, The Cutter's
Practical Guide, 1898, part 1, page 60 (public domain). How much the front gives for what the back takes isn't printed
there; half is common practice, no source.

A length that was measured on the client holds her posture already. So the stoop is given only to lengths that were
estimated, since estimates are those of an upright body; and an estimate that started from a measured back is first set
right by the stoop in it.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from settwright.body.catalogue import BY_NAME
from settwright.body.model import Body, Measure, Source
from settwright.findings import Finding, Weight
from settwright.units import Units, format_length


@dataclass(frozen=True)
class _Share:
    """What part of the stoop a length takes: of an upright body's, and again what it has from a measured `base`."""

    name: str
    part: float
    base: str = ""  # the estimate copies this measure one to one, so it holds the stoop if that was measured
    base_part: float = 0.0


# The bend lies over the blades, above the scye line: scye depth and back take all of it, the chest gives half of it
# above the bust. Across, the blades come forward round the body by half of it and the chest closes by as much.
_SHARES = (
    _Share("back_waist_length", 1.0),
    _Share("scye_depth", 1.0),
    _Share("front_waist_length", -0.5, "back_waist_length", 1.0),
    _Share("neck_point_to_bust_point", -0.5),
    _Share("across_back_width", 0.5),
    _Share("across_front_width", -0.5, "across_back_width", 0.5),
)


def for_posture(body: Body, units: Units = Units.CM) -> Body:
    """Returns the body that a draft is made for: estimated lengths changed by `back_stoop`, each with how.

    A body without that measure, or with every length measured, comes back with the same figures; a stoop that finds
    nothing to change is told as a note. `units` only words what is told.
    """
    taken = {measure.name: measure for measure in body.measures}
    if "back_stoop" not in taken or taken["back_stoop"].value == 0.0:
        return body
    stoop = taken["back_stoop"].value
    changed = {
        share.name: _given(taken[share.name], _change(share, taken, stoop), units)
        for share in _SHARES
        if share.name in taken and taken[share.name].source is Source.ESTIMATED
    }
    measures = tuple(changed.get(measure.name, measure) for measure in body.measures)
    return replace(body, measures=measures, findings=(*body.findings, _told(stoop, taken, changed, units)))


def _change(share: _Share, taken: Mapping[str, Measure], stoop: float) -> float:
    base = taken.get(share.base)
    has_stoop = base is not None and base.source is Source.MEASURED
    return stoop * (share.part - (share.base_part if has_stoop else 0.0))


def _given(measure: Measure, change: float, units: Units) -> Measure:
    more = "more" if change > 0 else "less"
    how = f"{measure.how}; {format_length(abs(change), units)} {more} for the posture"
    return replace(measure, value=round(measure.value + change, 1), how=how)


def _told(stoop: float, taken: Mapping[str, Measure], changed: Mapping[str, Measure], units: Units) -> Finding:
    posture = "stooping" if stoop > 0 else "erect"
    if not changed:
        return Finding(
            Weight.NOTE,
            "measurements.back_stoop",
            f"the {posture} back changes nothing: every length that it bears on was measured and holds it already.",
        )
    lengths = ", ".join(
        f"{BY_NAME[name].title} {format_length(taken[name].value, units)} to {format_length(measure.value, units)}"
        for name, measure in changed.items()
    )
    return Finding(
        Weight.NOTE,
        "measurements.back_stoop",
        f"for the {posture} back the lengths that nobody measured were changed: {lengths}.",
        "Measure back and front waist length on the client, and they hold her posture themselves.",
    )
