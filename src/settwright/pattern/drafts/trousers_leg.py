"""The lines of a trouser leg about its crease: side seam, inseam, fork and hem of one half, the fork to the right.

The crease is x = 0, plumb through the middles of knee and hem; the waist's level is y = 0. Below the knee both seams
run straight and alike on front and back; above it the side rounds over the hip and the inseam hollows to the fork.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

from settwright.geometry import Path, Point, Segment, crossing, direction, hook_curve
from settwright.pattern.drafts.skirt_panel import Profile

RIGHT = Point(1.0, 0.0)


@dataclass(frozen=True)
class Leg:
    """Levels, and half widths at knee and hem of a front or a back."""

    hip: float
    fork: float
    knee: float
    hem: float
    knee_half: float
    hem_half: float

    @property
    def lean(self) -> float:
        """How far each seam comes in per mm downwards below the knee."""
        return (self.knee_half - self.hem_half) / (self.knee - self.hem)


@dataclass(frozen=True)
class SideLine:
    """A side seam, downwards, and where hip and knee lie on it."""

    path: Path
    hip: float
    knee: float


def side_line(leg: Leg, hip: Point, waist: float, intake: float) -> SideLine:
    """Returns the side seam from the waist's height `waist`, taken in there by `intake` from the hip's line."""
    profile = Profile.of(waist, hip.y, leg.knee, intake, -hip.x - leg.knee_half)
    to_knee, at_hip = profile.path(-hip.x)
    over_hip = to_knee.part(0.0, at_hip + ROUND_BELOW).segments
    knee, foot = Point(-leg.knee_half, leg.knee), Point(-leg.hem_half, leg.hem)
    thigh, way = over_hip[-1].d, over_hip[-1].tangent(1.0)
    hollow = hook_curve(thigh, way, knee, foot - knee, (0.4, 0.44))
    upper = Path((*over_hip, *hollow.segments))
    return SideLine(upper.then(Path.line(knee, foot)), at_hip, upper.length)


@dataclass(frozen=True)
class InsideLine:
    """An inseam, upwards, and where the knee lies on it."""

    path: Path
    knee: float


def inside_line(leg: Leg, fork: Point) -> InsideLine:
    """Returns the inseam: straight to the knee, hollowed above it, deepest between knee and mid thigh, running out
    nearly straight to the fork.
    """
    foot, knee = Point(leg.hem_half, leg.hem), Point(leg.knee_half, leg.knee)
    below = knee - foot
    corner = knee + below.unit * (HOLLOW * (fork - knee).length)
    hollow = Path.curve(knee, knee.between(corner, 0.95), fork.between(corner, 0.7), fork)
    return InsideLine(Path.line(foot, knee).then(hollow), below.length)


ROUND_BELOW = 30.0  # so far below the hip the side still rounds; then it runs over into the hollow above the knee
HOLLOW = 0.3  # the leg's and the fork's direction meet so far up from the knee, as a part of the way


RUN_IN = 0.22  # by this part of its rise higher, a crotch's curve leaves the centre's line already, too little to see


def fork_curve(inside: Path, centre: Point, upwards: Point, *, rise: float, hollow: float) -> Path:
    """Returns the crotch from the fork, leaving it square to the inseam, up into the centre's line.

    Sewn together at the inseam, front's and back's crotch so run on through the fork.

    `centre` is a place on that line, `upwards` its direction; to the eye the curve leaves it `rise` above the fork's
    level. From there down its bend grows from nothing. `hollow` is how near it is drawn to the corner of both tangents.
    Raises ValueError where no fair curve joins the two.
    """
    fork = inside.end
    leaving = inside.end_tangent.left
    joint = centre + upwards * ((fork.y + rise - centre.y) / upwards.y)
    corner = crossing(fork, leaving, joint, upwards)
    if (corner - fork).dot(leaving) < 5.0 or (joint - corner).dot(upwards) < 5.0:
        raise ValueError("the fork's curve can't reach the centre's line")
    joint += upwards * (RUN_IN * rise)
    return Path.curve(fork, corner, joint.between(corner, hollow), joint)


def parameter_where(segment: Segment, side: Callable[[Point], float]) -> float:
    """Returns the parameter at which a segment passes from one side of a line to the other."""
    low, high = 0.0, 1.0
    is_up = side(segment.d) > side(segment.a)
    for _ in range(40):
        middle = (low + high) / 2
        if (side(segment.at(middle)) > 0) == is_up:
            high = middle
        else:
            low = middle
    return (low + high) / 2


def hem_line(leg: Leg, side: Point, slant: float) -> Path:
    """Returns the hem from side to inseam: it rises (or dips) at the crease, so that it runs on round the leg.

    `slant` is the angle by which each end leaves the square of its seam, upwards where positive.
    """
    rise = math.atan(leg.lean) + slant
    middle = Point(0.0, side.y - side.x * math.tan(rise) / 2)
    first = hook_curve(side, direction(rise), middle, RIGHT)
    return first.then(hook_curve(middle, RIGHT, Point(-side.x, side.y), direction(-rise)))


__all__ = [
    "RIGHT",
    "InsideLine",
    "Leg",
    "SideLine",
    "fork_curve",
    "hem_line",
    "inside_line",
    "parameter_where",
    "side_line",
]
