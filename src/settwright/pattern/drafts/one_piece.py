"""The one-piece set-in sleeve: the folded sleeve spread out flat, its seam under the arm.

Upper and under sleeve are drawn first as for the two-piece sleeve. The under sleeve, slit from the underarm down, is
then turned over about the forearm's fold and the hindarm's: so the cap runs on into the armhole's own bottom on either
side, smooth where the slit is sewn up. Below the elbow the sleeve is swung forward; what that opens at the back is a
dart, or, for less of a bend, ease.
"""

from __future__ import annotations

import itertools
import math
from dataclasses import dataclass, replace

from settwright.body import Body
from settwright.commission.design import JacketDesign
from settwright.geometry import Path, Point, Transform, crossing, hook_curve
from settwright.pattern.drafts.armhole import Armhole
from settwright.pattern.drafts.record import Recorder
from settwright.pattern.drafts.sleeve_fit import (
    Fitted,
    Setting,
    Stretch,
    fit,
    known_of_the_arm,
    read_arm,
    record_fit,
    spread,
)
from settwright.pattern.piece import Cut, Edge, Line, LineKind, Mark, Notch, Piece, Seam, Side, Step

DART = math.radians(13.0)  # by which the forearm is swung forward where a dart takes up the elbow
DART_REACH = 0.3  # of the elbow's width, from the back seam to the dart's point
EASE = 10.0  # of the back seam at the elbow, without a dart
EASED = 60.0  # above and below the elbow
BLEND = 70.0  # over which a seam bends at the elbow, on either side


def draft_one_piece(
    armhole: Armhole, body: Body, design: JacketDesign
) -> tuple[tuple[Piece, ...], tuple[Seam, ...], tuple[Step, ...]]:
    """Returns the sleeve, its own seam and those with the armhole, and the record.

    Raises Refusal, naming the measurement, where no sleeve of this arm fits the armhole.
    """
    r = Recorder(known_of_the_arm(body, design))
    fitted = fit(armhole, read_arm(r, design), spread(r, armhole))
    flat = spread_out(fitted, DART if design.elbow_dart else 0.0)
    front, back = settings(flat, fitted)
    piece = _piece(flat, front, back, armhole)
    record_fit(r, fitted)
    _record(r, flat)
    return (piece,), (*around(front, back, armhole), *_underarm(piece)), r.steps


@dataclass(frozen=True)
class Halved:
    """One side of the seam under the arm, downwards, in two parts that meet at the elbow."""

    upper: Path
    lower: Path


@dataclass(frozen=True)
class Flat:
    """The sleeve spread out, front to the right."""

    front_cap: Path  # underarm to shoulder point
    back_cap: Path  # shoulder point to underarm
    front: Halved
    back: Halved  # its lower part swung forward with the forearm
    dart: tuple[Point, Point] | None  # its point and its mouth's peak
    hem: Path  # back to front
    shoulder: Point

    @property
    def back_edge(self) -> Path:
        """The back's side as one edge, with the dart's mouth."""
        if self.dart is None:
            return self.back.upper.then(self.back.lower)
        mouth = Path.line(self.back.upper.end, self.dart[1], self.back.lower.start)
        return self.back.upper.then(mouth, self.back.lower)


def mirror_in(point: Point, along: Point) -> Transform:
    """Returns the mirroring in the line through a point."""
    upright = Transform.turn(math.pi / 2 - along.angle, point)
    across = Transform.shift(-point.x, 0.0).then(Transform.mirror_x()).then(Transform.shift(point.x, 0.0))
    return upright.then(across).then(upright.inverse())


def spread_out(fitted: Fitted, dart: float) -> Flat:
    """Returns the folded sleeve turned flat, its forearm swung forward by the angle `dart` (0: eased instead)."""
    lines, corners = fitted.lines, fitted.lines.corners
    fore = mirror_in(corners.fore_top, corners.fore_corner - corners.fore_top)
    hind = mirror_in(corners.hind_top, corners.hind_corner - corners.hind_top)
    cap = fitted.held.places
    bottom = corners.underarm.front.length
    front_cap = corners.scye.part(0.0, bottom).moved(fore).reversed().then(lines.cap.part(0.0, cap[1]))
    back_cap = lines.cap.part(cap[1], cap[3]).then(
        corners.scye.part(bottom, corners.scye.length).moved(hind).reversed()
    )
    slit = corners.fore_corner.between(corners.hind_corner, corners.fore_top.x / corners.biceps)
    front_elbow, back_elbow = fore(slit), hind(slit)
    arm = fitted.arm
    if dart:
        point = back_elbow.between(front_elbow, DART_REACH)
        swung = Transform.turn(dart, point)(back_elbow)
    else:
        swung = point = back_elbow = back_elbow + (back_elbow - back_cap.end).unit * EASE

    def lower(width: float) -> tuple[Point, Point]:
        across = (front_elbow - swung).unit
        middle = front_elbow.between(swung) + across.right * (arm.length - arm.to_elbow)
        return middle + across * (width / 2), middle - across * (width / 2)

    def hem_of(width: float) -> Path:
        foot, heel = lower(width)
        return hook_curve(heel, (heel - swung).left, foot, (foot - front_elbow).left)

    width = 2 * arm.hem
    width -= hem_of(width).length - width
    foot, heel = lower(width)
    front = _elbowed(front_cap.start, front_elbow, front_elbow, foot, 0.0)
    back = _elbowed(back_cap.end, back_elbow, swung, heel, dart)
    peak = None
    if dart:
        away, leg = back.lower.start_tangent, (swung - point).unit
        folded = leg * (2 * away.dot(leg)) - away  # pressed to the hem, its mouth lies under the seam
        peak = (point, crossing(swung, folded, point, (back_elbow.between(swung) - point).unit))
    return Flat(front_cap, back_cap, front, back, peak, hem_of(width), fitted.shoulder)


def _elbowed(top: Point, elbow: Point, swung: Point, foot: Point, dart: float) -> Halved:
    """Returns a side through its elbow, bending evenly when the dart is shut."""
    first, last = (elbow - top).unit, (foot - swung).unit
    shut = last.rotated(-dart)
    middle = (first + shut).unit
    above, below = min(BLEND, 0.6 * (elbow - top).length), min(BLEND, 0.6 * (foot - swung).length)
    start, end = elbow - first * above, swung + last * below
    return Halved(
        Path.line(top, start).then(hook_curve(start, first, elbow, middle)),
        hook_curve(swung, middle.rotated(dart), end, last).then(Path.line(end, foot)),
    )


def settings(flat: Flat, fitted: Fitted) -> tuple[Setting, Setting]:
    """Returns how the two caps lie along the armhole."""
    stop, places, armhole = fitted.armhole.stop, fitted.held.places, fitted.armhole
    under = armhole.between("forearm-top", "underarm")
    behind = armhole.between("underarm", "hindarm-top")
    front = [flat.front_cap.length, under + places[0], under, 0.0]
    names = ("shoulder-point", "front-pitch", "forearm-top", "underarm")
    back = [places[3] - places[1] + behind, places[3] - places[1], places[2] - places[1], 0.0]
    hind_names = ("underarm", "hindarm-top", "back-pitch", "shoulder-point-back")

    def stretches(names: tuple[str, ...], at: list[float]) -> tuple[Stretch, ...]:
        return tuple(Stretch(stop(a), stop(b), x, y) for a, b, x, y in zip(names, names[1:], at, at[1:], strict=False))

    return (
        Setting(Side("sleeve", "front-cap"), stretches(names, front)),
        Setting(Side("sleeve", "back-cap"), stretches(hind_names, back)),
    )


def around(front: Setting, back: Setting, armhole: Armhole) -> tuple[Seam, ...]:
    """Returns the seams of both caps with the armhole; a piece that lies under the arm meets both."""
    before, behind = list(front.seams(armhole, "sleeve")), list(back.seams(armhole, "sleeve"))
    both = {seam.name for seam in before} & {seam.name for seam in behind}
    return tuple(
        replace(seam, name=f"{seam.name}-{side}") if seam.name in both else seam
        for side, seams in (("front", before), ("back", behind))
        for seam in seams
    )


def _piece(flat: Flat, front: Setting, back: Setting, armhole: Armhole) -> Piece:
    upper = flat.back.upper.length
    edge = flat.back_edge
    elbow_line = Path.line(flat.back.upper.end, flat.front.upper.end)
    front_edge = flat.front.upper.then(flat.front.lower).reversed()
    on_front = flat.front.lower.length
    if flat.dart is None:
        stops = ("ease-top", "ease-end")
        at_back = (upper - EASED - EASE, upper + EASED)
        at_front = (on_front + EASED, on_front - EASED)
    else:
        stops = ("elbow-a", "elbow-b")
        at_back = (upper, edge.length - flat.back.lower.length)
        at_front = (on_front, on_front)
    return Piece(
        name="sleeve",
        title="Sleeve",
        cut=Cut.PAIR,
        edges=(
            Edge("back-underarm", edge, "underarm", "hem"),
            Edge("hem", flat.hem, "back-underarm", "front-underarm"),
            Edge("front-underarm", front_edge, "hem", "underarm"),
            Edge("front-cap", flat.front_cap, "underarm", "shoulder-point"),
            Edge("back-cap", flat.back_cap, "shoulder-point", "underarm"),
        ),
        notches=(
            *(Notch(name, "back-underarm", at) for name, at in zip(stops, at_back, strict=True)),
            *(Notch(name, "front-underarm", at) for name, at in zip(stops, at_front, strict=True)),
            *front.notches(armhole),
            *back.notches(armhole),
        ),
        marks=() if flat.dart is None else (Mark("elbow-dart-point", flat.dart[0]),),
        lines=(
            Line("elbow", LineKind.LEVEL, elbow_line),
            *(
                ()
                if flat.dart is None
                else (
                    Line(
                        "elbow-dart",
                        LineKind.DART,
                        Path.line(flat.back.upper.end, flat.dart[0], flat.back.lower.start),
                    ),
                )
            ),
        ),
        grain_mark=Point(flat.shoulder.x, flat.front.upper.end.y / 2),
    ).on_grain()


def _underarm(piece: Piece) -> tuple[Seam, ...]:
    """Returns the seam under the arm: in one, eased at the elbow, or in two stretches beside the dart."""
    sides = Side("sleeve", "front-underarm"), Side("sleeve", "back-underarm")

    def seam(name: str, *stops: str) -> Seam:
        ease = tuple(
            round(_between(piece, sides[1].edge, a, b) - _between(piece, sides[0].edge, a, b), 6)
            for a, b in itertools.pairwise(stops)
        )
        return Seam(name, *sides, stops, ease)

    if any(notch.name == "elbow-a" for notch in piece.notches):
        return seam("sleeve-underarm-upper", "underarm", "elbow-a"), seam("sleeve-underarm-lower", "elbow-b", "hem")
    return (seam("sleeve-underarm", "underarm", "ease-top", "ease-end", "hem"),)


def _between(piece: Piece, edge: str, first: str, last: str) -> float:
    return abs(piece.stop(edge, last) - piece.stop(edge, first))


def _record(r: Recorder, flat: Flat) -> None:
    r.found("shoulder point", "sleeve", "walked from the front pitch", flat.shoulder)
    if flat.dart is None:
        r.found("ease at the elbow", "sleeve", "of the back's side on the front's", EASE)
    else:
        r.found("elbow's dart angle", "sleeve", "by which the forearm is swung forward", DART)
        r.found("elbow's dart point", "sleeve", f"{DART_REACH} of the elbow's width from the back seam", flat.dart[0])
    for name, rule, path in (
        ("cap before the shoulder", "the front of the armhole's bottom, turned over the forearm's fold, then the cap",
         flat.front_cap),
        ("cap behind the shoulder", "the cap, then the back of the armhole's bottom, turned over the hindarm's fold",
         flat.back_cap),
        ("front side of the seam under the arm", "the under sleeve's slit, turned over the forearm's fold; below the"
         " elbow to the hem", flat.front.upper.then(flat.front.lower)),
        ("back side of the seam under the arm", "the slit turned over the hindarm's fold, the forearm swung forward",
         flat.back_edge),
        ("hem of the sleeve", "square to both sides", flat.hem),
    ):  # fmt: skip
        r.drawn(name, "sleeve", rule, path)
