"""The workbook: one well-set PDF from the garment's picture to the drafting record; and the same pictures as SVG."""

from __future__ import annotations

import io
from collections.abc import Callable, Sequence

from reportlab.lib.colors import HexColor
from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import BaseDocTemplate, Flowable, Frame, PageBreak, PageTemplate, Spacer

from settwright.geometry import Transform
from settwright.layout.places import Place, places_of
from settwright.plan.plan import ClothPlan, Plan
from settwright.units import Units, format_cloth, format_fine, format_length
from settwright.workbook.drawing.garment import draw_garment, garment_box
from settwright.workbook.drawing.layout_drawing import draw_layout, layout_box
from settwright.workbook.drawing.pen import FONTS, POINT, PdfPen, Pen, SvgPen, register_fonts
from settwright.workbook.record import record_section
from settwright.workbook.seam_cards import seams_section
from settwright.workbook.sections import (
    findings_section,
    measurements_section,
    order_section,
    pieces_section,
    preparing_section,
    reckoning_section,
)
from settwright.workbook.style import (
    HEAD,
    LEAD,
    QUIET,
    QUIET_SMALL,
    RULE,
    SMALL,
    TITLE,
    Drawing,
    paragraph,
    ruled_table,
)

_PAGES = {Units.CM: (210.0, 297.0), Units.INCHES: (215.9, 279.4)}
_MARGIN = 16.0
_GAP = 40.0  # between front and back view, millimetres of the garment


def workbook_pdf(plan: Plan) -> bytes:
    """Returns the workbook; the same plan gives the same bytes."""
    register_fonts()
    page = _PAGES[plan.commission.units]
    target = io.BytesIO()
    book = BaseDocTemplate(
        target,
        pagesize=(page[0] / POINT, page[1] / POINT),
        invariant=1,
        pageCompression=1,
        title=plan.commission.title,
        author="Settwright",
    )
    frame = Frame(
        _MARGIN / POINT,
        _MARGIN / POINT,
        (page[0] - 2 * _MARGIN) / POINT,
        (page[1] - 2 * _MARGIN) / POINT,
        leftPadding=0,
        rightPadding=0,
        topPadding=0,
        bottomPadding=10,
    )

    def foot(canvas: Canvas, document: BaseDocTemplate) -> None:
        _draw_foot(canvas, plan, document.page, page)

    book.addPageTemplates([PageTemplate(id="page", frames=[frame], onPage=foot)])
    room = (page[0] - 2 * _MARGIN, page[1] - 2 * _MARGIN)
    sections: list[Sequence[Flowable]] = [
        _cover(plan, room),
        findings_section(plan),
        measurements_section(plan),
        pieces_section(plan),
        [*reckoning_section(plan), *preparing_section(plan)],
        *(_layout_section(plan, cloth, room) for cloth in plan.cloths),
        seams_section(plan),
        order_section(plan),
        record_section(plan),
    ]
    flow: list[Flowable] = []
    for number, section in enumerate(sections):
        if number:
            flow.append(PageBreak())
        flow += section
    book.build(flow)
    return target.getvalue()


def _draw_foot(canvas: Canvas, plan: Plan, number: int, page: tuple[float, float]) -> None:
    canvas.saveState()
    canvas.setStrokeColor(HexColor(RULE))
    canvas.setLineWidth(0.4)
    canvas.line(_MARGIN / POINT, 12.5 / POINT, (page[0] - _MARGIN) / POINT, 12.5 / POINT)
    canvas.setFillColor(HexColor(QUIET))
    canvas.setFont(FONTS["italic"][0], 8)
    canvas.drawString(_MARGIN / POINT, 8.5 / POINT, plan.commission.title)
    canvas.drawRightString((page[0] - _MARGIN) / POINT, 8.5 / POINT, str(number))
    canvas.restoreState()


def _cover(plan: Plan, room: tuple[float, float]) -> list[Flowable]:
    commission, units = plan.commission, plan.commission.units
    lines = [f"For {commission.client}." if commission.client else ""]
    for cloth in plan.cloths:
        lays_in, buy = format_cloth(cloth.reckoning.lays_in, units), format_cloth(cloth.reckoning.buy, units)
        lines.append(f"{cloth.cloth.title}: lays in {lays_in}, buy {buy}.")
    worst = plan.worst_join
    if worst is not None:
        drift = next(d for d in plan.match.drifts if d.join == worst.name)
        name = worst.name.replace(".", ", ").replace("-", " ")
        lines.append(
            f"Worst of the seams that matter: {name}, where level bars miss by {format_fine(drift.worst_level, units)}."
        )
    box, _ = _both_views(plan, 1.0)
    box, draw = _both_views(plan, min(room[0] / (box[2] - box[0]), (room[1] - 62) / (box[3] - box[1])))
    return [
        paragraph(commission.title, TITLE),
        *(paragraph(line, LEAD if number == 0 else SMALL) for number, line in enumerate(lines) if line),
        Spacer(1, 10),
        Drawing(box, 1.0, draw),
        paragraph("The picture shows where the bars fall, not how the cloth hangs.", QUIET_SMALL),
    ]


def _both_views(plan: Plan, scale: float) -> tuple[tuple[float, float, float, float], Callable[[Pen], None]]:
    """Returns the box on the page of front and back side by side, and what draws them."""
    front, back = (garment_box(plan.made_up, scale, view) for view in ("front", "back"))
    shift = front[2] + _GAP * scale - back[0]
    box = (front[0], min(front[1], back[1]), back[2] + shift, max(front[3], back[3]))

    def draw(pen: Pen) -> None:
        draw_garment(pen, plan.made_up, plan.match, plan.commission.cloths, "front", scale=scale)
        with pen.moved(Transform.shift(shift, 0.0)):
            draw_garment(pen, plan.made_up, plan.match, plan.commission.cloths, "back", scale=scale)

    return box, draw


def garment_svg(plan: Plan) -> str:
    """Returns the garment, front and back, as an SVG document."""
    box, draw = _both_views(plan, 0.2)
    pen = SvgPen(box, title=f"{plan.commission.title}, front and back")
    draw(pen)
    return pen.finish()


def layout_svg(plan: Plan, cloth: ClothPlan, scale: float = 0.2) -> str:
    """Returns a cutting layout as an SVG document, at `scale` millimetres to one of cloth."""
    pen = SvgPen(layout_box(cloth.cloth, cloth.reckoning.buy, scale), title=f"Cutting layout, {cloth.cloth.title}")
    draw_layout(
        pen,
        cloth.cloth,
        plan.made_up.pieces,
        cloth.layout,
        scale=scale,
        length=cloth.reckoning.buy,
        units=plan.commission.units,
    )
    return pen.finish()


def _layout_section(plan: Plan, cloth: ClothPlan, room: tuple[float, float]) -> list[Flowable]:
    units, length = plan.commission.units, cloth.reckoning.buy
    box = layout_box(cloth.cloth, length, 1.0)
    margins = (box[2] - box[0] - cloth.cloth.width, box[3] - box[1] - length)
    scale = min((room[0] - margins[0]) / cloth.cloth.width, (room[1] - 34 - margins[1]) / length)

    def draw(pen: PdfPen) -> None:
        draw_layout(pen, cloth.cloth, plan.made_up.pieces, cloth.layout, scale=scale, length=length, units=units)

    return [
        paragraph(f"Cutting layout: {cloth.cloth.title}", HEAD),
        paragraph(
            f"Right side up, one layer, squared end at the foot. 1 : {1 / scale:.0f}. The pieces lie in "
            f"{format_cloth(cloth.layout.length, units)} of {format_length(cloth.cloth.width, units)} width.",
            SMALL,
        ),
        Spacer(1, 4),
        Drawing(layout_box(cloth.cloth, length, scale), 1.0, draw),
        PageBreak(),
        paragraph("Where each piece lies", HEAD),
        paragraph(
            "Find the grain mark by counting bars; the tape is the check. Cut in this order, centre back first.", LEAD
        ),
        _places_table(places_of(cloth.layout, plan.made_up.pieces, cloth.cloth, units), units),
    ]


def _places_table(places: Sequence[Place], units: Units) -> Flowable:
    rows = [["", "Piece", "The grain mark lies", "By tape: from left selvedge", "from the end"]]
    for number, place in enumerate(places, 1):
        rows.append(
            [
                str(number),
                place.piece.replace(".", ", ").replace("-", " "),
                place.told,
                format_length(place.from_selvedge, units),
                format_length(place.from_end, units),
            ]
        )
    return ruled_table(rows, [8, 36, 86, 26, 22])
