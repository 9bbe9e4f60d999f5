"""Tailored trousers: front and back with a crease on the grain, a fly, slant pockets, a band or ribbon at the waist.

What waist and hip differ by goes into the centre front's lean, dart or pleats, side seam, back darts and the seat's
angle by fixed shares; the fork gives and takes within its limits until the thigh has its ease. Where thigh, hip and
fork don't agree, the ease at the thigh gives way and the record says so.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cached_property

from settwright.body import Body
from settwright.commission.design import TrousersDesign, TrousersWaist
from settwright.findings import refuse
from settwright.geometry import Path, Point, Transform
from settwright.pattern.drafts.record import Recorder
from settwright.pattern.drafts.skirt_panel import Dart
from settwright.pattern.drafts.trousers_band import draw_band, measure_ribbon
from settwright.pattern.drafts.trousers_figures import check, check_legs, known_figures, reckon
from settwright.pattern.drafts.trousers_fly import Fly, draw_fly
from settwright.pattern.drafts.trousers_halves import (
    Half,
    back_waist,
    front_waist,
    matched_halves,
    with_waist,
)
from settwright.pattern.drafts.trousers_pocket import Pocket, draw_pocket
from settwright.pattern.drafts.trousers_waist import Pleat, WaistLine
from settwright.pattern.piece import Cut, Draft, Edge, Line, LineKind, Mark, Meeting, Notch, Piece, Seam, Side, Touch

FRONT, BACK = "trousers-front", "trousers-back"


def draft_trousers(body: Body, design: TrousersDesign) -> Draft:
    """Returns the trousers.

    Raises Refusal that names the measurement or choice from which no trousers can be cut.
    """
    r = Recorder(known_figures(body, design))
    reckon(r, design)
    check(r, design)
    try:
        front, back = _drawn(r)
    except ValueError as error:
        raise refuse(
            "measurements.waist_girth",
            f"waist, hip and crotch height don't draw together ({error}).",
            "Measure waist, hip, waist height and crotch height again.",
        ) from error
    check_legs(r)
    fly = draw_fly(r, design, front.crotch, front.waist.stretches[0])
    pocket = draw_pocket(r, front.half, front.waist) if design.pockets else None
    pieces = [_front_piece(r, front, fly, pocket), _back_piece(r, back, pocket), *fly.pieces]
    if pocket:
        pieces += pocket.pieces
    seams = [*_length_seams(r, front), *fly.seams]
    if design.waist is TrousersWaist.RIBBON:
        measure_ribbon(r)
    else:
        band = draw_band(r, front.waist, back.waist, is_whole=design.waist is TrousersWaist.BAND_WHOLE)
        pieces.append(band.piece)
        seams += band.seams
    touches: list[Touch] = []
    if pocket:
        seams += pocket.seams
        touches.append(
            Touch(
                "trousers-pocket",
                Meeting.OVERLAY,
                Side(FRONT, "pocket-line"),
                Side("pocket-underlay", "pocket-line"),
                ("pocket-top", "pocket-end"),
            )
        )
    height = r["waist height"]
    return Draft(
        name="trousers",
        pieces=tuple(piece.on_grain() for piece in pieces),
        seams=tuple(seams),
        touches=tuple(touches),
        record=r.steps,
        levels=tuple(
            (name, height + r[f"{name} line"] if name != "waist" else height)
            for name in ("waist", "hip", "fork", "thigh", "knee", "hem")
        ),
    )


@dataclass(frozen=True)
class _Drawn:
    """A half with everything drawn, its fork to the right."""

    half: Half
    waist: WaistLine
    hem: Path  # from the side to the inseam

    @cached_property
    def crotch(self) -> Path:
        """The seam from the fork to the waist."""
        return self.half.crotch


def _drawn(r: Recorder) -> tuple[_Drawn, _Drawn]:
    """Returns front and back. Raises ValueError where lines can't be drawn."""
    front, back = matched_halves(r)
    _keep_fork(r, front, back)
    front_line = front_waist(r, front, r["front waist wanted"] if r["front folds"] else None)
    r.found("front waist", FRONT, "walked, dart or pleats closed", front_line.closed.length)
    r.number("back waist", BACK, "half waist − front waist")
    back_line = back_waist(r, back, r["back waist"] if r["back darts"] else None)
    drawn = [
        _Drawn(with_waist(half, line), line, half.hem(slant))
        for half, line, slant in ((front, front_line, r["hem's angle"]), (back, back_line, -r["hem's angle"]))
    ]
    _record(r, drawn[0], drawn[1])
    return drawn[0], drawn[1]


def _keep_fork(r: Recorder, front: Half, back: Half) -> None:
    fork = front.fork.x - front.centre.hip.x
    using = ("thigh wanted", "narrowest fork", "widest fork")
    r.found("front fork", FRONT, "until front and back measure the thigh, within the fork's limits", fork, using)
    r.number("back fork", BACK, "front fork × 2")
    r.found("front thigh", FRONT, "across at the thigh's line", front.thigh_width(r["thigh line"]), ("thigh line",))
    r.found("back thigh", BACK, "across at the thigh's line", back.thigh_width(r["thigh line"]), ("thigh line",))
    r.number("ease at the thigh", "leg", "front thigh + back thigh − thigh girth")


def _front_piece(r: Recorder, front: _Drawn, fly: Fly, pocket: Pocket | None) -> Piece:
    half, inside = front.half, front.half.inside
    waist, stops = front.waist.edge()
    return Piece(
        name=FRONT,
        title="Trousers front",
        cut=Cut.PAIR,
        edges=(
            Edge("side", half.side.path, "waist", "hem"),
            Edge("hem", front.hem, "side", "inseam"),
            Edge("inseam", inside.path, "hem", "fork"),
            Edge("crotch", front.crotch, "fork", "waist"),
            Edge("waist", waist, "centre-front", "side"),
        ),
        notches=(
            *_side_notches(half),
            Notch("knee", "inseam", inside.knee),
            Notch("hip", "crotch", front.half.hip_on_crotch),
            Notch("fly-end", "crotch", front.crotch.length - fly.length),
            *_fold_notches(front.waist, stops),
            *(pocket.notches(waist.length) if pocket else ()),
        ),
        marks=tuple(Mark(f"dart-{i}-point", d.point) for i, d in _numbered(front.waist) if isinstance(d, Dart)),
        lines=(
            *_levels(r, front),
            *_fold_lines(front.waist),
            Line("fly-stitching", LineKind.PLACE, fly.stitching, "fly-end", "waist"),
            *((Line("pocket-line", LineKind.PLACE, pocket.line, "pocket-top", "pocket-end"),) if pocket else ()),
        ),
        grain_mark=Point(0.0, half.leg.hip),
    )


def _back_piece(r: Recorder, back: _Drawn, pocket: Pocket | None) -> Piece:
    """Returns the back, turned over: its side comes to the right."""
    half, inside, over = back.half, back.half.inside, Transform.mirror_x()
    waist, stops = back.waist.edge()
    side = half.side.path.length
    piece = Piece(
        name=BACK,
        title="Trousers back",
        cut=Cut.PAIR,
        edges=(
            Edge("seat", back.crotch.reversed(), "waist", "fork"),
            Edge("inseam", inside.path.reversed(), "fork", "hem"),
            Edge("hem", back.hem.reversed(), "inseam", "side"),
            Edge("side", half.side.path.reversed(), "hem", "waist"),
            Edge("waist", waist.reversed(), "side", "centre-back"),
        ),
        notches=(
            *(replace(notch, at=side - notch.at) for notch in _side_notches(half)),
            Notch("knee", "inseam", inside.path.length - inside.knee),
            Notch("hip", "seat", back.crotch.length - back.half.hip_on_crotch),
            *((Notch("pocket-end", "side", side - pocket.down_side),) if pocket else ()),
            *(replace(notch, at=waist.length - notch.at) for notch in _fold_notches(back.waist, stops, from_side=True)),
        ),
        marks=tuple(
            Mark(f"dart-{i}-point", d.point) for i, d in _numbered(back.waist, from_side=True) if isinstance(d, Dart)
        ),
        lines=(*_levels(r, back), *_fold_lines(back.waist, from_side=True)),
        grain_mark=Point(0.0, half.leg.hip),
    )
    return piece.moved(over)


def _side_notches(half: Half) -> tuple[Notch, ...]:
    return (Notch("hip", "side", half.side.hip), Notch("knee", "side", half.side.knee))


def _numbered(waist: WaistLine, *, from_side: bool = False) -> list[tuple[int, Dart | Pleat]]:
    """Returns the folds with their numbers: from the centre, or from the side."""
    count = len(waist.folds)
    return [(count - i if from_side else i + 1, fold) for i, fold in enumerate(waist.folds)]


def _fold_notches(waist: WaistLine, stops: tuple[float, ...], *, from_side: bool = False) -> tuple[Notch, ...]:
    near, far = ("b", "a") if from_side else ("a", "b")
    found: list[Notch] = []
    for (number, fold), inner, outer in zip(
        _numbered(waist, from_side=from_side), stops[::2], stops[1::2], strict=True
    ):
        kind = "pleat" if isinstance(fold, Pleat) else "dart"
        found += [Notch(f"{kind}-{number}-{near}", "waist", inner), Notch(f"{kind}-{number}-{far}", "waist", outer)]
    return tuple(found)


def _fold_lines(waist: WaistLine, *, from_side: bool = False) -> tuple[Line, ...]:
    lines: list[Line] = []
    for number, fold in _numbered(waist, from_side=from_side):
        if isinstance(fold, Pleat):
            shows, hidden, laid_on = fold.folds
            lines += [
                Line(f"pleat-{number}", LineKind.FOLD, shows),
                Line(f"pleat-{number}-hidden", LineKind.FOLD, hidden),
                Line(f"pleat-{number}-place", LineKind.PLACE, laid_on),
            ]
        else:
            legs = Path.line(fold.inner, fold.point, fold.outer)
            lines.append(Line(f"dart-{number}", LineKind.DART, legs.reversed() if from_side else legs))
    return tuple(lines)


def _levels(r: Recorder, drawn: _Drawn) -> tuple[Line, ...]:
    half, leg = drawn.half, drawn.half.leg
    top = min(half.side.path.start.y, leg.hip * 0.45)
    foot = drawn.hem.at(drawn.hem.where_x(0.0)[0]).y
    thigh = Path.line(*half.thigh(r["thigh line"]))
    knee = Path.line(Point(-leg.knee_half, leg.knee), Point(leg.knee_half, leg.knee))
    return (
        Line("hip", LineKind.LEVEL, Path.line(half.hip, half.centre.hip), "side", "centre"),
        Line("thigh", LineKind.LEVEL, thigh, "side", "inseam"),
        Line("knee", LineKind.LEVEL, knee, "side", "inseam"),
        Line("crease", LineKind.FOLD, Path.line(Point(0.0, foot), Point(0.0, top)), "hem", "top"),
    )


def _length_seams(r: Recorder, front: _Drawn) -> list[Seam]:
    return [
        Seam("trousers-side", Side(FRONT, "side"), Side(BACK, "side"), ("waist", "hip", "knee", "hem"), (0.0,) * 3),
        Seam(
            "trousers-inseam",
            Side(FRONT, "inseam"),
            Side(BACK, "inseam"),
            ("fork", "knee", "hem"),
            (-r["stretch of the inseam"], 0.0),
        ),
        Seam("trousers-crotch", Side(FRONT, "crotch"), Side(FRONT, "crotch"), ("fork", "fly-end"), (0.0,), across=True),
        Seam(
            "trousers-seat", Side(BACK, "seat"), Side(BACK, "seat"), ("waist", "hip", "fork"), (0.0, 0.0), across=True
        ),
    ]


def _record(r: Recorder, front: _Drawn, back: _Drawn) -> None:
    for of, drawn, over in ((FRONT, front, Transform()), (BACK, back, Transform.mirror_x())):
        half = drawn.half
        for name, rule, at in (
            ("hip at the side", "on the hip's line; the crease halves the width at the fork", half.hip),
            ("hip at the centre", "a half's hip from the side, square to the centre's line", half.centre.hip),
            ("waist at the centre", "up the centre's line from the hip", half.centre.waist),
            ("waist at the side", "raised, taken in from the hip's line", half.side.path.start),
            ("fork", "the fork's width beyond the centre's line", half.fork),
            ("knee at the side", "half its width from the crease", half.side.path.at(half.side.knee)),
            ("hem at the side", "half its width from the crease", half.side.path.end),
        ):
            r.found(name, of, rule, over(at))
        for name, rule, line in (
            ("side seam", "rounded over the hip, hollowed to the knee, straight below it", half.side.path),
            ("inseam", "straight to the knee, hollowed to the fork", half.inside.path),
            ("crotch", "a J: square to the inseams when they lie together, into the centre's line", drawn.crotch),
            ("hem", "so that it runs on round the leg", drawn.hem),
            ("waist", "square to centre and side with its folds closed, then opened", drawn.waist.edge()[0]),
        ):
            r.drawn(name, of, rule, line.moved(over))
    whole = front.crotch.length + back.crotch.length
    r.found(
        "whole crotch",
        "fork",
        "walked from waist to waist between the legs: hold it against the client's own; it is no shorter",
        whole,
    )


__all__ = ["draft_trousers"]
