"""Lapels and collar on the figure: what is turned back shows the facing's cloth and the top collar's."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import shapely
from shapely.geometry import Polygon
from shapely.geometry.base import BaseGeometry

from settwright.geometry import Point, Transform
from settwright.makeup.model import CutPiece
from settwright.workbook.drawing.figure.body import Body, shoulder_of
from settwright.workbook.drawing.figure.form import FAR, Floats, Half, Patch, View, fitted, mirrored
from settwright.workbook.drawing.figure.kimono import without_sleeve
from settwright.workbook.drawing.lying import as_cut, lying
from settwright.workbook.drawing.plaid import Map, Places, affine

_BEND = 0.02  # sine of the angle from which a roll line counts as bent
_OVER_NECK = 6.0  # of a shawl, seen from the front: so far over the neck point
_STEP = 6.0  # mm: a facing's edges are told at points no farther apart, for they may be bent
_HAIR = 0.2  # mm: what is drawn of a facing's outline and its polygon may differ by less


@dataclass(frozen=True)
class Roll:
    """The roll line of a front, in the right half's piece frame, told upwards."""

    start: Point
    end: Point

    @property
    def along(self) -> Point:
        """Its direction."""
        return (self.end - self.start).unit

    def turned(self) -> Transform:
        """Returns the reflection across the roll line."""
        angle = self.along.angle
        return (
            Transform.shift(-self.start.x, -self.start.y)
            .then(Transform.turn(-angle))
            .then(Transform(yy=-1.0))
            .then(Transform.turn(angle))
            .then(Transform.shift(self.start.x, self.start.y))
        )

    def beyond(self) -> BaseGeometry:
        """Returns the half plane towards the lapel's edge (to the right of the line)."""
        far, out = self.along * FAR, self.along.right * FAR
        corners = (self.start - far, self.start + far, self.start + far + out, self.start - far + out)
        return Polygon([(p.x, p.y) for p in corners])


def roll_of(half: Half, front: CutPiece) -> Roll | None:
    """Returns a front's roll line, or None."""
    try:
        line = half.edge(front, "roll-line")
    except KeyError:
        return None
    line = line if line[0, 1] < line[-1, 1] else line[::-1]
    low, high = line[0], line[_straight(line)]
    return Roll(Point(float(low[0]), float(low[1])), Point(float(high[0]), float(high[1])))


def _straight(line: Places) -> int:
    """Returns the last point up to which a line runs straight: a shawl's roll goes on round the neck."""
    ways = np.diff(line, axis=0)
    lengths = np.sqrt(np.square(ways).sum(axis=1))
    first = ways[int(np.argmax(lengths > 1e-6))]
    sines = (first[0] * ways[:, 1] - first[1] * ways[:, 0]) / np.maximum(
        lengths * float(np.sqrt(np.square(first).sum())), 1e-9
    )
    bent = np.flatnonzero(np.abs(sines) > _BEND)
    return int(bent[0]) if len(bent) and bent[0] > 0 else len(line) - 1


@dataclass(frozen=True)
class Faced:
    """The piece that faces a front, and how it lies on the front, face to face: from its piece frame and back."""

    piece: CutPiece
    onto: Map
    back: Map


def facing_on_front(half: Half, front: CutPiece) -> Faced | None:
    """Returns what faces the front: the front itself where the facing is cut in one with it. One that is cut as a
    strip lies as it is shaped. None where there is no facing.
    """
    fold = fold_of(half, front)
    if fold is not None:
        turned = fold.turned()
        return Faced(front, affine(turned), affine(turned.inverse()))
    facing = half.find("front-facing")
    found = [half.pairs(seam) for seam in ("facing-lapel", "facing-lapel-top")]
    pairs = [pair for pair in found if pair is not None]
    if facing is None or not pairs:
        return None
    on_front = np.concatenate([a for a, _ in pairs])
    on_facing = np.concatenate([b for _, b in pairs])
    shaped = half.made_up.shaped_as(facing)
    if shaped is None:
        flat = fitted(on_facing, on_front, mirror=True)
        return Faced(facing, affine(flat), affine(flat.inverse()))
    lies, cut = lying(shaped), as_cut(shaped)
    laid = fitted(lies(on_facing), on_front, mirror=True)
    down, up = affine(laid), affine(laid.inverse())
    return Faced(facing, lambda places: down(lies(places)), lambda places: cut(up(places)))


def fold_of(half: Half, front: CutPiece) -> Roll | None:
    """Returns the fold of a facing cut in one with the front, its lapel included, or None."""
    if all(line.name != "front-edge" for line in front.piece.lines):
        return None
    line = half.edge(front, "front-edge")
    return Roll(Point(float(line[0, 0]), float(line[0, 1])), Point(float(line[-1, 0]), float(line[-1, 1])))


def facing_beyond(half: Half, front: CutPiece) -> BaseGeometry | None:
    """Returns what is facing of a front cut in one with it, all or a part of it; None where it is sewn on."""
    edges = [edge.name for edge in front.piece.edges if edge.name.startswith("facing-")]
    if not edges:
        return None
    lines = [half.edge(front, name) for name in edges]
    if any(line.name == "neckline" for line in front.piece.lines):  # folded over there too, it ends at the neck point
        lines.append(half.edge(front, "neckline")[::-1])
    return shapely.make_valid(Polygon(np.concatenate(lines)))


@dataclass(frozen=True)
class Front:
    """A front divided at its roll line: what lies flat, and what is turned; seen from before or from the side."""

    body: Body
    view: View
    roll: Roll | None
    whole: BaseGeometry  # of the front proper, without a facing cut in one with it
    stands_from: float | None = None  # the height above which a shawl's collar stands up behind its fold

    @property
    def flat(self) -> BaseGeometry:
        """The part that lies on the body."""
        if self.roll is None:
            return self.whole
        flat = shapely.difference(self.whole, self.roll.beyond())
        if self.stands_from is None:
            return flat
        return shapely.intersection(flat, shapely.box(-FAR, -FAR, FAR, self.stands_from))

    @property
    def lapel(self) -> BaseGeometry:
        """The part that is turned back."""
        if self.roll is None:
            return Polygon()
        beyond = shapely.intersection(self.whole, self.roll.beyond())
        if self.view in (View.LEFT, View.RIGHT):  # what is turned past the centre front is out of sight
            near = shapely.box(-FAR, -FAR, float(self.body.panels[0].right.values.min()), FAR)
            beyond = shapely.intersection(beyond, shapely.transform(near, affine(self.roll.turned())))
        parts = [part for part in shapely.get_parts(beyond) if part.area > 25.0]
        return max(parts, key=lambda part: round(part.area, 3)) if parts else Polygon()

    def place(self, places: Places) -> Places:
        """Returns where places of the front are seen, the lapel turned."""
        return self.body.place(0, places, self.view)

    def place_turned(self, places: Places) -> Places:
        """Returns where places of the lapel, in the front's frame, are seen."""
        if self.roll is None:
            return self.place(places)
        return self.place(affine(self.roll.turned())(places))


def front_of(body: Body, view: View = View.FRONT) -> Front:
    """Returns a jacket's front, its facing left out where it is cut in one with it."""
    half, panel = body.half, body.panels[0]
    whole, stands_from = panel.region, None
    facing = facing_beyond(half, panel.piece)
    if facing is not None:
        rest = shapely.get_parts(shapely.difference(whole, shapely.buffer(facing, _HAIR)))
        whole = max(rest, key=lambda part: round(float(shapely.area(part)), 3))
    if any(edge.name == "collar-neck" for edge in panel.piece.piece.edges):  # a shawl goes on behind the neck
        high, over = float(shoulder_of(body)[0, 1]), _OVER_NECK if view is View.FRONT else 0.0
        whole = shapely.intersection(whole, shapely.box(-FAR, -FAR, FAR, high + over))
        stands_from = high
    sleeveless = without_sleeve(body, 0, View.FRONT)
    if sleeveless is not None:
        whole = shapely.intersection(whole, sleeveless)
    return Front(body, view, roll_of(half, panel.piece), whole, stands_from)


def lapel_patch(front: Front) -> Patch | None:
    """Returns the lapel as it is seen, in the facing's cloth."""
    half = front.body.half
    piece = front.body.panels[0].piece
    lapel = front.lapel
    if lapel.is_empty:
        return None
    faced = facing_on_front(half, piece) or Faced(piece, affine(Transform()), affine(Transform()))
    region = shapely.transform(shapely.segmentize(lapel, _STEP), faced.back)
    return Patch(
        faced.piece.name,
        mirrored(region, half.sign),
        half.seen(front.view, lambda places: front.place_turned(faced.onto(places))),
    )


def pocket_patch(front: Front, below: str = "front") -> Patch | None:
    """Returns the flap, welt or patch as it lies on the front, or on the section `below` the waist; None where it
    doesn't."""
    half = front.body.half
    name = next((name for name in ("flap", "welt", "patch-pocket") if half.sewn(name)), "flap")
    piece, pairs, sewn = half.find(name), half.pairs(name), half.sewn(name)
    if piece is None or pairs is None or sewn is None or not sewn.b.piece.startswith(f"{below}."):
        return None
    onto = affine(fitted(*pairs, mirror=False))
    return Patch(piece.name, _shown(half, piece), half.seen(front.view, lambda places: front.place(onto(places))))


def _shown(half: Half, piece: CutPiece) -> BaseGeometry:
    """Returns the area of a piece that is seen: of one that is folded the part below its fold."""
    region = half.region(piece)
    fold = next((line.path for line in piece.piece.lines if line.name == "fold"), None)
    if fold is None:
        return region
    left, bottom, right, _ = region.bounds
    return shapely.intersection(region, shapely.box(left, bottom, right, fold.start.y))


@dataclass(frozen=True)
class Ruled:
    """A strip between two lines of a piece, laid between two lines of the figure.

    All four lines have the same number of points; the rulings join points of one number. `bulge` bends each ruling
    on the figure outwards, by so much in its middle.
    """

    inner: Places
    outer: Places
    inner_seen: Places
    outer_seen: Places
    bulge: Floats | None = None

    def place(self, places: Places) -> Places:
        """Returns where places of the strip are seen."""
        chord = self.outer - self.inner
        side = (places[:, None, 0] - self.inner[None, :, 0]) * chord[None, :, 1] - (
            places[:, None, 1] - self.inner[None, :, 1]
        ) * chord[None, :, 0]
        last = len(self.inner) - 2
        changes = (side[:, :-1] > 0) != (side[:, 1:] > 0)
        nearest = np.argmin(np.abs(side), axis=1)
        index = np.where(changes.any(axis=1), np.argmax(changes, axis=1), np.clip(nearest, 0, last))
        rows = np.arange(len(places))
        before, after = side[rows, index], side[rows, index + 1]
        span = np.where(np.abs(before - after) < 1e-12, 1.0, before - after)
        part = np.clip(before / span, -0.5, 1.5)[:, None]
        inner = self.inner[index] * (1 - part) + self.inner[index + 1] * part
        outer = self.outer[index] * (1 - part) + self.outer[index + 1] * part
        reach = outer - inner
        across = (((places - inner) * reach).sum(axis=1) / np.maximum((reach * reach).sum(axis=1), 1e-9))[:, None]
        inner_seen = self.inner_seen[index] * (1 - part) + self.inner_seen[index + 1] * part
        outer_seen = self.outer_seen[index] * (1 - part) + self.outer_seen[index + 1] * part
        seen = inner_seen * (1 - across) + outer_seen * across
        if self.bulge is None:
            return seen
        reach = outer_seen - inner_seen
        outwards = np.column_stack((-reach[:, 1], reach[:, 0]))
        outwards = outwards / np.maximum(np.sqrt(np.square(outwards).sum(axis=1)), 1e-9)[:, None]
        return seen + outwards * (4 * across * (1 - across) * self.bulge[index][:, None])

    def until_it_turns(self) -> Ruled:
        """Returns the strip up to the ruling from which the other side of it, or of an edge, would be seen."""
        start, end = self.inner_seen[:-1], self.outer_seen[1:]
        sides = np.stack((_turn(start, self.outer_seen[:-1], end), _turn(start, end, self.inner_seen[1:])))
        turned = np.flatnonzero((sides * sides[:, :1] <= 0.0).any(axis=0))
        last = int(turned[0]) + 1 if len(turned) else len(self.inner)
        bulge = None if self.bulge is None else self.bulge[:last]
        return Ruled(self.inner[:last], self.outer[:last], self.inner_seen[:last], self.outer_seen[:last], bulge)

    def region(self) -> BaseGeometry:
        """Returns the strip's area on the piece."""
        return shapely.make_valid(Polygon(np.concatenate((self.inner, self.outer[::-1]))))


def _turn(a: Places, b: Places, c: Places) -> Floats:
    """Returns twice the area of each triangle, negative where it runs the other way round."""
    first, second = b - a, c - a
    return first[:, 0] * second[:, 1] - first[:, 1] * second[:, 0]


def spaced(line: Places, count: int) -> Places:
    """Returns a line's points taken anew at equal distances along it."""
    steps = np.sqrt(np.square(np.diff(line, axis=0)).sum(axis=1))
    walked = np.concatenate((np.zeros(1), np.cumsum(steps)))
    at = np.linspace(0.0, float(walked[-1]), count)
    return np.column_stack((np.interp(at, walked, line[:, 0]), np.interp(at, walked, line[:, 1])))


def curve(a: Places, b: Places, c: Places, d: Places, count: int = 24) -> Places:
    """Returns points along one cubic; each argument is one place."""
    t = np.linspace(0.0, 1.0, count)[:, None]
    s = 1 - t
    return s**3 * a + 3 * s * s * t * b + 3 * s * t * t * c + t**3 * d


__all__ = [
    "Front",
    "Roll",
    "Ruled",
    "curve",
    "facing_on_front",
    "front_of",
    "lapel_patch",
    "pocket_patch",
    "roll_of",
    "spaced",
]
