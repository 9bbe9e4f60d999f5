"""Pieces laid together flat along a chain of seams, the darts that open on those seams closed."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from shapely import LineString, MultiLineString, Polygon

from settwright.geometry import Path, Point, Transform
from settwright.pattern.piece import Draft, Edge, Line, LineKind, Notch, Piece, Seam

OPENS_ON = {"side": ("shoulder", "raglan"), "shoulder": ("hem", "waist"), "gorge": ("hem", "waist")}  # closed
CORNER = 20.0  # millimetres that such an opening keeps from an edge's ends
STEP = 3.0  # millimetres along a seam over which its direction at a stop is taken


def assembled(draft: Draft, chain: Sequence[str]) -> list[tuple[Piece, Transform]]:
    """Returns the pieces of a chain of seams, each laid against its neighbour at the stop named, or the last one.

    They touch there and run the same way; below the waist seam of a side panel along its chord. A dart that opens on
    one of the seams, or on the gorge where the shoulder is sewn, is closed: what lies beyond it turns about its point,
    and the piece opens on another edge instead. Darts of the waist stay open.
    """
    waiting: list[tuple[Seam, str, str]] = []
    for link in chain:
        name, _, stop = link.partition("@")
        for seam in draft.seams:
            if seam.name == name:
                at = stop or seam.stops[-1]
                waiting.append((seam, at, seam.stops[0] if at != seam.stops[0] else seam.stops[1]))
    if not waiting:
        return []
    sewn: dict[str, list[str]] = {}
    for seam, _, _ in waiting:
        for side in (seam.a, seam.b):
            sewn.setdefault(side.piece, []).extend(("shoulder", "gorge") if side.edge == "shoulder" else (side.edge,))
    pieces = {name: _darts_closed(draft.piece(name), dict.fromkeys(edges)) for name, edges in sewn.items()}
    first = waiting[0][0]
    places = {(first.b if first.name == "shoulder" else first.a).piece: Transform()}
    while waiting:
        link = next((w for w in waiting if (w[0].a.piece in places) != (w[0].b.piece in places)), None)
        if link is None:
            break
        waiting.remove(link)
        seam, stop, other = link
        fixed, free = (seam.a, seam.b) if seam.a.piece in places else (seam.b, seam.a)
        step = math.inf if seam.name.startswith("waist-side") else STEP
        at, along = _stop(pieces[fixed.piece], fixed.edge, stop, other, step)
        free_at, free_along = _stop(pieces[free.piece], free.edge, stop, other, step)
        lay = Transform.turn(along.angle - free_along.angle, free_at).then(
            Transform.shift(at.x - free_at.x, at.y - free_at.y)
        )
        places[free.piece] = lay.then(places[fixed.piece])
    return [(pieces[name], place) for name, place in places.items()]


def _stop(piece: Piece, edge: str, stop: str, towards: str, step: float) -> tuple[Point, Point]:
    """Returns a stop's place and the direction from there of the seam's place a step on, at most the stop `towards`.

    Of a whole piece, on its right half.
    """
    if edge not in {e.name for e in piece.edges}:
        edge = f"{edge}.right"
    path = piece.edge(edge).path
    at, away = piece.stop(edge, stop), piece.stop(edge, towards)
    on = min(away, at + step) if away > at else max(away, at - step)
    return path.at(at), path.at(on) - path.at(at)


@dataclass(frozen=True)
class _Mouth:
    """Where a dart opens on an edge, by arc length, and its point."""

    dart: str
    edge: str
    low: float
    high: float
    point: Point


def _darts_closed(piece: Piece, edges: Iterable[str]) -> Piece:
    for edge in edges:
        opening = next((e for e in piece.edges if e.name in OPENS_ON.get(edge, ())), None)
        for mouth in _mouths(piece, edge):
            if opening is not None:
                piece = _closed(piece, mouth, opening)
    return piece


def _mouths(piece: Piece, edge: str) -> list[_Mouth]:
    points = {mark.name: mark.at for mark in piece.marks}
    at = {notch.name: notch.at for notch in piece.notches if notch.edge == edge}
    found: list[_Mouth] = []
    for dart in (name.removesuffix("-a") for name in at if name.endswith("-a")):
        if f"{dart}-b" in at and f"{dart}-point" in points:
            low, high = sorted((at[f"{dart}-a"], at[f"{dart}-b"]))
            found.append(_Mouth(dart, edge, low, high, points[f"{dart}-point"]))
    return found


def _closed(piece: Piece, mouth: _Mouth, opening: Edge) -> Piece:
    """Returns a piece whose dart is closed: what lies beyond it with the armhole is turned, and the piece opens from
    the dart's point straight up or down to another edge instead.
    """
    slit = next(iter(opening.path.where_x(mouth.point.x)), opening.path.length / 2)
    slit = min(max(slit, CORNER), opening.path.length - CORNER)
    names = [edge.name for edge in piece.edges]
    first, last = names.index(mouth.edge), names.index(opening.name)
    onwards, back = (_between(piece.edges, a, b) for a, b in ((first, last), (last, first)))
    turns_onwards = any(edge.name == "armhole" for edge in onwards)
    turned = onwards if turns_onwards else back
    path = piece.edge(mouth.edge).path
    low, high = path.at(mouth.low) - mouth.point, path.at(mouth.high) - mouth.point
    angle = low.angle - high.angle
    turn = Transform.turn(angle if turns_onwards else -angle, mouth.point)

    def parted(edge: Edge, at: tuple[float, float], *, is_later: bool, slit: bool = False) -> Path:
        """Returns an edge of which one part is turned, the parts joined or apart as a slit's sides."""
        before, after = edge.path.part(0.0, at[0]), edge.path.part(at[1], edge.path.length)
        before, after = (before, after.moved(turn)) if is_later else (before.moved(turn), after)
        return (
            before.then(Path.line(before.end, mouth.point, after.start), after)
            if slit
            else before.then(after.starting(before.end))
        )

    def changed(edge: Edge) -> Edge:
        if edge.name == mouth.edge:
            return replace(edge, path=parted(edge, (mouth.low, mouth.high), is_later=turns_onwards))
        if edge.name == opening.name:
            return replace(edge, path=parted(edge, (slit, slit), is_later=not turns_onwards, slit=True))
        return replace(edge, path=edge.path.moved(turn)) if edge in turned else edge

    def shifted(notch: Notch) -> Notch:
        if notch.edge == mouth.edge and notch.at > mouth.low:
            return replace(notch, at=max(mouth.low, notch.at - (mouth.high - mouth.low)))
        if notch.edge == opening.name and notch.at > slit:
            return replace(notch, at=notch.at + 2 * (opening.path.at(slit) - mouth.point).length)
        return notch

    start, end = path.part(mouth.high, path.length), opening.path.part(0.0, slit)
    if not turns_onwards:
        start, end = opening.path.part(slit, opening.path.length), path.part(0.0, mouth.low)
    ring = (start, *(edge.path for edge in turned), end)
    beyond = Polygon([(p.x, p.y) for p in (mouth.point, *(p for part in ring for p in part.points()))])
    lines = [line for line in piece.lines if not (line.kind is LineKind.DART and line.name.startswith(mouth.dart))]
    return replace(
        piece,
        edges=tuple(changed(edge) for edge in piece.edges),
        notches=tuple(shifted(notch) for notch in piece.notches),
        lines=tuple(part for line in lines for part in _line_parts(line, beyond, turn)),
    )


def _between(edges: Sequence[Edge], first: int, last: int) -> list[Edge]:
    """Returns the edges passed on the way round from one edge to another."""
    return [edges[i % len(edges)] for i in range(first + 1, last if last > first else last + len(edges))]


def _line_parts(line: Line, beyond: Polygon, turn: Transform) -> list[Line]:
    """Returns a drawn line in parts, those inside an area turned."""
    whole = LineString([(p.x, p.y) for p in line.path.points()])
    if not whole.intersects(beyond):
        return [line]
    if beyond.covers(whole):
        return [replace(line, path=line.path.moved(turn))]
    parts = [(whole.difference(beyond), Transform()), (whole.intersection(beyond), turn)]
    return [
        replace(line, path=Path.line(*(Point(x, y) for x, y in string.coords)).moved(by))
        for geometry, by in parts
        for string in (geometry.geoms if isinstance(geometry, MultiLineString) else [geometry])
        if isinstance(string, LineString) and string.length > 0.1
    ]
