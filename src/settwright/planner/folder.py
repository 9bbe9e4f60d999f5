"""Writes a plan's files: each made in memory first, then put in place whole."""

from __future__ import annotations

import json
import os
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from settwright.bars.crossings import Crossing, crossings
from settwright.exchange.dxf import write_dxf
from settwright.exchange.svg import pieces_svg
from settwright.plan.build import document_of
from settwright.plan.document import encode, schema
from settwright.plan.plan import Plan
from settwright.planner.derive import OnStage
from settwright.units import Units
from settwright.workbook.book import garment_svg, layout_svg, workbook_pdf
from settwright.workbook.sheets import drawn_pattern, one_large_sheet, tile_sheets


@dataclass(frozen=True, slots=True)
class Written:
    """A file of the plan and what it shows."""

    name: str
    shows: str


def write_folder(plan: Plan, folder: Path, on_stage: OnStage) -> tuple[Written, ...]:
    """Writes every file of a plan; returns what was written. Raises OSError."""
    files = tuple(_files(plan, on_stage))
    folder.mkdir(parents=True, exist_ok=True)
    for file, content in files:
        target = folder / file.name
        part = target.with_name(target.name + ".part")
        part.write_bytes(content)
        os.replace(part, target)
    return tuple(file for file, _ in files)


def _files(plan: Plan, on_stage: OnStage) -> Iterator[tuple[Written, bytes]]:
    units, stage, pieces = plan.commission.units, plan.commission.choices.stage, plan.made_up.pieces
    yield Written("plan.json", "the whole plan, for any program to check"), encode(document_of(plan))
    yield (
        Written("plan.schema.json", "the form of plan.json"),
        (json.dumps(schema(), indent=1, sort_keys=True) + "\n").encode(),
    )
    on_stage("workbook")
    yield Written("workbook.pdf", "garment, measurements, layout, seams, order of work"), workbook_pdf(plan)
    yield Written("garment.svg", "the garment front and back with its bars"), garment_svg(plan).encode()
    for cloth in plan.cloths:
        name = cloth.cloth.name
        yield Written(f"layout-{name}.svg", f"the cutting layout of the {name}"), layout_svg(plan, cloth).encode()
    on_stage("sheets")
    pattern = drawn_pattern(pieces, _crossings(plan), units=units, title=plan.commission.title, stage=stage)
    page = "A4" if units is Units.CM else "Letter"
    yield (
        Written(f"sheets-{page}.pdf", f"the pattern at full size on {page} tiles"),
        tile_sheets(pattern, page),
    )
    yield (
        Written("sheets-large.pdf", "the pattern at full size on one sheet"),
        one_large_sheet(pattern),
    )
    yield Written("pieces.dxf", "the pieces for other programs, millimetres"), write_dxf(pieces, units=units)
    yield Written("pieces.svg", "the pieces at full size"), pieces_svg(pieces).encode()


def _crossings(plan: Plan) -> dict[str, tuple[Crossing, ...]]:
    found: dict[str, tuple[Crossing, ...]] = {}
    for piece in plan.made_up.pieces:
        phase = plan.phase(piece.name)
        if phase is not None and piece.is_matched:
            found[piece.name] = crossings(piece, phase, plan.commission.cloth(piece.cloth))
    return found
