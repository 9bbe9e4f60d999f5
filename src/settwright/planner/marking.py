"""Marks pieces as cut in the commission, as its plan lays them: from then on they keep place, bars and outline."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from settwright.cloth import Cloth
from settwright.commission.desk import offer
from settwright.commission.model import Commission, CutAlready, Cutting, Placed
from settwright.commission.reading import read_commission
from settwright.commission.writing import AddCut, Change, SetValue, write_back
from settwright.findings import refuse
from settwright.layout.model import Layout
from settwright.makeup.staging import BODY
from settwright.plan.plan import Plan
from settwright.planner.derive import OnStage, derive

WHOLE_BODY = "body"
"""A word for all that is cut before the first fitting."""


def mark_cut(text: str, name: str, pieces: Sequence[str], on_stage: OnStage) -> tuple[str, tuple[str, ...]]:
    """Returns the commission with the pieces marked as cut, comments kept, and the instances that were marked.

    Pieces are named as in the plan: "front.right", or "front" for both hands, or "body". On level bars the bar at the
    squared end is written into the cloth's section where it wasn't known.

    Raises Refusal for a piece that isn't in the plan, or a toile, whose cutting leaves the cloth as it is.
    """
    commission = read_commission(text, name)
    _refuse_toile(commission)
    changes, marked = cut_marks(derive(commission, on_stage), pieces)
    return write_back(text, changes, name), marked


def cut_marks(plan: Plan, pieces: Sequence[str]) -> tuple[tuple[Change, ...], tuple[str, ...]]:
    """Returns what marks pieces as cut in the commission of a whole plan, and the instances. Raises as mark_cut."""
    _refuse_toile(plan.commission)
    blocks = {piece.name for piece in plan.made_up.pieces if piece.is_block}
    marked = _instances(plan, pieces)
    if held := [instance for instance in marked if instance in blocks]:
        raise refuse(held[0], "is kept as a rough block for now.", "Mark it when it is cut to its own outline.")
    changes: list[Change] = []
    for cloth in plan.cloths:
        lying = {placement.name: placement for placement in cloth.layout.placements}
        own = [instance for instance in marked if instance in lying]
        for instance in own:
            at, piece = lying[instance], plan.made_up.piece(instance)
            placed = Placed(instance, at.x, at.y, at.t < 0, at.f < 0)
            outline = tuple((p.x, p.y) for p in piece.cutting_line)
            changes.append(AddCut(CutAlready(cloth.cloth.name, placed, "", outline)))
        if own and cloth.cloth.has_level_bars and cloth.cloth.sett_at_end is None:
            changes.append(_squared_end(cloth.cloth, cloth.layout))
    return tuple(changes), marked


def _refuse_toile(commission: Commission) -> None:
    if commission.choices.cutting is Cutting.TOILE:
        raise refuse(
            "choices.cutting", "a toile is planned, and none of its pieces is kept.", "Plan the garment first."
        )


def _instances(plan: Plan, pieces: Iterable[str]) -> tuple[str, ...]:
    known = [piece.name for piece in plan.made_up.pieces]
    found: list[str] = []
    for given in pieces:
        if given == WHOLE_BODY:
            found += [
                piece.name for piece in plan.made_up.pieces if piece.piece.name in BODY and piece.cloth == "shell"
            ]
            continue
        own = [name for name in known if given in (name, name.rsplit(".", 1)[0])]
        if not own:
            raise refuse(given, "no such piece is in this plan.", offer(given, (*known, WHOLE_BODY)))
        found += own
    return tuple(dict.fromkeys(found))


def _squared_end(cloth: Cloth, layout: Layout) -> SetValue:
    """Returns the bar that lies at the squared end, as the commission says it."""
    place = round(-layout.oy % cloth.weft.repeat, 3) % cloth.weft.repeat
    bar = cloth.weft.bar_at(place)
    start = cloth.weft.starts[cloth.weft.bars.index(bar)]
    inside = (place - start) % cloth.weft.repeat
    return SetValue(("cloths", cloth.name, "at_squared_end"), {"bar": bar.name, "at": f"{inside:.3f} mm"})
