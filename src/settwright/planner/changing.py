"""What one change moves: the commission's drafts with and without it, told point by point and drawn."""

from __future__ import annotations

import io
from collections.abc import Sequence
from dataclasses import dataclass

from rich.console import Console
from rich.markup import escape

from settwright.body import Body
from settwright.body.catalogue import BY_NAME
from settwright.commission.model import Commission
from settwright.commission.reading import read_commission
from settwright.commission.writing import SetValue, write_back
from settwright.findings import Finding, Weight, refuse
from settwright.geometry import Point
from settwright.pattern import Draft
from settwright.pattern.moved import Kind, Moved, moved
from settwright.planner.derive import body_of, draft_garments, shell_of
from settwright.units import Units
from settwright.workbook.drawing.moved_drawing import draw_moved, moved_size
from settwright.workbook.drawing.pen import POINT, PdfPen, new_canvas

_PAGE, _MARGIN, _HEAD, _SCALE = 420.0, 12.0, 14.0, 0.2  # width of the page, margin, head; a fifth of full size
_MOST = 12  # lines printed of each garment


@dataclass(frozen=True)
class Change:
    """One thing changed in a commission, and the drafts before and after it, garment by garment."""

    title: str
    said: str  # "waist girth 78"
    units: Units
    drafts: tuple[tuple[Draft, Draft], ...]
    findings: tuple[Finding, ...] = ()  # what there is to say of the changed body that wasn't of the old one

    @property
    def moved(self) -> tuple[tuple[str, tuple[Moved, ...]], ...]:
        """Returns by garment what moved, what moved farthest first; a garment that stands still is left out."""
        found = ((after.name, moved(before, after)) for before, after in self.drafts)
        return tuple((name, tuple(sorted(every, key=_how_far))) for name, every in found if every)


def _how_far(one: Moved) -> tuple[bool, float, str, str]:
    return one.kind is not Kind.PIECE, -round(max(one.distance, abs(one.longer)), 3), one.of, one.name


def change(text: str, name: str, said: str) -> Change:
    """Returns what a change does to a commission's drafts. `said` names a field and its new value: "waist_girth 78",
    "jacket.lapel_width 9", "skirt.length 62"; a length without a unit is taken in the commission's.

    Raises Refusal for a field that doesn't exist, a value that it can't have, or drafts that can't be made.
    """
    field, _, value = said.strip().replace("=", " ").partition(" ")
    value = value.strip().strip('"')
    if not value:
        raise refuse("--change", f"“{said}” doesn't name a field and its new value.", 'Write it so: "waist_girth 78".')
    path = ("measurements", field) if field in BY_NAME else tuple(field.split("."))
    if len(path) < 2:
        raise refuse(
            "--change",
            f"no measurement is called “{field}”.",
            "docs/measurements.md lists them. A choice is named with its garment: jacket.lapel_width.",
        )
    before = read_commission(text, name)
    after = read_commission(write_back(text, [SetValue(path, _value(value))], name), name)
    old, new = body_of(before), body_of(after)
    pairs = tuple(zip(_drafted(before, old), _drafted(after, new), strict=True))
    told = tuple(found for found in new.findings if found not in old.findings and found.weight is not Weight.ESTIMATED)
    return Change(before.title, f"{field.replace('_', ' ')} {value}", before.units, pairs, told)


def _value(written: str) -> str | int | float | bool:
    """Returns a value as the commission's file would hold it."""
    if written in ("true", "false"):
        return written == "true"
    for kind in (int, float):
        try:
            return kind(written)
        except ValueError:
            continue
    return written


def _drafted(commission: Commission, body: Body) -> tuple[Draft, ...]:
    return draft_garments(commission, body, shell_of(commission).thickness)


def print_change(console: Console, found: Change) -> None:
    """Prints what moved, the farthest first, and what there is to say of the changed body."""
    console.print(f"[bold]{escape(found.title)}[/]: with {escape(found.said)}")
    if not found.moved:
        console.print("Nothing moves.")
    for garment, every in found.moved:
        console.print(f"\n[bold]{garment.capitalize()}[/]")
        for one in every[:_MOST]:
            console.print(f"  {escape(one.told(found.units))}")
        if len(every) > _MOST:
            console.print(f"  and {len(every) - _MOST} things by less.")
    for one in found.findings:
        console.print(f"\n{escape(str(one))}")


def change_pdf(found: Change) -> bytes:
    """Returns a page for every garment with what moved: old outlines quiet, new ones strong."""
    target = io.BytesIO()
    wide = _PAGE - 2 * _MARGIN
    drawn = [(before, after) for before, after in found.drafts if moved_size(before, after, wide, _SCALE)[1]]
    pages = [(wide, moved_size(before, after, wide, _SCALE)[1]) for before, after in drawn]
    canvas = new_canvas(target, _page(pages[0] if pages else (wide, 20.0)))
    for (before, after), size in zip(drawn, pages, strict=True):
        page = _page(size)
        canvas.setPageSize((page[0] / POINT, page[1] / POINT))
        _head(PdfPen(canvas), page, f"{found.title}, {after.name}: with {found.said}", _TOLD)
        pen = PdfPen(canvas, Point(_MARGIN, page[1] - _MARGIN - _HEAD))
        draw_moved(pen, before, after, width=wide, scale=_SCALE, units=found.units)
        canvas.showPage()
    if not drawn:
        _head(PdfPen(canvas), _page((wide, 20.0)), f"{found.title}: with {found.said}", "Nothing moves.")
        canvas.showPage()
    canvas.save()
    return target.getvalue()


_TOLD = "A fifth of full size. Grey, dashed: as it was; black: as it is; arrows too short to be seen are drawn longer."


def _page(size: tuple[float, float]) -> tuple[float, float]:
    return size[0] + 2 * _MARGIN, size[1] + 2 * _MARGIN + _HEAD


def _head(pen: PdfPen, page: Sequence[float], title: str, told: str) -> None:
    pen.text(Point(_MARGIN, page[1] - _MARGIN - 5.0), title, size=6.0, weight="semibold")
    pen.text(Point(_MARGIN, page[1] - _MARGIN - 10.5), told, size=3.2, weight="italic")
