"""A tape drawn taut round a sewn sleeve at the upper arm, measured on its flat pieces from underarm to underarm."""

from __future__ import annotations

import math
from collections.abc import Callable

from settwright.geometry import Point
from settwright.pattern.piece import Piece


def underarm(piece: Piece) -> Point:
    scye = piece.edge("scye")
    return scye.path.at(piece.stop("scye", "underarm"))


def shortest(length: Callable[[float], float], low: float, high: float) -> float:
    """The least of a length that first falls and then rises."""
    part = (math.sqrt(5) - 1) / 2
    while high - low > 0.01:
        a, b = high - part * (high - low), low + part * (high - low)
        low, high = (low, b) if length(a) < length(b) else (a, high)
    return length((low + high) / 2)


def two_piece(upper: Piece, under: Piece) -> float:
    """A taut tape round both pieces from underarm to underarm, over each seam where the way is shortest."""
    foot = underarm(under)

    def at(piece: Piece, seam: str, part: float) -> Point:
        top, elbow = piece.stop(seam, f"{seam}-top"), piece.stop(seam, "elbow")
        return piece.edge(seam).path.at(top + part * (elbow - top))

    def way(fore: float, hind: float) -> float:
        over = at(upper, "forearm", fore) - at(upper, "hindarm", hind)
        below = [(foot - at(under, seam, part)).length for seam, part in (("forearm", fore), ("hindarm", hind))]
        return over.length + sum(below)

    return shortest(lambda fore: shortest(lambda hind: way(fore, hind), 0.0, 1.0), 0.0, 1.0)


def raglan(front: Piece, back: Piece) -> float:
    """A taut tape round both halves from underarm to underarm, over the seam over the arm where the way is shortest."""

    def across(from_hem: float) -> float:
        return sum(
            (underarm(piece) - piece.edge("overarm").path.at(abs(piece.stop("overarm", "hem") - from_hem))).length
            for piece in (front, back)
        )

    return shortest(across, 200.0, front.edge("overarm").path.length - 200.0)


def one_piece(sleeve: Piece) -> float:
    """Straight across."""
    return (sleeve.edge("front-cap").path.start - sleeve.edge("back-cap").path.end).length
