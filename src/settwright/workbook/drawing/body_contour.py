"""A standing figure's contour, front and back alike, in the proportions of a client's own measurements.

Heights and lengths are hers. Widths are girths as seen from in front: what part of a girth the eye sees as width is
from memory of anthropometric surveys, head, hands and feet in parts of the height likewise. It shows where a tape lies;
it is no portrait.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from settwright.body import Body
from settwright.geometry import Path, Point, Transform, direction, fair_curve

_HEAD = 0.128  # height of the head as a part of the height
_ARM_OUT, _FOREARM_OUT = math.radians(14), math.radians(9)  # of a hanging arm held clear of the body
_STRAIGHT_DOWN = -math.pi / 2

# what part of a girth is seen from in front as half a width
_SEEN = {"bust": 0.149, "waist": 0.157, "hip": 0.168, "neck": 0.128, "arm": 0.137, "thigh": 0.15, "knee": 0.136}

MIRROR = Transform.mirror_x()


@dataclass(frozen=True)
class Contour:
    """The viewer's right half of a figure that stands on y = 0 with its middle at x = 0; millimetres of the body."""

    outline: Path  # from the crown down the arm and leg to the crotch
    chin: Path  # from the middle to the jaw
    height: float
    nape: float
    neck_pit: float
    neck_point: Point
    shoulder_point: Point
    armpit: Point
    bust: float  # heights of the levels
    waist: float
    hip: float
    crotch: float
    knee: float
    bust_point: Point
    arm: tuple[Point, Point, Point]  # middle of the arm at shoulder, elbow and wrist
    arm_width: tuple[float, float, float]  # half widths at the upper arm, elbow and wrist
    leg: tuple[float, float]  # from the middle of the body to that of the leg, at thigh and knee
    leg_width: tuple[float, float]  # half widths there
    hip_width: float  # half widths
    waist_width: float
    bust_width: float

    @property
    def whole(self) -> Path:
        """The closed outline of both halves, from the crown down the viewer's right and up the left."""
        return self.outline.then(self.outline.moved(MIRROR).reversed())

    @property
    def reach(self) -> float:
        """From the middle to the farthest hand."""
        return max(p.x for p in self.outline.points(1.0))


def contour_of(body: Body) -> Contour:
    """Returns the figure of a body; what it lacks is taken in usual proportion."""
    known = {measure.name: measure.value for measure in body.measures}

    def taken(name: str, usual: float) -> float:
        return known.get(name, usual)

    h = taken("height", 1680.0)
    waist = taken("waist_height", 0.63 * h)
    nape = min(waist + 0.97 * taken("back_waist_length", 0.245 * h), 0.862 * h)
    neck, bust_girth = taken("neck_base_girth", 0.22 * h), known["bust_girth"]
    neck_point = Point(0.185 * neck, nape - 0.016 * h)
    slope = taken("shoulder_slope", math.radians(20))
    shoulder_point = neck_point + direction(-slope) * taken("shoulder_length", 0.075 * h)
    bust_point = _bust_point(
        taken("bust_point_width", 0.11 * h) / 2, taken("neck_point_to_bust_point", 0.158 * h), neck_point
    )
    hip = waist - taken("waist_to_hip", 0.12 * h)
    crotch = min(taken("crotch_height", 0.465 * h), hip - 0.02 * h)
    knee = waist - taken("waist_to_knee", 0.35 * h)
    bust_width, waist_width, hip_width = (
        _SEEN[name] * known[f"{name}_girth"] for name in ("bust", "waist", "hip")
    )  # a stout waist pushes the arms out
    upper = _SEEN["arm"] * taken("upper_arm_girth", 0.31 * bust_girth)
    armpit = Point(
        max(bust_width * 1.01, shoulder_point.x - 1.05 * upper), nape - 0.94 * taken("scye_depth", 0.127 * h)
    )
    upper_length = taken("upper_arm_length", 0.205 * h)
    fore_length = taken("arm_length", 0.348 * h) - upper_length
    top = Point(armpit.x + 0.9 * upper * math.cos(_ARM_OUT) - 0.12 * upper, shoulder_point.y - 0.4 * upper)
    spread = _ARM_OUT + max(0.0, waist_width - bust_width) / 600.0
    elbow = top + direction(_STRAIGHT_DOWN + spread) * (upper_length - 0.4 * upper)
    wrist = elbow + direction(_STRAIGHT_DOWN + spread - (_ARM_OUT - _FOREARM_OUT)) * fore_length
    arm_width = (
        upper,
        min(0.118 * taken("elbow_girth", 0.9 * taken("upper_arm_girth", 280.0)), 0.88 * upper),
        0.148 * taken("wrist_girth", 155.0),
    )
    thigh = _SEEN["thigh"] * taken("thigh_girth", 0.6 * known["hip_girth"])
    knee_width = _SEEN["knee"] * taken("knee_girth", 0.36 * known["hip_girth"])
    leg = (hip_width * 0.985 - thigh, max(knee_width * 1.12, 0.86 * (hip_width * 0.985 - thigh)))
    head = _head(h, _SEEN["neck"] * neck)
    limb = _arm(head, neck_point, shoulder_point, middle=(top, elbow, wrist), widths=arm_width, armpit=armpit, h=h)
    side = fair_curve(
        [
            armpit,
            Point(bust_width, bust_point.y - 0.004 * h),
            Point(waist_width, waist),
            Point(waist_width + 0.66 * (hip_width - waist_width), waist - 0.45 * (waist - hip)),
            Point(hip_width, hip),
            Point(leg[0] + thigh, crotch - 0.03 * h),
        ],
        direction(_STRAIGHT_DOWN),
        direction(_STRAIGHT_DOWN - 0.07),
    )
    limbs = _leg(side.end, side.end_tangent, middles=leg, widths=(thigh, knee_width), crotch=crotch, knee=knee, h=h)
    outline = head.then(limb, side, limbs)
    return Contour(
        outline=outline,
        chin=_chin(h),
        height=h,
        nape=nape,
        neck_pit=neck_point.y - 0.032 * h,
        neck_point=neck_point,
        shoulder_point=shoulder_point,
        armpit=armpit,
        bust=bust_point.y,
        waist=waist,
        hip=hip,
        crotch=crotch,
        knee=knee,
        bust_point=bust_point,
        arm=(top, elbow, wrist),
        arm_width=arm_width,
        leg=leg,
        leg_width=(thigh, knee_width),
        hip_width=hip_width,
        waist_width=waist_width,
        bust_width=bust_width,
    )


def _bust_point(half: float, along: float, neck_point: Point) -> Point:
    """Returns a bust point `half` from the middle; seen from in front the way to it is shorter than along the body."""
    down = math.sqrt(max(along * along - (half - neck_point.x) ** 2, 1.0))
    return Point(half, neck_point.y - 0.94 * down)


def _head(h: float, neck: float) -> Path:
    """Returns the head from the crown to where the jaw meets the neck, `neck` to the side."""
    return fair_curve(
        [
            Point(0.0, h),
            Point(0.031 * h, h - 0.017 * h),
            Point(0.0415 * h, h - 0.053 * h),
            Point(0.036 * h, h - 0.090 * h),
            Point(neck, h - 0.113 * h),
        ],
        Point(1.0, 0.0),
        direction(_STRAIGHT_DOWN - 0.5),
    )


def _chin(h: float) -> Path:
    low = h * (1 - _HEAD)
    return fair_curve([Point(0.0, low), Point(0.0315 * h, h - 0.099 * h)], Point(1.0, 0.0), direction(1.2))


def _arm(
    head: Path,
    neck_point: Point,
    shoulder_point: Point,
    *,
    middle: tuple[Point, Point, Point],
    widths: tuple[float, float, float],
    armpit: Point,
    h: float,
) -> Path:
    """Returns neck, shoulder and arm: from the jaw down the arm's outside, round the hand and up to the armpit."""
    top, elbow, wrist = middle
    upper, lower = (elbow - top).unit, (wrist - elbow).unit
    hand = wrist + direction(lower.angle - 0.05) * (0.1 * h)
    neck = head.end
    outside = fair_curve(
        [
            neck,
            Point(neck.x * 0.97, (neck.y + neck_point.y) / 2 + 0.004 * h),
            neck_point,
            neck_point.between(shoulder_point, 0.5) + Point(0.0, -0.001 * h),
            shoulder_point,
            top.between(elbow, 0.16) + upper.left * (widths[0] * 1.0),
            top.between(elbow, 0.5) + upper.left * (widths[0] * 0.97),
            elbow + (upper + lower).unit.left * (widths[1] * 1.0),
            elbow.between(wrist, 0.3) + lower.left * (widths[1] * 0.99),
            wrist + lower.left * widths[2],
            wrist.between(hand, 0.4) + lower.left * (0.0175 * h),
            hand + lower.left * (0.0045 * h),
        ],
        direction(_STRAIGHT_DOWN - 0.15),
        direction(lower.angle - 0.5),
    )
    tip = fair_curve(
        [outside.end, hand - lower.left * (0.0065 * h)], direction(lower.angle - 0.5), direction(lower.angle + math.pi)
    )
    inside = fair_curve(
        [
            tip.end,
            wrist.between(hand, 0.45) - lower.left * (0.0175 * h),
            wrist - lower.left * widths[2],
            elbow.between(wrist, 0.3) - lower.left * (widths[1] * 0.97),
            elbow - (upper + lower).unit.left * (widths[1] * 0.95),
            top.between(elbow, 0.55) - upper.left * (widths[0] * 0.95),
            armpit,
        ],
        direction(lower.angle + math.pi),
        direction(math.pi / 2 + 0.25),
    )
    return outside.then(tip, inside)


def _leg(
    start: Point,
    heading: Point,
    *,
    middles: tuple[float, float],
    widths: tuple[float, float],
    crotch: float,
    knee: float,
    h: float,
) -> Path:
    """Returns the leg from below the hip down its outside, round the foot and up to the crotch."""
    thigh, at_knee = middles
    calf, ankle_x, ankle = widths[1] * 1.0, 0.93 * at_knee, 0.0165 * h
    outside = fair_curve(
        [
            start,
            Point((thigh + at_knee) / 2 + 0.5 * (widths[0] + widths[1]) * 1.02, (crotch + knee) / 2),
            Point(at_knee + widths[1], knee),
            Point(at_knee + calf, knee - 0.07 * h),
            Point(ankle_x + ankle, 0.055 * h),
            Point(ankle_x + 1.5 * ankle, 0.018 * h),
            Point(ankle_x + 0.75 * ankle, 0.0),
        ],
        heading,
        direction(math.pi),
    )
    foot = fair_curve(
        [outside.end, Point(ankle_x - 0.85 * ankle, 0.02 * h)], direction(math.pi), direction(math.pi / 2 + 0.1)
    )
    inside = fair_curve(
        [
            foot.end,
            Point(ankle_x - ankle, 0.058 * h),
            Point(at_knee - calf * 0.93, knee - 0.08 * h),
            Point(at_knee - widths[1] * 0.92, knee),
            Point(max(0.28 * thigh, at_knee - widths[1] * 1.2), (crotch + knee) / 2 + 0.02 * h),
            Point(0.0, crotch),
        ],
        direction(math.pi / 2 + 0.1),
        direction(math.pi / 2 + 0.25),
    )
    return outside.then(foot, inside)


__all__ = ["MIRROR", "Contour", "contour_of"]
