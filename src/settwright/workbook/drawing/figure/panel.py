"""A piece of the body between two seams, its darts sewn."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass
from functools import cached_property

import numpy as np
import shapely
from shapely.geometry import Polygon
from shapely.geometry.base import BaseGeometry

from settwright.makeup.model import CutPiece
from settwright.pattern import LineKind
from settwright.workbook.drawing.figure.form import Floats, Half, Profile, mirrored, stacked
from settwright.workbook.drawing.plaid import Places

_TURNED = 0.8  # of a shoulder dart's height from its point, above which its outer side is turned wholly


@dataclass(frozen=True)
class Dart:
    """A dart's two legs as profiles, in the right half's piece frame; a leg's end value holds beyond an open end."""

    left: Profile
    right: Profile
    is_from_above: bool = False  # it begins in the shoulder

    @classmethod
    def of(cls, first: Places, second: Places, *, is_from_above: bool = False) -> Dart:
        """Returns a dart from its legs."""
        left, right = (first, second) if first[:, 0].mean() < second[:, 0].mean() else (second, first)
        return cls(Profile.along(left), Profile.along(right), is_from_above)

    def intake(self, y: Floats) -> Floats:
        """Returns its width at each height."""
        return np.maximum(self.right(y) - self.left(y), 0.0)

    def middle(self, y: Floats) -> Floats:
        """Returns where its middle line stands at each height."""
        return (self.left(y) + self.right(y)) / 2

    def raised(self, places: Places) -> Floats:
        """Returns by how much places are raised when a dart from the shoulder is sewn: what lies beyond it turns about
        its point, until both legs end in one place; the farther below the shoulder the less.
        """
        if not self.is_from_above:
            return np.zeros(len(places))
        lower, upper = sorted((self.left, self.right), key=lambda leg: float(leg.heights[-1]))
        outwards = -1.0 if lower is self.left else 1.0
        x, foot = float(lower.values[0]), float(lower.heights[0])
        angle = math.atan2(outwards * (float(lower.values[-1]) - x), float(lower.heights[-1]) - foot)
        angle -= math.atan2(outwards * (float(upper.values[-1]) - x), float(upper.heights[-1]) - foot)
        out, up = outwards * (places[:, 0] - x), places[:, 1] - foot
        turned = math.sin(angle) * out - (1.0 - math.cos(angle)) * up
        part = np.clip(up / (_TURNED * (float(lower.heights[-1]) - foot)), 0.0, 1.0)
        return np.where(outwards * (places[:, 0] - self.middle(places[:, 1])) > 0.0, part * turned, 0.0)

    @property
    def area(self) -> BaseGeometry:
        """Returns what is sewn away, reaching beyond an open end."""
        low, high = float(self.left.heights[0]), float(self.left.heights[-1])
        y = np.unique(np.concatenate((self.left.heights, self.right.heights, [low - 20.0, high + 20.0])))
        y = y[self.intake(y) > 0.01]
        if len(y) < 2:
            return Polygon()
        y = np.concatenate(([y[0] - 0.5], y, [y[-1] + 0.5]))
        sides = np.concatenate((stacked(self.left(y), y), stacked(self.right(y), y)[::-1]))
        return shapely.make_valid(Polygon(sides))


def darts_of(half: Half, piece: CutPiece) -> tuple[Dart, ...]:
    """Returns the darts of a piece on this half, but for the gorge's, which lies hidden under the lapel, and a
    facing's own. A dart is drawn as one line, down a leg and up the other, or as two lines that follow one another.
    """
    ends = (".right", ".left")
    own = f".{half.hand.value}"
    lines = [
        (line.name.startswith("shoulder-dart"), half.path(line.path))
        for line in piece.piece.lines
        if line.kind is LineKind.DART
        and (line.name.endswith(own) or not line.name.endswith(ends))
        and not line.name.startswith(("gorge-dart", "facing-"))
    ]
    darts: list[Dart] = [*_pleats(half, piece)]
    waiting: Places | None = None
    for is_from_above, line in lines:
        height = line[:, 1].max() - line[:, 1].min()
        if np.ptp(line[:, 0]) > height:
            continue  # a dart from the side moves nothing across
        if abs(line[0, 1] - line[-1, 1]) < height / 2:
            point = int(np.argmax(np.abs(line[:, 1] - line[0, 1])))
            darts.append(Dart.of(line[: point + 1], line[point:], is_from_above=is_from_above))
        elif waiting is None:
            waiting = line
        else:
            darts.append(Dart.of(waiting, line))
            waiting = None
    return tuple(darts)


def _pleats(half: Half, piece: CutPiece) -> Iterable[Dart]:
    """Yields the pleats of a skirt's piece, each closed from its fold to what it covers; one that turns back at a seam
    is closed from the fold, or to what is covered, as far as that seam.
    """
    own = f".{half.hand.value}"
    lines = {
        line.name.removesuffix(own): half.path(line.path)
        for line in piece.piece.lines
        if line.name.startswith("pleat-") and (line.name.endswith(own) or not line.name.endswith((".right", ".left")))
    }
    for name, line in lines.items():
        stem, _, kind = name.rpartition("-")
        if kind == "fold":
            seam = "side" if piece.piece.name == "skirt-front" else "centre-back"
            other = lines.get(f"{stem}-cover")
            yield Dart.of(line, half.edge(piece, seam) if other is None else other)
        elif kind == "cover" and f"{stem}-fold" not in lines:
            yield Dart.of(half.edge(piece, "side"), line)


@dataclass(frozen=True)
class Panel:
    """A piece of the body between its edge towards the back (left) and towards the front (right)."""

    half: Half
    piece: CutPiece
    left: Profile
    right: Profile
    rise: float = 0.0  # added to the piece's heights to give the figure's

    @cached_property
    def darts(self) -> tuple[Dart, ...]:
        """Its darts."""
        return darts_of(self.half, self.piece)

    def raised(self, places: Places) -> Floats:
        """Returns by how much places are raised when darts from the shoulder are sewn."""
        return sum((dart.raised(places) for dart in self.darts), np.zeros(len(places)))

    def from_right(self, places: Places) -> Floats:
        """Returns how far places lie from the edge towards the front when the darts are sewn."""
        x, y = places[:, 0], places[:, 1]
        distance = self.right(y) - x
        for dart in self.darts:
            distance = distance - np.where(x < dart.middle(y), dart.intake(y), 0.0)
        return distance

    def from_left(self, places: Places) -> Floats:
        """Returns the same from the edge towards the back."""
        x, y = places[:, 0], places[:, 1]
        distance = x - self.left(y)
        for dart in self.darts:
            distance = distance - np.where(x > dart.middle(y), dart.intake(y), 0.0)
        return distance

    def width(self, heights: Floats) -> Floats:
        """Returns the finished width at heights of the figure."""
        y = heights - self.rise
        width = self.right(y) - self.left(y)
        for dart in self.darts:
            width = width - dart.intake(y)
        return width

    @cached_property
    def region(self) -> BaseGeometry:
        """The area inside the seam line without the darts, in the right half's frame."""
        region = mirrored(self.half.region(self.piece), self.half.sign)
        for dart in self.darts:
            region = shapely.difference(region, dart.area)
        return region
