"""Where in the sett a point of a piece falls, and by how much two places miss one another.

These few formulas are the whole contract between the bars, the layout and the drawings (docs/plan-format.md).
"""

from __future__ import annotations

from settwright.bars.model import Axis, Mode, Orientation, Phase
from settwright.cloth import Sequence
from settwright.geometry import Point


def wrap(miss: float, repeat: float) -> float:
    """Returns a miss modulo the repeat, in (−repeat/2, repeat/2].

    >>> wrap(70.0, 72.0), wrap(36.0, 72.0), wrap(-36.0, 72.0)
    (-2.0, 36.0, 36.0)
    """
    half = repeat / 2
    return half - (half - miss) % repeat


def place_under(phase: Phase, at: Point, grain_turn: float) -> Point:
    """Returns the place in the sett under a point of a piece, not reduced modulo the repeat."""
    lying = phase.orientation.place(at, grain_turn)
    return Point(phase.u + lying.x, phase.v + lying.y)


def sense(axis: Axis, mode: Mode, a: Orientation, b: Orientation) -> int:
    """Returns 1 where two pieces must show the same place to agree, −1 where places mirrored about a pivot."""
    turned = a.reading(axis) * b.reading(axis)
    return -turned if mode is Mode.MIRROR else turned


def drift(sense: int, place_a: float, place_b: float, sequence: Sequence) -> float | None:
    """Returns by how much the bars miss in (−repeat/2, repeat/2]; None where the sequence would need a pivot."""
    if sense > 0:
        return wrap(place_a - place_b, sequence.repeat)
    if not sequence.pivots:
        return None
    return wrap(place_a + place_b - 2 * sequence.pivots[0], sequence.repeat)
