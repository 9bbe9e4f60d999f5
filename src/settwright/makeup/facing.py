"""The front cut in one with its facing: where the front edge is a straight fold, the piece goes on beyond it.

The facing is drafted on its own, as seen from its right side, its front edge at the left; joined to the front's
right edge it lies as it will be cut, and folds back along that line. Only the straight part of the edge can be a fold.
Where the edge curves away below it (a rounded corner) or above it (a neckline that turns inwards) the two are sewn
along that part: between them gapes a wedge, a dart whose point is the end of the fold. A split facing's lower part
alone is joined so, up to the split.

Where a neck's edge is straight from the end of the fold on, it is a fold as well. A cloth folded over along an edge
that turns by an angle has twice that angle too much in what is folded over (for it to lie flat, every other angle
between the folds that meet at a point must make up half a turn): the facing is folded once more there, at the top
button, and its fold, cut open behind the buttonhole, finishes the hole's back.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import TypeVar

from shapely import Polygon

from settwright.findings import refuse
from settwright.geometry import Path, Point, Transform
from settwright.pattern import Draft, Edge, Line, LineKind, Mark, Notch, Piece, Seam, Side, Touch
from settwright.pattern.drafts.darts import opened, shifted

_Joined = TypeVar("_Joined", Seam, Touch)

FOLD = "front-edge"  # name of the fold's line on the joined front, where the whole edge is the fold
PART_FOLD = "front-fold"  # where a part of the edge remains an edge
CORNER = "corner"  # the edge below the fold
NECK = "neckline"  # name of the second fold, where the neck's edge is one
TOP_FOLD = "top-fold"  # of the facing, where it folds over at both: its stops, and with the prefix its legs
_UNCUT = 10.0  # before its point the fold isn't cut open
FRONT_FOLDS = (FOLD, PART_FOLD)
PREFIX = "facing-"
LOWER = "front-facing-lower"
_STRAIGHT = 0.1  # a fold may leave its chord by this much before it can't be pressed straight
_MEET = 2.5  # the facing's fold may differ in length by the turn of cloth that its draft gave it
_LEAST_FOLD = 60.0  # a shorter fold isn't worth cutting in one
_OVERLAP = 25.0  # mm²: front and facing laid out in one may not cover one another by more


def with_extended_facing(draft: Draft) -> Draft:
    """Returns the draft with front and facing joined along the fold; a draft without the two is returned as it is.

    Of a split facing the lower part is joined. Seams along the fold fall away; those of the facing's other edges name
    the front's `facing-…` edges. Raises Refusal where too little of the edge is straight, or the two would overlap.
    """
    names = {piece.name for piece in draft.pieces}
    part = LOWER if LOWER in names else "front-facing"
    if not {"front", part} <= names:
        return draft
    join = _joined(draft.piece("front"), draft.piece(part))
    seams = tuple(_renamed(seam, part) for seam in draft.seams if not _lies_on_fold(seam, part, join))
    made = replace(
        draft,
        pieces=tuple(join.front if p.name == "front" else p for p in draft.pieces if p.name != part),
        seams=(*(_from_the_fold(seam) if join.has_rest else seam for seam in seams), *join.seams),
        touches=tuple(_renamed(touch, part) for touch in draft.touches),
    )
    return _sewn_past_the_top_fold(made) if join.folds_at_neck else made


def joined_front(front: Piece, facing: Piece) -> Piece:
    """Returns the front with its facing beyond the fold, in the front's frame.

    Edges of the facing get the prefix `facing-`. Where the whole edge is the fold it becomes the line `front-edge` of
    kind FOLD, with the break point as a stop; else the line `front-fold`, and what is left of the edge keeps its name,
    below the fold `corner`. Raises Refusal where the edge can't be a fold.
    """
    return _joined(front, facing).front


@dataclass(frozen=True)
class _Join:
    front: Piece
    seams: tuple[Seam, ...]  # those of the wedge at the lower end
    has_rest: bool  # whether a part of the front edge above the fold remains an edge
    folds_at_neck: bool = False


@dataclass(frozen=True)
class _Fold:
    """The straight part of the front edge: from so far along `front-edge` to so far along it and its lapel."""

    start: float
    end: float
    start_name: str
    end_name: str
    takes_lapel: bool


def _joined(front: Piece, facing: Piece) -> _Join:
    fold = _fold_of(front, facing)
    edge = front.edge("front-edge").path
    whole = edge.then(front.edge("lapel").path) if fold.takes_lapel else edge
    low, high = whole.at(fold.start), whole.at(fold.end)
    placed = _placed(front, facing, fold, low, high)
    of_facing, corner_seams = _facing_edges(front, placed, fold, low, high)
    own, own_facing = _front_edges(front, fold), {e.name for e in of_facing}
    has_rest = any(e.name == "front-edge" for e in own)
    name = PART_FOLD if has_rest or fold.end_name == "split" else FOLD
    line = Line(name, LineKind.FOLD, Path.line(low, high), fold.start_name, fold.end_name)
    kept = {e.name for e in own} | {each.name for each in front.lines}
    piece = replace(
        front,
        edges=(*own, *of_facing),
        notches=(
            *_on_the_rest(front, fold, kept),
            *([Notch("break-point", name, edge.length - fold.start)] if fold.takes_lapel else []),
            *_facing_notches(placed, fold, own_facing),
        ),
        marks=(*front.marks, *(Mark(PREFIX + mark.name, mark.at) for mark in placed.marks)),
        lines=(*front.lines, line, *(replace(each, name=PREFIX + each.name) for each in placed.lines)),
    )
    _check(front, facing, piece)
    if not has_rest and _is_straight(front, NECK):
        return _Join(_folded_at_neck(piece), corner_seams, has_rest, folds_at_neck=True)
    return _Join(piece, corner_seams, has_rest)


def _fold_of(front: Piece, facing: Piece) -> _Fold:
    edge = front.edge("front-edge")
    segments = edge.path.segments
    first = next((i for i, segment in enumerate(segments) if segment.is_straight), len(segments))
    start = sum(segment.length for segment in segments[:first])
    start_name = edge.start if start == 0.0 else "fold-end"
    if any(e.name == "split" for e in facing.edges):
        return _Fold(start, front.stop("front-edge", "split"), start_name, "split", takes_lapel=False)
    has_lapel = any(e.name == "lapel" for e in front.edges)
    along = edge.path.then(front.edge("lapel").path) if has_lapel else edge.path
    low = along.at(start)
    chord = (along.end - low).unit if has_lapel else segments[min(first, len(segments) - 1)].tangent(0.0)
    end = start
    for segment in along.segments[first:]:
        if max(abs(chord.cross(p - low)) for p in (segment.at(k / 6) for k in range(7))) > _STRAIGHT:
            break
        end += segment.length
    if has_lapel and end < along.length - 1e-6:
        strays = max(abs(chord.cross(p - low)) for p in along.part(start, along.length).points())
        raise refuse(
            "design.front_edge",
            f"an extended facing folds on a straight line, but the front edge and lapel leave it by {strays:.1f} mm.",
            'Split the facing (front_edge = "split"): its lower part can still be cut in one with the front; or choose'
            " a separate facing.",
        )
    if end - start < _LEAST_FOLD:
        raise refuse(
            "design.front_edge",
            f"only {end - start:.0f} mm of the front edge are straight, too little for a fold.",
            "Choose a separate facing.",
        )
    at_top = end > edge.path.length - 1e-6
    name = "lapel-point" if has_lapel else "break-point" if at_top else "fold-top"
    return _Fold(start, end if has_lapel else min(end, edge.path.length), start_name, name, has_lapel)


def _placed(front: Piece, facing: Piece, fold: _Fold, low: Point, high: Point) -> Piece:
    """Returns the facing laid against the fold, its lower end on the fold's."""
    own = facing.edge("front-edge").path
    tip = facing.edge("lapel").path.start if fold.takes_lapel else own.at(_rest(front, facing, fold))
    heel = own.at(own.length - fold.start) if fold.start > 0 else own.end
    along, chord = tip - heel, high - low
    longer = along.length - chord.length
    if abs(longer) > _MEET:
        raise refuse(
            "front-facing",
            f"its front edge is {longer:.1f} mm longer than the front's, and the two can't be one fold.",
            "Give the facing the front's own edge.",
        )
    turn = math.atan2(along.cross(chord), along.dot(chord))
    shift = low - heel
    return facing.moved(Transform.turn(turn, heel).then(Transform.shift(shift.x, shift.y)))


def _rest(front: Piece, facing: Piece, fold: _Fold) -> float:
    """Returns how much of the front edge, from the break point down, isn't folded; none where it ends in a split."""
    if fold.takes_lapel or fold.end_name == "split":
        return 0.0
    return front.edge("front-edge").path.length - fold.end


def _facing_edges(
    front: Piece, placed: Piece, fold: _Fold, low: Point, high: Point
) -> tuple[tuple[Edge, ...], tuple[Seam, ...]]:
    """Returns the facing's edges beyond the fold, from its lower end round to its upper one, and the corner's seam."""
    own = placed.edge("front-edge")
    index = [edge.name for edge in placed.edges].index("front-edge")
    round_it = [*placed.edges[index + 1 :], *placed.edges[:index]]
    if fold.takes_lapel:
        round_it = [edge for edge in round_it if edge.name != "lapel"]
    kept = [replace(edge, name=PREFIX + edge.name) for edge in round_it]
    seams: tuple[Seam, ...] = ()
    if fold.start > 0:
        path = own.path.part(own.path.length - fold.start, own.path.length)
        kept.insert(0, Edge(PREFIX + CORNER, path.starting(low), "fold-end", own.end))
        ease = round(path.length - fold.start, 3) + 0.0
        front_side, other = Side("front", CORNER), Side("front", PREFIX + CORNER)
        seams = (Seam(PREFIX + CORNER, front_side, other, (own.end, "fold-end"), (ease,)),)
    else:
        kept[0] = replace(kept[0], path=kept[0].path.starting(low))
    rest = _rest(front, placed, fold)
    if rest > 1e-6:
        kept.append(Edge(PREFIX + "front-edge", own.path.part(0.0, rest).ending(high), own.start, "fold-top"))
    else:
        kept[-1] = replace(kept[-1], path=kept[-1].path.ending(high))
    return tuple(kept), seams


def _front_edges(front: Piece, fold: _Fold) -> list[Edge]:
    """Returns the front's own edges from the upper end of the fold round to its lower one."""
    edge = front.edge("front-edge")
    names = [each.name for each in front.edges]
    index = names.index("front-edge")
    round_it = [*front.edges[index + 1 :], *front.edges[:index]]
    if fold.takes_lapel:
        round_it = [each for each in round_it if each.name != "lapel"]
    elif fold.end < edge.path.length - 1e-6:
        rest = edge.path.part(fold.end, edge.path.length)
        round_it.insert(0, Edge("front-edge", rest, fold.end_name, edge.end))
    if fold.start > 0:
        round_it.append(Edge(CORNER, edge.path.part(0.0, fold.start), edge.start, "fold-end"))
    return round_it


def _on_the_rest(front: Piece, fold: _Fold, kept: set[str]) -> list[Notch]:
    """Returns the front's notches, those above the fold on what is left of its edge; those on the fold fall away."""
    found: list[Notch] = []
    for notch in front.notches:
        if notch.edge != "front-edge":
            found += [notch] if notch.edge in kept else []
        elif "front-edge" in kept and notch.at > fold.end + 1e-6:
            found.append(replace(notch, at=notch.at - fold.end))
    return found


def _facing_notches(placed: Piece, fold: _Fold, own: set[str]) -> list[Notch]:
    gone = ("front-edge", "lapel") if fold.takes_lapel else ("front-edge",)
    return [replace(n, edge=PREFIX + n.edge) for n in placed.notches if n.edge not in gone and PREFIX + n.edge in own]


def _is_straight(piece: Piece, name: str) -> bool:
    return any(edge.name == name and all(s.is_straight for s in edge.path.segments) for edge in piece.edges)


def _folded_at_neck(front: Piece) -> Piece:
    """Returns a front joined with its facing along the front edge, joined along the neck's edge too.

    The facing's part above the break point is turned about it until the two edges meet; what opens below that part,
    across the facing, is its fold.
    """
    edges = {edge.name: edge for edge in front.edges}
    neck, own = edges[NECK], edges[PREFIX + NECK].path.reversed()
    pivot, along = neck.path.start, neck.path.end - neck.path.start
    away = own.end - own.start
    opening = Transform.turn(math.atan2(away.cross(along), away.dot(along)), pivot)
    inner = edges[PREFIX + "inner"]
    at = inner.path.where_y(pivot.y)[0]
    mouth = opened(inner, at, opening, pivot, short=0.0, name=TOP_FOLD, first=False)
    middle = mouth.legs.path.start.between(mouth.legs.path.end)
    shoulder = edges[PREFIX + "shoulder"]
    moved = {
        inner.name: mouth.edge,
        shoulder.name: replace(shoulder, path=shoulder.path.moved(opening).ending(neck.path.end)),
    }
    folds = (NECK, PREFIX + NECK)
    kept = [notch for notch in front.notches if notch.edge not in (inner.name, folds[1])]
    on_inner = tuple(notch for notch in front.notches if notch.edge == inner.name)
    return replace(
        front,
        edges=tuple(moved.get(edge.name, edge) for edge in front.edges if edge.name not in folds),
        notches=(*kept, *shifted(on_inner, mouth, at), *mouth.notches),
        lines=(
            *front.lines,
            Line(NECK, LineKind.FOLD, neck.path, neck.start, neck.end),
            replace(mouth.legs, name=PREFIX + TOP_FOLD),
            Line(f"{PREFIX}{TOP_FOLD}-cut", LineKind.PLACE, Path.line(pivot.towards(middle, _UNCUT), middle)),
        ),
    )


def _sewn_past_the_top_fold(draft: Draft) -> Draft:
    """Returns the draft with what is sewn along the facing's inner edge sewn up to its fold, and on from it."""
    for seam in draft.seams:
        side = Side("front", PREFIX + "inner")
        if side in (seam.a, seam.b):
            draft = _parted(draft, seam, other=seam.b if seam.a == side else seam.a, folded=side)
    return draft


def _parted(draft: Draft, seam: Seam, *, other: Side, folded: Side) -> Draft:
    """Returns the draft with a seam parted at the fold's mouth, the piece beside it marked there."""
    front, beside = draft.piece(folded.piece), draft.piece(other.piece)
    places = [front.stop(folded.edge, stop) for stop in seam.stops]
    first, last = f"{TOP_FOLD}-a", f"{TOP_FOLD}-b"
    start, end = front.stop(folded.edge, first), front.stop(folded.edge, last)
    i = next((i for i, (a, b) in enumerate(pairwise(places)) if a < start and end < b), None)
    if i is None:
        return draft
    share = (start - places[i]) / (places[i + 1] - places[i] - (end - start))
    on_other = [beside.stop(other.edge, stop) for stop in seam.stops[i : i + 2]]
    at = on_other[0] + (on_other[1] - on_other[0]) * share
    marked = replace(beside, notches=(*beside.notches, *(Notch(stop, other.edge, at) for stop in (first, last))))
    eased = (round(seam.ease[i] * share, 3), round(seam.ease[i] * (1 - share), 3))
    parts = (
        replace(seam, stops=(*seam.stops[: i + 1], first), ease=(*seam.ease[:i], eased[0])),
        replace(
            seam,
            name=f"{seam.name}-above",
            stops=(last, *seam.stops[i + 1 :]),
            ease=(eased[1], *seam.ease[i + 1 :]),
        ),
    )
    return replace(
        draft,
        pieces=tuple(marked if piece is beside else piece for piece in draft.pieces),
        seams=tuple(part for each in draft.seams for part in (parts if each is seam else (each,))),
    )


def _check(front: Piece, facing: Piece, piece: Piece) -> None:
    """Raises Refusal where the facing's edge leans over the front's: both can't be cut from one piece of cloth."""
    shape = Polygon([(p.x, p.y) for p in piece.outline.points()])
    if shape.is_valid and shape.area > abs(front.area) + abs(facing.area) - _OVERLAP:
        return
    raise refuse(
        "design.front_edge",
        "above its fold the edge leans outwards, so that front and facing would be cut from the same cloth.",
        'Split the facing (front_edge = "split") below the break point, or choose a separate facing.',
    )


def _lies_on_fold(seam: Seam, part: str, join: _Join) -> bool:
    folds = {"front-edge", "lapel", *([NECK] if join.folds_at_neck else [])}
    if {seam.a.piece, seam.b.piece} != {"front", part} or not {seam.a.edge, seam.b.edge} <= folds:
        return False
    return part == LOWER or not join.has_rest or seam.a.edge != "front-edge"


def _from_the_fold(seam: Seam) -> Seam:
    """Returns the front edge's seam as far as it is still sewn: from the end of the fold to the break point."""
    if {seam.a.edge, seam.b.edge} == {"front-edge", PREFIX + "front-edge"}:
        return replace(seam, stops=("fold-top", "break-point"), ease=(0.0,))
    return seam


def _renamed(joins: _Joined, part: str) -> _Joined:
    return replace(joins, a=_side(joins.a, part), b=_side(joins.b, part))


def _side(side: Side, part: str) -> Side:
    return Side("front", PREFIX + side.edge) if side.piece == part else side
