"""The body of jacket and skirt on the figure: panels side by side round an ellipse, darts closed."""

from __future__ import annotations

import itertools
from collections.abc import Iterable
from dataclasses import dataclass
from functools import cached_property

import numpy as np
import shapely
from shapely.geometry import Polygon
from shapely.geometry.base import BaseGeometry

from settwright.makeup.model import CutPiece
from settwright.pattern import LineKind
from settwright.workbook.drawing.figure.form import (
    FAR,
    Floats,
    Half,
    Patch,
    Profile,
    View,
    averaged,
    mirrored,
    seen_width,
    smooth,
    stacked,
    window,
)
from settwright.workbook.drawing.plaid import Places


@dataclass(frozen=True)
class Dart:
    """A dart's two legs as profiles, in the right half's piece frame; a leg's end value holds beyond an open end."""

    left: Profile
    right: Profile

    @classmethod
    def of(cls, first: Places, second: Places) -> Dart:
        """Returns a dart from its legs."""
        left, right = (first, second) if first[:, 0].mean() < second[:, 0].mean() else (second, first)
        return cls(Profile.along(left), Profile.along(right))

    def intake(self, y: Floats) -> Floats:
        """Returns its width at each height."""
        return np.maximum(self.right(y) - self.left(y), 0.0)

    def middle(self, y: Floats) -> Floats:
        """Returns where its middle line stands at each height."""
        return (self.left(y) + self.right(y)) / 2

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
        half.path(line.path)
        for line in piece.piece.lines
        if line.kind is LineKind.DART
        and (line.name.endswith(own) or not line.name.endswith(ends))
        and not line.name.startswith(("gorge-dart", "facing-"))
    ]
    darts: list[Dart] = [*_pleats(half, piece)]
    waiting: Places | None = None
    for line in lines:
        height = line[:, 1].max() - line[:, 1].min()
        if np.ptp(line[:, 0]) > height:
            continue  # a dart from the side moves nothing across
        if abs(line[0, 1] - line[-1, 1]) < height / 2:
            point = int(np.argmax(np.abs(line[:, 1] - line[0, 1])))
            darts.append(Dart.of(line[: point + 1], line[point:]))
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


@dataclass(frozen=True)
class Body:
    """Panels from the centre front to the centre back, and how each is seen.

    `flat_from` and `flat_to` are heights between which the roundness gives way to the flat of the shoulders.
    """

    half: Half
    panels: tuple[Panel, ...]
    low: float
    high: float  # the panels' girth is told between these heights
    flat_from: float
    flat_to: float
    lifts: tuple[Profile | None, ...] = ()  # for each panel: by how much its front edge is lifted to meet its seam

    @cached_property
    def heights(self) -> Floats:
        """The heights at which girths are tabulated."""
        return np.linspace(self.low, self.high, 160)

    @cached_property
    def _widths(self) -> tuple[Profile, ...]:
        return tuple(Profile(self.heights, panel.width(self.heights)) for panel in self.panels)

    def before(self, index: int, heights: Floats) -> Floats:
        """Returns how far round from the centre front a panel's front edge lies."""
        return sum((width(heights) for width in self._widths[:index]), np.zeros_like(heights))

    def after(self, index: int, heights: Floats) -> Floats:
        """Returns how far round from the centre back a panel's back edge lies."""
        return sum((width(heights) for width in self._widths[index + 1 :]), np.zeros_like(heights))

    @cached_property
    def _size(self) -> Profile:
        """The half girth, its corners at darts' ends rounded."""
        girth = self.before(len(self.panels), self.heights)
        steps = max(2, round(30.0 / float(self.heights[1] - self.heights[0])))
        return Profile(self.heights, averaged(averaged(girth, steps), steps))

    def girth(self, heights: Floats) -> Floats:
        """Returns the half girth at heights of the figure."""
        return self.before(len(self.panels), heights)

    def place(self, index: int, places: Places, view: View) -> Places:
        """Returns where places of a panel are seen, outwards from the middle, in the right half's frame."""
        panel = self.panels[index]
        across = panel.from_right(places)
        y = places[:, 1] + panel.rise
        lift = self.lifts[index] if self.lifts else None
        if lift is not None and view is View.FRONT:
            width = np.maximum(panel.width(y), 1.0)
            y = y + lift(places[:, 1]) * (1.0 - np.clip(across / width, 0.0, 1.0))
        if view is View.FRONT:
            distance = self.before(index, y) + across
        else:
            distance = self.after(index, y) + panel.from_left(places)
        flat = smooth((y - self.flat_from) / (self.flat_to - self.flat_from))
        girth = self.girth(y)
        round_out = seen_width(distance / girth) * self._size(y)
        return stacked(round_out * (1 - flat) + distance * flat, y)

    def seen(self, index: int, view: View) -> BaseGeometry:
        """Returns the area of a panel on this side of the silhouette, in the right half's frame."""
        panel = self.panels[index]
        y = np.linspace(self.low - 400, self.high + 600, 400)
        heights = y + panel.rise
        limit = panel.right(y) + self.before(index, heights) - self.girth(heights) / 2
        for dart in panel.darts:  # a silhouette beyond a dart lies farther by its intake
            limit = limit - np.where(limit < dart.middle(y), dart.intake(y), 0.0)
        return shapely.intersection(panel.region, window(stacked(limit, y), beyond=FAR if view is View.FRONT else -FAR))

    def patch(self, index: int, view: View, region: BaseGeometry | None = None) -> Patch | None:
        """Returns a panel as it is seen, or None when nothing is; `region` narrows it (right half's frame)."""
        seen = self.seen(index, view)
        if region is not None:
            seen = shapely.intersection(seen, region)
        if seen.is_empty or seen.area < 1.0:
            return None
        return Patch(
            self.panels[index].piece.name,
            mirrored(seen, self.half.sign),
            self.half.seen(view, lambda places: self.place(index, places, view)),
        )


FRONTS, BACKS = ("front", "side-front"), ("back", "side-back")
"""The pieces of a body's front and back that may hold the armhole."""
_AROUND = ("front", "side-front", "side", "side-back", "back")  # from the centre front to the centre back
_SEAMS = ("side-front", "princess-front", "side", "princess-back", "side-back")
_BELOW_TOP = 25.0  # a body without an armhole of its own grows flat up to here below its highest place


def jacket_body(half: Half) -> Body | None:
    """Returns the jacket's body, down to its waist seam where it has one; None where it has no front or no back."""
    return _jacket(half, "", 0.0)


def lower_body(half: Half, body: Body) -> Body | None:
    """Returns the section below a body's waist seam, or None where there is none."""
    pairs = half.pairs("waist-front")
    if pairs is None:
        return None
    above, below = pairs
    rise = float(np.median(above[:, 1] - below[:, 1])) + body.panels[0].rise
    return _jacket(half, "-lower", rise)


def _jacket(half: Half, suffix: str, rise: float) -> Body | None:
    pieces = [piece for name in _AROUND if (piece := half.find(name + suffix)) is not None]
    names = [piece.piece.name.removesuffix(suffix) for piece in pieces]
    if len(pieces) < 2 or names[0] != "front" or names[-1] != "back":
        return None
    shared = [_shared(a, b) for a, b in itertools.pairwise(pieces)]
    if None in shared:
        return None
    seams = [str(seam) for seam in shared]
    rises, lifts = [rise], list[Profile | None]([None])
    for seam, piece, other in zip(seams, pieces, pieces[1:], strict=False):
        sewn = half.sewn(seam + suffix)
        is_b = sewn is not None and sewn.b.piece == piece.name
        raised, lift = registered(half, seam + suffix, rises[-1], side_is_b=is_b)
        rises.append(raised)
        lifts.append(None if other is pieces[-1] else lift)
    centre = Profile.along(half.edge(pieces[0], "centre-front"))
    lefts = [Profile.along(half.edge(piece, seam)) for piece, seam in zip(pieces, seams, strict=False)]
    lefts.append(Profile.along(half.edge(pieces[-1], "centre-back")))
    rights = [centre, *(Profile.along(half.edge(piece, seam)) for piece, seam in zip(pieces[1:], seams, strict=True))]
    panels = tuple(
        Panel(half, piece, left, right, raised)
        for piece, left, right, raised in zip(pieces, lefts, rights, rises, strict=True)
    )
    tops = [float(half.edge(piece, seam)[:, 1].max()) + raised
            for piece, seam, raised in zip(pieces, seams, rises, strict=False)]  # fmt: skip
    low = max(float(half.edge(panel.piece, _foot(panel))[:, 1].max()) + panel.rise for panel in panels)
    underarm, shoulder = min(tops), _shoulder(half, panels)
    return Body(half, panels, low, max(tops), underarm, max(shoulder, underarm + 40.0), tuple(lifts))


def _shared(a: CutPiece, b: CutPiece) -> str | None:
    """Returns the seam of the body that two neighbours share."""
    edges = [{edge.name.removesuffix(".right").removesuffix(".left") for edge in p.piece.edges} for p in (a, b)]
    return next((seam for seam in _SEAMS if seam in edges[0] and seam in edges[1]), None)


def _foot(panel: Panel) -> str:
    """Returns the edge at which a panel ends below: its hem, or above a waist seam its waist."""
    return "hem" if any(edge.name.startswith("hem") for edge in panel.piece.piece.edges) else "waist"


def _shoulder(half: Half, panels: tuple[Panel, ...]) -> float:
    """Returns how high the shoulder point of the front lies on the figure; of a body without armholes, near its top."""
    for panel in panels:
        if panel.piece.piece.name in FRONTS and any(edge.name == "armhole" for edge in panel.piece.piece.edges):
            if any(edge.name == "raglan" for edge in panel.piece.piece.edges):
                break
            return float(half.edge(panel.piece, "armhole")[:, 1].max()) + panel.rise
    return float(max(half.region(panel.piece).bounds[3] + panel.rise for panel in panels)) - _BELOW_TOP


def registered(half: Half, seam: str, rise: float, *, side_is_b: bool = False) -> tuple[float, Profile]:
    """Returns by how much the second piece of a panel seam is raised so that both meet at the seam's lowest match
    where it runs upright, and what is then left to lift along it. `rise` is that of the piece already placed.
    """
    pairs = half.pairs(seam)
    sewn = half.sewn(seam)
    if pairs is None or sewn is None:
        return rise, Profile(np.array([0.0]), np.array([0.0]))
    a, b = pairs
    placed, other = (b, a) if side_is_b else (a, b)
    gap = placed[:, 1] + rise - other[:, 1]
    stops = dict(sewn.stops)
    at = stops.get("waist", stops.get("hip", int(np.argmin(placed[:, 1]))))
    other_rise = float(gap[at])
    return other_rise, Profile.of(other[:, 1], gap - other_rise)


def dart_lines(body: Body, index: int, view: View) -> tuple[Places, ...]:
    """Returns the darts of a panel as they are seen, sewn."""
    panel = body.panels[index]
    lines: list[Places] = []
    for dart in panel.darts:
        leg = stacked(dart.left.values - 1e-6, dart.left.heights)
        outward = body.half.sign if view is View.BACK else -body.half.sign
        lines.append(body.place(index, leg, view) * np.array([outward, 1.0]))
    return tuple(lines)


def skirt_body(half: Half, hang: float) -> Body | None:
    """Returns the skirt's body, or None; `hang` is added to the skirt front's heights to give the figure's."""
    front, back = half.find("skirt-front"), half.find("skirt-back")
    if front is None or back is None:
        return None
    front_side = half.edge(front, "side")
    front_panel = Panel(half, front, Profile.along(front_side), Profile.along(half.edge(front, "centre-front")), hang)
    back_rise, _ = registered(half, "skirt-side", hang)
    back_panel = Panel(
        half,
        back,
        Profile.along(half.edge(back, "centre-back")),
        Profile.along(half.edge(back, "side")),
        back_rise,
    )
    low, high = float(front_side[:, 1].min()) + hang, float(front_side[:, 1].max()) + hang
    return Body(half, (front_panel, back_panel), low, high, high + 100, high + 200)
