"""Every front and collar that the tests draw, on bodies of every kind; sleeves, which take longest, are left out."""

from __future__ import annotations

import itertools
import math
from dataclasses import replace
from functools import cache
from unittest.mock import patch

from shapely.geometry import Polygon

from settwright.body import Body
from settwright.body.estimate import complete
from settwright.commission.design import Closing, CollarStyle, FrontEdge, FrontStyle, JacketDesign, StandEnds
from settwright.geometry import Path, Point
from settwright.pattern import Draft, Piece
from settwright.pattern.drafts.jacket import draft_jacket
from tests.bodies import bodies

THICKNESS = 1.0
PLAIN = JacketDesign()
DOUBLE = Closing.DOUBLE
PEAKED = replace(PLAIN, front_style=FrontStyle.PEAKED, lapel_width=92.0, buttons=2)
SHAWL = replace(PLAIN, front_style=FrontStyle.SHAWL, buttons=1)
V_NECK = replace(PLAIN, front_style=FrontStyle.V_NECK)
ROUND = replace(PLAIN, front_style=FrontStyle.ROUND_NECK, buttons=5)
CROSSED = replace(PLAIN, front_style=FrontStyle.CROSSED, buttons=2)
STAND = replace(ROUND, collar_style=CollarStyle.STAND, buttons=6)

LAPELS = {
    "notched": PLAIN,
    "notched, double": replace(PLAIN, closing=DOUBLE),
    "peaked": PEAKED,
    "peaked, double": replace(PEAKED, closing=DOUBLE, lapel_width=98.0, buttons=3),
    "peaked, a fold": replace(PEAKED, front_edge=FrontEdge.EXTENDED),
    "peaked, edge to edge": replace(
        PEAKED, closing=Closing.EDGE_TO_EDGE, peak_angle=math.radians(40), peak_length=50.0
    ),
}
SHAWLS = {
    "shawl": SHAWL,
    "shawl, double": replace(SHAWL, closing=DOUBLE, buttons=2),
    "shawl, wide": replace(SHAWL, lapel_width=100.0, collar_fall=46.0, facing_split=60.0),
}
NECKS = {
    "V": V_NECK,
    "V, double": replace(V_NECK, closing=DOUBLE),
    "V, straight": replace(V_NECK, neck_edge_hollow=0.0, buttons=2),
    "round": ROUND,
    "round, double": replace(ROUND, closing=DOUBLE, buttons=4),
    "round, edge to edge": replace(ROUND, closing=Closing.EDGE_TO_EDGE, neck_drop=60.0),
    "crossed": CROSSED,
    "crossed, straight": replace(CROSSED, neck_edge_hollow=0.0),
    "crossed, rounded": replace(CROSSED, neck_edge_hollow=-14.0, front_hem_radius=60.0),
}
STANDS = {
    "stand": STAND,
    "stand, square": replace(STAND, stand_ends=StandEnds.SQUARE, stand_halves=True, closing=DOUBLE, buttons=5),
    "stand, edge to edge": replace(STAND, closing=Closing.EDGE_TO_EDGE, stand_height=55.0, stand_lean=math.radians(7)),
    "stand, plumb": replace(STAND, stand_lean=0.0),
}
STYLES = LAPELS | SHAWLS | NECKS | STANDS

SIZES = {
    "small": {"bust_girth": 820.0, "waist_girth": 640.0, "hip_girth": 890.0, "height": 1630.0},
    "middle": {"bust_girth": 920.0, "waist_girth": 740.0, "hip_girth": 980.0, "height": 1680.0},
    "large": {"bust_girth": 1120.0, "waist_girth": 950.0, "hip_girth": 1170.0, "height": 1680.0},
}
QUICK = ("small", "large", "survey 90", "survey 117")  # the survey's rows: a steep and a flat shoulder


@cache
def body_of(name: str) -> Body:
    """Returns a size by name, or a woman of the survey by her row: "survey 12"."""
    if name.startswith("survey "):
        return complete(bodies()[int(name.split()[1])])
    return complete(SIZES[name])


@cache
def drafted(body: str, style: str) -> Draft:
    """Returns the draft of a style by its name, without sleeves."""
    return drawn(body_of(body), STYLES[style])


def drawn(body: Body, design: JacketDesign, thickness: float = THICKNESS) -> Draft:
    """Returns a draft without sleeves."""
    with patch("settwright.pattern.drafts.jacket.with_sleeves", side_effect=lambda shell, *rest: shell):
        return draft_jacket(body, design, thickness)


def has(draft: Draft, name: str) -> bool:
    """Whether a draft has a piece of that name."""
    return any(piece.name == name for piece in draft.pieces)


def polygon(piece: Piece) -> Polygon:
    """Returns a piece's outline for shapely."""
    return Polygon([(p.x, p.y) for p in piece.outline.points()])


def turn_between(a: Point, b: Point) -> float:
    """Returns the angle from one direction to another in degrees, positive to the left."""
    return math.degrees(math.atan2(a.cross(b), a.dot(b)))


def interior(piece: Piece, first: str, second: str) -> float:
    """Returns the angle in degrees inside a piece at the corner where one edge ends and the next starts."""
    return 180 - turn_between(piece.edge(first).path.end_tangent, piece.edge(second).path.start_tangent)


def bends(path: Path, steps: int = 60, first: float = 0.0, last: float = 1.0) -> list[float]:
    """Returns the curvature at even steps along a part of a path."""
    return [path.curvature(path.length * (first + (last - first) * i / steps)) for i in range(steps + 1)]


def corners(path: Path) -> list[float]:
    """Returns by how many degrees a path turns between its segments."""
    return [turn_between(a.tangent(1.0), b.tangent(0.0)) for a, b in itertools.pairwise(path.segments)]
