"""The pens that drawings are made with: one set of calls, an SVG file or a PDF page behind it.

Drawings know millimetres with y upwards; each pen flips once, on its way to the file. Coordinates are written to
0.001 mm, so that the same drawing gives the same bytes.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterable, Iterator, Sequence
from contextlib import AbstractContextManager, contextmanager
from dataclasses import dataclass
from functools import lru_cache
from importlib.resources import files
from typing import IO, Protocol
from xml.sax.saxutils import escape

import numpy as np
from reportlab import rl_config
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
    return _width_of(text, weight) * size


@lru_cache(maxsize=4096)
def _width_of(text: str, weight: str) -> float:
    register_fonts()
    return pdfmetrics.stringWidth(text, FONTS[weight][0], 1.0)


@dataclass(frozen=True, slots=True)
class Stroke:
    """A line's width in millimetres, colour and dashes (lengths of ink and gap)."""

    width: float = 0.25
    colour: str = "#222222"
    dash: tuple[float, ...] = ()


Outline = Path | Sequence[Point] | Iterable[Path] | Iterable[Sequence[Point]]
Ring = Sequence[Sequence[float]]  # a closed polygon's corners, x and y, the first not repeated


class Pen(Protocol):
    """What a drawing may ask for; millimetres, y upwards."""

    def path(
        self,
        outline: Outline,
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

    def clipped(self, outline: Outline) -> AbstractContextManager[None]:
        """Keeps what is drawn inside the `with` block to the closed outline, or to several."""
        ...

    def moved(self, by: Transform) -> AbstractContextManager[None]:
        """Moves what is drawn inside the `with` block."""
        ...


@dataclass(frozen=True, slots=True)
class _Words:
    """How a file format writes the steps of a line: places as "%.3f %.3f", filled in all at once, which is quick."""

    move: str
    line: str
    curve: str
    close: str

    def trace(self, outline: Outline, by: Transform, closed: bool) -> str:
        """Returns the steps of a curve or a polyline, or of several, under a map."""
        steps: list[str] = []
        points: list[Point] = []
        end = (self.close,) if closed else ()
        for line in _lines(outline):
            if isinstance(line, Path):
                steps.append(self.move)
                points.append(line.start)
                for s in line.segments:
                    steps.append(self.line if s.is_straight else self.curve)
                    points += (s.d,) if s.is_straight else (s.b, s.c, s.d)
            else:
                steps += (self.move, *(self.line,) * (len(line) - 1))
                points += line
            steps += end
        places = ((by.xx * p.x + by.xy * p.y + by.dx, by.yx * p.x + by.yy * p.y + by.dy) for p in points)
        return "".join(steps) % tuple(itertools.chain.from_iterable(places))

    def trace_many(self, lines: Sequence[Ring], by: Transform, closed: bool) -> str:
        """Returns the steps of many polylines under a map."""
        end = self.close if closed else ""
        steps = "".join([self.move + self.line * (len(line) - 1) + end for line in lines])
        places = np.array([part for line in lines for place in line for part in place]).reshape(-1, 2)
        x, y = places[:, 0], places[:, 1]
        moved = np.column_stack((by.xx * x + by.xy * y + by.dx, by.yx * x + by.yy * y + by.dy))
        return steps % tuple(moved.ravel().tolist())


_IN_SVG = _Words("M%.3f %.3f", "L%.3f %.3f", "C%.3f %.3f %.3f %.3f %.3f %.3f", "Z")
_IN_PDF = _Words(" %.3f %.3f m", " %.3f %.3f l", " %.3f %.3f %.3f %.3f %.3f %.3f c", " h")
_DOWNWARDS = Transform(yy=-1.0)


def _lines(outline: Outline) -> Sequence[Path] | Sequence[Sequence[Point]]:
    if isinstance(outline, Path):
        return [outline]
    items = list(outline)
    return [items] if items and isinstance(items[0], Point) else items  # type: ignore[return-value]


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
        outline: Outline,
        *,
        stroke: Stroke | None = None,
        fill: str | None = None,
        closed: bool = False,
    ) -> None:
        """See Pen."""
        attributes = f'fill="{fill or "none"}"' + (' fill-rule="evenodd"' if fill else "")
        attributes += _stroke(stroke) if stroke else ""
        self._body.append(f'<path d="{_IN_SVG.trace(outline, _DOWNWARDS, closed)}" {attributes}/>')

    def polygons(self, rings: Iterable[Ring], *, fill: str) -> None:
        """See Pen."""
        found = [ring for ring in rings if len(ring) > 2]
        if found:
            self._body.append(f'<path d="{_IN_SVG.trace_many(found, _DOWNWARDS, True)}" fill="{fill}"/>')

    def polylines(self, lines: Iterable[Ring], *, stroke: Stroke, closed: bool = False) -> None:
        """See Pen."""
        found = list(lines)
        if found:
            data = _IN_SVG.trace_many(found, _DOWNWARDS, closed)
            self._body.append(f'<path d="{data}" fill="none"{_stroke(stroke)}/>')

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
    def clipped(self, outline: Outline) -> Iterator[None]:
        """See Pen."""
        self._clips += 1
        name = f"clip{self._clips}"
        data = _IN_SVG.trace(outline, _DOWNWARDS, True)
        self._body.append(f'<clipPath id="{name}"><path d="{data}"/></clipPath>')
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

    @contextmanager
    def named(self, name: str) -> Iterator[None]:
        """Keeps what is drawn inside the `with` block together under an id."""
        self._body.append(f'<g id="{escape(name)}">')
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
        outline: Outline,
        *,
        stroke: Stroke | None = None,
        fill: str | None = None,
        closed: bool = False,
    ) -> None:
        """See Pen."""
        inks = (_pdf_stroke(stroke) if stroke else "") + (f" {_pdf_colour(fill)} rg" if fill else "")
        done = ("B*" if stroke else "f*") if fill else "S" if stroke else "n"
        self._canvas.addLiteral(f"q{inks}{_IN_PDF.trace(outline, self._to_page, closed)} {done} Q")

    def polygons(self, rings: Iterable[Ring], *, fill: str) -> None:
        """See Pen."""
        found = [ring for ring in rings if len(ring) > 2]
        if found:
            data = _IN_PDF.trace_many(found, self._to_page, True)
            self._canvas.addLiteral(f"q {_pdf_colour(fill)} rg{data} f Q")

    def polylines(self, lines: Iterable[Ring], *, stroke: Stroke, closed: bool = False) -> None:
        """See Pen."""
        found = list(lines)
        if found:
            data = _IN_PDF.trace_many(found, self._to_page, closed)
            self._canvas.addLiteral(f"q{_pdf_stroke(stroke)}{data} S Q")

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
        spot, font, points = self._to_page(at), FONTS[weight][0], size / POINT
        along = {"start": 0.0, "middle": 0.5, "end": 1.0}[anchor] * text_width(text, points, weight)
        c, s = math.cos(angle), math.sin(angle)
        writing = self._canvas.beginText()
        writing.setFont(font, points)
        writing.textOut(text)
        turn = f"{c:.6f} {s:.6f} {-s:.6f} {c:.6f} {spot.x - along * c:.3f} {spot.y - along * s:.3f} cm"
        self._canvas.addLiteral(f"q {_pdf_colour(colour)} rg {turn} {writing.getCode()} Q")

    @contextmanager
    def clipped(self, outline: Outline) -> Iterator[None]:
        """See Pen."""
        self._canvas.addLiteral(f"q{_IN_PDF.trace(outline, self._to_page, True)} W* n")
        yield
        self._canvas.addLiteral("Q")

    @contextmanager
    def moved(self, by: Transform) -> Iterator[None]:
        """See Pen."""
        before = self._to_page
        self._to_page = by.then(before)
        yield
        self._to_page = before


@lru_cache(maxsize=256)
def _pdf_colour(colour: str) -> str:
    return " ".join(_number(int(colour[i : i + 2], 16) / 255) for i in (1, 3, 5))


@lru_cache(maxsize=256)
def _pdf_stroke(stroke: Stroke) -> str:
    """Returns the operators that set colour, width, dashes, round joins, and round ends where there are no dashes."""
    dash = " ".join(_number(d / POINT) for d in stroke.dash)
    ends = 0 if stroke.dash else 1
    return f" {_pdf_colour(stroke.colour)} RG {_number(stroke.width / POINT)} w [{dash}] 0 d 1 j {ends} J"


def new_canvas(target: str | IO[bytes], page: tuple[float, float]) -> Canvas:
    """Returns a PDF canvas of a page size in millimetres that gives the same bytes for the same drawing."""
    return Canvas(target, pagesize=(page[0] / POINT, page[1] / POINT), invariant=1, pageCompression=1)
