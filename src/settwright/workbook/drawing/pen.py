"""The pens that drawings are made with: one set of calls, an SVG file or a PDF page behind it.

Drawings know millimetres with y upwards; each pen flips once, on its way to the file. Coordinates are written to
0.001 mm, so that the same drawing gives the same bytes.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from contextlib import AbstractContextManager, contextmanager
from dataclasses import dataclass
from importlib.resources import files
from typing import IO, Protocol
from xml.sax.saxutils import escape

from reportlab import rl_config
from reportlab.lib.colors import HexColor
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont
from reportlab.pdfgen.canvas import Canvas

from settwright.geometry import ORIGIN, Path, Point, Transform

rl_config.useA85 = 0  # streams as plain bytes: files are a fifth smaller

POINT = 25.4 / 72  # one PDF point in millimetres

FONTS = {
    "regular": ("SettwrightText", "SourceSerifPro-Regular.ttf"),
    "italic": ("SettwrightText-Italic", "SourceSerifPro-It.ttf"),
    "semibold": ("SettwrightText-Semibold", "SourceSerifPro-Semibold.ttf"),
}


def register_fonts() -> None:
    """Makes the shipped typeface known to the PDF library, once."""
    if FONTS["regular"][0] in pdfmetrics.getRegisteredFontNames():
        return
    folder = files("settwright") / "assets" / "fonts"
    for name, file in FONTS.values():
        pdfmetrics.registerFont(TTFont(name, str(folder / file)))
    pdfmetrics.registerFontFamily(
        FONTS["regular"][0], normal=FONTS["regular"][0], italic=FONTS["italic"][0], bold=FONTS["semibold"][0]
    )


def text_width(text: str, size: float, weight: str = "regular") -> float:
    """Returns the width of a text in millimetres; `size` is the type's height in millimetres."""
    register_fonts()
    return pdfmetrics.stringWidth(text, FONTS[weight][0], size)


@dataclass(frozen=True, slots=True)
class Stroke:
    """A line's width in millimetres, colour and dashes (lengths of ink and gap)."""

    width: float = 0.25
    colour: str = "#222222"
    dash: tuple[float, ...] = ()


Ring = Sequence[tuple[float, float]]  # a closed polygon's corners, x and y, the first not repeated


class Pen(Protocol):
    """What a drawing may ask for; millimetres, y upwards."""

    def path(
        self,
        outline: Path | Sequence[Point] | Iterable[Path],
        *,
        stroke: Stroke | None = None,
        fill: str | None = None,
        closed: bool = False,
    ) -> None:
        """Draws a curve or a polyline, or several as one shape (holes by the even-odd rule)."""
        ...

    def polygons(self, rings: Iterable[Ring], *, fill: str) -> None:
        """Fills many closed polygons of one colour as one mark; where they overlap they add up."""
        ...

    def polylines(self, lines: Iterable[Ring], *, stroke: Stroke, closed: bool = False) -> None:
        """Strokes many polylines as one mark: quicker than `path` for hundreds of ticks or points."""
        ...

    def text(
        self,
        at: Point,
        text: str,
        *,
        size: float = 3.5,
        weight: str = "regular",
        anchor: str = "start",
        angle: float = 0.0,
        colour: str = "#222222",
    ) -> None:
        """Writes one line of text; `anchor` is start, middle or end; `angle` turns it counter-clockwise."""
        ...

    def clipped(self, outline: Path | Sequence[Point] | Iterable[Path]) -> AbstractContextManager[None]:
        """Keeps what is drawn inside the `with` block to the closed outline, or to several."""
        ...

    def moved(self, by: Transform) -> AbstractContextManager[None]:
        """Moves what is drawn inside the `with` block."""
        ...


def _as_paths(outline: Path | Sequence[Point] | Iterable[Path]) -> list[Path]:
    if isinstance(outline, Path):
        return [outline]
    items = list(outline)
    if items and isinstance(items[0], Path):
        return items  # type: ignore[return-value]
    return [Path.line(*items)]  # type: ignore[arg-type]


def _number(value: float) -> str:
    text = f"{value:.3f}".rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text


def _stroke(stroke: Stroke) -> str:
    attributes = f' stroke="{stroke.colour}" stroke-width="{_number(stroke.width)}"'
    attributes += ' stroke-linejoin="round"' + (' stroke-linecap="round"' if not stroke.dash else "")
    if stroke.dash:
        attributes += f' stroke-dasharray="{" ".join(_number(d) for d in stroke.dash)}"'
    return attributes


class SvgPen:
    """Draws into an SVG document whose unit is the millimetre.

    `box` is (left, bottom, right, top) of the drawing; `title` and `description` are read aloud by a screen reader.
    """

    def __init__(self, box: tuple[float, float, float, float], *, title: str, description: str = ""):
        self._left, self._bottom, self._right, self._top = box
        self._title, self._description = title, description
        self._body: list[str] = []
        self._clips = 0

    def path(
        self,
        outline: Path | Sequence[Point] | Iterable[Path],
        *,
        stroke: Stroke | None = None,
        fill: str | None = None,
        closed: bool = False,
    ) -> None:
        """See Pen."""
        attributes = f'fill="{fill or "none"}"' + (' fill-rule="evenodd"' if fill else "")
        attributes += _stroke(stroke) if stroke else ""
        self._body.append(f'<path d="{self._data(outline, closed)}" {attributes}/>')

    def polygons(self, rings: Iterable[Ring], *, fill: str) -> None:
        """See Pen."""
        data = "".join(
            "M" + "L".join(f"{_number(x)} {_number(-y)}" for x, y in ring) + "Z" for ring in rings if len(ring) > 2
        )
        if data:
            self._body.append(f'<path d="{data}" fill="{fill}"/>')

    def polylines(self, lines: Iterable[Ring], *, stroke: Stroke, closed: bool = False) -> None:
        """See Pen."""
        end = "Z" if closed else ""
        data = "".join("M" + "L".join(f"{_number(x)} {_number(-y)}" for x, y in line) + end for line in lines)
        if data:
            self._body.append(f'<path d="{data}" fill="none"{_stroke(stroke)}/>')

    def _data(self, outline: Path | Sequence[Point] | Iterable[Path], closed: bool) -> str:
        words: list[str] = []
        for path in _as_paths(outline):
            words.append(f"M{_number(path.start.x)} {_number(-path.start.y)}")
            for s in path.segments:
                points = (s.d,) if s.is_straight else (s.b, s.c, s.d)
                words.append(
                    ("L" if s.is_straight else "C") + " ".join(f"{_number(p.x)} {_number(-p.y)}" for p in points)
                )
            if closed:
                words.append("Z")
        return "".join(words)

    def text(
        self,
        at: Point,
        text: str,
        *,
        size: float = 3.5,
        weight: str = "regular",
        anchor: str = "start",
        angle: float = 0.0,
        colour: str = "#222222",
    ) -> None:
        """See Pen."""
        style = {"regular": "", "italic": ' font-style="italic"', "semibold": ' font-weight="600"'}[weight]
        turn = f' transform="rotate({_number(-math.degrees(angle))} {_number(at.x)} {_number(-at.y)})"' if angle else ""
        self._body.append(
            f'<text x="{_number(at.x)}" y="{_number(-at.y)}" font-size="{_number(size)}" text-anchor="{anchor}"'
            f' fill="{colour}"{style}{turn}>{escape(text)}</text>'
        )

    @contextmanager
    def clipped(self, outline: Path | Sequence[Point] | Iterable[Path]) -> Iterator[None]:
        """See Pen."""
        self._clips += 1
        name = f"clip{self._clips}"
        self._body.append(f'<clipPath id="{name}"><path d="{self._data(outline, True)}"/></clipPath>')
        self._body.append(f'<g clip-path="url(#{name})">')
        yield
        self._body.append("</g>")

    @contextmanager
    def moved(self, by: Transform) -> Iterator[None]:
        """See Pen."""
        matrix = (by.xx, -by.yx, -by.xy, by.yy, by.dx, -by.dy)
        self._body.append(f'<g transform="matrix({" ".join(f"{m:.9g}" for m in matrix)})">')
        yield
        self._body.append("</g>")

    def finish(self) -> str:
        """Returns the whole document."""
        width, height = self._right - self._left, self._top - self._bottom
        return (
            f'<svg xmlns="http://www.w3.org/2000/svg" width="{_number(width)}mm" height="{_number(height)}mm"'
            f' viewBox="{_number(self._left)} {_number(-self._top)} {_number(width)} {_number(height)}"'
            f' font-family="Source Serif Pro, Georgia, serif" role="img"><title>{escape(self._title)}</title>'
            + (f"<desc>{escape(self._description)}</desc>" if self._description else "")
            + "\n"
            + "\n".join(self._body)
            + "\n</svg>\n"
        )


class PdfPen:
    """Draws on the current page of a PDF canvas; `origin` is where the drawing's (0, 0) lies on the page in mm,
    from the page's lower left corner, and `scale` shrinks or enlarges the drawing (1 is full size).
    """

    def __init__(self, canvas: Canvas, origin: Point = ORIGIN, scale: float = 1.0):
        register_fonts()
        self._canvas = canvas
        self._to_page = Transform(xx=scale, yy=scale, dx=origin.x, dy=origin.y).then(
            Transform(xx=1 / POINT, yy=1 / POINT)
        )
        self._scale = scale

    def path(
        self,
        outline: Path | Sequence[Point] | Iterable[Path],
        *,
        stroke: Stroke | None = None,
        fill: str | None = None,
        closed: bool = False,
    ) -> None:
        """See Pen."""
        canvas = self._canvas
        canvas.saveState()
        if stroke:
            self._set(stroke)
        if fill:
            canvas.setFillColor(HexColor(fill))
        canvas.drawPath(self._shape(outline, closed), stroke=1 if stroke else 0, fill=1 if fill else 0, fillMode=0)
        canvas.restoreState()

    def polygons(self, rings: Iterable[Ring], *, fill: str) -> None:
        """See Pen."""
        by = self._to_page
        words: list[str] = []
        for ring in rings:
            if len(ring) < 3:
                continue
            corners = [
                f"{_number(by.xx * x + by.xy * y + by.dx)} {_number(by.yx * x + by.yy * y + by.dy)}" for x, y in ring
            ]
            words.append(f"{corners[0]} m {' l '.join(corners[1:])} l h")
        if words:
            red, green, blue = (_number(int(fill[i : i + 2], 16) / 255) for i in (1, 3, 5))
            self._canvas.addLiteral(f"q {red} {green} {blue} rg {' '.join(words)} f Q")

    def polylines(self, lines: Iterable[Ring], *, stroke: Stroke, closed: bool = False) -> None:
        """See Pen."""
        by = self._to_page
        words: list[str] = []
        for line in lines:
            first, *rest = (
                f"{_number(by.xx * x + by.xy * y + by.dx)} {_number(by.yx * x + by.yy * y + by.dy)}" for x, y in line
            )
            words.append(f"{first} m {' l '.join(rest)} l{' h' if closed else ''}")
        if words:
            canvas = self._canvas
            canvas.saveState()
            self._set(stroke)
            canvas.addLiteral(f"{' '.join(words)} S")
            canvas.restoreState()

    def _set(self, stroke: Stroke) -> None:
        canvas = self._canvas
        canvas.setStrokeColor(HexColor(stroke.colour))
        canvas.setLineWidth(stroke.width / POINT)
        canvas.setDash([d / POINT for d in stroke.dash] or [], 0)
        canvas.setLineJoin(1)
        canvas.setLineCap(1 if not stroke.dash else 0)

    def _shape(self, outline: Path | Sequence[Point] | Iterable[Path], closed: bool):
        shape = self._canvas.beginPath()
        for path in _as_paths(outline):
            start = self._to_page(path.start)
            shape.moveTo(start.x, start.y)
            for s in path.segments:
                b, c, d = self._to_page(s.b), self._to_page(s.c), self._to_page(s.d)
                if s.is_straight:
                    shape.lineTo(d.x, d.y)
                else:
                    shape.curveTo(b.x, b.y, c.x, c.y, d.x, d.y)
            if closed:
                shape.close()
        return shape

    def text(
        self,
        at: Point,
        text: str,
        *,
        size: float = 3.5,
        weight: str = "regular",
        anchor: str = "start",
        angle: float = 0.0,
        colour: str = "#222222",
    ) -> None:
        """See Pen. Text keeps its size whatever the drawing's scale."""
        canvas, spot = self._canvas, self._to_page(at)
        canvas.saveState()
        canvas.setFillColor(HexColor(colour))
        canvas.translate(spot.x, spot.y)
        if angle:
            canvas.rotate(math.degrees(angle))
        canvas.setFont(FONTS[weight][0], size / POINT)
        draw = {"start": canvas.drawString, "middle": canvas.drawCentredString, "end": canvas.drawRightString}[anchor]
        draw(0, 0, text)
        canvas.restoreState()

    @contextmanager
    def clipped(self, outline: Path | Sequence[Point] | Iterable[Path]) -> Iterator[None]:
        """See Pen."""
        self._canvas.saveState()
        self._canvas.clipPath(self._shape(outline, True), stroke=0, fill=0)
        yield
        self._canvas.restoreState()

    @contextmanager
    def moved(self, by: Transform) -> Iterator[None]:
        """See Pen."""
        before = self._to_page
        self._to_page = by.then(before)
        yield
        self._to_page = before


def new_canvas(target: str | IO[bytes], page: tuple[float, float]) -> Canvas:
    """Returns a PDF canvas of a page size in millimetres that gives the same bytes for the same drawing."""
    return Canvas(target, pagesize=(page[0] / POINT, page[1] / POINT), invariant=1, pageCompression=1)
