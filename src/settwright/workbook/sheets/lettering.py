"""Room for small type: a name is written only where it stays inside its piece and off the names before it."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import cached_property

import shapely

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
    def corners(self) -> tuple[Point, Point, Point, Point]:
        """The four corners, in turn."""
        x, y = self.along * self.half_length, self.along.left * self.half_height
        m = self.middle
        return m - x - y, m + x - y, m + x + y, m - x + y

    @cached_property
    def squares(self) -> tuple[tuple[int, int], ...]:
        """The squares of the room's grid that it touches."""
        xs, ys = [p.x for p in self.corners], [p.y for p in self.corners]
        return tuple(
            (i, j)
            for i in range(int(min(xs) // _SQUARE), int(max(xs) // _SQUARE) + 1)
            for j in range(int(min(ys) // _SQUARE), int(max(ys) // _SQUARE) + 1)
        )

    def meets(self, other: Box) -> bool:
        """Returns whether the two rectangles overlap (separating axes)."""
        apart = other.middle - self.middle
        reach = self.half_length + self.half_height + other.half_length + other.half_height
        if abs(apart.x) > reach or abs(apart.y) > reach:
            return False
        for axis in (self.along, self.along.left, other.along, other.along.left):
            if abs(apart.dot(axis)) > self._reach(axis) + other._reach(axis):
                return False
        return True

    def _reach(self, axis: Point) -> float:
        return self.half_length * abs(self.along.dot(axis)) + self.half_height * abs(self.along.left.dot(axis))


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
        return not self._meets(box) and self._within.contains(_polygon(box.corners))

    def is_clear(self, box: Box) -> bool:
        """Returns whether no drawn line runs through the box."""
        return not self._lines.intersects(_polygon(box.corners))

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
        return any(box.meets(other) for square in box.squares for other in self._taken.get(square, ()))


def _polygon(corners: Sequence[Point]) -> shapely.Polygon:
    return shapely.Polygon([(p.x, p.y) for p in corners])
