"""Darts of the body: lying wholly inside a piece at the waist, or opening an edge towards the bust or the blade."""

from __future__ import annotations

from dataclasses import dataclass

from settwright.geometry import Path, Point, Transform, crossing, fair_curve
from settwright.pattern.drafts.record import Recorder
from settwright.pattern.piece import Edge, Line, LineKind, Mark, Notch

_DOWN = Point(0.0, -1.0)


@dataclass(frozen=True)
class WaistDart:
    """A dart wholly inside a piece: two legs mirrored about a plumb line, widest at the waist."""

    x: float
    width: float
    top: float
    end: float

    def lines(self) -> tuple[Line, ...]:
        """Returns the two legs, from the upper point to the lower one."""
        return (
            Line("dart-back-leg", LineKind.DART, self.leg(-1.0), "dart-top", "dart-end"),
            Line("dart-front-leg", LineKind.DART, self.leg(1.0), "dart-top", "dart-end"),
        )

    def marks(self) -> tuple[Mark, ...]:
        """Returns the two points."""
        return (Mark("dart-top", Point(self.x, self.top)), Mark("dart-end", Point(self.x, self.end)))

    def leg(self, side: float) -> Path:
        """Returns the leg towards the back (−1) or the front (1)."""
        middle = Point(self.x + side * self.width / 2, 0.0)
        upper = fair_curve([Point(self.x, self.top), middle], None, _DOWN)
        return upper.then(fair_curve([middle, Point(self.x, self.end)], _DOWN))


def waist_dart(r: Recorder, piece: str, x: float, *, width: float, top: float, end: float) -> WaistDart | None:
    """Returns the dart, or None without width."""
    if width <= 0:
        return None
    dart = WaistDart(x, width, top, end)
    r.found("dart's upper point", piece, "plumb over the middle of the dart", Point(x, top))
    r.found("dart's lower point", piece, "plumb under the middle of the dart; by a pocket in its slit", Point(x, end))
    return dart


@dataclass(frozen=True)
class Opened:
    """An edge with a dart's mouth in it: closed, the edge is what it was before."""

    edge: Edge
    notches: tuple[Notch, ...]  # the mouth's two ends, in the order of the edge
    legs: Line
    point: Mark


def opened(
    edge: Edge, at: float, opening: Transform, pivot: Point, *, short: float, name: str, first: bool, legs: str = "ab"
) -> Opened:
    """Returns an edge with a dart of a name opened at a place on it.

    `opening` turns one part about the pivot: the `first` up to the place, or what comes after it. The dart ends
    `short` of the pivot, its legs leaving the edge towards the pivot itself, so that closed the edge runs on without a
    corner. Its mouth is peaked, so that folded towards the edge's end it lies along the edge. `legs`
    are the letters of the mouth's two stops in the order of the edge.
    """
    stops = tuple(f"{name}-{leg}" for leg in legs)
    before, after = edge.path.part(0.0, at), edge.path.part(at, edge.path.length)
    if first:
        before = before.moved(opening)
    else:
        after = after.moved(opening)
    a, b = before.end, after.start
    middle = a.between(b)
    tip = pivot.towards(middle, short)
    leg = (b - pivot).unit
    onward = after.start_tangent
    folded = leg * (2 * onward.dot(leg)) - onward
    peak = crossing(b, folded, pivot, middle - pivot)
    mouth = Path.line(a, peak, b)
    path = before.then(mouth, after)
    return Opened(
        edge=Edge(edge.name, path, edge.start, edge.end),
        notches=(
            Notch(stops[0], edge.name, before.length),
            Notch(stops[1], edge.name, before.length + mouth.length),
        ),
        legs=Line(name, LineKind.DART, _leg(a, pivot, tip).then(_leg(b, pivot, tip).reversed()), *stops),
        point=Mark(f"{name}-point", tip),
    )


def _leg(mouth: Point, pivot: Point, tip: Point) -> Path:
    return fair_curve([mouth, tip], pivot - mouth)


def shifted(notches: tuple[Notch, ...], mouth: Opened, at: float) -> tuple[Notch, ...]:
    """Returns an edge's notches where they come to lie once a mouth has been opened at a place on it."""
    grown = mouth.notches[1].at - mouth.notches[0].at
    return tuple(Notch(n.name, n.edge, n.at + (grown if n.at > at else 0.0)) for n in notches)
