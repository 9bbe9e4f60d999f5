"""Edges bent place by place, and what lies on a piece with them: notches, darts, lines and the edges that follow."""

from __future__ import annotations

import itertools
import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from functools import cache, lru_cache

from settwright.geometry import ORIGIN, Path, Point, Segment, Transform
from settwright.pattern.drafts.bending import swing
from settwright.pattern.piece import Edge, Line, LineKind, Notch, Piece

Shift = Callable[[float], Point]
"""How far each place of an edge moves, by arc length from its start."""

_FOLLOW_REACH = 150.0  # of an edge whose corner moves, within which it follows
_NEAR_CORNER = 50.0  # of a corner that moves, within which notches follow
_SAME = 1e-6  # millimetres between a place and a segment's end that are one
_STEP = 0.01  # millimetres along an edge, for the slope of a shift
_SPLIT = 25.0  # an edge is bent in stretches no longer than this
_NEAR = 0.1  # millimetres within which a line ends on an edge


def reshaped(piece: Piece, moves: Mapping[str, Shift]) -> Piece:
    """Returns a piece some of whose edges are bent, notches going with their places.

    An edge that isn't named, but whose corner moves, follows within 150 mm of it; so does a line that ends on a bent
    edge. Marks stay. Raises ValueError (as Piece does) where two named edges move their common corner apart.
    """
    corners = [
        (point, shift(along))
        for edge in piece.edges
        if (shift := moves.get(edge.name)) is not None
        for point, along in ((edge.path.start, 0.0), (edge.path.end, edge.path.length))
    ]
    edges: list[Edge] = []
    notches: list[Notch] = []
    for edge in piece.edges:
        own = [notch for notch in piece.notches if notch.edge == edge.name]
        shift = moves.get(edge.name) or _following(edge.path, corners, own)
        if shift is None:
            edges.append(edge)
            notches += own
            continue
        path, places = bent(edge.path, shift, [notch.at for notch in own])
        edges.append(replace(edge, path=path))
        notches += [replace(notch, at=at) for notch, at in zip(own, places, strict=True)]
    lines = tuple(_followed(line, piece, moves) for line in piece.lines)
    drawn = {edge.name for edge in piece.edges}
    notches += [notch for notch in piece.notches if notch.edge not in drawn]
    return replace(piece, edges=tuple(edges), notches=tuple(notches), lines=lines)


def _following(path: Path, corners: list[tuple[Point, Point]], notches: Sequence[Notch] = ()) -> Shift | None:
    """Returns how an edge follows the corners that moved, or nothing where none of its own did.

    Its notches stay, but for those near the corner that aren't a dart's: so both edges of a seam follow alike.
    """
    starts = [by for point, by in corners if (point - path.start).length < _NEAR]
    ends = [by for point, by in corners if (point - path.end).length < _NEAR]
    at_start, at_end = (found[0] if found else ORIGIN for found in (starts, ends))
    if at_start == ORIGIN and at_end == ORIGIN:
        return None
    most = min(_FOLLOW_REACH, path.length if ORIGIN in (at_start, at_end) else path.length / 2)
    stay = [n.at for n in notches if "dart" in n.name or _NEAR_CORNER < n.at < path.length - _NEAR_CORNER]
    from_start, from_end = min([most, *stay]), min([most, *(path.length - at for at in stay)])

    def shift(along: float) -> Point:
        return at_start * (1.0 - swing(along / from_start)) + at_end * (1.0 - swing((path.length - along) / from_end))

    return shift


def _followed(line: Line, piece: Piece, moves: Mapping[str, Shift]) -> Line:
    """Returns an inner line with its ends still on the bent edges on which they lay.

    One that begins and ends on the same edge, as a vent's lap does, goes with that edge all along; not so a dart.
    """
    for name, shift in moves.items() if line.kind is not LineKind.DART else ():
        path = piece.edge(name).path
        if all(_where(end, path) is not None for end in (line.path.start, line.path.end)):
            return replace(line, path=bent(line.path, _beside(line.path, path, shift), [])[0])
    corners: list[tuple[Point, Point]] = []
    for end in (line.path.start, line.path.end):
        for name, shift in moves.items():
            at = _where(end, piece.edge(name).path)
            if at is not None:
                corners.append((end, shift(at)))
                break
    shift = _following(line.path, corners)
    return line if shift is None else replace(line, path=bent(line.path, shift, [])[0])


def _beside(path: Path, edge: Path, shift: Shift) -> Shift:
    """Returns how each place of a path moves that goes with an edge as it is moved.

    What lies beside what is sought every few millimetres and runs evenly between.
    """
    count = max(1, math.ceil(path.length / _SPLIT))
    step = path.length / count
    beside = [edge.nearest(path.at(min(step * i, path.length))) for i in range(count + 1)]

    def moved(along: float) -> Point:
        i = min(int(along / step), count - 1)
        return shift(beside[i] + (beside[i + 1] - beside[i]) * (along / step - i))

    return moved


@lru_cache(maxsize=512)
def _where(point: Point, path: Path) -> float | None:
    """Returns the arc length at which a point lies on a path; none if it lies off it."""
    start = 0.0
    for segment in path.segments:
        xs, ys = zip(*((p.x, p.y) for p in (segment.a, segment.b, segment.c, segment.d)), strict=True)
        if min(xs) - _NEAR <= point.x <= max(xs) + _NEAR and min(ys) - _NEAR <= point.y <= max(ys) + _NEAR:
            alone = Path((segment,))
            at = alone.nearest(point)
            if (alone.at(at) - point).length < _NEAR:
                return start + at
        start += segment.length
    return None


def bent(path: Path, shift: Shift, places: list[float]) -> tuple[Path, list[float]]:
    """Returns a path moved place by place, and where on it the places given by arc length have come to lie.

    Each stretch between segments' ends and places becomes one cubic that has the moved curve's ends and directions; a
    straight stretch that moves rigidly stays straight.
    """
    shift = cache(shift)  # neighbouring stretches ask for the same places
    segments: list[Segment] = []
    lengths = {0.0: 0.0}
    total = start = 0.0
    for segment in path.segments:
        end = start + segment.length
        count = max(1, math.ceil(segment.length / _SPLIT))
        even = [start + segment.length * i / count for i in range(1, count)]
        cuts = [start, *sorted({*even, *(p for p in places if start + _SAME < p < end - _SAME)}), end]
        rest, gone = segment, 0.0
        for low, high in itertools.pairwise(cuts):
            at = segment.parameter_at(high - start) if high < end else 1.0
            part, rest = rest.split((at - gone) / (1.0 - gone)) if at < 1.0 else (rest, rest)
            gone = at
            leaving = (part.b - part.a) + _slope(shift, low, low, high) * (part.b - part.a).length
            arriving = (part.d - part.c) + _slope(shift, high, low, high) * (part.d - part.c).length
            a, d = part.a + shift(low), part.d + shift(high)
            segments.append(Segment(a, a + leaving, d - arriving, d))
            total += segments[-1].length
            lengths[high] = total
        start = end
    return Path(tuple(segments)), [lengths[min(lengths, key=lambda at: abs(at - place))] for place in places]


def _slope(shift: Shift, at: float, low: float, high: float) -> Point:
    """Returns by how much the shift changes for each millimetre along, measured inside a stretch."""
    a, b = max(low, at - _STEP), min(high, at + _STEP)
    return (shift(b) - shift(a)) / (b - a)


def turned(path: Path, around: Transform, weight: Callable[[float], float]) -> Shift:
    """Returns how an edge moves that is turned in part: each place by its weight, 0 to 1."""

    def shift(along: float) -> Point:
        point = path.at(along)
        return (around(point) - point) * weight(along)

    return shift


def fading(path: Path, full: Point, reach: float) -> Callable[[float], float]:
    """Returns a weight that is whole at one end of a path, where `full` lies, and nothing from `reach` on."""
    from_start = (path.start - full).length < (path.end - full).length

    def weight(along: float) -> float:
        return 1.0 - swing((along if from_start else path.length - along) / reach)

    return weight


def touches(path: Path, point: Point) -> bool:
    """Returns whether a path begins or ends at a point."""
    return min((path.start - point).length, (path.end - point).length) < _NEAR
