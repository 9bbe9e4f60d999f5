"""Checks that any draft's pieces and seams can be put to: lengths along seams, outlines, corners, darts."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterable, Mapping

import pytest
from shapely.geometry import LineString, Polygon

from settwright.geometry import Path, Point
from settwright.geometry.tolerances import WALK
from settwright.pattern.piece import LineKind, Piece, Seam

SMOOTH = math.radians(1.0)


def hand(piece: Piece, edge: str) -> str:
    """Returns the name that a right half's edge or line has on a piece."""
    known = {e.name for e in piece.edges} | {line.name for line in piece.lines}
    return f"{edge}.right" if f"{edge}.right" in known else edge


def length(piece: Piece, edge: str, first: str, last: str) -> float:
    """Returns the length of an edge between two stops."""
    name = hand(piece, edge)
    return abs(piece.stop(name, last) - piece.stop(name, first))


def check_seams(pieces: Mapping[str, Piece], seams: Iterable[Seam]) -> None:
    """Each seam's sides are as long as it says; no two seams have one name."""
    names = [seam.name for seam in seams]
    assert len(names) == len(set(names)), names
    for seam in seams:
        assert len(seam.ease) == len(seam.stops) - 1 >= 1, seam.name
        for (first, last), ease in zip(itertools.pairwise(seam.stops), seam.ease, strict=True):
            a = length(pieces[seam.a.piece], seam.a.edge, first, last)
            b = length(pieces[seam.b.piece], seam.b.edge, first, last)
            assert b - a == pytest.approx(ease, abs=WALK), (seam.name, first, last)


def check_outlines(pieces: Iterable[Piece]) -> None:
    """No outline crosses itself, and none is turned inside out."""
    for piece in pieces:
        points = [(p.x, p.y) for p in piece.outline.points(0.05)]
        assert Polygon(points).is_valid, piece.name
        assert LineString([*points, points[0]]).is_simple, piece.name
        assert piece.area > 0, piece.name


def check_darts(piece: Piece) -> None:
    """The legs of every dart are equal: of one drawn as a line over its point, and of one drawn leg by leg."""
    apart = [line.path.length for line in piece.lines if line.kind is LineKind.DART and line.name.endswith("-leg")]
    assert apart == pytest.approx(apart[:1] * len(apart), abs=0.01), piece.name
    for line in piece.lines:
        if line.kind is LineKind.DART and not line.name.endswith("-leg") and len(line.path.segments) == 2:
            first, second = (segment.length for segment in line.path.segments)
            assert first == pytest.approx(second, abs=1e-6), (piece.name, line.name)


def corner(piece: Piece, first: str, second: str) -> float:
    """Returns the angle inside a piece where one edge ends and the next begins."""
    arriving = piece.edge(hand(piece, first)).path.end_tangent
    leaving = piece.edge(hand(piece, second)).path.start_tangent
    return math.pi - math.atan2(arriving.cross(leaving), arriving.dot(leaving))


def run_on(*corners: float) -> bool:
    """Whether lines run on smoothly where corners are sewn together, to within a degree."""
    return abs(sum(corners) - math.pi) < SMOOTH


def bends(path: Path, spacing: float = 4.0) -> list[float]:
    """Returns by how much a path turns from station to station."""
    ways = [path.tangent(s) for s in path.stations(spacing)]
    return [turn(a, b) for a, b in itertools.pairwise(ways)]


def turn(a: Point, b: Point) -> float:
    """Returns the angle from one direction to another, counter-clockwise."""
    return math.atan2(a.cross(b), a.dot(b))
