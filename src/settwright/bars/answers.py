"""The draft may answer the cloth: a hem or a pocket some millimetres away lies on a bar.

What is offered here are decisions about fields of the design that the drafts know anyway. Each is drafted, made up
and matched again before it is offered, so its gain is a figure and not a guess; girths stay as they are.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from settwright.bars.frames import place_under, wrap
from settwright.bars.model import Match, Phase
from settwright.cloth import Bar, Cloth
from settwright.cloth.dominance import weft_dominance
from settwright.findings import Refusal
from settwright.makeup.model import CutPiece

LIMIT = 15.0  # mm by which a length may be changed unasked
WORTH = 1.0  # mm: a smaller change is no decision


@dataclass(frozen=True)
class Answer:
    """A decision about the draft: the field of the commission, how it changes, and what comes of it."""

    field: str  # "jacket.length_below_waist"
    title: str  # "the jacket's hem"
    now: float
    then: float
    lies_on: str  # "the lower edge of rust 2"
    cost_now: float
    cost_then: float

    @property
    def by(self) -> float:
        """By how much the length changes."""
        return self.then - self.now


@dataclass(frozen=True)
class Length:
    """A length of the design that may give way, and the piece whose lowest centre-back point it moves."""

    field: str
    title: str
    now: float
    piece: str


def answers(
    lengths: Sequence[Length],
    pieces: Sequence[CutPiece],
    cloth: Cloth,
    now: Match,
    again: Callable[[str, float], Match],
    *,
    limit: float = LIMIT,
) -> tuple[Answer, ...]:
    """Returns what the hems may do to lie on a whole bar; `again` matches the draft with a field changed.

    A hem that lies there already, or would have to move by more than `limit`, is left out; so is one that the draft
    refuses.
    """
    bar = weft_dominance(cloth).dominant if cloth.has_level_bars else None
    if bar is None:
        return ()
    by_name = {piece.name: piece for piece in pieces}
    found: list[Answer] = []
    for length in lengths:
        piece = by_name.get(length.piece)
        if piece is None or not piece.is_matched:
            continue
        by = to_edge(piece, now.phase(piece.name), cloth, bar)
        if not WORTH <= abs(by) <= limit:
            continue
        then = round(length.now + by, 1)
        try:
            cost = again(length.field, then).cost
        except Refusal:
            continue
        edge = f"the lower edge of {bar.name}"
        found.append(Answer(length.field, length.title, length.now, then, edge, now.cost, cost))
    return tuple(found)


def to_edge(piece: CutPiece, phase: Phase, cloth: Cloth, bar: Bar) -> float:
    """Returns by how much the garment must lengthen (or shorten, negative) for its hem to lie on a bar's lower edge.

    The lower edge as worn: of a piece that lies turned, the bar's other one.
    """
    path = piece.piece.edge("centre-back").path
    low = min((path.start, path.end), key=lambda p: p.y)
    start = cloth.weft.starts[cloth.weft.bars.index(bar)]
    edge = start if phase.orientation.t > 0 else start + bar.width
    place = place_under(phase, low, piece.grain_turn).y
    return phase.orientation.t * wrap(place - edge, cloth.weft.repeat)


__all__ = ["LIMIT", "Answer", "Length", "answers", "to_edge"]
