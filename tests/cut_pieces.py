"""A few invented pieces as they would be cut: straight, curved, whole and on the bias."""

from __future__ import annotations

import math
from dataclasses import replace

from settwright.bars.model import Orientation, Phase
from settwright.cloth.cloth import Bar, Cloth, Sequence
from settwright.geometry import Path, Point, fair_curve, hook_curve
from settwright.makeup.cutting import cutting_line, mirror_image, seam_polygon
from settwright.makeup.model import Allowance, CutPiece, Drawn, Hand, Stage
from settwright.pattern import Cut, Edge, Line, LineKind, Mark, Notch, Piece

SHELL = Cloth(
    name="shell",
    title="Loch plaid",
    colours=(("navy", "#1d2a4d"), ("green", "#2f5d43"), ("white", "#f2efe6")),
    warp=Sequence(
        (
            Bar("navy 1", "navy", 24.0),
            Bar("green 1", "green", 14.0),
            Bar("white 1", "white", 2.0),
            Bar("green 2", "green", 22.0),
            Bar("navy 2", "navy", 10.0),
        )
    ),
    weft=Sequence(
        (
            Bar("navy 1", "navy", 28.0),
            Bar("green 1", "green", 16.0),
            Bar("white 1", "white", 2.5),
            Bar("green 2", "green", 37.5),
        )
    ),
    width=1500.0,
    selvedge=12.0,
    thickness=0.6,
    dominant_warp="green 2",
    dominant_weft="navy 1",
)


def front() -> Piece:
    """Returns a jacket front's right half, origin at its grain mark."""
    p = Point
    side = fair_curve([p(-118, 180), p(-104, 0), p(-112, -120), p(-126, -240)])
    armhole = hook_curve(p(-86, 418), p(0.25, -1), p(-118, 180), p(-1, 0.06), (0.62, 0.42))
    lapel = fair_curve([p(112, 20), p(142, 140), p(150, 290)])
    edges = (
        Edge("side-front", side, "underarm-front", "hem"),
        Edge("hem", Path.line(p(-126, -240), p(112, -252)), "side-front", "front-corner"),
        Edge("front-edge", Path.line(p(112, -252), p(112, 20)), "hem", "break-point"),
        Edge("lapel", lapel, "break-point", "lapel-point"),
        Edge("lapel-top", Path.line(p(150, 290), p(108, 318)), "lapel-point", "notch"),
        Edge("gorge", fair_curve([p(108, 318), p(70, 360), p(42, 446)]), "notch", "neck-point"),
        Edge("shoulder", Path.line(p(42, 446), p(-86, 418)), "neck-point", "shoulder-point"),
        Edge("armhole", armhole, "shoulder-point", "underarm-front"),
    )
    return Piece(
        "front",
        "front",
        Cut.PAIR,
        edges,
        notches=(
            Notch("waist", "side-front", 180.8),
            Notch("hip", "side-front", 345.0),
            Notch("front-pitch", "armhole", 180.0),
        ),
        marks=(Mark("bust-point", p(-8, 170)), Mark("button-1", p(92, 16)), Mark("button-2", p(92, -84))),
        lines=(
            Line("centre-front", LineKind.CENTRE, Path.line(p(92, -251), p(92, 330))),
            Line("roll-line", LineKind.ROLL, Path.line(p(112, 20), p(48, 428))),
            Line("waist", LineKind.LEVEL, Path.line(p(-104, 0), p(112, 0))),
            Line("flap-place", LineKind.PLACE, Path.line(p(-90, -60), p(40, -70))),
            Line("dart-1", LineKind.DART, Path.line(p(-20, 140), p(-14, 0), p(-20, -60))),
            Line("dart-1-b", LineKind.DART, Path.line(p(-20, 140), p(-26, 0), p(-20, -60))),
        ),
    )


def under_collar() -> Piece:
    """Returns half an under collar, cut on the bias."""
    p = Point
    edges = (
        Edge("centre-back", Path.line(p(-95, -32), p(-95, 34)), "outer", "nape"),
        Edge("neck", fair_curve([p(-95, 34), p(-20, 26), p(84, 12)]).reversed().reversed(), "nape", "notch"),
        Edge("end", Path.line(p(84, 12), p(98, -34)), "notch", "collar-point"),
        Edge("outer", fair_curve([p(98, -34), p(0, -46), p(-95, -32)]), "collar-point", "centre-back"),
    )
    # drafted clockwise above; walked the other way it runs counter-clockwise like every right half
    turned = tuple(Edge(e.name, e.path.reversed(), e.end, e.start) for e in reversed(edges))
    return Piece("under-collar", "under collar", Cut.PAIR, turned, bias=math.pi / 4)


def waistband() -> Piece:
    """Returns a plain strip, cut once."""
    p = Point
    edges = (
        Edge("lower", Path.line(p(-190, -16), p(190, -16)), "left", "right"),
        Edge("right-end", Path.line(p(190, -16), p(190, 16)), "lower", "upper"),
        Edge("upper", Path.line(p(190, 16), p(-190, 16)), "right", "left"),
        Edge("left-end", Path.line(p(-190, 16), p(-190, -16)), "upper", "lower"),
    )
    return Piece("waistband", "waistband", Cut.WHOLE, edges)


def cut(piece: Piece, hand: Hand, width: float = 25.0) -> CutPiece:
    """Returns an instance of a piece with one allowance all round."""
    allowances = tuple(Allowance(edge.name, width, width - 10.0) for edge in piece.edges)
    seam, cutting = seam_polygon(piece), cutting_line(piece, allowances, Stage.BEFORE_FITTING)
    if hand is Hand.LEFT:
        piece, seam, cutting = piece.mirrored(), mirror_image(seam), mirror_image(cutting)
    return CutPiece(
        name=piece.name if hand is Hand.WHOLE else f"{piece.name}.{hand}",
        garment="jacket",
        piece=piece,
        hand=hand,
        cloth="shell",
        allowances=allowances,
        seam_line=seam,
        outline=Drawn(cutting),
        is_matched=True,
    )


def suit() -> tuple[CutPiece, ...]:
    """Returns both fronts, both under collars and a waistband."""
    return (
        cut(front(), Hand.RIGHT),
        cut(front(), Hand.LEFT),
        cut(under_collar(), Hand.RIGHT, 15.0),
        cut(under_collar(), Hand.LEFT, 15.0),
        cut(waistband(), Hand.WHOLE, 15.0),
    )


def phases(pieces: tuple[CutPiece, ...]) -> dict[str, Phase]:
    """Returns a place in the repeat for each piece, none of them round."""
    return {
        piece.name: Phase(piece.name, 7.3 + 11.1 * i, 3.9 + 17.7 * i, Orientation()) for i, piece in enumerate(pieces)
    }


def renamed(piece: CutPiece, name: str) -> CutPiece:
    """Returns the same piece under another name, to have many."""
    return replace(piece, name=name)
