"""The front cut in one with its facing: the front edge and the lapel's edge are then one straight fold.

The facing is drafted on its own, as seen from its right side, its front edge at the left; joined to the front's
right edge it lies as it will be cut, and folds back along that line.
"""

from __future__ import annotations

import math
from dataclasses import replace
from typing import TypeVar

from settwright.findings import refuse
from settwright.geometry import Path, Point, Transform
from settwright.pattern import Draft, Edge, Line, LineKind, Mark, Notch, Piece, Seam, Side, Touch

_Joined = TypeVar("_Joined", Seam, Touch)

FOLD = "front-edge"  # name of the fold's line on the joined front
PREFIX = "facing-"
_STRAIGHT = 0.1  # a fold may leave its chord by this much before it can't be pressed straight
_MEET = 1.5  # the facing's fold may differ in length by the turn of cloth that its draft gave it


def with_extended_facing(draft: Draft) -> Draft:
    """Returns the draft with front and facing joined along the fold; a draft without the two is returned as it is.

    Seams along the fold fall away; those of the facing's other edges name the front's `facing-…` edges.
    Raises Refusal where the front edge and lapel aren't one straight line.
    """
    names = {piece.name for piece in draft.pieces}
    if not {"front", "front-facing"} <= names:
        return draft
    front = joined_front(draft.piece("front"), draft.piece("front-facing"))
    return replace(
        draft,
        pieces=tuple(front if p.name == "front" else p for p in draft.pieces if p.name != "front-facing"),
        seams=tuple(_renamed(seam) for seam in draft.seams if not _lies_on_fold(seam)),
        touches=tuple(_renamed(touch) for touch in draft.touches),
    )


def joined_front(front: Piece, facing: Piece) -> Piece:
    """Returns the front with its facing beyond the fold, in the front's frame.

    Edges of the facing get the prefix `facing-`; the fold becomes the line `front-edge` of kind FOLD from hem to
    lapel-point, with the break point as a stop. Raises Refusal where the edge isn't straight.
    """
    front_edge, lapel = front.edge("front-edge"), front.edge("lapel")
    fold = Path.line(front_edge.path.start, lapel.path.end)
    chord = fold.end - fold.start
    strays = max(abs(chord.unit.cross(p - fold.start)) for p in front_edge.path.then(lapel.path).points())
    if strays > _STRAIGHT:
        raise refuse(
            "design.front_edge",
            f"an extended facing folds on a straight line, but the front edge and lapel leave it by {strays:.1f} mm.",
            "Choose a separate facing, or an edge with neither a rounded hem corner nor a shaped lapel.",
        )
    facing_hem, facing_tip = facing.edge("front-edge").path.end, facing.edge("lapel").path.start
    along = facing_tip - facing_hem
    turn = math.atan2(along.cross(chord), along.dot(chord))
    longer = along.length - chord.length
    if abs(longer) > _MEET:
        raise refuse(
            "front-facing",
            f"its front edge is {longer:.1f} mm longer than the front's, and the two can't be one fold.",
            "Give the facing the front's own edge.",
        )
    shift = fold.start - facing_hem
    placed = facing.moved(Transform.turn(turn, facing_hem).then(Transform.shift(shift.x, shift.y)))
    kept = _between(placed, "hem", "lapel-top")
    kept[0] = replace(kept[0], path=_from(kept[0].path, fold.start))
    kept[-1] = replace(kept[-1], path=_from(kept[-1].path.reversed(), fold.end).reversed())
    of_front = _between(front, "lapel-top", "hem")
    own = {edge.name for edge in of_front}
    own_facing = {edge.name for edge in kept}
    return replace(
        front,
        edges=(*of_front, *(replace(edge, name=PREFIX + edge.name) for edge in kept)),
        notches=(
            *(notch for notch in front.notches if notch.edge in own or _is_line(front, notch.edge)),
            Notch("break-point", FOLD, front_edge.path.length),
            *(replace(n, edge=PREFIX + n.edge) for n in placed.notches if n.edge in own_facing),
        ),
        marks=(*front.marks, *(Mark(PREFIX + mark.name, mark.at) for mark in placed.marks)),
        lines=(
            *front.lines,
            Line(FOLD, LineKind.FOLD, fold, front_edge.start, lapel.end),
            *(replace(line, name=PREFIX + line.name) for line in placed.lines),
        ),
    )


def _between(piece: Piece, first: str, last: str) -> list[Edge]:
    """Returns the edges from `first` to `last` in the order of the outline, both included."""
    names = [edge.name for edge in piece.edges]
    start = names.index(first)
    turned = [*piece.edges[start:], *piece.edges[:start]]
    return turned[: [edge.name for edge in turned].index(last) + 1]


def _from(path: Path, start: Point) -> Path:
    """Returns the path with its first point moved."""
    return Path((replace(path.segments[0], a=start), *path.segments[1:]))


def _is_line(piece: Piece, name: str) -> bool:
    return any(line.name == name for line in piece.lines)


def _lies_on_fold(seam: Seam) -> bool:
    return {seam.a.piece, seam.b.piece} == {"front", "front-facing"} and {seam.a.edge, seam.b.edge} <= {
        "front-edge",
        "lapel",
    }


def _renamed(joins: _Joined) -> _Joined:
    return replace(joins, a=_side(joins.a), b=_side(joins.b))


def _side(side: Side) -> Side:
    return Side("front", PREFIX + side.edge) if side.piece == "front-facing" else side
