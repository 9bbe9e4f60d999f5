"""A commission's design in a range of sizes: each size drafted from its own body, drawn as a nest, told as a table."""

from __future__ import annotations

import csv
import io
from collections.abc import Sequence
from dataclasses import dataclass

from rich.console import Console
from rich.markup import escape
from rich.table import Table

from settwright.body.sizes import SizeTable
from settwright.commission.model import Commission
from settwright.geometry import Point
from settwright.pattern.nest import Nest, Sized, draft_range, nests_of
from settwright.planner.derive import draft_garments, shell_of
from settwright.planner.files import File
from settwright.units import Units, format_length
from settwright.workbook.drawing.nest_drawing import draw_nests, nest_size, widest
from settwright.workbook.drawing.pen import PdfPen, SvgPen, new_canvas, register_fonts

_TOLD = ("bust_girth", "waist_girth", "hip_girth", "height")
_OVERVIEW = 0.2  # a fifth of the full size
_PAGE, _MARGIN, _HEAD = 420.0, 12.0, 14.0  # width of the overview, its margin and head, millimetres


@dataclass(frozen=True)
class Graded:
    """A commission's garments in the sizes of a table, the smallest first."""

    title: str
    units: Units
    table: SizeTable
    garments: tuple[tuple[Sized, ...], ...]

    @property
    def sizes(self) -> tuple[Sized, ...]:
        """Returns the sizes of the first garment."""
        return self.garments[0]


def grade(commission: Commission, table: SizeTable, smallest: str | None = None, largest: str | None = None) -> Graded:
    """Returns the commission's design drafted for the sizes of a table; its client's measurements aren't used.

    Raises Refusal for a size that the table hasn't, or from which the design can't be cut.
    """
    thickness = shell_of(commission).thickness
    sizes = table.between(smallest, largest)
    count = len(draft_garments(commission, sizes[0].body(), thickness))
    garments = tuple(
        draft_range(sizes, lambda body, number=number: draft_garments(commission, body, thickness)[number])
        for number in range(count)
    )
    return Graded(commission.title, commission.units, table, garments)


def graded_files(graded: Graded) -> tuple[File, ...]:
    """Returns the nest of every garment, small on one sheet and at full size, and every edge's length by size."""
    files: list[File] = []
    for sized in graded.garments:
        garment = sized[0].draft.name
        nests = nests_of(sized)
        files += [
            File(f"nest-{garment}.pdf", f"every piece of the {garment} in its sizes, a fifth of full size",
                 _overview(graded, nests)),
            File(f"nest-{garment}.svg", f"the same at full size, seam lines of the {garment}", _full_size(nests)),
            File(f"grading-{garment}.csv", "the length of every edge in every size, in millimetres",
                 _lengths(sized).encode()),
        ]  # fmt: skip
    return tuple(files)


def print_graded(console: Console, graded: Graded) -> None:
    """Prints the bodies that the sizes were drafted for."""
    console.print(f"[bold]{escape(graded.title)}[/]: {escape(graded.table.title)}")
    rows = Table.grid(padding=(0, 2))
    rows.add_row("size", *(name.replace("_", " ") for name in _TOLD))
    for size in graded.sizes:
        rows.add_row(size.name, *(format_length(size.body[name], graded.units) for name in _TOLD))
    console.print(rows)


def _overview(graded: Graded, nests: Sequence[Nest]) -> bytes:
    register_fonts()
    wide = max(_PAGE - 2 * _MARGIN, widest(nests, _OVERVIEW))
    high = nest_size(nests, wide, _OVERVIEW)[1]
    page = (wide + 2 * _MARGIN, high + 2 * _MARGIN + _HEAD)
    target = io.BytesIO()
    canvas = new_canvas(target, page)
    pen = PdfPen(canvas)
    pen.text(Point(_MARGIN, page[1] - _MARGIN - 5.0), graded.title, size=6.0, weight="semibold")
    pen.text(
        Point(_MARGIN, page[1] - _MARGIN - 10.5),
        f"{graded.table.title}. A fifth of full size; seam lines, without allowances; pieces lie on their grain marks.",
        size=3.2,
        weight="italic",
    )
    hung = PdfPen(canvas, Point(_MARGIN, page[1] - _MARGIN - _HEAD))
    draw_nests(hung, nests, width=wide, scale=_OVERVIEW)
    canvas.showPage()
    canvas.save()
    return target.getvalue()


def _full_size(nests: Sequence[Nest]) -> bytes:
    wide = max(1500.0, widest(nests, 1.0))
    high = nest_size(nests, wide, 1.0)[1]
    pen = SvgPen((0.0, -high, wide, 0.0), title="Nest of sizes")
    draw_nests(pen, nests, width=wide, scale=1.0)
    return pen.finish().encode()


def _lengths(sized: Sequence[Sized]) -> str:
    target = io.StringIO()
    rows = csv.writer(target, lineterminator="\n")
    rows.writerow(["piece", "edge", *(size.name for size in sized)])
    edges = dict.fromkeys((p.name, e.name) for size in sized for p in size.draft.pieces for e in p.edges)
    found = [{(p.name, e.name): e.path.length for p in size.draft.pieces for e in p.edges} for size in sized]
    for piece, edge in edges:
        lengths = (size.get((piece, edge)) for size in found)
        rows.writerow([piece, edge, *("" if length is None else f"{length:.1f}" for length in lengths)])
    return target.getvalue()
