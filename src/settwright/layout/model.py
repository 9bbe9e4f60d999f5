"""Shapes to lay on the cloth, and where they came to lie."""

from __future__ import annotations

from dataclasses import dataclass

from settwright.findings import Finding
from settwright.geometry import Point


@dataclass(frozen=True)
class LatticeState:
    """One way a shape may lie: turned or face down, with the phase of its grain mark (None: that axis is free)."""

    t: int = 1
    f: int = 1
    u: float | None = None
    v: float | None = None


@dataclass(frozen=True)
class Shape:
    """A shape to lay: its cutting line in its own frame already turned to the warp (R(g) applied)."""

    name: str
    outline: tuple[Point, ...]
    states: tuple[LatticeState, ...]
    is_visible: bool = True  # a hidden one may lie on a blemish


@dataclass(frozen=True)
class Board:
    """The cloth to lay on: usable from x = selvedge to width − selvedge, y from 0; phases are x − ox, y − oy."""

    width: float
    selvedge: float
    repeat_x: float | None  # None: no upright bars
    repeat_y: float | None
    ox: float = 0.0
    oy: float | None = None  # None: the start of the repeat is free, to be chosen
    faults: tuple[tuple[Point, ...], ...] = ()  # no shape may touch them
    blemishes: tuple[tuple[Point, ...], ...] = ()  # no visible shape may touch them
    gap: float = 3.0  # room for the shears between cutting lines
    length_in_hand: float | None = None


@dataclass(frozen=True)
class Placement:
    """Where a shape's grain mark lies in the cloth frame, and how."""

    name: str
    x: float
    y: float
    t: int = 1
    f: int = 1


@dataclass(frozen=True)
class Laid:
    """A shape that stays where it is: already cut, or kept as a block for later."""

    shape: Shape
    placement: Placement

    @property
    def corners(self) -> tuple[Point, ...]:
        """Its cutting line in the cloth frame."""
        at = self.placement
        return tuple(Point(at.x + at.t * at.f * p.x, at.y + at.t * p.y) for p in self.shape.outline)


@dataclass(frozen=True)
class Layout:
    """A layout of all shapes of one cloth."""

    placements: tuple[Placement, ...]
    length: float  # lays in
    oy: float  # where the weft sequence's origin lies
    usage: float  # area of shapes ÷ (usable width × length)
    findings: tuple[Finding, ...] = ()
