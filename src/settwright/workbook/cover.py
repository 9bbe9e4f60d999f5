"""The garment's pictures, drawn once for the workbook's first pages and for the SVG file."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from reportlab.platypus import Flowable, Paragraph, Spacer, Table, TableStyle

from settwright.bars.model import Orientation, Phase
from settwright.geometry import Transform
from settwright.plan.plan import Plan
from settwright.units import format_cloth, format_fine
from settwright.workbook.drawing.garment import Extent, View, draw_garment
from settwright.workbook.drawing.marks import scaled
from settwright.workbook.drawing.pen import POINT, Pen, SvgPen
from settwright.workbook.drawing.recording import Recording
from settwright.workbook.style import HEAD, LEAD, QUIET_SMALL, SMALL, TITLE, Drawing, paragraph

_SCALE = 0.2  # that the picture is drawn at
_GAP = 8.0  # between front and back view, millimetres of the page
_FRONT = 0.7  # the front's share of the cover's width
_BESIDE = 24.0  # room beside each side view, at 1 : 5
_HEADED = 34.0  # room for the heading over the sides and the words under them
_BELOW = 12.0  # room for the line below the picture


@dataclass(frozen=True)
class Picture:
    """One view of the garment, drawn at 1 : 5, and how far it reaches."""

    drawing: Recording
    box: Extent

    @property
    def width(self) -> float:
        """Of the drawing at 1 : 5."""
        return self.box[2] - self.box[0]

    @property
    def height(self) -> float:
        """Of the drawing at 1 : 5."""
        return self.box[3] - self.box[1]

    def shrunk(self, by: float) -> Drawing:
        """Returns the picture for the page."""

        def draw(pen: Pen) -> None:
            with pen.moved(scaled(by)):
                self.drawing.draw(pen)

        left, bottom, right, top = self.box
        return Drawing((left * by, bottom * by, right * by, top * by), 1.0, draw)


Pictures = Mapping[View, Picture]
"""The garment from every side."""


def pictures(plan: Plan) -> Pictures:
    """Returns the garment from every side."""
    match = replace(plan.match, phases=_as_laid(plan))
    found: dict[View, Picture] = {}
    for view in View:
        drawing = Recording()
        box = draw_garment(drawing, plan.made_up, match, plan.commission.cloths, view, scale=_SCALE)
        found[view] = Picture(drawing, box)
    return found


def _as_laid(plan: Plan) -> tuple[Phase, ...]:
    """Returns where every instance falls in the repeat; of one that no seam binds, as the layout happens to lay it."""
    phases = {phase.piece: phase for phase in plan.match.phases}
    for cloth in plan.cloths:
        for place in cloth.layout.placements:
            phase = phases.get(place.name)
            if phase is None or phase.free_u or phase.free_v:
                u, v = place.x - cloth.cloth.sett_at_left, place.y - cloth.layout.oy
                phases[place.name] = Phase(place.name, u, v, Orientation(place.t, place.f))
    return tuple(phases.values())


def cover_section(plan: Plan, views: Pictures, room: tuple[float, float]) -> list[Flowable]:
    """The front as large as the page allows, beside it what the plan comes to, and the back."""
    title = paragraph(plan.commission.title, TITLE)
    head = title.wrap(room[0] / POINT, room[1] / POINT)[1] * POINT
    front, back = views[View.FRONT], views[View.BACK]
    by = min(room[0] * _FRONT / front.width, (room[1] - head - _BELOW) / front.height)
    column = room[0] - front.width * by - _GAP
    beside = min(by, column / back.width)
    words = _words(plan)
    told = sum(text.wrap(column / POINT, room[1] / POINT)[1] + text.getSpaceAfter() for text in words) * POINT
    table = Table(
        [[front.shrunk(by), words], ["", back.shrunk(beside)]],
        colWidths=[(room[0] - column) / POINT, column / POINT],
        rowHeights=[max(front.height * by - back.height * beside, told + 2.0) / POINT, back.height * beside / POINT],
    )
    table.setStyle(
        TableStyle(
            [
                ("SPAN", (0, 0), (0, 1)),
                ("VALIGN", (0, 0), (-1, 0), "TOP"),
                ("VALIGN", (1, 1), (1, 1), "BOTTOM"),
                *((f"{side}PADDING", (0, 0), (-1, -1), 0) for side in ("LEFT", "RIGHT", "TOP", "BOTTOM")),
            ]
        )
    )
    return [
        title,
        Spacer(1, 8),
        table,
        paragraph("The picture shows where the bars fall, not how the cloth hangs.", QUIET_SMALL),
    ]


def _words(plan: Plan) -> list[Paragraph]:
    commission, units = plan.commission, plan.commission.units
    words = [paragraph(f"For {commission.client}.", LEAD)] if commission.client else []
    for cloth in plan.cloths:
        lays_in, buy = format_cloth(cloth.reckoning.lays_in, units), format_cloth(cloth.reckoning.buy, units)
        words.append(paragraph(f"{cloth.cloth.title}: lays in {lays_in}, buy {buy}.", SMALL))
    worst = plan.worst_join
    if worst is not None:
        drift = next(d for d in plan.match.drifts if d.join == worst.name)
        name, miss = worst.name.replace(".", ", ").replace("-", " "), format_fine(drift.worst_level, units)
        words.append(paragraph(f"Worst of the seams that matter: {name}, where level bars miss by {miss}.", SMALL))
    return words


def sides_section(views: Pictures, room: tuple[float, float]) -> list[Flowable]:
    """The garment from the left and from the right, as large as the page allows."""
    sides = (views[View.LEFT], views[View.RIGHT])
    width, height = sum(side.width + _BESIDE for side in sides), max(side.height for side in sides)
    by = min(room[0] / width, (room[1] - _HEADED) / height)
    table = Table(
        [[side.shrunk(by) for side in sides], [paragraph(f"{name} side", QUIET_SMALL) for name in ("left", "right")]],
        colWidths=[(side.width + _BESIDE) * by / POINT for side in sides],
    )
    table.setStyle(TableStyle([("VALIGN", (0, 0), (-1, 0), "BOTTOM")]))
    return [
        paragraph("From the sides", HEAD),
        paragraph(
            "The left side and the right as they are worn, the arm hanging before the body. "
            f"At 1 : {1 / (by * _SCALE):.1f}. The picture shows where the bars fall, not how the cloth hangs.",
            SMALL,
        ),
        Spacer(1, 8),
        table,
    ]


def garment_svg(plan: Plan, views: Pictures) -> str:
    """Returns the garment from every side, one beside the other, as an SVG document."""
    shifts: list[float] = []
    right = 0.0
    for picture in views.values():
        shifts.append(right - picture.box[0])
        right += picture.width + _GAP
    bottom, top = min(picture.box[1] for picture in views.values()), max(picture.box[3] for picture in views.values())
    pen = SvgPen((0.0, bottom, right - _GAP, top), title=f"{plan.commission.title}: {', '.join(views)}")
    for picture, shift in zip(views.values(), shifts, strict=True):
        with pen.moved(Transform.shift(shift, 0.0)):
            picture.drawing.draw(pen)
    return pen.finish()
