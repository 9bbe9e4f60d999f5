"""Seams and touches walked with the tape: matched pairs of points from stop to stop, on the cut instances.

Within an interval between stops both sides are divided alike, so ease lies evenly there; where it lies along the
whole seam is the draft's doing, by its stops.
"""

from __future__ import annotations

import itertools
import math
from functools import lru_cache

from settwright.findings import Finding, Weight
from settwright.geometry import Path, Point
from settwright.geometry.tolerances import WALK
from settwright.makeup.model import CutPiece, JoinSide, SewnPair

SPACING = 8.0  # matched points lie at most this far apart along the longer side


def walked(
    name: str,
    kind: str,
    a: tuple[CutPiece, str],
    b: tuple[CutPiece, str],
    stops: tuple[str, ...],
    *,
    across: bool = False,
) -> SewnPair:
    """Returns the matched pairs of two edges or lines, all stops among them; points rounded to 0.001 mm.

    Raises KeyError where an edge or a stop is missing.
    """
    places_a, places_b = _places(a, stops), _places(b, stops)
    path_a, path_b = a[0].piece.edge(a[1]).path, b[0].piece.edge(b[1]).path
    pairs, indices = _walk(path_a, tuple(places_a), path_b, tuple(places_b))
    return SewnPair(
        name=name,
        kind=kind,
        a=JoinSide(a[0].name, a[1]),
        b=JoinSide(b[0].name, b[1]),
        pairs=pairs,
        stops=tuple(zip(stops, indices, strict=True)),
        ease=round(_length(places_b) - _length(places_a), 3) + 0.0,
        across=across,
    )


@lru_cache(maxsize=1024)
def _walk(
    path_a: Path, places_a: tuple[float, ...], path_b: Path, places_b: tuple[float, ...]
) -> tuple[tuple[tuple[Point, Point], ...], tuple[int, ...]]:
    """Returns the matched points of two paths, and the number of each stop's pair."""
    pairs: list[tuple[Point, Point]] = [(_rounded(path_a.at(places_a[0])), _rounded(path_b.at(places_b[0])))]
    indices = [0]
    for a0, a1, b0, b1 in zip(places_a, places_a[1:], places_b, places_b[1:], strict=False):
        steps = max(1, math.ceil(max(abs(a1 - a0), abs(b1 - b0)) / SPACING - 1e-9))
        pairs += [
            (
                _rounded(path_a.at(a0 + (a1 - a0) * step / steps)),
                _rounded(path_b.at(b0 + (b1 - b0) * step / steps)),
            )
            for step in range(1, steps + 1)
        ]
        indices.append(len(pairs) - 1)
    return tuple(pairs), tuple(indices)


def walk_findings(
    name: str, a: tuple[CutPiece, str], b: tuple[CutPiece, str], stops: tuple[str, ...], ease: tuple[float, ...]
) -> tuple[Finding, ...]:
    """Returns a caution for each interval whose two sides differ by something else than the ease that was meant."""
    places_a, places_b = _places(a, stops), _places(b, stops)
    found: list[Finding] = []
    for index, meant in enumerate(ease):
        walked_ease = abs(places_b[index + 1] - places_b[index]) - abs(places_a[index + 1] - places_a[index])
        if abs(walked_ease - meant) > WALK:
            found.append(
                Finding(
                    Weight.CAUTION,
                    name,
                    f"from {stops[index]} to {stops[index + 1]} the two sides differ by {walked_ease:.1f} mm,"
                    f" {meant:.1f} mm was meant.",
                    "Walk the seam on the toile before cutting.",
                )
            )
    return tuple(found)


def _places(side: tuple[CutPiece, str], stops: tuple[str, ...]) -> list[float]:
    return [side[0].piece.stop(side[1], stop) for stop in stops]


def _length(places: list[float]) -> float:
    return sum(abs(after - before) for before, after in itertools.pairwise(places))


def _rounded(p: Point) -> Point:
    return Point(round(p.x, 3), round(p.y, 3))
