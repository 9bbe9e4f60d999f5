"""Armholes for the sleeve's tests, drawn without the jacket: hollow in front, round below, nearly straight behind."""

from __future__ import annotations

from settwright.body import Body
from settwright.geometry import Path, Point, fair_curve
from settwright.pattern.drafts.armhole import Armhole

UP, DOWN = Point(0.0, 1.0), Point(0.0, -1.0)


def armhole(width: float, depth: float) -> Armhole:
    """Returns an armhole of a width and a mean scye depth; 135 by 186 mm is about 450 mm round."""
    front, back = 0.46 * width, -0.54 * width
    hollow, blade = Point(front, 0.36 * depth), Point(back, 0.52 * depth)
    foot = Point(0.0, 0.0)
    above_front = fair_curve([Point(front - 14, depth - 4), Point(front - 4, 0.62 * depth), hollow], None, DOWN)
    below_front = Path.curve(hollow, Point(front, 0.1 * depth), Point(0.52 * front, 0.0), foot)
    below_back = Path.curve(foot, Point(0.5 * back, 0.0), Point(back, 0.22 * depth), blade)
    above_back = fair_curve([blade, Point(back + 4, 0.78 * depth), Point(back + 14, depth + 4)], UP, None)
    path = above_front.then(below_front, below_back, above_back)
    at_hollow = above_front.length
    at_foot = at_hollow + below_front.length
    at_blade = at_foot + below_back.length
    stops = (
        ("shoulder-point", 0.0),
        ("front-pitch", at_hollow - 5.0),
        ("forearm-top", at_hollow + below_front.where_y(0.1 * depth)[0]),
        ("underarm-front", at_hollow + below_front.where_x(0.55 * front)[0]),
        ("underarm", at_foot),
        ("underarm-back", at_foot + below_back.where_x(0.55 * back)[0]),
        ("hindarm-top", at_foot + below_back.where_y(0.45 * depth)[0]),
        ("back-pitch", at_blade + above_back.where_y(0.6 * depth)[0]),
        ("shoulder-point-back", path.length),
    )
    return Armhole(path, stops)


def arm(girth: float, to_elbow: float = 340.0, length: float = 590.0) -> Body:
    """Returns as much of a body as a sleeve asks for."""
    return Body.of(
        {
            "upper_arm_girth": girth,
            "elbow_girth": 0.88 * girth,
            "wrist_girth": 0.55 * girth,
            "upper_arm_length": to_elbow,
            "arm_length": length,
        }
    )


# by bust girth; about 410, 450 and 510 mm round
SIZES: dict[int, tuple[Armhole, Body]] = {
    820: (armhole(118, 172), arm(250, 322, 560)),
    920: (armhole(135, 186), arm(285)),
    1120: (armhole(165, 206), arm(345, 345, 600)),
}
