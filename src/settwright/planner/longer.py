"""A longer search for the shortest layout, its result kept in the commission as found."""

from __future__ import annotations

from dataclasses import replace

from settwright.commission.reading import read_commission
from settwright.commission.writing import AddFound, write_back
from settwright.layout.library import can_search, lay_by_library
from settwright.plan.plan import ClothPlan, Plan
from settwright.planner.derive import OnStage, derive
from settwright.planner.laying import LONGER, OnLength, board_of, found_of, to_lay


def search_longer(text: str, name: str, on_stage: OnStage, on_length: OnLength, effort: int = LONGER) -> str:
    """Returns the commission with the layouts found by a longer search, its comments kept.

    `on_length` is told how the lengths fall; True from it ends the search of a cloth, and the best so far is kept. A
    layout that the commission holds already, for the same pieces and cloth, stays unless a shorter one is found.

    Raises Refusal for a commission that can't be planned.
    """
    stopped: list[str] = []

    def told(cloth: str, part: float, length: float) -> bool | None:
        stop = on_length(cloth, part, length)
        if stop:
            stopped.append(cloth)
        return stop

    plan = derive(read_commission(text, name), on_stage, effort=effort, anew=True, on_length=told)
    cloths = plan.cloths if stopped else tuple(_by_library(plan, cloth) for cloth in plan.cloths)
    return write_back(text, [AddFound(found_of(cloth)) for cloth in cloths], name)


def _by_library(plan: Plan, cloth: ClothPlan) -> ClothPlan:
    """Returns a plain cloth with the shorter of its own layout and the one that a general library finds."""
    board = board_of(cloth.cloth)
    pieces = [piece for piece in plan.made_up.pieces if piece.cloth == cloth.cloth.name]
    moving, stays = to_lay(plan.commission, cloth.cloth, pieces, plan.match)
    if stays or not can_search(moving, board):
        return cloth
    found = lay_by_library(moving, board)
    return replace(cloth, layout=found) if found and found.length < cloth.layout.length else cloth
