"""Invented pieces, simple enough to check by hand, and how far a cutting line keeps off its seam line."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from shapely import LinearRing, LineString, Polygon
from shapely import Point as ShapelyPoint

from settwright.geometry import Path, Point, hook_curve
from settwright.makeup import Allowance, Stage
from settwright.pattern import Cut, Draft, Edge, Line, LineKind, Meeting, Notch, Piece, Seam, Side, Touch


def straight_piece(name: str, corners: Sequence[tuple[str, str, float, float]], cut: Cut = Cut.PAIR) -> Piece:
    """Returns a piece of straight edges: each edge's name, the name of the corner it starts from, and that corner."""
    edges: list[Edge] = []
    for (edge, start, x, y), (_, end, to_x, to_y) in zip(corners, (*corners[1:], corners[0]), strict=True):
        edges.append(Edge(edge, Path.line(Point(x, y), Point(to_x, to_y)), start, end))
    return Piece(name, name, cut, tuple(edges))


def panel() -> Piece:
    """Returns a curved side panel: hollow seams, a round hem, a hollow armhole."""
    p = Point
    return Piece(
        "side",
        "side",
        Cut.PAIR,
        (
            Edge("side-back", hook_curve(p(-70, 250), p(0.3, -1), p(-90, -250), p(-0.2, -1)), "underarm-back", "hem"),
            Edge("hem", hook_curve(p(-90, -250), p(1, -0.15), p(110, -245), p(1, 0.2)), "side-back", "side-front"),
            Edge("side-front", hook_curve(p(110, -245), p(-0.1, 1), p(60, 230), p(0.1, 1)), "hem", "underarm-front"),
            Edge(
                "armhole",
                hook_curve(p(60, 230), p(-0.5, -1), p(-70, 250), p(-0.4, 1), (0.5, 0.5)),
                "underarm-front",
                "underarm-back",
            ),
        ),
        notches=(Notch("waist", "side-back", 240.0), Notch("waist", "side-front", 240.0)),
    )


FRONT = (
    ("side-front", "underarm-front", -150.0, 180.0),
    ("hem", "side-front", -150.0, -300.0),
    ("front-edge", "hem", 80.0, -310.0),
    ("lapel", "break-point", 80.0, 0.0),
    ("lapel-top", "lapel-point", 80.0, 250.0),
    ("gorge", "notch", 50.0, 265.0),
    ("shoulder", "neck-point", 20.0, 330.0),
    ("armhole", "shoulder-point", -100.0, 300.0),
)
FACING = (
    ("lapel", "lapel-point", 10.0, 260.0),
    ("front-edge", "break-point", 10.0, 10.0),
    ("hem", "hem", 10.0, -300.0),
    ("inner", "inner-hem", 90.0, -297.0),
    ("shoulder", "inner-shoulder", 100.0, 330.0),
    ("gorge", "neck-point", 70.0, 337.0),
    ("lapel-top", "notch", 40.0, 275.0),
)


def jacket() -> Draft:
    """Returns fronts and backs, a facing and half a top collar, with one join of each sort."""
    front = straight_piece("front", FRONT)
    hem = front.edge("hem").path.length
    front = Piece(
        front.name,
        front.title,
        front.cut,
        front.edges,
        notches=(Notch("hang-end", "hem", 90.0), Notch("centre-front", "hem", hem - 20.0)),
        lines=(Line("centre-front", LineKind.CENTRE, Path.line(Point(60, -309), Point(60, 240)), "hem", "gorge"),),
    )
    back = straight_piece(
        "back",
        (
            ("centre-back", "nape", -90.0, 320.0),
            ("hem", "hem", -90.0, -300.0),
            ("side-back", "side-back", 90.0, -300.0),
            ("armhole", "underarm-back", 80.0, 180.0),
            ("shoulder", "shoulder-point", 60.0, 290.0),
            ("neck", "neck-point", -60.0, 322.0),
        ),
    )
    back = Piece(
        back.name,
        back.title,
        back.cut,
        back.edges,
        notches=(Notch("centre-back", "hem", 0.0), Notch("hang-end", "hem", 100.0)),
    )
    collar = straight_piece(
        "top-collar",
        (
            ("centre-back", "nape", 0.0, 40.0),
            ("outer", "outer", 0.0, -40.0),
            ("end", "collar-point", 140.0, -30.0),
            ("neck", "notch", 120.0, 30.0),
        ),
        Cut.WHOLE,
    )
    collar = replace(collar, notches=(Notch("neck-point", "neck", 68.0),))
    facing = straight_piece("front-facing", FACING)
    return Draft(
        "jacket",
        (front, back, facing, collar),
        (
            Seam(
                "centre-back", Side("back", "centre-back"), Side("back", "centre-back"), ("nape", "hem"), (0.0,), True
            ),
            Seam(
                "shoulder",
                Side("front", "shoulder"),
                Side("back", "shoulder"),
                ("shoulder-point", "neck-point"),
                (0.0,),
            ),
            Seam(
                "facing-front-edge",
                Side("front", "front-edge"),
                Side("front-facing", "front-edge"),
                ("hem", "break-point"),
                (0.0,),
            ),
            Seam(
                "facing-lapel",
                Side("front", "lapel"),
                Side("front-facing", "lapel"),
                ("break-point", "lapel-point"),
                (0.0,),
            ),
            Seam(
                "facing-lapel-top",
                Side("front", "lapel-top"),
                Side("front-facing", "lapel-top"),
                ("lapel-point", "notch"),
                (0.0,),
            ),
            Seam(
                "facing-gorge",
                Side("front-facing", "gorge"),
                Side("top-collar", "neck"),
                ("notch", "neck-point"),
                (0.0,),
            ),
        ),
        (
            Touch(
                "closing",
                Meeting.LAP,
                Side("front", "centre-front"),
                Side("front", "centre-front"),
                ("hem", "gorge"),
                True,
            ),
        ),
    )


def skirt() -> Draft:
    """Returns a skirt whose jacket-hem lines are where the jacket ends."""
    front = straight_piece(
        "skirt-front",
        (
            ("centre-front", "hem", 0.0, -600.0),
            ("waist", "waist", 0.0, 0.0),
            ("side", "side-waist", -170.0, 5.0),
            ("hem", "side-hem", -220.0, -600.0),
        ),
        Cut.WHOLE,
    )
    front = Piece(
        front.name,
        front.title,
        front.cut,
        front.edges,
        lines=(
            Line(
                "jacket-hem", LineKind.PLACE, Path.line(Point(0, -240), Point(-130, -238)), "centre-front", "hang-end"
            ),
        ),
    )
    back = straight_piece(
        "skirt-back",
        (
            ("centre-back", "waist", 0.0, 0.0),
            ("hem", "hem", 0.0, -600.0),
            ("side", "side-hem", 220.0, -600.0),
            ("waist", "side-waist", 170.0, 5.0),
        ),
    )
    back = Piece(
        back.name,
        back.title,
        back.cut,
        back.edges,
        notches=(Notch("zip-end", "centre-back", 180.0), Notch("vent-top", "centre-back", 420.0)),
        lines=(
            Line("jacket-hem", LineKind.PLACE, Path.line(Point(0, -240), Point(110, -239)), "centre-back", "hang-end"),
        ),
    )
    return Draft("skirt", (front, back), ())


def falls_short(piece: Piece, allowances: Sequence[Allowance], stage: Stage, outline: Sequence[Point]) -> float:
    """Returns by how much the cutting line comes nearer to the seam line than it may, at the worst place.

    A place on an edge needs that edge's own width, but no more than a narrower neighbour's within that reach.
    """
    ring = LinearRing([(p.x, p.y) for p in outline])
    stretches: list[tuple[float, LineString]] = []
    for allowance in allowances:
        edge = piece.edge(allowance.edge)
        first, last = allowance.stretch or (edge.start, edge.end)
        path = edge.path.part(*sorted((piece.stop(edge.name, first), piece.stop(edge.name, last))))
        stretches.append((allowance.width(stage), LineString([(p.x, p.y) for p in path.points()])))
    worst = 0.0
    for width, line in stretches:
        for step in range(41):
            place = line.interpolate(step / 40, normalized=True)
            needed = min([width, *(other for other, of in stretches if of.distance(place) < width)])
            worst = max(worst, needed - ring.distance(place))
    return worst


def polygon(points: Sequence[Point]) -> Polygon:
    """Returns the points as a shapely polygon."""
    return Polygon([(p.x, p.y) for p in points])


def shapely_point(p: Point) -> ShapelyPoint:
    """Returns the point as shapely's."""
    return ShapelyPoint(p.x, p.y)
