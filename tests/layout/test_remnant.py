"""What is left over, on cloths where it can be seen by eye, and against every rectangle of a small one."""

from __future__ import annotations

import itertools

from hypothesis import given
from hypothesis import strategies as st
from shapely import Polygon, box, unary_union

from settwright.geometry import Point
from settwright.layout.remnant import CELL, LEAST, Remnant, remnants


def block(x: float, y: float, width: float, height: float) -> tuple[Point, ...]:
    return (Point(x, y), Point(x + width, y), Point(x + width, y + height), Point(x, y + height))


def test_the_end_and_the_gap_between_two_pieces():
    found = remnants([block(20, 0, 400, 1000), block(620, 0, 360, 1000)], left=20, right=980, length=1000, whole=1250)
    assert found == (
        Remnant(20, 1000, 960, 250, is_end=True),
        Remnant(420, 0, 200, 1000),
    )


def test_a_slanted_piece_leaves_only_what_is_surely_free():
    triangle = (Point(0, 0), Point(1000, 0), Point(0, 1000))
    (found,) = remnants([triangle], left=0, right=1000, length=1000, whole=1000)[:1]
    assert not Polygon([(p.x, p.y) for p in triangle]).intersects(
        box(found.left, found.bottom, found.left + found.width, found.bottom + found.length).buffer(-1e-6)
    )
    # the largest square under the slant has half its legs: a quarter of the square's area
    assert abs(found.width * found.length - 250_000) < 500 * 2 * CELL


spots = st.tuples(st.integers(0, 20), st.integers(0, 20), st.integers(1, 12), st.integers(1, 12))


@given(st.lists(spots, min_size=1, max_size=5))
def test_none_is_larger_and_none_touches_a_piece(given_blocks: list[tuple[int, int, int, int]]):
    laid = [block(x * CELL, y * CELL, w * CELL, h * CELL) for x, y, w, h in given_blocks]
    side = 24 * CELL
    covered = unary_union([Polygon([(p.x, p.y) for p in corners]) for corners in laid])
    found = remnants(laid, left=0, right=side, length=side, whole=side)
    for spot in found:
        inside = box(spot.left, spot.bottom, spot.left + spot.width, spot.bottom + spot.length).buffer(-1e-3)
        assert not inside.intersects(covered)
    free = [[not covered.intersects(box(c, r, c + 1, r + 1).buffer(-0.01)) for c in _cells(side)] for r in _cells(side)]
    best = 0
    least = round(LEAST / CELL)
    for row in range(24):
        for high in range(least, 25 - row):
            open_columns = [all(free[r][c] for r in range(row, row + high)) for c in range(24)]
            run = max((len(list(group)) for is_free, group in itertools.groupby(open_columns) if is_free), default=0)
            if run >= least:
                best = max(best, run * high)
    assert max((spot.width * spot.length for spot in found), default=0.0) == best * CELL * CELL


def _cells(side: float) -> list[float]:
    return [i * CELL for i in range(round(side / CELL))]
