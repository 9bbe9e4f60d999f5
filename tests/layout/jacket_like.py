"""Invented pieces about as large and as curved as those of a jacket and skirt, each at a drawn place in the repeat."""

from __future__ import annotations

import random

from settwright.geometry import Path, Point
from settwright.layout import LatticeState, Shape

Corners = tuple[Point, ...]


def line(*corners: tuple[float, float] | Corners) -> Corners:
    """Returns an outline from single corners and from curves."""
    points: list[Point] = []
    for corner in corners:
        points += corner if isinstance(corner[0], Point) else [Point(*corner)]  # type: ignore[list-item, arg-type]
    return tuple(points)


def curve(*handles: tuple[float, float]) -> Corners:
    """Returns a curve's points after its first."""
    a, b, c, d = (Point(*handle) for handle in handles)
    return Path.curve(a, b, c, d).points()[1:]


def mirrored(outline: Corners) -> Corners:
    return tuple(Point(-p.x, p.y) for p in reversed(outline))


def rectangle(width: float, height: float) -> Corners:
    return line((0, 0), (width, 0), (width, height), (0, height))


PAIRS: dict[str, Corners] = {
    "back": line(
        (0, 0),
        (230, 0),
        curve((230, 0), (215, 200), (190, 300), (215, 480)),
        curve((215, 480), (185, 520), (180, 600), (195, 690)),
        (75, 730),
        curve((75, 730), (50, 700), (20, 695), (0, 695)),
    ),
    "side": line(
        (0, 0),
        (150, 0),
        curve((150, 0), (120, 150), (110, 300), (140, 450)),
        curve((140, 450), (110, 420), (40, 430), (5, 500)),
    ),
    "front": line(
        (0, 0),
        curve((0, 0), (100, 10), (200, 20), (260, 60)),
        (290, 420),
        (370, 640),
        (250, 700),
        (240, 740),
        (110, 710),
        curve((110, 710), (120, 600), (90, 520), (20, 500)),
    ),
    "upper-sleeve": line(
        (20, 0),
        (200, 0),
        curve((200, 0), (230, 200), (260, 350), (270, 480)),
        curve((270, 480), (230, 560), (200, 660), (130, 670)),
        curve((130, 670), (60, 660), (30, 600), (0, 520)),
    ),
    "under-sleeve": line(
        (10, 0),
        (150, 0),
        curve((150, 0), (190, 200), (200, 350), (190, 500)),
        curve((190, 500), (150, 430), (60, 440), (10, 460)),
    ),
    "under-collar": line((0, 0), (150, -150), (260, -80), (60, 110)),
    "flap": rectangle(180, 80),
    "skirt-back": line((0, 0), (300, 0), (310, 300), curve((310, 300), (310, 500), (270, 650), (240, 720)), (0, 700)),
}
WHOLE: dict[str, Corners] = {
    "top-collar": line((-240, 0), (240, 0), (260, 110), (-260, 110)),
    "skirt-front": line((-280, 0), (280, 0), (300, 300), (230, 720), (-230, 720), (-300, 300)),
    "waistband": rectangle(840, 70),
}


def suit(repeat_x: float | None, repeat_y: float | None, seed: int = 5, *, may_turn: bool = False) -> tuple[Shape, ...]:
    """Returns 19 shapes: pairs and whole pieces."""
    chance = random.Random(seed)
    outlines = {f"{n}.{hand}": o if hand == "right" else mirrored(o) for n, o in PAIRS.items() for hand in HANDS}
    shapes: list[Shape] = []
    for name, outline in {**outlines, **WHOLE}.items():
        u = chance.uniform(0, repeat_x) if repeat_x else None
        v = chance.uniform(0, repeat_y) if repeat_y else None
        turned = LatticeState(-1, 1, u, v)
        shapes.append(Shape(name, outline, (LatticeState(1, 1, u, v), *((turned,) if may_turn else ()))))
    return tuple(shapes)


HANDS = ("right", "left")
