"""The front's edge of a lapel, notched or peaked, from the hem to the neck: break point, lapel, notch and gorge.

All is drawn as the lapel lies unfolded, beyond the roll line; turned along it, it lies on the chest.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from settwright.commission.design import FrontEdge, FrontStyle, JacketDesign
from settwright.findings import refuse
from settwright.geometry import Path, Point, Transform, hook_curve
from settwright.pattern.drafts.buttons import Buttons, place_buttons
from settwright.pattern.drafts.frame import Frame
from settwright.pattern.drafts.record import Recorder
from settwright.pattern.drafts.roll import (
    CORNER,
    GORGE_FALL,
    ROUND,
    UP,
    Roll,
    break_point_at,
    edge_below,
    find_break_level,
    find_gorge_level,
    find_roll_top,
    neck_corner,
)

_BELLY = (math.radians(4.5), math.radians(6.5))  # of the lapel's edge against its chord, at break and at point
_NOTCH_ANGLE = math.radians(66)  # between a notched lapel's top and the collar's end
_LEAST_TO_NOTCH = 22.0  # from the roll line along the gorge, where a fold leaves a peak little width
_PEAK_GAP = math.radians(5)  # likewise of a peaked one: the collar's end lies along the lapel's top


@dataclass(frozen=True)
class Lapel:
    """The front's edge, in the front's frame."""

    roll: Roll
    lapel_point: Point
    notch: Point
    collar_point: Point  # where the under collar's end reaches
    corner_start: Point  # on the gorge, where it leaves its straight line
    front_edge: Path  # hem to break point
    edge: Path  # break point to lapel point
    top: Path  # lapel point to notch
    gorge: Path  # notch to neck point
    roll_line: Path  # break point to where it crosses the gorge
    buttons: Buttons

    @property
    def break_point(self) -> Point:
        """Where the roll begins, on the front edge."""
        return self.roll.break_point

    @property
    def heading(self) -> Point:
        """The direction in which the front's neck leaves its neck point."""
        return -self.gorge.end_tangent


def draw_lapel(r: Recorder, frame: Frame, design: JacketDesign) -> Lapel:
    """Returns the front's edge. Raises Refusal where the lapel asked for can't be drawn."""
    if design.front_style is FrontStyle.PEAKED:
        _check_peak(design)
    buttons = place_buttons(r, frame, design, design.reach)
    edge_x, neck = frame.centre_front + design.reach, frame.front_neck_point
    level = find_break_level(r, buttons.fastening[0], design)
    roll_top, gorge_level = find_roll_top(r, frame, design), find_gorge_level(r, frame)
    extended = design.front_edge is FrontEdge.EXTENDED

    def from_break(at: Point) -> _Shape:
        return _shape(design, Roll(at, roll_top), gorge_level)

    turn = 0.0
    shape = from_break(Point(edge_x, level))
    for _ in range(0 if extended else 12):
        chord = shape.lapel_point - shape.roll.break_point
        turn = max(0.0, math.atan2(chord.x, chord.y) + _BELLY[0])
        shape = from_break(break_point_at(edge_x, level, turn))
    break_point = shape.roll.break_point
    if level > shape.crossing.y - 60 or shape.to_notch < ROUND[0] - CORNER + 4 or shape.top.length < 20:
        raise refuse(
            "design.lapel_width",
            f"a lapel {design.lapel_width:.0f} mm wide can't be drawn between the top button and the neck.",
            "Choose a facing sewn on, or fewer buttons." if extended else "Choose a wider lapel or fewer buttons.",
        )
    r.found(
        "break point",
        "lapel",
        "on the front edge at the break level; the edge leaves the wrap below it, so that the lapel never turns hollow",
        break_point,
        using=("reach of the front",),
    )
    by_fold = ", as wide as a straight fold from hem to lapel point lets it be" if extended else ""
    r.found(
        "lapel width", "lapel", f"at right angles to the roll line{by_fold}", shape.roll.width_at(shape.lapel_point)
    )
    peaked = design.front_style is FrontStyle.PEAKED
    for name, point in (("lapel point", shape.lapel_point), ("notch", shape.notch), ("gorge corner", shape.corner)):
        r.found(
            name,
            "lapel",
            f"from the notch {math.degrees(design.peak_angle):.0f}° up over the gorge's line"
            if peaked and name == "lapel point"
            else "along the gorge, which falls by 14° against a square to the roll line",
            point,
        )
    gorge = shape.gorge(neck)
    return Lapel(
        roll=shape.roll,
        lapel_point=shape.lapel_point,
        notch=shape.notch,
        collar_point=shape.collar_point,
        corner_start=shape.corner + shape.roll.outwards * ROUND[0],
        front_edge=edge_below(Point(edge_x, frame.hem), break_point, turn, design.front_hem_radius),
        edge=lapel_edge(break_point, shape.lapel_point, turn),
        top=Path.line(shape.lapel_point, shape.notch),
        gorge=gorge,
        roll_line=Path.line(break_point, _meets(gorge, break_point, roll_top)),
        buttons=buttons,
    )


def _check_peak(design: JacketDesign) -> None:
    if not math.radians(15) <= design.peak_angle <= math.radians(80):
        raise refuse("design.peak_angle", "a peak rises by 15° to 80° over the gorge's line.", "Choose 40° to 55°.")
    if not 25 <= design.peak_length <= 110:
        raise refuse("design.peak_length", "a peak is 25 to 110 mm long from the notch.", "Choose 5 to 7 cm.")


@dataclass(frozen=True)
class _Shape:
    """The lapel's points along the gorge."""

    roll: Roll
    crossing: Point  # of gorge and roll line
    to_notch: float  # from there along the gorge
    top: Point  # from the notch to the lapel's point
    collar_end: Point  # from the notch to the collar's point

    @property
    def notch(self) -> Point:
        """Where the collar ends on the gorge."""
        return self.crossing + self.roll.outwards * self.to_notch

    @property
    def lapel_point(self) -> Point:
        """The lapel's tip."""
        return self.notch + self.top

    @property
    def collar_point(self) -> Point:
        """The collar's tip."""
        return self.notch + self.collar_end

    @property
    def corner(self) -> Point:
        """Where the gorge, behind the roll line, would turn up to the neck point."""
        return neck_corner(self.roll, self.crossing)

    def gorge(self, neck: Point) -> Path:
        """Returns the neck seam from the notch to the neck point: straight, a rounded corner, straight."""
        start = self.corner + self.roll.outwards * ROUND[0]
        end = self.corner.towards(neck, ROUND[1])
        return Path.line(self.notch, start).then(
            Path.curve(start, start.between(self.corner, 0.62), end.between(self.corner, 0.62), end),
            Path.line(end, neck),
        )


def _shape(design: JacketDesign, roll: Roll, gorge_level: float) -> _Shape:
    """Returns the lapel for a roll line: as wide as chosen, or ending over the straight fold of an extended facing."""
    across, outwards = roll.at_level(gorge_level), roll.outwards
    square = roll.along.right
    extended = design.front_edge is FrontEdge.EXTENDED
    if design.front_style is FrontStyle.PEAKED:
        up = outwards.rotated(design.peak_angle)
        if extended:  # the fold sets the width; on a narrow one the peak is shorter
            room = roll.break_point.x - across.x
            length = min(design.peak_length, (room - _LEAST_TO_NOTCH * outwards.x) / up.x)
            to_notch = (room - length * up.x) / outwards.x
        else:
            length = design.peak_length
            to_notch = (design.lapel_width - length * up.dot(square)) / outwards.dot(square)
        top = up * length
        end = outwards.rotated(design.peak_angle + _PEAK_GAP) * (0.62 * length)
        return _Shape(roll, across, to_notch, top, end)
    outer = (roll.break_point.x - across.x) / outwards.x if extended else design.lapel_width / outwards.dot(square)
    leg = min(0.43 * outer * math.cos(GORGE_FALL), 38.0)
    return _Shape(roll, across, outer - leg, outwards * leg, outwards.rotated(_NOTCH_ANGLE) * (0.96 * leg))


def lapel_edge(break_point: Point, lapel_point: Point, turn: float) -> Path:
    """Returns the lapel's edge: a gentle belly over its chord, straight where the chord is upright (a fold)."""
    chord = lapel_point - break_point
    lean = math.atan2(chord.x, chord.y)
    if turn == 0.0 and abs(lean) < 1e-9:
        return Path.line(break_point, lapel_point)
    return hook_curve(break_point, UP.rotated(-turn), lapel_point, UP.rotated(-(lean - _BELLY[1])), (0.36, 0.36))


def _meets(path: Path, a: Point, b: Point) -> Point:
    """Returns where a path crosses the line through two points."""
    upright = Transform.turn(math.pi / 2 - (b - a).angle, a)
    return path.at(path.moved(upright).where_x(a.x)[0])
