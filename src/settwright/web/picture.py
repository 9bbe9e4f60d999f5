"""The garment and its pieces as the page draws them: outlines, and how the cloth lies within them.

On the figure a patch of cloth is bent. So the page is told where a grid of the cloth is seen, along its warp and weft,
and draws the bars through it. The place in the repeat stays out of it: sliding the cloth changes nothing here.
Coordinates are millimetres of the garment, y downwards.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Any

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

from settwright.bars.model import Match, Orientation, Phase
from settwright.cloth import Cloth
from settwright.geometry import Path, Point
from settwright.makeup.model import CutPiece, MadeUp
from settwright.web.grid import grid_of
from settwright.workbook.drawing.figure.figure import figure
from settwright.workbook.drawing.figure.form import Layer, Patch, View
from settwright.workbook.drawing.garment import pieces_seen
from settwright.workbook.drawing.marks import caption
from settwright.workbook.drawing.plaid import Places, runs, woven

Data = dict[str, Any]
Turn = NDArray[np.float64]  # shape (2, 2)

_MOST_SAMPLES = 16  # of a seam, told to the page
_NEAR = 2.0  # mm within which a place lies on a patch
_SEAM = 3.0  # mm: what lies so near to the edge of a patch before it is seen beside it
_PLAIN = 50.0  # the repeat told for a direction without bars


def picture_data(made_up: MadeUp, match: Match, view: View, button_diameter: float) -> Data:
    """Returns the ensemble as worn, from one side."""
    layers = figure(made_up, view)
    pieces = {piece.name: piece for piece in made_up.pieces}
    phases = {phase.piece: phase for phase in match.phases}
    boxes = [shapely.box(*patch.shape.bounds) for layer in layers for patch in layer.patches]
    left, bottom, right, top = shapely.union_all(boxes).bounds if boxes else (0.0, 0.0, 1.0, 1.0)
    return {
        "view": view.value,
        "box": _rounded((left - 15, -top - 15, right - left + 30, top - bottom + 30)),
        "layers": [
            {
                "name": layer.name,
                "grounds": [_ring(ring) for ring in layer.grounds],
                "patches": [_patch(patch, pieces[patch.instance], phases) for patch in layer.patches],
                "outlines": [_shape(shape) for shape in pieces_seen(layer)],
                "lines": [_line(line) for line in layer.lines],
                "buttons": [
                    [*_rounded((float(at[0, 0]), -float(at[0, 1]))), button_diameter / 2] for at in layer.buttons
                ],
            }
            for layer in layers
        ],
        "seams": _seams(layers, match),
    }


def _patch(patch: Patch, piece: CutPiece, phases: Mapping[str, Phase]) -> Data:
    phase = phases.get(patch.instance)
    orientation = phase.orientation if phase is not None else Orientation()
    return {
        "piece": patch.instance,
        "outline": _shape(patch.shape),
        "grid": grid_of(patch.region, patch.place, orientation, piece.grain_turn),
    }


def _turn(orientation: Orientation, grain_turn: float) -> Turn:
    """Returns the matrix S R(g), from the piece frame to the directions of the cloth; its inverse is its transpose."""
    along, across = orientation.place(Point(1.0, 0.0), grain_turn), orientation.place(Point(0.0, 1.0), grain_turn)
    return np.array([[along.x, across.x], [along.y, across.y]])


def _flat(turn: Turn) -> list[float]:
    """Returns the matrix from the sett, its origin at a flat piece's place in the repeat, to the page."""
    return [round(float(v), 5) + 0.0 for v in (turn[0, 0], -turn[0, 1], turn[1, 0], -turn[1, 1])] + [0.0, 0.0]


def sampled(count: int) -> list[int]:
    """Returns which of a seam's samples the page is told, first and last among them."""
    most = min(count, _MOST_SAMPLES)
    return [round(i * (count - 1) / max(most - 1, 1)) for i in range(most)]


def _seams(layers: Sequence[Layer], match: Match) -> Data:
    """Returns for each join seen from this side where its samples are seen; None out of sight."""
    covers = _covers(layers)
    joins = {join.name: join for join in match.joins if join.kind != "pair"}
    chosen = {name: sampled(len(join.samples)) for name, join in joins.items()}
    sides: dict[str, list[_Sample]] = {}  # by piece
    for name, join in joins.items():
        for side, instance in enumerate((join.a, join.b)):
            places = join.places[2 * side : 2 * side + 2].T[chosen[name]]
            sides.setdefault(instance, []).extend(((name, side, i), place) for i, place in enumerate(places))
    spots: dict[tuple[str, int, int], list[float]] = {}
    for layer, cover in zip(layers, covers, strict=True):
        for patch in layer.patches:
            for sample, spot in _spots(patch, cover, sides.get(patch.instance, [])):
                spots.setdefault(sample, spot)
    found = {
        name: [spots.get((name, 0, i)) or spots.get((name, 1, i)) for i in range(len(picked))]
        for name, picked in chosen.items()
    }
    return {name: told for name, told in found.items() if any(told)}


_Sample = tuple[tuple[str, int, int], Places]  # of a join, on side a or b, its number, its place on the piece


def _spots(
    patch: Patch, covers: Sequence[BaseGeometry], samples: Sequence[_Sample]
) -> Iterator[tuple[tuple[str, int, int], list[float]]]:
    """Yields where samples are seen on a patch; none that is out of sight."""
    if not samples:
        return
    places = np.array([place for _, place in samples])
    near = shapely.dwithin(patch.region, shapely.points(places), _NEAR)
    if not near.any():
        return
    at = patch.place(places[near])
    clear = np.ones(len(at), dtype=np.bool_)
    for shape in covers:
        clear &= ~shapely.contains_xy(shape, at[:, 0], at[:, 1])
    for i, (x, y), is_clear in zip(np.nonzero(near)[0].tolist(), at.tolist(), clear.tolist(), strict=True):
        if is_clear:
            yield samples[i][0], _rounded((x, -y))


def _covers(layers: Sequence[Layer]) -> list[list[BaseGeometry]]:
    """Returns for each layer what hides it: the patches of the layers before it, less a seam's breadth."""
    covers: list[list[BaseGeometry]] = []
    cover: list[BaseGeometry] = []
    for layer in reversed(layers):
        covers.append(cover)
        cover = [*cover, *(shapely.buffer(shapely.simplify(patch.shape, 0.1), -_SEAM) for patch in layer.patches)]
    shapely.prepare(cover)
    return covers[::-1]


def pieces_data(made_up: MadeUp, match: Match, cut: Iterable[str]) -> list[Data]:
    """Returns every piece flat, as seen from the cloth's right side."""
    phases = {phase.piece: phase for phase in match.phases}
    is_cut = set(cut)
    return [_piece(piece, phases.get(piece.name), piece.name in is_cut) for piece in made_up.pieces]


def _piece(cut: CutPiece, phase: Phase | None, is_cut: bool) -> Data:
    piece = cut.piece
    left, right = min(p.x for p in cut.cutting_line), max(p.x for p in cut.cutting_line)
    low, high = min(p.y for p in cut.cutting_line), max(p.y for p in cut.cutting_line)
    stops: dict[str, list[Data]] = {edge.name: [] for edge in piece.edges}
    notches: list[list[float]] = []
    for notch in piece.notches:
        edge = piece.edge(notch.edge)
        at, out = edge.path.at(notch.at), edge.path.tangent(notch.at).right
        stops.setdefault(notch.edge, []).append({"name": notch.name, "at": _point(at)})
        notches.append([*_point(at), *_rounded((out.x, -out.y), 3)])
    return {
        "name": cut.name,
        "title": caption(cut),
        "garment": cut.garment,
        "cloth": cut.cloth,
        "hand": cut.hand.value,
        "box": _rounded((left, -high, right - left, high - low)),
        "seam": _points(cut.seam_line),
        "cutting": _points(cut.cutting_line),
        "matrix": _flat(_turn(phase.orientation if phase else Orientation(), cut.grain_turn)),
        "edges": [
            {
                "name": edge.name,
                "path": _curve(edge.path),
                "stops": [
                    {"name": edge.start, "at": _point(edge.path.start)},
                    *stops[edge.name],
                    {"name": edge.end, "at": _point(edge.path.end)},
                ],
            }
            for edge in piece.edges
        ],
        "lines": [{"name": line.name, "kind": line.kind.value, "path": _curve(line.path)} for line in piece.lines],
        "notches": notches,
        "marks": [{"name": mark.name, "at": _point(mark.at)} for mark in piece.marks],
        "grain": [_point(Point(0.0, low + (high - low) * part)) for part in (0.2, 0.8)],
        "turn": round(math.degrees(cut.grain_turn), 3),
        "is_matched": cut.is_matched,
        "is_cut": is_cut,
    }


def tile_data(cloth: Cloth) -> Data:
    """Returns one repeat of a cloth as rectangles drawn one over the other, y along the cloth."""
    width = cloth.warp.repeat if cloth.has_upright_bars else _PLAIN
    height = cloth.weft.repeat if cloth.has_level_bars else _PLAIN
    columns, rows = _stretches(cloth.warp, width), _stretches(cloth.weft, height)
    return {
        "width": round(width, 3),
        "height": round(height, 3),
        "rects": [
            [*_rounded((x0, y0, x1 - x0, y1 - y0), 3), woven(cloth, warp, weft)]
            for weft, y0, y1 in rows
            for warp, x0, x1 in columns
        ],
    }


def _stretches(sequence: Any, repeat: float) -> list[tuple[str, float, float]]:
    """Returns the runs of one colour within a repeat: colour, from, to."""
    return [
        (run.colour, max(run.start, 0.0), min(run.end, repeat))
        for run in runs(sequence, 0.0, repeat)
        if min(run.end, repeat) - max(run.start, 0.0) > 1e-6
    ]


def _rounded(values: Iterable[float], digits: int = 1) -> list[float]:
    return [round(float(value), digits) + 0.0 for value in values]


def _point(at: Point) -> list[float]:
    return _rounded((at.x, -at.y))


def _number(value: float) -> str:
    text = f"{value:.1f}"
    return "0" if text in ("-0.0", "0.0") else text.removesuffix(".0")


def _trace(places: Iterable[Sequence[float]]) -> str:
    return "L".join(f"{_number(x)} {_number(-y)}" for x, y in places)


def _ring(places: Places) -> str:
    return f"M{_trace(places.tolist())}Z"


def _line(places: Places) -> str:
    return f"M{_trace(places.tolist())}"


def _points(points: Iterable[Point]) -> str:
    return f"M{_trace([(p.x, p.y) for p in points])}Z"


def _curve(path: Path) -> str:
    steps = [f"M{_trace([(path.start.x, path.start.y)])}"]
    for s in path.segments:
        steps.append(
            f"L{_trace([(s.d.x, s.d.y)])}"
            if s.is_straight
            else "C" + " ".join(_trace([(p.x, p.y)]) for p in (s.b, s.c, s.d))
        )
    return "".join(steps)


def _shape(shape: BaseGeometry, tolerance: float = 0.08) -> str:
    """Returns a shape's rings, holes too, as path data."""
    rings = shapely.get_rings(shapely.get_parts(shapely.simplify(shape, tolerance, preserve_topology=False)))
    return "".join(_ring(shapely.get_coordinates(ring)[:-1]) for ring in rings)
