"""The raglan sleeve: the shoulders of front and back, cut off from the neck to the armhole, stand on the sleeve's cap.

The sleeve is the one-piece sleeve with little ease, spread out flat. On body and sleeve alike the raglan's seam runs on
smoothly into the armhole's bottom: so the shoulder's part is turned about the point where the two seams meet until both
lines have one direction there. What stands open between the two shoulders is the seam over the arm, which rounds the
sleeve in two halves.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, replace

from settwright.body import Body
from settwright.commission.design import FrontStyle, JacketDesign
from settwright.findings import Finding, Refusal, Weight
from settwright.geometry import Path, Point, Transform, crossing, fair_curve, hook_curve
from settwright.pattern.drafts.armhole import Armhole
from settwright.pattern.drafts.bending import root
from settwright.pattern.drafts.one_piece import EASE, EASED, Flat, Halved, around, settings, spread_out
from settwright.pattern.drafts.parts import Joining, Parts, joining
from settwright.pattern.drafts.record import Recorder
from settwright.pattern.drafts.sleeve_fit import (
    Setting,
    Stretch,
    darts_in_the_shoulder,
    fit,
    known_of_the_arm,
    read_arm,
    record_fit,
    spread,
)
from settwright.pattern.piece import Cut, Edge, Line, LineKind, Notch, Piece, Side

ASIDE = 12.0  # of the seam over the arm a shoulder point should stand, on its own half
STATIONS = 9  # at which places for the raglan's line are tried along each half of the armhole
BEFORE = 32.0  # of the shoulder point the seam over the arm leaves the shoulder's straight line
FULL = (0.36, 0.5)  # how far at most the handles of that round reach, as parts of its chord
ROUND = 130.0  # below the crown, over which the seam over the arm comes down to the arm
CLEAR = 12.0  # of a dart's mouth on the neck
BOW = 0.3  # handles of the raglan's line as a part of its chord


@dataclass(frozen=True)
class Cutting:
    """A body piece cut along the raglan's line, and what is cut off."""

    remainder: Piece
    neck: Path  # from the raglan's line to the neck point, on the part cut off
    raglan: Path  # from the neck to the armhole
    shoulder: Path  # from the neck point to the shoulder point
    at: float  # arc length on the whole armhole where the line meets it


def with_raglan(jacket: Parts, armhole: Armhole, body: Body, design: JacketDesign) -> Parts:
    """Returns the jacket, its collar on, with a raglan sleeve: front, back, neck seams and shoulder are remade.

    `armhole` lies in the front's frame. Raises Refusal where body, cut and sleeve don't go together.
    """
    _check(jacket, armhole, design)
    r = Recorder(known_of_the_arm(body, design))
    fitted = fit(armhole, read_arm(r, design), spread(r, armhole))
    flat = spread_out(fitted, 0.0)
    on_front, on_back = settings(flat, fitted)
    at_front, at_back, crown = _places(armhole, on_front, on_back, flat)
    front = _cut_front(jacket.piece("front"), armhole, at_front, design.raglan_reach)
    back = _cut_back(jacket.piece("back"), armhole, at_back, design.raglan_reach)
    hole = _shortened(armhole, front.at, back.at)
    halves = (_front_half(flat, crown, armhole, on_front, front), _back_half(flat, crown, armhole, on_back, back))
    pieces = tuple({"front": front.remainder, "back": back.remainder}.get(p.name, p) for p in jacket.pieces)
    cut = replace(jacket, pieces=(*pieces, *halves))
    cut = _neck_again(cut, "front", front, "front-sleeve")
    cut = _neck_again(cut, "back", back, "back-sleeve")
    record_fit(r, fitted)
    _record(r, halves)
    return replace(
        cut,
        joinings=(
            *(j for j in cut.joinings if j.name != "shoulder"),
            joining("raglan-front", ("front", "raglan"), ("front-sleeve", "raglan"), "neck", "armhole"),
            joining("raglan-back", ("back", "raglan"), ("back-sleeve", "raglan"), "neck", "armhole"),
            joining("overarm", ("front-sleeve", "overarm"), ("back-sleeve", "overarm"), "neck-point", "shoulder-point",
                    "upper-arm", "hem"),
            joining("sleeve-underarm", ("front-sleeve", "underarm"), ("back-sleeve", "underarm"), "underarm",
                    "ease-top", "ease-end", "hem"),
        ),
        seams=(
            *cut.seams,
            *around(
                _setting(on_front, hole, "front-sleeve", front.at, first=True),
                _setting(on_back, hole, "back-sleeve", back.at, first=False),
                hole,
            ),
        ),
        steps=(*cut.steps, *r.steps),
    )  # fmt: skip


def _check(jacket: Parts, armhole: Armhole, design: JacketDesign) -> None:
    wrong: list[Finding] = []
    if design.front_style is FrontStyle.SHAWL:
        wrong.append(
            Finding(
                Weight.REFUSED,
                "jacket.front_style",
                "a raglan's line would cut off the shawl collar, which grows from the front's neck.",
                "Choose a lapel with a collar sewn on, or a set-in sleeve.",
            )
        )
    ends = (armhole.parts[0], armhole.parts[-1])
    if ends[0].piece != "front" or ends[1].piece != "back" or armhole.stop(ends[0].last) < armhole.stop("front-pitch"):
        wrong.append(
            Finding(
                Weight.REFUSED,
                "jacket.body_cut",
                "a raglan's line would cross the seams of this body.",
                "Choose a darted body or side panels.",
            )
        )
    wrong += darts_in_the_shoulder(jacket.piece("front"), jacket.piece("back"))
    if not 15 <= design.raglan_reach <= 70:
        wrong.append(
            Finding(
                Weight.REFUSED,
                "jacket.raglan_reach",
                f"a raglan's seam {design.raglan_reach:.0f} mm from the neck point runs into shoulder or lapel.",
                "Choose 25 to 45 mm.",
            )
        )
    if wrong:
        raise Refusal(wrong)


def _turned(armhole: Armhole, setting: Setting, flat: Flat, at: float, is_front: bool) -> Transform:
    """Returns how the shoulder's part is laid on the flat sleeve, the seams meeting at a place on the armhole."""
    cap = flat.front_cap if is_front else flat.back_cap
    place = setting.place(at)
    along = cap.tangent(place) if is_front else -cap.tangent(place)  # towards the shoulder
    upwards = -armhole.path.tangent(at) if is_front else armhole.path.tangent(at)
    turn = Transform.turn(math.atan2(upwards.cross(along), upwards.dot(along)), armhole.path.at(at))
    move = cap.at(place) - armhole.path.at(at)
    return turn.then(Transform.shift(move.x, move.y))


@dataclass(frozen=True)
class Stand:
    """Where the raglan's line meets the armhole, and where that puts the shoulder point on the flat sleeve."""

    at: float  # arc length on the armhole
    level: float  # of the shoulder point above the crown, along the arm
    aside: float  # of the crown, on its own half


def _places(armhole: Armhole, on_front: Setting, on_back: Setting, flat: Flat) -> tuple[float, float, Point]:
    """Returns where the raglan's lines meet the armhole, and from where the seam over the arm runs down to the hem.

    Both shoulder points stand on one level, so that their seams are as long, and apart by what rounds the shoulder, or
    as far as the armhole lets them. The seam runs down from between them.
    """
    across = (_foot(flat) - flat.shoulder).unit.left

    def stand(at: float, is_front: bool) -> Stand:
        setting, shoulder = (on_front, armhole.path.start) if is_front else (on_back, armhole.path.end)
        there = _turned(armhole, setting, flat, at, is_front)(shoulder) - flat.shoulder
        return Stand(at, there.dot(across.left), there.dot(across) * (1 if is_front else -1))

    pitch, back_pitch = armhole.stop("front-pitch"), armhole.stop("back-pitch")
    lowest = armhole.stop("hindarm-top") - 0.3 * armhole.between("underarm", "hindarm-top")
    highest = back_pitch + 0.2 * (armhole.girth - back_pitch)
    front = _rising(lambda at: stand(at, True), 0.97 * pitch, 0.55 * pitch)
    back = _rising(lambda at: stand(at, False), lowest, highest)
    low, high = max(front[0].level, back[0].level), min(front[-1].level, back[-1].level)

    def missing(level: float) -> float:
        return 2 * ASIDE - _aside(front, level) - _aside(back, level)

    level = high if missing(high) >= 0 else root(missing, low, high, 0.01)
    ends = [
        stand(_reached(lambda at, side=side: stand(at, side).level - level, *_beside(stands, level)), side)
        for stands, side in ((front, True), (back, False))
    ]
    return ends[0].at, ends[1].at, flat.shoulder + across * ((ends[0].aside - ends[1].aside) / 2)


def _rising(stand: Callable[[float], Stand], first: float, last: float) -> list[Stand]:
    """Returns where the shoulder point stands for places on the armhole, the first ones on, as long as it rises."""
    found = [stand(first)]
    for i in range(1, STATIONS + 1):
        found.append(stand(first + (last - first) * i / STATIONS))
        if found[-1].level <= found[-2].level:
            return found[:-1]
    return found


def _beside(stands: list[Stand], level: float) -> tuple[Stand, Stand]:
    """Returns the two places between which the shoulder point comes to a level."""
    above = next((i for i, each in enumerate(stands) if i and each.level >= level), len(stands) - 1)
    return stands[above - 1], stands[above]


def _aside(stands: list[Stand], level: float) -> float:
    """Returns how far aside the shoulder point stands on a level, between the places told."""
    a, b = _beside(stands, level)
    return a.aside + (b.aside - a.aside) * (level - a.level) / (b.level - a.level)


def _reached(miss: Callable[[float], float], before: Stand, after: Stand) -> float:
    """Returns the place where nothing is missed, or the last one."""
    return after.at if miss(after.at) <= 0 else root(miss, before.at, after.at, 0.01)


def _raglan_line(neck: Point, leaving: Point, armhole: Point, arriving: Point) -> Path:
    return hook_curve(neck, leaving, armhole, arriving, (BOW, BOW))


def _cut_front(piece: Piece, armhole: Armhole, at: float, reach: float) -> Cutting:
    own = piece.edge("armhole").path
    names = [edge.name for edge in piece.edges]
    neck = piece.edges[names.index("shoulder") - 1]
    mouths = [notch.at for notch in piece.notches if notch.edge == neck.name]
    corner = max(neck.path.length - reach, *(at + CLEAR for at in mouths), 0.0)
    point, arriving = own.at(at), own.tangent(at)
    start = neck.path.at(corner)
    leaving = _leaving(start, point, arriving)
    raglan = _raglan_line(start, leaving, point, arriving)
    remainder = _remade(
        piece,
        {
            neck.name: (Edge(neck.name, neck.path.part(0.0, corner), neck.start, "raglan-front"),),
            "shoulder": (Edge("raglan", raglan, "neck", "armhole"),),
            "armhole": (Edge("armhole", own.part(at, own.length), "raglan-pitch-front", piece.edge("armhole").end),),
        },
        lambda notch: replace(notch, at=notch.at - at) if notch.edge == "armhole" else notch,
    )
    whole = armhole.path.part(0.0, armhole.stop(armhole.parts[0].last))
    laid = _laid_on(own, whole)
    return Cutting(
        remainder,
        neck.path.part(corner, neck.path.length).moved(laid),
        raglan.moved(laid),
        piece.edge("shoulder").path.moved(laid),
        at,
    )


def _cut_back(piece: Piece, armhole: Armhole, at: float, reach: float) -> Cutting:
    own, neck = piece.edge("armhole"), piece.edge("neck")
    kept = at - (armhole.girth - own.path.length)
    point, arriving = own.path.at(kept), -own.path.tangent(kept)
    start = neck.path.at(reach)
    raglan = _raglan_line(start, _leaving(start, point, arriving), point, arriving)
    remainder = _remade(
        piece,
        {
            "armhole": (Edge("armhole", own.path.part(0.0, kept), own.start, "raglan-pitch-back"),),
            "shoulder": (Edge("raglan", raglan.reversed(), "armhole", "neck"),),
            "neck": (Edge("neck", neck.path.part(reach, neck.path.length), "raglan-back", neck.end),),
        },
        lambda notch: replace(notch, at=notch.at - reach) if notch.edge == "neck" else notch,
    )
    laid = _laid_on(own.path, armhole.path.part(armhole.stop(armhole.parts[-1].first), armhole.girth))
    return Cutting(
        remainder,
        neck.path.part(0.0, reach).reversed().moved(laid),
        raglan.moved(laid),
        piece.edge("shoulder").path.reversed().moved(laid),
        at,
    )


def _laid_on(own: Path, whole: Path) -> Transform:
    """Returns how a piece is laid so that its armhole lies on its stretch of the whole (a dart may have turned it)."""
    mine, there = own.end - own.start, whole.end - whole.start
    turn = Transform.turn(math.atan2(mine.cross(there), mine.dot(there)), own.start)
    return turn.then(Transform.shift(whole.start.x - own.start.x, whole.start.y - own.start.y))


def _leaving(start: Point, point: Point, arriving: Point) -> Point:
    """Returns the direction in which the raglan's line leaves the neck: so that it is bowed evenly, never hollow."""
    chord = (point - start).unit
    turn = math.atan2(chord.cross(arriving), chord.dot(arriving))
    return chord.rotated(-0.5 * max(-0.5, min(0.5, turn)))


def _remade(piece: Piece, edges: dict[str, tuple[Edge, ...]], shifted: Callable[[Notch], Notch]) -> Piece:
    """Returns a piece with some edges replaced; its notches are kept where they still lie on an edge."""
    drawn = tuple(new for edge in piece.edges for new in edges.get(edge.name, (edge,)))
    lengths = {edge.name: edge.path.length for edge in drawn}
    notches = (shifted(notch) for notch in piece.notches)
    known = {line.name for line in piece.lines}
    return replace(
        piece,
        edges=drawn,
        notches=tuple(n for n in notches if n.edge in known or 0.0 < n.at < lengths.get(n.edge, 0.0)),
    )


def _shortened(armhole: Armhole, front: float, back: float) -> Armhole:
    """Returns the armhole's bottom between the two raglan's lines, as a part of the whole one."""
    kept = ((n, s) for n, s in armhole.stops if front < s < back)
    stops = (("raglan-pitch-front", front), *kept, ("raglan-pitch-back", back))
    first, last = armhole.parts[0], armhole.parts[-1]
    parts = (replace(first, first="raglan-pitch-front"), *armhole.parts[1:-1], replace(last, last="raglan-pitch-back"))
    return replace(armhole, stops=stops, parts=parts)


def _setting(whole: Setting, hole: Armhole, piece: str, at: float, *, first: bool) -> Setting:
    """Returns how the sleeve's bottom lies along the armhole's, from the raglan's line to the underarm or back."""
    kept = [x for x in whole.stretches if (x.last > at if first else x.first < at)]
    far = whole.place(at)
    if first:
        kept[0] = Stretch(at, kept[0].last, far, kept[0].at_last)
    else:
        kept[-1] = Stretch(kept[-1].first, at, kept[-1].at_first, far)
        kept = [Stretch(x.first, x.last, x.at_first - far, x.at_last - far) for x in kept]
    return Setting(Side(piece, "scye"), tuple(kept))


def _front_half(flat: Flat, crown: Point, armhole: Armhole, setting: Setting, cut: Cutting) -> Piece:
    laid = _turned(armhole, setting, flat, cut.at, True)
    hole = _shortened(armhole, cut.at, armhole.girth)
    bottom = flat.front_cap.part(0.0, setting.place(cut.at))
    overarm, shoulder, below = _overarm(cut.shoulder.moved(laid), flat, crown)
    hem = flat.hem.part(_middle(flat), flat.hem.length)
    side = flat.front.upper.then(flat.front.lower).reversed()
    return Piece(
        name="front-sleeve",
        title="Front of the sleeve",
        cut=Cut.PAIR,
        edges=(
            Edge("overarm", overarm, "neck-point", "hem"),
            Edge("hem", hem, "overarm", "underarm"),
            Edge("underarm", side, "hem", "underarm"),
            Edge("scye", bottom, "underarm", "raglan-pitch-front"),
            Edge("raglan", cut.raglan.moved(laid).reversed(), "armhole", "neck"),
            Edge("neck", cut.neck.moved(laid), "raglan-front", "neck-point"),
        ),
        notches=(
            Notch("shoulder-point", "overarm", shoulder),
            Notch("upper-arm", "overarm", below),
            *_eased(flat.front, side.length, back=False),
            *_setting(setting, hole, "front-sleeve", cut.at, first=True).notches(hole),
        ),
        lines=(_elbow_line(flat, crown, front=True),),
        grain_mark=Point(crown.x + 30.0, flat.front.upper.end.y / 2),
    ).on_grain()


def _back_half(flat: Flat, crown: Point, armhole: Armhole, setting: Setting, cut: Cutting) -> Piece:
    laid = _turned(armhole, setting, flat, cut.at, False)
    hole = _shortened(armhole, 0.0, cut.at)
    far = setting.place(cut.at)
    overarm, shoulder, below = _overarm(cut.shoulder.moved(laid), flat, crown)
    side = flat.back_edge
    return Piece(
        name="back-sleeve",
        title="Back of the sleeve",
        cut=Cut.PAIR,
        edges=(
            Edge("underarm", side, "underarm", "hem"),
            Edge("hem", flat.hem.part(0.0, _middle(flat)), "underarm", "overarm"),
            Edge("overarm", overarm.reversed(), "hem", "neck-point"),
            Edge("neck", cut.neck.moved(laid).reversed(), "neck-point", "raglan-back"),
            Edge("raglan", cut.raglan.moved(laid), "neck", "armhole"),
            Edge("scye", flat.back_cap.part(far, flat.back_cap.length), "raglan-pitch-back", "underarm"),
        ),
        notches=(
            *_eased(flat.back, side.length, back=True),
            Notch("upper-arm", "overarm", overarm.length - below),
            Notch("shoulder-point", "overarm", overarm.length - shoulder),
            *_setting(setting, hole, "back-sleeve", cut.at, first=False).notches(hole),
        ),
        lines=(_elbow_line(flat, crown, front=False),),
        grain_mark=Point(crown.x - 30.0, flat.front.upper.end.y / 2),
    ).on_grain()


def _eased(side: Halved, length: float, *, back: bool) -> tuple[Notch, ...]:
    upper = side.upper.length
    if back:
        return Notch("ease-top", "underarm", upper - EASED - EASE), Notch("ease-end", "underarm", upper + EASED)
    return (
        Notch("ease-end", "underarm", length - upper - EASED),
        Notch("ease-top", "underarm", length - upper + EASED),
    )


def _foot(flat: Flat) -> Point:
    return flat.hem.at(_middle(flat))


def _middle(flat: Flat) -> float:
    """Where on the hem, from the back, the seam over the arm ends."""
    return flat.hem.length / 2


def _overarm(shoulder: Path, flat: Flat, crown: Point) -> tuple[Path, float, float]:
    """Returns the seam over the arm from the neck point to the hem; where it passes the shoulder point and where it has
    come down to the arm."""
    foot = _foot(flat)
    low = crown.towards(foot, ROUND)
    below = fair_curve([low, foot], end=-flat.hem.tangent(_middle(flat)).left)
    straight = shoulder.part(0.0, shoulder.length - BEFORE)
    round_part = _rounded(straight.end, straight.end_tangent, low, below.start_tangent)
    return (
        straight.then(round_part, below),
        straight.length + round_part.nearest(shoulder.end),
        straight.length + round_part.length,
    )


def _rounded(start: Point, leaving: Point, end: Point, arriving: Point) -> Path:
    """Returns the round over the shoulder; its bend fades to nothing where it has come down to the arm."""
    chord = (end - start).length
    corner = crossing(start, leaving, end, arriving)
    before = (corner - start).dot(leaving) / chord
    return hook_curve(start, leaving, end, arriving, (min(before, FULL[0]), FULL[1]))


def _elbow_line(flat: Flat, crown: Point, *, front: bool) -> Line:
    end, other = flat.front.upper.end, flat.back.upper.end
    middle = crossing(end, other - end, crown, _foot(flat) - crown)
    return Line("elbow", LineKind.LEVEL, Path.line(middle, end) if front else Path.line(other, middle))


def _neck_again(jacket: Parts, name: str, cut: Cutting, sleeve: str) -> Parts:
    """Returns the jacket with every seam at the neck of a cut piece parted between it and the sleeve."""
    edges = {edge.name for edge in cut.remainder.edges if f"raglan-{name}" in (edge.start, edge.end)}
    stop = f"raglan-{name}"
    joinings: list[Joining] = []
    pieces = {piece.name: piece for piece in jacket.pieces}
    for each in jacket.joinings:
        own = next((s for s in (each.a, each.b) if s.piece == name and s.edge in edges), None)
        if own is None or "neck-point" not in each.stops:
            joinings.append(each)
            continue
        other = each.b if own is each.a else each.a
        pieces[other.piece] = _noticed(pieces[other.piece], other.edge, stop, each.stops, cut.neck.length)
        at = each.stops.index("neck-point")
        neighbour = at - 1 if at else at + 1
        stops = list(each.stops)
        stops[at] = stop
        pair = (own, other) if own is each.a else (other, own)
        joinings.append(replace(each, a=pair[0], b=pair[1], stops=tuple(stops)))
        mine = Side(sleeve, "neck")
        ends = ("neck-point", stop) if neighbour > at else (stop, "neck-point")
        a, b = (mine, other) if own is each.a else (other, mine)
        joinings.append(Joining(f"{each.name}-sleeve", a, b, ends))
    return replace(jacket, pieces=tuple(pieces.values()), joinings=tuple(joinings))


def _noticed(piece: Piece, edge: str, stop: str, stops: tuple[str, ...], reach: float) -> Piece:
    """Returns a piece with a notch on an edge, `reach` from its neck point towards the rest of the seam."""
    at = stops.index("neck-point")
    here = piece.stop(edge, "neck-point")
    there = piece.stop(edge, stops[at - 1] if at else stops[at + 1])
    place = here + math.copysign(reach, there - here)
    return replace(piece, notches=(*piece.notches, Notch(stop, edge, place)))


def _record(r: Recorder, halves: tuple[Piece, Piece]) -> None:
    of = "raglan"
    for piece in halves:
        r.drawn(
            f"{piece.name}'s seam over the arm",
            of,
            "along the shoulder, rounded on to the arm, to the hem",
            piece.edge("overarm").path,
        )
        r.drawn(
            f"{piece.name}'s raglan line",
            of,
            "the body's own, turned with the shoulder until it runs on into the cap",
            piece.edge("raglan").path,
        )
