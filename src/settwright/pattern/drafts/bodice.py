"""The body of the jacket up to the front edge: panel seams, armhole, centre back, hems, each piece's own frame."""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise

from settwright.commission.design import BodyCut, JacketDesign
from settwright.geometry import Path, Point, Transform, crossing, fair_curve, hook_curve
from settwright.geometry.tolerances import SAME
from settwright.pattern.drafts.armhole import Armhole, ArmholePart
from settwright.pattern.drafts.back_neck import draw_back_neck
from settwright.pattern.drafts.frame import SEAMS, Frame, Fullness, Gap
from settwright.pattern.drafts.record import Recorder
from settwright.pattern.drafts.sleeve_lines import FOREARM_INSET

DOWN, UP, RIGHT, LEFT = Point(0.0, -1.0), Point(0.0, 1.0), Point(1.0, 0.0), Point(-1.0, 0.0)

LONG = 100.0  # below the hip; a longer jacket flares straight from the hip on
_COAT_FLARE = 0.2  # of the length below the hip, that the half grows by
_SQUARED = 30.0  # from a slanting seam, over which the hem of a short jacket comes down to its level
WHOLE_HIP = 5.0  # a hip stop is set only where the hem lies lower than the hip by this

_PARTS: dict[BodyCut, tuple[ArmholePart, ...]] = {
    BodyCut.DARTED: (
        ArmholePart("front", "shoulder-point", "underarm"),
        ArmholePart("back", "underarm", "shoulder-point-back"),
    ),
    BodyCut.SIDE_PANEL: (
        ArmholePart("front", "shoulder-point", "underarm-front"),
        ArmholePart("side", "underarm-front", "underarm-back"),
        ArmholePart("back", "underarm-back", "shoulder-point-back"),
    ),
    BodyCut.PRINCESS_SHOULDER: (
        ArmholePart("side-front", "shoulder-point", "underarm"),
        ArmholePart("side-back", "underarm", "shoulder-point-back"),
    ),
    BodyCut.PRINCESS_ARMHOLE: (
        ArmholePart("front", "shoulder-point", "princess-front"),
        ArmholePart("side-front", "princess-front", "underarm"),
        ArmholePart("side-back", "underarm", "princess-back"),
        ArmholePart("back", "princess-back", "shoulder-point-back"),
    ),
}
_PRINCESS_FRONT, _PRINCESS_BACK = 0.5, 0.44  # of the armhole's height, where seams from the armhole begin
_ON_SHOULDER = 0.47  # of the shoulder's length from the neck, where seams and darts of the shoulder begin


@dataclass(frozen=True)
class PanelSeam:
    """Both edges of a panel seam, from its top down to the hem, each in its piece's own frame."""

    left: Path  # of the piece towards the centre back
    right: Path  # of the piece towards the centre front


@dataclass(frozen=True)
class Bodice:
    """The body of the jacket before its front edge, collar and pockets."""

    armhole: Armhole  # joined in the front's frame, the bust's dart opened
    placings: tuple[tuple[str, Transform], ...]  # from the armhole's frame into a piece's own
    seams: tuple[tuple[str, PanelSeam], ...]  # from the back to the front
    under_bust: float  # the level from which the ease over the bust is sewn
    centre_back: Path
    hems: tuple[Path, ...]  # of each piece, from the back to the front
    back_neck: Path  # from the neck point to the nape
    shoulder_part: float  # from the neck point to where a seam or dart of the shoulder begins, front and back alike

    def seam(self, name: str) -> PanelSeam:
        """Returns a panel seam; raises KeyError."""
        return dict(self.seams)[name]

    def armhole_of(self, piece: str) -> Path:
        """Returns a piece's part of the armhole in its own frame, front first; raises KeyError."""
        part = next((part for part in self.armhole.parts if part.piece == piece), None)
        if part is None:
            raise KeyError(f"{piece} has no part of the armhole")
        path = self.armhole.path.part(self.armhole.stop(part.first), self.armhole.stop(part.last))
        placing = dict(self.placings).get(piece)
        return path if placing is None else path.moved(placing)


def draw_bodice(r: Recorder, frame: Frame, design: JacketDesign, neck_heading: Point, front_corner: Point) -> Bodice:
    """Returns the body of the jacket.

    `neck_heading` is the direction in which the front's neck leaves its neck point; the back's meets the shoulder at
    the rest of two right angles to it, so that the neck runs smooth across. `front_corner` is the hem's front end.
    """
    cut = design.body_cut
    armhole = _draw_armhole(r, frame, cut)
    shut = frame.opening.inverse()
    lowered = Transform.shift(0.0, -frame.front_ease)
    placings: list[tuple[str, Transform]] = [(name, lowered) for name in ("back", "side") if frame.front_ease]
    if frame.fullness in (Fullness.SIDE, Fullness.ARMHOLE):
        placings.append(("front", shut))
    under_bust = frame.bust * 0.55
    part = _ON_SHOULDER * (frame.front_shoulder_point - frame.front_neck_point).length
    seams = tuple(
        (name, draw_seam(name, frame, armhole, design, shoulder_part=part, under_bust=under_bust))
        for name in SEAMS[cut]
    )
    centre_back = _draw_centre_back(frame)
    last = seams[-1][1].right
    hems = (
        _hem(frame, centre_back.end, RIGHT, seams[0][1].left.end, _square(seams[0][1].left)),
        *(
            _hem(frame, a.right.end, _square(a.right), b.left.end, _square(b.left))
            for (_, a), (_, b) in pairwise(seams)
        ),
        _front_hem(frame, last, front_corner),
    )
    _record(r, seams, centre_back, hems)
    return Bodice(
        armhole=armhole,
        placings=tuple(placings),
        seams=seams,
        under_bust=under_bust,
        centre_back=centre_back,
        hems=hems,
        back_neck=draw_back_neck(frame, neck_heading),
        shoulder_part=part,
    )


def draw_seam(
    name: str, frame: Frame, armhole: Armhole, design: JacketDesign, *, shoulder_part: float, under_bust: float
) -> PanelSeam:
    """Returns a panel seam of the cut by its name; the last two are those of the Bodice."""
    draw = _Seams(frame, armhole, shoulder_part, under_bust, upright_waist=design.waist_seam)
    from_shoulder = design.body_cut is BodyCut.PRINCESS_SHOULDER
    match name:
        case "side-back":
            return draw.side_back()
        case "side-front":
            return draw.side_front()
        case "princess-back":
            return draw.back_from_shoulder() if from_shoulder else draw.back_from_armhole()
        case "princess-front":
            return draw.front_from_shoulder() if from_shoulder else draw.front_from_armhole()
        case _:
            return draw.side()


def _record(r: Recorder, seams: tuple[tuple[str, PanelSeam], ...], centre_back: Path, hems: tuple[Path, ...]) -> None:
    r.drawn("centre back", "back", "upright, hollowed at the waist between blade and hip", centre_back)
    for name, seam in seams:
        words = name.replace("-", " ")
        r.drawn(
            f"{words}, back edge",
            "panel seams",
            "plumb, in by half the seam's gap at each level",
            seam.left,
        )
        r.drawn(
            f"{words}, front edge",
            "panel seams",
            "its mirror image about a plumb line; above the bust as its own piece asks",
            seam.right,
        )
        r.found(
            f"ease in the {words} seam",
            "panel seams",
            "the edge towards the front less the edge towards the back, sewn in over the bust or blade",
            seam.right.length - seam.left.length,
        )
    for number, hem in enumerate(hems, 1):
        r.drawn(
            f"hem {number}", "hem", "panels from the back; square to both seams, level at centre back and front", hem
        )


def _draw_armhole(r: Recorder, frame: Frame, cut: BodyCut) -> Armhole:
    """Draws the whole armhole in the front's frame: square to both shoulders, hollow in front, straight behind."""
    rise = Point(0.0, frame.front_ease)
    front, back = frame.opening(frame.front_shoulder_point), frame.blade_opening(frame.back_shoulder_point) + rise
    slope = frame.front_slope + frame.dart_angle
    foot = frame.scye + frame.front_ease
    width = frame.front_line - frame.back_width
    chest = Point(frame.front_line, foot + 0.38 * (front.y - foot))
    underarm = Point(frame.front_line - 0.43 * width, foot)
    blade = Point(frame.back_width, foot + 0.52 * (back.y - foot))
    r.found(
        "chest point",
        "armhole",
        "on the chest width, 0.38 of the way from the scye line up to the front shoulder",
        chest,
        using=("chest width",),
    )
    r.found(
        "underarm",
        "armhole",
        "on the scye line, 0.43 of the scye width behind the chest",
        underarm,
        using=("scye width", "scye line", "ease over the bust"),
    )
    r.found(
        "hind pitch",
        "armhole",
        "on the back width, 0.52 of the way from the scye line up to the back shoulder",
        blade,
        using=("back width",),
    )
    down = Point(math.sin(slope), -math.cos(slope))
    up = Point(math.sin(frame.back_slope + frame.blade_angle), math.cos(frame.back_slope + frame.blade_angle))
    drop, reach = chest.y - foot, chest.x - underarm.x
    climb, depth = blade.y - foot, underarm.x - blade.x
    segments = (
        hook_curve(front, down, chest, DOWN, (0.36, 0.28)),
        Path.curve(chest, chest + DOWN * (0.68 * drop), underarm + RIGHT * (0.54 * reach), underarm),
        Path.curve(underarm, underarm + LEFT * (0.5 * depth), blade + DOWN * (0.62 * climb), blade),
        hook_curve(blade, UP, back, up, (0.36, 0.32)),
    )
    path = segments[0].then(*segments[1:])
    to_chest, to_underarm = segments[0].length, segments[0].length + segments[1].length
    to_blade = to_underarm + segments[2].length
    rising = segments[2]

    def at_height(part: float) -> float:
        return to_underarm + rising.where_y(foot + part * (back.y - foot))[0]

    pitch = to_chest + segments[1].where_y(min(chest.y, foot + 38.0))[0]
    underarm_front = to_chest + segments[1].where_x(frame.front_line - frame.panel_front + frame.side_front_moved)[0]
    forearm_top = pitch + 0.45 * (underarm_front - pitch)
    r.found(
        "room before the fold behind the arm",
        "armhole",
        "level, from the armhole at 0.36 of its height to where the folded sleeve would end behind",
        path.at(at_height(0.36)).x
        - path.at(forearm_top).x
        - FOREARM_INSET
        + (r["upper arm girth"] + r["ease at the upper arm"]) / 2,
        using=("upper arm girth", "ease at the upper arm"),
    )
    r.number(
        "height of the hindarm seam's top",
        "armhole",
        "0.36 + least of (0.06; most of (0; (room before the fold behind the arm − 55 mm) × 0.006))"
        " − least of (0.15; most of (0; (16 mm − room before the fold behind the arm) × 0.0027))",
        "common practice, no source: higher where the sleeve is wide for its armhole, lower where it is narrow",
    )
    places = {
        "shoulder-point": 0.0,
        "front-pitch": pitch,
        "forearm-top": forearm_top,
        "underarm": to_underarm,
        "hindarm-top": at_height(r["height of the hindarm seam's top"]),
        "back-pitch": to_blade,
        "shoulder-point-back": path.length,
    }
    if cut is BodyCut.SIDE_PANEL:
        underarm_back = at_height(0.2)
        if frame.side_back_moved:
            at = path.at(underarm_back).x + frame.side_back_moved
            underarm_back = to_underarm + rising.where_x(at)[0]
        places |= {"underarm-front": underarm_front, "underarm-back": underarm_back}
    if cut is BodyCut.PRINCESS_ARMHOLE:
        places |= {
            "princess-front": segments[0].where_y(foot + _PRINCESS_FRONT * (front.y - foot))[0],
            "princess-back": at_height(_PRINCESS_BACK),
        }
    stops = tuple(sorted(places.items(), key=lambda place: place[1]))
    r.drawn(
        "armhole",
        "armhole",
        "from shoulder to shoulder through chest, underarm and hind pitch: square to both shoulders, hollow in front,"
        " nearly straight behind",
        path,
    )
    for name, at in stops:
        r.found(name, "armhole", "along the armhole from the front's shoulder point", at)
    return Armhole(path, stops, _PARTS[cut])


# Handles of a princess seam that leaves the armhole: it bends there and comes to the bust's level more gently, where
# the bend turns about.
FROM_ARMHOLE = (0.3, 0.52)


@dataclass(frozen=True)
class _Seams:
    """Draws panel seams: below the bust the two edges mirror one another, so that level bars meet."""

    frame: Frame
    armhole: Armhole
    shoulder_part: float
    under_bust: float
    upright_waist: bool

    def side_back(self) -> PanelSeam:
        """Of a side panel, from the back of the armhole."""
        return self._plumb("side-back", self._on_armhole("underarm-back", self.frame.front_ease))

    def side(self) -> PanelSeam:
        """Under the arm."""
        return self._plumb("side", self._on_armhole("underarm", self.frame.front_ease))

    def side_front(self) -> PanelSeam:
        """Of a side panel, from the front of the armhole; the front's edge is eased on over the bust."""
        frame, axis = self.frame, self._on_armhole("underarm-front")
        seam = self._plumb("side-front", axis - Point(0.0, frame.front_ease))
        split = seam.right.where_y(self.under_bust)[0]
        lower = seam.right.part(split, seam.right.length)
        at_bust = seam.right.at(seam.right.where_y(frame.bust)[0])
        upper = fair_curve([axis, at_bust, lower.start], DOWN, lower.start_tangent)
        return PanelSeam(seam.left, upper.then(lower))

    def back_from_shoulder(self) -> PanelSeam:
        """Over the blade; above it the edges part by the back shoulder's turn."""
        frame = self.frame
        along = (frame.back_shoulder_point - frame.back_neck_point).unit
        top, into = frame.back_neck_point + along * self.shoulder_part, along.right
        opened, pivot = frame.blade_opening, frame.blade_pivot
        seam = self._plumb("princess-back", pivot)
        left = fair_curve([top, pivot], into, DOWN)
        right = fair_curve([opened(top), pivot], opened(top + into) - opened(top), DOWN)
        return PanelSeam(left.then(seam.left), right.then(seam.right))

    def back_from_armhole(self) -> PanelSeam:
        """From the armhole over the blade's outer side; both edges are one line down to the bust."""
        frame = self.frame
        at = self.armhole.stop("princess-back")
        top = self.armhole.path.at(at) - Point(0.0, frame.front_ease)
        into = self.armhole.path.tangent(at).left.rotated(0.35)
        foot = Point(frame.back_axis, frame.bust)
        corner = crossing(top, into, foot, DOWN)  # the lower handle, reaching beyond it, would turn the bend about
        lower = min(FROM_ARMHOLE[1], (corner - foot).length / (foot - top).length)
        above = hook_curve(top, into, foot, DOWN, (FROM_ARMHOLE[0], lower))
        seam = self._plumb("princess-back", foot)
        return PanelSeam(above.then(seam.left), above.then(seam.right))

    def front_from_shoulder(self) -> PanelSeam:
        """Over the bust point; above it the edges part by the bust's dart."""
        frame = self.frame
        along = (frame.front_shoulder_point - frame.front_neck_point).unit
        return self._over_bust(frame.front_neck_point + along * self.shoulder_part, along.left, (1 / 3, 1 / 3))

    def front_from_armhole(self) -> PanelSeam:
        """From the armhole past the bust point; above it the edges part by the bust's dart."""
        at = self.armhole.stop("princess-front")
        shut = self.frame.opening.inverse()
        top = self.armhole.path.at(at)
        into = self.armhole.path.tangent(at).left.rotated(-0.2)
        return self._over_bust(shut(top), shut(top + into) - shut(top), FROM_ARMHOLE)

    def _over_bust(self, top: Point, into: Point, pull: tuple[float, float]) -> PanelSeam:
        """Returns a seam over the bust, from a top and heading as they lie with the dart closed."""
        frame = self.frame
        opened = frame.opening
        seam = self._plumb("princess-front", frame.pivot)
        left = hook_curve(opened(top), opened(top + into) - opened(top), frame.pivot, DOWN, pull)
        right = hook_curve(top, into, frame.pivot, DOWN, pull)
        return PanelSeam(left.then(seam.left), right.then(seam.right))

    def _on_armhole(self, stop: str, lower: float = 0.0) -> Point:
        return self.armhole.path.at(self.armhole.stop(stop)) - Point(0.0, lower)

    def _plumb(self, name: str, top: Point) -> PanelSeam:
        """Returns both edges of a seam that hangs plumb from its top."""
        frame, gap = self.frame, self.frame.gap(name)

        def edge(side: float) -> Path:
            at_bust = Point(top.x + side * gap.bust, frame.bust)
            above = (top, at_bust) if top.y > frame.bust else (top,)
            return _panel_edge(frame, above, gap, side=side, upright_waist=self.upright_waist)

        return PanelSeam(edge(-0.5), edge(0.5))


def _panel_edge(frame: Frame, above: tuple[Point, ...], gap: Gap, *, side: float, upright_waist: bool) -> Path:
    """Returns one edge of a panel seam down to the hem, on one side (−½ or ½) of the plumb line through its top."""
    axis = above[0].x
    waist, hip = Point(axis + side * gap.waist, 0.0), Point(axis + side * gap.hip, frame.hip)
    below = frame.hip - frame.hem
    upper, lower = [*above, waist], [waist, hip]
    end: Point | None = None
    if below > LONG:  # straight from the hip on
        end = Point(-side * _COAT_FLARE / len(frame.seams), -1.0)
    elif below > WHOLE_HIP:
        lower.append(Point(axis + side * (gap.hip - 0.05 * below), frame.hem))
    narrowest = (gap.waist - gap.bust) * (gap.waist - gap.hip) > 0
    if narrowest or upright_waist:
        path = fair_curve(upper, DOWN, DOWN).then(fair_curve(lower, DOWN, end))
    else:
        path = fair_curve([*upper, *lower[1:]], DOWN, end)
    if end is not None:
        return path.then(Path.line(hip, hip + end * below))
    if below <= WHOLE_HIP:
        path = _short(path, frame.hem)
    return path


def _short(edge: Path, level: float) -> Path:
    """Returns a slanting edge cut off where a hem square to it comes down to its level on the way."""
    at = edge.tangent(edge.where_y(max(level, edge.end.y))[0])
    return edge.part(0.0, edge.where_y(max(level + _SQUARED * abs(at.x / at.y), edge.end.y))[0])


def _square(edge: Path) -> Point:
    """Returns the direction to the right, square to an edge's end."""
    return edge.end_tangent.left


def _hem(frame: Frame, left: Point, out: Point, right: Point, back: Point) -> Path:
    """Returns a hem between two edges, in the headings given; it comes down to its level and goes no lower."""
    chord = (right - left).length

    def reach(end: Point, heading: Point) -> float:
        over = end.y - frame.hem
        return min(over / abs(heading.y), chord / 2) if over > SAME and abs(heading.y) > SAME else chord / 3

    return hook_curve(left, out, right, back, (reach(left, out) / chord, reach(right, back) / chord))


def _front_hem(frame: Frame, side: Path, corner: Point) -> Path:
    """Returns the front's hem: square to the side seam, level from the centre front on."""
    level = Point(min(frame.centre_front, corner.x), frame.hem)
    hem = _hem(frame, side.end, _square(side), level, RIGHT)
    return hem.then(Path.line(level, corner)) if corner.x > level.x else hem


def _draw_centre_back(frame: Frame) -> Path:
    """Nape to hem: straight on the grain but for the hollow of the waist, between blade and hip (or a higher hem)."""
    waist = Point(frame.hollow, 0.0)
    blade, hip = Point(0.0, frame.blade), Point(0.0, max(frame.hip, frame.hem))
    upper = Path.line(frame.nape, blade)
    if frame.hollow <= 0:
        return Path.line(frame.nape, Point(0.0, frame.hem))
    path = upper.then(
        Path.curve(blade, Point(0.0, blade.y * 2 / 3), Point(waist.x, blade.y / 3), waist),
        Path.curve(waist, Point(waist.x, hip.y / 3), Point(0.0, hip.y * 2 / 3), hip),
    )
    return path.then(Path.line(hip, Point(0.0, frame.hem))) if frame.hem < frame.hip else path
