"""What every collar that turns down is drawn with: the line on which it lies, its arc on the back neck, its swing.

How far the back of a collar swings is not a constant: it is solved so that the outer edge comes out as long as the
line on which it lies when turned down.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from typing import TypeVar

from settwright.findings import refuse
from settwright.geometry import Path, Point, crossing, fair_curve, hook_curve
from settwright.pattern.drafts.bending import bend_by
from settwright.pattern.drafts.frame import Frame
from settwright.pattern.drafts.record import Recorder

COLLAR_THIRD = 40.0
"""How far from the centre back bars of collar and back are held against one another: a third of the way round."""

Shape = TypeVar("Shape")

_WIDEST_SWING = 1.9  # radians; no collar swings as far
_ROUND_THE_NECK = (0.55, 0.2)  # handles of a line round the back neck
_STATIONS = (0.0, 0.2, 0.4, 0.55, 0.7, 0.8, 0.9, 1.0)


@dataclass(frozen=True)
class TurnOfCloth:
    """What the outer layer needs over the inner one."""

    fold: float  # round the fold: π × the distance between the two layers' middles
    edge: float  # so that the seam rolls out of sight

    @classmethod
    def of(cls, thickness: float) -> TurnOfCloth:
        """Returns it for a cloth's thickness; the edge's share is common practice, no source."""
        return cls(math.pi * thickness, 0.5 + 0.7 * thickness)

    def keep(self, r: Recorder) -> None:
        """Keeps both figures in the record."""
        rule = "π × the distance between the middles of the two layers"
        r.found("turn of cloth at the collar's fold", "collar", rule, self.fold, source="geometry of a fold")
        rule = "0.5 mm + 0.7 × thickness, to roll the seam out of sight"
        r.found("turn of cloth at the edges", "collar", rule, self.edge)


@dataclass(frozen=True)
class WornEdge:
    """Where a collar's outer edge lies when it is turned down."""

    on_back: Path  # centre back to shoulder
    on_front: Path  # shoulder to where the collar leaves the front, seen with the lapel turned

    @property
    def length(self) -> float:
        """Along both."""
        return self.on_back.length + self.on_front.length


@dataclass(frozen=True)
class Lie:
    """Where a collar lies round the neck, and how it goes on over the shoulder to the front."""

    points: tuple[Point, ...]  # on the back, from the centre back to the shoulder
    coming: Point  # direction of the back neck at the neck point, from the nape
    on_front: Point  # on the front's shoulder
    leaving: Point  # direction in which the front's neck leaves the neck point
    bend: float  # by how much the line may turn there towards its end on the front

    def to(self, end: Point, going: Point | None = None) -> WornEdge:
        """Returns the line on which the outer edge lies, on to `end` on the front, where it goes on `going`.

        It crosses the shoulder smoothly.
        """
        straight = (end - self.on_front).unit
        turn = 0.4 * math.atan2(self.leaving.cross(straight), self.leaving.dot(straight))
        turn = max(-self.bend, min(self.bend, turn))
        level, over = Point(1.0, 0.0), self.coming.rotated(turn)
        start, shoulder = self.points[0], self.points[-1]
        on_back = hook_curve(start, level, shoulder, over, _ROUND_THE_NECK)
        if len(self.points) > 2:
            on_back = fair_curve(self.points, level, over)
        return WornEdge(
            on_back,
            fair_curve([self.on_front, end], self.leaving.rotated(turn), going),
        )


def parallel_lie(frame: Frame, back_neck: Path, neck_heading: Point, below: float) -> Lie:
    """Returns where a collar lies whose outer edge runs parallel to the back neck, `below` it, over to the shoulder.

    `back_neck` runs from the neck point to the nape, `neck_heading` is the direction in which the front's neck leaves
    its neck point.
    """
    neck = back_neck.reversed()
    shoulder = (frame.back_shoulder_point - frame.back_neck_point).unit
    points = [neck.at(part * neck.length) + neck.tangent(part * neck.length).right * below for part in _STATIONS]
    on_shoulder = crossing(points[-1], neck.end_tangent, frame.back_neck_point, shoulder)
    reach = (on_shoulder - frame.back_neck_point).length
    if (on_shoulder - points[-1]).dot(neck.end_tangent) > 0.3 * (points[-1] - points[-2]).length:
        points.append(on_shoulder)
    else:
        points[-1] = on_shoulder
    return Lie(tuple(points), neck.end_tangent, _on_front_shoulder(frame, reach), neck_heading, 0.2)


def falling_lie(frame: Frame, back_neck: Path, neck_heading: Point, below: float, at_shoulder: float) -> Lie:
    """Returns where a collar lies whose outer edge falls lower towards the shoulder: one fair line round the neck."""
    shoulder = (frame.back_shoulder_point - frame.back_neck_point).unit
    points = (back_neck.end - Point(0.0, below), frame.back_neck_point + shoulder * at_shoulder)
    return Lie(points, -back_neck.start_tangent, _on_front_shoulder(frame, at_shoulder), neck_heading, 0.5)


def _on_front_shoulder(frame: Frame, reach: float) -> Point:
    return frame.front_neck_point.towards(frame.front_shoulder_point, reach)


@dataclass(frozen=True)
class CollarBack:
    """The back part of a collar of one swing: an arc as long as the back neck, and the centre back square to it."""

    arc: Path  # from the neck point to the nape
    heading: Point  # of the arc at the nape
    centre: Point  # where outer edge and centre back meet

    @property
    def nape(self) -> Point:
        """Where neck seam and centre back meet."""
        return self.arc.end


def collar_back(neck_point: Point, along: Point, back_neck: float, turn: float, width: float) -> CollarBack:
    """Returns the back of a collar that goes on from the neck point along the front's neck, swinging back evenly."""
    angle = along.angle
    arc = bend_by(neck_point, lambda u: angle + turn * u, back_neck, 2)
    heading = along.rotated(turn)
    return CollarBack(arc, heading, arc.end + heading.right * width)


def solved_swing(r: Recorder, draw: Callable[[float], Shape], miss: Callable[[Shape], float]) -> tuple[float, Shape]:
    """Returns the swing at which the outer edge is as long as it must be, by false position, and the collar drawn so.

    `miss` is the outer edge's length over the one wanted. Raises Refusal where no swing gives it.
    """
    low, high, last = -_WIDEST_SWING / 4, _WIDEST_SWING, 0
    angle, shape = low, draw(low)
    short, long = miss(shape), miss(draw(high))
    if short >= 0 or long <= 0:
        raise refuse("design.collar_fall", "no collar of this fall lies flat on this neck.", "Choose a smaller fall.")
    for _ in range(60):
        angle = high - long * (high - low) / (long - short)
        shape = draw(angle)
        over = miss(shape)
        if abs(over) < 1e-6:
            break
        if over < 0:
            low, short, long, last = angle, over, long / 2 if last < 0 else long, -1
        else:
            high, long, short, last = angle, over, short / 2 if last > 0 else short, 1
    r.found(
        "collar's swing angle",
        "collar",
        "the back of the collar swings back until its outer edge is as long as the line where it lies",
        angle,
        using=("stand", "fall"),
    )
    return angle, shape


def check_fall(stand: float, fall: float) -> None:
    """Raises Refusal where stand and fall allow no collar."""
    if not 4 <= fall - stand <= 40 or stand < 10:
        raise refuse(
            "design.collar_fall",
            f"a fall of {fall:.0f} mm over a stand of {stand:.0f} mm won't cover the neck seam and lie flat.",
            "Choose a fall 8 to 12 mm deeper than the stand.",
        )


def third_of(length: float) -> float:
    """Returns where the stop `collar-third` lies, from the centre back of an edge that reaches the shoulder so far."""
    return min(COLLAR_THIRD, 0.6 * length)
