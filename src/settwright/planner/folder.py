"""Writes a plan's files: each made in memory first, then put in place whole."""

from __future__ import annotations

import os
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path

from settwright.plan.plan import Plan
from settwright.planner.advice import Advice, advice_sections
from settwright.planner.assistant import Assistant
from settwright.planner.derive import OnStage
from settwright.planner.files import File, book_files, sheet_files


@dataclass(frozen=True, slots=True)
class Written:
    """A file of the plan and what it shows."""

    name: str
    shows: str


def write_folder(
    plan: Plan, folder: Path, on_stage: OnStage, assistant: Assistant, advice: Advice | None = None
) -> tuple[Written, ...]:
    """Writes every file of a plan; returns what was written. Raises OSError.

    The assistant makes the full-size sheets meanwhile, if it can.
    """
    on_stage("workbook")
    book = book_files(plan, advice_sections(advice) if advice else ())
    on_stage("sheets")
    files = (*book, *(assistant.sheets() or sheet_files(plan)))
    return put_in_place(files, folder)


def put_in_place(files: Iterable[File], folder: Path) -> tuple[Written, ...]:
    """Writes files into a folder, made if it isn't there, each whole or not at all. Raises OSError."""
    folder.mkdir(parents=True, exist_ok=True)
    written: list[Written] = []
    for file in files:
        target = folder / file.name
        part = target.with_name(target.name + ".part")
        part.write_bytes(file.content)
        os.replace(part, target)
        written.append(Written(file.name, file.shows))
    return tuple(written)
