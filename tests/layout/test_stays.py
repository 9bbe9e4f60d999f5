"""Pieces that are cut stay where they are; hidden ones may lie on a blemish; faults with a start that is free."""

from __future__ import annotations

import pytest
from shapely import Polygon

from settwright.findings import Refusal
from settwright.geometry import Point
from settwright.layout import Board, Laid, LatticeState, Shape, lay
from settwright.layout.model import Placement
from tests.layout.checked import faults_in
from tests.layout.jacket_like import rectangle, suit

PLAID = Board(1450, 15, 70, 90, oy=0)


def test_what_is_cut_stays_and_the_rest_lies_around_it():
    shapes = suit(70, 90)
    first = lay(shapes, PLAID, effort=30)
    cut = {p.name: p for p in first.placements if p.name.startswith(("back", "skirt"))}
    stays = tuple(Laid(s, cut[s.name]) for s in shapes if s.name in cut)
    rest = tuple(s for s in shapes if s.name not in cut)
    again = lay(rest, PLAID, stays=stays, effort=30)
    assert faults_in(again, shapes, PLAID) == []
    assert {p.name: p for p in again.placements if p.name in cut} == cut


def test_a_length_is_never_shorter_than_what_is_cut_from_it():
    far = Laid(Shape("back", rectangle(200, 300), (LatticeState(),)), Placement("back", 100, 2000))
    layout = lay(
        (Shape("flap", rectangle(180, 80), (LatticeState(),)),), Board(1450, 15, None, None), stays=(far,), effort=1
    )
    assert layout.length == pytest.approx(2300)


def test_cut_pieces_on_level_bars_need_the_bar_at_the_squared_end():
    at = LatticeState(1, 1, 0.0, 0.0)
    cut = Laid(Shape("back", rectangle(200, 300), (at,)), Placement("back", 140, 180))
    with pytest.raises(Refusal, match="at_squared_end"):
        lay((Shape("side", rectangle(100, 300), (at,)),), Board(1450, 15, 70, 90), stays=(cut,), effort=1)


def test_only_hidden_pieces_may_lie_on_a_blemish():
    """The blemish covers all but a hand's breadth: the visible piece has one place, the hidden one fits beside it."""
    blemish = tuple(Point(x, y) for x, y in ((0, 0), (300, 0), (300, 400), (0, 400)))
    board = Board(500, 0, None, None, blemishes=(blemish,), gap=0)
    seen = Shape("front", rectangle(190, 200), (LatticeState(),))
    hidden = Shape("stay", rectangle(190, 200), (LatticeState(),), is_visible=False)
    layout = lay((seen, hidden), board, effort=5)
    assert layout.length == pytest.approx(200, abs=1)
    lies = {p.name: Polygon([(p.x + q.x, p.y + q.y) for q in rectangle(190, 200)]) for p in layout.placements}
    spot = Polygon([(p.x, p.y) for p in blemish])
    assert not lies["front"].intersects(spot)
    assert lies["stay"].intersects(spot)


def test_with_faults_too_the_start_of_the_repeat_is_chosen():
    fault = tuple(Point(700 + p.x, 400 + p.y) for p in rectangle(60, 60))
    shapes, board = suit(70, 90), Board(1450, 15, 70, 90, faults=(fault,))
    layout = lay(shapes, board, effort=40)
    assert faults_in(layout, shapes, board) == []
    alone = Shape("back", rectangle(100, 150), (LatticeState(1, 1, 0.0, 37.0),))
    assert lay((alone,), Board(900, 10, 60, 80, ox=10, faults=(fault,)), effort=1).length == pytest.approx(150)
