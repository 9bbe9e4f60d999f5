"""What a plan's files hold, made in memory: those of the workbook, and those of the pattern at full size."""

from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import dataclass

from reportlab.platypus import Flowable

from settwright.bars.crossings import Crossing, crossings
from settwright.exchange.dxf import write_dxf
from settwright.exchange.svg import pieces_svg
from settwright.makeup.edges.templates import templates_of
from settwright.plan.build import document_of
from settwright.plan.document import encode, schema
from settwright.plan.plan import Plan
from settwright.units import Units
from settwright.workbook.book import layout_svg, workbook_pdf
from settwright.workbook.cover import garment_svg, pictures
from settwright.workbook.sheets import drawn_pattern, one_large_sheet, tile_sheets


@dataclass(frozen=True, slots=True)
class File:
    """A file of the plan, what it shows, and its bytes."""

    name: str
    shows: str
    content: bytes


def book_files(plan: Plan, advice: Sequence[Flowable] = ()) -> tuple[File, ...]:
    """Returns the plan as data, the workbook and its pictures; `advice` is a page on a cloth that is too short."""
    views = pictures(plan)
    return (
        File("plan.json", "the whole plan, for any program to check", encode(document_of(plan))),
        File(
            "plan.schema.json",
            "the form of plan.json",
            (json.dumps(schema(), indent=1, sort_keys=True) + "\n").encode(),
        ),
        File("workbook.pdf", "garment, measurements, layout, seams, order of work", workbook_pdf(plan, views, advice)),
        File("garment.svg", "the garment from every side with its bars", garment_svg(plan, views).encode()),
        *(
            File(
                f"layout-{cloth.cloth.name}.svg",
                f"the cutting layout of the {cloth.cloth.name}",
                layout_svg(plan, cloth).encode(),
            )
            for cloth in plan.cloths
        ),
    )


def usual_page(units: Units) -> str:
    """Returns the paper that lies in the printer where people measure in these units."""
    return "A4" if units is Units.CM else "Letter"


def sheet_files(plan: Plan, pages: Sequence[str] = ()) -> tuple[File, ...]:
    """Returns the pattern at full size: on tiles of each paper asked for (the usual one where none is), on one sheet,
    and for other programs.

    What is cut after the fitting is left out.
    """
    units = plan.commission.units
    pieces = tuple(piece for piece in plan.made_up.pieces if not piece.is_later)
    pattern = drawn_pattern(
        pieces,
        _crossings(plan),
        units=units,
        title=plan.commission.title,
        stage=plan.commission.choices.stage,
        templates=templates_of(plan.made_up),
    )
    return (
        *(
            File(f"sheets-{page}.pdf", f"the pattern at full size on {page} tiles", tile_sheets(pattern, page))
            for page in pages or (usual_page(units),)
        ),
        File("sheets-large.pdf", "the pattern at full size on one sheet", one_large_sheet(pattern)),
        File("pieces.dxf", "the pieces for other programs, millimetres", write_dxf(pieces, units=units)),
        File("pieces.svg", "the pieces at full size", pieces_svg(pieces).encode()),
    )


def _crossings(plan: Plan) -> dict[str, tuple[Crossing, ...]]:
    found: dict[str, tuple[Crossing, ...]] = {}
    for piece in plan.made_up.pieces:
        phase = plan.phase(piece.name)
        if phase is not None and piece.is_matched:
            found[piece.name] = crossings(piece, phase, plan.commission.cloth(piece.cloth))
    return found
