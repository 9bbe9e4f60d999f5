"""Layouts looked at with shapely, small ones against every possible layout, and shapes that can't lie at all."""

from __future__ import annotations

import itertools
import random
import time

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import Polygon

from settwright.findings import Refusal, Weight
from settwright.geometry import Point
from settwright.layout import Board, LatticeState, Shape, lay
from tests.layout.checked import faults_in
from tests.layout.jacket_like import rectangle, suit

QUICK = 60


def spot(x: float, y: float, size: float = 40.0) -> tuple[Point, ...]:
    return tuple(Point(x + p.x, y + p.y) for p in rectangle(size, size))


@pytest.mark.parametrize(
    ("board", "may_turn"),
    [
        (Board(1450, 15, 70, 90, ox=12), False),
        (Board(1450, 15, 70, 90, ox=12, oy=31), True),
        (Board(1450, 15, 69.85, None, ox=3), False),
        (Board(1450, 15, None, 88.9), False),
        (Board(1450, 15, None, None), True),
        (Board(1450, 15, 70, 90, faults=(spot(700, 300), spot(200, 1500, 90)), oy=0), False),
        (Board(1450, 15, None, None, faults=(spot(300, 100),), gap=0), False),
    ],
    ids=["plaid", "plaid, two ways", "upright stripe", "level stripe", "plain", "faults", "plain, fault"],
)
def test_a_suit_lies_soundly_on_every_kind_of_cloth(board: Board, may_turn: bool):
    shapes = suit(board.repeat_x, board.repeat_y, may_turn=may_turn)
    layout = lay(shapes, board, effort=QUICK)
    assert faults_in(layout, shapes, board) == []
    area = sum(Polygon([(p.x, p.y) for p in shape.outline]).area for shape in shapes)  # shapely
    assert layout.usage == pytest.approx(area / ((board.width - 2 * board.selvedge) * layout.length))
    assert layout.usage < 1


def test_free_and_matched_shapes_lie_together():
    shapes = suit(70, 90)
    freed = tuple(
        Shape(s.name, s.outline, (LatticeState(),)) if s.name.startswith(("flap", "waistband")) else s for s in shapes
    )
    board = Board(1450, 15, 70, 90)
    layout = lay(freed, board, effort=QUICK)
    assert faults_in(layout, freed, board) == []


def test_the_start_of_the_repeat_is_chosen_when_buying():
    """A shape as high as its place above the bar: with the start free nothing is lost at the end."""
    shape = Shape("back", rectangle(100, 150), (LatticeState(1, 1, 0.0, 37.0),))
    bought = lay((shape,), Board(200, 10, 60, 80, ox=10), effort=1)
    assert bought.length == pytest.approx(150)
    assert bought.placements[0].y == pytest.approx(0)
    in_hand = lay((shape,), Board(200, 10, 60, 80, ox=10, oy=0), effort=1)
    assert in_hand.placements[0].y == pytest.approx(37)
    assert in_hand.length == pytest.approx(187)


def outlines() -> st.SearchStrategy[tuple[Point, ...]]:
    """Star-shaped outlines about their grain mark, hollow and pointed ones among them."""

    @st.composite
    def drawn(draw: st.DrawFn) -> tuple[Point, ...]:
        radii = draw(st.lists(st.integers(20, 130), min_size=3, max_size=9))
        chance = random.Random(draw(st.integers(0, 10**6)))
        corners = [
            Point(0, r).rotated(2 * 3.14159 * (i + 0.6 * chance.random()) / len(radii)) for i, r in enumerate(radii)
        ]
        return tuple(corners)

    return drawn()


@st.composite
def jobs(draw: st.DrawFn) -> tuple[tuple[Shape, ...], Board]:
    repeat_x = draw(st.none() | st.floats(40, 150))
    repeat_y = draw(st.none() | st.floats(40, 200))
    shapes: list[Shape] = []
    for i, outline in enumerate(draw(st.lists(outlines(), min_size=1, max_size=6))):
        is_free = draw(st.booleans())
        states = [
            LatticeState(
                t,
                f,
                None if is_free or repeat_x is None else draw(st.floats(0, repeat_x)),
                None if is_free or repeat_y is None else draw(st.floats(0, repeat_y)),
            )
            for t, f in draw(st.sampled_from([((1, 1),), ((1, 1), (-1, 1)), ((1, -1), (-1, -1), (1, 1))]))
        ]
        shapes.append(Shape(f"piece {i}", outline, tuple(states)))
    faults = draw(st.lists(st.builds(spot, st.integers(0, 500), st.integers(0, 600)), max_size=2))
    board = Board(
        width=560,
        selvedge=10,
        repeat_x=repeat_x,
        repeat_y=repeat_y,
        ox=draw(st.floats(-50, 50)),
        oy=draw(st.none() | st.floats(-50, 50)),
        faults=tuple(faults),
        gap=draw(st.sampled_from([0.0, 3.0, 6.5])),
    )
    return tuple(shapes), board


@given(jobs())
@settings(max_examples=25, deadline=None, derandomize=True)
def test_whatever_the_shapes_and_the_cloth_the_layout_is_sound(job: tuple[tuple[Shape, ...], Board]):
    shapes, board = job
    assert faults_in(lay(shapes, board, effort=3), shapes, board) == []


@pytest.mark.slow
@given(jobs())
@settings(max_examples=400, deadline=None)
def test_many_more_shapes_and_cloths(job: tuple[tuple[Shape, ...], Board]):
    shapes, board = job
    assert faults_in(lay(shapes, board, effort=3), shapes, board) == []


def shortest(shapes: tuple[Shape, ...], board: Board, oy: float) -> float:
    """Returns the shortest length of upright rectangles by trying all their places, cutting off what is too long."""
    assert board.repeat_x
    assert board.repeat_y
    best = 2000.0
    sizes = [(max(p.x for p in s.outline), max(p.y for p in s.outline), s.states[0]) for s in shapes]
    options: list[list[tuple[float, float, float, float]]] = []
    for width, height, state in sizes:
        places = [
            (x, y, x + width, y + height)
            for j, i in itertools.product(range(-2, 16), range(-2, 12))
            for x, y in [(board.ox + state.u + i * board.repeat_x, oy + state.v + j * board.repeat_y)]  # type: ignore
            if x >= board.selvedge - 1e-9 and x + width <= board.width - board.selvedge + 1e-9 and y >= -1e-9
        ]
        options.append(sorted(places, key=lambda place: place[3]))

    def put(laid: list[tuple[float, float, float, float]], top: float) -> None:
        nonlocal best
        if len(laid) == len(options):
            best = top
            return
        for a in options[len(laid)]:
            if max(top, a[3]) >= best - 1e-9:
                return
            if all(a[0] >= b[2] or b[0] >= a[2] or a[1] >= b[3] or b[1] >= a[3] for b in laid):
                put([*laid, a], max(top, a[3]))

    put([], 0.0)
    return best


@pytest.mark.parametrize("seed", range(12))
def test_small_cases_are_as_short_as_the_shortest_of_all_layouts(seed: int):
    chance = random.Random(seed)
    board = Board(480, 10, 90, 110, ox=chance.randrange(90), oy=chance.randrange(110) if seed % 2 else None, gap=0)
    shapes = tuple(
        Shape(
            f"piece {i}",
            rectangle(chance.randrange(60, 250), chance.randrange(80, 330)),
            (LatticeState(1, 1, chance.randrange(90), chance.randrange(110)),),
        )
        for i in range(4 + seed % 2)
    )
    starts = [board.oy] if board.oy is not None else [-shape.states[0].v % 110 for shape in shapes]  # type: ignore
    assert lay(shapes, board, effort=20).length == pytest.approx(
        min(shortest(shapes, board, float(start)) for start in starts), abs=0.002
    )


def test_a_shape_wider_than_the_cloth_is_refused_by_name_and_by_how_much():
    shapes = (Shape("waistband", rectangle(520, 70), (LatticeState(),)), *suit(None, None)[:1])
    with pytest.raises(Refusal, match=r"waistband: is 520 mm wide, 40 mm wider than the cloth .* wider cloth"):
        lay(shapes, Board(500, 10, None, None))


def test_a_shape_without_a_place_at_its_bars_is_refused():
    shape = Shape("skirt-front", rectangle(450, 700), (LatticeState(1, 1, 45.0, 0.0),))
    with pytest.raises(Refusal, match=r"lie 5 mm over the selvedge wherever its bars match .* Let another bar"):
        lay((shape,), Board(500, 10, 90, 90))  # at 45 it ends at 495, 5 too far; one repeat less: −45, 55 too far


def test_too_short_a_length_in_hand_is_a_caution_with_both_lengths():
    shapes = suit(70, 90)
    layout = lay(shapes, Board(1450, 15, 70, 90, oy=0, length_in_hand=1500), effort=1)
    (finding,) = layout.findings
    assert finding.weight is Weight.CAUTION
    assert "1500 mm" in finding.what
    assert f"{layout.length:.0f} mm" in finding.what
    assert not lay(shapes, Board(1450, 15, 70, 90, oy=0, length_in_hand=9000), effort=1).findings


def test_nothing_to_lay_takes_no_cloth():
    assert lay((), Board(1450, 15, 70, 90)).length == 0


def test_progress_rises_to_its_end():
    heard: list[float] = []
    lengths: list[float] = []

    def hear(part: float, length: float) -> None:
        heard.append(part)
        lengths.append(length)

    lay(suit(70, 90), Board(1450, 15, 70, 90), effort=5, on_progress=hear)
    assert heard == sorted(heard)
    assert heard[-1] == 1.0
    assert lengths == sorted(lengths, reverse=True)


@pytest.mark.slow
def test_a_whole_search_beats_the_first_fill():
    shapes, board = suit(70, 90), Board(1450, 15, 70, 90)
    began = time.perf_counter()
    quick, long = lay(shapes, board, effort=0), lay(shapes, board)
    assert long.length < 0.95 * quick.length
    assert time.perf_counter() - began < 60


def test_a_start_that_is_chosen_beside_a_fault_leaves_nothing_beyond_the_end():
    """The lowest corner lies at a fraction of a hundredth of a millimetre in its repeat."""
    corners = (
        Point(-15.037490817307832, 13.186124143181067),
        Point(-1.216278117456392, -19.962982431014577),
        Point(19.830110271920418, 2.6012932559548836),
    )
    shapes = tuple(
        Shape(f"piece {i}", corners, (LatticeState(1, 1, 0.0, v),)) for i, v in enumerate((0.0, 1.2218705999))
    )
    board = Board(560, 10, 40.0, 130.0, faults=(spot(0, 0),), gap=0.0)
    assert faults_in(lay(shapes, board, effort=3), shapes, board) == []


def test_a_free_piece_at_the_cut_end_leaves_nothing_beyond_it():
    """A step of the free axis, a whole part of the repeat, is no whole number of micrometres."""
    matched = tuple(Point(p.x - 10, p.y - 10) for p in rectangle(36, 26))
    free = tuple(Point(p.x - 10, p.y - 5) for p in rectangle(56, 97))
    shapes = (Shape("matched", matched, (LatticeState(1, 1, 0.0, 0.0),)), Shape("free", free, (LatticeState(),)))
    board = Board(560, 10, 72.0, 44.25, gap=0.0)
    assert faults_in(lay(shapes, board, effort=3), shapes, board) == []
