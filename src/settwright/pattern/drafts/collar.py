"""Under collar and top collar, drawn on to the front's neck.

The under collar follows the gorge to the neck point, as it will be sewn, and then the back neck's length along an arc.
How far that arc swings back is not a constant: it is solved so that the collar's outer edge comes out as long as the
line on which it lies when turned down.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

from settwright.findings import refuse
from settwright.geometry import Path, Point, Transform, direction, fair_curve, hook_curve
from settwright.pattern.drafts.bodice import Bodice
from settwright.pattern.drafts.frame import Frame
from settwright.pattern.drafts.lapel import Lapel, neck_heading
from settwright.pattern.drafts.record import Recorder
from settwright.pattern.piece import Cut, Edge, Line, LineKind, Notch, Piece

_NOTCH_ANGLE = math.radians(66)
_WIDEST_SWING = 1.9  # radians; no collar swings as far


@dataclass(frozen=True)
class TurnOfCloth:
    """What the outer layer needs over the inner one."""

    fold: float  # round the fold: π × the distance between the two layers' middles
    edge: float  # so that the seam rolls out of sight

    @classmethod
    def of(cls, thickness: float) -> TurnOfCloth:
        """Returns it for a cloth's thickness; the edge's share is common practice, no source."""
        return cls(math.pi * thickness, 0.5 + 0.7 * thickness)


@dataclass(frozen=True)
class Collar:
    """Both collars and the line on the back where the outer edge lies."""

    under: Piece
    top: Piece
    edge_on_back: Path  # centre back to shoulder
    edge_on_front: Path  # shoulder to collar point, on the front


def draw_collar(r: Recorder, frame: Frame, bodice: Bodice, lapel: Lapel, turn: TurnOfCloth) -> Collar:
    """Returns the collars. Raises Refusal where stand and fall allow no collar."""
    stand, fall = r["stand"], r["fall"]
    if not 4 <= fall - stand <= 40 or stand < 10:
        raise refuse(
            "design.collar_fall",
            f"a fall of {fall:.0f} mm over a stand of {stand:.0f} mm won't cover the neck seam and lie flat.",
            "Choose a fall 8 to 12 mm deeper than the stand.",
        )
    leg = 0.96 * (lapel.lapel_point - lapel.notch).length
    end = lapel.outwards.rotated(_NOTCH_ANGLE)
    point = lapel.notch + end * leg
    on_back, on_front = _edge_when_worn(frame, bodice, lapel, fall - stand, point)
    wanted = on_back.length + on_front.length
    neck = bodice.back_neck.length
    swing, shape = _swing(lambda angle: _Shape(lapel, neck, angle, stand + fall, point), wanted)
    r.found(
        "collar's outer edge",
        "collar",
        "as long as the line where it lies on back neck, shoulder and front, fall − stand below the neck",
        wanted,
        using=("stand", "fall"),
    )
    r.found(
        "collar's swing angle",
        "collar",
        "the back of the collar swings back until its outer edge is that long",
        swing,
        using=("stand", "fall"),
    )
    if abs(shape.outer.length - wanted) > 0.1:
        raise refuse("design.collar_fall", "no collar of this fall lies flat on this neck.", "Choose a smaller fall.")
    under = _under_collar(r, lapel, shape, on_back.length)
    top_point = point + lapel.outwards * (turn.fold + turn.edge) + end * turn.edge
    top_shape = _Shape(lapel, neck, swing, stand + fall + turn.fold + turn.edge, top_point)
    r.found("turn of cloth at the collar's fold", "collar", "π × the distance between the middles of the two layers",
            turn.fold, source="geometry of a fold")  # fmt: skip
    r.found(
        "turn of cloth at the edges", "collar", "0.5 mm + 0.7 × thickness, to roll the seam out of sight", turn.edge
    )
    top = _top_collar(r, lapel, top_shape, on_back.length, turn.fold)
    return Collar(under, top, on_back, on_front)


def _swing(draw: Callable[[float], _Shape], wanted: float) -> tuple[float, _Shape]:
    """Returns the swing at which the outer edge has the wanted length, by false position, and the collar drawn so.

    Where none has, the last one tried.
    """
    low, high, last = -_WIDEST_SWING / 4, _WIDEST_SWING, 0
    swing, shape = low, draw(low)
    short, long = shape.outer.length - wanted, draw(high).outer.length - wanted
    if short >= 0 or long <= 0:
        return swing, shape
    for _ in range(60):
        swing = high - long * (high - low) / (long - short)
        shape = draw(swing)
        miss = shape.outer.length - wanted
        if abs(miss) < 1e-6:
            break
        if miss < 0:
            low, short, long, last = swing, miss, long / 2 if last < 0 else long, -1
        else:
            high, long, short, last = swing, miss, short / 2 if last > 0 else short, 1
    return swing, shape


class _Shape:
    """A collar of one swing, in the front's frame."""

    def __init__(self, lapel: Lapel, back_neck: float, swing: float, width: float, point: Point):
        neck_point = lapel.gorge.end
        start = lapel.gorge.end_tangent
        self.heading = start.rotated(swing)
        self.back = _arc(neck_point, start, swing, back_neck)
        self.nape = self.back.end
        self.centre = self.nape + self.heading.right * width
        self.point = point
        chord = self.centre - point
        lean = math.atan2(chord.cross(self.heading), chord.dot(self.heading))
        self.outer = hook_curve(point, direction(chord.angle - 0.55 * lean), self.centre, self.heading, (0.34, 0.38))


def _arc(start: Point, along: Point, turn: float, length: float) -> Path:
    """Returns the circular arc of a length that turns left by an angle (right: negative), good to 0.001 mm."""
    if abs(turn) < 1e-6:
        return Path.line(start, start + along.unit * length)
    radius = length / turn
    handle = 4 / 3 * math.tan(turn / 8) * radius
    middle_way, way_out = along.unit.rotated(turn / 2), along.unit.rotated(turn)
    centre = start + along.unit.left * radius
    middle = centre + (start - centre).rotated(turn / 2)
    end = centre + (start - centre).rotated(turn)
    return Path.curve(start, start + along.unit * handle, middle - middle_way * handle, middle).then(
        Path.curve(middle, middle + middle_way * handle, end - way_out * handle, end)
    )


def _edge_when_worn(frame: Frame, bodice: Bodice, lapel: Lapel, below: float, point: Point) -> tuple[Path, Path]:
    """Returns the line where the collar's outer edge lies when turned down: on the back and on the front.

    It runs parallel to the back neck from the centre back, and on from the shoulder to where the collar point lies.
    """
    neck = bodice.back_neck.reversed()
    back_shoulder = (frame.back_shoulder_point - frame.back_neck_point).unit
    front_shoulder = (frame.front_shoulder_point - frame.front_neck_point).unit
    start, end = frame.front_neck_point + front_shoulder * below, lapel.turned(point)
    heading, straight = neck_heading(lapel), (end - start).unit
    bend = max(-0.2, min(0.2, 0.4 * math.atan2(heading.cross(straight), heading.dot(straight))))
    points = [neck.start + Point(0.0, -below)]
    points += [
        neck.at(part * neck.length) + neck.tangent(part * neck.length).right * below for part in (0.3, 0.6, 0.85)
    ]
    points.append(neck.end + back_shoulder * below)
    return (
        fair_curve(points, Point(1.0, 0.0), neck.end_tangent.rotated(bend)),
        fair_curve([start, end], heading.rotated(bend)),
    )


def _under_collar(r: Recorder, lapel: Lapel, shape: _Shape, to_shoulder: float) -> Piece:
    neck = shape.back.reversed().then(lapel.gorge.reversed())
    outer = shape.outer
    fold = _fold_line(lapel, shape, r["stand"])
    up = shape.nape - shape.centre
    return Piece(
        name="under-collar",
        title="Under collar",
        cut=Cut.PAIR,
        edges=(
            Edge("centre-back", Path.line(shape.centre, shape.nape), "outer", "nape"),
            Edge("neck", neck, "nape", "notch"),
            Edge("end", Path.line(lapel.notch, shape.point), "notch", "collar-point"),
            Edge("outer", outer, "collar-point", "centre-back"),
        ),
        notches=(
            Notch("neck-point", "neck", shape.back.length),
            Notch("shoulder", "outer", outer.length - to_shoulder),
        ),
        lines=(Line("roll-line", LineKind.ROLL, fold, "centre-back", "neck"),),
        grain_mark=shape.back.at(shape.back.length * 0.5) + shape.heading.right * (up.length / 2),
        grain=up.angle,
        bias=math.pi / 4,
    )


def _top_collar(r: Recorder, lapel: Lapel, shape: _Shape, to_shoulder: float, fold_turn: float) -> Piece:
    """The under collar's mirror image, larger by the turn of cloth; the gorge grows where the fold crosses it."""
    notch = lapel.notch + lapel.outwards * fold_turn
    gorge = widened_gorge(lapel, fold_turn)
    neck = gorge.then(shape.back)
    outer = shape.outer.reversed()
    up = shape.nape - shape.centre
    piece = Piece(
        name="top-collar",
        title="Top collar",
        cut=Cut.WHOLE,
        edges=(
            Edge("centre-back", Path.line(shape.nape, shape.centre), "nape", "outer"),
            Edge("outer", outer, "centre-back", "collar-point"),
            Edge("end", Path.line(shape.point, notch), "collar-point", "notch"),
            Edge("neck", neck, "notch", "nape"),
        ),
        notches=(
            Notch("neck-point", "neck", gorge.length),
            Notch("shoulder", "outer", to_shoulder),
        ),
        lines=(Line("roll-line", LineKind.ROLL, _fold_line(lapel, shape, r["stand"]), "centre-back", "neck"),),
        grain_mark=shape.nape.between(shape.centre),
        grain=up.angle,
    )
    return piece.moved(Transform.mirror_x())


def widened_gorge(lapel: Lapel, fold_turn: float) -> Path:
    """Returns the gorge of the outer layer, longer where the fold crosses it."""
    notch = lapel.notch + lapel.outwards * fold_turn
    return Path.line(notch, lapel.corner_start).then(Path(lapel.gorge.segments[1:]))


def _fold_line(lapel: Lapel, shape: _Shape, stand: float) -> Path:
    start = shape.nape + shape.heading.right * stand
    return hook_curve(start, -shape.heading, lapel.roll_line.end, -lapel.roll, (0.36, 0.3))
