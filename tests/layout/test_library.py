"""The general library's layouts on plain cloth hold by the same checks as ours."""

from __future__ import annotations

from dataclasses import replace

import pytest

from settwright.geometry import Point
from settwright.layout import Board, LatticeState, Shape
from settwright.layout.library import can_search, lay_by_library
from tests.layout.checked import faults_in

pytest.importorskip("spyrrow")

BOARD = Board(900.0, 15.0, None, None)


def wedge(name: str, width: float, height: float) -> Shape:
    outline = (Point(0, 0), Point(width, 0), Point(width * 0.6, height), Point(width * 0.3, height * 0.8))
    return Shape(name, outline, (LatticeState(1), LatticeState(-1)))


SHAPES = tuple(wedge(f"piece {i}", 180.0 + 17 * i, 300.0 + 23 * i) for i in range(8))


def test_its_layout_holds_and_is_told_in_our_frame():
    layout = lay_by_library(SHAPES, BOARD, seconds=1)
    assert layout is not None
    assert faults_in(layout, SHAPES, BOARD) == []
    assert 0.4 < layout.usage < 1.0


def test_it_is_asked_only_where_every_piece_may_lie_anywhere():
    assert can_search(SHAPES, BOARD)
    spot = (Point(1, 1), Point(2, 1), Point(1, 2))
    assert not can_search(SHAPES, replace(BOARD, faults=(spot,)))
    assert not can_search(SHAPES, replace(BOARD, blemishes=(spot,)))
    assert not can_search((*SHAPES, replace(SHAPES[0], states=(LatticeState(v=3.0),))), BOARD)
    assert not can_search((), BOARD)
