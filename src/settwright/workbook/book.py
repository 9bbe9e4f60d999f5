"""The workbook: one well-set PDF from the garment's picture to the drafting record; and the same pictures as SVG."""

from __future__ import annotations

import io
from collections.abc import Sequence

from reportlab.lib.colors import HexColor
from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import BaseDocTemplate, Flowable, Frame, KeepTogether, PageBreak, PageTemplate, Spacer

from settwright.layout.places import Place, places_of
from settwright.layout.remnant import Remnant, remnants_of
from settwright.plan.plan import ClothPlan, Plan
from settwright.units import Units, format_cloth, format_length
from settwright.workbook.comparisons import comparisons_sections
from settwright.workbook.cover import Pictures, cover_section, sides_section
from settwright.workbook.drawing.layout_drawing import draw_layout, layout_box
from settwright.workbook.drawing.pen import FONTS, POINT, PdfPen, SvgPen, register_fonts
from settwright.workbook.front_edge import front_edge_section
from settwright.workbook.handwork import handwork_section
from settwright.workbook.record import record_section
from settwright.workbook.seam_cards import seams_section
from settwright.workbook.sections import (
    findings_section,
    measurements_section,
    pieces_section,
    preparing_section,
    reckoning_section,
)
from settwright.workbook.stays import stays_section
from settwright.workbook.style import (
    HEAD,
    LEAD,
    QUIET,
    RULE,
    SMALL,
    SUBHEAD,
    Drawing,
    paragraph,
    ruled_table,
)

_PAGES = {Units.CM: (210.0, 297.0), Units.INCHES: (215.9, 279.4)}
_MARGIN = 16.0


def workbook_pdf(plan: Plan, views: Pictures, advice: Sequence[Flowable] = ()) -> bytes:
    """Returns the workbook, `views` on its first pages, `advice` behind the cloth needed. One plan gives the same
    bytes.
    """
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
        cover_section(plan, views, room),
        sides_section(views, room),
        findings_section(plan),
        measurements_section(plan),
        pieces_section(plan),
        [*reckoning_section(plan), *preparing_section(plan)],
        *([advice] if advice else []),
        *(_layout_section(plan, cloth, room) for cloth in plan.cloths),
        *([edge] if (edge := front_edge_section(plan)) else []),
        *([stays] if (stays := stays_section(plan)) else []),
        seams_section(plan),
        *comparisons_sections(plan),
        handwork_section(plan, room),
        record_section(plan.made_up.drafts, plan.commission.units, room),
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
        *_left_over(remnants_of(cloth.layout, plan.made_up.pieces, cloth.cloth, length), units),
    ]


def _left_over(left: Sequence[Remnant], units: Units) -> list[Flowable]:
    if not left:
        return []
    told: list[str] = []
    for spot in left:
        size = f"{format_length(spot.width, units)} by {format_length(spot.length, units)}"
        if spot.is_end:
            told.append(f"the end of the length, whole: {size}")
            continue
        told.append(
            f"{size}, from {format_length(spot.left, units)} off the left edge "
            f"and {format_length(spot.bottom, units)} from the squared end"
        )
    return [
        KeepTogether(
            [
                Spacer(1, 6),
                paragraph("What is left over", SUBHEAD),
                paragraph("Across by along the cloth, the largest pieces that can be kept; the rest are scraps.", LEAD),
                *(paragraph(f"• {line}", SMALL) for line in told),
            ]
        )
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
