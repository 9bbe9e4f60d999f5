"""The shawl: a collar cut in one with the front, its edge one fair line from the break point to the centre back.

Behind the neck point it is drawn like any collar that turns down: an arc as long as the back neck, swung back until
the outer edge fits the line on which it lies. What makes it a shawl is the edge, which knows no notch: widest where it
runs parallel to the roll line, square to the centre back at its end, so that the halves meet without a corner.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from settwright.commission.design import JacketDesign
from settwright.findings import refuse
from settwright.geometry import Path, Point, Transform, fair_curve, hook_curve
from settwright.pattern.drafts.back_neck import draw_back_neck
from settwright.pattern.drafts.bending import root
from settwright.pattern.drafts.buttons import Buttons, place_buttons
from settwright.pattern.drafts.collar_lines import (
    CollarBack,
    TurnOfCloth,
    WornEdge,
    check_fall,
    collar_back,
    falling_lie,
    solved_swing,
)
from settwright.pattern.drafts.frame import Frame
from settwright.pattern.drafts.record import Recorder
from settwright.pattern.drafts.roll import (
    UP,
    Roll,
    break_point_at,
    edge_below,
    find_break_level,
    find_gorge_level,
    find_roll_top,
    neck_corner,
)

_BELLY = math.radians(9)  # of the edge against its chord to the widest place, at the break point
_LESS_STAND = 0.3  # at the shoulder the collar stands up by this part of the stand less, and falls by as much more
_WIDEST = 0.7  # of the way from break point to neck, where the edge is about widest


@dataclass(frozen=True)
class Shawl:
    """The front's edge with its collar, in the front's frame."""

    roll: Roll
    crossing: Point  # of the roll line and the level of a gorge
    turn: float  # of the edge at the break point, outwards from upright
    swing: float
    width: float
    depth: float  # at the centre back
    back_neck: float
    neck_point: Point
    front_edge: Path  # hem to break point
    edge: Path  # break point to centre back
    back: CollarBack
    worn: WornEdge
    roll_line: Path  # break point to centre back
    buttons: Buttons

    @property
    def heading(self) -> Point:
        """The direction in which the front's neck leaves its neck point."""
        return (neck_corner(self.roll, self.crossing) - self.neck_point).unit

    def outer_layer(self, turn: TurnOfCloth) -> tuple[Path, CollarBack]:
        """Returns edge and back of the facing's collar, larger by the turn of cloth, by nothing at the break point."""
        more = turn.fold + turn.edge
        back = collar_back(self.neck_point, -self.heading, self.back_neck, self.swing, self.depth + more)
        return _edge(self.roll, self.turn, self.width + more, back), back


def draw_shawl(r: Recorder, frame: Frame, design: JacketDesign) -> Shawl:
    """Returns the front's edge and collar. Raises Refusal where the shawl asked for can't be drawn."""
    stand, fall = design.collar_stand, design.collar_fall
    check_fall(stand, fall)
    buttons = place_buttons(r, frame, design, design.reach)
    edge_x, neck_point = frame.centre_front + design.reach, frame.front_neck_point
    level = find_break_level(r, buttons.fastening[0], design)
    top, gorge_level = find_roll_top(r, frame, design), find_gorge_level(r, frame)
    width = design.lapel_width
    if level > gorge_level - 60:
        raise refuse("design.buttons", "the top button leaves no length for a shawl to roll.", "Choose fewer buttons.")
    turn = 0.0
    roll = Roll(Point(edge_x, level), top)
    for _ in range(12):
        reach = _WIDEST * (roll.at_level(gorge_level) - roll.break_point).length
        chord = roll.along * reach + roll.along.right * width
        turn = max(0.0, math.atan2(chord.x, chord.y) + _BELLY)
        roll = Roll(break_point_at(edge_x, level, turn), top)
    across = roll.at_level(gorge_level)
    heading = (neck_corner(roll, across) - neck_point).unit
    back_neck = draw_back_neck(frame, heading)
    along = (across - roll.break_point).length
    lie = falling_lie(frame, back_neck, heading, fall - stand, fall - stand + 2 * _LESS_STAND * stand)
    upright = Transform.turn(math.pi / 2 - roll.along.angle, roll.break_point)

    def drawn(swing: float) -> tuple[Path, CollarBack, WornEdge, float]:
        back = collar_back(neck_point, -heading, back_neck.length, swing, stand + fall)
        edge = _edge(roll, turn, width, back)
        leaves = edge.moved(upright).where_y(roll.break_point.y + along)[0]
        going = roll.turned(roll.break_point - edge.tangent(leaves)) - roll.break_point
        worn = lie.to(roll.turned(edge.at(leaves)), going)
        return edge, back, worn, edge.length - leaves - worn.length

    swing, (edge, back, worn, _) = solved_swing(r, drawn, lambda each: each[3])
    r.found(
        "break point", "shawl", "on the front edge at the break level", roll.break_point, using=("reach of the front",)
    )
    r.found("shawl's width", "shawl", "at right angles to the roll line where it is widest", width)
    r.found(
        "shawl's outer edge over the back",
        "shawl",
        "from the gorge's level on as long as the line where it lies on front, shoulder and back, fall − stand below"
        " the neck",
        worn.length,
        using=("stand", "fall"),
    )
    r.drawn("shawl's edge", "shawl", "one fair line from the break point to the centre back, square to it", edge)
    fold = back.nape + back.heading.right * stand
    return Shawl(
        roll=roll,
        crossing=across,
        turn=turn,
        swing=swing,
        width=width,
        depth=stand + fall,
        back_neck=back_neck.length,
        neck_point=neck_point,
        front_edge=edge_below(Point(edge_x, frame.hem), roll.break_point, turn, design.front_hem_radius),
        edge=edge,
        back=back,
        worn=worn,
        roll_line=Path.line(roll.break_point, top).then(hook_curve(top, roll.along, fold, back.heading, (0.34, 0.36))),
        buttons=buttons,
    )


def _edge(roll: Roll, turn: float, width: float, back: CollarBack) -> Path:
    """Returns the outer edge, from the break point to the centre back, of a width at right angles to the roll line."""
    start, square = roll.break_point, roll.along.right
    whole = (roll.top - start).length

    def through(part: float) -> Path:
        widest = start + roll.along * (part * whole) + square * width
        return fair_curve([start, widest, back.centre], UP.rotated(-turn), back.heading)

    def strays(part: float) -> float:
        return roll.along.cross(through(part).segments[0].tangent(1.0))

    return through(root(strays, 0.2, 1.1, 1e-7))
