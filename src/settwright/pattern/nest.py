"""A range of sizes drafted from one design, and the nest: each piece in all its sizes, laid on its grain mark.

Every size is drafted from its own body, not enlarged from a middle one: what grows and what stays is what the rules of
drafting say. The nest shows whether it does so evenly.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from settwright.body import Body
from settwright.body.sizes import Size
from settwright.findings import Finding, Refusal
from settwright.pattern.piece import Draft, Piece


@dataclass(frozen=True)
class Sized:
    """One size of a design: its body and what was drafted for it."""

    name: str
    body: Body
    draft: Draft


@dataclass(frozen=True)
class Nest:
    """One piece in its sizes, the smallest first; each lies on its grain, its grain mark at (0, 0).

    A size whose cut lacks the piece (a dart too small to sew has no part of its own) isn't in it.
    """

    title: str
    pieces: tuple[tuple[str, Piece], ...]  # (size, piece)


def draft_range(sizes: Sequence[Size], draft: Callable[[Body], Draft]) -> tuple[Sized, ...]:
    """Returns a design drafted for each size, in the order given.

    Raises Refusal, naming the sizes, where one of them can't be cut.
    """
    done: list[Sized] = []
    wrong: list[Finding] = []
    for size in sizes:
        body = size.body()
        try:
            done.append(Sized(size.name, body, draft(body)))
        except Refusal as refusal:
            wrong += [Finding(f.weight, f"size {size.name}, {f.where}", f.what, f.remedy) for f in refusal.findings]
    if wrong:
        raise Refusal(wrong)
    return tuple(done)


def nests_of(sized: Sequence[Sized]) -> tuple[Nest, ...]:
    """Returns the nest of every piece, in the order of the draft."""
    names = dict.fromkeys(piece.name for size in sized for piece in size.draft.pieces)
    found: dict[str, list[tuple[str, Piece]]] = {name: [] for name in names}
    for size in sized:
        for piece in size.draft.pieces:
            found[piece.name].append((size.name, piece.on_grain()))
    return tuple(Nest(pieces[0][1].title, tuple(pieces)) for pieces in found.values())
