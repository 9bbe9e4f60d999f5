"""The objective, worked out by hand on one seam of two strips."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from settwright.bars.model import Importance, Join, Mode, Sample
from settwright.bars.objective import BROKEN, COEFFICIENTS, SCALE, SHARES, Lying, Problem, problem_of
from settwright.geometry import Point
from tests.cloth.toy_setts import PLAIN, UNEVEN, cloth

# UNEVEN: navy 0-24, cream 24-30, rust 30-48, moss 48-58, cream 58-84, rust 84-92

SEAM = Join(
    "seam", "seam", "a", "right", "b", "left", Mode.CONTINUE, Mode.CONTINUE, ("hem", "top"), False,
    Importance.IF_POSSIBLE, 2.0, 0.0,
    tuple(Sample(Point(0.0, y), Point(0.0, y), 0.25) for y in (0.0, 8.0, 16.0, 24.0)),
    stops=(("hem", 0), ("top", 3)),
)  # fmt: skip


def problem(join: Join, **changed: int) -> Problem:
    shell = replace(cloth(UNEVEN, UNEVEN), dominant_warp="navy 1")
    return problem_of([Lying("a"), Lying("b")], [join], (), shell, replace(COEFFICIENTS, **changed))


def cost(found: Problem, u: tuple[float, float], v: tuple[float, float]) -> float:
    """Returns the cost in ΔE of weight 1."""
    places = [np.array([round(1000 * p) for p in phases], dtype=np.int64) for phases in (u, v)]
    return found.cost(*places) / SCALE


def test_bars_that_meet_cost_nothing() -> None:
    assert cost(problem(SEAM), (13.0, 13.0), (40.0, 40.0)) == 0.0


def test_misses_cost_by_the_millimetre_up_to_the_cap() -> None:
    no_colour = problem(SEAM, colour=0)
    assert cost(no_colour, (10.0, 10.0), (7.0, 5.0)) == pytest.approx(2.0 * 3 * 2.0)  # weight × level × 2 mm
    assert cost(no_colour, (10.0, 13.0), (5.0, 5.0)) == pytest.approx(2.0 * 1 * 3.0)
    assert cost(no_colour, (10.0, 10.0), (5.0, 35.0)) == pytest.approx(2.0 * 3 * 8.0)  # 30 mm counts as 8
    assert cost(no_colour, (10.0, 10.0), (1.0, 91.0)) == pytest.approx(2.0 * 3 * 2.0)  # round the repeat of 92


def test_colours_are_judged_by_ciede2000_at_the_crossings() -> None:
    only_colour = problem(replace(SEAM, level=Mode.NONE), level=0, upright=0)
    # all five places from 8 mm left to 8 mm right lie in navy on a and in moss-to-cream on b's side
    a, b = 12.0, 71.0  # navy everywhere, cream everywhere
    palette = only_colour.palette
    navy, cream = palette.warp.index("navy"), palette.warp.index("cream")
    expected = 2.0 * palette.warp_differences[navy, cream] / 1000
    assert cost(only_colour, (a, b), (0.0, 0.0)) == pytest.approx(expected)


def test_a_hard_join_beyond_its_millimetre_outweighs_all_else() -> None:
    hard = problem(replace(SEAM, hard=True))
    assert cost(hard, (10.0, 10.0), (5.0, 6.0)) < BROKEN / SCALE
    assert cost(hard, (10.0, 10.0), (5.0, 6.1)) > BROKEN / SCALE
    assert BROKEN > 100 * SCALE * 10 * (100 + 8 * 4)  # a hundred joins of weight 10 at their worst


@pytest.mark.parametrize(
    ("u", "is_doubled"),
    [
        ((20.0, 4.0), True),  # 20 mm of navy left of the seam and 20 right of it: 40 of a bar 24 wide
        ((4.0, 20.0), False),  # 4 and 4: narrower than it should be, not doubled
        ((13.0, 12.0), False),  # a millimetre more than its width
        ((40.0, 33.0), False),  # rust neither leads nor recedes here
    ],
)
def test_a_leading_bar_stands_doubled_where_the_seam_shows_more_than_its_width(
    u: tuple[float, float], is_doubled: bool
) -> None:
    named = replace(SEAM, named="hem", a_lies=1)
    with_rule, without = problem(named), problem(named, doubled=0)
    extra = cost(with_rule, u, (0.0, 0.0)) - cost(without, u, (0.0, 0.0))
    assert extra == pytest.approx(2.0 * COEFFICIENTS.doubled if is_doubled else 0.0)


def test_seen_from_the_other_side_it_is_doubled_all_the_same() -> None:
    other = replace(SEAM, named="hem", a_lies=-1)  # now a lies right of the seam
    extra = [cost(problem(other, doubled=d), (4.0, 20.0), (0.0, 0.0)) for d in (6, 0)]
    assert extra[0] - extra[1] == pytest.approx(12.0)


def test_what_a_join_costs_is_the_same_in_a_table_as_alone() -> None:
    found = problem(replace(SEAM, hard=True, named="hem", a_lies=1))
    join = found.joins[0]
    grid = np.arange(0, 92_000, 7_000, dtype=np.int64)
    still = np.array(5_000)
    table = found.join_cost(join, grid[:, None], grid[None, :], still, still)
    for i, ua in enumerate(grid):
        for k, ub in enumerate(grid):
            alone = found.cost(np.array([ua, ub]), np.array([5_000, 5_000]))
            assert table[i, k] == alone
    assert int(join.shares.sum()) == SHARES


def test_without_bars_to_match_a_join_costs_nothing() -> None:
    plain = problem_of([Lying("a"), Lying("b")], [SEAM], (), cloth(PLAIN, PLAIN))
    assert cost(plain, (0.0, 3.0), (0.0, 4.0)) == 0.0
