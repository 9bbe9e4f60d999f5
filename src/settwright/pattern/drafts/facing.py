"""Front facing and back neck facing: the inner side of front and neck, seen from their right side.

Each is derived from the front's own edges. At a lapel the facing is the outer layer and grows by the turn of cloth,
from nothing at the break point; below it, and all along a plain neckline, it is the inner layer and comes out a
little smaller, so that the seam rolls out of sight.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace

from settwright.commission.design import BodyCut, FrontEdge, FrontStyle, JacketDesign, SleeveCut
from settwright.findings import refuse
from settwright.geometry import Path, Point, Transform, fair_curve, hook_curve
from settwright.pattern.drafts.bodice import Bodice
from settwright.pattern.drafts.collar import widened_gorge
from settwright.pattern.drafts.collar_lines import TurnOfCloth, third_of
from settwright.pattern.drafts.frame import Frame
from settwright.pattern.drafts.lapel import Lapel, lapel_edge
from settwright.pattern.drafts.neckline import Neckline
from settwright.pattern.drafts.record import Recorder
from settwright.pattern.drafts.roll import edge_below
from settwright.pattern.drafts.shawl import Shawl
from settwright.pattern.piece import Cut, Edge, Line, LineKind, Notch, Piece

_UP, _LEFT = Point(0.0, 1.0), Point(-1.0, 0.0)
_AT_HEM = 75.0  # width at the hem
_BEHIND_TWINS = 30.0  # it reaches behind the second column of buttons by this
_CROSSED_AT_HEM = 95.0
_AT_SHOULDER = 50.0  # reach along the shoulder
_BEFORE_SEAM = 5.0  # it ends on the shoulder so far before a princess seam
_AT_NECKLINE = 58.0  # width along a neckline
_BACK_DEPTH = 55.0  # of the back neck facing at the centre back


def draw_front_facing(
    r: Recorder, frame: Frame, line: Lapel | Shawl | Neckline, design: JacketDesign, turn: TurnOfCloth
) -> Piece:
    """Returns the front facing in one piece. Raises Refusal where an edge that curves is asked for as a fold."""
    if design.front_edge is FrontEdge.EXTENDED and isinstance(line, Shawl):
        raise refuse(
            "design.front_edge",
            "a shawl's edge curves from the break point on and can't be cut as a fold.",
            'Split its facing below the break (front_edge = "split"), or choose a facing sewn on.',
        )
    if design.front_edge is FrontEdge.TO_NECK and not (isinstance(line, Neckline) and line.slants):
        raise refuse(
            "design.front_edge",
            "only a straight edge that turns inwards at the top button, of a V neck or a crossed-over front, can be a"
            " fold up to the neck.",
            'End the fold at the break point (front_edge = "extended" or "split"), or choose a facing sewn on.',
        )
    if design.front_edge is FrontEdge.TO_NECK and design.sleeve_cut is SleeveCut.RAGLAN:
        raise refuse(
            "design.front_edge",
            "a raglan sleeve takes the end of the neck with it: the neck's edge can't be one fold.",
            'End the fold at the break point (front_edge = "extended" or "split"), or choose a facing sewn on.',
        )
    if isinstance(line, Lapel):
        return _of_lapel(r, frame, line, design, turn)
    if isinstance(line, Shawl):
        return _of_shawl(r, frame, line, design, turn)
    return _of_neckline(r, frame, line, design, turn)


def _of_lapel(r: Recorder, frame: Frame, lapel: Lapel, design: JacketDesign, turn: TurnOfCloth) -> Piece:
    gorge = widened_gorge(lapel, turn.fold)
    if design.front_edge is FrontEdge.EXTENDED:
        # the fold stays as it is; what the roll needs is given on its inner side
        back = -lapel.roll.outwards * turn.fold
        gorge = gorge.moved(Transform.shift(back.x, back.y))
        lapel_point, front_edge, edge = lapel.lapel_point, lapel.front_edge, lapel.edge
    else:
        more = lapel.roll.outwards * (turn.fold + turn.edge)
        lapel_point = lapel.lapel_point + more + lapel.roll.along * turn.edge
        front_edge = _front_edge(frame, lapel.break_point, lapel.edge.start_tangent, design, turn)
        edge = lapel_edge(lapel.break_point, lapel_point, _lean(lapel.edge.start_tangent))
    edges = (
        Edge("front-edge", front_edge, "hem", "break-point"),
        Edge("lapel", edge, "break-point", "lapel-point"),
        Edge("lapel-top", Path.line(lapel_point, gorge.start), "lapel-point", "notch"),
        Edge("gorge", gorge, "notch", "neck-point"),
    )
    roll = Line("roll-line", LineKind.ROLL, lapel.roll_line, "break-point", "neck")
    return _faced(r, frame, design, edges, neck=gorge.end, lines=(roll,), column=lapel.buttons.column)


def _of_shawl(r: Recorder, frame: Frame, shawl: Shawl, design: JacketDesign, turn: TurnOfCloth) -> Piece:
    edge, back = shawl.outer_layer(turn)
    break_point = shawl.roll.break_point
    to_shoulder = shawl.worn.on_back.length
    edges = (
        Edge("front-edge", _front_edge(frame, break_point, edge.start_tangent, design, turn), "hem", "break-point"),
        Edge("lapel", edge, "break-point", "centre-back"),
        Edge("collar-centre-back", Path.line(back.centre, back.nape), "outer", "nape"),
        Edge("collar-neck", back.arc.reversed(), "nape", "neck-point"),
    )
    notches = (
        Notch("shoulder", "lapel", edge.length - to_shoulder),
        Notch("collar-third", "lapel", edge.length - third_of(to_shoulder)),
    )
    roll = Line("roll-line", LineKind.ROLL, shawl.roll_line, "break-point", "centre-back")
    return _faced(
        r, frame, design, edges, neck=shawl.neck_point, notches=notches, lines=(roll,), column=shawl.buttons.column
    )


def _of_neckline(r: Recorder, frame: Frame, neckline: Neckline, design: JacketDesign, turn: TurnOfCloth) -> Piece:
    smaller = neckline.smaller(turn.edge / 2)
    edges = (
        Edge("front-edge", smaller.front_edge, "hem", "break-point"),
        Edge("neckline", smaller.edge, "break-point", "neck-point"),
    )
    notches = (Notch("centre-front", "neckline", smaller.at_centre),)
    along, column = smaller.edge, neckline.buttons.column
    return _faced(r, frame, design, edges, neck=along.end, notches=notches, column=column, round_it=along)


def _front_edge(frame: Frame, break_point: Point, tangent: Point, design: JacketDesign, turn: TurnOfCloth) -> Path:
    corner = Point(frame.centre_front + design.reach - turn.edge / 2, frame.hem)
    return edge_below(corner, break_point, _lean(tangent), design.front_hem_radius)


def _lean(tangent: Point) -> float:
    return math.atan2(tangent.x, tangent.y)


def _faced(
    r: Recorder,
    frame: Frame,
    design: JacketDesign,
    edges: Sequence[Edge],
    *,
    neck: Point,
    notches: Sequence[Notch] = (),
    lines: Sequence[Line] = (),
    column: float,
    round_it: Path | None = None,
) -> Piece:
    """Returns the facing within these edges, told in the front's frame from the hem up to the neck point.

    `round_it` is a neckline that the inner edge follows; without one the facing lies under a lapel.
    """
    shoulder = (frame.front_shoulder_point - frame.front_neck_point).unit
    rule = f"{_AT_SHOULDER:g} mm"
    if design.body_cut is BodyCut.PRINCESS_SHOULDER:
        rule = f"least of ({rule}; princess seam on the shoulder − {_BEFORE_SEAM:g} mm)"
    inner_top = neck + shoulder * r.number("facing on the shoulder", "front facing", rule)
    corner_x = frame.centre_front + design.reach
    if round_it is not None:
        corner_x = round_it.start.x
    least = _CROSSED_AT_HEM if design.front_style is FrontStyle.CROSSED else _AT_HEM
    if column and design.front_style is not FrontStyle.CROSSED:
        least = max(least, corner_x - frame.centre_front + column + _BEHIND_TWINS)
    at_hem = r.number("facing at the hem", "front facing", f"most of ({least:g} mm; round of the front hem + 20 mm)")
    inner_hem = Point(corner_x - at_hem, frame.hem)
    inner = _inner_edge(frame, inner_hem, inner_top, shoulder.right, round_it)
    down = tuple(Edge(e.name, e.path.reversed(), e.end, e.start) for e in reversed(edges))
    lengths = {edge.name: edge.path.length for edge in down}
    piece = Piece(
        name="front-facing",
        title="Front facing",
        cut=Cut.PAIR,
        edges=(
            *down,
            Edge("hem", Path.line(edges[0].path.start, inner_hem), "front-corner", "inner"),
            Edge("inner", inner, "hem", "shoulder"),
            Edge("shoulder", Path.line(inner_top, neck), "inner", "neck-point"),
        ),
        notches=tuple(Notch(n.name, n.edge, lengths[n.edge] - n.at) for n in reversed(notches)),
        lines=tuple(lines),
        grain_mark=Point(corner_x - at_hem / 2, 0.0),
    )
    return piece.moved(Transform.mirror_x())


def _inner_edge(frame: Frame, hem: Point, top: Point, arriving: Point, neckline: Path | None) -> Path:
    """Returns the inner edge: upright, then over to the shoulder; round a neckline that comes too near, beside it."""
    bend = Point(hem.x, frame.bust * 0.35)
    upright = Path.line(hem, bend)
    over = hook_curve(bend, _UP, top, arriving, (0.45, 0.35))
    if neckline is None or _least_width(neckline, over) >= 0.65 * _AT_NECKLINE:
        return upright.then(over)
    middle = 0.5 * neckline.length
    beside = neckline.at(middle) + neckline.tangent(middle).left * _AT_NECKLINE
    bend = Point(hem.x, min(bend.y, beside.y - 60.0 - 1.2 * abs(hem.x - beside.x)))
    return Path.line(hem, bend).then(fair_curve([bend, beside, top], _UP, arriving))


def _least_width(neckline: Path, inner: Path) -> float:
    """Returns how near an inner edge comes to a neckline, to about a millimetre.

    Its last part isn't looked at: there the shoulder sets the width.
    """
    edge = [segment.at(part / 16) for segment in neckline.segments for part in range(17)]
    places = [segment.at(part / 8) for segment in inner.segments for part in range(7)]
    return round(min((place - point).length for place in places for point in edge), 3)


def split_facing(piece: Piece, below: float, lower_name: str, lower_title: str, join: str) -> tuple[Piece, Piece]:
    """Returns upper and lower part of a front facing, joined straight across `below` the start of its front edge.

    Edges keep their names; the join is the edge `join` on both. Raises Refusal where it would leave the facing.
    """
    edge, inner, top = piece.edge("front-edge").path, piece.edge("inner").path, piece.edge("front-edge").start
    if not 10 <= below <= edge.length - 40:
        raise refuse(
            "design.facing_split",
            f"a join {below:.0f} mm below the {top.replace('-', ' ')} doesn't lie on the front edge.",
            "Choose 2 to 10 cm.",
        )
    outer = edge.at(below)
    across = inner.where_y(outer.y)[0]
    across_it = Path.line(outer, inner.at(across))
    kept = [e for e in piece.edges if e.name not in ("front-edge", "hem", "inner")]
    index = next(i for i, e in enumerate(piece.edges) if e.name == "front-edge")
    before = [e for e in kept if piece.edges.index(e) < index]
    after = [e for e in kept if piece.edges.index(e) > index]
    grain_mark = piece.grain_mark
    upper = replace(
        piece,
        edges=(
            *before,
            *([Edge("front-edge", edge.part(0.0, below), top, join)] if below > 0 else []),
            Edge(join, across_it, "front-edge", "inner"),
            Edge("inner", inner.part(across, inner.length), join, piece.edge("inner").end),
            *after,
        ),
        grain_mark=Point(grain_mark.x, outer.y + 30.0),
    )
    lower = replace(
        piece,
        name=lower_name,
        title=lower_title,
        edges=(
            Edge("front-edge", edge.part(below, edge.length), join, "hem"),
            piece.edge("hem"),
            Edge("inner", inner.part(0.0, across), "hem", join),
            Edge(join, across_it.reversed(), "inner", "front-edge"),
        ),
        notches=(),
        lines=(),
        grain_mark=Point(grain_mark.x, (outer.y + piece.edge("hem").path.start.y) / 2),
    )
    return upper, lower


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
