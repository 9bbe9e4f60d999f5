"""The places where each shape may lie: a grid that is exact on a plaid and fine where an axis is free.

A matched shape has few places: one in each repeat. A free axis gets a fine step that divides the repeat, so that
matched and free shapes share one grid. On a plaid nothing is lost by that: the places are all there are.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from settwright.geometry import Point
from settwright.layout.model import Board, LatticeState, Shape
from settwright.layout.outline import MICRON, Outline, outline_of

CLEAR_OF_FAULTS = 0.1  # mm kept from a fault at least, so that nothing touches it
NEARLY = 1e-6  # parts of a repeat: a shape that fits to within this fits


@dataclass(frozen=True)
class Axis:
    """The places along one axis: the grain mark lies at first + step × k, in mm."""

    first: float
    step: float
    count: int  # 0: no place; along the cloth, where there is always another place, it is bounded by the window
    units: int  # steps of the common grid in one step; 0 for what never moves
    is_free: bool

    def at(self, k: int) -> float:
        """Returns the place of the grain mark, in mm."""
        return self.first + self.step * k

    def low(self, reach: float) -> int:
        """Returns the first place at `reach` (mm) or beyond."""
        return math.ceil((reach - self.first) / self.step - NEARLY)

    def high(self, reach: float) -> int:
        """Returns the last place at `reach` (mm) or before."""
        return math.floor((reach - self.first) / self.step + NEARLY)


@dataclass(frozen=True)
class Way:
    """One way in which a shape may lie, with all its places."""

    piece: int
    state: LatticeState
    outline: Outline
    x: Axis
    y: Axis

    @property
    def bottom(self) -> float:
        """Lowest point from the grain mark, in mm."""
        return self.outline.bottom / MICRON

    @property
    def top(self) -> float:
        """Highest point from the grain mark, in mm."""
        return self.outline.top / MICRON

    @property
    def middle(self) -> tuple[float, float]:
        """The middle of its extent from the grain mark, in mm."""
        return (self.outline.left + self.outline.right) / 2 / MICRON, (self.bottom + self.top) / 2


@dataclass(frozen=True)
class Ruler:
    """One axis of the cloth."""

    limits: tuple[float, float | None]  # of the usable cloth
    origin: float  # of the sett
    repeat: float | None
    fine: float  # step of a free axis, a whole part of the repeat


def axis_places(ruler: Ruler, extent: tuple[float, float], phase: float | None) -> Axis:
    """Returns the places along one axis of a shape that reaches from extent[0] to extent[1] about its grain mark."""
    low = ruler.limits[0] - extent[0]
    high = None if ruler.limits[1] is None else ruler.limits[1] - extent[1]
    origin, repeat, fine = ruler.origin, ruler.repeat, ruler.fine
    if phase is None or repeat is None:
        first, step, is_free = low, fine, True
        units = 1
    else:
        turns = math.ceil((low - origin - phase) / repeat - NEARLY)
        first, step, is_free = origin + phase + turns * repeat, repeat, False
        units = round(repeat / fine)
    count = 1 << 30 if high is None else max(0, math.floor((high - first) / step + NEARLY) + 1)
    return Axis(first, step, count, units, is_free)


@dataclass(frozen=True)
class Lying:
    """A shape in one of its states: what it covers, wherever on the cloth it may lie."""

    piece: int
    state: LatticeState
    outline: Outline


def lying_of(shapes: Sequence[Shape], gap: float) -> tuple[Lying, ...]:
    """Returns every shape in each of its states, in order."""
    return tuple(
        Lying(piece, state, plain.lying(state.t, state.f))
        for piece, shape in enumerate(shapes)
        for plain in (outline_of(shape.outline, gap),)
        for state in shape.states
    )


def ways_of(lying: Sequence[Lying], board: Board, oy: float, fine: tuple[float, float]) -> tuple[Way, ...]:
    """Returns the way, with its places, of every shape in every state; one without a place has a count of 0."""
    width = Ruler((board.selvedge, board.width - board.selvedge), board.ox, board.repeat_x, fine[0])
    length = Ruler((0.0, None), oy, board.repeat_y, fine[1])
    ways: list[Way] = []
    for one in lying:
        across = (one.outline.left / MICRON, one.outline.right / MICRON)
        along = (one.outline.bottom / MICRON, one.outline.top / MICRON)
        x = axis_places(width, across, one.state.u)
        y = axis_places(length, along, one.state.v)
        ways.append(Way(one.piece, one.state, one.outline, x, y))
    return tuple(ways)


def fine_steps(board: Board, fine: float, is_mixed: tuple[bool, bool]) -> tuple[float, float]:
    """Returns the grid's step across and along: a whole part of the repeat, the repeat itself where all is matched."""
    steps = [
        fine if repeat is None else (repeat / max(1, round(repeat / fine)) if mixed else repeat)
        for repeat, mixed in zip((board.repeat_x, board.repeat_y), is_mixed, strict=True)
    ]
    return steps[0], steps[1]


def fixed_way(corners: Sequence[Point], clearance: float, piece: int) -> Way:
    """Returns the one way of what lies fixed on the cloth; `clearance` as in outline_of."""
    stays = Axis(0.0, 1.0, 1, 0, False)
    return Way(piece, LatticeState(), outline_of(tuple(corners), clearance), stays, stays)
