"""Bucket elimination against trying every combination."""

import itertools
import random

import numpy as np
import pytest

from settwright.bars.elimination import Elimination, min_fill_order


@pytest.mark.parametrize("seed", range(20))
def test_elimination_finds_the_least_of_all_combinations(seed: int) -> None:
    chance = random.Random(seed)
    sizes = [chance.randint(1, 4) for _ in range(6)]
    pairs = [pair for pair in itertools.combinations(range(6), 2) if chance.random() < 0.6]
    scopes: list[tuple[int, ...]] = [*pairs, *((i,) for i in range(6))]
    tables = [np.array([chance.randint(0, 50) for _ in range(_size(scope, sizes))]) for scope in scopes]
    way = Elimination(sizes, scopes, min_fill_order(tuple(sizes), tuple(pairs)))
    row = np.zeros(way.room, dtype=np.int64)
    for begins, table in zip(way.slots, tables, strict=True):
        row[begins : begins + len(table)] = table
    states, cost = way.least(row)

    def total(states: tuple[int, ...]) -> int:
        return sum(
            int(table.reshape([sizes[i] for i in scope])[tuple(states[i] for i in scope)])
            for scope, table in zip(scopes, tables, strict=True)
        )

    assert total(states) == cost
    assert cost == min(total(states) for states in itertools.product(*(range(size) for size in sizes)))


def _size(scope: tuple[int, ...], sizes: list[int]) -> int:
    return int(np.prod([sizes[i] for i in scope]))


def test_a_tree_is_eliminated_with_one_neighbour_at_a_time() -> None:
    assert min_fill_order((3,) * 5, ((0, 1), (0, 2), (2, 3), (2, 4))).width == 1


def test_a_ring_takes_two() -> None:
    assert min_fill_order((3,) * 6, tuple((i, (i + 1) % 6) for i in range(6))).width == 2


def test_a_ring_with_one_unknown_settled_is_a_chain() -> None:
    order = min_fill_order((1, 3, 3, 3, 3, 3), tuple((i, (i + 1) % 6) for i in range(6)))
    assert order.cells((1, 9, 9, 9, 9, 9)) <= 4 * 9 * 9 + 9 + 1
