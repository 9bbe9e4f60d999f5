"""What else might be decided about the bars: each choice worked through and set beside the plan."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from settwright.bars.answers import Answer, Derived, Movable, answers
from settwright.bars.match import match
from settwright.bars.model import Axis, Match
from settwright.bars.ranking import rank_fronts
from settwright.bars.ways import Way, ways
from settwright.commission.model import Commission, Uneven
from settwright.findings import Refusal
from settwright.layout.engine import lay
from settwright.makeup.model import CutPiece
from settwright.pattern.drafts.pocket import PLACES
from settwright.plan.plan import Compared, Plan
from settwright.planner.derive import draft_garments, make_up_garments, pins_of, prepare_bars, shell_of
from settwright.planner.laying import board_of, to_lay

SHORTLY = 60  # million table entries: a tenth of a plan's own search, the same for every way


def compared(plan: Plan) -> Plan:
    """Returns the plan with its choices compared: the centre front, the halves' ways, the hems."""
    commission, made_up = plan.commission, plan.made_up
    prepared = prepare_bars(commission, made_up, shell_of(commission))
    fronts = rank_fronts(prepared, pins_of(commission, made_up), plan.match)
    return replace(plan, compared=Compared(fronts, ways_of(plan), _answers(plan)))


def ways_of(plan: Plan) -> tuple[Way, ...]:
    """Returns the ways of laying the halves in an uneven sett, each matched and shortly laid; none in an even one."""
    commission, made_up = plan.commission, plan.made_up
    shell, pins = shell_of(commission), pins_of(commission, made_up)
    pieces = [piece for piece in made_up.pieces if piece.cloth == shell.name]

    def matched(way: Uneven) -> Match:
        return match(prepare_bars(commission, made_up, shell, way), pins)

    def laid(found: Match) -> float | None:
        try:
            moving, stays = to_lay(commission, shell, pieces, found)
            return lay(moving, board_of(shell), stays=stays, effort=SHORTLY).length
        except Refusal:
            return None

    return ways(shell, commission.choices.uneven, plan.match, matched, laid)


def _answers(plan: Plan) -> tuple[Answer, ...]:
    commission = plan.commission
    shell = shell_of(commission)

    def again(field: str, value: float) -> Derived:
        changed = with_field(commission, field, value)
        made_up = make_up_garments(changed, draft_garments(changed, plan.body, shell.thickness), shell)
        prepared = prepare_bars(changed, made_up, shell)
        return made_up.pieces, match(prepared, pins_of(changed, made_up), plan.match, is_wide=True)

    movables = (*hems_of(commission), *moves_of(commission, plan.made_up.pieces))
    return answers(movables, plan.made_up.pieces, shell, plan.match, again)


def hems_of(commission: Commission) -> tuple[Movable, ...]:
    """Returns the lengths of the design that may give way to the cloth: a hem's lower edge, as worn."""

    def hem(field: str, title: str, now: float, piece: str) -> Movable:
        return Movable(
            field, title, now, 0.0, 2 * now, piece, Axis.LEVEL,
            edge="centre-back", stop="hem", sense=-1, parts=("lower edge",), words=("longer", "shorter"),
        )  # fmt: skip

    found: list[Movable] = []
    if commission.jacket:
        length = commission.jacket.length_below_waist
        found.append(hem("jacket.length_below_waist", "the jacket's hem", length, "back.right"))
    if commission.skirt:
        found.append(hem("skirt.length", "the skirt's hem", commission.skirt.length, "skirt-back.right"))
    return tuple(found)


_EDGES, _MIDDLE = ("left edge", "right edge"), ("middle",)


def moves_of(commission: Commission, pieces: Sequence[CutPiece]) -> tuple[Movable, ...]:
    """Returns what else of the draft may give way, by the fields of [jacket.moved] and [skirt.moved]."""
    found: list[Movable] = []
    if commission.jacket:
        moved, up, front = commission.jacket.moved, ("up", "down"), ("towards the front", "towards the back")
        hollow = _hollow(pieces)
        found += [
            Movable("jacket.moved.centre_back", "the centre back", moved.centre_back, 0.0, moved.centre_back + hollow,
                    "back.right", Axis.UPRIGHT, words=("straighter", "more hollow")),
            Movable("jacket.moved.side_back", "the side back seam", moved.side_back, -20.0, 20.0, "back.right",
                    Axis.UPRIGHT, edge="side-back", stop="waist", parts=_EDGES, words=front),
            Movable("jacket.moved.side_front", "the side front seam", moved.side_front, -20.0, 20.0, "front.right",
                    Axis.UPRIGHT, edge="side-front", stop="waist", parts=_EDGES, words=front),
            Movable("jacket.moved.front_dart", "the front's dart", moved.front_dart, -15.0, 15.0, "front.right",
                    Axis.UPRIGHT, mark="dart-top", parts=_MIDDLE, words=front),
            Movable("jacket.moved.pocket", "the pocket", moved.pocket, -20.0, 20.0, "front.right", Axis.LEVEL,
                    edge=PLACES[commission.jacket.pockets], parts=("lower edge", "upper edge"), words=up),
            Movable("jacket.moved.buttons", "the buttons, the top one", moved.buttons, -20.0, 20.0, "front.right",
                    Axis.LEVEL, mark="button-1", parts=_MIDDLE, words=up),
        ]  # fmt: skip
    if commission.skirt:
        moved, side = commission.skirt.moved, ("towards the side", "towards the centre")
        found += [
            Movable("skirt.moved.front_dart", "the skirt front's darts", moved.front_dart, -15.0, 15.0, "skirt-front",
                    Axis.UPRIGHT, mark="dart-1-point.right", sense=-1, parts=_MIDDLE, words=side),
            Movable("skirt.moved.back_darts", "the skirt back's darts, the inner one", moved.back_darts, -15.0, 15.0,
                    "skirt-back.right", Axis.UPRIGHT, mark="dart-1-point", parts=_MIDDLE, words=side),
        ]  # fmt: skip
    return tuple(found)


def _hollow(pieces: Sequence[CutPiece]) -> float:
    """Returns by how much the jacket's centre back comes in at the waist."""
    back = next((piece.piece for piece in pieces if piece.name == "back.right"), None)
    if back is None:
        return 0.0
    path = back.edge("centre-back").path
    return abs(path.at(back.stop("centre-back", "waist")).x - path.start.x)


def with_field(commission: Commission, field: str, value: float) -> Commission:
    """Returns the commission with one length of its design changed: "skirt.length", "jacket.moved.pocket"."""
    garment, _, name = field.partition(".")
    design = commission.jacket if garment == "jacket" else commission.skirt if garment == "skirt" else None
    if design is None:
        raise KeyError(field)
    group, _, part = name.partition(".")
    changed = {group: replace(getattr(design, group), **{part: value})} if part else {name: value}
    return replace(commission, **{garment: replace(design, **changed)})


__all__ = ["compared", "hems_of", "moves_of", "ways_of", "with_field"]
