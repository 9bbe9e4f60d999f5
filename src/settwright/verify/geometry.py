"""The verifier's own geometry, written anew from docs/plan-format.md: it shares no mistake with the planner."""

from __future__ import annotations

import math
from typing import Any

import numpy as np
import numpy.typing as npt

Points = npt.NDArray[np.float64]  # (n, 2), millimetres


def points(rows: Any) -> Points:
    """Returns rows of coordinates as an array (n, 2)."""
    return np.asarray(rows, dtype=np.float64).reshape(-1, 2)


def lying(p: Points, grain_angle: float, turned: bool, wrong_side: bool) -> Points:
    """Returns S R(g) p for each point."""
    c, s = math.cos(grain_angle), math.sin(grain_angle)
    t, f = (-1.0 if turned else 1.0), (-1.0 if wrong_side else 1.0)
    x = c * p[:, 0] - s * p[:, 1]
    y = s * p[:, 0] + c * p[:, 1]
    return np.column_stack((t * f * x, t * y))


def wrapped(value: npt.NDArray[np.float64], repeat: float) -> npt.NDArray[np.float64]:
    """Returns values brought into (−repeat/2, repeat/2]."""
    return value - repeat * np.ceil(value / repeat - 0.5)


def unwrapped(drift: npt.NDArray[np.float64], repeat: float) -> npt.NDArray[np.float64]:
    """Returns a wrapped drift with its jumps of a whole repeat taken out, from its first sample on."""
    return np.concatenate((drift[:1], drift[0] + np.cumsum(wrapped(np.diff(drift), repeat))))


def shortest_arc(drift: npt.NDArray[np.float64], repeat: float) -> float:
    """Returns the length of the shortest arc of a ring as long as the repeat on which every one of a drift lies."""
    best = repeat
    for start in drift:
        best = min(best, float(np.mod(drift - start + 1e-9, repeat).max()))
    return best


def distances_to_polyline(p: Points, line: Points) -> npt.NDArray[np.float64]:
    """Returns the distance of each point from a polyline."""
    a, b = line[:-1], line[1:]
    chord = b - a
    square = np.maximum((chord**2).sum(axis=1), 1e-18)
    part = np.clip(((p[:, None, :] - a[None]) * chord[None]).sum(axis=2) / square[None], 0.0, 1.0)
    nearest = a[None] + part[..., None] * chord[None]
    return np.sqrt(((p[:, None, :] - nearest) ** 2).sum(axis=2)).min(axis=1)
