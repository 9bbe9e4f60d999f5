"""Room for small type: a name is written only where it stays inside its piece and off the names before it."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass
from functools import cached_property

import shapely
from shapely.geometry.base import BaseGeometry

from settwright.geometry import Point
from settwright.workbook.drawing.pen import text_width

_SQUARE = 60.0  # boxes are kept by squares of this side, so that only near ones are compared
_RISE, _FALL = 0.74, 0.22  # what letters take above and below the line they stand on, as parts of their size
_STEEP = 0.15  # type this near to upright reads from the foot up


@dataclass(frozen=True)
class Box:
    """A turned rectangle: its middle, the direction of its length, half its length and half its height."""

    middle: Point
    along: Point
    half_length: float
    half_height: float

    @cached_property
    def polygon(self) -> BaseGeometry:
        """The rectangle as a polygon."""
        m, c, s = self.middle, self.along.x, self.along.y
        lx, ly, hx, hy = c * self.half_length, s * self.half_length, -s * self.half_height, c * self.half_height
        return shapely.polygons(
            (
                (m.x - lx - hx, m.y - ly - hy),
                (m.x + lx - hx, m.y + ly - hy),
                (m.x + lx + hx, m.y + ly + hy),
                (m.x - lx + hx, m.y - ly + hy),
            )
        )

    @cached_property
    def squares(self) -> tuple[tuple[int, int], ...]:
        """The squares of the room's grid that it touches."""
        c, s = abs(self.along.x), abs(self.along.y)
        x, y = self.middle.x, self.middle.y
        wide = c * self.half_length + s * self.half_height
        high = s * self.half_length + c * self.half_height
        return tuple(
            (i, j)
            for i in range(math.floor((x - wide) / _SQUARE), math.floor((x + wide) / _SQUARE) + 1)
            for j in range(math.floor((y - high) / _SQUARE), math.floor((y + high) / _SQUARE) + 1)
        )

    def meets(self, other: Box) -> bool:
        """Returns whether the two rectangles overlap (separating axes)."""
        # in plain numbers: asked a hundred thousand times for one sheet
        x, y = other.middle.x - self.middle.x, other.middle.y - self.middle.y
        long, high, other_long, other_high = self.half_length, self.half_height, other.half_length, other.half_height
        reach = long + high + other_long + other_high
        if abs(x) > reach or abs(y) > reach:
            return False
        a, b, c, d = self.along.x, self.along.y, other.along.x, other.along.y
        cos, sin = abs(a * c + b * d), abs(a * d - b * c)
        return (
            abs(x * a + y * b) <= long + other_long * cos + other_high * sin
            and abs(y * a - x * b) <= high + other_long * sin + other_high * cos
            and abs(x * c + y * d) <= other_long + long * cos + high * sin
            and abs(y * c - x * d) <= other_high + long * sin + high * cos
        )


@dataclass(frozen=True, slots=True)
class Lettering:
    """A line of type with its place: `at` is where its baseline starts, `along` which way it runs."""

    text: str
    at: Point
    along: Point
    size: float
    weight: str = "regular"

    @property
    def box(self) -> Box:
        """The room that it takes."""
        length = text_width(self.text, self.size, self.weight)
        lift = self.size * (_RISE - _FALL) / 2
        middle = self.at + self.along * (length / 2) + self.along.left * lift
        return Box(middle, self.along, length / 2, self.size * (_RISE + _FALL) / 2)


def lettered(text: str, near: Point, away: Point, size: float, weight: str = "regular") -> Lettering:
    """Returns a line of type that starts at `near` and runs along `away`, turned so that it never stands on its head.

    Type that would run to the left, or straight down, is written the other way round and ends at `near`.
    """
    drop = size * (_RISE - _FALL) / 2
    if away.x < -_STEEP or (away.x <= _STEEP and away.y < 0):
        along = -away
        start = near + away * text_width(text, size, weight)
    else:
        along, start = away, near
    return Lettering(text, start - along.left * drop, along, size, weight)


class Room:
    """What is taken on one piece: the only changing value here, alive while one piece is drawn."""

    def __init__(
        self,
        within: shapely.Polygon,
        lines: shapely.MultiLineString | None = None,
        taken: dict[tuple[int, int], list[Box]] | None = None,
    ):
        self._within = within
        self._lines = shapely.MultiLineString() if lines is None else lines
        shapely.prepare([self._within, self._lines])
        self._taken: dict[tuple[int, int], list[Box]] = {} if taken is None else taken

    def narrowed(self, within: shapely.Polygon) -> Room:
        """Returns the same room kept to a smaller outline; what is taken in one is taken in both."""
        return Room(within, self._lines, self._taken)

    def holds(self, box: Box) -> bool:
        """Returns whether the box lies inside and off everything taken."""
        return not self._meets(box) and bool(shapely.contains(self._within, box.polygon))

    def is_clear(self, box: Box) -> bool:
        """Returns whether no drawn line runs through the box."""
        return not shapely.intersects(self._lines, box.polygon)

    def shared(self, strip: shapely.Polygon) -> float:
        """Returns how much of the drawn lines runs in a strip."""
        return float(self._lines.intersection(strip).length)

    def take(self, box: Box) -> None:
        """Marks the box as taken."""
        for square in box.squares:
            self._taken.setdefault(square, []).append(box)

    def claim(self, choices: Iterable[Lettering]) -> Lettering | None:
        """Returns the first of several places that there is room for, and takes it; best one off the drawn lines."""
        crossed: Lettering | None = None
        for lettering in choices:
            box = lettering.box
            if self.holds(box):
                if self.is_clear(box):
                    self.take(box)
                    return lettering
                crossed = crossed or lettering
        if crossed:
            self.take(crossed.box)
        return crossed

    def _meets(self, box: Box) -> bool:
        for square in box.squares:
            for other in self._taken.get(square, ()):
                if box.meets(other):
                    return True
        return False
