"""The whole line: a commission's text becomes a plan, and the plan a folder of sheets."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from settwright.commission.reading import read_commission
from settwright.plan.plan import Plan
from settwright.planner.advice import Advice, advise, is_short
from settwright.planner.assistant import Assistant
from settwright.planner.comparing import compared
from settwright.planner.derive import OnStage, derive
from settwright.planner.folder import Written, write_folder

__all__ = ["Made", "Plan", "Written", "derive", "plan_to_folder"]


@dataclass(frozen=True)
class Made:
    """A plan, the files that hold it, and what would make it fit where the cloth in hand is too short."""

    plan: Plan
    written: tuple[Written, ...]
    advice: Advice | None = None


def plan_to_folder(text: str, name: str, folder: Path, on_stage: OnStage, *, compare: bool = False) -> Made:
    """Plans a commission and writes everything into a folder; returns the plan and what was written.

    Where the outer cloth in hand is too short, what would make it fit is tried, priced and written as well. With
    `compare` the workbook also tells what other choices would give: it takes some seconds more. Nothing is written
    before the whole plan stands.

    Raises Refusal for a commission that can't be planned, and OSError where the folder can't be written.
    """
    commission = read_commission(text, name)
    with Assistant() as assistant:
        plan = derive(commission, on_stage, on_matched=assistant.take)
        if compare:
            on_stage("choices")
            plan = compared(plan)
        advice: Advice | None = None
        if is_short(plan):
            on_stage("what would make it fit")
            advice = advise(commission)
        return Made(plan, write_folder(plan, folder, on_stage, assistant, advice), advice)
