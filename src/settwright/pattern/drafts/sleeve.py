"""The two-piece set-in sleeve, drafted from the armhole and the arm.

It is drawn first as a sleeve lying folded flat, front to the right, inside the armhole's own lines: a fold at the
forearm and a fold at the hindarm, the upper sleeve reaching past the folds by as much as the under sleeve stays
short of them. Last, the under sleeve, which lies face down in that drawing, is turned over.

Three things are given and one is found: the under sleeve's scye is the armhole's own bottom, the width is the arm's
with its ease, the cap is as long as its armhole and the ease held in; so the cap's height follows. Where it comes
out too low or too high for a sleeve that hangs well, the width gives way and the record says so.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Callable
from dataclasses import dataclass

from settwright.body import Body
from settwright.findings import Finding, Refusal, Weight
from settwright.geometry import Path, Point, Transform
from settwright.pattern.design import JacketDesign
from settwright.pattern.drafts.armhole import Armhole
from settwright.pattern.drafts.record import Recorder
from settwright.pattern.drafts.sleeve_lines import (
    BEND,
    FOREARM_INSET,
    Arm,
    Folded,
    Frame,
    Seamed,
    Underarm,
    capped,
    crown,
    folded,
)
from settwright.pattern.piece import Cut, Edge, Line, LineKind, Notch, Piece, Seam, Side, Step

CAP_RANGE = (0.72, 0.85)  # cap height as a part of the mean scye depth
EASE_RANGE = (40, 90)  # upper arm ease that the cap may ask for instead of the design's
WIDEST = 150  # upper arm ease where no narrower sleeve can be drawn: a thin arm in a wide armhole


def draft_sleeve(
    armhole: Armhole, body: Body, design: JacketDesign
) -> tuple[tuple[Piece, ...], tuple[Seam, ...], tuple[Step, ...]]:
    """Returns upper and under sleeve, their seams with one another and with the armhole, and the record.

    Raises Refusal, naming the measurement, where no sleeve of this arm fits the armhole.
    """
    r = Recorder(_known(body, design))
    arm = _arm(r)
    _check(r)
    sleeve = _fitted(armhole, arm, _held(r, armhole))
    upper, under = _upper_piece(sleeve), _under_piece(sleeve)
    _record(r, sleeve)
    return (upper, under), _seams(sleeve, upper, under), r.steps


def _known(body: Body, design: JacketDesign) -> dict[str, float]:
    names = ("upper_arm_girth", "elbow_girth", "wrist_girth", "arm_length", "upper_arm_length")
    return {name.replace("_", " "): body[name] for name in names} | {
        "shoulder pad": design.shoulder_pad,
        "ease of the upper arm": design.ease.upper_arm,
        "sleeve hem": design.sleeve_hem,
        "cap ease": design.cap_ease,
    }


def _arm(r: Recorder) -> Arm:
    of = "sleeve"
    return Arm(
        length=r.number("length from the shoulder", of, "arm length + shoulder pad"),
        to_elbow=r.number("length to the elbow", of, "upper arm length + shoulder pad"),
        girth=r["upper arm girth"],
        biceps=r.number("wanted width, folded", of, "(upper arm girth + ease of the upper arm) / 2"),
        elbow=r.number("width at the elbow, folded", of, "(elbow girth + 45 mm) / 2"),
        hem=r.number("width at the hem, folded", of, "sleeve hem / 2"),
    )


def _check(r: Recorder) -> None:
    wrong: list[Finding] = []

    def hold(is_right: bool, where: str, what: str, remedy: str) -> None:
        if not is_right:
            wrong.append(Finding(Weight.REFUSED, where, what, remedy))

    hold(
        0.4 * r["length from the shoulder"] <= r["length to the elbow"] <= 0.75 * r["length from the shoulder"],
        "measurements.upper_arm_length",
        f"{r['upper arm length']:.0f} mm from shoulder to elbow doesn't go with an arm of {r['arm length']:.0f} mm.",
        "Measure both again with the arm slightly bent.",
    )
    hold(
        r["sleeve hem"] >= r["wrist girth"] + 15,
        "design.sleeve_hem",
        f"{r['sleeve hem']:.0f} mm round is too narrow for a wrist of {r['wrist girth']:.0f} mm.",
        "Widen the sleeve's hem.",
    )
    hold(
        r["sleeve hem"] <= r["upper arm girth"] + r["ease of the upper arm"],
        "design.sleeve_hem",
        f"{r['sleeve hem']:.0f} mm round is wider than the sleeve at the upper arm.",
        "Narrow the sleeve's hem.",
    )
    hold(
        0 <= r["cap ease"] <= 70,
        "design.cap_ease",
        f"no cap takes {r['cap ease']:.0f} mm of ease.",
        "Choose 25 to 45 mm; up to 60 in a soft wool.",
    )
    if wrong:
        raise Refusal(wrong)


@dataclass(frozen=True)
class _Held:
    """The cap's four stretches from forearm-top to hindarm-top: the armhole's length and the ease held in to it."""

    armhole: tuple[float, ...]
    ease: tuple[float, ...]

    @property
    def places(self) -> tuple[float, ...]:
        """Arc lengths of front-pitch, shoulder-point, back-pitch and the end on the cap."""
        return tuple(itertools.accumulate(a + e for a, e in zip(self.armhole, self.ease, strict=True)))


def _held(r: Recorder, armhole: Armhole) -> _Held:
    """Returns how the cap's ease is spread: more behind the shoulder than before it, little below the pitches."""
    of = "sleeve cap"
    stretches = (
        ("armhole below the front pitch", "front-pitch", "forearm-top"),
        ("armhole above the front pitch", "shoulder-point", "front-pitch"),
        ("armhole above the back pitch", "back-pitch", "shoulder-point-back"),
        ("armhole below the back pitch", "hindarm-top", "back-pitch"),
    )
    for name, first, last in stretches:
        r.found(name, of, "walked along the armhole", armhole.between(first, last))
    r.number("ease behind the shoulder", of, "cap ease × 0.56")
    r.number(
        "ease below the front pitch",
        of,
        "(cap ease − ease behind the shoulder) × armhole below the front pitch"
        " / (armhole below the front pitch + armhole above the front pitch × 8)",
    )
    r.number("ease above the front pitch", of, "cap ease − ease behind the shoulder − ease below the front pitch")
    r.number(
        "ease below the back pitch",
        of,
        "ease behind the shoulder × armhole below the back pitch"
        " / (armhole below the back pitch + armhole above the back pitch × 2.5)",
    )
    r.number("ease above the back pitch", of, "ease behind the shoulder − ease below the back pitch")
    return _Held(
        tuple(r[name] for name, _, _ in stretches),
        tuple(r[name.replace("armhole", "ease")] for name, _, _ in stretches),
    )


@dataclass(frozen=True)
class _Sleeve:
    """The folded sleeve with what it was drafted from."""

    armhole: Armhole
    arm: Arm
    held: _Held
    lines: Folded

    @property
    def shoulder(self) -> Point:
        """Where the cap meets the shoulder seam."""
        return self.lines.cap.at(self.held.places[1])


def _fitted(armhole: Armhole, arm: Arm, held: _Held) -> _Sleeve:
    """Returns the sleeve with the wanted width, or the nearest whose cap is neither too low nor too high.

    Raises Refusal where no width gives a sleeve.
    """
    underarm, depth = Underarm.of(armhole), armhole.depth
    low, high = (part * depth for part in CAP_RANGE)

    def drawn(biceps: float) -> tuple[Frame, Path] | None:
        try:
            return capped(underarm, arm, biceps, held.places[-1], depth)
        except ValueError:
            return None

    def out(biceps: float) -> float:
        """How far the cap is out of its range: above it positive; infinite where no sleeve can be drawn."""
        found = drawn(biceps)
        if found is None:
            return math.inf
        height = crown(found[1])
        return max(height - high, 0.0) or min(height - low, 0.0)

    biceps = arm.biceps if out(arm.biceps) == 0.0 else _nearest_width(arm, out)
    found = drawn(biceps)
    if found is None:
        raise Refusal([_no_sleeve(armhole, arm)])
    return _Sleeve(armhole, arm, held, folded(*found, biceps, arm))


def _nearest_width(arm: Arm, out: Callable[[float], float]) -> float:
    """Returns the width, folded, that comes nearest to the wanted one and has a cap in its range.

    Where none has, the one whose cap is least out of it; `out` tells by how much, infinite for no sleeve at all.
    """
    wanted = arm.biceps
    tried = [(0.0, abs(out(wanted)), 0.0, wanted)]
    for ease in range(EASE_RANGE[0], WIDEST + 1, 5):
        width = (arm.girth + ease) / 2
        miss = abs(out(width))
        beyond = math.inf if math.isinf(miss) else max(0.0, ease - EASE_RANGE[1])
        tried.append((beyond, miss, abs(width - wanted), width))
    if math.isinf(tried[0][1]):
        tried[0] = (math.inf, *tried[0][1:])
    _, miss, _, width = min(tried)
    outside = wanted
    while miss == 0.0 and abs(width - outside) > 0.05:  # no farther from the wanted width than the cap asks
        middle = (width + outside) / 2
        width, outside = (width, middle) if out(middle) else (middle, outside)
    return width


def _no_sleeve(armhole: Armhole, arm: Arm) -> Finding:
    return Finding(
        Weight.REFUSED,
        "measurements.upper_arm_girth",
        f"no sleeve for an arm of {arm.girth:.0f} mm goes into an armhole of {armhole.girth:.0f} mm.",
        "Measure the upper arm again, or give the jacket more ease at the bust.",
    )


def _upper_piece(sleeve: _Sleeve) -> Piece:
    lines, places = sleeve.lines, sleeve.held.places
    hindarm, forearm = lines.hind_upper, lines.fore_upper
    return Piece(
        name="upper-sleeve",
        title="Upper sleeve",
        cut=Cut.PAIR,
        edges=(
            Edge("hindarm", hindarm.path, "hindarm-top", "hem"),
            Edge("hem", lines.hem_upper, "hindarm", "forearm"),
            Edge("forearm", forearm.path.reversed(), "hem", "forearm-top"),
            Edge("cap", lines.cap, "forearm-top", "hindarm-top"),
        ),
        notches=(
            Notch("elbow", "hindarm", hindarm.elbow),
            Notch("elbow", "forearm", forearm.path.length - forearm.elbow),
            Notch("front-pitch", "cap", places[0]),
            Notch("shoulder-point", "cap", places[1]),
            Notch("back-pitch", "cap", places[2]),
        ),
        lines=(_elbow_line(hindarm, forearm),),
        grain_mark=Point(sleeve.shoulder.x, lines.corners.elbow.y / 2),
    ).on_grain()


def _under_piece(sleeve: _Sleeve) -> Piece:
    """Returns the under sleeve turned over: in the folded sleeve it lies with its wrong side up."""
    lines, armhole = sleeve.lines, sleeve.armhole
    forearm, hindarm = lines.fore_under, lines.hind_under
    level = lines.corners.elbow.y / 2
    fore_x, hind_x = (seam.path.at(seam.path.where_y(level)[0]).x for seam in (forearm, hindarm))
    wrong_side_up = Piece(
        name="under-sleeve",
        title="Under sleeve",
        cut=Cut.PAIR,
        edges=(
            Edge("forearm", forearm.path, "forearm-top", "hem"),
            Edge("hem", lines.hem_under.reversed(), "forearm", "hindarm"),
            Edge("hindarm", hindarm.path.reversed(), "hem", "hindarm-top"),
            Edge("scye", lines.corners.scye.reversed(), "hindarm-top", "forearm-top"),
        ),
        notches=(
            Notch("elbow", "forearm", forearm.elbow),
            Notch("elbow", "hindarm", hindarm.path.length - hindarm.elbow),
            *(
                Notch(stop, "scye", armhole.between(stop, "hindarm-top"))
                for stop in ("underarm-back", "underarm", "underarm-front")
            ),
        ),
        lines=(_elbow_line(forearm, hindarm),),
        grain_mark=Point((fore_x + hind_x) / 2, level),
    )
    return wrong_side_up.moved(Transform.mirror_x()).on_grain()


def _elbow_line(left: Seamed, right: Seamed) -> Line:
    return Line("elbow", LineKind.LEVEL, Path.line(left.path.at(left.elbow), right.path.at(right.elbow)))


def _seams(sleeve: _Sleeve, upper: Piece, under: Piece) -> tuple[Seam, ...]:
    ease = sleeve.held.ease
    cap, scye = Side("upper-sleeve", "cap"), Side("under-sleeve", "scye")

    def lengthwise(name: str) -> Seam:
        stops = (f"{name}-top", "elbow", "hem")

        def lengths(piece: Piece) -> list[float]:
            places = [piece.stop(name, stop) for stop in stops]
            return [abs(b - a) for a, b in itertools.pairwise(places)]

        eases = tuple(b - a for a, b in zip(lengths(upper), lengths(under), strict=True))
        return Seam(name, Side("upper-sleeve", name), Side("under-sleeve", name), stops, eases)

    return (
        Seam(
            "sleeve-front",
            Side("front", "armhole"),
            cap,
            ("forearm-top", "front-pitch", "shoulder-point"),
            (ease[0], ease[1]),
        ),
        Seam(
            "sleeve-back",
            Side("back", "armhole"),
            cap,
            ("shoulder-point", "back-pitch", "hindarm-top"),
            (ease[2], ease[3]),
        ),
        Seam("under-sleeve-back", Side("back", "armhole"), scye, ("hindarm-top", "underarm-back"), (0.0,)),
        Seam("under-sleeve-side", Side("side", "armhole"), scye, ("underarm-back", "underarm-front"), (0.0,)),
        Seam("under-sleeve-front", Side("front", "armhole"), scye, ("underarm-front", "forearm-top"), (0.0,)),
        lengthwise("forearm"),
        lengthwise("hindarm"),
    )


def _record(r: Recorder, sleeve: _Sleeve) -> None:
    lines, corners, depth = sleeve.lines, sleeve.lines.corners, sleeve.armhole.depth
    gave_way = abs(lines.biceps - sleeve.arm.biceps) > 1e-6
    r.found(
        "width, folded",
        "sleeve",
        "the wanted width gave way, so that the cap is neither too low nor too high" if gave_way else "as wanted",
        lines.biceps,
        ("wanted width, folded",),
    )
    r.found("mean scye depth", "sleeve cap", "from the middle of the shoulder points to the underarm", depth)
    r.found("length of the cap", "sleeve cap", "its armhole and its ease", sleeve.held.places[-1], ("cap ease",))
    r.found(
        "height of the cap", "sleeve cap", "follows from its length and the sleeve's width", lines.height,
        ("length of the cap", "width, folded"),
    )  # fmt: skip
    r.number("height in the scye depth", "sleeve cap", "height of the cap / mean scye depth")
    r.found("forearm inset", "sleeve", "from the forearm fold to the seam", FOREARM_INSET)
    r.found(
        "hindarm inset",
        "sleeve",
        "from the hindarm fold to the seam at its top, nothing at the hem",
        corners.hind_inset,
    )
    r.found("bend angle", "sleeve", "of the forearm forward from the upper arm, at the elbow", BEND)
    r.found(
        "opening of the scye", "under-sleeve", "part of the armhole's hollow taken away towards the hindarm, so that"
        " the scye reaches the sleeve's width", corners.opening, ("width, folded",),
    )  # fmt: skip
    for name, rule, point in (
        ("shoulder point", "walked from the front pitch", sleeve.shoulder),
        ("forearm fold, top", "its inset before the armhole's forearm-top", corners.fore_top),
        ("forearm fold, elbow", "falls back by a quarter of what the sleeve narrows by", corners.fore_corner),
        ("forearm fold, hem", "half the hem before the wrist", lines.fore_fold.end),
        ("hindarm fold, top", "its inset behind the opened scye", corners.hind_top),
        ("hindarm fold, elbow", "the elbow's width behind the forearm", corners.hind_corner),
        ("hindarm fold, hem", "half the hem behind the wrist", lines.hind_fold.end),
        ("elbow", "length to the elbow below the cap's crown", corners.elbow),
        ("wrist", "along the bent forearm", corners.wrist),
    ):
        r.found(name, "sleeve", rule, point)
    for name, rule, path in (
        ("forearm fold", "through its three points, the sleeve lying folded", lines.fore_fold),
        ("hindarm fold", "through its three points, the sleeve lying folded", lines.hind_fold),
        ("cap", "of its length over the folded sleeve's width, reaching past both folds", lines.cap),
        ("scye of the under sleeve", "the armhole's own bottom, opened towards the hindarm", corners.scye),
        ("forearm seam of the upper sleeve", "its inset beyond the fold, hollow inside", lines.fore_upper.path),
        ("hindarm seam of the upper sleeve", "its inset beyond the fold at the top, on it at the hem",
         lines.hind_upper.path),
        ("forearm seam of the under sleeve", "its inset short of the fold", lines.fore_under.path),
        ("hindarm seam of the under sleeve", "its inset short of the fold at the top", lines.hind_under.path),
        ("hem of the upper sleeve", "square to both seams", lines.hem_upper),
    ):  # fmt: skip
        r.drawn(name, "sleeve", rule, path)
