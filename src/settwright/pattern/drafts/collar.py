"""Under collar and top collar of a lapel, drawn on to the front's neck.

The under collar follows the gorge to the neck point, as it will be sewn, and then the back neck's length along an arc.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from settwright.geometry import Path, Point, Transform, direction, hook_curve
from settwright.pattern.drafts.bodice import Bodice
from settwright.pattern.drafts.collar_lines import (
    CollarBack,
    TurnOfCloth,
    WornEdge,
    check_fall,
    collar_back,
    parallel_lie,
    solved_swing,
    third_of,
)
from settwright.pattern.drafts.frame import Frame
from settwright.pattern.drafts.lapel import Lapel
from settwright.pattern.drafts.record import Recorder
from settwright.pattern.piece import Cut, Edge, Line, LineKind, Notch, Piece


@dataclass(frozen=True)
class Collar:
    """Both collars and the line where the outer edge lies."""

    under: Piece
    top: Piece
    worn: WornEdge


def draw_collar(r: Recorder, frame: Frame, bodice: Bodice, lapel: Lapel, turn: TurnOfCloth) -> Collar:
    """Returns the collars. Raises Refusal where stand and fall allow no collar."""
    stand, fall = r["stand"], r["fall"]
    check_fall(stand, fall)
    point = lapel.collar_point
    worn = parallel_lie(frame, bodice.back_neck, lapel.heading, fall - stand).to(lapel.roll.turned(point))
    r.found(
        "collar's outer edge",
        "collar",
        "as long as the line where it lies on back neck, shoulder and front, fall − stand below the neck",
        worn.length,
        using=("stand", "fall"),
    )
    neck = bodice.back_neck.length
    swing, shape = solved_swing(
        r,
        lambda angle: _shape(lapel, neck, angle, stand + fall, point),
        lambda tried: tried.outer.length - worn.length,
    )
    under = _under_collar(r, lapel, shape, worn.on_back.length)
    turn.keep(r)
    end = (point - lapel.notch).unit
    top_point = point + lapel.roll.outwards * (turn.fold + turn.edge) + end * turn.edge
    top_shape = _shape(lapel, neck, swing, stand + fall + turn.fold + turn.edge, top_point)
    top = _top_collar(r, lapel, top_shape, worn.on_back.length, turn.fold)
    return Collar(under, top, worn)


@dataclass(frozen=True)
class _Shape:
    """A collar of one swing, in the front's frame."""

    back: CollarBack
    point: Point
    outer: Path  # from the collar point to the centre back


def _shape(lapel: Lapel, back_neck: float, swing: float, width: float, point: Point) -> _Shape:
    back = collar_back(lapel.gorge.end, lapel.gorge.end_tangent, back_neck, swing, width)
    chord = back.centre - point
    lean = math.atan2(chord.cross(back.heading), chord.dot(back.heading))
    outer = hook_curve(point, direction(chord.angle - 0.55 * lean), back.centre, back.heading, (0.34, 0.38))
    return _Shape(back, point, outer)


def _under_collar(r: Recorder, lapel: Lapel, shape: _Shape, to_shoulder: float) -> Piece:
    back, outer = shape.back, shape.outer
    up = back.nape - back.centre
    return Piece(
        name="under-collar",
        title="Under collar",
        cut=Cut.PAIR,
        edges=(
            Edge("centre-back", Path.line(back.centre, back.nape), "outer", "nape"),
            Edge("neck", back.arc.reversed().then(lapel.gorge.reversed()), "nape", "notch"),
            Edge("end", Path.line(lapel.notch, shape.point), "notch", "collar-point"),
            Edge("outer", outer, "collar-point", "centre-back"),
        ),
        notches=(
            Notch("neck-point", "neck", back.arc.length),
            Notch("shoulder", "outer", outer.length - to_shoulder),
        ),
        lines=(Line("roll-line", LineKind.ROLL, _fold_line(lapel, back, r["stand"]), "centre-back", "neck"),),
        grain_mark=back.arc.at(back.arc.length * 0.5) + back.heading.right * (up.length / 2),
        grain=up.angle,
        bias=math.pi / 4,
    )


def _top_collar(r: Recorder, lapel: Lapel, shape: _Shape, to_shoulder: float, fold_turn: float) -> Piece:
    """The under collar's mirror image, larger by the turn of cloth; the gorge grows where the fold crosses it."""
    back, gorge = shape.back, widened_gorge(lapel, fold_turn)
    up = back.nape - back.centre
    piece = Piece(
        name="top-collar",
        title="Top collar",
        cut=Cut.WHOLE,
        edges=(
            Edge("centre-back", Path.line(back.nape, back.centre), "nape", "outer"),
            Edge("outer", shape.outer.reversed(), "centre-back", "collar-point"),
            Edge("end", Path.line(shape.point, gorge.start), "collar-point", "notch"),
            Edge("neck", gorge.then(back.arc), "notch", "nape"),
        ),
        notches=(
            Notch("neck-point", "neck", gorge.length),
            Notch("collar-third", "outer", third_of(to_shoulder)),
            Notch("shoulder", "outer", to_shoulder),
        ),
        lines=(Line("roll-line", LineKind.ROLL, _fold_line(lapel, back, r["stand"]), "centre-back", "neck"),),
        grain_mark=back.nape.between(back.centre),
        grain=up.angle,
    )
    return piece.moved(Transform.mirror_x())


def widened_gorge(lapel: Lapel, fold_turn: float) -> Path:
    """Returns the gorge of the outer layer, longer where the fold crosses it."""
    notch = lapel.notch + lapel.roll.outwards * fold_turn
    return Path.line(notch, lapel.corner_start).then(Path(lapel.gorge.segments[1:]))


def _fold_line(lapel: Lapel, back: CollarBack, stand: float) -> Path:
    start = back.nape + back.heading.right * stand
    return hook_curve(start, -back.heading, lapel.roll_line.end, -lapel.roll.along, (0.36, 0.3))
