"""The turn of cloth of every collar, against the geometry of two layers round a fold.

Two layers whose middles lie t apart go round a fold on half circles of radius r and r + t: the outer one is longer by
π (r + t) − π r = π t, whatever r. Barlup (Threads 131:71-76) gives 1/8 in for 1 mm: 3.14 mm.
"""

import math

import pytest

from settwright.findings import Weight
from settwright.makeup.turn_of_cloth import turn_findings
from settwright.pattern import Cut
from settwright.pattern.drafts.collar_lines import TurnOfCloth
from tests.pattern.front_styles import LAPELS, SHAWLS, STANDS, STYLES, body_of, drawn

THIN, THICK = 0.4, 1.6


def arc(radius: float, steps: int = 20000) -> float:
    """Returns the length of a half circle, walked in chords."""
    return steps * 2 * radius * math.sin(math.pi / 2 / steps)


@pytest.mark.parametrize("radius", [0.2, 1.0, 3.0])
@pytest.mark.parametrize("thickness", [THIN, 1.0, THICK])
def test_round_a_fold_the_outer_layer_is_longer_by_pi_times_the_distance(radius: float, thickness: float) -> None:
    assert arc(radius + thickness) - arc(radius) == pytest.approx(TurnOfCloth.of(thickness).fold, abs=1e-6)
    if thickness == 1.0:
        assert TurnOfCloth.of(thickness).fold == pytest.approx(25.4 / 8, abs=0.05)


@pytest.mark.parametrize("style", [*LAPELS, *SHAWLS])
@pytest.mark.parametrize("thickness", [THIN, THICK])
def test_the_fold_and_the_edge_of_every_collar_that_turns_down(style: str, thickness: float) -> None:
    draft = drawn(body_of("middle"), STYLES[style], thickness)
    outer, inner, edge = (
        ("front-facing", "front", "collar-centre-back")
        if style in SHAWLS
        else ("top-collar", "under-collar", "centre-back")
    )
    more = draft.piece(outer).edge(edge).path.length - draft.piece(inner).edge(edge).path.length
    turn = TurnOfCloth.of(thickness)
    assert more == pytest.approx(math.pi * thickness + turn.edge, abs=0.01)
    assert 0.5 <= turn.edge <= 3.0, "1 to 3 mm in all at the edges (common practice, no source)"
    found = turn_findings(draft, thickness)
    assert [finding.weight for finding in found] == [Weight.NOTE]
    # cut for a thin cloth and made in a thick one it would not turn, and that is told
    if thickness == THIN:
        assert [finding.weight for finding in turn_findings(draft, THICK)] == [Weight.CAUTION]


@pytest.mark.parametrize("style", LAPELS)
def test_the_facing_is_larger_at_the_lapel_and_nothing_at_the_break_point(style: str) -> None:
    draft = drawn(body_of("middle"), STYLES[style], THICK)
    front, facing = draft.piece("front"), draft.piece("front-facing")
    roll = front.edge("roll-line").path

    def beyond(x: float, y: float) -> float:
        return (x - roll.start.x) * roll.start_tangent.right.x + (y - roll.start.y) * roll.start_tangent.right.y

    tip, over = front.edge("lapel").path.end, facing.edge("lapel").path.start
    root, under = front.edge("lapel").path.start, facing.edge("lapel").path.end
    # the facing is drawn mirrored, about the same line
    wider = beyond(-over.x - (-under.x - root.x), over.y) - beyond(tip.x, tip.y)
    if style == "peaked, a fold":
        assert abs(wider) < 0.1, "a fold stays as it is; what the roll needs is given on its inner side"
    else:
        assert wider == pytest.approx(math.pi * THICK + TurnOfCloth.of(THICK).edge, rel=0.12)


@pytest.mark.parametrize("style", LAPELS)
def test_the_under_collar_is_cut_in_two_halves_on_the_bias(style: str) -> None:
    draft = drawn(body_of("middle"), STYLES[style])
    under, top = draft.piece("under-collar"), draft.piece("top-collar")
    assert under.cut is Cut.PAIR
    assert abs(under.bias) == pytest.approx(math.pi / 4)
    assert top.cut is Cut.WHOLE
    assert top.bias == 0.0
    assert any(touch.name == "collar-on-back" for touch in draft.touches), "its bars are matched to the back's"


@pytest.mark.parametrize("style", STANDS)
def test_an_inner_stand_collar_is_shorter_round_the_neck(style: str) -> None:
    for thickness in (THIN, THICK):
        draft = drawn(body_of("middle"), STYLES[style], thickness)
        assert [finding.weight for finding in turn_findings(draft, thickness)] == [Weight.NOTE]
