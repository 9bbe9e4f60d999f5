"""The workbook's look: paper and thread, one typeface, two inks."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from reportlab.lib.colors import HexColor
from reportlab.lib.enums import TA_LEFT
from reportlab.lib.styles import ParagraphStyle
from reportlab.platypus import Flowable, Paragraph, Table, TableStyle

from settwright.geometry import Point
from settwright.workbook.drawing.pen import FONTS, POINT, PdfPen, text_width

INK = "#23211e"
QUIET = "#6d675e"
THREAD = "#9b3d2e"  # basting-thread red: rules, marks that matter
RULE = "#c9c1b3"
PAPER = "#f6f2ea"

REGULAR, ITALIC, SEMIBOLD = (FONTS[w][0] for w in ("regular", "italic", "semibold"))


def style(name: str, font: str = REGULAR, size: float = 10.0, leading: float = 1.35, **more: object) -> ParagraphStyle:
    """Returns a style of the workbook; `size` in points, `leading` as a part of it."""
    settings = {"textColor": HexColor(INK), "alignment": TA_LEFT, **more}
    return ParagraphStyle(name, fontName=font, fontSize=size, leading=size * leading, **settings)


BODY = style("body", spaceAfter=5)
SMALL = style("small", size=8.5, leading=1.3)
QUIET_SMALL = style("quiet", size=8.5, leading=1.3, textColor=HexColor(QUIET))
TITLE = style("title", SEMIBOLD, 24, 1.15, spaceAfter=4)
LEAD = style("lead", ITALIC, 12, 1.35, textColor=HexColor(QUIET), spaceAfter=8)
HEAD = style("head", SEMIBOLD, 15, 1.25, spaceBefore=10, spaceAfter=5)
SUBHEAD = style("subhead", SEMIBOLD, 11, 1.3, spaceBefore=8, spaceAfter=3)
CAUTION = style(
    "caution",
    size=9.5,
    leftIndent=9,
    borderPadding=(5, 7, 5, 7),
    backColor=HexColor(PAPER),
    spaceBefore=9,
    spaceAfter=8,
)


def escape(text: str) -> str:
    """Returns a text safe inside a Paragraph."""
    return text.replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;")


def paragraph(text: str, style: ParagraphStyle = BODY) -> Paragraph:
    """Returns a paragraph of plain text."""
    return Paragraph(escape(text), style)


class Drawing(Flowable):
    """A drawing of ours among the text: `draw` gets a pen whose millimetres are scaled by `scale`.

    `box` is (left, bottom, right, top) of the drawing in its own millimetres.
    """

    def __init__(self, box: tuple[float, float, float, float], scale: float, draw: Callable[[PdfPen], None]):
        super().__init__()
        self._box, self._scale, self._draw = box, scale, draw
        self.width = (box[2] - box[0]) * scale / POINT
        self.height = (box[3] - box[1]) * scale / POINT
        self.hAlign = "CENTER"

    def wrap(self, aW: float, aH: float) -> tuple[float, float]:  # noqa: N803
        """Returns the size in points."""
        return self.width, self.height

    def draw(self) -> None:
        """Draws at the place that the page gives."""
        origin = Point(-self._box[0] * self._scale, -self._box[1] * self._scale)
        self._draw(PdfPen(self.canv, origin, self._scale))


_CELL_GAP = 7.0  # points


def ruled_table(rows: Sequence[Sequence[str]], widths: Sequence[float], *, head: bool = True) -> Table:
    """Returns a table with fine rules, of plain texts; widths in millimetres."""
    cells = [
        [_cell(text, width, is_head=head and i == 0) for text, width in zip(row, widths, strict=True)]
        for i, row in enumerate(rows)
    ]
    table = Table(cells, colWidths=[w / POINT for w in widths], repeatRows=1 if head else 0, hAlign="LEFT")
    table.setStyle(
        TableStyle(
            [
                ("VALIGN", (0, 0), (-1, -1), "TOP"),
                ("FONT", (0, 0), (-1, -1), REGULAR, SMALL.fontSize, SMALL.leading),
                ("TEXTCOLOR", (0, 0), (-1, -1), HexColor(INK)),
                *([("FONT", (0, 0), (-1, 0), SEMIBOLD, SMALL.fontSize, SMALL.leading)] if head else []),
                ("LEFTPADDING", (0, 0), (-1, -1), 0),
                ("RIGHTPADDING", (0, 0), (-1, -1), _CELL_GAP),
                ("TOPPADDING", (0, 0), (-1, -1), 2.5),
                ("BOTTOMPADDING", (0, 0), (-1, -1), 2.5),
                ("LINEBELOW", (0, 0), (-1, -1), 0.35, HexColor(RULE)),
                *([("LINEBELOW", (0, 0), (-1, 0), 0.9, HexColor(INK))] if head else []),
            ]
        )
    )
    return table


def _cell(text: str, width: float, *, is_head: bool) -> Paragraph | str:
    """Returns a text as it is where it fits its column on one line, else as a paragraph, which is dearer to set."""
    if text_width(text, SMALL.fontSize, "semibold" if is_head else "regular") < width / POINT - _CELL_GAP - 1.0:
        return text
    return Paragraph(f"<b>{escape(text)}</b>" if is_head else escape(text), SMALL)
