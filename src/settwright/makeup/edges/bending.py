"""How a straight strip of cloth follows a curved edge: how much it slips askew, how much it shrinks or stretches.

A strip of depth w lies with its edge on the curve; E is the edge, T its direction, N the normal into the strip, and
T' = k N. A crosswise thread leaves the normal by the angle φ, so that the strip's point at depth t lies at
E + t (cos φ N + sin φ T). What the cloth resists is ∫∫ a ((φ' − k) t)² + b φ² dt ds; it is least where
(w³ (φ' − k))' = (3 b / a) w φ. A free end has φ' = k, an end held square φ = 0.

The equation is solved as the trade would walk it: in short steps, each taking what its two neighbours leave it
(finite volumes, one tridiagonal system). Second order in the step.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence
from enum import StrEnum


class End(StrEnum):
    """How the crosswise threads lie at an end of the strip."""

    FREE = "free"
    SQUARE = "square"  # held square to the edge, as at a hem


def slipped(
    turns: Sequence[float],
    depths: Sequence[float],
    step: float,
    askew_over_shrink: float,
    ends: tuple[End, End] = (End.FREE, End.FREE),
) -> tuple[float, ...]:
    """Returns φ at each node of an edge divided evenly.

    `turns` is how far the edge turns towards the strip in each step (radians), `depths` the strip's depth at each
    node (one more than steps; positive), `step` the length of a step, `askew_over_shrink` is b / a, positive.
    """
    n = len(depths)
    if len(turns) != n - 1:
        raise ValueError(f"{n} nodes have {n - 1} steps between them, not {len(turns)}")
    stiff = [((before + after) / 2) ** 3 / step for before, after in itertools.pairwise(depths)]
    low, mid, high, want = [0.0] * n, [0.0] * n, [0.0] * n, [0.0] * n
    for i, (hold, turn) in enumerate(zip(stiff, turns, strict=True)):
        mid[i] += hold
        mid[i + 1] += hold
        high[i] = low[i + 1] = -hold
        want[i] -= hold * turn
        want[i + 1] += hold * turn
    for i, depth in enumerate(depths):
        mid[i] += 3 * askew_over_shrink * depth * (step if 0 < i < n - 1 else step / 2)
    for i, end in ((0, ends[0]), (n - 1, ends[1])):
        if end is End.SQUARE:
            mid[i], low[i], high[i], want[i] = 1.0, 0.0, 0.0, 0.0
    for i in range(1, n):  # Thomas' elimination; the system is diagonally dominant
        part = low[i] / mid[i - 1]
        mid[i] -= part * high[i - 1]
        want[i] -= part * want[i - 1]
    found = [0.0] * n
    found[-1] = want[-1] / mid[-1]
    for i in range(n - 2, -1, -1):
        found[i] = (want[i] - high[i] * found[i + 1]) / mid[i]
    return tuple(found)


def stretched(bend: float, slip: float, depth: float) -> float:
    """Returns by what part a lengthwise thread at a depth is stretched, negative where it shrinks: exact.

    `bend` is φ' − k, `slip` is φ.
    """
    return math.sqrt(1.0 + 2 * depth * bend * math.cos(slip) + (depth * bend) ** 2) - 1.0


def lies_flat(bend: float, slip: float, depth: float) -> bool:
    """Whether the strip doesn't fold over itself down to a depth: neighbouring crosswise threads don't meet.

    The area's factor cos φ + t (φ' − k) must stay positive (the determinant of the map; it implies the weaker
    1 + t (φ' − k) cos φ > 0).
    """
    return math.cos(slip) + depth * bend > 0.0


def tuck_depth(depth: float, turn: float) -> float:
    """Returns how wide a tuck is at the inner edge of a strip that it bends by an angle, nothing at the outer edge."""
    return 2 * depth * math.tan(turn / 2)
