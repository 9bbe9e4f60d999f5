"""Points of the plane and the affine maps that move them; millimetres, radians, y upwards."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import NamedTuple


@dataclass(frozen=True, slots=True, order=True)
class Point:
    """A point or a displacement in millimetres.

    >>> (Point(3, 4) - Point(0, 0)).length
    5.0
    """

    x: float
    y: float

    def __add__(self, other: Point) -> Point:
        return Point(self.x + other.x, self.y + other.y)

    def __sub__(self, other: Point) -> Point:
        return Point(self.x - other.x, self.y - other.y)

    def __mul__(self, factor: float) -> Point:
        return Point(self.x * factor, self.y * factor)

    __rmul__ = __mul__

    def __truediv__(self, divisor: float) -> Point:
        return Point(self.x / divisor, self.y / divisor)

    def __neg__(self) -> Point:
        return Point(-self.x, -self.y)

    def dot(self, other: Point) -> float:
        """Returns the scalar product."""
        return self.x * other.x + self.y * other.y

    def cross(self, other: Point) -> float:
        """Returns the z part of the vector product: positive when `other` lies to the left."""
        return self.x * other.y - self.y * other.x

    @property
    def length(self) -> float:
        """Distance from the origin."""
        return math.sqrt(self.x * self.x + self.y * self.y)

    @property
    def angle(self) -> float:
        """Direction from the +x axis, in (-π, π]."""
        return math.atan2(self.y, self.x)

    @property
    def unit(self) -> Point:
        """The same direction with length 1; the zero displacement stays zero."""
        length = self.length
        return self / length if length else self

    @property
    def left(self) -> Point:
        """The displacement turned a quarter turn counter-clockwise."""
        return Point(-self.y, self.x)

    @property
    def right(self) -> Point:
        """The displacement turned a quarter turn clockwise."""
        return Point(self.y, -self.x)

    def rotated(self, angle: float) -> Point:
        """Returns the displacement turned counter-clockwise."""
        c, s = math.cos(angle), math.sin(angle)
        return Point(c * self.x - s * self.y, s * self.x + c * self.y)

    def towards(self, other: Point, distance: float) -> Point:
        """Returns the point at `distance` from here in the direction of `other`."""
        return self + (other - self).unit * distance

    def between(self, other: Point, part: float = 0.5) -> Point:
        """Returns the point that divides the way to `other`: 0 is here, 1 is there."""
        return Point(self.x + (other.x - self.x) * part, self.y + (other.y - self.y) * part)


ORIGIN = Point(0.0, 0.0)


def direction(angle: float) -> Point:
    """Returns the unit displacement at `angle` from the +x axis."""
    return Point(math.cos(angle), math.sin(angle))


def crossing(a: Point, along_a: Point, b: Point, along_b: Point) -> Point:
    """Returns where the line through `a` along `along_a` meets the line through `b` along `along_b`.

    Raises ValueError for parallel lines.
    """
    area = along_a.cross(along_b)
    if abs(area) < 1e-12:
        raise ValueError(f"parallel lines through {a} and {b} never meet")
    return a + along_a * ((b - a).cross(along_b) / area)


class Transform(NamedTuple):
    """An affine map: (x, y) goes to (xx·x + xy·y + dx, yx·x + yy·y + dy).

    >>> Transform.turn(math.pi / 2).then(Transform.shift(10, 0))(Point(1, 0)).x
    10.0
    """

    xx: float = 1.0
    xy: float = 0.0
    yx: float = 0.0
    yy: float = 1.0
    dx: float = 0.0
    dy: float = 0.0

    @classmethod
    def shift(cls, dx: float, dy: float) -> Transform:
        """Returns a translation."""
        return cls(dx=dx, dy=dy)

    @classmethod
    def turn(cls, angle: float, about: Point = ORIGIN) -> Transform:
        """Returns a rotation counter-clockwise about a point; quarter turns are exact."""
        quarter = angle / (math.pi / 2)
        if abs(quarter - round(quarter)) < 1e-15:
            c, s = ((1.0, 0.0), (0.0, 1.0), (-1.0, 0.0), (0.0, -1.0))[round(quarter) % 4]
        else:
            c, s = math.cos(angle), math.sin(angle)
        return cls(c, -s, s, c, about.x - c * about.x + s * about.y, about.y - s * about.x - c * about.y)

    @classmethod
    def mirror_x(cls) -> Transform:
        """Returns the mirroring about the y axis (left becomes right)."""
        return cls(xx=-1.0)

    def __call__(self, p: Point) -> Point:
        """Returns where the map takes a point."""
        return Point(self.xx * p.x + self.xy * p.y + self.dx, self.yx * p.x + self.yy * p.y + self.dy)

    def then(self, after: Transform) -> Transform:
        """Returns the map that does this one first and `after` second."""
        return Transform(
            after.xx * self.xx + after.xy * self.yx,
            after.xx * self.xy + after.xy * self.yy,
            after.yx * self.xx + after.yy * self.yx,
            after.yx * self.xy + after.yy * self.yy,
            after.xx * self.dx + after.xy * self.dy + after.dx,
            after.yx * self.dx + after.yy * self.dy + after.dy,
        )

    def inverse(self) -> Transform:
        """Returns the map back; raises ValueError when there is none."""
        area = self.xx * self.yy - self.xy * self.yx
        if abs(area) < 1e-15:
            raise ValueError("this map flattens the plane and has no way back")
        xx, xy, yx, yy = self.yy / area, -self.xy / area, -self.yx / area, self.xx / area
        return Transform(xx, xy, yx, yy, -(xx * self.dx + xy * self.dy), -(yx * self.dx + yy * self.dy))
