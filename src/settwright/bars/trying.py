"""Trying another place: a changed pin, or a piece slid by hand, and what follows from it at once.

A try begins at the match as it stands and looks near it only; what is taken in the end goes into the commission as a
pin, and the plan is found by the whole search.
"""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass

from settwright.bars.frames import wrap
from settwright.bars.joins import base_name
from settwright.bars.match import Prepared, match
from settwright.bars.model import Axis, Drift, Match, Pin
from settwright.findings import refuse
from settwright.geometry import Point

LEAST = 0.1  # mm: what moves or changes by less isn't told


@dataclass(frozen=True)
class Moved:
    """A piece whose place in the repeat changed: by how much its bars moved on it, to its right and upwards (mm)."""

    piece: str
    right: float
    up: float


@dataclass(frozen=True)
class SeamChange:
    """A join whose largest misses changed (mm); None where nothing is or can be asked."""

    join: str
    level: tuple[float | None, float | None]  # before, after
    upright: tuple[float | None, float | None]
    said: str  # how it comes out now, a sentence for the tailor


@dataclass(frozen=True)
class Tried:
    """What a try gives: the whole match with its report per seam, and what differs from the match before."""

    match: Match
    pins: tuple[Pin, ...]  # those in force, the tried one last
    moved: tuple[Moved, ...]
    seams: tuple[SeamChange, ...]


def try_pins(prepared: Prepared, before: Match, pins: Sequence[Pin], *, stay: Collection[str] = ()) -> Tried:
    """Returns what comes of these pins, beginning at an earlier match of the same problem.

    `stay` names instances that keep their places of before. Raises Refusal as `match` does.
    """
    found = match(prepared, pins, before, stay=stay)
    return Tried(found, tuple(pins), _moved(prepared, before, found), _changed(before, found))


def slide(
    prepared: Prepared,
    before: Match,
    piece: str,
    axis: Axis,
    by: float,
    *,
    pins: Sequence[Pin] = (),
    rest_stays: bool = False,
) -> Tried:
    """Returns what comes of sliding the cloth on one piece by some millimetres.

    `by` is how far the bars move on the piece, as seen with its top upwards: the upright ones to the right, the level
    ones upwards. The piece is pinned where it comes to lie, in the stead of any pin of its own on that axis; everything
    else follows, or with `rest_stays` only the pieces that touch it. Raises Refusal for a piece that isn't matched.
    """
    if piece not in prepared.problem.instances:
        raise refuse(f"pins.{piece}", "it isn't matched, so there is nothing to slide.", "Take hold of another piece.")
    lies = before.phase(piece)
    now = lies.v if axis is Axis.LEVEL else lies.u
    sequence = prepared.cloth.weft if axis is Axis.LEVEL else prepared.cloth.warp
    place = (now - by * lies.orientation.reading(axis)) % sequence.repeat
    pin = Pin(piece, Point(0.0, 0.0), axis, place, "grain mark")
    others = tuple(other for other in pins if (other.piece, other.axis) != (piece, axis))
    stay = _untouched(prepared, piece) if rest_stays else ()
    return try_pins(prepared, before, (*others, pin), stay=stay)


def _untouched(prepared: Prepared, piece: str) -> tuple[str, ...]:
    """Returns the instances that no join ties to a piece or its other hand."""
    touched = {base_name(piece)}
    for join in prepared.joins:
        if base_name(join.a) == base_name(piece) or base_name(join.b) == base_name(piece):
            touched |= {base_name(join.a), base_name(join.b)}
    return tuple(name for name in prepared.problem.instances if base_name(name) not in touched)


def _moved(prepared: Prepared, before: Match, after: Match) -> tuple[Moved, ...]:
    was = {phase.piece: phase for phase in before.phases}
    found: list[Moved] = []
    for phase in after.phases:
        old, lies = was[phase.piece], phase.orientation
        right = wrap(old.u - phase.u, prepared.cloth.warp.repeat) * lies.reading(Axis.UPRIGHT)
        up = wrap(old.v - phase.v, prepared.cloth.weft.repeat) * lies.reading(Axis.LEVEL)
        if max(abs(right), abs(up)) >= LEAST:
            found.append(Moved(phase.piece, right, up))
    return tuple(found)


def _changed(before: Match, after: Match) -> tuple[SeamChange, ...]:
    was = {drift.join: drift for drift in before.drifts}
    found: list[SeamChange] = []
    for drift in after.drifts:
        old = was[drift.join]
        level, upright = (_level(old), _level(drift)), (_upright(old), _upright(drift))
        if any(_differ(*pair) for pair in (level, upright)):
            found.append(SeamChange(drift.join, level, upright, drift.summary))
    return tuple(found)


def _level(drift: Drift) -> float | None:
    return None if drift.level is None else drift.worst_level


def _upright(drift: Drift) -> float | None:
    return None if drift.upright is None else drift.worst_upright


def _differ(old: float | None, new: float | None) -> bool:
    if old is None or new is None:
        return old is not new
    return abs(old - new) >= LEAST


__all__ = ["Moved", "SeamChange", "Tried", "slide", "try_pins"]
