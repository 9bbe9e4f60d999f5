"""One small figure of the drafting lesson: what stands in quiet ink, what is new in red thread with its name."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from settwright.geometry import Path, Point, Transform
from settwright.workbook.drawing.marks import INK, QUIET, THREAD
from settwright.workbook.drawing.pen import Pen, Ring, Stroke, text_width
from settwright.workbook.lesson import Drawn, Figure

_OLD = Stroke(0.13, QUIET)
_LEVEL = Stroke(0.1, "#b3aa9c", (1.2, 0.8))
_NEW_LEVEL = Stroke(0.18, THREAD, (1.2, 0.8))
_NEW = Stroke(0.34, THREAD)
_GUIDE = Stroke(0.1, THREAD, (0.5, 0.7))
_NOTCH = Stroke(0.24, INK)
_TYPE = 2.1  # height of the names, millimetres of the page
_HIGH, _OFF = _TYPE * 0.75, 1.2  # height of their letters, and distance from what they name
_CLOSEST = 150.0  # a figure never shows less of the draft than this, in millimetres of it
_SMALLEST = 0.34  # nor less than this part of its sheet
_FLAT = 0.6  # millimetres of the draft by which a curve may be simplified here

Box = tuple[float, float, float, float]  # left, bottom, right, top


def draw_lesson_figure(pen: Pen, figure: Figure, sheet: Box, room: tuple[float, float]) -> float:
    """Draws a figure into (0, 0) to `room` (width, height) and returns its scale, page to draft.

    `sheet` is the box of all that will stand on the figure's sheet of paper, in millimetres of the draft.
    """
    width, height = room
    view = _view(figure, sheet, width / height)
    scale = width / (view[2] - view[0])
    page = Transform(xx=scale, yy=scale, dx=-view[0] * scale, dy=-view[1] * scale)
    frame = [Point(0.0, 0.0), Point(width, 0.0), Point(width, height), Point(0.0, height)]
    with pen.clipped(frame):
        if figure.piece is None or figure.before != Drawn():
            base = Drawn(levels=(("", 0.0),), uprights=(("", 0.0),))
            pen.polylines(_straights(figure.before + base, page, room), stroke=_LEVEL)
        if straights := _straights(figure.new, page, room):
            pen.polylines(straights, stroke=_NEW_LEVEL)
        _draw_lines(pen, figure.before.lines, page, _OLD)
        pen.polylines([cross for _, point in figure.before.points for cross in _cross(page(point), 0.6)], stroke=_OLD)
        if figure.new.lines:
            pen.path([line.moved(page) for line in figure.new.lines], stroke=_NEW)
        if figure.piece is not None:
            _draw_notches(pen, figure, page)
        guides = [_guide(page, step.point) for step in figure.steps if step.point and "across from" in step.rule]
        if guides:
            pen.polylines([line for pair in guides for line in pair], stroke=_GUIDE)
        crosses = [cross for _, point in figure.new.points for cross in _cross(page(point), 0.9)]
        if crosses:
            pen.polylines(crosses, stroke=_NEW)
        _draw_names(pen, figure, page, room)
    return scale


def sheet_box(stands: Sequence[Drawn]) -> Box:
    """Returns the box of everything drawn on a sheet."""
    points = [p for drawn in stands for _, p in drawn.points]
    points += [p for drawn in stands for line in drawn.lines for p in _corners(line)]
    ys = [p.y for p in points] + [y for drawn in stands for _, y in drawn.levels]
    xs = [p.x for p in points] or [0.0]
    return min(xs), min(ys, default=0.0), max(xs), max(ys, default=0.0)


def _corners(line: Path) -> list[Point]:
    return [line.start, *(segment.d for segment in line.segments)]


def _view(figure: Figure, sheet: Box, shape: float) -> Box:
    """Returns the part of the sheet that a figure shows, `shape` times as wide as high."""
    if figure.new.levels or figure.new.uprights:
        left, bottom, right, top = sheet
    else:
        left, bottom, right, top = sheet_box([figure.new])
    least = max(_CLOSEST, _SMALLEST * max(sheet[2] - sheet[0], sheet[3] - sheet[1])) if figure.piece is None else 0.0
    wide, high = max(right - left, least), max(top - bottom, least)
    wide, high = wide * 1.16, high * 1.16
    wide, high = max(wide, high * shape), max(high, wide / shape)
    x, y = (left + right) / 2, (bottom + top) / 2
    return x - wide / 2, y - high / 2, x + wide / 2, y + high / 2


def _straights(drawn: Drawn, page: Transform, room: tuple[float, float]) -> list[Ring]:
    """Returns the levels and uprights right across the room."""
    levels = [page(Point(0.0, y)).y for _, y in drawn.levels]
    uprights = [page(Point(x, 0.0)).x for _, x in drawn.uprights]
    lines: list[Ring] = [[(0.0, y), (room[0], y)] for y in levels]
    lines += [[(x, 0.0), (x, room[1])] for x in uprights]
    return lines


def _draw_lines(pen: Pen, lines: Sequence[Path], page: Transform, stroke: Stroke) -> None:
    flat = [[(q.x, q.y) for q in map(page, line.points(_FLAT))] for line in lines]
    if flat:
        pen.polylines(flat, stroke=stroke)


def _cross(at: Point, size: float) -> tuple[Ring, Ring]:
    return [(at.x - size, at.y), (at.x + size, at.y)], [(at.x, at.y - size), (at.x, at.y + size)]


def _guide(page: Transform, point: Point) -> tuple[Ring, Ring]:
    """Returns the way to a point: up from the waist, across from the centre back."""
    at, foot, side = page(point), page(Point(point.x, 0.0)), page(Point(0.0, point.y))
    return [(at.x, at.y), (foot.x, foot.y)], [(at.x, at.y), (side.x, side.y)]


def _draw_notches(pen: Pen, figure: Figure, page: Transform) -> None:
    piece = figure.piece
    if piece is None:
        return
    ticks: list[Ring] = []
    for notch in piece.notches:
        edge = piece.edge(notch.edge)
        at, out = page(edge.path.at(notch.at)), edge.path.tangent(notch.at).right
        ticks.append([(at.x, at.y), (at.x + out.x * 1.3, at.y + out.y * 1.3)])
    if ticks:
        pen.polylines(ticks, stroke=_NOTCH)


def _draw_names(pen: Pen, figure: Figure, page: Transform, room: tuple[float, float]) -> None:
    """Writes the names of what is new where they cover neither one another nor a new point."""
    taken = [_around(page(point), 0.8) for _, point in figure.new.points]
    for name, y in figure.new.levels:
        at = page(Point(0.0, y))
        taken.append(_write(pen, name, [_Spot(Point(0.8, at.y + 0.5), "start")], taken, room, weight="italic"))
    for name, x in figure.new.uprights:
        at = page(Point(x, 0.0))
        taken.append(_write(pen, name, [_Spot(Point(at.x - 0.8, 1.0), "end")], taken, room, weight="italic"))
    for name, point in figure.new.points:
        taken.append(_write(pen, name, _beside(page(point)), taken, room, weight="semibold"))
    inner = _narrow(figure, page)
    for name, path in _named_lines(figure):
        wide = text_width(name, _TYPE, "italic")
        spots: list[_Spot] = []
        for part in (0.5, 0.35, 0.65, 0.2, 0.8):
            heading = path.tangent(path.length * part)
            inside, outside = _along(page(path.at(path.length * part)), heading)
            level = abs(heading.x) > abs(heading.y)
            spots += [inside, outside] if (path.length * page.yy > wide if level else inner > wide) else [outside]
        taken.append(_write(pen, name, spots, taken, room, weight="italic"))


def _narrow(figure: Figure, page: Transform) -> float:
    """Returns the room for a name inside a traced piece from one side, on the page; no bound where there is none."""
    if figure.piece is None:
        return math.inf
    left, _, right, _ = sheet_box([figure.new])
    return (right - left) * page.xx * 0.45


def _named_lines(figure: Figure) -> list[tuple[str, Path]]:
    if figure.piece is not None:
        edges = {edge.name.removesuffix(".right"): edge for edge in figure.piece.edges if ".left" not in edge.name}
        return [(name.replace("-", " "), edge.path) for name, edge in edges.items()]
    return [(step.name.split(" of the ")[0], step.line) for step in figure.steps if step.line is not None]


def _around(at: Point, size: float) -> Box:
    return at.x - size, at.y - size, at.x + size, at.y + size


@dataclass(frozen=True)
class _Spot:
    """A place where a name may begin, end, or have its middle."""

    at: Point
    anchor: str

    def box(self, wide: float) -> Box:
        """Returns the room that a name takes there."""
        left = self.at.x - {"start": 0.0, "middle": wide / 2, "end": wide}[self.anchor]
        return left, self.at.y - 0.3, left + wide, self.at.y + _HIGH


def _beside(at: Point) -> list[_Spot]:
    return [
        _Spot(Point(at.x + dx, at.y + dy), anchor)
        for dx, dy, anchor in (
            (_OFF, 0.5, "start"),
            (-_OFF, 0.5, "end"),
            (_OFF, -_OFF - _HIGH / 2, "start"),
            (-_OFF, -_OFF - _HIGH / 2, "end"),
            (0.0, _OFF, "middle"),
            (0.0, -_OFF - _HIGH, "middle"),
            (0.0, 2 * _OFF + _HIGH, "middle"),
            (0.0, -2 * _OFF - 2 * _HIGH, "middle"),
        )
    ]


def _along(at: Point, heading: Point) -> list[_Spot]:
    """Returns places on either side of a line, first on its left (inside a piece)."""
    if abs(heading.x) > abs(heading.y):
        above = _Spot(Point(at.x, at.y + 0.8), "middle")
        below = _Spot(Point(at.x, at.y - 0.6 - _HIGH), "middle")
        return [above, below] if heading.x > 0 else [below, above]
    right = _Spot(Point(at.x + 0.9, at.y - _HIGH / 2), "start")
    left = _Spot(Point(at.x - 0.9, at.y - _HIGH / 2), "end")
    return [right, left] if heading.y < 0 else [left, right]


def _write(
    pen: Pen, name: str, spots: Sequence[_Spot], taken: Sequence[Box], room: tuple[float, float], *, weight: str
) -> Box:
    """Writes a name at the first free spot, or the freest, and returns the room it takes."""
    wide = text_width(name, _TYPE, weight)
    best, least = spots[0], math.inf
    for spot in spots:
        box = spot.box(wide)
        cost = sum(_common(box, other) for other in taken) + 10 * _outside(box, room)
        if cost < least - 1e-9:
            best, least = spot, cost
        if cost == 0.0:
            break
    pen.text(best.at, name, size=_TYPE, weight=weight, anchor=best.anchor, colour=THREAD)
    return best.box(wide)


def _common(a: Box, b: Box) -> float:
    return max(0.0, min(a[2], b[2]) - max(a[0], b[0])) * max(0.0, min(a[3], b[3]) - max(a[1], b[1]))


def _outside(box: Box, room: tuple[float, float]) -> float:
    return max(0.0, -box[0]) + max(0.0, -box[1]) + max(0.0, box[2] - room[0]) + max(0.0, box[3] - room[1])


__all__ = ["Box", "draw_lesson_figure", "sheet_box"]
