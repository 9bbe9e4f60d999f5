"""The fly: finished and pressed as an opening first, the zip set into it last, by hand.

One front laps over the other, centre on centre. The upper front is faced; the under front is carried past the centre
by a placket folded double, and a shield lies behind both. Nothing waits for the zip: its tapes are pricked to the
placket's fold and to the facing when the opening already hangs shut.
"""

from __future__ import annotations

from dataclasses import dataclass

from settwright.commission.design import FlyLap, TrousersDesign
from settwright.geometry import Path, Point, Transform, hook_curve
from settwright.pattern.drafts.record import Recorder
from settwright.pattern.drafts.trousers_leg import parameter_where
from settwright.pattern.piece import Cut, Edge, Line, LineKind, Notch, Piece, Seam, Side

FACING_WIDTH = 42.0
STITCHING_WIDTH = 32.0
PLACKET_WIDTH = 18.0  # finished, beyond the centre front
SHIELD_TOP, SHIELD_FOOT = 52.0, 36.0
BELOW = 20.0  # facing and placket reach past the fly's end
SHIELD_BELOW = 35.0
BENT = 0.25  # a centre front that bends by so little still takes a zip as a straight one does


@dataclass(frozen=True)
class Fly:
    """The fly's pieces and seams, its length down from the waist, and its stitching line on the front."""

    length: float
    stitching: Path  # from the fly's end to the waist
    pieces: tuple[Piece, ...]
    seams: tuple[Seam, ...]


def draw_fly(r: Recorder, design: TrousersDesign, crotch: Path, waist: Path) -> Fly:
    """Returns the fly of a front, `crotch` from the fork up to the waist, `waist` from the centre outwards."""
    rule = f"from the waist to where the fork's curve has left it by {BENT} mm"
    r.found("straight of the centre front", "fly", rule, _straight(crotch))
    r.number("fly", "fly", "least of (zip length; straight of the centre front − 3 mm)")
    length = r["fly"]
    laps_right = design.fly_lap is FlyLap.RIGHT
    upper, under = ("right", "left") if laps_right else ("left", "right")
    pieces = (
        _facing(crotch, waist, length, is_mirrored=laps_right),
        _placket(length, is_mirrored=not laps_right),
        _shield(length),
    )
    _record(r, upper, under)
    front = Side("trousers-front", "crotch")
    stops = ("fly-end", "waist")
    return Fly(
        length=length,
        stitching=_inner_line(crotch, waist, length, STITCHING_WIDTH, crotch.length - length),
        pieces=pieces,
        seams=(
            Seam("fly-facing", front, Side("fly-facing", "fly"), stops, (0.0,), hand=upper),
            Seam("fly-placket", front, Side("fly-placket", "fly"), stops, (0.0,), hand=under),
            Seam("fly-shield", front, Side("fly-shield", "fly"), stops, (0.0,), hand=under),
        ),
    )


def _straight(crotch: Path) -> float:
    """Returns how far down from the waist the centre front is straight, as a zip takes it."""
    curve, line = crotch.segments
    up = crotch.end_tangent
    left = parameter_where(curve, lambda p: BENT - abs((p - line.a).cross(up)))
    return crotch.length - curve.length_to(left)


def _inner_line(crotch: Path, waist: Path, length: float, width: float, foot: float) -> Path:
    """Returns the line beside the centre front, from a place `foot` on the crotch round and up to the waist."""
    up = crotch.end_tangent
    top = waist.at(width)
    low = crotch.at(foot)
    turn = top - up * ((top - crotch.at(crotch.length - length)).dot(up) - 0.75 * width)
    rounded = hook_curve(low, up.left, turn, up, (0.5, 0.5))
    return rounded.then(Path.line(turn, top))


def _facing(crotch: Path, waist: Path, length: float, *, is_mirrored: bool) -> Piece:
    """Returns the facing as seen from its right side, which is turned to the body: it mirrors the front it faces."""
    foot = crotch.length - length - BELOW
    fly = crotch.part(foot, crotch.length)
    edges = (
        Edge("fly", fly, "lower", "waist"),
        Edge("waist", waist.part(0.0, FACING_WIDTH), "fly", "outer"),
        Edge("outer", _inner_line(crotch, waist, length, FACING_WIDTH, foot).reversed(), "waist", "lower"),
    )
    middle = fly.at(fly.length / 2) + fly.end_tangent.left * (FACING_WIDTH / 2)
    return _handed(
        Piece(
            name="fly-facing",
            title="Fly facing",
            cut=Cut.WHOLE,
            edges=edges,
            notches=(Notch("fly-end", "fly", BELOW),),
            grain_mark=middle,
            grain=fly.end_tangent.angle,
        ),
        is_mirrored,
    )


def _placket(length: float, *, is_mirrored: bool) -> Piece:
    """Returns the placket, cut double; sewn on along `fly`, folded, its other edge felled over that seam."""
    long, wide = length + BELOW, 2 * PLACKET_WIDTH
    return _handed(
        Piece(
            name="fly-placket",
            title="Fly placket",
            cut=Cut.WHOLE,
            edges=(
                Edge("fly", Path.line(Point(0.0, 0.0), Point(0.0, long)), "lower", "waist"),
                Edge("waist", Path.line(Point(0.0, long), Point(-wide, long)), "fly", "inner"),
                Edge("inner", Path.line(Point(-wide, long), Point(-wide, 0.0)), "waist", "lower"),
                Edge("lower", Path.line(Point(-wide, 0.0), Point(0.0, 0.0)), "inner", "fly"),
            ),
            notches=(Notch("fly-end", "fly", BELOW),),
            lines=(
                Line("fold", LineKind.FOLD, Path.line(Point(-wide / 2, 0.0), Point(-wide / 2, long)), "lower", "waist"),
            ),
            grain_mark=Point(-wide / 2, long / 2),
        ),
        is_mirrored,
    )


def _shield(length: float) -> Piece:
    """Returns the shield, cut double with its free edge a fold; both its halves are alike."""
    long = length + SHIELD_BELOW
    top, foot = (Point(SHIELD_TOP, long), Point(-SHIELD_TOP, long)), (Point(SHIELD_FOOT, 0.0), Point(-SHIELD_FOOT, 0.0))
    fly = Path.line(foot[0], top[0])
    return Piece(
        name="fly-shield",
        title="Fly shield",
        cut=Cut.WHOLE,
        edges=(
            Edge("fly", fly, "lower", "waist"),
            Edge("waist", Path.line(*top), "fly", "inner"),
            Edge("inner", Path.line(top[1], foot[1]), "waist", "lower"),
            Edge("lower", Path.line(foot[1], foot[0]), "inner", "fly"),
        ),
        notches=(Notch("fly-end", "fly", fly.length - length),),
        lines=(Line("fold", LineKind.FOLD, Path.line(Point(0.0, 0.0), Point(0.0, long)), "lower", "waist"),),
        grain_mark=Point(0.0, long / 2),
    )


def _handed(piece: Piece, is_mirrored: bool) -> Piece:
    return turned_over(piece) if is_mirrored else piece


def turned_over(piece: Piece) -> Piece:
    """Returns the piece mirrored, its edges still counter-clockwise: each runs the other way."""
    over = piece.moved(Transform.mirror_x())
    lengths = {edge.name: edge.path.length for edge in piece.edges}
    return Piece(
        name=piece.name,
        title=piece.title,
        cut=piece.cut,
        edges=tuple(Edge(e.name, e.path.reversed(), e.end, e.start) for e in reversed(over.edges)),
        notches=tuple(Notch(n.name, n.edge, lengths[n.edge] - n.at) for n in piece.notches),
        marks=over.marks,
        lines=over.lines,
        grain_mark=over.grain_mark,
        grain=over.grain,
    )


def _record(r: Recorder, upper: str, under: str) -> None:
    """Keeps the order in which the fly is made, each step with the length that it goes by."""
    length = r["fly"]
    for number, (name, rule, value) in enumerate(
        (
            (
                "stay the edges",
                f"baste a narrow linen tape along the centre front of both fronts, held in by 2 mm, from the waist to"
                f" {BELOW:g} mm below the fly's end; cut the thread of nothing yet",
                length + BELOW,
            ),
            (
                f"face the {upper} front",
                "sew the facing to the centre front from the waist to the fly's end, edges graded; turn it, roll the"
                " seam 1 mm to the inside, baste and press under a damp cloth",
                length,
            ),
            (
                f"carry the {under} front on",
                f"sew the placket to the centre front from the waist to below the fly's end; press it away from the"
                f" front, fold it double so that it stands {PLACKET_WIDTH:g} mm beyond the centre, fell its inner edge"
                " over the seam",
                length + BELOW,
            ),
            (
                "sew the crotch",
                "from the fly's end towards the fork as far as the seat will be fitted, the facing and the placket kept"
                " clear; fasten the fly's end with a bar through all but the facing",
                STITCHING_WIDTH,
            ),
            (
                "close the opening",
                f"lay the {upper} front over the {under} one, centre on centre; slip baste it shut and press: the"
                " opening is finished before there is a zip",
                length,
            ),
            (
                "finish the waist",
                "with band or ribbon, the fly still basted shut",
                r["finished waist"],
            ),
            (
                "set the zip by hand",
                "first tape: lay its teeth 3 mm beyond the placket's fold and prick it through from the front; second"
                " tape: with the fly lying shut, fasten it to the facing alone with two rows of back stitch",
                length,
            ),
            (
                "stitch the fly",
                f"open the basting and prick the fly through front and facing, {STITCHING_WIDTH:g} mm from the edge and"
                " round into the fly's end",
                STITCHING_WIDTH,
            ),
            (
                "hang the shield",
                "fold it double, fell it over the first tape to the placket's seam, its foot fastened to the crotch's"
                " turnings below the fly's end",
                length + SHIELD_BELOW,
            ),
        ),
        1,
    ):
        r.found(f"fly, {number}: {name}", "fly", rule, value)


__all__ = ["Fly", "draw_fly", "turned_over"]
