"""Bucket elimination against trying every combination."""

import itertools
import random

import numpy as np
import pytest

from settwright.bars.elimination import Table, min_fill_order, minimise


@pytest.mark.parametrize("seed", range(20))
def test_elimination_finds_the_least_of_all_combinations(seed: int) -> None:
    chance = random.Random(seed)
    sizes = [chance.randint(1, 4) for _ in range(6)]
    pairs = [pair for pair in itertools.combinations(range(6), 2) if chance.random() < 0.6]
    scopes: list[tuple[int, ...]] = [*pairs, *((i,) for i in range(6))]
    tables = [
        Table(
            scope,
            np.array([chance.randint(0, 50) for _ in range(_size(scope, sizes))]).reshape([sizes[i] for i in scope]),
        )
        for scope in scopes
    ]
    states, cost = minimise(sizes, tables, min_fill_order(6, tuple(pairs)))

    def total(states: tuple[int, ...]) -> int:
        return sum(int(table.costs[tuple(states[i] for i in table.unknowns)]) for table in tables)

    assert total(states) == cost
    assert cost == min(total(states) for states in itertools.product(*(range(size) for size in sizes)))


def _size(scope: tuple[int, ...], sizes: list[int]) -> int:
    return int(np.prod([sizes[i] for i in scope]))


def test_a_tree_is_eliminated_with_one_neighbour_at_a_time() -> None:
    assert min_fill_order(5, ((0, 1), (0, 2), (2, 3), (2, 4))).width == 1


def test_a_ring_takes_two() -> None:
    assert min_fill_order(6, tuple((i, (i + 1) % 6) for i in range(6))).width == 2
