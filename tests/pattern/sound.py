"""What must hold of every jacket body, whatever its cut: checks that any draft can be put to."""

from __future__ import annotations

import itertools
import math

import pytest
from shapely.geometry import LineString, Polygon

from settwright.body import Body
from settwright.commission.design import JacketDesign, LowerSection
from settwright.geometry import Path, Point
from settwright.geometry.tolerances import GIRTH, WALK
from settwright.pattern import Draft, LineKind, Piece
from settwright.pattern.piece import Line, Seam

BODY = ("back", "side", "side-back", "side-front", "front")
DOWN_THE_BODY = ("side-back", "side-front", "side", "princess-back", "princess-front")
OVER = ("shoulder", "side-shoulder")


def polygon(piece: Piece) -> Polygon:
    """Returns a piece's outline as a polygon, to 0.02 mm."""
    return Polygon([(p.x, p.y) for p in piece.outline.points()])


def interior(piece: Piece, first: str, second: str) -> float:
    """Returns the angle inside a piece at the corner where one edge ends and the next starts."""
    return _inside(piece.edge(first).path.end_tangent, piece.edge(second).path.start_tangent)


def _inside(arriving: Point, leaving: Point) -> float:
    return math.pi - math.atan2(arriving.cross(leaving), arriving.dot(leaving))


def corner(piece: Piece, edge: str, stop: str) -> float:
    """Returns the angle inside a piece at one end of an edge."""
    names = [e.name for e in piece.edges]
    at = names.index(edge)
    if stop == piece.edges[at].end:
        return interior(piece, edge, names[(at + 1) % len(names)])
    assert stop == piece.edges[at].start, (piece.name, edge, stop)
    return interior(piece, names[at - 1], edge)


def is_end(piece: Piece, edge: str, stop: str) -> bool:
    """Whether a stop is an end of an edge."""
    return stop in (piece.edge(edge).start, piece.edge(edge).end)


def body_seams(draft: Draft) -> list[Seam]:
    """Returns the seams down the body and over the shoulder."""
    names = [*DOWN_THE_BODY, *OVER]
    return [s for s in draft.seams if s.name.removesuffix("-2").removesuffix("-lower") in names]


def body_pieces(draft: Draft) -> list[Piece]:
    """Returns back, front and what lies between them, above a waist seam where there is one."""
    return [p for p in draft.pieces if p.name in BODY]


def lower_pieces(draft: Draft) -> list[Piece]:
    """Returns the pieces of the body below a waist seam."""
    return [p for p in draft.pieces if p.name.endswith("-lower") and p.name.removesuffix("-lower") in BODY]


def mouths(piece: Piece, edge: str) -> list[tuple[float, float]]:
    """Returns from where to where darts open on an edge: pairs of arc lengths."""
    at = {n.name: n.at for n in piece.notches if n.edge == edge}
    pairs = [(at[name], at[f"{name[:-2]}-b"]) for name in at if name.endswith("-a") and f"{name[:-2]}-b" in at]
    return [(min(pair), max(pair)) for pair in pairs if abs(pair[0] - pair[1]) > 1e-6]


def check_walks(draft: Draft, ease: dict[str, tuple[float, float]]) -> None:
    """Each seam's edges are as long as it says; over the whole seam side b is longer by what `ease` allows."""
    for seam in draft.seams:
        a, b = draft.piece(seam.a.piece), draft.piece(seam.b.piece)
        assert len(seam.ease) == len(seam.stops) - 1 >= 1, seam.name
        for (first, last), stated in zip(itertools.pairwise(seam.stops), seam.ease, strict=True):
            on_a = abs(a.stop(seam.a.edge, last) - a.stop(seam.a.edge, first))
            on_b = abs(b.stop(seam.b.edge, last) - b.stop(seam.b.edge, first))
            assert on_b - on_a == pytest.approx(stated, abs=WALK), (seam.name, first, last)
        if seam in body_seams(draft) or seam.name.startswith("waist-") or seam.across:
            low, high = ease.get(seam.name.removesuffix("-lower"), (0.0, 0.0))
            assert low - WALK <= sum(seam.ease) <= high + WALK, (seam.name, seam.ease)


def check_smooth(draft: Draft) -> None:
    """Neck, armhole, waist and hem run on through every seam of the body, and no edge has a corner of its own."""
    for seam in body_seams(draft):
        a, b = draft.piece(seam.a.piece), draft.piece(seam.b.piece)
        for stop in (seam.stops[0], seam.stops[-1]):
            if is_end(a, seam.a.edge, stop) and is_end(b, seam.b.edge, stop):
                both = corner(a, seam.a.edge, stop) + corner(b, seam.b.edge, stop)
                assert math.degrees(both) == pytest.approx(180, abs=1.0), (seam.name, stop)
    for piece in draft.pieces:
        if piece.name.removesuffix("-lower") not in BODY:
            continue
        names = [e.name for e in piece.edges]
        if "centre-back" in names:
            for stop in (piece.edge("centre-back").start, piece.edge("centre-back").end):
                assert math.degrees(corner(piece, "centre-back", stop)) == pytest.approx(90, abs=0.5), piece.name
        for edge in piece.edges:
            check_fair(piece, edge.name)


def check_fair(piece: Piece, edge: str) -> None:
    """An edge has no corner but at a dart's mouth, and with the dart closed it runs on there."""
    path, at = piece.edge(edge).path, 0.0
    darts = mouths(piece, edge)
    for before, after in itertools.pairwise(path.segments):
        at += before.length
        t0, t1 = before.tangent(1.0), after.tangent(0.0)
        turn = math.degrees(math.atan2(t0.cross(t1), t0.dot(t1)))
        if any(low - 1e-6 <= at <= high + 1e-6 for low, high in darts):
            continue
        assert abs(turn) < 0.5, f"{piece.name}, {edge}: a corner of {turn:.2f}° at {before.d}"
    for low, high in darts:
        into_a, into_b = leg_from(piece, path.at(low)), leg_from(piece, path.at(high))
        both = _inside(path.tangent(low - 0.001), into_a) + _inside(-into_b, path.tangent(high + 0.001))
        assert math.degrees(both) == pytest.approx(180, abs=0.6), f"{piece.name}, {edge}: a dart closes at an angle"


def leg_from(piece: Piece, mouth: Point) -> Point:
    """Returns the direction in which a dart's leg leaves its mouth."""
    for line in piece.lines:
        if line.kind is LineKind.DART:
            if (line.path.start - mouth).length < 1e-4:
                return line.path.start_tangent
            if (line.path.end - mouth).length < 1e-4:
                return -line.path.end_tangent
    raise AssertionError(f"{piece.name} has a mouth without a dart")


def check_outlines(draft: Draft) -> None:
    """No outline crosses itself, and each runs counter-clockwise with its grain mark inside."""
    for piece in draft.pieces:
        shape = polygon(piece)
        assert shape.is_valid, piece.name
        assert piece.area > 0, f"{piece.name} doesn't run counter-clockwise"
        if piece.name.removesuffix("-lower") in BODY:
            mark = (piece.grain_mark.x, piece.grain_mark.y)
            assert shape.buffer(0.05).covers(LineString([mark, mark])), piece.name


def width_at(piece: Piece, y: float, right: float = math.inf) -> float:
    """Returns how wide a piece is at a level, up to x = right, less what its waist dart takes out there."""
    line = LineString([(-500.0, y), (min(right, 2000.0), y)])
    width = polygon(piece).intersection(line).length
    legs = [line.path for line in piece.lines if line.name in ("dart-back-leg", "dart-front-leg")]
    crossings = [leg.at(at).x for leg in legs for at in leg.where_y(y)[:1]]
    assert len(crossings) in (0, 2)
    return width - (max(crossings) - min(crossings) if crossings else 0.0)


def with_side_dart_closed(piece: Piece, y: float) -> float:
    """Returns how much wider the front is at a level once its side dart is closed about the bust point."""
    dart = next((line for line in piece.lines if line.name == "bust-dart"), None)
    if dart is None:
        return 0.0
    bust = piece.mark("bust-point")
    a, b = dart.path.start - bust, dart.path.end - bust
    turn = math.atan2(a.cross(b), a.dot(b))
    side = piece.edge("side").path
    upper = side.part(0.0, piece.stop("side", "bust-dart-a"))
    shut = [bust + (p - bust).rotated(turn) for p in upper.points()]
    edge = LineString([(p.x, p.y) for p in shut])
    cut = edge.intersection(LineString([(bust.x - 600, y), (bust.x, y)]))
    open_at = LineString([(p.x, p.y) for p in side.points()]).intersection(LineString([(bust.x - 600, y), (bust.x, y)]))
    return open_at.bounds[0] - cut.bounds[0]


def check_girths(draft: Draft, body: Body, design: JacketDesign) -> None:
    """Finished girths at bust, waist and hip are the body's plus the ease."""
    level = {name: y - dict(draft.levels)["waist"] for name, y in draft.levels}
    centre = draft.piece("front").edge("centre-front").path.start.x
    pieces = body_pieces(draft)
    bust = 2 * sum(width_at(p, level["bust"], centre) for p in pieces)
    bust += 2 * with_side_dart_closed(draft.piece("front"), level["bust"])
    assert bust == pytest.approx(body["bust_girth"] + design.ease.bust, abs=GIRTH), "bust"
    over_waist = 0.02 if design.waist_seam else 0.0
    waist = 2 * sum(width_at(p, over_waist, centre) for p in pieces)
    assert waist == pytest.approx(body["waist_girth"] + design.ease.waist, abs=GIRTH), "waist"
    if level["hip"] <= level["jacket-hem"] + 5:
        return  # the jacket ends above its hip
    wanted = body["hip_girth"] + design.ease.hip
    if not design.waist_seam:
        hip = 2 * sum(width_at(p, level["hip"], centre) for p in pieces)
    else:
        lower = lower_pieces(draft)
        hip = 2 * sum(width_at(p, level["hip"], centre) for p in lower)
        if design.lower_section is LowerSection.PADDED_HIP:
            hip = 2 * sum(_between_hips(p, centre) for p in lower)
            wanted += 4 * design.hip_pad
        if design.lower_section is LowerSection.FLARED:
            hip = 2 * sum(_round_at(p, -level["hip"], centre) for p in lower)
            wanted += design.flare * level["hip"] / level["jacket-hem"]
    assert hip == pytest.approx(wanted, abs=GIRTH), "hip"


def _between_hips(piece: Piece, centre: float) -> float:
    """Returns how far apart the hip stops of a padded section lie, or the stop and the centre."""
    left, right = piece.edges[0], piece.edges[2]
    a = left.path.at(piece.stop(left.name, "hip")).x
    b = centre if right.name == "front-edge" else right.path.at(piece.stop(right.name, "hip")).x
    return b - a


def _round_at(piece: Piece, depth: float, centre: float) -> float:
    """Returns how wide a flared section is at a depth below its waist, measured along the ring."""
    left, right = piece.edges[0].path, piece.edges[2].path.reversed()
    if piece.edges[2].name == "front-edge":
        right = Path.line(Point(centre, 0.0), Point(centre, -1000.0))
    along_left, along_right = left.start_tangent, right.start_tangent
    a, b = left.at(depth), right.start + along_right * depth
    turn = math.atan2(along_left.cross(along_right), along_left.dot(along_right))
    chord = (b - a).length
    return chord if turn < 1e-6 else chord * (turn / 2) / math.sin(turn / 2)


def check_darts(draft: Draft) -> None:
    """The legs of every dart are equally long."""
    for piece in draft.pieces:
        pairs = [line for line in piece.lines if line.name in ("dart-back-leg", "dart-front-leg")]
        if pairs:
            assert pairs[0].path.length == pytest.approx(pairs[1].path.length, abs=0.01), piece.name
        for line in piece.lines:
            if line.kind is LineKind.DART and line not in pairs:
                first, second = _legs(line)
                assert first == pytest.approx(second, abs=0.01), (piece.name, line.name)
                tip = line.path.segments[0].d
                assert polygon(piece).buffer(-8).covers(LineString([(tip.x, tip.y)] * 2)), (piece.name, line.name)


def _legs(line: Line) -> tuple[float, float]:
    return tuple(segment.length for segment in line.path.segments)  # type: ignore[return-value]


def level_drift(draft: Draft, seam_name: str, stop: str) -> float:
    """Returns by how much the edges of a seam differ in level at equal lengths from the hem up to a stop."""
    seam = next(s for s in draft.seams if s.name == seam_name)
    a, b = draft.piece(seam.a.piece), draft.piece(seam.b.piece)
    worst = 0.0
    for part in range(25):
        levels = [
            p.edge(seam_name)
            .path.at(p.stop(seam_name, "hem") + (p.stop(seam_name, stop) - p.stop(seam_name, "hem")) * part / 24)
            .y
            for p in (a, b)
        ]
        worst = max(worst, abs(levels[0] - levels[1]))
    return worst
