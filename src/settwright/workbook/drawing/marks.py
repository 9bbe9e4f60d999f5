"""Small marks that every drawing shares: labels that fit, arrows, ticks along a tape."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

import shapely
from shapely.geometry import Polygon
from shapely.geometry.base import BaseGeometry

from settwright.geometry import ORIGIN, Point, Transform
from settwright.makeup.model import CutPiece, Hand
from settwright.units import CM, INCH, Units
from settwright.workbook.drawing.pen import Pen, Stroke, text_width
from settwright.workbook.style import INK, QUIET, THREAD

__all__ = ["INK", "QUIET", "THREAD", "arrow", "caption", "label", "roomiest", "scaled", "tape"]


def scaled(scale: float, at: Point = ORIGIN, origin: Point = ORIGIN) -> Transform:
    """Returns the map that shrinks about `origin` and lays that point at `at` on the page."""
    return Transform(scale, 0.0, 0.0, scale, at.x - scale * origin.x, at.y - scale * origin.y)


def caption(piece: CutPiece) -> str:
    """Returns a piece's name for the eye: "Front, right"."""
    return piece.piece.title if piece.hand is Hand.WHOLE else f"{piece.piece.title}, {piece.hand.value}"


def roomiest(outline: Sequence[Point], length: float) -> tuple[Point, float, float]:
    """Returns where inside an outline a line of text of a length has most room, and how wide and how high a text
    centred there may be. Of places with enough room, the outline's own middle comes first.
    """
    shape = shapely.buffer(Polygon([(p.x, p.y) for p in outline]), 0)
    inscribed = shapely.maximum_inscribed_circle(shape, tolerance=1.0)
    found: list[tuple[Point, float, float]] = []
    for spot in (shapely.centroid(shape), shapely.points(shapely.get_coordinates(inscribed)[0])):
        if shapely.contains(shape, spot):
            at = Point(float(shapely.get_x(spot)), float(shapely.get_y(spot)))
            found.append((at, _room(shape, at, Point(1.0, 0.0)), _room(shape, at, Point(0.0, 1.0))))
    return max(found, key=lambda place: round(min(max(place[1], place[2]) * 0.9 / max(length, 0.1), 1.0), 3))


def _room(shape: BaseGeometry, at: Point, way: Point) -> float:
    """Returns the length of the longest line centred at a place inside a shape, along a direction."""
    edge = shapely.boundary(shape)
    far = way * 1e4
    reaches = [
        shapely.distance(
            shapely.points(at.x, at.y), shapely.intersection(edge, shapely.linestrings([(at.x, at.y), (end.x, end.y)]))
        )
        for end in (at + far, at - far)
    ]
    return 2 * min(float(reach) for reach in reaches)


def label(
    pen: Pen,
    outline: Sequence[Point],
    lines: Sequence[tuple[str, float, str]],
    *,
    colour: str = INK,
    halo: str | None = None,
) -> None:
    """Writes lines of text, each (text, size, weight), where an outline has most room, turned if it is narrow.

    Sizes shrink so that the longest line fits. `halo` paints a ground of that colour under the text.
    """
    longest = max(text_width(text, size, weight) for text, size, weight in lines)
    at, width, height = roomiest(outline, longest)
    upright = longest > width * 0.9 and height > width
    room = (height if upright else width) * 0.9
    shrink = min(1.0, room / longest) if longest else 1.0
    if shrink < 0.45:
        return
    turn = Transform.turn(math.pi / 2 if upright else 0.0, at)
    leading = [size * shrink * 1.25 for _, size, _ in lines]
    y = at.y + sum(leading) / 2
    if halo:
        half = longest * shrink / 2 + 1.0
        box = [Point(at.x + sx * half, at.y + sy * (sum(leading) / 2 + 0.4)) for sx, sy in _CORNERS]
        with pen.clipped(outline):  # a narrow piece keeps its edges
            pen.path([turn(p) for p in box], fill=halo, closed=True)
    for (text, size, weight), step in zip(lines, leading, strict=True):
        y -= step
        spot = turn(Point(at.x, y + step * 0.28))
        pen.text(
            spot,
            text,
            size=size * shrink,
            weight=weight,
            anchor="middle",
            angle=math.pi / 2 if upright else 0.0,
            colour=colour,
        )


_CORNERS = ((-1, -1), (1, -1), (1, 1), (-1, 1))


def arrow(pen: Pen, start: Point, end: Point, *, both: bool, colour: str = INK, size: float = 2.2) -> None:
    """Draws a straight arrow; `both` puts a head at either end."""
    pen.path([start, end], stroke=Stroke(0.22, colour))
    along = (end - start).unit
    for tip, way in ((end, along), (start, -along)) if both else ((end, along),):
        wing = way * -size
        head = [tip, tip + wing + way.left * (size * 0.28), tip + wing + way.right * (size * 0.28)]
        pen.path(head, fill=colour, closed=True)


def tape(length: float, units: Units) -> Iterator[tuple[float, str | None]]:
    """Yields the ticks of a tape up to a length, each with its figure or none: every 5 cm, figures every 10 cm;
    or every 2 inches, figures every 4.
    """
    step, unit = (50.0, CM) if units is Units.CM else (2 * INCH, INCH)
    for count in range(math.floor(length / step + 1e-9) + 1):
        yield count * step, f"{round(count * step / unit)}" if count % 2 == 0 else None
