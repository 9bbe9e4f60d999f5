"""Where the bars of the cloth cross the seam lines of a piece.

A tailor lays a full-size pattern on the cloth by the bars: the ticks on its seam lines must stand on the bars that
they name. This module finds those places on the true curves; what is drawn of them is the sheet's affair.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum

from settwright.bars.model import Axis, Phase
from settwright.cloth.cloth import Bar, Cloth, Sequence
from settwright.cloth.dominance import warp_dominance, weft_dominance
from settwright.geometry import Path, Point
from settwright.geometry.tolerances import SAME
from settwright.makeup.model import CutPiece

NAMED_WIDTH = 3.0  # a narrower bar gets no tick of its own, unless it is the dominant one


class BarPart(StrEnum):
    """Which part of a bar crosses, as seen on the piece with the garment's top upwards."""

    MIDDLE = "middle"
    LEFT_EDGE = "left edge"
    RIGHT_EDGE = "right edge"
    LOWER_EDGE = "lower edge"
    UPPER_EDGE = "upper edge"


@dataclass(frozen=True)
class Crossing:
    """One place where a bar crosses a seam line, in the piece's frame."""

    edge: str
    at: float  # arc length from the edge's start
    point: Point
    tangent: Point  # direction of the seam line there
    axis: Axis
    bar: str  # Bar.name: "navy 2"
    which_edge: BarPart
    along: Point  # direction of the bar, towards the garment's top or right
    is_dominant: bool

    @property
    def label(self) -> str:
        """The crossing in words: "navy 2 upright, left edge"."""
        return f"{self.bar} {self.axis}" + ("" if self.which_edge is BarPart.MIDDLE else f", {self.which_edge}")


def crossings(piece: CutPiece, phase: Phase, cloth: Cloth) -> tuple[Crossing, ...]:
    """Returns where the bars cross the seam line, edge by edge, in the order in which one walks each edge.

    Told are the middle of every bar wider than 3 mm and both edges of the dominant bar (its middle only, where it
    is narrower than that). An axis of one colour has no bars to tell, nor has one along which the piece lies free.
    """
    g, lie = piece.grain_turn, phase.orientation
    across, up = lie.place(Point(1.0, 0.0), g), lie.place(Point(0.0, 1.0), g)
    found: list[tuple[int, float, int, Crossing]] = []
    for axis, sequence, dominant, is_free, origin, slope in (
        (Axis.UPRIGHT, cloth.warp, warp_dominance(cloth).dominant, phase.free_u, phase.u, Point(across.x, up.x)),
        (Axis.LEVEL, cloth.weft, weft_dominance(cloth).dominant, phase.free_v, phase.v, Point(across.y, up.y)),
    ):
        if dominant is None or is_free:
            continue
        told = _told_places(axis, sequence, dominant, slope)
        places = [place for place, _, _ in told]
        # a bar runs where its place in the sett doesn't change
        along = slope.right if axis is Axis.LEVEL else slope.left
        along = along if (along.x if axis is Axis.LEVEL else along.y) >= 0 else -along
        for number, edge in enumerate(piece.piece.edges):
            for index, at, point, tangent in _crossed(edge.path, origin, slope, places, sequence.repeat):
                _, bar, part = told[index]
                crossing = Crossing(edge.name, at, point, tangent, axis, bar.name, part, along, bar == dominant)
                found.append((number, at, len(found), crossing))
    return tuple(crossing for _, _, _, crossing in sorted(found, key=lambda entry: entry[:3]))


def _told_places(axis: Axis, sequence: Sequence, dominant: Bar, slope: Point) -> list[tuple[float, Bar, BarPart]]:
    """Returns (place in the sett, bar, part of it) for all that a sheet tells of one axis."""
    if axis is Axis.UPRIGHT:
        first, last = BarPart.LEFT_EDGE, BarPart.RIGHT_EDGE
        reads_forward = slope.x >= 0
    else:
        first, last = BarPart.LOWER_EDGE, BarPart.UPPER_EDGE
        reads_forward = slope.y >= 0
    if not reads_forward:
        first, last = last, first
    places: list[tuple[float, Bar, BarPart]] = []
    for bar, start in zip(sequence.bars, sequence.starts, strict=True):
        is_wide = bar.width > NAMED_WIDTH
        if bar == dominant and is_wide:
            places += [(start, bar, first), (start + bar.width, bar, last)]
        if is_wide or bar == dominant:
            places.append((start + bar.width / 2, bar, BarPart.MIDDLE))
    return places


def _crossed(
    path: Path, origin: float, slope: Point, places: list[float], repeat: float
) -> Iterator[tuple[int, float, Point, Point]]:
    """Yields (index of the place, arc length, point, tangent) wherever origin + slope · p meets a place.

    Along one cubic the sett's place is a cubic in the parameter: it is cut where it turns, and each monotone span
    meets each place once at most. A span holds its first end; the path's very end is held by the last one.
    """
    walked = 0.0
    for segment in path.segments:
        w = tuple(origin + slope.dot(p) for p in (segment.a, segment.b, segment.c, segment.d))
        is_last = segment is path.segments[-1]
        for t0, t1 in itertools.pairwise(_turns(w)):
            w0, w1 = _value(w, t0), _value(w, t1)
            if abs(w1 - w0) < SAME:
                continue
            holds_end = is_last and t1 == 1.0
            for index, place in enumerate(places):
                for target in _repeats(place, repeat, w0, w1, holds_end):
                    if segment.is_straight and t0 == 0.0 and t1 == 1.0:
                        part = (target - w0) / (w1 - w0)
                        yield (
                            index,
                            walked + part * segment.length,
                            segment.a.between(segment.d, part),
                            segment.tangent(0.0),
                        )
                    else:
                        t = _root(w, target, t0, t1)
                        yield index, walked + segment.length_to(t), segment.at(t), segment.tangent(t)
        walked += segment.length


def _value(w: tuple[float, ...], t: float) -> float:
    s = 1.0 - t
    return s * s * s * w[0] + 3 * s * s * t * w[1] + 3 * s * t * t * w[2] + t * t * t * w[3]


def _turns(w: tuple[float, ...]) -> list[float]:
    """Returns 0, the parameters in between at which the cubic turns back, and 1."""
    d0, d1, d2 = w[1] - w[0], w[2] - w[1], w[3] - w[2]
    a, b, c = d0 - 2 * d1 + d2, 2 * (d1 - d0), d0
    if abs(a) < 1e-12:
        roots = [-c / b] if abs(b) > 1e-12 else []
    else:
        inside = b * b - 4 * a * c
        reach = math.sqrt(inside) if inside > 0 else 0.0
        roots = [(-b - reach) / (2 * a), (-b + reach) / (2 * a)] if inside > 0 else []
    return [0.0, *sorted(t for t in roots if 1e-9 < t < 1 - 1e-9), 1.0]


def _repeats(place: float, repeat: float, w0: float, w1: float, holds_end: bool) -> Iterator[float]:
    """Yields place + k·repeat for all that lie from w0 (held) to w1 (held only if told), in order of travel."""
    lo, hi = min(w0, w1), max(w0, w1)
    first, last = math.ceil((lo - place) / repeat), math.floor((hi - place) / repeat)
    turns = range(first, last + 1) if w0 <= w1 else range(last, first - 1, -1)
    for k in turns:
        target = place + k * repeat
        if target != w1 or holds_end:
            yield target


def _root(w: tuple[float, ...], target: float, t0: float, t1: float) -> float:
    """Returns the parameter between t0 and t1 at which the monotone cubic reaches the target."""
    rises = _value(w, t1) > _value(w, t0)
    t = t0 + (t1 - t0) * (target - _value(w, t0)) / (_value(w, t1) - _value(w, t0))
    for _ in range(80):
        off = _value(w, t) - target
        if (off > 0) == rises:
            t1 = t
        else:
            t0 = t
        s = 1.0 - t
        speed = 3 * (s * s * (w[1] - w[0]) + 2 * s * t * (w[2] - w[1]) + t * t * (w[3] - w[2]))
        step = t - off / speed if speed else t0
        if not t0 < step < t1:
            step = (t0 + t1) / 2
        if abs(step - t) < 1e-13:
            return step
        t = step
    return t
