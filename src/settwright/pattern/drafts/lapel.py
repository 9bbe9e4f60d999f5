"""The front's edge from the hem to the neck: break point, roll line, lapel, notch and gorge.

All is drawn as the lapel lies unfolded, beyond the roll line; turned along it, it lies on the chest.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from settwright.findings import refuse
from settwright.geometry import Path, Point, Transform, crossing, hook_curve
from settwright.pattern.design import FrontEdge, JacketDesign
from settwright.pattern.drafts.frame import Frame
from settwright.pattern.drafts.record import Recorder

UP, RIGHT = Point(0.0, 1.0), Point(1.0, 0.0)

_BLEND = 60.0  # below the break point, over which the edge turns from the grain into the lapel
_BELLY = (math.radians(4.5), math.radians(6.5))  # of the lapel's edge against its chord, at break and at point
_GORGE_FALL = math.radians(14)  # of the gorge against a square to the roll line, so that it falls outwards when worn
_CORNER = 12.0  # the gorge goes on behind the roll line by this before it turns up to the neck point
_ROUND = (21.0, 30.0)  # where the rounding of that corner begins on the gorge, and ends towards the neck point
_TOP_BUTTON = {2: 0.15, 3: 1.0, 4: 1.4}  # over the waist, in spacings, by the number of buttons
_QUARTER = 0.5523 / math.sqrt(2)  # a hook curve with these handles is a quarter circle to 0.03 %


@dataclass(frozen=True)
class Lapel:
    """The front's edge, in the front's frame."""

    break_point: Point
    lapel_point: Point
    notch: Point
    corner_start: Point  # on the gorge, where it leaves its straight line
    front_edge: Path  # hem to break point
    edge: Path  # break point to lapel point
    top: Path  # lapel point to notch
    gorge: Path  # notch to neck point
    roll_line: Path  # break point to where it crosses the gorge
    roll_top: Point  # on the shoulder line produced, where the roll line is aimed
    outwards: Point  # direction of the gorge, from the neck towards the notch
    buttons: tuple[Point, ...]

    @property
    def roll(self) -> Point:
        """Direction of the roll line, upwards."""
        return (self.roll_top - self.break_point).unit

    def turned(self, point: Point) -> Point:
        """Returns where a point of the unfolded lapel or collar lies when turned along the roll line."""
        away = point - self.break_point
        square = self.roll.right
        return point - square * (2 * away.dot(square))


def draw_lapel(r: Recorder, frame: Frame, design: JacketDesign) -> Lapel:
    """Returns the front's edge. Raises Refusal where the lapel asked for can't be drawn."""
    buttons = _place_buttons(r, frame, design)
    edge_x = frame.centre_front + design.wrap
    level = buttons[0].y + design.button_diameter / 2
    r.found("break level", "lapel", "half a button above the top button", level)
    neck = frame.front_neck_point
    beyond = (neck - frame.front_shoulder_point).unit
    roll_top = neck + beyond * (0.7 * design.collar_stand)
    r.found(
        "top of the roll line",
        "lapel",
        "on the shoulder line produced beyond the neck point by 0.7 × stand",
        roll_top,
        using=("stand",),
    )
    gorge_depth = r.number("gorge depth", "lapel", "front neck width + 5 mm", "Bunka's front neck depth, from memory")
    extended = design.front_edge is FrontEdge.EXTENDED
    aim = _Aim(frame, design, roll_top, neck.y - gorge_depth)
    break_point, turn = Point(edge_x, level), 0.0
    shape = aim.from_break(break_point)
    for _ in range(0 if extended else 12):
        chord = shape.lapel_point - break_point
        turn = max(0.0, math.atan2(chord.x, chord.y) + _BELLY[0])
        break_point = Point(edge_x + _BLEND * math.tan(turn / 2), level)
        shape = aim.from_break(break_point)
    if level > shape.crossing.y - 60 or shape.outer - shape.top_length < _ROUND[0] - _CORNER + 4:
        raise refuse(
            "design.lapel_width",
            f"a lapel {design.lapel_width:.0f} mm wide can't be drawn between the top button and the neck.",
            "Choose a wider lapel or fewer buttons.",
        )
    r.found(
        "break point",
        "lapel",
        "on the front edge at the break level; the edge leaves the wrap below it, so that the lapel never turns hollow",
        break_point,
        using=("wrap",),
    )
    by_fold = ", as wide as a straight fold from hem to lapel point lets it be" if extended else ""
    r.found("lapel width", "lapel", f"at right angles to the roll line{by_fold}", shape.width)
    for name, point in (("lapel point", shape.lapel_point), ("notch", shape.notch), ("gorge corner", shape.corner)):
        r.found(name, "lapel", "along the gorge, which falls by 14° against a square to the roll line", point)
    return Lapel(
        break_point=break_point,
        lapel_point=shape.lapel_point,
        notch=shape.notch,
        corner_start=shape.corner + shape.outwards * _ROUND[0],
        front_edge=edge_below(Point(edge_x, frame.hem), break_point, turn, design.front_hem_radius),
        edge=lapel_edge(break_point, shape.lapel_point, turn),
        top=Path.line(shape.lapel_point, shape.notch),
        gorge=shape.gorge(neck),
        roll_line=Path.line(break_point, _meets(shape.gorge(neck), break_point, roll_top)),
        roll_top=roll_top,
        outwards=shape.outwards,
        buttons=buttons,
    )


@dataclass(frozen=True)
class _Aim:
    """What the lapel's shape hangs on besides the break point."""

    frame: Frame
    design: JacketDesign
    roll_top: Point
    gorge_level: float  # where the gorge crosses the roll line

    def from_break(self, break_point: Point) -> _Shape:
        """Returns the lapel for a break point."""
        roll = (self.roll_top - break_point).unit
        across = crossing(break_point, roll, Point(0.0, self.gorge_level), RIGHT)
        outwards = roll.right.rotated(-_GORGE_FALL)
        if self.design.front_edge is FrontEdge.EXTENDED:
            outer = (break_point.x - across.x) / outwards.x
        else:
            outer = self.design.lapel_width / math.cos(_GORGE_FALL)
        return _Shape(across, outwards, outer)


@dataclass(frozen=True)
class _Shape:
    """The lapel's points along the gorge."""

    crossing: Point  # of gorge and roll line
    outwards: Point
    outer: float  # from the crossing to the lapel point

    @property
    def width(self) -> float:
        """Of the lapel, at right angles to the roll line."""
        return self.outer * math.cos(_GORGE_FALL)

    @property
    def top_length(self) -> float:
        """From lapel point to notch."""
        return min(0.43 * self.width, 38.0)

    @property
    def lapel_point(self) -> Point:
        """The lapel's tip."""
        return self.crossing + self.outwards * self.outer

    @property
    def notch(self) -> Point:
        """Where the collar ends on the gorge."""
        return self.crossing + self.outwards * (self.outer - self.top_length)

    @property
    def corner(self) -> Point:
        """Where the gorge, behind the roll line, would turn up to the neck point."""
        return self.crossing - self.outwards * _CORNER

    def gorge(self, neck: Point) -> Path:
        """Returns the neck seam from the notch to the neck point: straight, a rounded corner, straight."""
        start = self.corner + self.outwards * _ROUND[0]
        end = self.corner.towards(neck, _ROUND[1])
        return Path.line(self.notch, start).then(
            Path.curve(start, start.between(self.corner, 0.62), end.between(self.corner, 0.62), end),
            Path.line(end, neck),
        )


def neck_heading(lapel: Lapel) -> Point:
    """Returns the direction in which the front's neck leaves its neck point."""
    return -lapel.gorge.end_tangent


def lapel_edge(break_point: Point, lapel_point: Point, turn: float) -> Path:
    """Returns the lapel's edge: a gentle belly over its chord, straight where the chord is upright (a fold)."""
    chord = lapel_point - break_point
    lean = math.atan2(chord.x, chord.y)
    if turn == 0.0 and abs(lean) < 1e-9:
        return Path.line(break_point, lapel_point)
    return hook_curve(break_point, UP.rotated(-turn), lapel_point, UP.rotated(-(lean - _BELLY[1])), (0.36, 0.36))


def edge_below(corner: Point, break_point: Point, turn: float, radius: float) -> Path:
    """Returns the front edge from the hem to the break point, upright and then turned into the lapel."""
    blend = Point(corner.x, break_point.y - _BLEND)
    parts: list[Path] = []
    start = corner
    if radius > 0:
        round_start, start = corner - RIGHT * radius, corner + UP * radius
        parts.append(hook_curve(round_start, RIGHT, start, UP, (_QUARTER, _QUARTER)))
    if turn > 0:
        parts.append(Path.line(start, blend))
        parts.append(hook_curve(blend, UP, break_point, UP.rotated(-turn)))
    else:
        parts.append(Path.line(start, break_point))
    return parts[0].then(*parts[1:])


def _place_buttons(r: Recorder, frame: Frame, design: JacketDesign) -> tuple[Point, ...]:
    """Returns the buttons, top one first: evenly spaced, of three the middle one at the waist.

    Raises Refusal for a number of buttons that finds no room.
    """
    r.number("button spacing by the body", "buttons", "88 mm × back waist length / 415 mm")
    r.number("lowest button", "buttons", "most of (101.6 mm − length below the waist; −button spacing by the body)",
             "4 in over the hem: a published sewing lesson of 1999")  # fmt: skip
    count = design.buttons
    if count < 1:
        raise refuse("design.buttons", "a single-breasted front closes with at least one button.", "Choose 1 to 5.")
    if count == 1:
        levels = [max(0.0, r["lowest button"])]
    else:
        highest = r.number(
            "top button by the body", "buttons", f"button spacing by the body × {_TOP_BUTTON.get(count, 1.7):g}"
        )
        top = min(highest, frame.bust - 45.0)
        spacing = (top - r["lowest button"]) / (count - 1)
        levels = [top - spacing * number for number in range(count)]
        if spacing < 1.5 * design.button_diameter:
            raise refuse("design.buttons", f"{count} buttons stand too close on this front.", "Choose fewer.")
    for number, level in enumerate(levels, 1):
        r.found(f"button {number}", "buttons", "on the centre front, evenly spaced", Point(frame.centre_front, level))
    return tuple(Point(frame.centre_front, level) for level in levels)


def _meets(path: Path, a: Point, b: Point) -> Point:
    """Returns where a path crosses the line through two points."""
    upright = Transform.turn(math.pi / 2 - (b - a).angle, a)
    return path.at(path.moved(upright).where_x(a.x)[0])
