"""An independent look at a layout: shapely alone, nothing of the engine's."""

from __future__ import annotations

import itertools

from shapely import Polygon

from settwright.geometry import Point
from settwright.layout import Board, Layout, Shape

SHRUNK = 0.005  # mm; cutting lines shrunk by so much must not meet


def faults_in(layout: Layout, shapes: tuple[Shape, ...], board: Board) -> list[str]:
    """Returns what is wrong with a layout, in words; empty when it is sound."""
    wrong: list[str] = []
    by_name = {shape.name: shape for shape in shapes}
    if sorted(p.name for p in layout.placements) != sorted(by_name):
        wrong.append("not every shape lies once")
    lying: dict[str, Polygon] = {}
    for p in layout.placements:
        shape = by_name[p.name]
        lying[p.name] = Polygon([(p.x + p.t * p.f * q.x, p.y + p.t * q.y) for q in shape.outline])
        states = [s for s in shape.states if (s.t, s.f) == (p.t, p.f)]
        if not any(
            is_on_phase(p.x - board.ox, s.u, board.repeat_x) and is_on_phase(p.y - layout.oy, s.v, board.repeat_y)
            for s in states
        ):
            wrong.append(f"{p.name} is off its phase")
        left, bottom, right, top = lying[p.name].bounds
        if left < board.selvedge - 1e-6 or right > board.width - board.selvedge + 1e-6:
            wrong.append(f"{p.name} lies over a selvedge")
        if bottom < -1e-6 or top > layout.length + 1e-6:
            wrong.append(f"{p.name} lies beyond an end")
        if any(lying[p.name].intersects(polygon(fault)) for fault in board.faults):
            wrong.append(f"{p.name} touches a fault")
    for (a, one), (b, two) in itertools.combinations(lying.items(), 2):
        if one.buffer(-SHRUNK).intersects(two.buffer(-SHRUNK)):
            wrong.append(f"{a} and {b} overlap")
        elif one.distance(two) < board.gap - SHRUNK:
            wrong.append(f"{a} and {b} leave only {one.distance(two):.3f} mm")
    if board.oy is not None and board.repeat_y and not is_on_phase(layout.oy, board.oy, board.repeat_y):
        wrong.append("the start of the repeat was moved")
    return wrong


def is_on_phase(place: float, phase: float | None, repeat: float | None) -> bool:
    if phase is None or repeat is None:
        return True
    turns = (place - phase) / repeat
    return abs(turns - round(turns)) * repeat < 1e-6


def polygon(corners: tuple[Point, ...]) -> Polygon:
    return Polygon([(p.x, p.y) for p in corners])
