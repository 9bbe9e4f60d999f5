"""One seam as it will look when sewn: both pieces laid edge to edge with the bars that cross it."""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely

from settwright.bars.model import Drift, Join, Phase
from settwright.cloth.cloth import Cloth
from settwright.geometry import Point
from settwright.makeup.model import CutPiece
from settwright.units import Units, format_fine
from settwright.workbook.drawing.marks import INK, QUIET, THREAD, caption
from settwright.workbook.drawing.pen import Pen, Stroke
from settwright.workbook.drawing.plaid import Map, Places, paint, polygon

_LEADING = 2.7  # between labels beside the seam, millimetres of the page
_FIGURES = 34.0  # room for them
_STEP = 9.0  # of cloth: a bar's side is drawn with straight lines no longer than this


@dataclass(frozen=True)
class SeamSide:
    """One side of a seam as it lies on its cloth."""

    piece: CutPiece
    cloth: Cloth
    phase: Phase


@dataclass(frozen=True)
class _Side:
    """One side of a seam, told upwards, and on which side of that way the piece lies that is drawn (+1: left)."""

    lies: SeamSide
    points: tuple[Point, ...]
    left: int


def seam_card_size(join: Join, scale: float, depth: float) -> tuple[float, float]:
    """Returns the width and height on the page of a card drawn with `draw_seam_card`, figures included."""
    return (2 * depth * scale + _FIGURES, _walk([s.a for s in join.samples])[-1] * scale + 6.0)


def draw_seam_card(
    pen: Pen,
    join: Join,
    drift: Drift,
    sides: tuple[SeamSide, SeamSide],
    *,
    scale: float,
    depth: float = 60.0,
    units: Units = Units.CM,
    least: float = 1.0,
) -> None:
    """Draws both sides of a join laid edge to edge, as they lie when sewn, their right sides up: the seam upright at
    x = 0 from the pen's origin upwards, as the garment is worn.

    `sides` are the join's sides a and b, `depth` millimetres of cloth of each. Figures beside the seam tell the
    misses of level bars of at least `least` millimetres, where they are greatest.
    """
    across = join.samples[-1].a - join.samples[0].a
    turned = across.y < 0 and abs(across.y) > abs(across.x)
    order = tuple(reversed(join.samples)) if turned else join.samples
    levels = tuple(reversed(drift.level or ())) if turned else (drift.level or ())
    last = len(order) - 1
    stops = join.stops or ((join.stretch[0], 0), (join.stretch[1], last))
    stops = tuple((name, last - index if turned else index) for name, index in stops)
    a, b = _laid(join, sides, [s.a for s in order], [s.b for s in order])
    walk = _walk(a.points)
    top, reach = walk[-1] * scale, depth * scale
    hand = -a.left  # what lies to the left of the seam's way up is drawn at its left
    for side, way in ((a, hand), (b, -hand)):
        _draw_side(pen, side, walk, way * scale, depth)
        pen.text(
            Point(way * 1.0, -3.2),
            caption(side.lies.piece),
            size=2.3,
            weight="italic",
            anchor="end" if way < 0 else "start",
            colour=QUIET,
        )
    pen.path([Point(0, 0), Point(0, top)], stroke=Stroke(0.3, INK))
    told = [(walk[i] * scale, name.replace("-", " "), False) for name, i in stops]
    told += [(walk[i] * scale, format_fine(levels[i], units), True) for i in _worst(levels, least)]
    lowest = -math.inf
    for y, text, is_miss in sorted(told):
        spot = max(y, lowest + _LEADING)
        lowest = spot
        colour = THREAD if is_miss else QUIET
        start = -reach if is_miss else reach
        pen.path([Point(start, y), Point(reach + 0.6, y)], stroke=Stroke(0.15, colour, (0.8, 0.6) if is_miss else ()))
        pen.path([Point(reach + 0.6, y), Point(reach + 2.2, spot)], stroke=Stroke(0.15, colour))
        weight = "semibold" if is_miss else "regular"
        pen.text(Point(reach + 2.7, spot - 0.7), text, size=2.2, weight=weight, colour=colour)


def _draw_side(pen: Pen, side: _Side, walk: Sequence[float], scale: float, depth: float) -> None:
    """Draws a strip of a piece along the seam; a negative `scale` lays it at the left."""
    seam = shapely.linestrings([(p.x, p.y) for p in side.points])
    strip = shapely.intersection(
        polygon(side.lies.piece.seam_line), shapely.buffer(seam, side.left * depth, single_sided=True)
    )
    parts = [part for part in shapely.get_parts(strip) if part.area > 1.0]
    if not parts:
        return
    strip = min(parts, key=lambda part: round(part.distance(seam), 3))
    reach, top = depth * scale, walk[-1] * abs(scale)
    with pen.clipped([Point(0, 0), Point(reach, 0), Point(reach, top), Point(0, top)]):
        paint(
            pen,
            strip,
            side.lies.cloth,
            side.lies.phase,
            side.lies.piece.grain_turn,
            place=_straightened(side.points, walk, scale),
            scale=abs(scale),
            step=_STEP,
        )


def _laid(
    join: Join, sides: tuple[SeamSide, SeamSide], on_a: Sequence[Point], on_b: Sequence[Point]
) -> tuple[_Side, _Side]:
    """Returns both sides, and which part of each piece is seen: of an edge its inside; of a line drawn on a piece
    what another piece leaves bare, or at a lap the greater part.
    """
    a = _inside(sides[0].piece, join.a_edge, on_a)
    b = _inside(sides[1].piece, join.b_edge, on_b)
    if a is None:
        a = _greater(sides[0].piece, on_a)
    if b is None:
        b = _greater(sides[1].piece, on_b) if join.kind == "lap" else -a
    return _Side(sides[0], tuple(on_a), a), _Side(sides[1], tuple(on_b), b)


def _inside(piece: CutPiece, edge: str, points: Sequence[Point]) -> int | None:
    """Returns on which side of an edge its piece lies, +1 for the left; None for a line inside the piece."""
    if all(edge != known.name for known in piece.piece.edges):
        return None
    return _greater(piece, points)


def _greater(piece: CutPiece, points: Sequence[Point]) -> int:
    seam = shapely.linestrings([(p.x, p.y) for p in points])
    shape = polygon(piece.seam_line)
    left, right = (
        shapely.area(shapely.intersection(shape, shapely.buffer(seam, side * 15.0, single_sided=True)))
        for side in (1, -1)
    )
    if abs(left - right) < 1.0:  # a line well inside: farther out, the greater part tells
        left, right = (
            shapely.area(shapely.intersection(shape, shapely.buffer(seam, side * 120.0, single_sided=True)))
            for side in (1, -1)
        )
    return 1 if round(float(left), 1) >= round(float(right), 1) else -1


def _walk(points: Sequence[Point]) -> list[float]:
    """Returns the distance along a side at each of its points."""
    return [0.0, *itertools.accumulate((q - p).length for p, q in itertools.pairwise(points))]


def _worst(levels: Sequence[float], least: float) -> list[int]:
    """Returns the samples whose miss is told: the greatest between two places where the bars meet."""
    told: list[int] = []
    for missing, group in itertools.groupby(enumerate(levels), key=lambda item: abs(item[1]) >= least):
        if missing:
            told.append(max(group, key=lambda item: round(abs(item[1]), 3))[0])
    return told


def _straightened(points: Sequence[Point], walk: Sequence[float], scale: float) -> Map:
    """Returns the map that lays a piece along the straight seam: a place keeps its distance from the seam and the
    distance walked along it.
    """
    starts = np.array([(p.x, p.y) for p in points[:-1]])
    chords = np.array([((q - p).x, (q - p).y) for p, q in itertools.pairwise(points)])
    squares = np.maximum(chords[:, 0] ** 2 + chords[:, 1] ** 2, 1e-12)
    base, steps = np.array(walk[:-1]), np.diff(np.array(walk))
    first, last = np.zeros(len(starts)), np.ones(len(starts))
    first[0], last[-1] = -math.inf, math.inf  # the seam runs on straight beyond its ends

    def place(places: Places) -> Places:
        away_x = places[:, None, 0] - starts[None, :, 0]
        away_y = places[:, None, 1] - starts[None, :, 1]
        part = np.clip((away_x * chords[:, 0] + away_y * chords[:, 1]) / squares, first, last)
        off_x, off_y = away_x - part * chords[:, 0], away_y - part * chords[:, 1]
        square = off_x * off_x + off_y * off_y
        nearest = np.argmin(square, axis=1)
        rows = np.arange(len(places))
        distance = np.sqrt(square[rows, nearest])
        along = base[nearest] + part[rows, nearest] * steps[nearest]
        return np.column_stack((distance * scale, along * abs(scale)))

    return place


__all__ = ["SeamSide", "draw_seam_card", "seam_card_size"]
