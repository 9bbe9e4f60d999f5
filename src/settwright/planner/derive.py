"""From a commission to its plan: the stages in their order, each a pure function of what stands before it."""

from __future__ import annotations

import itertools
from collections.abc import Callable, Iterable

from settwright.bars.match import match_bars
from settwright.bars.model import Axis, Match, Orientation, Pin
from settwright.body import Body
from settwright.body.estimate import complete
from settwright.cloth import Cloth, Nap, Sequence
from settwright.commission.model import Commission
from settwright.commission.model import Pin as Said
from settwright.findings import Finding, Weight, refuse
from settwright.geometry import Point
from settwright.layout.engine import EFFORT, lay
from settwright.layout.model import Board, LatticeState, Shape
from settwright.layout.rules import reckon
from settwright.makeup.garment import make_up
from settwright.makeup.model import CutPiece, Hand, MadeUp, MakeUpCloths
from settwright.pattern import Draft, Edge, Piece
from settwright.pattern.design import FrontEdge
from settwright.pattern.drafts.jacket import draft_jacket
from settwright.pattern.drafts.skirt import draft_skirt
from settwright.plan.plan import ClothPlan, Plan

OnStage = Callable[[str], None]


def derive(commission: Commission, on_stage: OnStage = lambda stage: None, *, effort: int = EFFORT) -> Plan:
    """Returns the whole plan of a commission; `on_stage` is told the name of each stage as it begins,
    `effort` bounds the search for the shortest layout.

    Raises Refusal when a body, a pin or a cloth makes the plan impossible.
    """
    on_stage("measurements")
    body = complete(dict(commission.measured), commission.units)
    on_stage("drafts")
    shell = _shell(commission)
    drafts = draft_garments(commission, body, shell.thickness)
    on_stage("make-up")
    made_up = make_up_garments(commission, drafts, shell)
    on_stage("bars")
    match = match_bars(
        made_up,
        shell,
        pins=[_pin(said, made_up) for said in commission.pins],
        importance=commission.importance,
        units=commission.units,
    )
    on_stage("layout")
    cloths = tuple(
        _lay_out(cloth, made_up, match, effort)
        for cloth in commission.cloths
        if any(piece.cloth == cloth.name for piece in made_up.pieces)
    )
    findings = (
        *commission.findings,
        *body.findings,
        *made_up.findings,
        *match.findings,
        *itertools.chain.from_iterable(plan.layout.findings for plan in cloths),
        *_unused(commission.cloths, made_up),
    )
    return Plan(commission, body, made_up, match, cloths, tuple(dict.fromkeys(findings)))


def _shell(commission: Commission) -> Cloth:
    try:
        return commission.cloth("shell")
    except KeyError:
        raise refuse(
            "cloths.shell",
            "the outer cloth isn't named.",
            "Call the cloth that the garment is cut from [cloths.shell].",
        ) from None


def draft_garments(commission: Commission, body: Body, thickness: float) -> tuple[Draft, ...]:
    """Returns the drafts of every garment of a commission."""
    drafts: list[Draft] = []
    if commission.jacket:
        drafts.append(draft_jacket(body, commission.jacket, thickness))
    if commission.skirt:
        drop = commission.jacket.length_below_waist if commission.jacket else None
        drafts.append(draft_skirt(body, commission.skirt, drop))
    return tuple(drafts)


def make_up_garments(commission: Commission, drafts: tuple[Draft, ...], shell: Cloth) -> MadeUp:
    """Returns what is cut for a commission's drafts."""
    names = {cloth.name for cloth in commission.cloths}
    return make_up(
        drafts,
        front_edge=commission.jacket.front_edge if commission.jacket else FrontEdge.SEPARATE,
        front_laps_over=Hand(commission.choices.front_laps_over.value),
        stage=commission.choices.stage,
        cloths=MakeUpCloths(lining="lining" if "lining" in names else None),
        thickness=shell.thickness,
    )


def _pin(said: Said, made_up: MadeUp) -> Pin:
    """Returns a pin's place on its piece, or raises a Refusal that tells what the piece has."""
    where = f"pins.{said.piece}"
    try:
        cut = made_up.piece(said.piece)
    except KeyError:
        raise refuse(
            where, "no such piece is cut.", f"Name one of: {', '.join(p.name for p in made_up.pieces)}."
        ) from None
    piece = cut.piece
    try:
        if said.mark is not None:
            at, name = piece.mark(said.mark), said.mark
        elif said.edge is not None:
            edge = _edge(piece, said.edge)
            s = piece.stop(edge.name, said.stop) if said.stop else edge.path.length / 2
            at, name = edge.path.at(s), f"{said.edge}{f', {said.stop}' if said.stop else ''}"
        else:
            at, name = Point(0.0, 0.0), "grain mark"
    except KeyError as unknown:
        raise refuse(where, f"{unknown.args[0]}.", "docs/names.md lists edges, stops and marks.") from None
    return Pin(said.piece, at, said.axis, said.place, name)


def _edge(piece: Piece, name: str) -> Edge:
    """Returns an edge by name; of a whole piece, whose edges come in halves, the right one."""
    halved = {edge.name for edge in piece.edges} | {line.name for line in piece.lines}
    return piece.edge(f"{name}.right" if name not in halved and f"{name}.right" in halved else name)


def states_of(piece: CutPiece, match: Match, cloth: Cloth) -> tuple[LatticeState, ...]:
    """Returns every way in which a piece may lie and show the bars that the match chose.

    A reversed axis needs an even sequence about a pivot c (u goes to 2c − u); a nap forbids turning; the wrong side
    needs faces that are alike.
    """
    phase = None if not piece.is_matched else next((p for p in match.phases if p.piece == piece.name), None)
    u = None if phase is None or phase.free_u else phase.u
    v = None if phase is None or phase.free_v else phase.v
    matched = phase.orientation if phase else Orientation()
    states: list[LatticeState] = []
    for t, f in ((1, 1), (-1, 1), (1, -1), (-1, -1)):
        lying = Orientation(t, f)
        if t != 1 and cloth.nap is not Nap.NONE:
            continue
        if f != 1 and not cloth.faces_alike:
            continue
        u_back = lying.reading(Axis.UPRIGHT) != matched.reading(Axis.UPRIGHT)
        v_back = lying.reading(Axis.LEVEL) != matched.reading(Axis.LEVEL)
        if (u is None or not u_back or cloth.warp.is_even) and (v is None or not v_back or cloth.weft.is_even):
            states.append(
                LatticeState(t, f, _turned(u, cloth.warp) if u_back else u, _turned(v, cloth.weft) if v_back else v)
            )
    return tuple(states)


def _turned(place: float | None, sequence: Sequence) -> float | None:
    return None if place is None else (2 * sequence.pivots[0] - place) % sequence.repeat


def board_of(cloth: Cloth) -> Board:
    """Returns the cloth as the layout sees it."""
    return Board(
        width=cloth.width,
        selvedge=cloth.selvedge,
        repeat_x=cloth.warp.repeat if cloth.has_upright_bars else None,
        repeat_y=cloth.weft.repeat if cloth.has_level_bars else None,
        ox=cloth.sett_at_left,
        oy=cloth.sett_at_end,
        faults=tuple(tuple(Point(x, y) for x, y in fault.outline) for fault in cloth.faults),
        length_in_hand=cloth.length_in_hand,
    )


def _lay_out(cloth: Cloth, made_up: MadeUp, match: Match, effort: int) -> ClothPlan:
    pieces = [piece for piece in made_up.pieces if piece.cloth == cloth.name]
    upright = Orientation()
    shapes = tuple(
        Shape(
            piece.name,
            tuple(upright.place(p, piece.grain_turn) for p in piece.cutting_line),
            states_of(piece, match, cloth),
        )
        for piece in pieces
    )
    layout = lay(shapes, board_of(cloth), effort=effort)
    return ClothPlan(cloth, layout, reckon(layout, pieces, cloth))


def _unused(cloths: Iterable[Cloth], made_up: MadeUp) -> list[Finding]:
    used = {piece.cloth for piece in made_up.pieces}
    return [
        Finding(Weight.NOTE, f"cloths.{cloth.name}", "no piece of this plan is cut from it.")
        for cloth in cloths
        if cloth.name not in used
    ]
