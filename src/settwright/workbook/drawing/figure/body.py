"""The body of jacket and skirt on the figure: panels side by side round an ellipse, darts closed."""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

from settwright.makeup.model import CutPiece
from settwright.workbook.drawing.figure.form import (
    FAR,
    Face,
    Floats,
    Half,
    Patch,
    Profile,
    View,
    averaged,
    finer_line,
    fitted,
    mirrored,
    places_of,
    seen_width,
    smooth,
    stacked,
    window,
)
from settwright.workbook.drawing.figure.panel import Panel
from settwright.workbook.drawing.figure.profile import Shoulder, Stance
from settwright.workbook.drawing.plaid import Places, affine


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
    hangs: tuple[Profile | None, ...] = ()  # likewise, by the part of its width from there: lifted to meet a waist seam
    hangs_fade: tuple[float, float] = (-FAR, -FAR)  # heights between which that begins from below

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

    @cached_property
    def stance(self) -> Stance:
        """How it is seen from the side."""
        girth = self.girth(self.heights)
        before = sum(self._is_before(index) for index in range(len(self.panels)))
        to_side = self.before(before, self.heights)
        if not self._is_behind(before):  # a side panel: no seam at the side
            to_side = girth / 2
        girths = Profile(self.heights, girth), self._size, Profile(self.heights, to_side)
        return Stance(*girths, self.flat_from, shoulder_round(self))

    def place(self, index: int, places: Places, view: View) -> Places:
        """Returns where places of a panel are seen, in the right half's frame: outwards from the middle, from the side
        forwards.
        """
        match view:
            case View.FRONT | View.BACK:
                return self._from_before(index, places, view)
            case View.LEFT | View.RIGHT:
                return self._from_beside(index, places)

    def _from_before(self, index: int, places: Places, view: Face) -> Places:
        panel = self.panels[index]
        y = places[:, 1] + panel.rise + panel.raised(places)
        across = panel.from_right(places)
        if view is View.FRONT and index < len(self.panels) - 1:
            y = y + self._lift(index, places, across)
        if view is View.FRONT:
            distance = self.before(index, y) + across
        else:
            distance = self.after(index, y) + panel.from_left(places)
        flat = smooth((y - self.flat_from) / (self.flat_to - self.flat_from))
        girth = self.girth(y)
        round_out = seen_width(distance / girth) * self._size(y)
        return stacked(round_out * (1 - flat) + distance * flat, y + self._hang(index, places, across))

    def _from_beside(self, index: int, places: Places) -> Places:
        panel = self.panels[index]
        from_right = panel.from_right(places)
        y = self.lifted(index, places)
        from_front, from_back = self.before(index, y) + from_right, self.after(index, y) + panel.from_left(places)
        if self._is_before(index):
            ahead = self.stance.ahead(from_front, y, from_front=True)
        elif self._is_behind(index):
            ahead = self.stance.ahead(from_back, y, from_front=False)
        else:
            share = np.clip(from_right / np.maximum(panel.width(y), 1.0), 0.0, 1.0)
            ahead = (1 - share) * self.stance.ahead(from_front, y, from_front=True)
            ahead += share * self.stance.ahead(from_back, y, from_front=False)
        seen = self.stance.place(ahead, y, is_back=self._is_behind(index))
        return stacked(seen[:, 0], seen[:, 1] + self._hang(index, places, from_right))

    def lifted(self, index: int, places: Places) -> Floats:
        """Returns the figure's heights of places of a panel, lifted so that its seams meet."""
        panel = self.panels[index]
        raised = panel.rise + panel.raised(places)
        return places[:, 1] + raised + self._lift(index, places, panel.from_right(places))

    def _lift(self, index: int, places: Places, across: Floats) -> Floats:
        """Returns by how much places of a panel are lifted: as the seam asks at its front edge, not at all behind."""
        lift = self.lifts[index] if self.lifts else None
        if lift is None:
            return np.zeros(len(places))
        return lift(places[:, 1]) * (1.0 - self._part(index, places, across))

    def _hang(self, index: int, places: Places, across: Floats) -> Floats:
        """Returns by how much places of a panel are lifted to hang from a waist seam that is curved in the flat."""
        hang = self.hangs[index] if self.hangs else None
        if hang is None:
            return np.zeros(len(places))
        low, high = self.hangs_fade
        fade = smooth((places[:, 1] + self.panels[index].rise - low) / max(high - low, 1.0))
        return hang(self._part(index, places, across)) * fade

    def _part(self, index: int, places: Places, across: Floats) -> Floats:
        panel = self.panels[index]
        return np.clip(across / np.maximum(panel.width(places[:, 1] + panel.rise), 1.0), 0.0, 1.0)

    def hung_on(self, above: Body) -> Body:
        """Returns this section with every panel lifted to the waist of the body above it."""
        half, rises = self.half, {panel.piece.name: panel.rise for panel in above.panels}
        hangs: list[Profile | None] = []
        for index, panel in enumerate(self.panels):
            found: list[Places] = []
            for sewn in half.made_up.sewn:
                if sewn.b.piece != panel.piece.name or sewn.a.piece not in rises:
                    continue
                on_above, on_below = (half.turned(places_of([pair[k] for pair in sewn.pairs])) for k in (0, 1))
                lift = on_above[:, 1] + rises[sewn.a.piece] - self.lifted(index, on_below)
                found.append(stacked(self._part(index, on_below, panel.from_right(on_below)), lift))
            told = np.concatenate(found) if found else None
            hangs.append(None if told is None else Profile.of(told[:, 0], told[:, 1]))
        return replace(self, hangs=tuple(hangs))

    def levelled(self, index: int, edge: str, low: float) -> Body:
        """Returns this body with an edge of a panel level at the figure's waist, what it rises taken up above a height
        `low`.
        """
        panel = self.panels[index]
        line = self.half.edge(panel.piece, edge)
        line = line[shapely.distance(panel.region, shapely.points(line)) < _ON_EDGE]  # not the mouths of darts
        hang = Profile.of(self._part(index, line, panel.from_right(line)), -self.lifted(index, line))
        hangs = tuple(hang if number == index else None for number in range(len(self.panels)))
        return replace(self, hangs=hangs, hangs_fade=(low, 0.0))

    def _is_before(self, index: int) -> bool:
        return index == 0 or self.panels[index].piece.piece.name.startswith("side-front")

    def _is_behind(self, index: int) -> bool:
        return index == len(self.panels) - 1 or self.panels[index].piece.piece.name.startswith("side-back")

    def round_from_centre(self, index: int, places: Places) -> Places:
        """Returns how far round places lie from the nearer centre, and how high, darts sewn."""
        panel = self.panels[index]
        y = self.lifted(index, places)
        if self._is_before(index):
            return stacked(self.before(index, y) + panel.from_right(places), y)
        return stacked(self.after(index, y) + panel.from_left(places), y)

    def seen(self, index: int, view: View) -> BaseGeometry:
        """Returns the area of a panel on this side of the silhouette, in the right half's frame."""
        panel = self.panels[index]
        y = np.linspace(self.low - 400, self.high + 600, 400)
        match view:
            case View.FRONT | View.BACK:
                heights = y + panel.rise
                limit = panel.right(y) + self.before(index, heights) - self.girth(heights) / 2
                # a silhouette beyond a dart lies farther by its intake, and dart by dart on the way from the front
                for dart in sorted(panel.darts, key=lambda dart: -float(dart.right.values.mean())):
                    limit = limit - np.where(limit < dart.right(y), dart.intake(y), 0.0)
                within = window(stacked(limit, y), beyond=FAR if view is View.FRONT else -FAR)
                return shapely.intersection(panel.region, within)
            case View.LEFT | View.RIGHT:
                seen = panel.region
                if index == 0:
                    seen = shapely.intersection(seen, window(stacked(panel.right(y), y), beyond=-FAR))
                if index == len(self.panels) - 1:
                    seen = shapely.intersection(seen, window(stacked(panel.left(y), y), beyond=FAR))
                return seen

    def is_on_this_side(self, index: int, places: Places, view: View) -> NDArray[np.bool_]:
        """Returns which places of a panel lie on this side of the silhouette."""
        panel, y = self.panels[index], places[:, 1] + self.panels[index].rise
        match view:
            case View.FRONT:
                return self.before(index, y) + panel.from_right(places) <= self.girth(y) / 2
            case View.BACK:
                return self.after(index, y) + panel.from_left(places) <= self.girth(y) / 2
            case View.LEFT | View.RIGHT:
                return np.ones(len(places), dtype=bool)

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
_OVER_THE_SHOULDER = ("shoulder", "side-shoulder", "overarm")
_FINER = 6  # the shoulder is told at so many places from one match to the next
_ROUNDED = 120.0  # above its lowest place a front's edge is looked for so far, past the rounding of its hem
_ON_EDGE = 0.05  # a place so near a panel lies on it
_UNDER = 2.0  # above a jacket's hem what is under it is still drawn so far
_BELOW_TOP = 25.0  # a body without an armhole of its own grows flat up to here below its highest place


def jacket_body(half: Half) -> Body | None:
    """Returns the jacket's body, down to its waist seam where it has one, its waist at the figure's, which is 0; None
    where it has no front or no back.
    """
    front = half.find("front")
    if front is None or all(line.name != "waist" for line in (*front.piece.edges, *front.piece.lines)):
        return _jacket(half, "", 0.0)
    return _jacket(half, "", -float(np.median(half.edge(front, "waist")[:, 1])))


def lower_body(half: Half, body: Body) -> Body | None:
    """Returns the section below a body's waist seam, or None where there is none."""
    pairs = half.pairs("waist-front")
    if pairs is None:
        return None
    above, below = pairs
    rise = float(np.median(above[:, 1] - below[:, 1])) + body.panels[0].rise
    lower = _jacket(half, "-lower", rise)
    return None if lower is None else lower.hung_on(body)


def covered_above(jackets: Sequence[Body], view: View) -> float:
    """Returns the height above which what is worn under a jacket is left out: it is hidden, and would stand out where
    it is drawn as wide; infinite where no jacket is worn. A front's rounded hem shows what is under it.
    """
    if not jackets:
        return math.inf
    hems: list[float] = []
    for body in jackets:
        lowest = lower_body(body.half, body) or body
        front = shapely.get_coordinates(shapely.segmentize(lowest.panels[0].region, 2.0))
        near_hem = front[front[:, 1] < front[:, 1].min() + _ROUNDED]
        edge = near_hem[near_hem[:, 0] > near_hem[:, 0].max() - 1.0, 1].min() + lowest.panels[0].rise
        hems.append(max(lowest.low, float(edge)) if view is View.FRONT else lowest.low)
    return max(hems) + _UNDER


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
    for seam, piece in zip(seams, pieces, strict=False):
        sewn = half.sewn(seam + suffix)
        is_b = sewn is not None and sewn.b.piece == piece.name
        raised, lift = registered(half, seam + suffix, rises[-1], side_is_b=is_b)
        rises.append(raised)
        lifts.append(lift)
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


def shoulder_of(body: Body) -> Places:
    """Returns the line of the shoulder in the front's frame, from the neck point outwards: the front's own edge, or
    what a raglan or kimono sleeve has of it.
    """
    half, front = body.half, body.panels[0].piece
    names = {edge.name for edge in front.piece.edges}
    sleeve, pairs = half.find("front-sleeve"), half.pairs("raglan-front")
    if "shoulder" in names:
        line = half.edge(front, "shoulder")
    elif "overarm" in names:
        line = half.edge(front, "overarm")
    elif sleeve is not None and pairs is not None:
        on_front, on_sleeve = pairs
        line = affine(fitted(on_sleeve, on_front, mirror=False))(half.edge(sleeve, "overarm"))
    else:
        line = half.path(front.piece.outline)
    return line if line[0, 0] > line[-1, 0] else line[::-1]


def shoulder_round(body: Body) -> Shoulder | None:
    """Returns the shoulder as far as it lies on the body's front and back, or None where they end below it."""
    half = body.half
    index = {panel.piece.name: i for i, panel in enumerate(body.panels)}
    back = body.panels[-1]
    if all(not edge.name.startswith("neck") for edge in back.piece.piece.edges):
        return None
    rows: list[Places] = []
    for sewn, on_front, on_back in (part for seam in _OVER_THE_SHOULDER for part in half.parts(seam)):
        if sewn.name.startswith("overarm"):
            stops = dict(sewn.stops)
            ends = stops.get("neck-point", stops.get("princess", 0)), stops["shoulder-point"]
            on_front, on_back = (side[min(ends) : max(ends) + 1] for side in (on_front, on_back))
        on_front, on_back = finer_line(on_front, _FINER), finer_line(on_back, _FINER)
        if sewn.a.piece not in index:  # of a raglan sleeve
            laid = half.pairs("raglan-front"), half.pairs("raglan-back")
            if laid[0] is None or laid[1] is None:
                continue
            on_front = affine(fitted(laid[0][1], laid[0][0], mirror=False))(on_front)
            on_back = affine(fitted(laid[1][1], laid[1][0], mirror=False))(on_back)
        at = (index.get(sewn.a.piece, 0), index.get(sewn.b.piece, len(body.panels) - 1))
        rows.append(np.hstack((body.round_from_centre(at[0], on_front), body.round_from_centre(at[1], on_back))))
    if not rows:
        return None
    line = np.concatenate(rows)
    line = line[np.argsort(line[:, 0], kind="stable")]
    return Shoulder(line[:, :2], line[:, 2:], float(back.left.heights.max()) + back.rise)


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
    """Returns the darts of a panel, sewn, as far as they are on this side of the silhouette."""
    panel = body.panels[index]
    lines: list[Places] = []
    for dart in panel.darts:
        leg = finer_line(stacked(dart.left.values - 1e-6, dart.left.heights), _FINER)
        seen = body.is_on_this_side(index, leg, view)
        turns = np.flatnonzero(np.diff(seen)) + 1
        for run, is_seen in zip(np.split(leg, turns), seen[[0, *turns]], strict=True):
            if is_seen and len(run) > 1:
                lines.append(body.place(index, run, view) * np.array([body.half.outward(view), 1.0]))
    return tuple(lines)


def skirt_body(half: Half, hang: float) -> Body | None:
    """Returns the skirt's body, or None; `hang` is added to the skirt front's heights to give the figure's."""
    front, back = half.find("skirt-front"), half.find("skirt-back")
    if front is None or back is None:
        return None
    front_side = half.edge(front, "side")
    front_panel = Panel(half, front, Profile.along(front_side), Profile.along(half.edge(front, "centre-front")), hang)
    back_rise, lift = registered(half, "skirt-side", hang)
    back_panel = Panel(
        half,
        back,
        Profile.along(half.edge(back, "centre-back")),
        Profile.along(half.edge(back, "side")),
        back_rise,
    )
    low, high = float(front_side[:, 1].min()) + hang, float(front_side[:, 1].max()) + hang
    return Body(half, (front_panel, back_panel), low, high, high + 100, high + 200, (None, lift))
