"""How the draft may answer the cloth: what may move by some millimetres onto a bar, and what that gains.

A hem, a seam, a dart, a pocket or the buttons move onto the leading bar, or the centre back straightens. The draft is
made again with that one field changed, girths and all, and matched again before it is offered; the person decides.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass

from settwright.bars.frames import place_under, wrap
from settwright.bars.model import Axis, Importance, Match, Phase
from settwright.cloth import Bar, Cloth
from settwright.cloth.dominance import warp_dominance, weft_dominance
from settwright.findings import Refusal
from settwright.geometry import Point
from settwright.geometry.tolerances import HAND
from settwright.makeup.model import CutPiece

LIMIT = 15.0  # mm by which the draft may be changed unasked
WORTH = 1.0  # mm: a smaller change is no decision
TELLING = 1.0  # mm by which a seam's miss must change to be named
MOST_NAMED = 2

Derived = tuple[Sequence[CutPiece], Match]
"""The pieces of a draft with a field changed, and their match."""


@dataclass(frozen=True)
class Change:
    """A seam that comes out otherwise: by how much its bars of one axis miss at worst, now and then (mm)."""

    join: str
    axis: Axis
    now: float
    then: float


@dataclass(frozen=True)
class Answer:
    """A decision about the draft: the field of the commission, how it changes, and what comes of it."""

    field: str  # "jacket.moved.pocket"
    title: str  # "the pocket"
    now: float
    then: float
    words: tuple[str, str]  # what more and less of it means: ("up", "down")
    lies_on: str  # "the lower edge of rust 2"; empty where it comes to lie on no bar but straight
    cost_now: float
    cost_then: float
    gains: tuple[Change, ...] = ()  # the seams that gain most by it
    pays: tuple[Change, ...] = ()  # and those that pay

    @property
    def by(self) -> float:
        """By how much the field changes."""
        return self.then - self.now

    @property
    def way(self) -> str:
        """Which way it moves."""
        return self.words[0] if self.by > 0 else self.words[1]


@dataclass(frozen=True)
class Movable:
    """A field of the design that may give way, and the point that it moves on one piece.

    `parts`: the parts of the leading bar onto which the point may come ("lower edge", as worn); empty: the field goes
    as far as it may and no bar is asked for.
    """

    field: str
    title: str
    now: float
    least: float  # the field goes from here
    most: float
    piece: str
    axis: Axis
    edge: str = ""
    stop: str = ""
    mark: str = ""
    sense: int = 1  # 1: with more of the field the point moves to the piece's right or up, −1: left or down
    parts: tuple[str, ...] = ()
    words: tuple[str, str] = ("more", "less")

    def at(self, piece: CutPiece) -> Point | None:
        """Returns the point on the piece; None where the piece has no such place."""
        try:
            if self.mark:
                return piece.piece.mark(self.mark)
            path = piece.piece.edge(self.edge).path
            return path.at(piece.piece.stop(self.edge, self.stop)) if self.stop else path.at(path.length / 2)
        except KeyError:
            return None


def answers(
    movables: Sequence[Movable],
    pieces: Sequence[CutPiece],
    cloth: Cloth,
    now: Match,
    again: Callable[[str, float], Derived],
    *,
    limit: float = LIMIT,
) -> tuple[Answer, ...]:
    """Returns what the draft may do to lie on the bars; `again` makes and matches the draft with a field changed.

    What lies there already, would have to move by more than `limit`, is refused by the draft, or doesn't come to lie
    on the bar when all is placed anew, is left out.
    """
    found: list[Answer] = []
    for movable in movables:
        if movable.parts:
            found += _onto_a_bar(movable, pieces, cloth, now, again=again, limit=limit)
        elif movable.most - movable.now >= WORTH:
            found += _as_far_as_it_goes(movable, now, again)
    return tuple(found)


def _as_far_as_it_goes(movable: Movable, now: Match, again: Callable[[str, float], Derived]) -> Iterable[Answer]:
    then = round(movable.most, 1)
    try:
        _, match = again(movable.field, then)
    except Refusal:
        return
    yield _answer(movable, then, "", now, match)


def _onto_a_bar(
    movable: Movable,
    pieces: Sequence[CutPiece],
    cloth: Cloth,
    now: Match,
    *,
    again: Callable[[str, float], Derived],
    limit: float,
) -> Iterable[Answer]:
    bar = _leading(cloth, movable.axis)
    way = _way_to(movable, pieces, now, cloth, bar) if bar is not None else None
    if bar is None or way is None or not WORTH <= abs(way[0]) <= limit:
        return
    then = movable.now
    for _ in range(2):  # placed anew the bars may lie a little elsewhere
        then = round(then + way[0], 1)
        if not movable.least <= then <= movable.most or abs(then - movable.now) > limit:
            return
        try:
            changed, match = again(movable.field, then)
        except Refusal:
            return
        part = way[1]
        way = _way_to(movable, changed, match, cloth, bar)
        if way is None:
            return
        if abs(way[0]) <= HAND and way[1] == part:
            yield _answer(movable, then, f"the {part} of {bar.name}", now, match)
            return


def _leading(cloth: Cloth, axis: Axis) -> Bar | None:
    if axis is Axis.LEVEL:
        return weft_dominance(cloth).dominant if cloth.has_level_bars else None
    return warp_dominance(cloth).dominant if cloth.has_upright_bars else None


def _way_to(
    movable: Movable, pieces: Sequence[CutPiece], match: Match, cloth: Cloth, bar: Bar
) -> tuple[float, str] | None:
    """Returns by how much the field must change, the least way first, and the part of the bar that is reached."""
    piece = next((piece for piece in pieces if piece.name == movable.piece and piece.is_matched), None)
    at = movable.at(piece) if piece is not None else None
    if piece is None or at is None:
        return None
    phase = match.phase(piece.name)
    ways = [
        (movable.sense * way_to_part(piece, phase, at, movable.axis, cloth, bar, part), part)
        for part in movable.parts
    ]  # fmt: skip
    return min(ways, key=lambda way: round(abs(way[0]), 3))


def way_to_part(  # noqa: PLR0917
    piece: CutPiece, phase: Phase, at: Point, axis: Axis, cloth: Cloth, bar: Bar, part: str
) -> float:
    """Returns how far a point must move, to the piece's right or up, to lie on a part of a bar as worn.

    As worn: of a piece that lies turned, a bar's lower edge is its other one.
    """
    sequence = cloth.weft if axis is Axis.LEVEL else cloth.warp
    reading = phase.orientation.reading(axis)
    start = sequence.starts[sequence.bars.index(bar)]
    if part == "middle":
        goal = start + bar.width / 2
    else:
        goal = start if (part in ("left edge", "lower edge")) == (reading > 0) else start + bar.width
    place = place_under(phase, at, piece.grain_turn)
    return reading * wrap(goal - (place.y if axis is Axis.LEVEL else place.x), sequence.repeat)


def _answer(movable: Movable, then: float, lies_on: str, now: Match, match: Match) -> Answer:
    changes = sorted(_changes(now, match), key=lambda change: round(change.then - change.now, 3))
    return Answer(
        field=movable.field,
        title=movable.title,
        now=movable.now,
        then=then,
        words=movable.words,
        lies_on=lies_on,
        cost_now=now.cost,
        cost_then=match.cost,
        gains=tuple(c for c in changes if c.now - c.then >= TELLING)[:MOST_NAMED],
        pays=tuple(c for c in reversed(changes) if c.then - c.now >= TELLING)[:MOST_NAMED],
    )


def _changes(now: Match, match: Match) -> Iterable[Change]:
    """Yields how the seams that matter come out; left halves repeat the right ones."""
    then = {drift.join: drift for drift in match.drifts}
    told = {drift.join: drift for drift in now.drifts}
    for join in now.joins:
        is_small = join.importance not in (Importance.ALWAYS, Importance.IF_POSSIBLE)
        if join.kind == "pair" or is_small or join.name.endswith(".left") or join.name not in then:
            continue
        a, b = told[join.name], then[join.name]
        if a.level is not None and b.level is not None:
            yield Change(join.name, Axis.LEVEL, a.worst_level, b.worst_level)
        if a.upright is not None and b.upright is not None:
            yield Change(join.name, Axis.UPRIGHT, a.worst_upright, b.worst_upright)


__all__ = ["LIMIT", "Answer", "Change", "Derived", "Movable", "answers", "way_to_part"]
