"""The back's neck, which goes on from the front's: both are drawn so that they join smoothly at the shoulder."""

from __future__ import annotations

import math

from settwright.geometry import Path, Point, direction, hook_curve
from settwright.pattern.drafts.frame import Frame

_LEFT = Point(-1.0, 0.0)


def draw_back_neck(frame: Frame, neck_heading: Point) -> Path:
    """Returns the neck from the neck point to the nape; `neck_heading` is the direction of the front's from there."""
    front_shoulder = (frame.front_shoulder_point - frame.front_neck_point).angle
    inner = (neck_heading.angle - front_shoulder) % (2 * math.pi)
    back_shoulder = (frame.back_shoulder_point - frame.back_neck_point).angle
    leaving = direction(back_shoulder - (math.pi - inner))
    return hook_curve(frame.back_neck_point, leaving, frame.nape, _LEFT, (0.22, 0.6))
