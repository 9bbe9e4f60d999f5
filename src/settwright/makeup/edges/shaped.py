"""A facing cut as a straight strip and shaped to its edge: the piece as it is cut, from the piece as it will lie.

The finished facing keeps its own outline: it is the template. Each of its points is found again on the strip, so the
piece that is cut has the same edges, stops, marks and lines, its outer edge straight; and it is cut as a rectangle,
which is trimmed to the template only after shaping.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from settwright.cloth.give import Give
from settwright.commission.design import FacingGrain
from settwright.geometry import Path, Point, direction, fair_curve, joined
from settwright.makeup.edges.bending import End
from settwright.makeup.edges.shaping import Shaping, shaping_of
from settwright.makeup.edges.strip import Strip, laid_along
from settwright.pattern import Draft, Line, LineKind, Mark, Piece, Seam

STATION = "station-"
_ALONG = ("lapel", "neckline", "front-edge")  # from the top down: the edges that a strip can follow
_CORNER = math.radians(15.0)  # where an edge turns more at one point, no strip follows it
_ROUND = math.radians(45.0)  # a last segment that turns more is the rounding of the hem, cut after shaping
_STRAIGHT = 0.1  # mm by which a straight edge may leave the grain
_SPACING = 18.0  # between points of an edge that are found again on the strip


@dataclass(frozen=True)
class ShapedFacing:
    """A facing with its grain along or across the edge."""

    finished: Piece  # the template, with a line for each station
    cut: Piece  # the strip, in its own frame: the edge at x = 0, its top upwards
    grain: FacingGrain
    followed: Path  # the part of the edge that the strip follows, from the top down, in the finished piece's frame
    shaping: Shaping


def followed_edge(piece: Piece) -> Path | None:
    """Returns the part of a facing's outer edge that a strip follows, from the top down; None where there is none.

    It ends above a rounded hem, and at a corner it begins below: a strip turns no corner.
    """
    known = {edge.name: edge.path for edge in piece.edges}
    paths = [known[name] for name in _ALONG if name in known]
    if not paths:
        return None
    segments = list(joined(paths).segments)
    while len(segments) > 1 and abs(_turn(segments[-1].tangent(0.0), segments[-1].tangent(1.0))) > _ROUND:
        segments.pop()
    first = 0
    for i, (before, after) in enumerate(itertools.pairwise(segments), 1):
        if abs(_turn(before.tangent(1.0), after.tangent(0.0))) > _CORNER:
            first = i
    return Path(tuple(segments[first:]))


def shaped_facing(piece: Piece, grain: FacingGrain, give: Give) -> ShapedFacing | None:
    """Returns a facing cut as a strip; None where its outer edge has nothing to follow, or lies on the grain as cut.

    `piece` is a facing seen from its right side, as the draft has it (docs/names.md).
    """
    laid = laid_facing(piece, grain, give)
    if laid is None:
        return None
    edge, shaping = laid
    cut = _cut_piece(piece, edge, shaping.strip, shaping.along_warp)
    finished = replace(piece, lines=(*piece.lines, *_station_lines(shaping)))
    return ShapedFacing(finished, _with_stations(cut, shaping), grain, edge, shaping)


def laid_facing(piece: Piece, grain: FacingGrain, give: Give) -> tuple[Path, Shaping] | None:
    """Returns the edge that a facing's strip follows and what shaping it asks; None as for `shaped_facing`."""
    edge = followed_edge(piece)
    if edge is None or (grain is FacingGrain.ALONG and _is_upright(piece, edge)):
        return None
    # at the hem the strip is held square, so that its bars end level; the top, and a join, are free
    ends = (End.FREE, End.SQUARE if any(e.name == "hem" for e in piece.edges) else End.FREE)
    strip = laid_along(edge, _other_edges(piece, edge), give.askew_over_shrink, ends)
    along_warp = grain is FacingGrain.ALONG
    return edge, shaping_of(strip, give, along_warp=along_warp, ends=ends)


def with_shaped_facings(
    draft: Draft, grain: FacingGrain, give: Give, in_one: Sequence[str] = ()
) -> tuple[Draft, tuple[ShapedFacing, ...]]:
    """Returns a draft whose front facings are cut as strips, and those facings; seams keep what they are sewn to.

    `in_one` names the facings that stay as the front, because they are cut in one with it. As cut, an edge of the
    strip may be longer than what it is sewn to, by what is shrunk away before: that is the seam's ease then.
    """
    if grain is FacingGrain.AS_CUT:
        return draft, ()
    found = [
        shaped
        for piece in draft.pieces
        if piece.name.startswith("front-facing")
        and piece.name not in in_one
        and (shaped := shaped_facing(piece, grain, give)) is not None
    ]
    if not found:
        return draft, ()
    cut = {shaped.cut.name: shaped.cut for shaped in found}
    pieces = tuple(cut.get(piece.name, piece) for piece in draft.pieces)
    by_name = {piece.name: piece for piece in pieces}
    seams = tuple(_eased(seam, by_name) if {seam.a.piece, seam.b.piece} & set(cut) else seam for seam in draft.seams)
    return replace(draft, pieces=pieces, seams=seams), tuple(found)


def rectangle_round(points: Sequence[Point]) -> tuple[Point, ...]:
    """Returns the upright rectangle round a polygon, counter-clockwise from its lower left corner."""
    left, right = min(p.x for p in points), max(p.x for p in points)
    low, high = min(p.y for p in points), max(p.y for p in points)
    return (Point(left, low), Point(right, low), Point(right, high), Point(left, high))


def _eased(seam: Seam, pieces: dict[str, Piece]) -> Seam:
    a, b = pieces.get(seam.a.piece), pieces.get(seam.b.piece)
    if a is None or b is None:
        return seam

    def between(piece: Piece, edge: str, first: str, last: str) -> float:
        return abs(piece.stop(edge, last) - piece.stop(edge, first))

    ease = tuple(
        round(between(b, seam.b.edge, *stops) - between(a, seam.a.edge, *stops), 3) + 0.0
        for stops in itertools.pairwise(seam.stops)
    )
    return replace(seam, ease=ease)


def _is_upright(piece: Piece, edge: Path) -> bool:
    """Whether an edge is straight and lies on the grain, so that a facing's grain runs along it as it is cut."""
    grain = direction(piece.grain)
    return all(abs(grain.cross(segment.d - segment.a)) < _STRAIGHT and segment.is_straight for segment in edge.segments)


def _turn(before: Point, after: Point) -> float:
    return math.atan2(before.cross(after), before.dot(after))


def _other_edges(piece: Piece, edge: Path) -> tuple[Point, ...]:
    """Returns the facing's outline without the followed edge, from its end round to its start."""
    names = [e.name for e in piece.edges]
    last = max(names.index(name) for name in _ALONG if name in names)
    round_it = [*piece.edges[last + 1 :], *piece.edges[: last + 1]]
    points: list[Point] = []
    for e in round_it:
        if e.name in _ALONG:  # of these only what the strip doesn't follow
            kept = [s for s in e.path.segments if s not in edge.segments]
            points += Path(tuple(kept)).points(0.5) if kept else ()
        else:
            points += e.path.points(0.5)
    return tuple(points)


def _cut_piece(piece: Piece, edge: Path, strip: Strip, along_warp: bool) -> Piece:
    place = _Finder(strip, edge)
    edges = tuple(replace(e, path=place.path(e.path)) for e in piece.edges)
    lines = tuple(replace(line, path=place.path(line.path)) for line in piece.lines)
    moved = {e.name: e.path for e in edges} | {line.name: line.path for line in lines}
    kept = {e.name: e.path for e in piece.edges} | {line.name: line.path for line in piece.lines}
    notches = tuple(replace(n, at=moved[n.edge].nearest(place.point(kept[n.edge].at(n.at)))) for n in piece.notches)
    middle = place.point(piece.grain_mark)
    return replace(
        piece,
        edges=edges,
        lines=lines,
        notches=notches,
        marks=tuple(Mark(mark.name, place.point(mark.at)) for mark in piece.marks),
        grain_mark=Point(max(strip.depths) / 2 if middle.x <= 0 else middle.x, middle.y),
        grain=math.pi / 2,
        bias=0.0 if along_warp else math.pi / 2,
    )


@dataclass
class _Finder:
    """Finds the finished facing's points on the strip; the strip's frame has the edge at x = 0, its top upwards."""

    strip: Strip
    edge: Path
    _last: float | None = None

    def point(self, point: Point) -> Point:
        """Returns where a point lies on the strip."""
        along, depth = self.strip.of(point, self._last)
        self._last = along
        return Point(depth, -along)

    def path(self, path: Path) -> Path:
        """Returns where a path lies on the strip; the followed edge becomes straight."""
        parts: list[Path] = []
        start: Point | None = None
        for segment in path.segments:
            if segment in self.edge.segments or segment.reversed() in self.edge.segments:
                run = Path.line(self._on_edge(segment.a), self._on_edge(segment.d))
            else:
                pieces = max(1 if segment.is_straight else 3, math.ceil(segment.length / _SPACING))
                points = [self._near(segment.at(i / pieces)) for i in range(pieces + 1)]
                leaving = self._near(segment.at(0.002)) - points[0]
                coming = points[-1] - self._near(segment.at(0.998))
                run = fair_curve(points, leaving, coming) if (points[-1] - points[0]).length > 1e-6 else None
            if run is None:
                continue
            if start is not None and run.start != start:
                run = Path((replace(run.segments[0], a=start), *run.segments[1:]))
            parts.append(run)
            start = run.end
        return parts[0].then(*parts[1:])

    def _near(self, point: Point) -> Point:
        for end in (self.edge.start, self.edge.end):
            if (point - end).length < 1e-6:
                return self._on_edge(end)
        return self.point(point)

    def _on_edge(self, point: Point) -> Point:
        """Returns a point of the followed edge on the strip, by its length along the edge."""
        along = 0.0
        for segment in self.edge.segments:
            if (segment.a - point).length < 1e-6:
                return Point(0.0, -along)
            along += segment.length
        return Point(0.0, -along)


def _station_lines(shaping: Shaping) -> tuple[Line, ...]:
    """Returns a line for each station on the finished facing: the crosswise thread that lies there."""
    strip = shaping.strip
    return tuple(
        Line(f"{STATION}{number}", LineKind.PLACE, Path.line(strip.at(along, 0.0), strip.at(along, depth)))
        for number, along, depth in _stations(shaping)
    )


def _with_stations(cut: Piece, shaping: Shaping) -> Piece:
    lines = tuple(
        Line(f"{STATION}{number}", LineKind.PLACE, Path.line(Point(0.0, -along), Point(depth, -along)))
        for number, along, depth in _stations(shaping)
    )
    return replace(cut, lines=(*cut.lines, *lines))


def _stations(shaping: Shaping) -> list[tuple[int, float, float]]:
    """Returns (number, place along the edge, depth) of each mark; ends where the strip runs out are left out."""
    strip = shaping.strip
    places = [station.start for station in shaping.stations] + [shaping.stations[-1].end]
    return [
        (number, along, strip.depth_at(along)) for number, along in enumerate(places, 1) if strip.depth_at(along) > 10.0
    ]
