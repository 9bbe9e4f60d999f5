"""The sleeve lying folded: every line of it, from the armhole, the arm and a width.

Front to the right, the underarm at the origin, both layers in one frame. The seams lie beside the folds, the upper
sleeve's as far outside as the under sleeve's inside, so that each pair mirrors one another in its fold: that is what
makes cap, scye and hem run smooth when the seams are closed.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Callable
from dataclasses import dataclass
from functools import cached_property

from settwright.geometry import ORIGIN, Path, Point, Transform, direction, fair_curve, hook_curve
from settwright.pattern.drafts.armhole import Armhole
from settwright.pattern.drafts.bending import bend_by, bent_path, reach, reach_of, root, sinc, swing

FOREARM_INSET = 21.0  # from the fold to the forearm seam, on either side of it
HINDARM_INSETS = (-15.0, 60.0)  # the same at the hindarm's top, running out to nothing at the hem: what it may become
HOLLOW = 0.25  # of what the sleeve narrows by down to the elbow: so far the forearm fold falls back there
BEND = math.radians(11.0)  # of the forearm's axis against the upper arm's
ELBOW_BLEND = 95.0  # the fold begins to bend at this distance from the elbow's corner
LEAST_OPENING = -0.1  # of the scye's back: 0 the armhole itself, 1 a straight line
# The scye is opened the more the farther the seam lies from its fold, evenly between these openings and insets. A scye
# opened far makes the cap hollow at the hindarm, an inset grown far puts the seam before the elbow.
OPENINGS = ((LEAST_OPENING, -5.0), (0.12, 12.0), (0.3, 28.0), (0.85, 48.0))
LEAST_CORNER = math.radians(8)  # of the under sleeve at the hindarm's top
FOLD_ARCS, CAP_ARCS = 12, 40  # arcs that the curves are made of


@dataclass(frozen=True)
class Arm:
    """The sleeve's wanted lengths and widths; widths are those of the folded sleeve, half the girth."""

    girth: float
    biceps: float  # taut round the sewn sleeve at the underarm
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
        return reach_of(self._headings(opening)) * (self.step * (len(self.headings) - 1))

    def last_heading(self, opening: float) -> float:
        """Returns the direction in which the opened back ends."""
        return self._headings(opening)[-1]

    def _headings(self, opening: float) -> list[float]:
        opened = [self.headings[0]]
        for turn, share in self._turns:
            opened.append(opened[-1] + turn * (1 - opening * share))
        return opened

    @cached_property
    def _turns(self) -> tuple[tuple[float, float], ...]:
        """Each step's turn, and how far an opening touches it: not at the underarm, wholly behind it."""
        last = len(self.headings) - 1
        turns = (b - a for a, b in itertools.pairwise(self.headings))
        return tuple((turn, swing((i + 0.5) / last / 0.4)) for i, turn in enumerate(turns))


@dataclass(frozen=True)
class Frame:
    """The folded sleeve's corners, for a cap of a height."""

    biceps: float  # level from fold to fold at the underarm
    fore_top: Point
    fore_corner: Point  # the elbow's corner on the forearm fold
    hind_top: Point
    hind_corner: Point
    hind_inset: float  # from the hindarm fold to its seam, at the top
    elbow: Point
    wrist: Point
    forearm: Point  # direction of the forearm's axis, downwards
    opening: float
    underarm: Underarm

    @cached_property
    def scye(self) -> Path:
        """Forearm-top to hindarm-top, as the armhole runs."""
        return self.underarm.front.then(self.underarm.opened(self.opening))

    @property
    def taut(self) -> float:
        """Half the length of a tape drawn taut round the sewn sleeve at the underarm.

        Spread out flat it lies straight, between the underarm's images in both folds.
        """
        fore, hind = (
            across * top.dot(across)  # the foot of the perpendicular from the underarm
            for top, across in (
                (self.fore_top, (self.fore_corner - self.fore_top).unit.left),
                (self.hind_top, (self.hind_corner - self.hind_top).unit.left),
            )
        )
        return (fore - hind).length


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
    scye_end = underarm.reach(opening)
    if up.cross(direction(underarm.last_heading(opening))) < math.sin(LEAST_CORNER):
        raise ValueError("the scye would run along the hindarm seam")
    return Frame(
        biceps=biceps,
        fore_top=fore_top,
        fore_corner=fore_corner,
        hind_top=scye_end + up.left * hind_inset,
        hind_inset=hind_inset,
        hind_corner=hind_corner,
        elbow=elbow,
        wrist=elbow + forearm * (arm.length - arm.to_elbow),
        forearm=forearm,
        opening=opening,
        underarm=underarm,
    )


def _opening_for(inset: Callable[[float], float]) -> float:
    """Returns how far to open the scye, the inset shrinking the further it is opened."""

    def too_far(opening: float, low: tuple[float, float], high: tuple[float, float]) -> float:
        part = (opening - low[0]) / (high[0] - low[0])
        return inset(opening) - (low[1] + part * (high[1] - low[1]))

    if inset(LEAST_OPENING) <= OPENINGS[0][1]:
        return LEAST_OPENING
    for low, high in itertools.pairwise(OPENINGS):
        if inset(high[0]) <= high[1]:
            return root(lambda opening, low=low, high=high: too_far(opening, low, high), low[0], high[0], 1e-7)
    return OPENINGS[-1][0]


@dataclass(frozen=True)
class Cap:
    """The cap as a start, a length and headings at even steps of it; a Path only once it is wanted."""

    start: Point
    length: float
    headings: tuple[float, ...]
    bends: tuple[float, float]  # what the next cap, a little different, begins its search from

    @cached_property
    def path(self) -> Path:
        """The curve, from forearm-top to hindarm-top."""
        count = len(self.headings) - 1
        return bent_path(self.start, self.headings, [self.length / count] * count)

    @cached_property
    def height(self) -> float:
        """How high it rises."""
        y, step = self.start.y, self.length / (len(self.headings) - 1)
        highest = y
        for before, after in itertools.pairwise(self.headings):
            half = (after - before) / 2
            if math.sin(before) > 0 >= math.sin(after):  # the crown lies on this arc
                return y + (math.cos(before) + 1) * step / (2 * half)
            y += step * sinc(half) * math.sin((before + after) / 2)
            highest = max(highest, y)
        return highest


def cap_over(corners: Frame, length: float, bends: tuple[float, float] = (0.0, 0.0)) -> Cap:
    """Returns the cap of a length, from forearm-top to hindarm-top.

    It leaves its seams as the scye reaches them, mirrored in the folds. Raises ValueError where it doesn't close.
    """
    fore, hind = (corners.fore_corner - corners.fore_top).unit, (corners.hind_corner - corners.hind_top).unit
    start = corners.fore_top + fore.left * FOREARM_INSET
    end = corners.hind_top + hind.right * corners.hind_inset
    # the hindarm inset doesn't change at its top, so that seam and fold are parallel there
    leaving = _mirrored(-corners.underarm.front.start_tangent, fore)
    arriving = -_mirrored(direction(corners.underarm.last_heading(corners.opening)), hind)
    return _bent_cap(start, leaving, end, arriving, length, bends=bends)


@dataclass(frozen=True)
class Seamed:
    """One side of a lengthwise seam, downwards, and where on it the elbow lies."""

    path: Path
    elbow: float


@dataclass(frozen=True)
class Folded:
    """All lines of the folded sleeve."""

    corners: Frame
    cap: Path  # forearm-top to hindarm-top
    height: float  # of the cap above the underarm
    fore_fold: Path  # folds and seams, all downwards
    hind_fold: Path
    fore_upper: Seamed
    fore_under: Seamed
    hind_upper: Seamed
    hind_under: Seamed
    hem_upper: Path  # hindarm to forearm
    hem_under: Path


def capped(underarm: Underarm, arm: Arm, cap_length: float, depth: float) -> tuple[Frame, Cap]:
    """Returns corners and cap of a sleeve as wide as the arm asks; the elbow hangs where the cap's height puts it.

    Raises ValueError where scye or cap can't be drawn.
    """
    biceps, height = arm.biceps, 0.78 * depth
    corners = frame(underarm, arm, biceps, height)
    cap = cap_over(corners, cap_length)
    for _ in range(8):
        missing = arm.biceps - corners.taut
        if abs(cap.height - height) < 1e-3 and abs(missing) < 1e-3:
            break
        biceps, height = biceps + missing, cap.height
        corners = frame(underarm, arm, biceps, height)
        cap = cap_over(corners, cap_length, cap.bends)
    return corners, cap


def folded(corners: Frame, cap: Cap, arm: Arm) -> Folded:
    """Returns the whole folded sleeve; its hem curves a little and is corrected to the wanted width round."""
    under = _hem(corners, arm.hem)[2]
    excess = 2 * under.length + 2 * FOREARM_INSET - 2 * arm.hem
    fore, hind, hem_under = _hem(corners, arm.hem - excess / 2)
    inset = _running_out(corners.hind_inset, hind.path.length)
    fore_upper = _beside(fore, lambda s: (FOREARM_INSET, 0.0))
    return Folded(
        corners=corners,
        cap=cap.path,
        height=cap.height,
        fore_fold=fore.path,
        hind_fold=hind.path,
        fore_upper=fore_upper,
        fore_under=_beside(fore, lambda s: (-FOREARM_INSET, 0.0)),
        hind_upper=_beside(hind, lambda s: (-inset(s)[0], -inset(s)[1])),
        hind_under=_beside(hind, inset),
        hem_upper=hem_under.then(Path.line(hem_under.end, fore_upper.path.end)),
        hem_under=hem_under,
    )


def _hem(corners: Frame, hem: float) -> tuple[Seamed, Seamed, Path]:
    """Returns both folds of a sleeve that ends in a width, and its under hem, hindarm to forearm."""
    across = corners.forearm.left * (hem / 2)
    fore = _bent_fold(corners.fore_top, corners.fore_corner, corners.wrist + across)
    hind = _bent_fold(corners.hind_top, corners.hind_corner, corners.wrist - across)
    square = fore.path.end_tangent.left
    foot = fore.path.end - square * FOREARM_INSET
    return fore, hind, hook_curve(hind.path.end, hind.path.end_tangent.left, foot, square)


def _mirrored(way: Point, axis: Point) -> Point:
    """Returns a direction mirrored in a line of direction `axis`."""
    along = axis.unit
    return along * (2 * way.dot(along)) - way


def _bent_fold(top: Point, corner: Point, bottom: Point) -> Seamed:
    """Returns the fold from top to bottom, straight but for the elbow."""
    first, last = (corner - top).unit, (bottom - corner).unit
    turn = math.atan2(first.cross(last), first.dot(last))
    begin = first.angle

    def heading(u: float) -> float:
        return begin + turn * swing(u)

    leg = min(ELBOW_BLEND, 0.8 * (corner - top).length, 0.8 * (bottom - corner).length)
    arc = 2 * leg * math.cos(turn / 2) / reach(heading, FOLD_ARCS).length
    blend = bend_by(corner - first * leg, heading, arc, FOLD_ARCS)
    upper = Path.line(top, blend.start)
    return Seamed(upper.then(blend, Path.line(blend.end, bottom)), upper.length + arc / 2)


def _running_out(whole: float, length: float) -> Callable[[float], tuple[float, float]]:
    """Returns the hindarm inset along its fold and how it changes: whole at the top, nothing at the hem."""

    def inset(s: float) -> tuple[float, float]:
        u = s / length
        return whole * (1 - u * u * (3 - 2 * u)), whole * (-6 * u + 6 * u * u) / length

    return inset


def _beside(fold: Seamed, inset: Callable[[float], tuple[float, float]]) -> Seamed:
    """Returns the line beside a fold, to its left where the inset is positive; told as inset and its change."""
    points: list[Point] = []
    elbow, s = 0, 0.0
    for segment in fold.path.segments:
        if abs(s - fold.elbow) < 0.01:
            elbow = len(points)
        steps = max(1, math.ceil(segment.length / 25.0 - 1e-9)) if segment.is_straight else 1
        for i in range(steps):
            along = segment.tangent(i / steps)
            points.append(segment.at(i / steps) + along.left * inset(s)[0])
            s += segment.length / steps
    first, last = fold.path.start_tangent, fold.path.end_tangent
    points.append(fold.path.end + last.left * inset(s)[0])
    line = fair_curve(points, first + first.left * inset(0.0)[1], last + last.left * inset(s)[1])
    return Seamed(line, sum(segment.length for segment in line.segments[:elbow]))


def _bent_cap(
    start: Point, leaving: Point, end: Point, arriving: Point, length: float, *, bends: tuple[float, float]
) -> Cap:
    """Returns the cap: its length and both ends given, its bend changing as evenly as that lets it.

    The heading is a cubic of the way gone, so that the curvature is a parabola: hollow, round, straighter. Where it
    would be hollow again at the hindarm, a fourth power lets it end straight there.
    Raises ValueError where no such curve is found.
    """
    first = leaving.angle % math.tau
    turning = (arriving.angle - first) % math.tau
    want = (end - start) / length
    even, odd = _bends(first, turning, want, _ROUND, bends)
    basis = _ROUND
    if even - odd > turning:
        basis = _ENDING_STRAIGHT
        even, odd = _bends(first, turning, want, basis, (even, odd))
    return Cap(start, length, _cap_headings(first, turning, basis, even, odd), (even, odd))


_Basis = tuple[tuple[float, float, float], ...]


def _basis(fourth: float) -> _Basis:
    """Returns, for each step of the cap, what turning, even and odd bend add to its heading there."""
    steps: list[tuple[float, float, float]] = []
    for i in range(CAP_ARCS + 1):
        u = i / CAP_ARCS
        w, s = 1 - 2 * u, u * (1 - u)
        # with a fourth coefficient such that the bend is nothing at the end: turning − even + odd
        steps.append((u + fourth * s * w * w, s * (1 - fourth * w * w), s * (w + fourth * w * w)))
    return tuple(steps)


_ROUND, _ENDING_STRAIGHT = _basis(0.0), _basis(1.0)


def _cap_headings(first: float, turning: float, basis: _Basis, even: float, odd: float) -> tuple[float, ...]:
    return tuple(first + turning * t + even * e + odd * o for t, e, o in basis)


def _bends(first: float, turning: float, want: Point, basis: _Basis, guess: tuple[float, float]) -> tuple[float, float]:
    """Returns the even and the odd bend with which a cap of length 1 ends where it is wanted.

    Newton's method; raises ValueError where it doesn't settle.
    """
    even, odd = guess
    step = 1 / CAP_ARCS
    for _ in range(40):
        headings = _cap_headings(first, turning, basis, even, odd)
        x, y = -want.x, -want.y
        ex = ey = ox = oy = 0.0
        for i in range(CAP_ARCS):
            before, after = headings[i], headings[i + 1]
            half, middle = (after - before) / 2, (after + before) / 2
            chord = step * (1 - half * half / 6 + half**4 / 120)
            dx, dy = chord * math.cos(middle), chord * math.sin(middle)
            e, o = (basis[i][1] + basis[i + 1][1]) / 2, (basis[i][2] + basis[i + 1][2]) / 2
            x, y = x + dx, y + dy
            ex, ey, ox, oy = ex - dy * e, ey + dx * e, ox - dy * o, oy + dx * o
        if x * x + y * y < 1e-20:
            return even, odd
        area = ex * oy - ey * ox
        if abs(area) < 1e-9:
            break
        step_even, step_odd = (ox * y - oy * x) / area, (ey * x - ex * y) / area
        damp = min(1.0, 1.5 / max(abs(step_even), abs(step_odd), 1e-12))
        even, odd = even + damp * step_even, odd + damp * step_odd
    raise ValueError("the cap doesn't close")
