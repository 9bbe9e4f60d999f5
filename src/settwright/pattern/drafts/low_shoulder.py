"""A low shoulder: one half of the body, drawn with its shoulder turned down and its armhole lowered with it.

The shoulder turns about the neck point, as long as it was, and takes along what begins in it: a dart, a princess seam.
The armhole goes down whole and stays as long between every two of its stops, so that a set-in sleeve stays as it is;
seams that end in it begin lower. Collar and neck stay, but for the neck's end, which turns with the shoulder so that it
still runs smooth across. Common practice, no source.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import partial

from settwright.commission.design import FrontEdge, JacketDesign, SleeveCut
from settwright.geometry import Path, Point, Transform, hook_curve
from settwright.pattern.drafts.armhole import Armhole
from settwright.pattern.drafts.bending import root
from settwright.pattern.drafts.bodice import Bodice, PanelSeam, draw_seam
from settwright.pattern.drafts.frame import Frame
from settwright.pattern.drafts.parts import Parts
from settwright.pattern.drafts.record import Recorder
from settwright.pattern.drafts.reshaping import Shift, bent, fading, reshaped, touches, turned
from settwright.pattern.piece import Piece

LOW_SHOULDER = "low shoulder"
MOST_LOWERED = 25.0  # of a shoulder; a lower one is padded by the rest (common practice, no source)

_NECK_REACH = 12.0  # of the neck from its point, within which it turns with the shoulder
_FALLS = (-20.0, 60.0)  # of the bottom, between which it is sought
_FULLER = (0.5, 2.5)  # by which their handles may be longer, so that they stay as long
_FOLLOW_REACH = 150.0  # of a seam that begins lower, within which it goes over into what it was
_NEAR = 1e-6


@dataclass(frozen=True)
class LoweredHalf:
    """A half of the body, its shoulder lowered; one of an even figure turns by nothing."""

    frame: Frame
    bodice: Bodice
    front_turn: float = 0.0  # of the shoulder about its neck point, lowering it
    back_turn: float = 0.0
    has_folded_neck: bool = False  # the front's neck is a fold and stays straight: the back's turns for both

    def on_body(self, shell: Parts) -> Parts:
        """Returns the body's parts, drawn with the lowered shoulder, with the neck's ends turned to it."""
        return self._turned(shell, "front", "back", has_shoulder=True)

    def on_facings(self, facings: Parts) -> Parts:
        """Returns the facings' parts, drawn for the even shoulder, with shoulder and neck's end turned."""
        return self._turned(facings, "front-facing", "back-neck-facing", has_shoulder=False)

    def _turned(self, parts: Parts, front: str, back: str, *, has_shoulder: bool) -> Parts:
        if not self.front_turn:
            return parts
        by = self.front_turn if self.has_folded_neck else 0.0
        turns = {front: (self.front_turn, self.front_turn - by), back: (self.back_turn, self.back_turn + by)}

        def turned_in(piece: Piece) -> Piece:
            shoulder, neck = turns.get(piece.name, (0.0, 0.0))
            return _turned_at_the_neck(piece, 0.0 if has_shoulder else shoulder, neck)

        pieces = (turned_in(piece) for piece in parts.pieces)
        return replace(parts, pieces=tuple(pieces))


def lowered(r: Recorder, frame: Frame, bodice: Bodice, design: JacketDesign, drop: float) -> LoweredHalf:
    """Returns the body of a half whose shoulder point lies lower by `drop`, or as it is where that is nothing.

    What is more than MOST_LOWERED is left to a pad.
    """
    if not drop:
        return LoweredHalf(frame, bodice)
    drop = min(drop, MOST_LOWERED)
    front_turn = _turn(frame.front_neck_point, frame.front_shoulder_point, drop)
    back_turn = _turn(frame.back_neck_point, frame.back_shoulder_point, drop)
    low = replace(
        frame,
        front_shoulder_point=_about(frame.front_neck_point, frame.front_shoulder_point, front_turn),
        back_shoulder_point=_about(frame.back_neck_point, frame.back_shoulder_point, back_turn),
        front_slope=frame.front_slope + front_turn,
        back_slope=frame.back_slope + back_turn,
    )
    armhole, fall = _lowered_armhole(bodice.armhole, frame, low)
    r.found("drop of the shoulder point", LOW_SHOULDER, "as measured against the other shoulder", drop)
    for half, turn in (("front", front_turn), ("back", back_turn)):
        r.found(f"turn of the {half} shoulder angle", LOW_SHOULDER, "about the neck point, until its other end has"
                " dropped", turn, using=("drop of the shoulder point",))  # fmt: skip
    r.found("fall of the armhole", LOW_SHOULDER, "plumb, so that it stays as long", fall)
    r.drawn("lowered armhole", LOW_SHOULDER, "as long between its stops as that of the other half, square to both"
            " shoulders", armhole.path)  # fmt: skip
    beginning = {"shoulder_part": bodice.shoulder_part, "under_bust": bodice.under_bust}

    def begun(name: str, even: PanelSeam) -> PanelSeam:
        is_under_the_arm = not name.startswith("princess")
        return _begun_lower(even, fall) if is_under_the_arm else draw_seam(name, low, armhole, design, **beginning)

    seams = tuple((name, begun(name, even)) for name, even in bodice.seams)
    own = replace(bodice, armhole=armhole, seams=seams)
    if design.sleeve_cut is SleeveCut.KIMONO:  # its underarm lies low: a dart in the side goes down with it
        low, own = replace(low, scye=frame.scye - fall), replace(own, under_bust=bodice.under_bust - fall)
    return LoweredHalf(low, own, front_turn, back_turn, design.front_edge is FrontEdge.TO_NECK)


def with_low_strap(piece: Piece, edge: str, drop: float, begins: float, shoulder_length: float) -> Piece:
    """Returns a piece of a bodice top whose strap, a part of the shoulder from `begins` on, is turned down about the
    shoulder's neck point so that the shoulder point lies lower by `drop`; what meets the strap follows."""
    strap = piece.edge(edge)
    ends = (strap.path.start, strap.path.end)
    inner, outer = ends if strap.start == "neck-point" else ends[::-1]
    along = (outer - inner).unit
    neck = inner - along * begins
    end = neck + along * shoulder_length
    around = _turning(neck, end, _turn(neck, end, min(drop, MOST_LOWERED)))
    moves: dict[str, Shift] = {edge: turned(strap.path, around, lambda along: 1.0)}
    for other in piece.edges:
        corner = next((c for c in ends if touches(other.path, c)), None)
        if other is not strap and corner is not None:
            reach = min(_FOLLOW_REACH, other.path.length)
            moves[other.name] = turned(other.path, around, fading(other.path, corner, reach))
    return reshaped(piece, moves)


def _turn(neck: Point, end: Point, drop: float) -> float:
    """Returns the angle, positive, by which a shoulder turns about its neck point so that its end lies lower."""
    along = end - neck
    return math.asin(along.y / along.length) - math.asin((along.y - drop) / along.length)


def _turning(neck: Point, end: Point, turn: float) -> Transform:
    """Returns the turn that lowers a shoulder's end: counter-clockwise on a shoulder that runs to the left."""
    return Transform.turn(turn if end.x < neck.x else -turn, neck)


def _about(neck: Point, end: Point, turn: float) -> Point:
    return _turning(neck, end, turn)(end)


def _lowered_armhole(armhole: Armhole, frame: Frame, low: Frame) -> tuple[Armhole, float]:
    """Returns the armhole between the lowered shoulder points, and how far its bottom has fallen.

    It falls by what keeps the end that loses more as long; the other end is drawn a little fuller.
    """
    first, *bottom, last = (Path((segment,)) for segment in armhole.path.segments)
    front = frame.opening(low.front_shoulder_point) - frame.opening(frame.front_shoulder_point)
    back = frame.blade_opening(low.back_shoulder_point) - frame.blade_opening(frame.back_shoulder_point)
    down = first.start_tangent.rotated(low.front_slope - frame.front_slope)
    up = last.end_tangent.rotated(frame.back_slope - low.back_slope)

    def begun(fall: float, fuller: float = 1.0) -> Path:
        end = first.end - Point(0.0, fall)
        return _redrawn(first, (first.start + front, down), (end, first.end_tangent), fuller)

    def ended(fall: float, fuller: float = 1.0) -> Path:
        start = last.start - Point(0.0, fall)
        return _redrawn(last, (start, last.start_tangent), (last.end + back, up), fuller)

    ends = ((begun, first.length), (ended, last.length))
    fall = min(_met(end, length, _FALLS) for end, length in ends)
    fuller = [_met(partial(end, fall), length, _FULLER) for end, length in ends]
    fallen = (part.moved(Transform.shift(0.0, -fall)) for part in bottom)
    return replace(armhole, path=begun(fall, fuller[0]).then(*fallen, ended(fall, fuller[1]))), fall


def _met(drawn: Callable[[float], Path], length: float, between: tuple[float, float]) -> float:
    """Returns for which figure a curve comes out as long as that."""
    return root(lambda figure: drawn(figure).length - length, *between, _NEAR)


def _redrawn(path: Path, start: tuple[Point, Point], end: tuple[Point, Point], fuller: float) -> Path:
    """Returns a path of one curve between other ends, each a place and a direction of travel; its handles are so much
    longer a part of the chord than they were."""
    (curve,) = path.segments
    chord = (curve.d - curve.a).length
    pull = ((curve.b - curve.a).length / chord * fuller, (curve.d - curve.c).length / chord * fuller)
    return hook_curve(*start, *end, pull)


def _begun_lower(seam: PanelSeam, by: float) -> PanelSeam:
    """Returns a seam under the arm that begins lower and goes over into what it was."""

    def lower(edge: Path) -> Path:
        fall = fading(edge, edge.start, _FOLLOW_REACH)
        return bent(edge, lambda along: Point(0.0, -by * fall(along)), [])[0]

    return PanelSeam(lower(seam.left), lower(seam.right))


def _turned_at_the_neck(piece: Piece, turn: float, neck_turn: float) -> Piece:
    """Returns a piece whose shoulder is turned about its neck point, and whose neck turns at its end."""
    shoulder = next((edge for edge in piece.edges if edge.name == "shoulder"), None)
    if shoulder is None or turn == neck_turn == 0.0:
        return piece
    ends = (shoulder.path.start, shoulder.path.end)
    neck, end = ends if shoulder.start == "neck-point" else ends[::-1]
    moves: dict[str, Shift] = {}
    for edge in piece.edges:
        if edge is shoulder and turn:
            moves[edge.name] = turned(edge.path, _turning(neck, end, turn), lambda along: 1.0)
        elif edge is not shoulder and neck_turn and touches(edge.path, neck):
            reach = min(_NECK_REACH, edge.path.length / 2)
            moves[edge.name] = turned(edge.path, _turning(neck, end, neck_turn), fading(edge.path, neck, reach))
    return reshaped(piece, moves)
