"""Points, paths and outlines: curves measured by arc length, millimetres, y upwards."""

from settwright.geometry.path import Path, Segment, fair_curve, hook_curve, joined
from settwright.geometry.point import ORIGIN, Point, Transform, crossing, direction

__all__ = [
    "ORIGIN",
    "Path",
    "Point",
    "Segment",
    "Transform",
    "crossing",
    "direction",
    "fair_curve",
    "hook_curve",
    "joined",
]
