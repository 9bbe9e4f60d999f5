"""The three moves by which an inside piece is cut from a shell piece: cut off along a line, recut, and laid open.

A cutter lays the shell's pattern on the lining, draws the facing's edge across it, lets seams out for ease and raises
or shortens ends; she redraws nothing. Edges so keep their names, stops and curves: kept edges are slid, lengthened or
shortened, and the edges between them follow.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from settwright.geometry import ORIGIN, Path, Point, Segment, Transform, crossing
from settwright.pattern.piece import Cut, Edge, Line, LineKind, Notch, Piece

_ON = 60.0  # a line that cuts a piece is produced by so much beyond its ends
_COARSE = 0.2  # polylines by which two curves are first held against one another
_LEAST_ANGLE = math.radians(0.3)  # of a dart
_ROUNDING = 1e-9  # part of a chord: two curves that cross at the joint of two chords cross one of them


@dataclass(frozen=True)
class Crossing:
    """Where two paths cross: arc lengths on both, and whether the second passes from the first's left to its right."""

    on_first: float
    on_second: float
    leaves: bool


def crossings(first: Path, second: Path) -> tuple[Crossing, ...]:
    """Returns every place at which two paths cross, in the order of the first."""
    found: list[Crossing] = []
    a_at, b_at = _stations(first), _stations(second)
    boxes = [
        (min(p.x, q.x), max(p.x, q.x), min(p.y, q.y), max(p.y, q.y)) for (_, p), (_, q) in itertools.pairwise(b_at)
    ]
    for (s0, p), (s1, q) in itertools.pairwise(a_at):
        left, right, low, high = min(p.x, q.x), max(p.x, q.x), min(p.y, q.y), max(p.y, q.y)
        for ((t0, u), (t1, v)), box in zip(itertools.pairwise(b_at), boxes, strict=True):
            if box[1] < left or box[0] > right or box[3] < low or box[2] > high:
                continue
            area = (q - p).cross(v - u)
            if abs(area) < 1e-12:
                continue
            i, j = (u - p).cross(v - u) / area, (u - p).cross(q - p) / area
            if -_ROUNDING <= i <= 1 + _ROUNDING and -_ROUNDING <= j <= 1 + _ROUNDING:
                s, t = _refined(first, second, s0 + (s1 - s0) * i, t0 + (t1 - t0) * j)
                if all(abs(s - other.on_first) > 0.05 for other in found):
                    found.append(Crossing(s, t, first.tangent(s).cross(second.tangent(t)) < 0))
    return tuple(sorted(found, key=lambda c: c.on_first))


def _stations(path: Path) -> list[tuple[float, Point]]:
    found, start = [(0.0, path.start)], 0.0
    for segment in path.segments:
        steps = segment.flat_steps(_COARSE)
        found += [(start + segment.length_to(i / steps), segment.at(i / steps)) for i in range(1, steps + 1)]
        start += segment.length
    return found


def _refined(first: Path, second: Path, s: float, t: float) -> tuple[float, float]:
    for _ in range(6):
        away = second.at(t) - first.at(s)
        along, across = first.tangent(s), second.tangent(t)
        area = along.cross(across)
        if away.length < 1e-9 or abs(area) < 1e-9:
            break
        s = min(max(s + away.cross(across) / area, 0.0), first.length)
        t = min(max(t + away.cross(along) / area, 0.0), second.length)
    return s, t


def cut_off(
    piece: Piece,
    along: Path,
    name: str,
    stops: Sequence[tuple[str, float]] = (),
    *,
    ends: tuple[str, str] | None = None,
) -> Piece:
    """Returns the part of a piece to the left of a line, which becomes the edge `name`.

    The line is produced straight beyond its ends as far as needed. The edges on which it ends get `name` for their
    stop there; the new edge's own stops are called after those edges, or as `ends` says; `stops` are further ones, by
    arc length on the line. Raises ValueError where the line doesn't cut the piece in two.
    """
    line = _produced(along)
    outline = [(edge, crossings(line, edge.path)) for edge in piece.edges]
    hits = sorted(
        ((c.on_first, index, c.on_second, c.leaves) for index, (_, found) in enumerate(outline) for c in found),
    )
    spans = [(b[0] - a[0], a, b) for a, b in itertools.pairwise(hits) if a[3] and not b[3]]
    if not spans:
        raise ValueError(f"{piece.name}: the line for {name!r} doesn't cut it in two")
    _, leaving, coming = max(spans, key=lambda span: span[0])
    i, s_i, j, s_j = leaving[1], leaving[2], coming[1], coming[2]
    last, first = piece.edges[i], piece.edges[j]
    between = [piece.edges[k % len(piece.edges)] for k in range(j + 1, j + len(piece.edges))]
    between = between[: next(k for k, edge in enumerate([*between, last]) if edge is last)]
    new_start = line.at(leaving[0])
    new_end = line.at(coming[0])
    if i == j:
        if s_j > s_i:
            raise ValueError(f"{piece.name}: the line for {name!r} leaves two parts of {first.name}")
        kept = [replace(first, path=_ended(first.path.part(s_j, s_i), new_end, new_start), start=name, end=name)]
        gone = {first.name: (s_j, s_i)}
    else:
        head = replace(first, path=_ended(first.path.part(s_j, first.path.length), new_end, None), start=name)
        tail = replace(last, path=_ended(last.path.part(0.0, s_i), None, new_start), end=name)
        kept = [head, *between, tail]
        gone = {first.name: (s_j, first.path.length), last.name: (0.0, s_i)}
    edge = Edge(name, line.part(leaving[0], coming[0]), *(ends or (last.name, first.name)))
    names = {e.name for e in kept} | {line.name for line in piece.lines}
    notches = [
        replace(n, at=n.at - gone.get(n.edge, (0.0, 0.0))[0])
        for n in piece.notches
        if n.edge in names and (n.edge not in gone or gone[n.edge][0] + 1e-3 < n.at < gone[n.edge][1] - 1e-3)
    ]
    own = [
        Notch(stop, name, at + _ON - leaving[0])
        for stop, at in stops
        if leaving[0] + 1.0 < at + _ON < coming[0] - 1.0
    ]  # fmt: skip
    cut = replace(piece, edges=(*kept, edge), notches=(*notches, *own))
    around = cut.outline.points(1.0)
    cut = replace(
        cut,
        marks=tuple(mark for mark in piece.marks if _within(around, mark.at)),
        lines=tuple(shorter for old in piece.lines if (shorter := _kept_part(old, line, around)) is not None),
    )
    return finished(cut)


def _produced(path: Path) -> Path:
    before, after = path.start - path.start_tangent * _ON, path.end + path.end_tangent * _ON
    return Path.line(before, path.start).then(path, Path.line(path.end, after))


def _ended(path: Path, start: Point | None, end: Point | None) -> Path:
    """Returns a path whose ends are moved on to points that differ from them by rounding."""
    segments = list(path.segments)
    if start is not None:
        segments[0] = replace(segments[0], a=start)
    if end is not None:
        segments[-1] = replace(segments[-1], d=end)
    return Path(tuple(segments))


def _kept_part(old: Line, line: Path, around: Sequence[Point]) -> Line | None:
    """Returns what of a drawn line lies within an outline; a level line is cut short, others stay or go whole."""
    if old.kind is not LineKind.LEVEL:
        inside = all(_within(around, old.path.at(old.path.length * part / 8)) for part in range(1, 8))
        return old if inside else None
    ends = [0.0, *(found.on_first for found in crossings(old.path, line)), old.path.length]
    for start, end in itertools.pairwise(ends):
        if end - start > 5.0 and _within(around, old.path.at((start + end) / 2)):
            return replace(old, path=old.path.part(start, end))
    return None


def finished(piece: Piece) -> Piece:
    """Returns a piece without notches on lines that it no longer has, its grain mark inside."""
    names = {line.name for line in piece.lines} | {edge.name for edge in piece.edges}
    return _with_grain_mark_inside(replace(piece, notches=tuple(n for n in piece.notches if n.edge in names)))


def _with_grain_mark_inside(piece: Piece) -> Piece:
    """Returns a piece whose grain mark lies well inside it; on its fold, if it is half of a whole piece."""
    if piece.cut is Cut.WHOLE:
        for edge in piece.edges:
            if edge.name in ("centre-back", "centre-front"):
                return replace(piece, grain_mark=edge.path.at(edge.path.length / 2))
    points = piece.outline.points(1.0)
    if _within(points, piece.grain_mark):
        return piece
    low, high = min(p.y for p in points), max(p.y for p in points)
    best: tuple[float, Point] | None = None
    for part in (0.5, 0.4, 0.6, 0.3, 0.7):
        y = low + (high - low) * part
        xs = sorted(
            p.x + (q.x - p.x) * (y - p.y) / (q.y - p.y)
            for p, q in zip(points, (*points[1:], points[0]), strict=True)
            if (p.y > y) != (q.y > y)
        )
        for left, right in zip(xs[::2], xs[1::2], strict=False):
            if best is None or right - left > best[0] * 1.2:
                best = (right - left, Point((left + right) / 2, y))
    return piece if best is None else replace(piece, grain_mark=best[1])


def _within(points: Sequence[Point], at: Point) -> bool:
    inside = False
    for p, q in zip(points, (*points[1:], points[0]), strict=True):
        if (p.y > at.y) != (q.y > at.y) and at.x < p.x + (q.x - p.x) * (at.y - p.y) / (q.y - p.y):
            inside = not inside
    return inside


@dataclass(frozen=True)
class Kept:
    """An edge that keeps its curve: slid by `shift`, then produced straight at its ends, or cut short there (less
    than 0)."""

    shift: Point = ORIGIN
    start: float = 0.0
    end: float = 0.0


def recut(
    piece: Piece,
    kept: Mapping[str, Kept],
    *,
    corners: Mapping[str, Point] | None = None,
    by_height: Sequence[str] = (),
    fixed: Mapping[str, float] | None = None,
) -> Piece:
    """Returns a piece whose `kept` edges are slid, produced or cut short, and whose other edges follow.

    An edge that follows goes from the end of the one before it to the start of the one after it: what its ends move
    by is shared out along its chord, or by height for the edges named (so that a level tangent stays level). Where two
    edges follow one another, their corner moves by `corners`, told under the first one's name; nowhere without it.
    A place of an edge that is `fixed`, by arc length, stays where it is; both sides of it follow. Two kept edges in a
    row must still meet.
    """
    moved = {name: _kept_path(piece.edge(name).path, how) for name, how in kept.items()}
    given, still = corners or {}, fixed or {}
    ways: dict[str, list[tuple[Path, Path]]] = {}  # each edge that follows: its parts as they were and as they are
    count = len(piece.edges)
    edges: list[Edge] = []
    for index, edge in enumerate(piece.edges):
        if edge.name in moved:
            edges.append(replace(edge, path=moved[edge.name]))
            continue
        before, after = piece.edges[index - 1], piece.edges[(index + 1) % count]
        start = moved[before.name].end if before.name in moved else edge.path.start + given.get(before.name, ORIGIN)
        end = moved[after.name].start if after.name in moved else edge.path.end + given.get(edge.name, ORIGIN)
        whole = edge.path
        parts = [whole]
        if edge.name in still:
            parts = [whole.part(0.0, still[edge.name]), whole.part(still[edge.name], whole.length)]
        ways[edge.name] = [
            (
                part,
                fitted(
                    part,
                    start if i == 0 else part.start,
                    end if i == len(parts) - 1 else part.end,
                    by_height=edge.name in by_height,
                ),
            )
            for i, part in enumerate(parts)
        ]
        first, *rest = (new for _, new in ways[edge.name])
        edges.append(replace(edge, path=first.then(*rest)))
    by_name = {edge.name: edge for edge in edges}
    notches: list[Notch] = []
    for notch in piece.notches:
        if notch.edge not in by_name:
            notches.append(notch)
        elif notch.edge in kept:
            at = notch.at + kept[notch.edge].start
            if 0.5 < at < by_name[notch.edge].path.length - 0.5:
                notches.append(replace(notch, at=at))
        else:
            notches.append(replace(notch, at=_same_place(ways[notch.edge], notch.at)))
    return replace(piece, edges=tuple(edges), notches=tuple(notches))


def _kept_path(path: Path, how: Kept) -> Path:
    slid = path.moved(Transform.shift(how.shift.x, how.shift.y))
    first, last = max(-how.start, 0.0), slid.length - max(-how.end, 0.0)
    slid = slid.part(first, last)
    if how.start > 0:
        slid = Path.line(slid.start - slid.start_tangent * how.start, slid.start).then(slid)
    if how.end > 0:
        slid = slid.then(Path.line(slid.end, slid.end + slid.end_tangent * how.end))
    return slid


def fitted(path: Path, start: Point, end: Point, *, by_height: bool = False) -> Path:
    """Returns a path brought between new ends: what they move by is shared out along its chord, or by height."""
    first, last = start - path.start, end - path.end
    if first == ORIGIN and last == ORIGIN:
        return path
    way = path.end - path.start
    axis = Point(0.0, way.y) if by_height and abs(way.y) > 20.0 else way
    square = axis.dot(axis)

    def moved(p: Point) -> Point:
        part = (p - path.start).dot(axis) / square
        return p + first + (last - first) * part

    segments = [Segment(moved(s.a), moved(s.b), moved(s.c), moved(s.d)) for s in path.segments]
    return _ended(Path(tuple(segments)), start, end)


def _same_place(parts: Sequence[tuple[Path, Path]], at: float) -> float:
    """Returns the arc length, on an edge that followed, of the place that `at` was on it, segment for segment."""
    gone, there = 0.0, 0.0
    pairs = [pair for old, new in parts for pair in zip(old.segments, new.segments, strict=True)]
    for before, after in pairs[:-1]:
        if at <= gone + before.length:
            return there + after.length_to(before.parameter_at(at - gone))
        gone, there = gone + before.length, there + after.length
    before, after = pairs[-1]
    return there + after.length_to(before.parameter_at(at - gone))


@dataclass(frozen=True)
class Opening:
    """A dart that opens an edge of a shell piece: what lies beyond it was turned about the pivot."""

    name: str
    pivot: Point
    mouth: Point  # before it was opened: the end of the mouth that stayed in its place
    turn: float  # anticlockwise, of the part that was turned

    @property
    def opened(self) -> Transform:
        """The map of the part that was turned."""
        return Transform.turn(self.turn, self.pivot)


def opening_of(piece: Piece, name: str, *, stayed: str) -> Opening | None:
    """Returns a dart's opening, read from its mouth and legs; `stayed` is the mouth's letter on the part that wasn't
    turned. None where the piece has no such dart."""
    line = next((line for line in piece.lines if line.name == name and line.kind is LineKind.DART), None)
    if line is None:
        return None
    first, last = line.path.start, line.path.end
    a, b = line.path.start_tangent, -line.path.end_tangent
    angle = math.atan2(a.cross(b), a.dot(b))
    if abs(angle) < _LEAST_ANGLE:
        return None
    pivot = crossing(first, a, last, b)
    if line.start.endswith(stayed):
        return Opening(name, pivot, first, angle)
    return Opening(name, pivot, last, -angle)


def laid_open(path: Path, opening: Opening | None) -> tuple[Path, tuple[float, float] | None]:
    """Returns a line drawn with a dart closed as it lies on the opened piece, and where on it the dart's mouth is.

    The part beyond the dart is turned with it; in between the line jumps across the mouth.
    """
    if opening is None:
        return path, None
    ray = Path.line(opening.pivot, opening.mouth.towards(opening.pivot, -_ON))
    found = crossings(_produced(path), ray)
    if not found:
        # which side of the dart it lies on as a whole
        return path, None
    at = found[0].on_first - _ON
    if not 1.0 < at < path.length - 1.0:
        return (path, None) if at >= path.length - 1.0 else (path.moved(opening.opened), None)
    before, after = path.part(0.0, at), path.part(at, path.length).moved(opening.opened)
    jump = Path.line(before.end, after.start)
    return before.then(jump, after), (before.length, before.length + jump.length)
