"""What a shaped facing has to tell the tailor: in words, for the findings."""

from __future__ import annotations

import math
from collections.abc import Iterable

from settwright.commission.design import FacingGrain
from settwright.findings import Finding, Weight
from settwright.makeup.edges.shaped import ShapedFacing
from settwright.makeup.edges.shaping import Way


def shaping_findings(shaped: Iterable[ShapedFacing], grain: FacingGrain) -> tuple[Finding, ...]:
    """Returns what to say of every shaped facing; of a facing whose edge lies on the grain anyhow, that it does."""
    found = tuple(_finding(facing) for facing in shaped)
    if found or grain is FacingGrain.AS_CUT:
        return found
    return (
        Finding(
            Weight.NOTE, "jacket.facing_grain", "the front edge lies on the grain: the facing is cut as the front is."
        ),
    )


def _finding(facing: ShapedFacing) -> Finding:
    shaping, where = facing.shaping, facing.cut.name
    asks = _asks(facing)
    if shaping.way is not Way.NOT:
        return Finding(Weight.NOTE, where, f"cut as a straight strip and shaped to the edge: {asks}; {shaping.way}.")
    limits = f"this cloth ({shaping.give.said})"
    return Finding(
        Weight.CAUTION,
        where,
        f"asks more than {limits} takes to lie {facing.grain}: {asks}.",
        " ".join(remedies(facing)),
    )


def _asks(facing: ShapedFacing) -> str:
    shaping = facing.shaping
    told: list[str] = []
    if shaping.shrunk >= 0.5:
        told.append(f"{shaping.shrunk:.0f} mm to shrink along its inner edge")
    if shaping.grown >= 0.5:
        told.append(f"{shaping.grown:.0f} mm to stretch")
    parts = [station.part for station in shaping.stations]
    worst = max(parts, key=abs)
    told.append(f"at most {abs(worst):.1%} at one place")
    told.append(f"crosswise threads up to {math.degrees(shaping.most_askew):.0f}° askew")
    return ", ".join(told)


def remedies(facing: ShapedFacing) -> list[str]:
    """Returns what would make it possible, in whole sentences, the nearest first."""
    remedy = facing.shaping.remedy
    if remedy is None:
        return []
    told: list[str] = []
    if remedy.joins:
        places = " and ".join(f"{join:.0f} mm" for join in remedy.joins)
        told.append(f"Join it {places} below its top, each part shaped by itself.")
    if remedy.tuck_depth >= 1:
        told.append(
            f"Or fold a tuck {remedy.tuck_depth:.0f} mm deep at the inner edge, {remedy.tuck_at:.0f} mm below its top."
        )
    if remedy.gentler > 0.05:
        told.append(f"Or draw the edge gentler: {remedy.gentler:.0%} of its turning can be shaped.")
    told.append("Or leave its grain as the front's.")
    return told
