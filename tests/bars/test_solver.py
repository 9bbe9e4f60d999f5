"""The solver against trying every place, and against the trade's orders on random cloths."""

import pytest

from settwright.bars.bonds import Fixed
from settwright.bars.model import Axis
from settwright.bars.objective import SCALE
from settwright.bars.solver import solve
from tests.bars.rings import best_on_grid, ring

NO_PINS: dict[Axis, tuple[Fixed, ...]] = dict.fromkeys(Axis, ())


def close_to(cost: int, best: int, weights: float) -> bool:
    """Returns whether a cost is at most 1.01 times the best and 0.01 ΔE (of the joins' weight) above it."""
    return cost <= 1.01 * best + 0.01 * SCALE * weights


def check(seed: int, repeat: int, step: int) -> None:
    problem = ring(seed, repeat)
    found = solve(problem, NO_PINS, seeded=False)
    weights = sum(join.weight for join in problem.joins) / 10
    assert close_to(found.cost, best_on_grid(problem, step), weights)
    assert found.cost == problem.cost(found.u, found.v)


@pytest.mark.parametrize("seed", range(6))
def test_three_pieces_in_a_ring_lie_as_well_as_anywhere(seed: int) -> None:
    check(seed, 12, 1000)


@pytest.mark.slow
@pytest.mark.parametrize("seed", range(40))
def test_many_rings_at_half_a_millimetre(seed: int) -> None:
    check(seed, 12, 500)


@pytest.mark.slow
@pytest.mark.parametrize("seed", range(20))
def test_rings_on_a_wider_repeat(seed: int) -> None:
    check(seed, 24, 1000)


@pytest.mark.parametrize("seed", range(3))
def test_unseeded_it_beats_the_trade_on_longer_rings(seed: int) -> None:
    found = solve(ring(seed, 40, pieces=5), NO_PINS, seeded=False)
    assert all(found.cost <= order.cost for order in found.baselines)
