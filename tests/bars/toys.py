"""Made-up garments simple enough to check with a pencil: upright strips of cloth, joined at their sides."""

from __future__ import annotations

import math
from collections.abc import Callable
from functools import cache

from settwright.geometry import Path, Point
from settwright.makeup.model import CutPiece, Hand, JoinSide, MadeUp, SewnPair
from settwright.pattern import Cut, Edge, Notch, Piece


def strip(
    name: str,
    left: Callable[[float], float],
    right: Callable[[float], float],
    *,
    low: float = 0.0,
    high: float = 400.0,
    names: tuple[str, str] = ("left", "right"),
    cut: Cut = Cut.PAIR,
) -> Piece:
    """Returns a piece between two curves x(y), its left edge walked downwards; stops hem, waist, top."""

    def side(x: Callable[[float], float], down: bool) -> Path:
        levels = [low + (high - low) * k / 16 for k in range(17)]
        points = [Point(x(y), y) for y in levels]
        return Path.line(*(reversed(points) if down else points))

    a, b = side(left, True), side(right, False)
    edges = (
        Edge(names[0], a, "top", "hem"),
        Edge("hem", Path.line(a.end, b.start), "left", "right"),
        Edge(names[1], b, "hem", "top"),
        Edge("top", Path.line(b.end, a.start), "right", "left"),
    )
    notches = tuple(
        Notch("waist", edge.name, next(iter(edge.path.where_y((low + high) / 2)))) for edge in (edges[0], edges[2])
    )
    return Piece(name, name, cut, edges, notches)


def instances(piece: Piece, *, matched: bool = True) -> tuple[CutPiece, ...]:
    halves = (
        ((Hand.RIGHT, piece.on_grain()), (Hand.LEFT, piece.mirrored()))
        if piece.cut is Cut.PAIR
        else ((Hand.WHOLE, piece.on_grain()),)
    )
    return tuple(
        CutPiece(
            piece.name if hand is Hand.WHOLE else f"{piece.name}.{hand}",
            "toy",
            shape,
            hand,
            "shell",
            (),
            shape.outline.points(),
            shape.outline.points(),
            matched,
        )
        for hand, shape in halves
    )


def sewn(
    name: str, a: CutPiece, a_edge: str, b: CutPiece, b_edge: str, *, kind: str = "seam", across: bool = False
) -> SewnPair:
    """Returns two edges walked together from the stop `hem` upwards, ease spread evenly."""
    first, second = a.piece.edge(a_edge), b.piece.edge(b_edge)
    count = math.ceil(max(first.path.length, second.path.length) / 8 / 2) * 2
    pairs = tuple(
        (_from_hem(first, k / count), _from_hem(second, k / count)) for k in range(count + 1)
    )  # fmt: skip
    ease = second.path.length - first.path.length
    stops = (("hem", 0), ("waist", count // 2), ("top", count))
    return SewnPair(name, kind, JoinSide(a.name, a_edge), JoinSide(b.name, b_edge), pairs, stops, ease, across)


def _from_hem(edge: Edge, part: float) -> Point:
    return edge.path.at(edge.path.length * (part if edge.start == "hem" else 1 - part))


@cache
def jacket(hollow: float = 0.0, slope: float = 0.0, dart: float = 0.0) -> MadeUp:
    """Returns a toy jacket: back, side and front pairs with straight grain.

    `hollow`: how far the centre back comes in at the waist; `slope`: how far the side seams slant from hem to top on
    one side only; `dart`: by how much the front's side is cut longer above the waist.
    """

    def bend(y: float) -> float:
        return hollow * max(0.0, 1.0 - abs(y - 200.0) / 100.0)

    back = strip("back", bend, lambda y: 150.0 + slope * y / 400, names=("centre-back", "side-back"))
    side = strip("side", lambda _: -40.0, lambda _: 45.0, names=("side-back", "side-front"))
    front = strip("front", lambda y: -90.0 + slope * y / 400, lambda _: 110.0, names=("side-front", "centre-front"))
    cut = [*instances(back), *instances(side), *instances(front)]
    at = {piece.name: piece for piece in cut}
    joins = [sewn("centre-back", at["back.right"], "centre-back", at["back.left"], "centre-back", across=True)]
    for hand in ("right", "left"):
        joins.append(sewn(f"side-back.{hand}", at[f"back.{hand}"], "side-back", at[f"side.{hand}"], "side-back"))
        seam = sewn(f"side-front.{hand}", at[f"front.{hand}"], "side-front", at[f"side.{hand}"], "side-front")
        joins.append(_darted(seam, dart) if dart else seam)
    joins.append(
        sewn("closing", at["front.right"], "centre-front", at["front.left"], "centre-front", kind="lap", across=True)
    )
    return MadeUp((), tuple(cut), tuple(joins))


def _darted(seam: SewnPair, dart: float) -> SewnPair:
    middle, last = len(seam.pairs) // 2, len(seam.pairs) - 1
    pairs = tuple(
        (Point(a.x, a.y + dart * max(0, k - middle) / (last - middle)), b) for k, (a, b) in enumerate(seam.pairs)
    )
    return SewnPair(seam.name, seam.kind, seam.a, seam.b, pairs, seam.stops, seam.ease, seam.across)
