"""What the parts of a garment hand to one another while it is put together.

Body, collar, facing and sleeve each add their pieces and say what they join; the seams are walked last, when every
piece has its final edges.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from itertools import pairwise

from settwright.geometry import Path, Point
from settwright.pattern.drafts.lapel import Lapel
from settwright.pattern.drafts.neckline import Neckline
from settwright.pattern.drafts.shawl import Shawl
from settwright.pattern.piece import Edge, Line, Mark, Notch, Piece, Seam, Side, Step, Touch


@dataclass(frozen=True)
class Front:
    """The front's line from the hem to the neck point, as the shoulder lies when the bust's dart is closed.

    `edges` run from the front corner of the hem up to the neck point. Notches sit on these edges; lines and marks are
    drawn on the front. The body's part adds hem, shoulder, armhole and the seams towards the back.
    """

    edges: tuple[Edge, ...]
    heading: Point  # direction in which the neck leaves the neck point; the back's neck goes on from it
    centre_top: Point  # where the centre front ends at the neck
    buttons: tuple[Point, ...] = ()  # on the centre front or in two rows, top one first
    notches: tuple[Notch, ...] = ()
    lines: tuple[Line, ...] = ()
    marks: tuple[Mark, ...] = ()
    dart_mouth: float | None = None  # on the last edge: where a dart from the bust may open hidden; None: nowhere
    break_level: float | None = None  # where the roll line or crossing begins
    line: Lapel | Shawl | Neckline | None = None  # what it was drawn as, for its collar and facing

    @property
    def corner(self) -> Point:
        """Where hem and front edge meet."""
        return self.edges[0].path.start

    @property
    def neck(self) -> Edge:
        """The last edge, which ends at the neck point."""
        return self.edges[-1]


@dataclass(frozen=True)
class Joining:
    """A seam still to be walked: two edges and the stops that they have in common, in order along the seam.

    Stops that either side lacks are passed over (a hip below the hem); what lies between them then is one interval.
    """

    name: str
    a: Side
    b: Side
    stops: tuple[str, ...]
    across: bool = False


@dataclass(frozen=True)
class Parts:
    """Pieces of one part of the garment, with what they join and touch."""

    pieces: tuple[Piece, ...] = ()
    joinings: tuple[Joining, ...] = ()
    seams: tuple[Seam, ...] = ()  # already walked
    touches: tuple[Touch, ...] = ()
    lines: tuple[tuple[str, Line], ...] = ()  # to be drawn on a piece of another part, by its name
    notches: tuple[tuple[str, Notch], ...] = ()  # likewise
    steps: tuple[Step, ...] = ()

    def piece(self, name: str) -> Piece:
        """Returns a piece by name; raises KeyError."""
        for piece in self.pieces:
            if piece.name == name:
                return piece
        raise KeyError(f"no piece {name!r} among {', '.join(p.name for p in self.pieces)}")

    def plus(self, *others: Parts) -> Parts:
        """Returns these and others together, in order."""
        every = (self, *others)
        return Parts(
            pieces=tuple(p for part in every for p in part.pieces),
            joinings=tuple(j for part in every for j in part.joinings),
            seams=tuple(s for part in every for s in part.seams),
            touches=tuple(t for part in every for t in part.touches),
            lines=tuple(entry for part in every for entry in part.lines),
            notches=tuple(entry for part in every for entry in part.notches),
            steps=tuple(s for part in every for s in part.steps),
        )

    def drawn(self) -> tuple[Piece, ...]:
        """Returns the pieces with the lines and notches that other parts set on them."""
        return tuple(
            replace(
                piece,
                lines=(*(line for name, line in self.lines if name == piece.name), *piece.lines),
                notches=(*piece.notches, *(notch for name, notch in self.notches if name == piece.name)),
            )
            for piece in self.pieces
        )


def joining(name: str, a: tuple[str, str], b: tuple[str, str], *stops: str, across: bool = False) -> Joining:
    """Returns the joining of two edges, each told as (piece, edge)."""
    return Joining(name, Side(*a), Side(*b), stops, across)


def parted(whole: Joining, dart: str, last: str) -> list[Joining]:
    """Returns a joining in two stretches, before and after a dart's mouth in one of its edges.

    Both sides have the mouth's stops DART-a and DART-b; b is met first, coming from the joining's first stop. The
    second stretch, named with a 2, ends at the stop `last`.
    """
    before = replace(whole, stops=(*(stop for stop in whole.stops if stop != last), f"{dart}-b"))
    return [before, Joining(f"{whole.name}-2", whole.a, whole.b, (f"{dart}-a", last), whole.across)]


def with_dart_beside(parts: Parts, edge: Side, dart: str) -> Parts:
    """Returns parts in which what is sewn to an edge with a dart's mouth in it meets the edge on both sides of it.

    The other edge gets the mouth's two stops at one place, as far from the first stop as the dart's first leg is;
    the joining is parted there.
    """
    piece = next((p for p in parts.pieces if p.name == edge.piece), None)
    if piece is None or not any(n.name == f"{dart}-a" and n.edge == edge.edge for n in piece.notches):
        return parts
    found = next((j for j in parts.joinings if j.a == edge), None)
    if found is None:
        return parts
    other = parts.piece(found.b.piece)
    first, last = found.stops[0], found.stops[-1]
    start, end = other.stop(found.b.edge, first), other.stop(found.b.edge, last)
    way = piece.stop(edge.edge, f"{dart}-a") - piece.stop(edge.edge, first)
    at = start + (way if end > start else -way)
    stops = tuple(Notch(f"{dart}-{leg}", found.b.edge, at) for leg in "ab")
    passed = [s for s in found.stops[1:-1] if piece.stop(edge.edge, s) < piece.stop(edge.edge, f"{dart}-a")]
    before = replace(found, stops=(first, *passed, f"{dart}-a"))
    rest = tuple(s for s in found.stops[1:] if s not in passed)
    after = Joining(f"{found.name}-2", found.a, found.b, (f"{dart}-b", *rest), found.across)
    joinings: list[Joining] = []
    for each in parts.joinings:
        joinings += [before, after] if each is found else [each]
    grown = replace(other, notches=(*other.notches, *stops))
    return replace(
        parts,
        pieces=tuple(grown if p is other else p for p in parts.pieces),
        joinings=tuple(joinings),
    )


def walked(pieces: Iterable[Piece], joinings: Iterable[Joining]) -> tuple[Seam, ...]:
    """Returns the seams, with the ease that the drawn edges have between their stops."""
    by_name = {piece.name: piece for piece in pieces}
    return tuple(_walked(by_name, each) for each in joinings)


def _walked(pieces: Mapping[str, Piece], each: Joining) -> Seam:
    a, b = pieces[each.a.piece], pieces[each.b.piece]
    kept = [stop for stop in each.stops if _has(a, each.a.edge, stop) and _has(b, each.b.edge, stop)]
    ease = tuple(
        _clean(_between(b, each.b.edge, first, last) - _between(a, each.a.edge, first, last))
        for first, last in pairwise(kept)
    )
    return Seam(each.name, each.a, each.b, tuple(kept), ease, each.across)


def _has(piece: Piece, edge: str, stop: str) -> bool:
    known = piece.edge(edge)
    return stop in (known.start, known.end) or any(n.edge == edge and n.name == stop for n in piece.notches)


def _between(piece: Piece, edge: str, first: str, last: str) -> float:
    return abs(piece.stop(edge, last) - piece.stop(edge, first))


def _clean(ease: float) -> float:
    """Rounds away what only arithmetic made."""
    return round(ease, 3) + 0.0


def stops_at(edge: str, path: Path, levels: Iterable[tuple[str, float]], clear: float) -> list[Notch]:
    """Returns notches where an edge crosses body levels, for those that it crosses farther than `clear` from an end."""
    found: list[Notch] = []
    for name, y in levels:
        for at in path.where_y(y)[:1]:
            if clear < at < path.length - clear:
                found.append(Notch(name, edge, at))
    return sorted(found, key=lambda notch: notch.at)
