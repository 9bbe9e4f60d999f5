"""What moves in a draft when one measurement or one choice changes, told point by point and edge by edge.

A tailor who lets the bust out by 2 cm wants to see where it went. Points are compared in the frame that they are
drafted in. A piece that as a whole lies elsewhere (the front, where the back grew) has that told once; its edges are
then compared as if it had stayed. Halves of different shape are compared each with its own, the left one as it lies.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass
from enum import StrEnum

import shapely

from settwright.geometry import ORIGIN, Path, Point, Transform
from settwright.pattern.piece import Draft, LineKind, Piece
from settwright.units import Units, format_fine, format_length

STILL = 0.05  # millimetres; what moves less is said to stand still
_TOGETHER = 0.1  # millimetres within which places are said to move alike
FOLLOW = (LineKind.LEVEL, LineKind.CENTRE)  # lines that only follow the edges that they end on


class Kind(StrEnum):
    """What moved."""

    POINT = "point"  # of the record
    PIECE = "piece"  # as a whole
    EDGE = "edge"
    LINE = "line"  # drawn inside a piece: a dart, a pocket's place, a vent


@dataclass(frozen=True, slots=True)
class Moved:
    """One thing that moved, in millimetres of the draft; one that only one of the drafts has is new or gone."""

    kind: Kind
    of: str  # the part drafted, or the piece; "back.left" where the halves differ
    name: str  # of the point, edge or line; of a piece its own
    distance: float = 0.0  # of a point or piece how far; of a line the farthest that any of it lies from where it lay
    by: Point = ORIGIN  # displacement of a point or piece
    length_before: float | None = None  # of an edge or line
    length_after: float | None = None
    is_new: bool = False
    is_gone: bool = False

    @property
    def longer(self) -> float:
        """By how much an edge or line has grown; negative where it is shorter."""
        return (self.length_after or 0.0) - (self.length_before or 0.0)

    def told(self, units: Units) -> str:
        """Returns it as a sentence in the person's units.

        >>> Moved(Kind.POINT, "back", "nape", 3.0, Point(0.0, 3.0)).told(Units.CM)
        'Back, nape: 3.0 mm up.'
        """
        words = [self.of] if self.kind is Kind.PIECE else [self.of, self.name]
        return f"{re.sub('[-.]', ' ', ', '.join(words)).capitalize()}: {self._change(units)}."

    def _change(self, units: Units) -> str:
        if self.is_new or self.is_gone:
            return "new" if self.is_new else "gone"
        if self.kind is Kind.PIECE:
            return f"as a whole {_way(self.by, units)}"
        if self.kind is Kind.POINT:
            return _way(self.by, units)
        parts: list[str] = []
        if self.distance >= STILL:
            parts.append(f"lies up to {format_fine(self.distance, units)} from where it lay")
        if abs(self.longer) >= STILL:
            lengths = [format_length(length or 0.0, units) for length in (self.length_before, self.length_after)]
            more = "longer" if self.longer > 0 else "shorter"
            parts.append(f"{format_fine(self.longer, units)} {more} ({lengths[0]} before, {lengths[1]} now)")
        return "; ".join(parts)


def _way(by: Point, units: Units) -> str:
    across = f"{format_fine(by.x, units)} to the {'right' if by.x > 0 else 'left'}" if abs(by.x) >= STILL else ""
    up = f"{format_fine(by.y, units)} {'up' if by.y > 0 else 'down'}" if abs(by.y) >= STILL else ""
    return " and ".join(part for part in (across, up) if part)


def moved(before: Draft, after: Draft) -> tuple[Moved, ...]:
    """Returns everything that differs between two drafts of one garment: points of the record, then piece by piece.

    Raises ValueError for drafts of different garments.
    """
    if before.name != after.name:
        raise ValueError(f"a {before.name} can't be compared with a {after.name}")
    found = list(_points(before, after))
    for name, (old, new) in compared(before, after).items():
        if old is None or new is None:
            found.append(Moved(Kind.PIECE, name, name, is_new=old is None, is_gone=new is None))
        else:
            found += _pieces(name, old, new)
    return tuple(found)


def compared(before: Draft, after: Draft) -> dict[str, tuple[Piece | None, Piece | None]]:
    """Returns by name each piece before and after; None where one draft hasn't got it.

    Where the halves of either draft differ the hand stands behind the name, and the left half is mirrored.
    """
    apart = {piece.name for draft in (before, after) for piece in draft.left}
    old, new = (_by_hand(draft, apart) for draft in (before, after))
    return {name: (old.get(name), new.get(name)) for name in dict.fromkeys([*old, *new])}


def _by_hand(draft: Draft, apart: Collection[str]) -> dict[str, Piece]:
    found: dict[str, Piece] = {}
    for piece, left in zip(draft.pieces, draft.of_left.pieces, strict=True):
        if piece.name in apart:
            found |= {f"{piece.name}.right": piece, f"{piece.name}.left": left.moved(Transform.mirror_x())}
        else:
            found[piece.name] = piece
    return found


def whole_shift(before: Piece, after: Piece) -> Point:
    """Returns by how much a piece lies elsewhere as a whole: what most of its corners, notches and marks moved by.

    Where no three of them moved alike, what its grain mark moved by.
    """
    old = dict(places_of(before))
    shifts = [place - old[name] for name, place in places_of(after) if name in old]
    alike = Counter(_rounded(shift) for shift in shifts)
    most, count = max(alike.items(), key=lambda pair: (pair[1], pair[0] == (0, 0), pair[0]), default=((0, 0), 0))
    if count < 3:
        shift = after.grain_mark - before.grain_mark
        return shift if shift.length >= STILL else ORIGIN
    return ORIGIN if most == (0, 0) else next(shift for shift in shifts if _rounded(shift) == most)


def _rounded(shift: Point) -> tuple[int, int]:
    return round(shift.x / _TOGETHER), round(shift.y / _TOGETHER)


def places_of(piece: Piece) -> Iterator[tuple[str, Point]]:
    """Yields a piece's corners, notches and marks, each under a name that no other has."""
    for edge in piece.edges:
        yield f"corner {edge.name}", edge.path.start
    for notch in piece.notches:
        yield f"notch {notch.edge} {notch.name}", piece.edge(notch.edge).path.at(notch.at)
    for mark in piece.marks:
        yield f"mark {mark.name}", mark.at


def distance_between(a: Path, b: Path) -> float:
    """Returns the farthest that any place of either line lies from the other (Hausdorff distance).

    Measured along both at every twentieth of each chord, which strays from the true curves by under 0.05 mm.
    """
    lines = [shapely.linestrings([(p.x, p.y) for p in path.points()]) for path in (a, b)]
    farthest = shapely.hausdorff_distance(lines[0], lines[1], densify=0.05)  # pyright: ignore[reportUnknownMemberType]
    return float(farthest)


def _points(before: Draft, after: Draft) -> Iterator[Moved]:
    old, new = (_named_points(draft) for draft in (before, after))
    for key in dict.fromkeys([*old, *new]):
        of, name, _ = key
        if key not in new or key not in old:
            yield Moved(Kind.POINT, of, name, is_new=key in new, is_gone=key in old)
        elif (by := new[key] - old[key]).length >= STILL:
            yield Moved(Kind.POINT, of, name, by.length, by)


def _named_points(draft: Draft) -> dict[tuple[str, str, int], Point]:
    """Returns the record's points by part, name and how many of that name stand before."""
    found: dict[tuple[str, str, int], Point] = {}
    for step in draft.record:
        if step.point is not None:
            count = sum((step.of, step.name) == key[:2] for key in found)
            found[(step.of, step.name, count)] = step.point
    return found


def _pieces(piece: str, before: Piece, after: Piece) -> Iterator[Moved]:
    shift = whole_shift(before, after)
    if shift != ORIGIN:
        yield Moved(Kind.PIECE, piece, piece, shift.length, shift)
    back = Transform.shift(-shift.x, -shift.y)
    edges = [{edge.name: edge.path for edge in one.edges} for one in (before, after)]
    yield from _paths(Kind.EDGE, piece, edges[0], edges[1], back)
    drawn = [{line.name: line.path for line in one.lines if line.kind not in FOLLOW} for one in (before, after)]
    yield from _paths(Kind.LINE, piece, drawn[0], drawn[1], back)


def _paths(
    kind: Kind, piece: str, old: Mapping[str, Path], new: Mapping[str, Path], back: Transform
) -> Iterator[Moved]:
    for name in dict.fromkeys([*old, *new]):
        if name not in new or name not in old:
            yield Moved(kind, piece, name, is_new=name in new, is_gone=name in old)
            continue
        distance = distance_between(old[name], new[name].moved(back))
        if distance >= STILL or abs(new[name].length - old[name].length) >= STILL:
            yield Moved(
                kind,
                piece,
                name,
                distance,
                length_before=old[name].length,
                length_after=new[name].length,
            )
