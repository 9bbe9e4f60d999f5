"""The roll line, on which a lapel or shawl turns back, and the line of the neck behind it.

It runs from the break point to a point on the shoulder line produced beyond the neck point, so that the collar stands
up from the neck by its stand.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from settwright.commission.design import JacketDesign
from settwright.geometry import Path, Point, crossing, hook_curve
from settwright.pattern.drafts.frame import Frame
from settwright.pattern.drafts.record import Recorder

UP, RIGHT = Point(0.0, 1.0), Point(1.0, 0.0)

GORGE_FALL = math.radians(14)  # of the gorge against a square to the roll line, so that it falls outwards when worn
CORNER = 12.0  # the gorge goes on behind the roll line by this before it turns up to the neck point
ROUND = (21.0, 30.0)  # where the rounding of that corner begins on the gorge, and ends towards the neck point
_BLEND = 60.0  # below the break point, over which the edge turns from the grain into the lapel
_QUARTER = 0.5523 / math.sqrt(2)  # a hook curve with these handles is a quarter circle to 0.03 %


@dataclass(frozen=True)
class Roll:
    """The roll line as it is aimed: from the break point to its top on the shoulder line produced."""

    break_point: Point
    top: Point

    @property
    def along(self) -> Point:
        """Its direction, upwards."""
        return (self.top - self.break_point).unit

    @property
    def outwards(self) -> Point:
        """The direction of the gorge, from the neck towards the notch."""
        return self.along.right.rotated(-GORGE_FALL)

    def at_level(self, level: float) -> Point:
        """Returns where the roll line crosses a level."""
        return crossing(self.break_point, self.along, Point(0.0, level), RIGHT)

    def width_at(self, point: Point) -> float:
        """Returns how far a point lies beyond the roll line, at right angles to it."""
        return (point - self.break_point).dot(self.along.right)

    def turned(self, point: Point) -> Point:
        """Returns where a point of the unfolded lapel or collar lies when turned along the roll line."""
        return point - self.along.right * (2 * self.width_at(point))


def find_break_level(r: Recorder, top_button: Point, design: JacketDesign) -> float:
    """Returns the level of the break point."""
    level = top_button.y + design.button_diameter / 2
    r.found("break level", "lapel", "half a button above the top button", level)
    return level


def find_roll_top(r: Recorder, frame: Frame, design: JacketDesign) -> Point:
    """Returns the point at which the roll line is aimed."""
    neck = frame.front_neck_point
    top = neck + (neck - frame.front_shoulder_point).unit * (0.7 * design.collar_stand)
    r.found(
        "top of the roll line",
        "lapel",
        "on the shoulder line produced beyond the neck point by 0.7 × stand",
        top,
        using=("stand",),
    )
    return top


def find_gorge_level(r: Recorder, frame: Frame) -> float:
    """Returns the level at which the gorge crosses the roll line."""
    depth = r.number("gorge depth", "lapel", "front neck width + 5 mm", "Bunka's front neck depth, from memory")
    return frame.front_neck_point.y - depth


def break_point_at(edge_x: float, level: float, turn: float) -> Point:
    """Returns the break point of an edge that has turned outwards by an angle since it left the wrap's upright."""
    return Point(edge_x + _BLEND * math.tan(turn / 2), level)


def edge_below(corner: Point, break_point: Point, turn: float, radius: float) -> Path:
    """Returns the front edge from the hem to the break point, upright and then turned into the lapel."""
    blend = Point(corner.x, break_point.y - _BLEND)
    parts, start = hem_round(corner, radius)
    if turn > 0:
        parts.append(Path.line(start, blend))
        parts.append(hook_curve(blend, UP, break_point, UP.rotated(-turn)))
    else:
        parts.append(Path.line(start, break_point))
    return parts[0].then(*parts[1:])


def hem_round(corner: Point, radius: float) -> tuple[list[Path], Point]:
    """Returns the rounding of the front's lower corner, none for radius 0, and where the upright edge begins."""
    if radius <= 0:
        return [], corner
    start, end = corner - RIGHT * radius, corner + UP * radius
    return [hook_curve(start, RIGHT, end, UP, (_QUARTER, _QUARTER))], end


def neck_corner(roll: Roll, on_roll: Point) -> Point:
    """Returns where the line of the gorge, behind the roll line, turns up to the neck point."""
    return on_roll - roll.outwards * CORNER
