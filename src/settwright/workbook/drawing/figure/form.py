"""What every part of the figure is made of: patches of cloth, profiles by height, the roundness of a body.

The figure shows where the bars fall, not how the cloth hangs. Heights are kept, level bars stay level; across, the
distance round the body is laid on an ellipse and seen from afar, so that the sides crowd as they do on a stand.
Only where the seat of trousers takes up cloth do bars sink towards the centre back.
Places are arrays of shape (n, 2), millimetres; on the figure x runs to the looker's right from the middle, y upwards.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum
from functools import cached_property, lru_cache
from typing import Literal

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry import Polygon
from shapely.geometry.base import BaseGeometry

from settwright.geometry import Path, Point, Transform
from settwright.makeup.model import CutPiece, Hand, MadeUp, SewnPair
from settwright.workbook.drawing.plaid import Map, Places, affine, polygon

Floats = NDArray[np.float64]

DEPTH = 0.75  # a body's depth as a part of its width, for the roundness of the drawing; from memory, no source
_FINE = 0.02  # edges are told by points between which they stray by less
FAR = 4000.0  # beyond any piece


class View(StrEnum):
    """From where the figure is seen; left and right are the wearer's."""

    FRONT = "front"
    BACK = "back"
    LEFT = "left"
    RIGHT = "right"


Face = Literal[View.FRONT, View.BACK]
"""From where both halves are seen."""
Side = Literal[View.LEFT, View.RIGHT]
"""From where one half hides the other."""


@dataclass(frozen=True)
class Patch:
    """A part of one cut instance that is seen, and the map from its piece frame to the figure."""

    instance: str
    region: BaseGeometry
    place: Map

    def below(self, height: float) -> Patch | None:
        """Returns what of it lies below a height of its piece, or None."""
        region = shapely.intersection(self.region, shapely.box(-FAR, -FAR, FAR, min(height, FAR)))
        return None if region.is_empty else Patch(self.instance, region, self.place)

    @cached_property
    def shape(self) -> BaseGeometry:
        """The region as it is seen on the figure."""
        shape = shapely.transform(shapely.segmentize(self.region, 3.0), self.place)
        return shape if shape.is_valid else shapely.buffer(shape, 0.01)


@dataclass(frozen=True)
class Layer:
    """Patches that lie at one depth, over plain grounds (rings on the figure) and under fine lines and buttons."""

    name: str
    patches: tuple[Patch, ...]
    lines: tuple[Places, ...] = ()
    grounds: tuple[Places, ...] = ()
    buttons: tuple[Places, ...] = ()  # centres


@lru_cache(maxsize=1)
def _ellipse() -> tuple[Floats, Floats, float]:
    """Returns distance round a half ellipse of half width 1, the width reached, and the whole distance."""
    steps = 720
    angles = [math.pi * k / steps for k in range(steps + 1)]
    points = [(math.sin(a), DEPTH * math.cos(a)) for a in angles]
    walked = [0.0]
    for (x0, y0), (x1, y1) in itertools.pairwise(points):
        walked.append(walked[-1] + math.sqrt((x1 - x0) ** 2 + (y1 - y0) ** 2))
    return np.array(walked), np.array([x for x, _ in points]), walked[-1]


def seen_width(part: Floats) -> Floats:
    """Returns how far from the middle a place is seen that lies at a part of the half girth round from it, as a part
    of the half girth.
    """
    walked, width, whole = _ellipse()
    return np.sign(part) * np.interp(np.abs(part) * whole, walked, width) / whole


def seen_depth(part: Floats) -> Floats:
    """Returns how far before the middle, seen from the side, a place lies that is a part of the half girth round from
    the centre front; as a part of the greatest depth, −1 at the centre back.
    """
    walked, width, whole = _ellipse()
    across = np.interp(np.clip(np.abs(part), 0.0, 1.0) * whole, walked, width)
    return np.where(np.abs(part) < 0.5, 1.0, -1.0) * np.sqrt(np.maximum(1.0 - across * across, 0.0))


def greatest_depth(half_girth: Floats) -> Floats:
    """Returns how far the centre front lies before the middle at a half girth."""
    return half_girth * DEPTH / _ellipse()[2]


@lru_cache(maxsize=1)
def _turns() -> tuple[Floats, Floats]:
    steps = 2000
    angles = [math.pi * k / steps for k in range(steps + 1)]
    return np.array(angles), np.array([1.0 - math.cos(a) for a in angles])


def receding(angle: Floats) -> Floats:
    """Returns 1 − cos of an angle up to half a turn: how far a tube's side recedes from its outline, in radii."""
    return np.interp(angle, *_turns())  # tabulated: the library's own cosine differs between processors


def sine(angle: Floats) -> Floats:
    """Returns the sine of an angle held within a quarter turn either way."""
    held = np.clip(np.abs(angle), 0.0, np.pi / 2)
    return np.sign(angle) * np.sqrt(np.maximum(1.0 - np.square(1.0 - receding(held)), 0.0))


def smooth(part: Floats) -> Floats:
    """Returns an even change from 0 to 1."""
    part = np.clip(part, 0.0, 1.0)
    return part * part * (3 - 2 * part)


def averaged(values: Floats, steps: int) -> Floats:
    """Returns each value averaged with its neighbours up to `steps` away; the ends are kept, and straight lines."""
    before, after = 2 * values[0] - values[steps:0:-1], 2 * values[-1] - values[-2 : -steps - 2 : -1]
    total = np.concatenate((np.zeros(1), np.cumsum(np.concatenate((before, values, after)))))
    width = 2 * steps + 1
    return (total[width:] - total[:-width]) / width


@dataclass(frozen=True)
class Profile:
    """A value told by height; beyond its ends the end values hold."""

    heights: Floats
    values: Floats

    @classmethod
    def of(cls, heights: Floats, values: Floats) -> Profile:
        """Returns a profile from points in any order."""
        order = np.argsort(heights, kind="stable")
        return cls(heights[order], values[order])

    @classmethod
    def along(cls, places: Places) -> Profile:
        """Returns how far to the right a line stands at each height."""
        return cls.of(places[:, 1], places[:, 0])

    def __call__(self, heights: Floats) -> Floats:
        """Returns the values at heights."""
        return np.interp(heights, self.heights, self.values)


def stacked(x: Floats, y: Floats) -> Places:
    """Returns places from their coordinates."""
    return np.column_stack((x, y))


def by(x: float, y: float) -> Places:
    """Returns one displacement, to be added to places."""
    return np.array([[x, y]])


def finer_line(line: Places, parts: int) -> Places:
    """Returns a line with each of its steps divided evenly."""
    at = np.arange((len(line) - 1) * parts + 1) / parts
    return stacked(*(np.interp(at, np.arange(len(line)), line[:, k]) for k in (0, 1)))


def places_of(points: Sequence[Point]) -> Places:
    """Returns points as an array."""
    return np.array([(p.x, p.y) for p in points], dtype=np.float64).reshape(-1, 2)


@dataclass(frozen=True)
class Half:
    """One half of the wearer. All its places are told as the right half's; the left one is mirrored on the way."""

    made_up: MadeUp
    hand: Hand

    @property
    def sign(self) -> float:
        """−1 where pieces are mirrored."""
        return -1.0 if self.hand is Hand.LEFT else 1.0

    @cached_property
    def _pieces(self) -> dict[str, CutPiece]:
        return {piece.name: piece for piece in self.made_up.pieces}

    @cached_property
    def _sewn(self) -> dict[str, SewnPair]:
        return {sewn.name: sewn for sewn in self.made_up.sewn}

    @cached_property
    def _traced(self) -> dict[tuple[str, ...], Places]:
        return {}  # edges already told as points

    def find(self, piece: str) -> CutPiece | None:
        """Returns this half's instance of a piece, or the whole piece, or None."""
        return self._pieces.get(f"{piece}.{self.hand.value}") or self._pieces.get(piece)

    def turned(self, places: Places) -> Places:
        """Returns places of this half's piece frame as the right half's, and back."""
        return places * np.array([self.sign, 1.0])

    def path(self, path: Path) -> Places:
        """Returns a path's points, as the right half's."""
        return self.turned(places_of(path.points(_FINE)))

    def edge(self, piece: CutPiece, name: str) -> Places:
        """Returns the points of an edge or line, of a whole piece that of this half. Raises KeyError."""
        key = (piece.name, name)
        if key not in self._traced:
            known = {e.name for e in piece.piece.edges} | {line.name for line in piece.piece.lines}
            own = f"{name}.{self.hand.value}"
            self._traced[key] = self.path(piece.piece.edge(own if own in known else name).path)
        return self._traced[key]

    def region(self, piece: CutPiece) -> BaseGeometry:
        """Returns the area inside the seam line, in the piece's own frame."""
        return polygon(piece.seam_line)

    def sewn(self, seam: str) -> SewnPair | None:
        """Returns this half's instance of a seam or touch, or None."""
        return self._sewn.get(f"{seam}.{self.hand.value}") or self._sewn.get(seam)

    def pairs(self, seam: str) -> tuple[Places, Places] | None:
        """Returns the matched places of a seam of this half on both pieces, as the right half's."""
        sewn = self.sewn(seam)
        if sewn is None:
            return None
        return (
            self.turned(places_of([a for a, _ in sewn.pairs])),
            self.turned(places_of([b for _, b in sewn.pairs])),
        )

    def parts(self, seam: str) -> list[tuple[SewnPair, Places, Places]]:
        """Returns this half's instances of a seam, parted where a dart runs into it, with their matched places."""
        found: list[tuple[SewnPair, Places, Places]] = []
        for name in (seam, f"{seam}-2", f"{seam}-3"):
            sewn, pairs = self.sewn(name), self.pairs(name)
            if sewn is not None and pairs is not None:
                found.append((sewn, *pairs))
        return found

    def outward(self, view: View) -> float:
        """Returns which way outwards, from the side forwards, lies on the figure: 1 to the right, −1 to the left."""
        return -self.sign if view is View.FRONT else self.sign

    def seen(self, view: View, place: Map) -> Map:
        """Returns a map given for the right half, outwards to the right (from the side: forwards), as the looker sees
        this half.
        """
        outward = self.outward(view)

        def on_figure(places: Places) -> Places:
            return place(self.turned(places)) * np.array([outward, 1.0])

        return on_figure


def window(places: Places, *, beyond: float) -> BaseGeometry:
    """Returns the area to the right (beyond > 0) or left (beyond < 0) of a line told from one end to the other."""
    places = places.round(6) + 0.0
    low, high = (places[0], places[-1]) if places[0, 1] < places[-1, 1] else (places[-1], places[0])
    order = places if places[0, 1] < places[-1, 1] else places[::-1]
    side = math.copysign(FAR, beyond)
    ring = [
        (side, -FAR),
        (float(low[0]), -FAR),
        *((float(x), float(y)) for x, y in order),  # rounded: intersections fail at lines a hair off the upright
        (float(high[0]), FAR),
        (side, FAR),
    ]
    return shapely.make_valid(Polygon(ring))


def mirrored(shape: BaseGeometry, sign: float) -> BaseGeometry:
    """Returns a shape mirrored about the y axis where sign is −1."""
    return shape if sign > 0 else shapely.transform(shape, lambda p: p * np.array([-1.0, 1.0]))


def fitted(source: Places, target: Places, *, mirror: bool) -> Transform:
    """Returns the rigid map, turned over where `mirror` says so, that lays matched places best on one another."""
    flip = Transform.mirror_x() if mirror else Transform()
    source = affine(flip)(source)
    centre_s, centre_t = _middle(source), _middle(target)
    s, t = source - centre_s, target - centre_t
    cross = math.fsum((s[:, 0] * t[:, 1] - s[:, 1] * t[:, 0]).tolist())
    dot = math.fsum((s[:, 0] * t[:, 0] + s[:, 1] * t[:, 1]).tolist())
    return (
        flip.then(Transform.shift(-centre_s[0], -centre_s[1]))
        .then(Transform.turn(math.atan2(cross, dot)))
        .then(Transform.shift(*centre_t))
    )


def _middle(places: Places) -> tuple[float, float]:
    return math.fsum(places[:, 0].tolist()) / len(places), math.fsum(places[:, 1].tolist()) / len(places)
