"""Back, side and front of the body up to the front edge: panel seams, armhole, shoulders, dart."""

from __future__ import annotations

import math
from dataclasses import dataclass

from settwright.geometry import Path, Point, Transform, direction, fair_curve, hook_curve
from settwright.pattern.drafts.armhole import Armhole
from settwright.pattern.drafts.frame import Frame, Gap
from settwright.pattern.drafts.record import Recorder
from settwright.pattern.piece import Line, LineKind, Mark

DOWN, UP, RIGHT, LEFT = Point(0.0, -1.0), Point(0.0, 1.0), Point(1.0, 0.0), Point(-1.0, 0.0)

WHOLE_HIP = 5.0  # a hip stop is set only where the hem lies lower than the hip by this


@dataclass(frozen=True)
class PanelSeam:
    """Both edges of a panel seam, from the armhole down to the hem."""

    left: Path  # of the piece towards the centre back
    right: Path  # of the piece towards the centre front


@dataclass(frozen=True)
class Bodice:
    """The body of the jacket before its front edge, collar and pockets."""

    armhole: Armhole  # in the front's frame: side and back lie higher there by the ease over the bust
    rise: float  # by how much
    side_back: PanelSeam
    side_front: PanelSeam
    under_bust: float  # the level from which the ease over the bust is sewn
    centre_back: Path
    back_hem: Path
    side_hem: Path
    front_hem: Path
    back_neck: Path  # from the neck point to the nape

    @property
    def back_armhole(self) -> Path:
        """The back's part of the armhole, in the back's own frame, from underarm-back to shoulder-point."""
        return self._lowered("underarm-back", "shoulder-point-back")

    @property
    def side_armhole(self) -> Path:
        """The side's part, in its own frame, from underarm-front to underarm-back."""
        return self._lowered("underarm-front", "underarm-back")

    @property
    def front_armhole(self) -> Path:
        """The front's part, from shoulder-point to underarm-front."""
        return self.armhole.path.part(0.0, self.armhole.stop("underarm-front"))

    def _lowered(self, first: str, last: str) -> Path:
        part = self.armhole.path.part(self.armhole.stop(first), self.armhole.stop(last))
        return part.moved(Transform.shift(0.0, -self.rise))


def draw_bodice(r: Recorder, frame: Frame, neck_heading: Point, front_corner: Point) -> Bodice:
    """Returns the body of the jacket.

    `neck_heading` is the direction in which the front's neck leaves its neck point; the back's neck meets the shoulder
    at the rest of two right angles, so that the neck runs smooth across it. `front_corner` is the hem's other end.
    """
    armhole = _draw_armhole(r, frame)
    rise = frame.front_ease
    back_axis = armhole.path.at(armhole.stop("underarm-back"))
    front_axis = armhole.path.at(armhole.stop("underarm-front"))
    under_bust = frame.bust * 0.55
    back_top, side_top = back_axis - Point(0.0, rise), front_axis - Point(0.0, rise)
    side_back = PanelSeam(
        _panel_edge(frame, back_top, frame.side_back, -0.5), _panel_edge(frame, back_top, frame.side_back, 0.5)
    )
    left = _panel_edge(frame, side_top, frame.side_front, -0.5)
    right = _panel_edge(frame, side_top, frame.side_front, 0.5)
    side_front = PanelSeam(left, _lengthened(right, front_axis, under_bust, frame.bust))
    r.found(
        "ease over the bust as drawn",
        "front",
        "front's side seam less the side panel's, sewn in between under-bust and armhole",
        side_front.right.length - side_front.left.length,
    )
    centre_back = _draw_centre_back(frame)
    hems = [
        hook_curve(centre_back.end, RIGHT, side_back.left.end, _square(side_back.left)),
        hook_curve(side_back.right.end, _square(side_back.right), side_front.left.end, _square(side_front.left)),
        _front_hem(frame, side_front.right, front_corner),
    ]
    for name, of, rule, line in (
        ("centre back", "back", "upright, hollowed at the waist between blade and hip", centre_back),
        ("side back seam of the back", "back", "plumb from the armhole, in by half the seam's gap at each level",
         side_back.left),
        ("hem of the back", "back", "square to both seams", hems[0]),
        ("side back seam of the side panel", "side", "on the other side of the seam's gap", side_back.right),
        ("side front seam of the side panel", "side", "plumb from the armhole, by half the seam's gap at each level",
         side_front.left),
        ("hem of the side panel", "side", "square to both seams", hems[1]),
        ("side front seam of the front", "front", "on the other side of the seam's gap; above the bust up to the"
         " armhole, longer by the ease over the bust", side_front.right),
        ("hem of the front", "front", "square to the side seam, level from the centre front", hems[2]),
    ):  # fmt: skip
        r.drawn(name, of, rule, line)
    return Bodice(
        armhole=armhole,
        rise=rise,
        side_back=side_back,
        side_front=side_front,
        under_bust=under_bust,
        centre_back=centre_back,
        back_hem=hems[0],
        side_hem=hems[1],
        front_hem=hems[2],
        back_neck=_draw_back_neck(frame, neck_heading),
    )


def _draw_armhole(r: Recorder, frame: Frame) -> Armhole:
    """Draws the whole armhole in the front's frame: square to both shoulders, hollow in front, straight behind."""
    rise = Point(0.0, frame.front_ease)
    front, back = frame.front_shoulder_point, frame.back_shoulder_point + rise
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
    down = Point(math.sin(frame.front_slope), -math.cos(frame.front_slope))
    up = Point(math.sin(frame.back_slope), math.cos(frame.back_slope))
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
    underarm_front = to_chest + segments[1].where_x(frame.front_line - frame.panel_front)[0]
    stops = (
        ("shoulder-point", 0.0),
        ("front-pitch", pitch),
        ("forearm-top", pitch + 0.45 * (underarm_front - pitch)),
        ("underarm-front", underarm_front),
        ("underarm", to_underarm),
        ("underarm-back", at_height(0.2)),
        ("hindarm-top", at_height(0.36)),
        ("back-pitch", to_blade),
        ("shoulder-point-back", path.length),
    )
    r.drawn(
        "armhole",
        "armhole",
        "from shoulder to shoulder through chest, underarm and hind pitch: square to both shoulders, hollow in front,"
        " nearly straight behind",
        path,
    )
    for name, at in stops:
        r.found(name, "armhole", "along the armhole from the front's shoulder point", at)
    return Armhole(path, stops)


def _panel_edge(frame: Frame, top: Point, gap: Gap, side: float) -> Path:
    """Returns one edge of a panel seam, armhole to hem, on one side (−½ or ½) of the seam's upright axis."""
    waist_x = top.x + side * gap.waist
    spring = gap.hip - 0.05 * (frame.hip - frame.hem) if frame.hem < frame.hip else gap.hip
    upper = [top, Point(top.x + side * gap.bust, frame.bust), Point(waist_x, 0.0)]
    lower = [Point(waist_x, 0.0), Point(top.x + side * gap.hip, frame.hip)]
    if frame.hem < frame.hip - WHOLE_HIP:
        lower.append(Point(top.x + side * spring, frame.hem))
    narrowest = (gap.waist - gap.bust) * (gap.waist - gap.hip) > 0
    if narrowest:
        path = fair_curve(upper, DOWN, DOWN).then(fair_curve(lower, DOWN))
    else:
        path = fair_curve([*upper, *lower[1:]], DOWN)
    if frame.hem >= frame.hip - WHOLE_HIP:
        path = path.part(0.0, path.where_y(max(frame.hem, frame.hip))[0])
    return path


def _lengthened(edge: Path, top: Point, level: float, bust: float) -> Path:
    """Returns a panel edge drawn afresh above a level, up to a higher top."""
    split = edge.where_y(level)[0]
    lower = edge.part(split, edge.length)
    at_bust = edge.at(edge.where_y(bust)[0])
    return fair_curve([top, at_bust, lower.start], DOWN, lower.start_tangent).then(lower)


def _square(edge: Path) -> Point:
    """Returns the direction to the right, square to an edge's end."""
    return edge.end_tangent.left


def _front_hem(frame: Frame, side: Path, corner: Point) -> Path:
    """Returns the front's hem: square to the side seam, level from the centre front on."""
    level = Point(min(frame.centre_front, corner.x), frame.hem)
    hem = hook_curve(side.end, _square(side), level, RIGHT)
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


def _draw_back_neck(frame: Frame, neck_heading: Point) -> Path:
    """Neck point to nape."""
    front_shoulder = (frame.front_shoulder_point - frame.front_neck_point).angle
    inner = (neck_heading.angle - front_shoulder) % (2 * math.pi)
    back_shoulder = (frame.back_shoulder_point - frame.back_neck_point).angle
    leaving = direction(back_shoulder - (math.pi - inner))
    return hook_curve(frame.back_neck_point, leaving, frame.nape, LEFT, (0.22, 0.6))


def dart_lines(
    r: Recorder, piece: str, x: float, *, width: float, top: float, end: float
) -> tuple[tuple[Line, ...], tuple[Mark, ...]]:
    """Returns a dart wholly inside a piece: two legs mirrored about an upright line, widest at the waist.

    Without width there are none.
    """
    if width <= 0:
        return (), ()
    upper, lower, waist = Point(x, top), Point(x, end), Point(x, 0.0)
    half = Point(width / 2, 0.0)
    r.found("dart's upper point", piece, "plumb over the middle of the dart", upper)
    r.found("dart's lower point", piece, "plumb under the middle of the dart; on the front in the pocket's slit", lower)

    def leg(side: float) -> Path:
        middle = waist + half * side
        return fair_curve([upper, middle], None, DOWN).then(fair_curve([middle, lower], DOWN))

    return (
        Line("dart-back-leg", LineKind.DART, leg(-1.0), "dart-top", "dart-end"),
        Line("dart-front-leg", LineKind.DART, leg(1.0), "dart-top", "dart-end"),
    ), (Mark("dart-top", upper), Mark("dart-end", lower))
