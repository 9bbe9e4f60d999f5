"""The sleeve lying folded: every line of it, from the armhole, the arm and a width.

Front to the right, the underarm at the origin, both layers in one frame. The seams lie beside the folds, the upper
sleeve's as far outside as the under sleeve's inside, so that each pair mirrors one another in its fold: that is what
makes cap, scye and hem run smooth when the seams are closed.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from functools import cached_property

from settwright.geometry import ORIGIN, Path, Point, Transform, direction, fair_curve, hook_curve
from settwright.pattern.drafts.armhole import Armhole
from settwright.pattern.drafts.bending import bend_by, bent_path, reach, root, swing

FOREARM_INSET = 21.0  # from the fold to the forearm seam, on either side of it
HINDARM_INSET = 8.0  # the same at the hindarm's top, running out to nothing at the hem, where the scye allows it
HINDARM_INSETS = (-15.0, 45.0)  # what it may become
HOLLOW = 0.25  # of what the sleeve narrows by down to the elbow: so far the forearm fold falls back there
BEND = math.radians(11.0)  # of the forearm's axis against the upper arm's
ELBOW_BLEND = 95.0  # the fold begins to bend at this distance from the elbow's corner
OPENING = (-0.1, 0.5, 0.85)  # least, most and in need, of the scye's back: 0 the armhole itself, 1 a straight line
LEAST_CORNER = math.radians(8)  # of the under sleeve at the hindarm's top
FOLD_ARCS, CAP_ARCS = 12, 40  # arcs that the curves are made of


@dataclass(frozen=True)
class Arm:
    """The sleeve's wanted lengths and widths; widths are those of the folded sleeve, half the girth."""

    girth: float
    biceps: float
    elbow: float
    hem: float
    to_elbow: float  # from the shoulder point
    length: float


@dataclass(frozen=True)
class Underarm:
    """The armhole's bottom that the under sleeve follows, the underarm at the origin."""

    front: Path  # forearm-top to underarm
    headings: tuple[float, ...]  # from the underarm to hindarm-top, at even steps
    step: float

    @classmethod
    def of(cls, armhole: Armhole) -> Underarm:
        """Returns the bottom of an armhole."""
        underarm = armhole.stop("underarm")
        corner = armhole.path.at(underarm)
        own = armhole.path.moved(Transform.shift(-corner.x, -corner.y))
        stations = own.stations(6.0, underarm, armhole.stop("hindarm-top"))
        headings: list[float] = []
        for s in stations:
            angle = own.tangent(s).angle
            before = headings[-1] if headings else angle
            headings.append(angle + math.tau * round((before - angle) / math.tau))
        return cls(own.part(armhole.stop("forearm-top"), underarm), tuple(headings), stations[1] - stations[0])

    def opened(self, opening: float) -> Path:
        """Returns the back of the bottom, from the underarm, its hollow opened by a part and its length kept."""
        return bent_path(ORIGIN, self._headings(opening), [self.step] * (len(self.headings) - 1))

    def reach(self, opening: float) -> Point:
        """Returns where the opened back ends."""
        headings = self._headings(opening)
        last = len(headings) - 1
        return reach(lambda u: headings[round(u * last)], last) * (self.step * last)

    def _headings(self, opening: float) -> list[float]:
        last = len(self.headings) - 1
        opened = [self.headings[0]]
        for i in range(last):
            share = 1 - opening * swing((i + 0.5) / last / 0.4)
            opened.append(opened[-1] + (self.headings[i + 1] - self.headings[i]) * share)
        return opened


@dataclass(frozen=True)
class Frame:
    """The folded sleeve's corners, for a cap of a height."""

    fore_top: Point
    fore_corner: Point  # the elbow's corner on the forearm fold
    hind_top: Point
    hind_corner: Point
    hind_inset: float  # from the hindarm fold to its seam, at the top
    elbow: Point
    wrist: Point
    forearm: Point  # direction of the forearm's axis, downwards
    opening: float
    scye: Path  # forearm-top to hindarm-top, as the armhole runs


def frame(underarm: Underarm, arm: Arm, biceps: float, height: float) -> Frame:
    """Returns the corners of a sleeve of a width whose cap rises `height` above the underarm.

    Raises ValueError where the armhole's bottom can't be opened to that width.
    """
    level = height - arm.to_elbow
    elbow_width = min(max(arm.elbow, arm.hem + 0.6 * (biceps - arm.hem)), biceps - 4.0)
    lean = math.atan2(HOLLOW * (biceps - elbow_width), -level)
    down = Point(-math.sin(lean), -math.cos(lean))
    fore_top = underarm.front.start + down.left * FOREARM_INSET
    fore_biceps = fore_top + down * (fore_top.y / -down.y)
    middle = fore_biceps - Point(biceps / 2, 0.0)
    tilt, elbow, fore_corner = BEND / 2, ORIGIN, ORIGIN
    for _ in range(12):  # the elbow line halves the angle between the two axes
        across = direction(tilt)
        fore_level = level + across.y * elbow_width / 2
        fore_corner = fore_top + down * ((fore_top.y - fore_level) / -down.y)
        elbow = fore_corner - across * (elbow_width / 2)
        tilt = math.atan2(elbow.x - middle.x, middle.y - elbow.y) + BEND / 2
    forearm = direction(tilt + BEND / 2 - math.pi / 2)
    hind_corner = elbow - direction(tilt) * (elbow_width / 2)
    hind_biceps = fore_biceps - Point(biceps, 0.0)
    up = (hind_biceps - hind_corner).unit

    def inset(opening: float) -> float:
        return (hind_biceps - underarm.reach(opening)).dot(up.left)

    opening = _opening_for(inset)
    hind_inset = inset(opening)
    if not HINDARM_INSETS[0] <= hind_inset <= HINDARM_INSETS[1] + 1e-3:
        raise ValueError(f"the hindarm seam would lie {hind_inset:.0f} mm from its fold")
    scye = underarm.front.then(underarm.opened(opening))
    if up.cross(scye.end_tangent) < math.sin(LEAST_CORNER):
        raise ValueError("the scye would run along the hindarm seam")
    return Frame(
        fore_top=fore_top,
        fore_corner=fore_corner,
        hind_top=scye.end + up.left * hind_inset,
        hind_inset=hind_inset,
        hind_corner=hind_corner,
        elbow=elbow,
        wrist=elbow + forearm * (arm.length - arm.to_elbow),
        forearm=forearm,
        opening=opening,
        scye=scye,
    )


def _opening_for(inset: Callable[[float], float]) -> float:
    """Returns how far to open the scye: to the wanted inset; as far as looks well; in need, to the largest inset."""
    least, most, utmost = OPENING
    if inset(least) <= HINDARM_INSET:
        return least
    if inset(most) <= HINDARM_INSET:
        return root(lambda part: inset(part) - HINDARM_INSET, least, most)
    if inset(most) <= HINDARM_INSETS[1]:
        return most
    if inset(utmost) <= HINDARM_INSETS[1]:
        return root(lambda part: inset(part) - HINDARM_INSETS[1], most, utmost)
    return utmost


def cap_over(corners: Frame, length: float) -> Path:
    """Returns the cap of a length, from forearm-top to hindarm-top.

    It leaves its seams as the scye reaches them, mirrored in the folds. Raises ValueError where it doesn't close.
    """
    fore, hind = (corners.fore_corner - corners.fore_top).unit, (corners.hind_corner - corners.hind_top).unit
    start = corners.fore_top + fore.left * FOREARM_INSET
    end = corners.hind_top + hind.right * corners.hind_inset
    # the hindarm inset doesn't change at its top, so that seam and fold are parallel there
    leaving = _mirrored(-corners.scye.start_tangent, fore)
    arriving = -_mirrored(corners.scye.end_tangent, hind)
    return _cap_curve(start, leaving, end, arriving, length)


@dataclass(frozen=True)
class Folded:
    """All lines of the folded sleeve."""

    corners: Frame
    biceps: float
    cap: Path  # forearm-top to hindarm-top
    fore_fold: Path  # folds and seams, all downwards
    hind_fold: Path
    fore_upper: Seamed
    fore_under: Seamed
    hind_upper: Seamed
    hind_under: Seamed
    hem_upper: Path  # hindarm to forearm
    hem_under: Path

    @cached_property
    def height(self) -> float:
        """Of the cap above the underarm."""
        return crown(self.cap)


def crown(cap: Path) -> float:
    """Returns how high a cap rises."""
    highest = max(cap.segments, key=lambda segment: max(segment.a.y, segment.d.y))
    steps = 64
    near = [s for s in cap.segments if abs(s.a.y - highest.a.y) < 5.0 or abs(s.d.y - highest.d.y) < 5.0]
    return max(segment.at(step / steps).y for segment in near for step in range(steps + 1))


def capped(underarm: Underarm, arm: Arm, biceps: float, cap_length: float, depth: float) -> tuple[Frame, Path]:
    """Returns corners and cap of a sleeve of a width; the elbow hangs where the cap's height puts it.

    Raises ValueError where scye or cap can't be drawn.
    """
    height = 0.78 * depth
    corners = frame(underarm, arm, biceps, height)
    cap = cap_over(corners, cap_length)
    for _ in range(8):
        if abs(crown(cap) - height) < 1e-3:
            break
        height = crown(cap)
        corners = frame(underarm, arm, biceps, height)
        cap = cap_over(corners, cap_length)
    return corners, cap


def folded(corners: Frame, cap: Path, biceps: float, arm: Arm) -> Folded:
    """Returns the whole folded sleeve; its hem curves a little and is corrected to the wanted width round."""
    sleeve = _with_hem(corners, cap, biceps, arm.hem)
    excess = sleeve.hem_upper.length + sleeve.hem_under.length - 2 * arm.hem
    return _with_hem(corners, cap, biceps, arm.hem - excess / 2)


def _with_hem(corners: Frame, cap: Path, biceps: float, hem: float) -> Folded:
    across = corners.forearm.left * (hem / 2)
    fore_fold, fore_elbow = _bent_fold(corners.fore_top, corners.fore_corner, corners.wrist + across)
    hind_fold, hind_elbow = _bent_fold(corners.hind_top, corners.hind_corner, corners.wrist - across)
    inset = _running_out(corners.hind_inset, hind_fold.length)
    fore_upper = _beside(fore_fold, fore_elbow, lambda s: (FOREARM_INSET, 0.0))
    fore_under = _beside(fore_fold, fore_elbow, lambda s: (-FOREARM_INSET, 0.0))
    hem_curve = hook_curve(hind_fold.end, hind_fold.end_tangent.left, fore_under.path.end, fore_fold.end_tangent.left)
    return Folded(
        corners=corners,
        biceps=biceps,
        cap=cap,
        fore_fold=fore_fold,
        hind_fold=hind_fold,
        fore_upper=fore_upper,
        fore_under=fore_under,
        hind_upper=_beside(hind_fold, hind_elbow, lambda s: (-inset(s)[0], -inset(s)[1])),
        hind_under=_beside(hind_fold, hind_elbow, inset),
        hem_upper=hem_curve.then(Path.line(fore_under.path.end, fore_upper.path.end)),
        hem_under=hem_curve,
    )


def _mirrored(way: Point, axis: Point) -> Point:
    """Returns a direction mirrored in a line of direction `axis`."""
    along = axis.unit
    return along * (2 * way.dot(along)) - way


def _bent_fold(top: Point, corner: Point, bottom: Point) -> tuple[Path, float]:
    """Returns the fold from top to bottom, straight but for the elbow, and where on it the elbow lies."""
    first, last = (corner - top).unit, (bottom - corner).unit
    turn = math.atan2(first.cross(last), first.dot(last))
    begin = first.angle

    def heading(u: float) -> float:
        return begin + turn * swing(u)

    leg = min(ELBOW_BLEND, 0.8 * (corner - top).length, 0.8 * (bottom - corner).length)
    arc = 2 * leg * math.cos(turn / 2) / reach(heading, FOLD_ARCS).length
    blend = bend_by(corner - first * leg, heading, arc, FOLD_ARCS)
    upper = Path.line(top, blend.start)
    return upper.then(blend, Path.line(blend.end, bottom)), upper.length + arc / 2


def _running_out(whole: float, length: float) -> Callable[[float], tuple[float, float]]:
    """Returns the hindarm inset along its fold and how it changes: whole at the top, nothing at the hem."""

    def inset(s: float) -> tuple[float, float]:
        u = s / length
        return whole * (1 - u * u * (3 - 2 * u)), whole * (-6 * u + 6 * u * u) / length

    return inset


@dataclass(frozen=True)
class Seamed:
    """One side of a lengthwise seam, downwards, and where on it the elbow lies."""

    path: Path
    elbow: float


def _beside(fold: Path, elbow: float, inset: Callable[[float], tuple[float, float]]) -> Seamed:
    """Returns the line beside a fold, to its left where the inset is positive; told as inset and its change."""

    def at(s: float) -> tuple[Point, Point]:
        along, (by, change) = fold.tangent(s), inset(s)
        return fold.at(s) + along.left * by, along * (1 - by * fold.curvature(s)) + along.left * change

    above, below = fold.stations(25.0, 0.0, elbow), fold.stations(25.0, elbow, fold.length)[1:]
    line = fair_curve([at(s)[0] for s in (*above, *below)], at(0.0)[1], at(fold.length)[1])
    return Seamed(line, sum(segment.length for segment in line.segments[: len(above) - 1]))


def _cap_curve(start: Point, leaving: Point, end: Point, arriving: Point, length: float) -> Path:
    """Returns the cap: its length and both ends given, its bend changing as evenly as that lets it.

    The heading is a cubic of the way gone, so that the curvature is a parabola: hollow, round, straighter.
    Raises ValueError where no such curve is found.
    """
    first = leaving.angle % math.tau
    last = first + (arriving.angle - first) % math.tau
    want = (end - start) / length
    even, odd = 0.0, 0.0

    def heading(u: float, even: float, odd: float) -> float:
        return first + (last - first) * u + u * (1 - u) * (even + odd * (1 - 2 * u))

    def miss(even: float, odd: float) -> Point:
        return reach(lambda u: heading(u, even, odd), CAP_ARCS) - want

    for _ in range(40):
        off = miss(even, odd)
        if off.length < 1e-10:
            break
        by_even, by_odd = (miss(even + 1e-6, odd) - off) / 1e-6, (miss(even, odd + 1e-6) - off) / 1e-6
        area = by_even.cross(by_odd)
        if abs(area) < 1e-9:
            raise ValueError("the cap doesn't close")
        step_even, step_odd = -off.cross(by_odd) / area, -by_even.cross(off) / area
        damp = min(1.0, 1.5 / max(abs(step_even), abs(step_odd), 1e-12))
        even, odd = even + damp * step_even, odd + damp * step_odd
    else:
        raise ValueError("the cap doesn't close")
    return bend_by(start, lambda u: heading(u, even, odd), length, CAP_ARCS)
