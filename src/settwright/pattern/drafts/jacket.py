"""The fitted single-breasted jacket: frame, bodice, lapel, collar, facings and pockets put together as a Draft."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import pairwise

from settwright.body import Body
from settwright.geometry import Path, Point
from settwright.pattern.design import JacketDesign
from settwright.pattern.drafts.bodice import WHOLE_HIP, Bodice, dart_lines, draw_bodice
from settwright.pattern.drafts.collar import Collar, TurnOfCloth, draw_collar
from settwright.pattern.drafts.facing import draw_back_neck_facing, draw_front_facing
from settwright.pattern.drafts.frame import Frame, draw_frame, known_figures
from settwright.pattern.drafts.lapel import Lapel, draw_lapel, neck_heading
from settwright.pattern.drafts.pocket import Pocket, draw_pocket
from settwright.pattern.drafts.record import Recorder
from settwright.pattern.drafts.sleeve import draft_sleeve
from settwright.pattern.piece import (
    Cut,
    Draft,
    Edge,
    Line,
    LineKind,
    Mark,
    Meeting,
    Notch,
    Piece,
    Seam,
    Side,
    Touch,
)

HANG_END = 60.0
"""How far from the centre the jacket's hem is held against the skirt's bars."""


def draft_jacket(body: Body, design: JacketDesign, thickness: float) -> Draft:
    """Returns the jacket's draft: right halves in one frame (x from the centre back, y from the waist), collars and
    facings in the frame they are drawn in. `thickness` is that of the shell cloth.

    Raises Refusal that names the measurement or choice from which no jacket can be drawn.
    """
    r = Recorder(known_figures(body, design))
    frame = draw_frame(r)
    lapel = draw_lapel(r, frame, design)
    bodice = draw_bodice(r, frame, neck_heading(lapel), lapel.front_edge.start)
    turn = TurnOfCloth.of(thickness)
    collar = draw_collar(r, frame, bodice, lapel, turn)
    pocket = draw_pocket(r, frame, bodice.side_front)
    facing = draw_front_facing(r, frame, lapel, design, turn)
    neck_facing = draw_back_neck_facing(r, frame, bodice)
    sleeve_pieces, sleeve_seams, sleeve_steps = draft_sleeve(bodice.armhole, body, design)
    pieces = (
        _back(r, frame, bodice, collar),
        _side(frame, bodice),
        _front(r, frame, bodice, lapel, pocket),
        *sleeve_pieces,
        collar.under,
        collar.top,
        facing,
        neck_facing,
        pocket.flap,
        pocket.lining,
    )
    by_name = {piece.name: piece for piece in pieces}
    return Draft(
        name="jacket",
        pieces=pieces,
        seams=(*_seams(by_name), *sleeve_seams),
        touches=_touches(),
        record=(*r.steps, *sleeve_steps),
        levels=_levels(body, frame),
    )


def _levels(body: Body, frame: Frame) -> tuple[tuple[str, float], ...]:
    floor = body["waist_height"]
    named = (
        ("nape", frame.nape.y),
        ("scye", frame.scye),
        ("bust", frame.bust),
        ("waist", 0.0),
        ("hip", frame.hip),
        ("jacket-hem", frame.hem),
    )
    return tuple((name, floor + y) for name, y in named)


def _stops_at(edge: str, path: Path, levels: Iterable[tuple[str, float]]) -> list[Notch]:
    """Returns notches where an edge crosses body levels, for those that it does cross."""
    found: list[Notch] = []
    for name, y in levels:
        for at in path.where_y(y)[:1]:
            if WHOLE_HIP / 2 < at < path.length - WHOLE_HIP / 2:
                found.append(Notch(name, edge, at))
    return sorted(found, key=lambda notch: notch.at)


def _down(frame: Frame) -> list[tuple[str, float]]:
    return [("waist", 0.0), *([("hip", frame.hip)] if frame.hem < frame.hip - WHOLE_HIP else [])]


def _back(r: Recorder, frame: Frame, bodice: Bodice, collar: Collar) -> Piece:
    levels = _down(frame)
    side = bodice.side_back.left.reversed()
    armhole = bodice.back_armhole
    start = bodice.armhole.stop("underarm-back")
    waist = side.at(side.where_y(0.0)[0])
    darts, dart_points = dart_lines(
        r,
        "back",
        (frame.hollow + waist.x) / 2,
        width=frame.back_dart,
        top=frame.bust - 5.0,
        end=max(0.7 * frame.hip, frame.hem + 40.0),
    )
    return Piece(
        name="back",
        title="Back",
        cut=Cut.PAIR,
        edges=(
            Edge("centre-back", bodice.centre_back, "nape", "hem"),
            Edge("hem", bodice.back_hem, "centre-back", "side-back"),
            Edge("side-back", side, "hem", "underarm-back"),
            Edge("armhole", armhole, "underarm-back", "shoulder-point"),
            Edge(
                "shoulder", Path.line(frame.back_shoulder_point, frame.back_neck_point), "shoulder-point", "neck-point"
            ),
            Edge("neck", bodice.back_neck, "neck-point", "nape"),
        ),
        notches=(
            *_stops_at("centre-back", bodice.centre_back, [("blade", frame.blade), *levels]),
            Notch("hang-end", "hem", HANG_END),
            *_stops_at("side-back", side, levels),
            *(Notch(name, "armhole", bodice.armhole.stop(name) - start) for name in ("hindarm-top", "back-pitch")),
        ),
        lines=(
            Line("collar-edge", LineKind.PLACE, collar.edge_on_back, "centre-back", "shoulder"),
            *_level_lines(frame, bodice.centre_back, side),
            *darts,
        ),
        marks=dart_points,
        grain_mark=Point(waist.x / 2, 0.0),
    )


def _side(frame: Frame, bodice: Bodice) -> Piece:
    levels = _down(frame)
    left, right = bodice.side_back.right, bodice.side_front.left.reversed()
    start = bodice.armhole.stop("underarm-front")
    middle = left.at(left.where_y(0.0)[0]).between(right.at(right.where_y(0.0)[0]))
    return Piece(
        name="side",
        title="Side panel",
        cut=Cut.PAIR,
        edges=(
            Edge("side-back", left, "underarm-back", "hem"),
            Edge("hem", bodice.side_hem, "side-back", "side-front"),
            Edge("side-front", right, "hem", "underarm-front"),
            Edge("armhole", bodice.side_armhole, "underarm-front", "underarm-back"),
        ),
        notches=(
            *_stops_at("side-back", left, levels),
            *_stops_at("side-front", right, [*levels, ("under-bust", bodice.under_bust)]),
            Notch("underarm", "armhole", bodice.armhole.stop("underarm") - start),
        ),
        lines=_level_lines(frame, left, right),
        grain_mark=middle,
    )


def _front(r: Recorder, frame: Frame, bodice: Bodice, lapel: Lapel, pocket: Pocket) -> Piece:
    levels = _down(frame)
    side = bodice.side_front.right
    darts, dart_points = dart_lines(
        r,
        "front",
        frame.bust_point.x,
        width=frame.front_dart,
        top=frame.bust_point.y - 30.0,
        end=pocket.level,
    )
    hem, x = bodice.front_hem, frame.centre_front
    corner = lapel.front_edge
    on_centre = hem.where_x(x)[0] if corner.start.x > x else hem.length
    foot = Point(x, frame.hem) if corner.start.x > x else corner.at(corner.where_x(x)[0])
    neckline = lapel.edge.then(lapel.top, lapel.gorge)
    top = neckline.at(neckline.where_x(x)[-1])
    centre = Path.line(foot, top)
    return Piece(
        name="front",
        title="Front",
        cut=Cut.PAIR,
        edges=(
            Edge("side-front", side, "underarm-front", "hem"),
            Edge("hem", hem, "side-front", "front-corner"),
            Edge("front-edge", lapel.front_edge, "hem", "break-point"),
            Edge("lapel", lapel.edge, "break-point", "lapel-point"),
            Edge("lapel-top", lapel.top, "lapel-point", "notch"),
            Edge("gorge", lapel.gorge, "notch", "neck-point"),
            Edge(
                "shoulder",
                Path.line(frame.front_neck_point, frame.front_shoulder_point),
                "neck-point",
                "shoulder-point",
            ),
            Edge("armhole", bodice.front_armhole, "shoulder-point", "underarm-front"),
        ),
        notches=(
            *_stops_at("side-front", side, [*levels, ("under-bust", bodice.under_bust)]),
            Notch("hang-end", "hem", on_centre - HANG_END),
            Notch("centre-front", "hem", on_centre),
            *(Notch(name, "armhole", bodice.armhole.stop(name)) for name in ("front-pitch", "forearm-top")),
            Notch("waist", "centre-front", -foot.y),
            Notch("break-point", "centre-front", lapel.break_point.y - foot.y),
        ),
        marks=(
            *(Mark(f"button-{number}", at) for number, at in enumerate(lapel.buttons, 1)),
            Mark("bust-point", frame.bust_point),
            *dart_points,
        ),
        lines=(
            Line("centre-front", LineKind.CENTRE, centre, "hem", "gorge"),
            Line("roll-line", LineKind.ROLL, lapel.roll_line, "break-point", "neck"),
            pocket.place,
            *_level_lines(frame, side, centre),
            *darts,
        ),
        grain_mark=Point(x, 0.0),
    )


def _level_lines(frame: Frame, left: Path, right: Path) -> tuple[Line, ...]:
    """Returns the body's levels drawn across a piece from one edge to the other."""
    lines: list[Line] = []
    for name, y in (("bust", frame.bust), *_down(frame)):
        a, b = left.where_y(y), right.where_y(y)
        if a and b:
            lines.append(Line(name, LineKind.LEVEL, Path.line(left.at(a[0]), right.at(b[0]))))
    return tuple(lines)


def _seams(pieces: dict[str, Piece]) -> tuple[Seam, ...]:
    def seam(name: str, a: tuple[str, str], b: tuple[str, str], *stops: str, across: bool = False) -> Seam:
        piece_a, piece_b = pieces[a[0]], pieces[b[0]]
        kept = [stop for stop in stops if _has(piece_a, a[1], stop) and _has(piece_b, b[1], stop)]
        ease = [
            _between(piece_b, b[1], first, last) - _between(piece_a, a[1], first, last)
            for first, last in pairwise(kept)
        ]
        return Seam(name, Side(*a), Side(*b), tuple(kept), tuple(_clean(e) for e in ease), across)

    def both(name: str, a: str, b: str, edge: str, *stops: str) -> Seam:
        return seam(name, (a, edge), (b, edge), *stops)

    return (
        seam("centre-back", ("back", "centre-back"), ("back", "centre-back"), "nape", "blade", "waist", "hip", "hem",
             across=True),
        both("side-back", "back", "side", "side-back", "hem", "hip", "waist", "underarm-back"),
        both("side-front", "front", "side", "side-front", "hem", "hip", "waist", "under-bust", "underarm-front"),
        both("shoulder", "front", "back", "shoulder", "shoulder-point", "neck-point"),
        seam("under-collar-centre-back", ("under-collar", "centre-back"), ("under-collar", "centre-back"), "outer",
             "nape", across=True),
        seam("gorge", ("front", "gorge"), ("under-collar", "neck"), "notch", "neck-point"),
        both("neck", "back", "under-collar", "neck", "neck-point", "nape"),
        both("collar-outer", "under-collar", "top-collar", "outer", "centre-back", "shoulder", "collar-point"),
        both("collar-end", "under-collar", "top-collar", "end", "collar-point", "notch"),
        both("facing-front-edge", "front", "front-facing", "front-edge", "hem", "break-point"),
        both("facing-lapel", "front", "front-facing", "lapel", "break-point", "lapel-point"),
        both("facing-lapel-top", "front", "front-facing", "lapel-top", "lapel-point", "notch"),
        seam("facing-gorge", ("front-facing", "gorge"), ("top-collar", "neck"), "notch", "neck-point"),
        seam("facing-neck", ("back-neck-facing", "neck"), ("top-collar", "neck"), "neck-point", "nape"),
        seam("facing-shoulder", ("front-facing", "shoulder"), ("back-neck-facing", "shoulder"), "neck-point", "inner"),
    )  # fmt: skip


def _touches() -> tuple[Touch, ...]:
    return (
        Touch(
            "closing",
            Meeting.LAP,
            Side("front", "centre-front"),
            Side("front", "centre-front"),
            ("hem", "waist", "break-point"),
            across=True,
        ),
        Touch(
            "collar-on-back",
            Meeting.OVERLAY,
            Side("top-collar", "outer"),
            Side("back", "collar-edge"),
            ("centre-back", "shoulder"),
        ),
        Touch("flap", Meeting.OVERLAY, Side("flap", "top"), Side("front", "flap-place"), ("front-end", "back-end")),
    )


def _has(piece: Piece, edge: str, stop: str) -> bool:
    known = piece.edge(edge)
    return stop in (known.start, known.end) or any(n.edge == edge and n.name == stop for n in piece.notches)


def _between(piece: Piece, edge: str, first: str, last: str) -> float:
    return abs(piece.stop(edge, last) - piece.stop(edge, first))


def _clean(ease: float) -> float:
    """Rounds away what only arithmetic made."""
    return round(ease, 3) + 0.0
