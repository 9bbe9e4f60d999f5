"""A figure that is not even: how its halves differ, and one draft that holds the own shape of each.

The trade drafts for the higher shoulder and the mean of the hips, and then alters the paper of one side. A low shoulder
is drawn with the half (`drafts.low_shoulder`); the side seam of a full hip goes out, tapering to nothing at the waist,
both edges alike. Common practice, no source.

Every function takes a piece drawn as the wearer's right half and returns one drawn so; for the left, mirror it after.
"""

from __future__ import annotations

import itertools
import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cache

from settwright.body import Body
from settwright.geometry import Path, Point
from settwright.pattern.drafts.bending import swing
from settwright.pattern.drafts.low_shoulder import LOW_SHOULDER, with_low_strap
from settwright.pattern.drafts.reshaping import Shift, bent, reshaped
from settwright.pattern.drafts.trousers_pocket import with_own_pocket
from settwright.pattern.piece import Draft, Edge, Piece, Side, Step

_AT_THE_HIP = 0.01  # millimetres below the hip at which a hem lies at it


@dataclass(frozen=True, slots=True)
class Half:
    """How one half of a figure differs from the even one; millimetres."""

    shoulder_drop: float = 0.0  # of the shoulder point
    hip_out: float = 0.0  # of the half's girth at the hip, more (less where negative) than half the hip girth

    @property
    def is_even(self) -> bool:
        """Whether nothing differs."""
        return self.shoulder_drop == 0.0 and self.hip_out == 0.0


def halves_of(body: Body) -> tuple[Half, Half]:
    """Returns the right and the left half of a figure.

    The hip girth is the client's whole one: what one half has more than the other is added to it by half, and taken
    from the other by half.
    """
    known = {measure.name: measure.value for measure in body.measures}
    more = (known.get("full_hip_right", 0.0) - known.get("full_hip_left", 0.0)) / 2
    return (
        Half(known.get("low_shoulder_right", 0.0), more + 0.0),
        Half(known.get("low_shoulder_left", 0.0), -more + 0.0),
    )


def in_halves(right: Draft, left: Draft) -> Draft:
    """Returns one draft of two that were drawn each for its own half; the record tells how either was lowered."""
    lowered = (step for step in left.record if step.of == LOW_SHOULDER)
    record = [
        *(replace(step, of="low right shoulder") if step.of == LOW_SHOULDER else step for step in right.record),
        *(replace(step, of="low left shoulder") for step in lowered),
    ]
    return replace(right.with_left(left), record=tuple(record))


def with_own_straps(draft: Draft, right: Half, left: Half, shoulder_length: float) -> Draft:
    """Returns a skirt whose bodice top has each strap turned down with its shoulder, neck and armhole following; a
    draft without such a top as it is."""
    begins = next((step.value for step in draft.record if step.name == "strap begins"), None)
    if begins is None or right.shoulder_drop == left.shoulder_drop == 0.0:
        return draft

    def lowered(piece: Piece, half: Half) -> Piece:
        names = {edge.name for edge in piece.edges}
        sides = [(f"shoulder.{hand}", own) for hand, own in (("right", right), ("left", left))]
        for edge, own in [*sides, ("shoulder", half)]:
            if edge in names and own.shoulder_drop:
                piece = with_low_strap(piece, edge, own.shoulder_drop, begins, shoulder_length)
        return piece

    ours = tuple(lowered(piece, right) for piece in draft.pieces)
    theirs = tuple(lowered(piece, left) for piece in draft.of_left.pieces)
    return replace(draft, pieces=ours).with_left(replace(draft.of_left, pieces=theirs))


def hips_may_differ(draft: Draft) -> bool:
    """Returns whether a draft has a seam over the hip that can be moved alone."""
    return bool(hip_edges(draft))


def with_own_hips(draft: Draft, right: Half, left: Half, waist_to_hip: float) -> Draft:
    """Returns a draft whose halves have each its own hip: the right one in its pieces, the left one in `left`.

    The hip's part is shared evenly by the side seams' edges, or where there are none by all that run over the hip; the
    princess seams, fitted to the bust, stay. A draft whose hips can't differ
    (`hips_may_differ`) stays as it is. A piece drawn with both its halves gets both shapes at once.
    """
    over = hip_edges(draft)
    edges = tuple(found for found in over if found[1].startswith("side")) or over
    if not hips_may_differ(draft) or right.hip_out == left.hip_out == 0.0:
        return draft
    of_left = draft.of_left
    ours = _hip_shifts(draft, edges, right.hip_out / len(edges), waist_to_hip)
    others = [(of, re.sub(r"\.right$", ".left", edge)) for of, edge in edges]
    theirs = _hip_shifts(of_left, others, left.hip_out / len(edges), waist_to_hip)
    pieces: list[Piece] = []
    lefts: list[Piece] = []
    for piece, other in zip(draft.pieces, of_left.pieces, strict=True):
        on_right, on_left = ({e: by for (of, e), by in half.items() if of == piece.name} for half in (ours, theirs))
        if not on_right:
            pieces.append(piece)
            lefts += [other] if other is not piece else []
        elif on_right.keys() == on_left.keys():
            pieces.append(reshaped(piece, on_right))
            lefts.append(reshaped(other, on_left))
        else:
            pieces.append(reshaped(piece, on_right | on_left))
    record = (*draft.record, *_of_the_hips(right, left, len(edges)))
    return replace(draft, pieces=_with_pocket(pieces), left=_with_pocket(lefts), record=record)


def _of_the_hips(right: Half, left: Half, edges: int) -> Iterator[Step]:
    """Yields what the record tells of each half's side."""
    for hand, half in (("right", right), ("left", left)):
        more = ((f"the {hand} half's part of the hip girth beyond one half of it", half.hip_out),)
        yield Step(
            f"{hand} side, out at the hip",
            "full hip",
            "what this half takes more than half the hip girth, less where it takes less, shared by the edges that run"
            " over it; from nothing at the waist",
            more,
            value=half.hip_out / edges,
        )


def _with_pocket(half: Sequence[Piece]) -> tuple[Piece, ...]:
    """Returns the pieces of a half with the slant pocket, if it has one, cut anew for its own side seam."""
    front = next((piece for piece in half if piece.name == "trousers-front"), None)
    if front is None or not any(line.name == "pocket-line" for line in front.lines):
        return tuple(half)
    own = {piece.name: piece for piece in with_own_pocket(front)}
    return (*(own.pop(piece.name, piece) for piece in half), *own.values())


def hip_edges(draft: Draft) -> tuple[tuple[str, str], ...]:
    """Returns the edges of a draft's half, as (piece, edge), that run from the waist over the hip, centres apart."""
    found: list[tuple[str, str]] = []
    for piece in draft.pieces:
        for edge in piece.edges:
            stops = {edge.start, edge.end, *(notch.name for notch in piece.notches if notch.edge == edge.name)}
            if {"waist", "hem"} <= stops and not edge.name.startswith("centre") and not edge.name.endswith(".left"):
                found.append((piece.name, edge.name))
    return tuple(found)


def _hip_shift(piece: Piece, edge_name: str, out: float, waist_to_hip: float) -> Shift:
    """Returns how a side seam moves so that it lies farther out by `out` at the hip (farther in where negative).

    From nothing at the waist it grows to the hip; below, it stays out to a hem near the hip and tapers to nothing at a
    hem twice as far below the hip as the waist lies above it. It leaves waist, hip and hem in the directions that it
    had. `waist_to_hip` is level, in millimetres. The edge has a stop named waist.
    """
    edge = piece.edge(edge_name)
    waist = edge.path.at(piece.stop(edge_name, "waist")).y
    hip, hem = waist - waist_to_hip, min(edge.path.start.y, edge.path.end.y)
    side = _outward(piece, edge)
    kept = 1.0 - swing((hip - hem) / (2 * waist_to_hip)) if hem < hip else 1.0

    @cache
    def shift(along: float) -> Point:
        y = edge.path.at(along).y
        if y >= hip:
            part = swing((waist - y) / waist_to_hip)
        else:
            part = 1.0 - (1.0 - kept) * swing((hip - y) / max(hip - hem, _AT_THE_HIP))
        return side * (out * part)

    return shift


def _hip_shifts(
    draft: Draft, edges: Sequence[tuple[str, str]], out: float, waist_to_hip: float
) -> dict[tuple[str, str], Shift]:
    """Returns how each edge of a half is let out at the hip, both edges of a seam growing alike between its stops.

    Where front and back lean differently, letting both out alike makes one a little longer than the other: each is
    slid along itself, from the waist down, by half of that.
    """
    shifts = {(of, edge): _hip_shift(draft.piece(of), edge, out, waist_to_hip) for of, edge in edges}
    for seam in draft.seams:
        sides = [key for side in (seam.a, seam.b) for key in edges if _is_side(side, *key)]
        if len(sides) == 2 and "waist" in seam.stops:
            walks = [_Walk.of(draft.piece(of), edge, seam.stops) for of, edge in sides]
            grown = [walk.grown(shifts[key]) for walk, key in zip(walks, sides, strict=True)]
            alike = [(a + b) / 2 for a, b in zip(*grown, strict=True)]
            for walk, key, own in zip(walks, sides, grown, strict=True):
                shifts[key] = walk.slid(shifts[key], [by - have for by, have in zip(alike, own, strict=True)])
    return shifts


def _is_side(side: Side, of: str, edge: str) -> bool:
    return side.piece == of and side.edge in (edge, edge.removesuffix(".right"), edge.removesuffix(".left"))


@dataclass(frozen=True)
class _Walk:
    """A seam's edge walked from the waist down: the stops' places by arc length, and which way they run."""

    path: Path
    places: tuple[float, ...]

    @classmethod
    def of(cls, piece: Piece, edge: str, stops: Sequence[str]) -> _Walk:
        waist = piece.stop(edge, "waist")
        path = piece.edge(edge).path
        is_down = path.start.y > path.end.y
        places = sorted((piece.stop(edge, stop) for stop in stops), reverse=not is_down)
        return cls(path, tuple(at for at in places if (at - waist) * (1.0 if is_down else -1.0) >= 0.0))

    def grown(self, shift: Shift) -> list[float]:
        """Returns by how much the edge grows between every two stops."""
        _, moved = bent(self.path, shift, list(self.places))
        after, before = itertools.pairwise(moved), itertools.pairwise(self.places)
        return [abs(b - a) - abs(d - c) for (a, b), (c, d) in zip(after, before, strict=True)]

    def slid(self, shift: Shift, by: Sequence[float]) -> Shift:
        """Returns a shift that makes each stretch between stops longer still, by so much."""
        way = 1.0 if self.places[-1] > self.places[0] else -1.0
        stretches = [
            (low, high - low, more * way) for (low, high), more in zip(itertools.pairwise(self.places), by, strict=True)
        ]

        def slid(along: float) -> Point:
            slide = sum(more * swing((along - low) / length) for low, length, more in stretches)
            return shift(along) + self.path.tangent(along) * slide if slide else shift(along)

        return slid


def _outward(piece: Piece, edge: Edge) -> Point:
    """Returns the level direction that leads out of a piece at an edge."""
    xs = [point.x for other in piece.edges for point in (other.path.start, other.path.end)]
    middle = (min(xs) + max(xs)) / 2
    return Point(1.0 if edge.path.at(edge.path.length / 2).x > middle else -1.0, 0.0)
