"""Front facing and back neck facing: the inner side of front and neck, seen from their right side.

At the lapel the facing is the outer layer and grows by the turn of cloth, from nothing at the break point; below it
the facing is the inner layer and comes out a little smaller.
"""

from __future__ import annotations

import math

from settwright.geometry import Path, Point, Transform, hook_curve
from settwright.pattern.design import FrontEdge, JacketDesign
from settwright.pattern.drafts.bodice import Bodice
from settwright.pattern.drafts.collar import TurnOfCloth, widened_gorge
from settwright.pattern.drafts.frame import Frame
from settwright.pattern.drafts.lapel import Lapel, edge_below, lapel_edge
from settwright.pattern.drafts.record import Recorder
from settwright.pattern.piece import Cut, Edge, Line, LineKind, Piece

_UP, _LEFT = Point(0.0, 1.0), Point(-1.0, 0.0)
_AT_HEM = 75.0  # width at the hem
_AT_SHOULDER = 50.0  # reach along the shoulder
_BACK_DEPTH = 55.0  # of the back neck facing at the centre back


def draw_front_facing(r: Recorder, frame: Frame, lapel: Lapel, design: JacketDesign, turn: TurnOfCloth) -> Piece:
    """Returns the front facing."""
    extended = design.front_edge is FrontEdge.EXTENDED
    gorge = widened_gorge(lapel, turn.fold)
    back = Point(0.0, 0.0)
    if extended:  # the fold stays as it is; what the roll needs is given on its inner side
        back = -lapel.outwards * turn.fold
        gorge = gorge.moved(Transform.shift(back.x, back.y))
        lapel_point, front_edge, edge = lapel.lapel_point, lapel.front_edge, lapel.edge
    else:
        lapel_point = lapel.lapel_point + lapel.outwards * (turn.fold + turn.edge) + lapel.roll * turn.edge
        lean = lapel.edge.start_tangent
        angle = math.atan2(lean.x, lean.y)
        edge = lapel_edge(lapel.break_point, lapel_point, angle)
        corner = Point(frame.centre_front + design.wrap - turn.edge / 2, frame.hem)
        front_edge = edge_below(corner, lapel.break_point, angle, design.front_hem_radius)
    notch, neck = gorge.start, gorge.end
    shoulder = (frame.front_shoulder_point - frame.front_neck_point).unit
    inner_top = neck + shoulder * r.number("facing on the shoulder", "front facing", f"{_AT_SHOULDER:g} mm")
    corner_x = frame.centre_front + design.wrap
    at_hem = r.number("facing at the hem", "front facing", f"most of ({_AT_HEM:g} mm; round of the front hem + 20 mm)")
    inner_hem = Point(corner_x - at_hem, frame.hem)
    bend = Point(inner_hem.x, frame.bust * 0.35)
    inner = Path.line(inner_hem, bend).then(hook_curve(bend, _UP, inner_top, shoulder.right, (0.45, 0.35)))
    hem = Path.line(front_edge.start, inner_hem)
    piece = Piece(
        name="front-facing",
        title="Front facing",
        cut=Cut.PAIR,
        edges=(
            Edge("lapel", edge.reversed(), "lapel-point", "break-point"),
            Edge("front-edge", front_edge.reversed(), "break-point", "hem"),
            Edge("hem", hem, "front-corner", "inner"),
            Edge("inner", inner, "hem", "shoulder"),
            Edge("shoulder", Path.line(inner_top, neck), "inner", "neck-point"),
            Edge("gorge", gorge.reversed(), "neck-point", "notch"),
            Edge("lapel-top", Path.line(notch, lapel_point), "notch", "lapel-point"),
        ),
        lines=(Line("roll-line", LineKind.ROLL, lapel.roll_line, "break-point", "neck"),),
        grain_mark=Point(corner_x - at_hem / 2, 0.0),
    )
    return piece.moved(Transform.mirror_x())


def draw_back_neck_facing(r: Recorder, frame: Frame, bodice: Bodice) -> Piece:
    """Returns the back neck facing as a half, its fold at the right."""
    shoulder = (frame.back_shoulder_point - frame.back_neck_point).unit
    outer_end = frame.back_neck_point + shoulder * r["facing on the shoulder"]
    centre = frame.nape - Point(0.0, r.number("back neck facing's depth", "back neck facing", f"{_BACK_DEPTH:g} mm"))
    neck = bodice.back_neck
    outer = hook_curve(outer_end, shoulder.right, centre, _LEFT, (0.42, 0.42))
    piece = Piece(
        name="back-neck-facing",
        title="Back neck facing",
        cut=Cut.WHOLE,
        edges=(
            Edge("neck", neck.reversed(), "nape", "neck-point"),
            Edge("shoulder", Path.line(frame.back_neck_point, outer_end), "neck-point", "inner"),
            Edge("outer", outer, "shoulder", "centre-back"),
            Edge("centre-back", Path.line(centre, frame.nape), "outer", "nape"),
        ),
        grain_mark=frame.nape.between(centre),
    )
    return piece.moved(Transform.mirror_x())
