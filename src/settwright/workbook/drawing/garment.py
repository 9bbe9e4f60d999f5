"""The garment drawn front and back with its bars where they will fall."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from settwright.bars.model import Match, Phase
from settwright.cloth.cloth import Cloth
from settwright.cloth.colour import lab_of
from settwright.geometry import Path, Point
from settwright.makeup.model import Hand, MadeUp
from settwright.units import Units, format_fine
from settwright.workbook.drawing.figure.figure import figure, over_hand
from settwright.workbook.drawing.figure.form import Layer, Patch, View
from settwright.workbook.drawing.marks import INK, THREAD, scaled
from settwright.workbook.drawing.pen import Pen, Stroke, text_width
from settwright.workbook.drawing.plaid import Places, affine, cloth_colour, faded, paint

_DARK = 48.0  # a cloth of less lightness (CIELAB) takes the inks for dark cloth
_STEP = 12.0  # of cloth: a bar's side is drawn with straight lines no longer than this


Extent = tuple[float, float, float, float]  # left, bottom, right, top on the page


@dataclass(frozen=True)
class _Inks:
    """The inks of a picture; on dark cloth lines are blacker and heavier, buttons light."""

    seam: Stroke
    outline: Stroke
    button: str
    lining: str

    @classmethod
    def on(cls, cloth: Cloth) -> _Inks:
        """Returns the inks that show on a cloth."""
        colour = cloth_colour(cloth)
        lining = faded(colour, 0.78)
        if lab_of(colour)[0] < _DARK:
            return cls(Stroke(0.14, "#0b0a09"), Stroke(0.3, "#0b0a09"), "#93826a", lining)
        return cls(Stroke(0.1, INK), Stroke(0.24, INK), "#4a4239", lining)


@dataclass(frozen=True)
class _Page:
    """What every part of the drawing looks at."""

    pen: Pen
    made_up: MadeUp
    cloths: dict[str, Cloth]
    phases: dict[str, Phase]
    scale: float
    inks: _Inks

    def at(self, place: Places) -> Point:
        """Returns one place of the figure on the page."""
        return Point(float(place[0, 0]) * self.scale, float(place[0, 1]) * self.scale)

    @property
    def inwards(self) -> float:
        """Which way buttonholes reach from the centre front: −1 to the looker's left, where the right front is over."""
        return -1.0 if over_hand(self.made_up) is Hand.RIGHT else 1.0


def draw_garment(
    pen: Pen,
    made_up: MadeUp,
    match: Match,
    cloths: Iterable[Cloth],
    view: View | str = View.FRONT,
    *,
    scale: float = 0.15,
    button_diameter: float = 22.0,
    chalk: float | None = None,
    units: Units = Units.CM,
) -> Extent:
    """Draws the ensemble as worn, from the front or the back, its middle at x = 0 and the waist at y = 0; returns
    how far the drawing reaches.

    `scale` is millimetres of the page to one of the garment. Where level bars miss at a seam by `chalk` or more, a
    chalk mark tells by how much. The picture shows where the bars fall, not how the cloth hangs.
    """
    by_name = {cloth.name: cloth for cloth in cloths}
    phases = {phase.piece: phase for phase in match.phases}
    page = _Page(pen, made_up, by_name, phases, scale, _Inks.on(by_name[made_up.pieces[0].cloth]))
    layers = figure(made_up, View(view))
    for layer in layers:
        for ring in layer.grounds:
            corners = [Point(float(x) * scale, float(y) * scale) for x, y in ring]
            pen.path(corners, fill=page.inks.lining, stroke=page.inks.seam, closed=True)
        for patch in layer.patches:
            _paint(page, patch)
        _draw_lines(page, layer)
        for button in layer.buttons:
            _draw_button(page, page.at(button), button_diameter * scale)
    if chalk is not None:
        for mark, miss in _misses(layers, match, chalk):
            _draw_chalk(pen, page.at(mark), format_fine(miss, units))
    shapes = [shapely.box(*patch.shape.bounds) for layer in layers for patch in layer.patches]
    left, bottom, right, top = shapely.union_all(shapes).bounds
    return (left * scale - 2, bottom * scale - 2, right * scale + 2, top * scale + 2)


def _paint(page: _Page, patch: Patch) -> None:
    """Draws a patch with its bars, or in the cloth's colour from afar where nobody knows yet how its bars lie."""
    piece = page.made_up.piece(patch.instance)
    cloth, phase = page.cloths[piece.cloth], page.phases.get(patch.instance)
    on_page = affine(scaled(page.scale))
    if phase is None or (phase.free_u and phase.free_v):
        parts = shapely.orient_polygons(shapely.get_parts(shapely.transform(patch.shape, on_page)))
        rings = [shapely.get_coordinates(ring)[:-1].tolist() for ring in shapely.get_rings(parts)]
        page.pen.polygons(rings, fill=cloth_colour(cloth))
        return
    paint(
        page.pen,
        patch.region,
        cloth,
        phase,
        piece.grain_turn,
        place=lambda places: on_page(patch.place(places)),
        scale=page.scale,
        step=_STEP,
    )


def _misses(layers: Sequence[Layer], match: Match, least: float) -> list[tuple[Places, float]]:
    """Returns where on the figure level bars miss by `least` or more, once for each seam seen, and by how much."""
    joins = {join.name: join for join in match.joins}
    found: list[tuple[Places, float]] = []
    for drift in match.drifts:
        join = joins.get(drift.join)
        if join is None or drift.level is None or join.kind == "pair":
            continue
        index = max(range(len(drift.level)), key=lambda i: round(abs(drift.level[i]), 3))  # type: ignore[index]
        miss, sample = drift.level[index], join.samples[index]
        if abs(miss) < least:
            continue
        seen = _seen(layers, join.a, sample.a)
        if seen is None:
            seen = _seen(layers, join.b, sample.b)
        if seen is not None:
            found.append((seen, miss))
    return found


def _seen(layers: Sequence[Layer], instance: str, place: Point) -> Places | None:
    """Returns where a place of a piece is seen on the figure, or None where it is out of sight."""
    for number, layer in enumerate(layers):
        for patch in layer.patches:
            if patch.instance != instance or shapely.distance(patch.region, shapely.points(place.x, place.y)) > 2.0:
                continue
            at = patch.place(np.array([[place.x, place.y]]))
            spot = shapely.points(at[0])
            covered = any(
                shapely.contains(shapely.buffer(other.shape, -3.0), spot)
                for nearer in layers[number + 1 :]
                for other in nearer.patches
            )
            if not covered:
                return at
    return None


def _draw_chalk(pen: Pen, at: Point, figure: str) -> None:
    """Draws a chalk stroke across the seam and the figure beside it."""
    size = 2.0
    outwards = 1.0 if at.x >= 0 else -1.0
    pen.path([at + Point(-1.3, 0.0), at + Point(1.3, 0.0)], stroke=Stroke(0.7, "#ffffff"))
    pen.path([at + Point(-1.3, 0.0), at + Point(1.3, 0.0)], stroke=Stroke(0.35, THREAD))
    width = text_width(figure, size, "semibold")
    start = at + Point(outwards * 1.9 - (width if outwards < 0 else 0.0), -0.7)
    box = (start + Point(-0.4, -0.5), start + Point(width + 0.4, -0.5), start + Point(width + 0.4, 1.8))
    pen.path([*box, start + Point(-0.4, 1.8)], fill="#ffffff", closed=True)
    pen.text(start, figure, size=size, weight="semibold", colour=THREAD)


def _draw_lines(page: _Page, layer: Layer) -> None:
    if not layer.patches:
        return
    shapes = pieces_seen(layer)
    if len(shapes) > 1:
        for shape in shapes:
            _stroke(page, shape, page.inks.seam)
    _stroke(page, _joined(shapes), page.inks.outline)
    for line in layer.lines:
        page.pen.path([Point(float(x) * page.scale, float(y) * page.scale) for x, y in line], stroke=page.inks.seam)


def pieces_seen(layer: Layer) -> list[BaseGeometry]:
    """Returns what is seen of each cut piece of a layer: its patches as one, for no seam parts them."""
    seen: dict[str, list[BaseGeometry]] = {}
    for patch in layer.patches:
        seen.setdefault(patch.instance, []).append(patch.shape)
    return [_joined(parts) for parts in seen.values()]


def _draw_button(page: _Page, at: Point, diameter: float) -> None:
    """Draws a button at the end of its buttonhole, which reaches inwards."""
    line = page.inks.outline.colour
    inwards = Point(page.inwards, 0.0)
    page.pen.path([at, at + inwards * (diameter * 1.05)], stroke=Stroke(0.3, line))
    page.pen.path(_circle(at, diameter / 2), fill=page.inks.button, stroke=Stroke(0.16, line), closed=True)
    page.pen.path(_circle(at, diameter * 0.36), stroke=Stroke(0.08, line), closed=True)
    for way in (Point(1, 1), Point(-1, 1), Point(-1, -1), Point(1, -1)):
        page.pen.path(_circle(at + way * (diameter * 0.08), diameter * 0.035), fill=line, closed=True)


def _circle(at: Point, radius: float) -> Path:
    """Returns a circle of four cubics."""
    pull = 4 / 3 * (2**0.5 - 1) * radius
    ways = (Point(1, 0), Point(0, 1), Point(-1, 0), Point(0, -1))
    quarters = [
        Path.curve(at + a * radius, at + a * radius + b * pull, at + b * radius + a * pull, at + b * radius)
        for a, b in zip(ways, (*ways[1:], ways[0]), strict=True)
    ]
    return quarters[0].then(*quarters[1:])


def _joined(shapes: Sequence[BaseGeometry]) -> BaseGeometry:
    """Returns shapes that touch as one."""
    return shapely.buffer(shapely.union_all([shapely.buffer(shape, 0.6) for shape in shapes]), -0.6)


def _stroke(page: _Page, shape: BaseGeometry, stroke: Stroke) -> None:
    for ring in shapely.get_rings(shapely.simplify(shapely.get_parts(shape), 0.02 / page.scale)):
        corners = shapely.get_coordinates(ring)[:-1].tolist()
        if len(corners) > 2:
            outline = Path.line(*(Point(x * page.scale, y * page.scale) for x, y in corners))
            page.pen.path(outline, stroke=stroke, closed=True)


__all__ = ["Extent", "View", "draw_garment", "pieces_seen"]
