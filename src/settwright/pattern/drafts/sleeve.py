"""The two-piece set-in sleeve, drafted from the armhole and the arm.

It is drawn first as a sleeve lying folded flat, front to the right, inside the armhole's own lines: a fold at the
forearm and a fold at the hindarm, the upper sleeve reaching past the folds by as much as the under sleeve stays
short of them. Last, the under sleeve, which lies face down in that drawing, is turned over.
"""

from __future__ import annotations

import itertools

from settwright.body import Body
from settwright.commission.design import JacketDesign
from settwright.geometry import Path, Point, Transform
from settwright.pattern.drafts.armhole import Armhole
from settwright.pattern.drafts.record import Recorder
from settwright.pattern.drafts.sleeve_fit import (
    Fitted,
    Setting,
    fit,
    known_of_the_arm,
    read_arm,
    record_fit,
    set_in,
    spread,
)
from settwright.pattern.drafts.sleeve_lines import BEND, FOREARM_INSET, Seamed
from settwright.pattern.drafts.vents import FACING, SLEEVE_LAP, TOP, UNDER, lapped, vent_touch
from settwright.pattern.piece import Cut, Edge, Line, LineKind, Mark, Notch, Piece, Seam, Side, Step, Touch

VENT_BUTTONS = 3


def draft_sleeve(
    armhole: Armhole, body: Body, design: JacketDesign
) -> tuple[tuple[Piece, ...], tuple[Seam, ...], tuple[Step, ...]]:
    """Returns upper and under sleeve, their seams with one another and with the armhole, and the record.

    Raises Refusal, naming the measurement, where no sleeve of this arm fits the armhole.
    """
    r = Recorder(known_of_the_arm(body, design))
    sleeve = fit(armhole, read_arm(r, design), spread(r, armhole))
    settings = set_in(sleeve, Side("upper-sleeve", "cap"), Side("under-sleeve", "scye"))
    vent = _vent(r)
    upper, under = _upper_piece(sleeve, settings, vent), _under_piece(sleeve, settings[2], vent)
    if vent:
        upper = lapped(upper, "hindarm", SLEEVE_LAP, FACING, is_fold=True)
        under = lapped(under, "hindarm", SLEEVE_LAP, UNDER, is_fold=False)
    record_sleeve(r, sleeve)
    return (upper, under), _seams(sleeve, settings, upper, under), r.steps


def _vent(r: Recorder) -> float:
    if r["vent length"]:
        r.found("lap of the vent", "sleeve", "the under sleeve under the upper one", SLEEVE_LAP)
    return r["vent length"]


def sleeve_vent() -> Touch:
    """Returns how the upper sleeve laps over the under one at the vent."""
    return vent_touch("sleeve-vent", Side("upper-sleeve", "hindarm"), Side("under-sleeve", "hindarm"))


def _upper_piece(sleeve: Fitted, settings: tuple[Setting, ...], vent: float) -> Piece:
    lines, armhole = sleeve.lines, sleeve.armhole
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
            *settings[0].notches(armhole),
            Notch("shoulder-point", "cap", sleeve.held.places[1]),
            *settings[1].notches(armhole),
            *_vent_notch(hindarm.path.length - vent if vent else None),
        ),
        marks=_vent_buttons(hindarm, vent),
        lines=(_elbow_line(hindarm, forearm),),
        grain_mark=Point(sleeve.shoulder.x, lines.corners.elbow.y / 2),
    ).on_grain()


def _under_piece(sleeve: Fitted, setting: Setting, vent: float) -> Piece:
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
            *setting.notches(armhole),
            *_vent_notch(vent or None),
        ),
        lines=(_elbow_line(forearm, hindarm),),
        grain_mark=Point((fore_x + hind_x) / 2, level),
    )
    return wrong_side_up.moved(Transform.mirror_x()).on_grain()


def _elbow_line(left: Seamed, right: Seamed) -> Line:
    return Line("elbow", LineKind.LEVEL, Path.line(left.path.at(left.elbow), right.path.at(right.elbow)))


def _vent_notch(at: float | None) -> tuple[Notch, ...]:
    return () if at is None else (Notch(TOP, "hindarm", at),)


def _vent_buttons(hindarm: Seamed, vent: float) -> tuple[Mark, ...]:
    """Returns the buttons of a vent, 15 mm in from its fold, the lowest 35 mm above the hem."""
    path = hindarm.path
    places = [path.length - 35.0 - 18.0 * i for i in range(VENT_BUTTONS)] if vent else []
    return tuple(
        Mark(f"sleeve-button-{number}", path.at(s) + path.tangent(s).left * 15.0)
        for number, s in enumerate(places, 1)
        if path.length - s < vent - 10.0
    )


def _seams(sleeve: Fitted, settings: tuple[Setting, ...], upper: Piece, under: Piece) -> tuple[Seam, ...]:
    armhole = sleeve.armhole
    has_vent = any(notch.name == TOP for notch in upper.notches)

    def lengthwise(name: str, last: str) -> Seam:
        stops = (f"{name}-top", "elbow", last)

        def lengths(piece: Piece) -> list[float]:
            places = [piece.stop(name, stop) for stop in stops]
            return [abs(b - a) for a, b in itertools.pairwise(places)]

        eases = tuple(b - a for a, b in zip(lengths(upper), lengths(under), strict=True))
        return Seam(name, Side("upper-sleeve", name), Side("under-sleeve", name), stops, eases)

    return (
        *settings[0].seams(armhole, "sleeve"),
        *settings[1].seams(armhole, "sleeve"),
        *reversed([*settings[2].seams(armhole, "under-sleeve")]),
        lengthwise("forearm", "hem"),
        lengthwise("hindarm", TOP if has_vent else "hem"),
    )


def record_sleeve(r: Recorder, sleeve: Fitted) -> None:
    """Keeps every point and line of the folded sleeve."""
    lines, corners = sleeve.lines, sleeve.lines.corners
    record_fit(r, sleeve)
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
        " the scye reaches the sleeve's width", corners.opening,
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
