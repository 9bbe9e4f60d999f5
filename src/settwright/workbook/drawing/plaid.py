"""The cloth's bars, drawn where they fall on a piece.

The colours of warp and weft are mixed beforehand and drawn opaque. Bars that touch overlap a little under the one
drawn after, so that no hairline of the ground shows between them at any scale.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Callable, Iterator, Sequence
from contextlib import AbstractContextManager, nullcontext
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry import MultiPolygon, Polygon
from shapely.geometry.base import BaseGeometry

from settwright.bars.model import Phase
from settwright.cloth import cloth as cloth_model
from settwright.cloth.cloth import Cloth
from settwright.cloth.colour import mean_colour, mixed_colour
from settwright.geometry import Path, Point, Transform
from settwright.workbook.drawing.pen import Pen, Ring

Places = NDArray[np.float64]  # shape (n, 2)
Map = Callable[[Places], Places]
Floats = NDArray[np.float64] | float

_Mark = tuple[str, str, NDArray[Any]]  # warp, weft, and the parts of the cloth where they cross

OVERLAP = 0.12  # by how much a bar runs on under the bar drawn after it, in millimetres of the page
FINE = 0.01  # a drawn bar's side strays from its true place by less, in millimetres of the page


def to_sett(phase: Phase, grain_turn: float = 0.0) -> Transform:
    """Returns the map from the piece frame to the place in the sett: (u, v) + S R(g) p."""
    along, across = (
        phase.orientation.place(Point(1.0, 0.0), grain_turn),
        phase.orientation.place(Point(0.0, 1.0), grain_turn),
    )
    return Transform(along.x, across.x, along.y, across.y, phase.u, phase.v)


def affine(by: Transform) -> Map:
    """Returns a plane map of many places at once."""

    def place(places: Places) -> Places:
        x, y = places[:, 0], places[:, 1]
        return np.column_stack((by.xx * x + by.xy * y + by.dx, by.yx * x + by.yy * y + by.dy))

    return place


@dataclass(frozen=True, slots=True)
class Run:
    """Bars of one colour that touch, drawn as one: from `start` to `end` in the sett."""

    colour: str
    start: float
    end: float

    @property
    def width(self) -> float:
        """From side to side."""
        return self.end - self.start


def runs(sequence: cloth_model.Sequence, low: float, high: float) -> tuple[Run, ...]:
    """Returns the runs of a sequence that cover a stretch, whole ones, in order."""
    merged: list[Run] = []
    for bar, start in zip(sequence.bars, sequence.starts, strict=True):
        if merged and merged[-1].colour == bar.colour:
            merged[-1] = Run(bar.colour, merged[-1].start, start + bar.width)
        else:
            merged.append(Run(bar.colour, start, start + bar.width))
    if len(merged) > 1 and merged[0].colour == merged[-1].colour:
        last = merged.pop()
        merged[0] = Run(last.colour, last.start - sequence.repeat, merged[0].end)
    if len(merged) == 1:
        return (Run(merged[0].colour, low, high),)
    covering: list[Run] = []
    for turn in range(math.floor((low - merged[-1].end) / sequence.repeat), math.ceil(high / sequence.repeat) + 1):
        by = turn * sequence.repeat
        covering += [Run(run.colour, run.start + by, run.end + by) for run in merged]
    return tuple(run for run in covering if run.end > low and run.start < high)


def _ranks(sequence: cloth_model.Sequence) -> dict[str, int]:
    """Returns the order in which the colours of a sequence are drawn: the ground first, then by width."""
    widths: dict[str, float] = {}
    for bar in sequence.bars:
        widths[bar.colour] = widths.get(bar.colour, 0.0) + bar.width
    order = sorted(widths, key=lambda colour: (-round(widths[colour], 3), list(widths).index(colour)))
    return {colour: rank for rank, colour in enumerate(order)}


@lru_cache(maxsize=1024)
def _woven(warp: str, weft: str, weave: str) -> str:
    return mixed_colour(warp, weft, weave)


def woven(cloth: Cloth, warp: str, weft: str) -> str:
    """Returns the colour "#rrggbb" that a warp and a weft colour, named, make together."""
    colours = dict(cloth.colours)
    return _woven(colours[warp], colours[weft], cloth.weave)


@lru_cache(maxsize=1024)
def faded(colour: str, fade: float) -> str:
    """Returns a colour mixed with white, from 0 (as it is) to 1 (white)."""
    return mean_colour((colour, "#ffffff"), (1.0 - fade, fade)) if fade else colour


def cloth_colour(cloth: Cloth) -> str:
    """Returns the colour into which all of a cloth runs together from a distance."""
    colours = dict(cloth.colours)
    warp, weft = (
        mean_colour(tuple(colours[bar.colour] for bar in way.bars), tuple(bar.width for bar in way.bars))
        for way in (cloth.warp, cloth.weft)
    )
    return _woven(warp, weft, cloth.weave)


def colour_at(cloth: Cloth, phase: Phase, grain_turn: float, place: Point) -> str:
    """Returns the cloth's colour at a place of a piece."""
    sett = to_sett(phase, grain_turn)(place)
    return woven(cloth, cloth.warp.bar_at(sett.x).colour, cloth.weft.bar_at(sett.y).colour)


@dataclass(frozen=True)
class _Strips:
    """The runs of one direction as drawn: extents with overlaps, and each one's rank."""

    runs: tuple[Run, ...]
    ranks: dict[str, int]
    overlap: float

    def drawn(self, colour: str) -> NDArray[np.float64]:
        """Returns the extents of a colour's runs, shape (n, 2)."""
        extents: list[tuple[float, float]] = []
        for index, run in enumerate(self.runs):
            if run.colour != colour:
                continue
            before = self.runs[index - 1] if index else None
            after = self.runs[index + 1] if index + 1 < len(self.runs) else None
            extents.append((run.start - self._under(run, before), run.end + self._under(run, after)))
        return np.array(extents).reshape(-1, 2)

    def _under(self, run: Run, neighbour: Run | None) -> float:
        if neighbour is None or self.ranks[neighbour.colour] < self.ranks[run.colour]:
            return 0.0
        return min(self.overlap, neighbour.width / 2)


def paint(
    pen: Pen,
    region: BaseGeometry,
    cloth: Cloth,
    phase: Phase,
    grain_turn: float = 0.0,
    *,
    place: Map,
    scale: float = 1.0,
    step: float = math.inf,
    fade: float = 0.0,
) -> None:
    """Draws the bars of a region of a piece (piece frame) where `place` puts it on the page.

    `scale` is millimetres of the page to one of cloth; `step` is the longest straight line that a bar's side may be
    drawn with, in millimetres of cloth, where `place` bends; `fade` mixes all colours with white.
    """
    sett = to_sett(phase, grain_turn)
    back = affine(sett.inverse())
    ground = shapely.transform(region, affine(sett))
    left, bottom, right, top = ground.bounds
    warp_ranks, weft_ranks = _ranks(cloth.warp), _ranks(cloth.weft)
    columns = _Strips(runs(cloth.warp, left, right), warp_ranks, OVERLAP / scale)
    rows = _Strips(runs(cloth.weft, bottom, top), weft_ranks, OVERLAP / scale)
    ground_colour, *other_warps = warp_ranks
    standing = [columns.drawn(warp) for warp in other_warps]
    warp_of = np.repeat(np.arange(len(standing)), [len(extents) for extents in standing])
    on_ground: list[_Mark] = []
    over_it: list[list[_Mark]] = [[] for _ in standing]
    for number, weft in enumerate(weft_ranks):
        strips, extents = _cut_level(ground, rows.drawn(weft))
        on_ground.append((ground_colour, weft, strips if number else np.array([ground])))
        shapes, column = _cut_upright(ground, strips, extents, np.concatenate([*standing, np.empty((0, 2))]))
        for index, warp in enumerate(other_warps):
            over_it[index].append((warp, weft, shapes[warp_of[column] == index]))
    marks = [*on_ground, *itertools.chain.from_iterable(over_it)]
    mark_of = np.repeat(np.arange(len(marks)), [len(shapes) for _, _, shapes in marks]).tolist()
    rings: list[list[Ring]] = [[] for _ in marks]
    together = np.concatenate([shapes for _, _, shapes in marks])
    for ring, shape in _rings(together, lambda places: place(back(places)), step, FINE):
        rings[mark_of[shape]].append(ring)
    for (warp, weft, _), found in zip(marks, rings, strict=True):
        if found:
            pen.polygons(found, fill=faded(woven(cloth, warp, weft), fade))


def _cut_level(ground: BaseGeometry, extents: NDArray[np.float64]) -> tuple[NDArray[Any], NDArray[np.float64]]:
    """Returns the parts of level strips (low, high) that lie on the ground, for those that meet it, and the extents
    of those.
    """
    left, _, right, _ = ground.bounds
    level = np.full(len(extents), 1.0)
    boxes = shapely.box((left - 1) * level, extents[:, 0], (right + 1) * level, extents[:, 1])
    strips = shapely.intersection(boxes, ground)
    kept = ~shapely.is_empty(strips)
    return strips[kept], extents[kept]


def _cut_upright(
    ground: BaseGeometry, strips: NDArray[Any], extents: NDArray[np.float64], columns: NDArray[np.float64]
) -> tuple[NDArray[Any], NDArray[np.int_]]:
    """Returns the parts of a ground's level strips that lie in columns (left, right), and which column each is of."""
    bounds = shapely.bounds(strips)
    met = (columns[None, :, 0] < bounds[:, None, 2]) & (columns[None, :, 1] > bounds[:, None, 0])
    row, column = np.nonzero(met)
    shapes = shapely.box(columns[column, 0], extents[row, 0], columns[column, 1], extents[row, 1])
    shapely.prepare(ground)
    crossing = ~shapely.contains_properly(ground, shapes)
    shapes[crossing] = shapely.intersection(shapes[crossing], strips[row[crossing]])
    kept = ~shapely.is_empty(shapes)
    return shapes[kept], column[kept]


def _rings(shapes: NDArray[Any], place: Map, step: float, tolerance: float) -> Iterator[tuple[Ring, int]]:
    """Yields the rings of shapes under a map, holes wound the other way, and which shape each is of."""
    parts, whole = shapely.get_parts(shapes, return_index=True)
    is_area = shapely.get_type_id(parts) == shapely.GeometryType.POLYGON
    polygons, of_shape = parts[is_area], whole[is_area]
    if not len(polygons):
        return
    if math.isfinite(step):
        polygons = shapely.segmentize(polygons, step)
    polygons = shapely.transform(polygons, place)
    polygons = shapely.orient_polygons(shapely.simplify(polygons, tolerance, preserve_topology=False))
    pieces, of_polygon = shapely.get_parts(polygons, return_index=True)
    rings, of_piece = shapely.get_rings(pieces, return_index=True)
    places, index = shapely.get_coordinates(rings, return_index=True)
    starts = np.searchsorted(index, np.arange(len(rings) + 1))
    values = places.tolist()
    owners = of_shape[of_polygon[of_piece]].tolist()
    for first, last, owner in zip(starts[:-1].tolist(), starts[1:].tolist(), owners, strict=True):
        if last - first > 3:
            yield values[first : last - 1], owner


def polygon(outline: Path | Sequence[Point], tolerance: float = 0.05) -> BaseGeometry:
    """Returns a closed outline as a valid polygon."""
    points = outline.points(tolerance) if isinstance(outline, Path) else outline
    shape = Polygon([(p.x, p.y) for p in points])
    return shape if shape.is_valid else _areas(shapely.make_valid(shape))


def _areas(shape: BaseGeometry) -> BaseGeometry:
    parts = [part for part in shapely.get_parts(shape) if isinstance(part, Polygon | MultiPolygon)]
    return shapely.union_all(parts)


def draw_plaid(
    pen: Pen,
    outline: Path | Sequence[Point],
    cloth: Cloth,
    phase: Phase,
    grain_turn: float = 0.0,
    *,
    place: Transform | None = None,
    fade: float = 0.0,
) -> None:
    """Draws the cloth inside a closed outline, given in the piece frame, at true scale.

    `phase` says where the piece's grain mark falls in the repeat and how it lies, `grain_turn` its angle to the
    warp; `place` moves the piece to where it is drawn and may shrink it; `fade` from 0 (full colour) to 1 (white).

    A length of cloth in its own frame is drawn with the phase (−ox, −oy) of the cloth frame's origin.
    """
    place = place or Transform()
    scale = math.sqrt(abs(place.xx * place.yy - place.xy * place.yx))
    sett = to_sett(phase, grain_turn)
    page = sett.inverse().then(place)
    points = outline.points(0.05 / scale) if isinstance(outline, Path) else outline
    corners = affine(sett)(np.array([(p.x, p.y) for p in points]))
    left, bottom = (float(least) - 1 for least in corners.min(axis=0))
    right, top = (float(most) + 1 for most in corners.max(axis=0))
    warp_ranks, weft_ranks = _ranks(cloth.warp), _ranks(cloth.weft)
    columns = _Strips(runs(cloth.warp, left, right), warp_ranks, OVERLAP / scale)
    rows = _Strips(runs(cloth.weft, bottom, top), weft_ranks, OVERLAP / scale)
    to_page = affine(page)

    def boxes(x0: Floats, y0: Floats, x1: Floats, y1: Floats) -> Sequence[Ring]:
        x0, y0, x1, y1 = np.broadcast_arrays(x0, y0, x1, y1)
        places = np.stack((x0, y0, x1, y0, x1, y1, x0, y1), axis=-1).reshape(-1, 2)
        return to_page(places).reshape(-1, 4, 2).tolist()

    lying = {weft: rows.drawn(weft) if rank else np.array([(bottom, top)]) for weft, rank in weft_ranks.items()}
    bars = {weft: boxes(left, extents[:, 0], right, extents[:, 1]) for weft, extents in lying.items()}
    with pen.clipped(outline.moved(place) if isinstance(outline, Path) else [place(p) for p in outline]):
        for warp, rank in warp_ranks.items():
            extents = columns.drawn(warp)
            if not rank:
                clip: AbstractContextManager[None] = nullcontext()
            elif len(extents):
                standing = boxes(extents[:, 0], bottom, extents[:, 1], top)
                clip = pen.clipped([[Point(x, y) for x, y in ring] for ring in standing])
            else:
                continue
            with clip:
                for weft, rings in bars.items():
                    pen.polygons(rings, fill=faded(woven(cloth, warp, weft), fade))
