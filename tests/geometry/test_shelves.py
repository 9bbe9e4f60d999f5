"""Rectangles on a strip: none overlap, none stand out, the same every time."""

from __future__ import annotations

import itertools

import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from settwright.geometry import Point
from settwright.geometry.shelves import lay_on_strip

SIZES = st.lists(st.tuples(st.floats(5, 400), st.floats(5, 900)), min_size=1, max_size=15)


@given(sizes=SIZES, gap=st.floats(0, 20))
def test_rectangles_keep_their_distance_and_stay_on_the_strip(sizes: list[tuple[float, float]], gap: float):
    corners = lay_on_strip(sizes, 500.0, gap)
    boxes = [shapely.box(p.x, p.y - high, p.x + wide, p.y) for p, (wide, high) in zip(corners, sizes, strict=True)]
    for a, b in itertools.combinations(boxes, 2):
        assert a.distance(b) > gap - 1e-3
        assert a.intersection(b).area < 1e-3
    for box in boxes:
        left, _, right, top = box.bounds
        assert left >= 0
        assert right <= 500 + 1e-6
        assert top <= 0


def test_small_ones_fill_the_room_below_a_short_one():
    assert lay_on_strip([(60, 100), (30, 40), (30, 50)], 100, 10) == (Point(0, 0), Point(70, -60), Point(70, 0))


def test_too_wide():
    with pytest.raises(ValueError, match="doesn't fit"):
        lay_on_strip([(120, 10)], 100, 5)
