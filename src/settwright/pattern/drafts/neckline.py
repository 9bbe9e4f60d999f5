"""Fronts without a lapel: V neck, round neck and crossed-over front, from the hem to the neck point.

Without a collar the neck is set out from the body's, so that it lies clear of it; front and back by the same, so that
shoulders and neck still join.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from settwright.commission.design import Closing, CollarStyle, FrontEdge, FrontStyle, JacketDesign
from settwright.findings import refuse
from settwright.geometry import Path, Point, Transform, hook_curve
from settwright.pattern.drafts.bending import bend_by, reach, root
from settwright.pattern.drafts.buttons import Buttons, closes_to_the_neck, place_buttons
from settwright.pattern.drafts.frame import Frame
from settwright.pattern.drafts.record import Recorder
from settwright.pattern.drafts.roll import UP, find_break_level, hem_round

_LEFT = Point(-1.0, 0.0)
_SOFT = 45.0  # to each side of the break point, over which the edge turns from upright to slanting
_STAND_OPENING, _STAND_DROP = 3.0, 8.0  # of the neck that a stand collar is sewn to
_NAPE = 0.4  # the nape comes down by this part of what the neck is set out
_AT_EDGE = 0.66  # a round neck's wrap reaches at most over this part of the neck's half width
_LEAN = 0.4  # a round neck leans at the neck point by this part of what would be square to the shoulder
_ARCS = 6


@dataclass(frozen=True)
class NeckEdges:
    """The edges of a front without lapel."""

    front_edge: Path  # hem to break point
    edge: Path  # break point to neck point
    at_centre: float  # where the centre front meets `edge`; 0: at its start


@dataclass(frozen=True)
class Neckline:
    """The front's edges, in the front's frame, and what they were drawn with."""

    frame: Frame
    design: JacketDesign
    level: float  # of the break point's corner; of a round neck at the centre front
    width: float  # from the centre front to the front edge
    edges: NeckEdges
    buttons: Buttons

    @property
    def slants(self) -> bool:
        """Whether it rises slanting from the break point, as a V neck or a crossed-over front does."""
        return not closes_to_the_neck(self.design)

    @property
    def heading(self) -> Point:
        """The direction in which the front's neck leaves its neck point."""
        return -self.edges.edge.end_tangent

    def smaller(self, inset: float) -> NeckEdges:
        """Returns the edges of the facing: smaller at front edge and neck, by nothing at the neck point.

        A facing folded over up to the neck has the front's own.
        """
        if self.design.front_edge is FrontEdge.TO_NECK:
            return self.edges
        if closes_to_the_neck(self.design):
            sewn_on = self.design.collar_style is CollarStyle.STAND
            lowered = self.level if sewn_on else self.level - inset
            return _round_edges(self.frame, self.design, lowered, self.width - inset)
        return _slanting_edges(self.frame, self.design, self.level, self.width - inset)


def opened_at_the_neck(r: Recorder, frame: Frame, design: JacketDesign) -> Frame:
    """Returns the frame with its neck set out where the design has no collar that turns down."""
    if not closes_to_the_neck(design) and design.front_style not in (FrontStyle.V_NECK, FrontStyle.CROSSED):
        return frame
    opening = _STAND_OPENING if design.collar_style is CollarStyle.STAND else design.neck_opening
    if not 0 <= opening <= 60:
        raise refuse("design.neck_opening", "the neck can be set out by 0 to 60 mm.", "Choose 5 to 20 mm.")
    r.found("neck's opening", "neckline", "along the shoulders, front and back alike", opening)
    front = frame.front_neck_point.towards(frame.front_shoulder_point, opening)
    back = frame.back_neck_point.towards(frame.back_shoulder_point, opening)
    nape = frame.nape - Point(0.0, _NAPE * opening)
    r.found("front neck point, set out", "neckline", "by the neck's opening along the shoulder", front)
    r.found("back neck point, set out", "neckline", "by the neck's opening along the shoulder", back)
    r.found("nape, lowered", "neckline", "by 0.4 × the neck's opening", nape)
    return replace(frame, front_neck_point=front, back_neck_point=back, nape=nape)


def draw_neckline(r: Recorder, frame: Frame, design: JacketDesign) -> Neckline:
    """Returns the front's edges, on a frame opened at the neck.

    Raises Refusal where the neck asked for can't be drawn.
    """
    return _round_neck(r, frame, design) if closes_to_the_neck(design) else _slanting_neck(r, frame, design)


def _slanting_neck(r: Recorder, frame: Frame, design: JacketDesign) -> Neckline:
    """A V neck or a crossed-over front: upright to the break, then slanting up to the neck point."""
    if design.front_style is FrontStyle.CROSSED and not 60 <= design.crossed_wrap <= 180:
        raise refuse(
            "design.crossed_wrap",
            "a crossed-over front reaches 60 to 180 mm past the centre front.",
            "Choose about 12 cm.",
        )
    buttons = place_buttons(r, frame, design, design.reach)
    folded = design.front_edge is FrontEdge.TO_NECK
    level = buttons.fastening[0].y if folded else find_break_level(r, buttons.fastening[0], design)
    if frame.front_neck_point.y - level < 90 or level - _SOFT < frame.hem + design.front_hem_radius:
        raise refuse(
            "design.buttons", "the top button stands too high or too low for this neck.", "Choose another number."
        )
    edges = _slanting_edges(frame, design, level, design.reach)
    r.found(
        "break point",
        "neckline",
        "on the front edge level with the top button, so that the facing's fold lies behind its hole"
        if folded
        else "on the front edge at the break level, where the edge, softly turned, leaves the upright",
        edges.edge.start,
    )
    hollow = "straight, a fold" if folded else f"{design.neck_edge_hollow:.0f} mm hollow against a straight line"
    r.drawn("neckline", "neckline", f"from the break point to the neck point, {hollow}", edges.edge)
    return Neckline(frame, design, level, design.reach, edges, buttons)


def _slanting_edges(frame: Frame, design: JacketDesign, level: float, width: float) -> NeckEdges:
    edge_x, neck = frame.centre_front + width, frame.front_neck_point
    corner = Point(edge_x, level)
    parts, start = hem_round(Point(edge_x, frame.hem), design.front_hem_radius)
    if design.front_edge is FrontEdge.TO_NECK:
        edge = Path.line(corner, neck)
        return _neck_edges(frame, [*parts, Path.line(start, corner)], edge, width)
    along = (neck - corner).unit
    soft = min(_SOFT, 0.3 * (neck - corner).length)
    lowest, leaving = corner - UP * soft, corner + along * soft
    turned = hook_curve(lowest, UP, leaving, along, _arc_pulls(UP, along))
    half = turned.length / 2
    steepest = 4 / 27 * (neck - leaving).length  # how hollow a cubic is whose end is turned by a right angle
    hollow = math.asin(max(-0.5, min(0.5, design.neck_edge_hollow / steepest)))
    slant = hook_curve(leaving, along, neck, along.rotated(-hollow)) if hollow else Path.line(leaving, neck)
    edge = turned.part(half, turned.length).then(slant)
    return _neck_edges(frame, [*parts, Path.line(start, lowest), turned.part(0.0, half)], edge, width)


def _neck_edges(frame: Frame, below: Sequence[Path], edge: Path, width: float) -> NeckEdges:
    at_centre = edge.where_x(frame.centre_front) if width > 0 else ()
    return NeckEdges(below[0].then(*below[1:]), edge, at_centre[0] if at_centre else 0.0)


def _arc_pulls(start: Point, end: Point) -> tuple[float, float]:
    """Returns the handles of a hook curve that is a circular arc, where both tangents are equally long."""
    turn = abs(math.atan2(start.cross(end), start.dot(end)))
    pull = 4 / 3 * math.tan(turn / 4) / (2 * math.sin(turn / 2)) if turn > 1e-6 else 1 / 3
    return pull, pull


def _round_neck(r: Recorder, frame: Frame, design: JacketDesign) -> Neckline:
    """A round neck: level at the centre front, square to the shoulder, and mirrored over the wrap beyond the centre."""
    stand = design.collar_style is CollarStyle.STAND
    drop = _STAND_DROP if stand else design.neck_drop
    if not 0 <= drop <= 140:
        raise refuse("design.neck_drop", "a round neck can lie 0 to 140 mm under the body's.", "Choose 1 to 5 cm.")
    neck = frame.front_neck_point
    r.found("neck's drop", "neckline", "at the centre front, under the body's own neck", drop)
    r.number("front neck depth", "neckline", "front neck width + 5 mm + neck's drop",
             "Bunka's front neck depth, from memory, and the drop chosen")  # fmt: skip
    level, width = neck.y - r["front neck depth"], design.reach
    if design.closing is Closing.DOUBLE:
        width = min(width, _AT_EDGE * (frame.centre_front - neck.x))
        r.found("wrap at the neck", "neckline", f"the wrap, at most {_AT_EDGE:g} of the neck's half width", width)
    buttons = place_buttons(r, frame, design, width, level)
    edges = _round_edges(frame, design, level, width)
    r.drawn(
        "neckline",
        "neckline",
        "level at the centre front, flatter and flatter up to the neck point; mirrored over the wrap",
        edges.edge,
    )
    return Neckline(frame, design, level, width, edges, buttons)


def _round_edges(frame: Frame, design: JacketDesign, level: float, width: float) -> NeckEdges:
    neck, centre = frame.front_neck_point, Point(frame.centre_front, level)
    square = (frame.front_shoulder_point - neck).unit.right
    half = _half_round(centre, neck, UP.rotated(_LEAN * math.atan2(UP.cross(square), UP.dot(square))))
    edge, at_centre = half, 0.0
    if width > 0:
        mirror = Transform.shift(-centre.x, 0.0).then(Transform.mirror_x()).then(Transform.shift(centre.x, 0.0))
        beyond = half.part(0.0, half.where_x(centre.x - width)[0]).moved(mirror).reversed()
        edge, at_centre = beyond.then(half), beyond.length
    parts, start = hem_round(Point(centre.x + width, frame.hem), design.front_hem_radius)
    parts.append(Path.line(start, edge.start))
    return NeckEdges(parts[0].then(*parts[1:]), edge, at_centre)


def _half_round(centre: Point, neck: Point, arriving: Point) -> Path:
    """Returns half a round neck from the centre front: it bends less and less, by the power that fits its place.

    Raises Refusal where none does.
    """
    start = math.pi
    turn = (arriving.angle - start) % (2 * math.pi)
    turn = turn - 2 * math.pi if turn > math.pi else turn
    aim = (neck - centre).angle

    def heading(power: float, part: float) -> float:
        return start + turn * (1 - (1 - part) ** power)

    def miss(power: float) -> float:
        at = reach(lambda part: heading(power, part), _ARCS)
        return math.remainder(at.angle - aim, 2 * math.pi)

    try:
        power = root(miss, 0.45, 7.0, 1e-9)
    except ValueError:
        raise refuse(
            "design.neck_drop", "no fair round neck can be drawn on this body so deep.", "Choose another depth."
        ) from None
    length = (neck - centre).length / reach(lambda part: heading(power, part), _ARCS).length
    path = bend_by(centre, lambda part: heading(power, part), length, _ARCS)
    last = path.segments[-1]
    return Path((*path.segments[:-1], replace(last, d=neck)))
