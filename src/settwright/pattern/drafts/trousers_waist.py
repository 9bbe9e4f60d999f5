"""A waist line trued with its darts and pleats closed, from a centre that leans, as a fly and a seat seam do.

The centre lies to the right, the side to the left. The waist is drawn as it will be worn, square to centre and side,
and then opened fold by fold. A dart opens about its point; a pleat, whose folds run plumb, opens sideways.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence
from dataclasses import dataclass

from settwright.geometry import ORIGIN, Path, Point, Transform, crossing, direction, hook_curve
from settwright.pattern.drafts.skirt_panel import Dart
from settwright.pattern.drafts.trousers_leg import parameter_where

UPRIGHT = math.pi / 2


@dataclass(frozen=True)
class DartPlan:
    """A dart wanted: where its inner leg lies, how much it takes out, how long it is, which way it points up."""

    intake: float
    length: float
    part: float = 0.5  # of the closed waist, from the centre
    plumb_at: float | None = None  # instead: where its middle lies across the piece
    axis: float = UPRIGHT

    def opening(self, inner: Point, scale: float) -> tuple[Transform, Point]:
        """Returns how everything beyond the dart moves as it opens, and the dart's point."""
        turn = 2 * math.asin(min(scale * self.intake / (2 * self.length), 0.9))
        point = inner - direction(self.axis - turn / 2) * self.length
        return Transform.turn(turn, point), point

    def inner_at(self, scale: float) -> float | None:
        """Returns how far across the piece the inner leg lies, where that is given."""
        return None if self.plumb_at is None else self.plumb_at + scale * self.intake / 2


@dataclass(frozen=True)
class PleatPlan:
    """A pleat wanted: where the fold that shows lies across the open piece, how much cloth it takes in all."""

    intake: float
    fold_at: float
    depth: float  # how far down its folds are drawn

    def opening(self, inner: Point, scale: float) -> tuple[Transform, Point]:
        """Returns how everything beyond the pleat moves as it opens, and where its folds end."""
        return Transform.shift(-scale * self.intake, 0.0), inner - Point(0.0, self.depth)

    def inner_at(self, scale: float) -> float:
        """Returns where the fold that shows lies across the piece."""
        return self.fold_at


@dataclass(frozen=True)
class Pleat:
    """A pleat as drawn: the fold that shows, towards the centre, is laid on the line `outer`, towards the side."""

    inner: Point
    outer: Point
    mouth: Path  # the waist edge over the cloth inside the pleat
    depth: float

    @property
    def folds(self) -> tuple[Path, Path, Path]:
        """The fold that shows, the hidden fold and the line that the first is laid on, downwards."""
        return self._down(self.inner), self._down(self.mouth.at(self.mouth.length / 2)), self._down(self.outer)

    def _down(self, top: Point) -> Path:
        return Path.line(top, Point(top.x, self.inner.y - self.depth))


@dataclass(frozen=True)
class WaistLine:
    """A waist from the centre outwards: its stretches between folds, and the folds."""

    closed: Path
    stretches: tuple[Path, ...]
    folds: tuple[Dart | Pleat, ...]

    def edge(self) -> tuple[Path, tuple[float, ...]]:
        """Returns the waist as one edge, and where each fold's inner and outer leg lie on it."""
        path, stops = self.stretches[0], list[float]()
        for fold, stretch in zip(self.folds, self.stretches[1:], strict=True):
            mouth = fold.mouth if isinstance(fold, Pleat) else Path.line(fold.inner, fold.peak, fold.outer)
            stops.append(path.length)
            path = path.then(mouth)
            stops.append(path.length)
            path = path.then(stretch)
        return path, tuple(stops)


def true_waist(
    centre: Point,
    upwards: Point,
    side: Point,
    arriving: Point,
    plans: Sequence[DartPlan | PleatPlan],
    *,
    length: float | None = None,
    give: tuple[float, float] = (0.0, 0.0),
) -> WaistLine:
    """Returns the waist from the centre, square to its line `upwards`, to the side, `arriving` there.

    With a `length` the folds take what brings the closed waist to it; their plans share it. Within `give` the centre
    is lowered or raised along its line until the closed waist is an even bow. Raises ValueError where none is found.
    """
    intake = sum(plan.intake for plan in plans)
    scale, lift = 1.0, 0.0
    closed = swept(centre, upwards.left, side, arriving)
    for _ in range(60):
        places: list[float] = []
        points: list[Point] = []
        opened = Transform()  # from the closed waist to the open one, inside the fold at hand
        for plan in plans:
            places.append(_place(closed, plan, opened, scale))
            step, point = plan.opening(opened(closed.at(places[-1])), scale)
            points.append(point)
            opened = opened.then(step)
        back = opened.inverse()
        end, square = back(side), back(arriving) - back(ORIGIN)
        before = closed.end, closed.length, lift
        lift = min(max(_lift(centre, upwards, end, square), give[0]), give[1])
        closed = swept(centre + upwards * lift, upwards.left, end, square)
        off = closed.length - length if length is not None and plans else 0.0
        if (closed.end - before[0]).length + abs(off) + abs(closed.length - before[1]) + abs(lift - before[2]) < 1e-5:
            return _opened(closed, places, points, plans, scale)
        scale += off / intake if plans else 0.0
        if not 0.2 < scale < 2.5:
            break
    raise ValueError("no dart or pleat brings the waist to its length")


def _lift(centre: Point, upwards: Point, end: Point, arriving: Point) -> float:
    """Returns how far up its line the centre would lie for a waist that bends evenly: half its run to the corner."""
    run, rise = (end - centre).dot(upwards.left), (end - centre).dot(upwards)
    return rise - run * arriving.dot(upwards) / arriving.dot(upwards.left) / 2


def _place(closed: Path, plan: DartPlan | PleatPlan, opened: Transform, scale: float) -> float:
    across = plan.inner_at(scale)
    if across is None:
        return closed.length * (plan.part if isinstance(plan, DartPlan) else 0.5)
    x = opened.inverse()(Point(across, closed.start.y)).x
    (curve,) = closed.segments
    if not curve.d.x < x < curve.a.x:
        raise ValueError("a fold lies outside the waist")
    return curve.length_to(parameter_where(curve, lambda p: p.x - x))


def swept(start: Point, leaving: Point, end: Point, arriving: Point) -> Path:
    """Returns the waist from the centre to the side: a parabola where there is one."""
    try:
        corner = crossing(start, leaving.unit, end, arriving.unit)
    except ValueError:
        corner = start
    chord = (end - start).length
    before, after = (corner - start).dot(leaving.unit), (end - corner).dot(arriving.unit)
    if before > 0.08 * chord and after > 0.08 * chord:
        return Path.curve(start, start.between(corner, 2 / 3), end.between(corner, 2 / 3), end)
    return hook_curve(start, leaving, end, arriving, (0.4, 0.25))


def _opened(
    closed: Path,
    places: Sequence[float],
    points: Sequence[Point],
    plans: Sequence[DartPlan | PleatPlan],
    scale: float,
) -> WaistLine:
    stretches: list[Path] = []
    folds: list[Dart | Pleat] = []
    opened = Transform()
    for index, (first, last) in enumerate(itertools.pairwise([0.0, *places, closed.length])):
        if last - first < 5.0:
            raise ValueError("two folds of the waist touch")
        stretches.append(closed.part(first, last).moved(opened))
        if index < len(plans):
            plan = plans[index]
            step, _ = plan.opening(stretches[-1].end, scale)
            folds.append(
                _dart(stretches[-1], points[index], step)
                if isinstance(plan, DartPlan)
                else _pleat(closed.part(0.0, last).moved(opened), scale * plan.intake, plan.depth)
            )
            opened = opened.then(step)
    return WaistLine(closed, tuple(stretches), tuple(folds))


def _dart(stretch: Path, point: Point, swing: Transform) -> Dart:
    inner = stretch.end
    outer = swing(inner)
    leg, axis = (inner - point).unit, ((inner + outer) / 2 - point).unit
    inwards = -stretch.end_tangent
    folded = leg * (2 * inwards.dot(leg)) - inwards  # pressed to the centre, its mouth lies under the waist
    return Dart(inner, crossing(inner, folded, point, axis), outer, point)


def _pleat(waist: Path, intake: float, depth: float) -> Pleat:
    """Returns the pleat at the waist's end, laid towards the side: its cloth lies under the waist before it."""
    fold = waist.end
    found = waist.where_x(fold.x + intake / 2)
    if not found:
        raise ValueError("a pleat reaches past the centre")
    under = waist.part(found[-1], waist.length)
    over = Transform(xx=-1.0, dx=2 * fold.x)
    beyond = under.moved(Transform.shift(-intake, 0.0))
    return Pleat(fold, beyond.end, under.reversed().moved(over).then(beyond), depth)


__all__ = ["UPRIGHT", "DartPlan", "Pleat", "PleatPlan", "WaistLine", "swept", "true_waist"]
