"""What each part of the inside hands back: pieces, their seams, the stops they need on shell pieces, the record."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from itertools import pairwise

from settwright.pattern.piece import Draft, Notch, Piece, Seam, Side, Step

CUSTOM = "common practice, no source"


@dataclass(frozen=True)
class Made:
    """A part of the inside."""

    pieces: tuple[Piece, ...] = ()
    seams: tuple[Seam, ...] = ()
    stops: tuple[tuple[str, Notch], ...] = ()  # to be set on shell pieces, by their names
    steps: tuple[Step, ...] = ()

    def plus(self, *others: Made) -> Made:
        """Returns these parts together, in order."""
        every = (self, *others)
        return Made(
            tuple(p for part in every for p in part.pieces),
            tuple(s for part in every for s in part.seams),
            tuple(s for part in every for s in part.stops),
            tuple(s for part in every for s in part.steps),
        )

    def added_to(self, draft: Draft) -> Draft:
        """Returns the draft with these pieces, seams, stops and steps."""
        shell = tuple(
            replace(piece, notches=(*piece.notches, *(notch for name, notch in self.stops if name == piece.name)))
            for piece in draft.pieces
        )
        return replace(
            draft,
            pieces=(*shell, *self.pieces),
            seams=(*draft.seams, *self.seams),
            record=(*draft.record, *self.steps),
        )


def named(piece: Piece, word: str) -> str:
    """Returns an inside piece's title from its shell piece's.

    "Front, below the waist" and "lining" give "Front lining, below the waist".
    """
    head, comma, tail = piece.title.partition(",")
    return f"{head} {word}{comma}{tail}"


def step(of: str, name: str, rule: str, value: float, *, source: str = CUSTOM, **numbers: float) -> Step:
    """Returns an entry of the record for a figure; `numbers` are its inputs, "_" for a space in their names."""
    inputs = tuple((word.replace("_", " "), number) for word, number in numbers.items())
    return Step(name, of, rule, inputs, value=value, source=source)


def seam_of(
    name: str, a: tuple[Piece, str], b: tuple[Piece, str], stops: Iterable[str], *, across: bool = False
) -> Seam | None:
    """Returns a seam between two edges by the stops that both have, its ease as walked; None with fewer than two."""
    kept = [stop for stop in stops if has_stop(*a, stop) and has_stop(*b, stop)]
    if len(kept) < 2:
        return None
    ease = tuple(round(_between(b, first, last) - _between(a, first, last), 3) + 0.0 for first, last in pairwise(kept))
    return Seam(name, Side(a[0].name, a[1]), Side(b[0].name, b[1]), tuple(kept), ease, across)


def has_stop(piece: Piece, edge: str, stop: str) -> bool:
    """Whether an edge exists and has a stop of that name; of a whole piece's edges the right one is looked at."""
    name = _on_right(piece, edge)
    known = next((e for e in piece.edges if e.name == name), None)
    if known is None:
        return False
    return stop in (known.start, known.end) or any(n.edge == name and n.name == stop for n in piece.notches)


def _on_right(piece: Piece, edge: str) -> str:
    right = f"{edge}.right"
    return right if any(e.name == right for e in piece.edges) else edge


def _between(side: tuple[Piece, str], first: str, last: str) -> float:
    piece, edge = side[0], _on_right(*side)
    return abs(piece.stop(edge, last) - piece.stop(edge, first))
