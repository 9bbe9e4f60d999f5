"""The order of work as a small picture: a numbered ring for each step, a line from what it waits for."""

from __future__ import annotations

import math
from collections.abc import Sequence

from settwright.geometry import Path, Point, direction
from settwright.makeup.model import Step
from settwright.workbook.drawing.marks import INK, QUIET, THREAD
from settwright.workbook.drawing.pen import Pen, Stroke

RADIUS = 2.3
ROW = 6.2
_FITTING = Stroke(0.55, THREAD)
_PLAIN = Stroke(0.25, INK)
_LINE = Stroke(0.2, QUIET)


def columns_of(steps: Sequence[Step]) -> list[list[int]]:
    """Returns the numbers of the steps in columns, from 0: each step stands right of all that it waits for."""
    depth: dict[str, int] = {}
    for step in steps:
        depth[step.name] = 1 + max((depth[name] for name in step.after), default=-1)
    columns: list[list[int]] = [[] for _ in range(max(depth.values(), default=-1) + 1)]
    for number, step in enumerate(steps):
        columns[depth[step.name]].append(number)
    return columns


def graph_height(steps: Sequence[Step]) -> float:
    """Returns how high the picture is, millimetres of the page."""
    return max(len(column) for column in columns_of(steps)) * ROW + 2.0


def draw_order_graph(pen: Pen, steps: Sequence[Step], width: float) -> None:
    """Draws the graph from (0, 0) to (width, its height); fittings are ringed in thread red."""
    columns = columns_of(steps)
    gap = (width - 2 * RADIUS - 1.0) / max(len(columns) - 1, 1)
    middle = graph_height(steps) / 2
    places: dict[str, Point] = {}
    for at, column in enumerate(columns):
        for row, number in enumerate(column):
            y = middle + ((len(column) - 1) / 2 - row) * ROW
            places[steps[number].name] = Point(RADIUS + 0.5 + at * gap, y)
    for step in steps:
        for first in step.after:
            a, b = places[first] + Point(RADIUS, 0.0), places[step.name] - Point(RADIUS, 0.0)
            reach = max((b.x - a.x) * 0.45, 0.6)
            pen.path(Path.curve(a, a + Point(reach, 0.0), b - Point(reach, 0.0), b), stroke=_LINE)
    for number, step in enumerate(steps, 1):
        at = places[step.name]
        ring = [at + direction(math.tau * turn / 32) * RADIUS for turn in range(32)]
        pen.path(ring, stroke=_FITTING if step.checks else _PLAIN, fill="#ffffff", closed=True)
        pen.text(at - Point(0.0, 0.75), str(number), size=2.3, anchor="middle", colour=INK)
