"""The cutting line: the seam line moved outwards by each edge's own allowance, corners cut so that they fold back.

An even offset of the whole outline won't do: allowances differ from edge to edge, and a corner that is merely
mitred pulls when the allowance is turned. So each edge gets a strip of its own width, the corner between two edges
follows from the order in which they are turned, and the cutting line is the outline of all strips together.

At a corner the edge that is turned *first under the iron* is the fold: its allowance is cut as the mirror image of
the other edge's cutting line, so that it lies back exactly on it. A hem folds before anything, an open seam before
the armhole, neck or waist that crosses it; two edges of one order meet in a mitre of limited length.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import cached_property

from shapely import MultiPolygon, Polygon, unary_union
from shapely.geometry.base import BaseGeometry

from settwright.geometry import Path, Point
from settwright.geometry.tolerances import FLATTEN, OUTPUT, SAME
from settwright.makeup.model import Allowance, Outline, Stage
from settwright.pattern import Edge, Piece

MITRE = 2.0  # a mitred corner reaches at most this many widths from the seam's corner
FLARE = 0.6  # a corner that folds back spreads at most this part of its width beyond a square one
_SMOOTH = math.radians(1.0)  # a smaller turn is no corner
_GENTLE = math.radians(40.0)  # a smaller turn is too flat to fold back: it is mitred, or tapered where widths differ
_SHARP = math.radians(160.0)  # a larger turn is too acute to fold back
_HOLLOW = 1.15  # an edge whose outer side crosses the fold's line farther out than this has turned hollow by then
_FAR = 4.0  # strips are produced beyond their ends by this many widths to find where they meet


def cutting_line(piece: Piece, allowances: Sequence[Allowance], stage: Stage) -> tuple[Point, ...]:
    """Returns the cutting line as a counter-clockwise polygon rounded to 0.001 mm, first point not repeated.

    Raises ValueError where an edge has no allowance.
    """
    runs = _runs(piece, allowances, stage)
    corners = [_corner(a, b) for a, b in zip(runs, (*runs[1:], runs[0]), strict=True)]
    parts: list[BaseGeometry] = [_polygon([p for run in runs for p in run.points[:-1]])]
    for run, before, after in zip(runs, (corners[-1], *corners[:-1]), corners, strict=True):
        if run.width > 0:
            parts += _strip(run, before.start_of_next, after.end_of_last)
    parts += [_uncrossed(_polygon(fill)) for corner in corners for fill in corner.fills]
    return counter_clockwise(_outline(parts))


@dataclass(frozen=True)
class CuttingLine(Outline):
    """A piece's cutting line at a stage."""

    piece: Piece
    allowances: tuple[Allowance, ...]
    stage: Stage

    def worked_out(self) -> tuple[Point, ...]:
        """Returns the seam line moved outwards; as `cutting_line`."""
        return cutting_line(self.piece, self.allowances, self.stage)


@dataclass(frozen=True)
class MirrorImage(Outline):
    """An outline mirrored about the grain line."""

    of: Outline

    def worked_out(self) -> tuple[Point, ...]:
        """Returns the other outline's corners on the other side of the grain line."""
        return mirror_image(self.of.points)


def seam_polygon(piece: Piece) -> tuple[Point, ...]:
    """Returns the seam line as a counter-clockwise polygon rounded to 0.001 mm, first point not repeated."""
    return counter_clockwise(_distinct(_rounded(p) for edge in piece.edges for p in edge.path.points()[:-1]))


def counter_clockwise(points: Sequence[Point]) -> tuple[Point, ...]:
    """Returns the polygon's points in counter-clockwise order, beginning with the same point."""
    area = sum(p.cross(q) for p, q in zip(points, (*points[1:], points[0]), strict=True))
    return tuple(points) if area >= 0 else (points[0], *reversed(points[1:]))


def mirror_image(points: Sequence[Point]) -> tuple[Point, ...]:
    """Returns the polygon mirrored about the grain line, counter-clockwise again."""
    return counter_clockwise([Point(0.0 - p.x, p.y) for p in points])


@dataclass(frozen=True)
class _Run:
    """A smooth stretch of the seam line with one width of allowance."""

    points: tuple[Point, ...]
    outward: tuple[Point, ...]  # unit normals at the points
    width: float
    order: int  # 0 is turned first

    @cached_property
    def start_travel(self) -> Point:
        return self.outward[0].left

    @cached_property
    def end_travel(self) -> Point:
        return self.outward[-1].left

    @cached_property
    def outer(self) -> tuple[Point, ...]:
        """The outer end of the allowance at each point."""
        return tuple(p + n * self.width for p, n in zip(self.points, self.outward, strict=True))

    @cached_property
    def turns_back(self) -> bool:
        """Whether the edge has a hollow tighter than the allowance is wide."""
        return any((q - p).dot(w - v) < 0 for (p, v), (q, w) in itertools.pairwise(self.rungs))

    @property
    def rungs(self) -> Iterable[tuple[Point, Point]]:
        """The points of the edge, each with the outer end of its allowance."""
        return zip(self.points, self.outer, strict=True)

    @cached_property
    def offset(self) -> tuple[Point, ...]:
        """The strip's outer side, produced beyond both ends in a straight line."""
        reach = max(self.width, 10.0) * _FAR
        before, beyond = self.outer[0] - self.start_travel * reach, self.outer[-1] + self.end_travel * reach
        line = (before, *self.outer, beyond)
        return tuple(_without_loops(line)) if self.turns_back else line

    def outer_at(self, place: float) -> Point:
        """Returns the point of the outer side at a place told as index and part of the way to the next."""
        index = min(int(place), len(self.offset) - 2)
        return self.offset[index].between(self.offset[index + 1], place - index)

    def outer_between(self, first: float, last: float) -> list[Point]:
        """Returns the outer side from place to place, both included."""
        between = [self.offset[i] for i in range(math.floor(first) + 1, math.ceil(last))]
        return [self.outer_at(first), *between, self.outer_at(last)]

    @property
    def flat_start(self) -> float:
        return 1.0

    @property
    def flat_end(self) -> float:
        return float(len(self.offset) - 2)


@dataclass(frozen=True)
class _Cap:
    """How a strip ends: where along its outer side, and the points on the way there from the seam's corner."""

    place: float
    way: tuple[Point, ...] = ()


@dataclass(frozen=True)
class _Corner:
    end_of_last: _Cap
    start_of_next: _Cap
    fills: tuple[tuple[Point, ...], ...] = ()


def _runs(piece: Piece, allowances: Sequence[Allowance], stage: Stage) -> list[_Run]:
    sign = 1.0 if piece.area >= 0 else -1.0
    edges = piece.edges if sign > 0 else tuple(reversed(piece.edges))
    runs: list[_Run] = []
    for edge in edges:
        of_edge = [allowance for allowance in allowances if allowance.edge == edge.name]
        if not of_edge:
            raise ValueError(f"{piece.name}: no allowance for {edge.name}")
        stretches = [(_places(piece, edge, allowance), allowance) for allowance in of_edge]
        stretches.sort(key=lambda stretch: stretch[0])
        for places, allowance in stretches if sign > 0 else reversed(stretches):
            path = edge.path.part(*places) if allowance.stretch else edge.path
            for points, outward in _smooth_stretches(path if sign > 0 else path.reversed()):
                runs.append(_Run(points, outward, allowance.width(stage), allowance.finish.order))
    return runs


def _places(piece: Piece, edge: Edge, allowance: Allowance) -> tuple[float, float]:
    """Returns where an allowance begins and ends on its edge."""
    if allowance.stretch is None:
        return 0.0, math.inf
    first, last = sorted(piece.stop(edge.name, stop) for stop in allowance.stretch)
    return first, last


def _smooth_stretches(path: Path) -> Iterable[tuple[tuple[Point, ...], tuple[Point, ...]]]:
    """Yields points and outward normals of the path, cut apart at its corners."""
    points: list[Point] = []
    outward: list[Point] = []
    for segment in path.segments:
        if max((segment.d - segment.a).length, (segment.c - segment.b).length) < SAME:
            continue
        first = segment.tangent(0.0)
        if outward and abs(math.atan2(outward[-1].left.cross(first), outward[-1].left.dot(first))) > _SMOOTH:
            yield tuple(points), tuple(outward)
            points, outward = [], []
        steps = segment.flat_steps(FLATTEN / 2)
        for step in range(1 if points else 0, steps + 1):
            points.append(_rounded(segment.at(step / steps)))
            outward.append(segment.tangent(step / steps).right)
    if points:
        yield tuple(points), tuple(outward)


def _corner(a: _Run, b: _Run) -> _Corner:
    """Returns how the strips of two runs end where one follows the other."""
    corner = a.points[-1]
    turn = math.atan2(a.end_travel.cross(b.start_travel), a.end_travel.dot(b.start_travel))
    flat = _Corner(_Cap(a.flat_end), _Cap(b.flat_start))
    if turn < _GENTLE:
        return _gentle(a, b, turn, flat)
    if a.width <= 0 or b.width <= 0 or a.order == b.order or turn > _SHARP:
        return _mitred(a, b, corner)
    if a.order < b.order:
        folded = _folded_back(corner, a.end_travel, a, b, forward=True)
        return _Corner(*folded) if folded else _mitred(a, b, corner)
    folded = _folded_back(corner, -b.start_travel, b, a, forward=False)
    return _Corner(folded[1], folded[0]) if folded else _mitred(a, b, corner)


def _gentle(a: _Run, b: _Run, turn: float, flat: _Corner) -> _Corner:
    """A flat corner: the wider strip runs out into the narrower one on a slope; a hollow corner needs no fill."""
    corner, wide = a.points[-1], max(a.width, b.width)
    if wide <= 0 or turn < -_GENTLE:
        return flat
    mitre = _tip(a, b) if turn > _SMOOTH else None
    if mitre and (mitre[0] - corner).length < MITRE * wide and mitre[1] + mitre[2] < wide:
        return _Corner(_Cap(a.flat_end, (mitre[0],)), _Cap(b.flat_start, (mitre[0],)))
    slope = abs(a.width - b.width)
    if slope < SAME:
        fill = (corner, corner + a.outward[-1] * wide, corner + b.outward[0] * wide)
    elif a.width < b.width:
        fill = _taper(a.points[::-1], a.outward[::-1], a.width, slope, corner + b.outward[0] * wide)
    else:
        fill = _taper(b.points, b.outward, b.width, slope, corner + a.outward[-1] * wide)
    return _Corner(flat.end_of_last, flat.start_of_next, (fill,))


def _taper(
    points: Sequence[Point], outward: Sequence[Point], width: float, length: float, outer: Point
) -> tuple[Point, ...]:
    """Returns the slope by which a neighbour's wider allowance, its corner at `outer`, runs out along a narrower one.

    `points` and `outward` are the narrower one's, from the corner on; the slope ends `length` along it.
    """
    corner, gone = points[0], 0.0
    for (p, n), (q, m) in itertools.pairwise(zip(points, outward, strict=True)):
        step = (q - p).length
        if gone + step >= length:
            part = (length - gone) / step
            foot = p.between(q, part)
            return (corner, outer, foot + n.between(m, part).unit * width, foot)
        gone += step
    return (corner, outer, points[-1] + outward[-1] * width, points[-1])


def _mitred(a: _Run, b: _Run, corner: Point) -> _Corner:
    along_a, along_b, limit = a.end_travel, b.start_travel, MITRE * max(a.width, b.width)
    mitre = _tip(a, b)
    if mitre is None:  # a narrow strip beside a wide one: the flat ends cover the corner
        fill = (corner, a.offset[-2], b.offset[1])
        return _Corner(_Cap(a.flat_end), _Cap(b.flat_start), (fill,))
    tip, past_a, past_b = mitre
    if (tip - corner).length <= limit:
        return _Corner(_Cap(a.flat_end, (tip,)), _Cap(b.flat_start, (tip,)))
    # cut the tip off square to the way from corner to tip, no nearer than the limit
    way = (tip - corner).unit
    over = (tip - corner).length - limit
    cut_a = tip - along_a * min(over / max(way.dot(along_a), 1e-9), past_a)
    cut_b = tip + along_b * min(over / max(way.dot(-along_b), 1e-9), past_b)
    return _Corner(_Cap(a.flat_end, (cut_a,)), _Cap(b.flat_start, (cut_b,)), ((corner, cut_a, cut_b),))


def _tip(a: _Run, b: _Run) -> tuple[Point, float, float] | None:
    """Returns where the outer sides of two strips meet when produced, and how far each was produced to get there.

    None where they meet before their ends, or nowhere.
    """
    along_a, along_b = a.end_travel, b.start_travel
    end, start = a.offset[-2], b.offset[1]
    sine = along_a.cross(along_b)
    if abs(sine) < 1e-9:
        return None
    past_a, past_b = (start - end).cross(along_b) / sine, (end - start).cross(along_a) / sine
    if past_a < 0 or past_b < 0:
        return None
    return end + along_a * past_a, past_a, past_b


def _folded_back(corner: Point, away: Point, fold: _Run, other: _Run, *, forward: bool) -> tuple[_Cap, _Cap] | None:
    """Returns the caps of the folded strip and of the other one, or None where their lines don't meet in reach.

    `away` points from the corner along the fold, out of the piece. `forward`: the other run starts at the corner.
    """
    outer = other.offset if forward else other.offset[::-1]
    inwards = other.start_travel if forward else -other.end_travel
    # where a straight edge's outer side would cross the fold's line; a hollow one's may cross far beyond
    near = corner + away * (other.width / abs(away.cross(inwards)))
    meeting = _on_ray(outer, corner, away)
    if meeting is None or (meeting[1] - corner).length > 3.0 * max(other.width, fold.width):
        return None
    place, foot = meeting
    is_hollow = (foot - corner).length > _HOLLOW * (near - corner).length
    inner_side = [near, near + inwards * 1000.0] if is_hollow else [foot, *outer[math.floor(place) + 1 :]]
    image = _kept_within([_reflected(p, corner, away) for p in inner_side], away, FLARE * fold.width)
    met = _first_crossing(image, fold.offset)
    if met is None:
        return None
    index, fold_place = met
    if is_hollow:
        other_place = other.flat_start if forward else other.flat_end
    else:
        other_place = place if forward else len(outer) - 1 - place
    return _Cap(fold_place, tuple(image[: index + 1])), _Cap(other_place)


def _on_ray(line: Sequence[Point], start: Point, along: Point) -> tuple[float, Point] | None:
    """Returns where a polyline crosses a ray, nearest to the ray's start, as (place on the line, point)."""
    best: tuple[float, float, Point] | None = None
    for index, (p, q) in enumerate(itertools.pairwise(line)):
        side_p, side_q = along.cross(p - start), along.cross(q - start)
        if side_p * side_q > 0 or side_p == side_q:
            continue
        part = side_p / (side_p - side_q)
        point = p.between(q, part)
        distance = along.dot(point - start)
        if distance > 0 and (best is None or distance < best[0]):
            best = (distance, index + part, point)
    return best and (best[1], best[2])


def _first_crossing(line: Sequence[Point], other: Sequence[Point]) -> tuple[int, float] | None:
    """Returns where `line` first crosses `other`: (index on line, place on other)."""
    for index, (p, q) in enumerate(itertools.pairwise(line)):
        best: tuple[float, float] | None = None
        for i, (r, s) in enumerate(itertools.pairwise(other)):
            along = _crossing_part(p, q, r, s)
            if along is not None and (best is None or along < best[0]):
                met = p.between(q, along)
                best = (along, i + (met - r).length / (s - r).length)
        if best:
            return index, best[1]
    return None


def _kept_within(line: Sequence[Point], along: Point, limit: float) -> list[Point]:
    """Returns the line up to where it has gone `limit` along a direction, then square to that on the same side."""
    start, kept = line[0], [line[0]]
    for p, q in itertools.pairwise(line):
        gone, going = along.dot(p - start), along.dot(q - start)
        if going > limit:
            turned = p.between(q, (limit - gone) / (going - gone))
            side = along.left if along.cross(turned - start) > 0 else along.right
            return [*kept, turned, turned + side * 1000.0]
        kept.append(q)
    return kept


def _without_loops(line: Sequence[Point]) -> list[Point]:
    """Returns an outer side without the loops that it makes beside a hollow tighter than the allowance is wide.

    Such a loop runs counter-clockwise; one that the lines produced beyond the ends make runs clockwise and stays.
    """
    kept, index = [line[0]], 0
    while index < len(line) - 1:
        here, last = kept[-1], len(line) - 2
        for other in range(last, index + 1, -1):
            met = _crossing_part(here, line[index + 1], line[other], line[other + 1])
            if met is None:
                continue
            point = here.between(line[index + 1], met)
            loop = [point, *line[index + 1 : other + 1]]
            if sum(p.cross(q) for p, q in zip(loop, (*loop[1:], loop[0]), strict=True)) > 0:
                kept.append(point)
                index = other
                break
        else:
            index += 1
            kept.append(line[index])
    return kept


def _crossing_part(p: Point, q: Point, r: Point, s: Point) -> float | None:
    """Returns what part of the way from p to q lies before the stretch from r to s is crossed, if it is."""
    # in plain numbers: it is asked ten thousand times for a garment
    pq_x, pq_y, rs_x, rs_y, pr_x, pr_y = q.x - p.x, q.y - p.y, s.x - r.x, s.y - r.y, r.x - p.x, r.y - p.y
    area = pq_x * rs_y - pq_y * rs_x
    if abs(area) < 1e-12:
        return None
    along, across = (pr_x * rs_y - pr_y * rs_x) / area, (pr_x * pq_y - pr_y * pq_x) / area
    return along if 0 <= along <= 1 and 0 <= across <= 1 else None


def _reflected(p: Point, on: Point, along: Point) -> Point:
    foot = on + along * along.dot(p - on)
    return foot * 2 - p


def _strip(run: _Run, start: _Cap, end: _Cap) -> list[BaseGeometry]:
    outer = run.outer_between(start.place, max(end.place, start.place))
    parts = [_uncrossed(_polygon([*run.points, *end.way, *reversed(outer), *reversed(start.way)]))]
    if run.turns_back:  # between the ends and the first loop something may be wanting
        for (p, v), (q, w) in itertools.pairwise(run.rungs):
            parts += [_polygon([p, q, w]), _polygon([p, w, v])]
    return parts


def _uncrossed(part: Polygon) -> BaseGeometry:
    """Returns a part whose sides don't cross: in a hollow corner, two strips' ends may."""
    return part if part.is_valid else part.buffer(0.0)


def _outline(parts: Sequence[BaseGeometry]) -> list[Point]:
    """Returns the outer boundary of the parts laid together."""
    together = unary_union(parts, grid_size=OUTPUT)
    areas = together.geoms if isinstance(together, MultiPolygon) else (together,)
    whole = max((area for area in areas if isinstance(area, Polygon)), key=lambda polygon: polygon.area)
    ring = whole.exterior.simplify(OUTPUT).coords
    return [Point(round(x, 3), round(y, 3)) for x, y in ring[:-1]]


def _polygon(points: Iterable[Point]) -> Polygon:
    ring = _distinct(_rounded(p) for p in points)
    return Polygon([(p.x, p.y) for p in ring]) if len(ring) > 2 else Polygon()


def _rounded(p: Point) -> Point:
    return Point(round(p.x, 3), round(p.y, 3))


def _distinct(points: Iterable[Point]) -> list[Point]:
    kept: list[Point] = []
    for p in points:
        if not kept or p != kept[-1]:
            kept.append(p)
    while len(kept) > 1 and kept[0] == kept[-1]:
        kept.pop()
    return kept
