"""The kimono sleeve: grown on to front and back, a seam over the arm and one under it, no armhole.

The seam over the arm goes on from the shoulder and falls by the lift: how far the arm is raised when the cloth lies
smooth. The less the lift, the closer the sleeve and the shorter the seam under the arm; then a gusset, let into a slit
on either side of it, gives the reach.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from settwright.body import Body
from settwright.commission.design import JacketDesign
from settwright.findings import Finding, Refusal, Weight
from settwright.geometry import Path, Point, Transform, hook_curve
from settwright.geometry.tolerances import WALK
from settwright.pattern.drafts.armhole import Armhole
from settwright.pattern.drafts.bending import root
from settwright.pattern.drafts.parts import Parts, joining
from settwright.pattern.drafts.record import Recorder
from settwright.pattern.drafts.sleeve_fit import darts_in_the_shoulder, known_of_the_arm, read_arm
from settwright.pattern.drafts.sleeve_lines import Arm
from settwright.pattern.piece import Cut, Edge, Line, LineKind, Mark, Notch, Piece

GUSSET_BELOW = math.radians(62)  # a sleeve of less lift gets a gusset
LEAST_LIFT, MOST_LIFT = math.radians(35), math.radians(85)
STEEPEST = math.radians(88)  # lift that the arm's width may ask for
UNLIKE = math.radians(28)  # by which the back's lift may differ from the front's
REACH = math.radians(105)  # to which an arm should rise
LEAST_DROP, MOST_DROP = 12.0, 80.0  # of the underarm below the body's
SLIT = 90.0
BACK_WIDER = 6.0  # the back's half of the sleeve than the mean, the front's narrower
ROUND_SHOULDER, ROUND_ARM = 35.0, 100.0  # over which the seam over the arm bends, before and behind the shoulder point
ROUND_PULL = (0.34, 0.4)  # its handles: near the shoulder point, and one way round
ROUND_UNDERARM = (70.0, 60.0)  # without a gusset: along the sleeve and along the side


@dataclass(frozen=True)
class Half:
    """What of front or back the sleeve grows from, the side to the left."""

    inner: Point  # where the seam over the arm begins: mostly the neck point
    shoulder: Point
    side: Path  # downwards, from the body's underarm
    room: float  # how far the underarm may drop down the side

    def underarm(self, drop: float) -> Point:
        """Returns the underarm, dropped."""
        return self.side.at(drop)


@dataclass(frozen=True)
class Grown:
    """The sleeve's lines on one half, the side to the left."""

    overarm: Path  # from the inner end to the hem
    shoulder: float  # where it passes the shoulder point
    hem: Path  # downwards
    underarm: Path  # from the hem to the side
    drop: float  # how much of the side is left out
    slit: Path | None  # from the underarm inwards


def with_kimono(shell: Parts, armhole: Armhole, body: Body, design: JacketDesign) -> Parts:
    """Returns the body's parts with the sleeve grown on to the two pieces that hold the armhole, and its gusset.

    Raises Refusal where the body's cut has no seam under the arm or a dart in its shoulder, or no sleeve of this arm
    can be grown.
    """
    if len(armhole.parts) != 2:
        raise Refusal([
            Finding(Weight.REFUSED, "jacket.body_cut", "a kimono sleeve grows on a body with one seam under the arm.",
                    "Choose a darted body or princess seams from the shoulder."),
        ])  # fmt: skip
    if not LEAST_LIFT <= design.sleeve_lift <= MOST_LIFT:
        raise Refusal([
            Finding(Weight.REFUSED, "jacket.sleeve_lift",
                    f"no kimono sleeve lies smooth at a lift of {math.degrees(design.sleeve_lift):.0f}°.",
                    "Choose 45° with a gusset, 65° or more without one."),
        ])  # fmt: skip
    names = (armhole.parts[0].piece, armhole.parts[-1].piece)
    front, back = shell.piece(names[0]), shell.piece(names[1])
    in_the_way = darts_in_the_shoulder(front, back)
    if in_the_way:
        raise Refusal(in_the_way)
    r = Recorder(known_of_the_arm(body, design))
    arm = read_arm(r, design)
    lines = grow(_half_of(front), _half_of(_turned_over(back)), arm, design.sleeve_lift, depth=armhole.depth, r=r)
    made = (_remade_front(front, lines[0]), _turned_over(_remade_front(_turned_over(back), lines[1])))
    gusset = _gusset(r) if lines[0].slit else None
    _record(r, lines)
    joinings = (
        *(j for j in shell.joinings if j.a.edge != "shoulder" or j.a.piece != names[0]),
        joining("overarm", (names[0], "overarm"), (names[1], "overarm"), _inner(front), "shoulder-point", "hem"),
        joining("sleeve-underarm", (names[0], "sleeve-underarm"), (names[1], "sleeve-underarm"), "hem", "underarm"),
        *(
            joining(f"gusset-{side}-{half}", (name, "gusset-slit"), ("gusset", f"{side}-{half}"), "underarm",
                    "slit-end")
            for side, name in zip(("front", "back"), names, strict=True)
            for half in ("sleeve", "body")
            if gusset
        ),
    )  # fmt: skip
    pieces = tuple(dict(zip(names, made, strict=True)).get(p.name, p) for p in shell.pieces)
    return replace(
        shell,
        pieces=(*pieces, *((gusset,) if gusset else ())),
        joinings=joinings,
        steps=(*shell.steps, *r.steps),
    )


def grow(front: Half, back: Half, arm: Arm, lift: float, *, depth: float, r: Recorder) -> tuple[Grown, Grown]:
    """Returns the sleeve's lines on front and back: as wide together as the arm asks, the seams under it equally long.

    The underarm drops as far as the width asks; where that is too far or too little, the lift gives way, and last the
    seam's rounding into the side. `depth` is the scye's. Raises Refusal where even that doesn't do.
    """
    room = most = min(front.room, back.room, MOST_DROP)
    has_gusset = lift < GUSSET_BELOW
    if not has_gusset:
        room, most = room - ROUND_UNDERARM[1], most - ROUND_UNDERARM[1] / 2

    def back_lift(lift: float, drop: float) -> float:
        """The back's lift with which its seam under the arm is as long as the front's."""
        wanted = _underarm(front, arm, lift, drop, wider=-BACK_WIDER, has_gusset=has_gusset)[0].length

        def miss(own: float) -> float:
            return _underarm(back, arm, own, drop, wider=BACK_WIDER, has_gusset=has_gusset)[0].length - wanted

        try:
            return root(miss, lift - UNLIKE, lift + UNLIKE, 1e-9)
        except ValueError:
            return lift

    def spare(lift: float, drop: float) -> float:
        own = back_lift(lift, drop)
        return _width(front, lift, drop) + _width(back, own, drop) - 2 * arm.biceps

    too_wide = spare(LEAST_LIFT, LEAST_DROP)
    if min(too_wide, spare(lift, LEAST_DROP)) > 0:
        ease = 2 * arm.biceps - arm.girth + 5 * math.ceil(too_wide / 5)
        raise Refusal([
            Finding(Weight.REFUSED, "design.ease.upper_arm",
                    f"so close to an arm of {arm.girth:.0f} mm no kimono sleeve grows on a scye {depth:.0f} mm deep.",
                    f"Give the upper arm {ease:.0f} mm of ease, or choose a set-in sleeve."),
        ])  # fmt: skip
    if spare(lift, LEAST_DROP) > 0:
        drop, lift = LEAST_DROP, root(lambda lift: spare(lift, LEAST_DROP), LEAST_LIFT, lift, 1e-9)
    elif spare(lift, room) >= 0:
        drop = root(lambda drop: spare(lift, drop), LEAST_DROP, room, 1e-7)
    elif spare(STEEPEST, room) >= 0:
        drop, lift = room, root(lambda lift: spare(lift, room), lift, STEEPEST, 1e-9)
    elif spare(STEEPEST, most) >= 0:
        drop, lift = root(lambda drop: spare(STEEPEST, drop), room, most, 1e-7), STEEPEST
    else:
        raise Refusal(
            [
                Finding(
                    Weight.REFUSED,
                    "measurements.upper_arm_girth",
                    f"no kimono sleeve for an arm of {arm.girth:.0f} mm grows on a scye {depth:.0f} mm deep.",
                    "Measure the upper arm again, or choose a set-in sleeve.",
                )
            ]
        )
    own = back_lift(lift, drop)
    lengths = [
        _underarm(half, arm, angle, drop, wider=wider, has_gusset=has_gusset)[0].length
        for half, angle, wider in ((front, lift, -BACK_WIDER), (back, own, BACK_WIDER))
    ]
    if abs(lengths[0] - lengths[1]) > WALK:
        raise Refusal([
            Finding(Weight.REFUSED, "design.sleeve_cut",
                    "front and back are too unlike under the arm for the seams of a kimono sleeve to be of one length.",
                    "Choose a set-in sleeve, or try a darted body."),
        ])  # fmt: skip
    r.found("lift angle", "sleeve", "as chosen, or as much as the arm's width asks", lift)
    r.found("back's lift angle", "sleeve", "until both seams under the arm are as long", own)
    r.found("drop of the underarm", "sleeve", "down the side, as far as the arm's width asks", drop)
    r.found("width under the arm", "sleeve", "front and back, square to the arm", spare(lift, drop) + 2 * arm.biceps)
    r.found("length that the arm lacks to rise", "gusset", "scye depth for each radian from the lift to 105°, a half",
            max(0.0, REACH - lift) * depth / 2)  # fmt: skip
    return (
        _grown(front, arm, lift, drop, wider=-BACK_WIDER, has_gusset=has_gusset),
        _grown(back, arm, own, drop, wider=BACK_WIDER, has_gusset=has_gusset),
    )


def _way(lift: float) -> Point:
    """Returns the arm's direction, the side to the left."""
    return Point(-math.sin(lift), -math.cos(lift))


def _width(half: Half, lift: float, drop: float) -> float:
    """Returns how far the dropped underarm lies from the seam over the arm."""
    return (half.underarm(drop) - half.shoulder).dot(_way(lift).left)


def _foot(half: Half, arm: Arm, lift: float, wider: float) -> tuple[Point, Point]:
    """Returns both ends of the hem, upper first."""
    along = _way(lift)
    wrist = half.shoulder + along * arm.length
    return wrist, wrist + along.left * (arm.hem + wider)


def _underarm(half: Half, arm: Arm, lift: float, drop: float, *, wider: float, has_gusset: bool) -> tuple[Path, float]:
    """Returns the seam under the arm, from the hem, and where it comes to the side."""
    heel, corner = _foot(half, arm, lift, wider)[1], half.underarm(drop)
    if has_gusset:
        return Path.line(heel, corner), drop
    sleeve, side = ROUND_UNDERARM
    at = drop + max(20.0, min(side, half.room - drop))
    begin, foot = corner.towards(heel, sleeve), half.side.at(at)
    along, down = (corner - begin).unit, half.side.tangent(at)
    pull = (foot - corner).length
    curve = Path.curve(begin, begin + along * (0.5 * sleeve), foot - down * (0.5 * pull), foot)
    return Path.line(heel, begin).then(curve), at


def _grown(half: Half, arm: Arm, lift: float, drop: float, *, wider: float, has_gusset: bool) -> Grown:
    along = _way(lift)
    wrist, heel = _foot(half, arm, lift, wider)
    inwards = (half.shoulder - half.inner).unit
    before = min(ROUND_SHOULDER, 0.5 * (half.shoulder - half.inner).length)
    start, end = half.shoulder - inwards * before, half.shoulder + along * ROUND_ARM
    rounded = Path.line(half.inner, start).then(hook_curve(start, inwards, end, along, ROUND_PULL))
    overarm = rounded.then(Path.line(end, wrist))
    underarm, at = _underarm(half, arm, lift, drop, wider=wider, has_gusset=has_gusset)
    hem = hook_curve(wrist, along.left, heel, underarm.start_tangent.right)
    if not has_gusset:
        return Grown(overarm, rounded.nearest(half.shoulder), hem, underarm, at, None)
    corner = underarm.end
    inward = (underarm.end_tangent - half.side.tangent(at)).unit
    return Grown(overarm, rounded.nearest(half.shoulder), hem, underarm, at, Path.line(corner, corner + inward * SLIT))


def _half_of(piece: Piece) -> Half:
    """Returns what of a front, or of a back turned over, the sleeve grows from."""
    shoulder = next(edge for edge in piece.edges if edge.end == "shoulder-point")
    side = piece.edge("side").path
    first = min((n.at for n in piece.notches if n.edge == "side" and n.name != "bust"), default=side.length)
    return Half(shoulder.path.start, shoulder.path.end, side, first - LEAST_DROP)


def _inner(piece: Piece) -> str:
    return next(edge.start for edge in piece.edges if edge.end == "shoulder-point")


def _turned_over(piece: Piece) -> Piece:
    """Returns a piece mirrored, its edges walked the other way: a back as if it were a front."""
    over = Transform.mirror_x()
    edges = tuple(Edge(e.name, e.path.moved(over).reversed(), e.end, e.start) for e in reversed(piece.edges))
    lengths = {edge.name: edge.path.length for edge in edges}
    moved = piece.moved(over)
    return replace(
        moved,
        edges=edges,
        notches=tuple(replace(n, at=lengths[n.edge] - n.at) if n.edge in lengths else n for n in piece.notches),
    )


def _remade_front(piece: Piece, grown: Grown) -> Piece:
    """Returns a front with the sleeve grown on in place of shoulder and armhole."""
    side = piece.edge("side")
    new = {
        "armhole": (
            Edge("sleeve-hem", grown.hem, "overarm", "underarm"),
            Edge("sleeve-underarm", grown.underarm, "hem", "underarm"),
        ),
        "side": (Edge("side", side.path.part(grown.drop, side.path.length), "underarm", side.end),),
    }
    edges: list[Edge] = []
    for edge in piece.edges:
        if edge.end == "shoulder-point":
            edges.append(Edge("overarm", grown.overarm, edge.start, "hem"))
        else:
            edges += new.get(edge.name, (edge,))
    gone = {"armhole", next(edge.name for edge in piece.edges if edge.end == "shoulder-point")}
    slit = grown.slit
    return replace(
        piece,
        edges=tuple(edges),
        notches=(
            *(
                replace(n, at=n.at - grown.drop) if n.edge == "side" else n
                for n in piece.notches
                if n.edge not in gone and (n.edge != "side" or n.at > grown.drop)
            ),
            Notch("shoulder-point", "overarm", grown.shoulder),
        ),
        marks=(*piece.marks, *((Mark("slit-end", slit.end),) if slit else ())),
        lines=(
            *piece.lines,
            *((Line("gusset-slit", LineKind.PLACE, slit, "underarm", "slit-end"),) if slit else ()),
        ),
    )


def _gusset(r: Recorder) -> Piece:
    """Returns the gusset: a rhombus as long in its sides as the slits, as wide as the arm lacks to rise."""
    width = r.number("width of the gusset", "gusset", "least of (130 mm; most of (60 mm; length that the arm lacks to"
                     " rise))")  # fmt: skip
    r.found("side of the gusset", "gusset", "the slit's length", SLIT)
    half = math.sqrt(SLIT * SLIT - width * width / 4)
    sleeve, body = Point(0.0, width / 2), Point(0.0, -width / 2)
    back, front = Point(-half, 0.0), Point(half, 0.0)
    return Piece(
        name="gusset",
        title="Gusset",
        cut=Cut.PAIR,
        edges=(
            Edge("back-sleeve", Path.line(sleeve, back), "underarm", "slit-end"),
            Edge("back-body", Path.line(back, body), "slit-end", "underarm"),
            Edge("front-body", Path.line(body, front), "underarm", "slit-end"),
            Edge("front-sleeve", Path.line(front, sleeve), "slit-end", "underarm"),
        ),
    )


def _record(r: Recorder, lines: tuple[Grown, Grown]) -> None:
    for of, grown in zip(("front", "back"), lines, strict=True):
        r.drawn("seam over the arm", of, "the shoulder, bent on to the lifted arm, to the hem", grown.overarm)
        r.drawn("seam under the arm", of, "from the hem to the dropped underarm", grown.underarm)
        if grown.slit:
            r.drawn("slit for the gusset", of, "halves the corner between sleeve and side", grown.slit)
