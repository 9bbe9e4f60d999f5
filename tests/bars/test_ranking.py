"""Where the centre front may lie, ways of laying the halves, cards and trades."""

from __future__ import annotations

from dataclasses import replace

import pytest

from settwright.bars import Axis, Match, Mode, Orientation, Pin, match, match_bars, prepare, wrap
from settwright.bars.cards import cutting_card, told_place
from settwright.bars.ranking import front_places, rank_fronts
from settwright.bars.ways import hindrance, orientations, ways
from settwright.cloth import Nap
from settwright.commission.model import Uneven
from settwright.geometry import Path, Point
from settwright.makeup.model import MadeUp
from settwright.pattern import Line, LineKind
from settwright.units import Units
from tests.bars.toys import jacket
from tests.cloth.toy_setts import EVEN, UNEVEN, bars, cloth

EVEN_WEFT = (("navy", 30.0), ("cream", 6.0), ("rust", 10.0), ("cream", 6.0))


def with_centre_front(made: MadeUp) -> MadeUp:
    """Returns the toy jacket with its centre front drawn on the fronts."""
    pieces = tuple(
        replace(piece, piece=replace(piece.piece, lines=(_centre(110.0 if piece.name == "front.right" else -110.0),)))
        if piece.name.startswith("front.")
        else piece
        for piece in made.pieces
    )
    return replace(made, pieces=pieces)


def _centre(x: float) -> Line:
    return Line("centre-front", LineKind.CENTRE, Path.line(Point(x, 0.0), Point(x, 400.0)), "hem", "top")


def test_an_uneven_sett_gives_a_dozen_places_and_an_even_one_no_mirror_images() -> None:
    uneven = front_places(replace(cloth(UNEVEN), dominant_warp="rust 1"))
    assert 10 <= len(uneven) <= 14
    assert {place.part for place in uneven} >= {"middle", "left edge", "right edge"}
    even = front_places(cloth(EVEN))
    sett = cloth(EVEN).warp
    for i, first in enumerate(even):
        for other in even[:i]:
            assert abs(wrap(first.place - other.place, sett.repeat)) >= 0.5
            assert abs(wrap(first.place + other.place - 2 * sett.pivots[0], sett.repeat)) >= 0.5


@pytest.mark.parametrize("warp", [EVEN, UNEVEN], ids=["even", "uneven"])
def test_each_place_is_pinned_and_never_worse_than_the_trade(warp: tuple[tuple[str, float], ...]) -> None:
    made, shell = with_centre_front(jacket(9.0, 14.0)), cloth(warp)
    prepared = prepare(made, shell)
    now = match(prepared)
    ranking = rank_fronts(prepared, (), now)
    costs = [choice.cost for choice in ranking.choices]
    assert costs == sorted(costs)
    for choice in ranking.choices:
        lies = choice.match.phase("front.right").u + 110.0
        assert wrap(lies - choice.at.place, shell.warp.repeat) == pytest.approx(0.0, abs=0.002)
        assert all(choice.cost <= cost for _, cost in choice.match.baselines)
    if warp is EVEN:  # a front mirrors where its centre lies on a pivot, and there only (geometry)
        for choice in ranking.choices:
            on_pivot = any(abs(wrap(choice.at.place - p, shell.warp.repeat)) < 0.5 for p in shell.warp.pivots)
            assert choice.fronts_mirror == on_pivot


def test_nothing_is_ranked_without_upright_bars() -> None:
    made, shell = with_centre_front(jacket()), cloth((("navy", 10.0),), UNEVEN)
    prepared = prepare(made, shell)
    assert rank_fronts(prepared, (), match(prepared)).choices == ()


def test_a_try_from_an_earlier_match_holds_the_pin_and_comes_near_the_whole_search() -> None:
    prepared = prepare(jacket(9.0, 14.0, 6.0), cloth(UNEVEN))
    now = match(prepared)
    for place in (4.0, 33.0, 61.0):
        pins = [Pin("front.right", Point(110.0, 200.0), Axis.UPRIGHT, place, "centre-front")]
        tried, whole = match(prepared, pins, now), match(prepared, pins)
        assert wrap(tried.phase("front.right").u + 110.0 - place, 92.0) == pytest.approx(0.0, abs=0.002)
        assert tried.cost <= 1.03 * whole.cost


def test_a_try_that_pins_the_front_where_it_lies_loses_nothing() -> None:
    prepared = prepare(jacket(9.0, 14.0, 6.0), cloth(UNEVEN))
    now = match(prepared)
    here = (now.phase("front.right").u + 110.0) % 92.0
    pins = [Pin("front.right", Point(110.0, 200.0), Axis.UPRIGHT, here, "centre-front")]
    for is_wide in (False, True):
        assert match(prepared, pins, now, is_wide=is_wide).cost <= now.cost * (1 + 1e-9)


def test_what_was_tried_before_changes_nothing() -> None:
    prepared = prepare(jacket(9.0, 14.0), cloth(UNEVEN))
    pins = [Pin("front.right", Point(110.0, 200.0), Axis.UPRIGHT, 20.0, "centre-front")]
    match(prepared)
    assert match(prepared, pins) == match(prepare(jacket(9.0, 14.0), cloth(UNEVEN)), pins)


def turned(made: MadeUp, way: Uneven) -> Match:
    shell = replace(cloth(UNEVEN, EVEN_WEFT), faces_alike=True)
    return match_bars(made, shell, lying=orientations(made.pieces, shell, way))


@pytest.mark.parametrize(
    ("way", "lies"), [(Uneven.TURN, Orientation(t=-1)), (Uneven.OTHER_FACE, Orientation(f=-1))], ids=str
)
def test_a_left_half_laid_otherwise_mirrors_the_right_one_in_an_uneven_sett(way: Uneven, lies: Orientation) -> None:
    found = turned(jacket(9.0, 14.0), way)
    assert found.phase("front.left").orientation == lies
    assert found.phase("front.right").orientation == Orientation()
    drifts = {drift.join: drift for drift in found.drifts}
    for piece in ("back", "side", "front"):
        assert drifts[f"{piece}-alike"].upright is not None
        assert drifts[f"{piece}-alike"].worst_upright <= 1.0
        assert drifts[f"{piece}-alike"].worst_level <= 1.0
    joins = {join.name: join for join in found.joins}
    assert joins["closing"].upright is Mode.MIRROR
    assert drifts["closing"].worst_level <= 1.0
    # the sett reads backwards there: the place under a mirrored point is the same (docs/plan-format.md)
    right, left = found.phase("front.right"), found.phase("front.left")
    for x in (-40.0, 0.0, 70.0):
        at_left = left.orientation.place(Point(-x, 0.0), 0.0).x + left.u
        assert wrap(right.u + x - at_left, 92.0) == pytest.approx(0.0, abs=1.0)


def test_ways_that_cannot_be_gone_say_why() -> None:
    uneven = cloth(UNEVEN, UNEVEN)
    assert "level bars are uneven" in hindrance(uneven, Uneven.TURN)
    assert "faces" in hindrance(uneven, Uneven.OTHER_FACE)
    assert "nap" in hindrance(replace(cloth(UNEVEN, EVEN_WEFT), nap=Nap.ONE_WAY), Uneven.TURN)
    assert hindrance(cloth(UNEVEN, EVEN_WEFT), Uneven.TURN) == ""
    assert "even" in hindrance(cloth(EVEN), Uneven.TURN)
    assert orientations(jacket().pieces, uneven, Uneven.TURN) == {}


def test_the_three_ways_stand_side_by_side() -> None:
    made, shell = jacket(9.0), cloth(UNEVEN, EVEN_WEFT)
    now = match_bars(made, shell)

    def lying(way: Uneven) -> Match:
        return match_bars(made, shell, lying=orientations(made.pieces, shell, way))

    found = {way.way: way for way in ways(shell, Uneven.ROUND, now, lying)}
    assert found[Uneven.ROUND].is_chosen
    assert not found[Uneven.ROUND].fronts_mirror
    assert found[Uneven.TURN].fronts_mirror
    assert not found[Uneven.OTHER_FACE].is_possible
    assert ways(cloth(EVEN), Uneven.ROUND, now, lying) == ()
    assert found[Uneven.ROUND].lays_in is None
    laid = {way.way: way.lays_in for way in ways(shell, Uneven.ROUND, now, lying, lambda m: 1.0 if m is now else 2.0)}
    assert laid == {Uneven.ROUND: 1.0, Uneven.TURN: 2.0, Uneven.OTHER_FACE: None}


@pytest.mark.parametrize(
    ("place", "reading", "told"),
    [
        (30.0, 1, "on the left edge of rust 1"),
        (48.5, 1, "on the right edge of rust 1"),
        (33.0, 1, "3.0 mm right of the left edge of rust 1"),
        (33.0, -1, "3.0 mm left of the right edge of rust 1"),  # read backwards
        (27.0, 1, "on the middle of cream 1"),
        (92.0 + 12.0, 1, "on the middle of navy 1"),
    ],
)
def test_a_place_is_told_as_it_is_seen(place: float, reading: int, told: str) -> None:
    assert told_place(bars(*UNEVEN), place, Axis.UPRIGHT, Units.CM, reading=reading) == told


def test_the_card_begins_with_the_grain_mark_and_ends_at_the_top() -> None:
    made, shell = jacket(), cloth(UNEVEN)
    found = match_bars(made, shell)
    piece = next(piece for piece in made.pieces if piece.name == "front.right")
    card = cutting_card(piece, found.phase(piece.name), shell)
    assert card.checkpoints[0].where == "grain mark"
    assert card.checkpoints[-1].at.y == 400.0
    assert all(point.upright and point.level for point in card.checkpoints)
    assert card.turned == ""


def test_a_trade_names_who_pays_and_who_gains() -> None:
    # the closing joins both fronts; a pin on the sides forces the side seams apart from it, level
    pins = [
        Pin("front.right", Point(110.0, 0.0), Axis.LEVEL, 10.0, "front hem"),
        Pin("back.right", Point(0.0, 0.0), Axis.LEVEL, 20.0, "back hem"),
    ]
    found = match_bars(jacket(), cloth(), pins=pins)
    traded = {(trade.misses, trade.meets) for trade in found.trades if trade.axis is Axis.LEVEL}
    assert any({"side-back.right", "side-front.right"} == set(pair) for pair in traded)


def test_the_trades_orders_are_told_seam_by_seam() -> None:
    found = match_bars(jacket(9.0, 14.0), cloth(UNEVEN))
    assert [order.name for order in found.orders] == [name for name, _ in found.baselines]
    for order in found.orders:
        assert [drift.join for drift in order.drifts] == [join.name for join in found.joins]
