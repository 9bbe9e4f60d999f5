"""A longer search for the shortest layout, its result kept in the commission as found."""

from __future__ import annotations

from settwright.commission.reading import read_commission
from settwright.commission.writing import AddFound, write_back
from settwright.planner.derive import OnStage, derive
from settwright.planner.laying import LONGER, OnLength, found_of


def search_longer(text: str, name: str, on_stage: OnStage, on_length: OnLength, effort: int = LONGER) -> str:
    """Returns the commission with the layouts found by a longer search, its comments kept.

    `on_length` is told how the lengths fall; True from it ends the search of a cloth, and the best so far is kept. A
    layout that the commission holds already, for the same pieces and cloth, stays unless a shorter one is found.

    Raises Refusal for a commission that can't be planned.
    """
    plan = derive(read_commission(text, name), on_stage, effort=effort, anew=True, on_length=on_length)
    return write_back(text, [AddFound(found_of(cloth)) for cloth in plan.cloths], name)
