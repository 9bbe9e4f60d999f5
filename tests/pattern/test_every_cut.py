"""What must hold of every cut alike, jackets, skirts and trousers, on a few bodies and on five hundred.

Bodies: 500 women of the ANSUR II survey (tests/data/open-bodies.md, more-open-bodies.md). What one cut alone must hold
to is tested beside it.
"""

from __future__ import annotations

from functools import cache

import pytest

from settwright.body import Body
from settwright.body.estimate import complete
from settwright.findings import Refusal
from settwright.pattern import Draft
from tests.bodies import five_hundred, is_usual
from tests.pattern.joined import check_darts, check_outlines, check_seams
from tools.cuts import CUTS, Cut

every_cut = pytest.mark.parametrize("cut", CUTS, ids=lambda cut: cut.name)


@cache
def women() -> tuple[Body, ...]:
    """Returns the five hundred, from the smallest to the largest of bust and hip together."""
    return tuple(
        complete(woman) for woman in sorted(five_hundred(), key=lambda woman: woman["bust_girth"] + woman["hip_girth"])
    )


def check_sound(draft: Draft) -> None:
    """Seams walk to their stated ease, no outline crosses itself, dart legs are equal, each figure is told once."""
    pieces = {piece.name: piece for piece in draft.pieces}
    assert len(pieces) == len(draft.pieces)
    check_seams(pieces, draft.seams)
    check_outlines(draft.pieces)
    for piece in draft.pieces:
        check_darts(piece)
    told = [(step.of, step.name) for step in draft.record if step.value is not None and step.line is None]
    assert len(told) == len(set(told))


def check_refusal(refusal: Refusal) -> None:
    """It names the measurement or choice at fault, says what is wrong, and what mends it."""
    assert refusal.findings
    for finding in refusal.findings:
        assert finding.where.partition(".")[0] in ("measurements", "design"), finding
        assert finding.what, finding
        assert finding.remedy, finding


@pytest.mark.parametrize(("number", "cut"), list(enumerate(CUTS)), ids=[cut.name for cut in CUTS])
def test_a_cut_is_sound_for_a_small_or_a_large_body(number: int, cut: Cut) -> None:
    check_sound(cut.draft(women()[12 if number % 2 else -13]))  # inside the outer 2.5 % on either side


@pytest.mark.slow
@every_cut
def test_five_hundred_women_get_the_cut_or_a_clear_refusal(cut: Cut) -> None:
    """At most 2 % are refused, none whose bust, waist and hip lie within the survey's 5th to 95th percentiles."""
    bodies = women()
    assert len(bodies) == 500
    refused: list[Body] = []
    for body in bodies:
        try:
            draft = cut.draft(body)
        except Refusal as refusal:
            check_refusal(refusal)
            refused.append(body)
        else:
            check_sound(draft)
    assert len(refused) <= 0.02 * len(bodies)
    assert not [body for body in refused if is_usual(body)]
