"""Small layouts against the exact optimum, proved by OR-tools CP-SAT; overlaps worked out by shapely."""

from __future__ import annotations

import itertools
import random

import pytest
from shapely import Polygon
from shapely.affinity import translate

from settwright.geometry import Point
from settwright.layout import Board, LatticeState, Shape, lay

SHRUNK = 0.005  # mm


def proved_shortest(shapes: tuple[Shape, ...], board: Board, most: float) -> float:
    """Returns the least length, at most `most`; one worker, seeded. Fails unless the solver proves it."""
    from ortools.sat.python import cp_model

    assert board.repeat_x
    assert board.repeat_y
    assert board.oy is not None
    model = cp_model.CpModel()
    top = model.new_int_var(0, round(most * 1000), "top")
    places: list[list[tuple[cp_model.IntVar, Polygon]]] = []
    for shape in shapes:
        (state,) = shape.states
        assert state.u is not None
        assert state.v is not None
        own: list[tuple[cp_model.IntVar, Polygon]] = []
        plain = Polygon([(p.x, p.y) for p in shape.outline])
        for i, j in itertools.product(range(-6, 12), range(-6, 20)):
            lies = translate(plain, board.ox + state.u + i * board.repeat_x, board.oy + state.v + j * board.repeat_y)
            left, bottom, right, high = lies.bounds
            fits = board.selvedge - 1e-6 <= left and right <= board.width - board.selvedge + 1e-6
            if fits and bottom >= -1e-6 and high <= most + 1e-6:
                here = model.new_bool_var("")
                model.add(top >= round(high * 1000)).only_enforce_if(here)
                own.append((here, lies.buffer(-SHRUNK)))
        model.add_exactly_one(here for here, _ in own)
        places.append(own)
    for one, two in itertools.combinations(places, 2):
        for (a, lies), (b, beside) in itertools.product(one, two):
            if lies.intersects(beside):
                model.add_bool_or(~a, ~b)
    model.minimize(top)
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    solver.parameters.random_seed = 1
    assert solver.solve(model) == cp_model.OPTIMAL
    return solver.objective_value / 1000


def small_case(seed: int) -> tuple[tuple[Shape, ...], Board]:
    """Four to eight invented pieces, four- to six-cornered, some hollow, on a coarse repeat."""
    chance = random.Random(seed)
    board = Board(620, 10, 100, 120, ox=chance.randrange(100), oy=float(chance.randrange(120)), gap=0)
    shapes: list[Shape] = []
    for i in range(4 + seed % 5):
        width, height = chance.randrange(90, 260), chance.randrange(100, 300)
        bite = chance.randrange(0, height // 2)
        corners = (
            (0, 0),
            (width, chance.randrange(40)),
            (width * 0.8, height),
            (width * 0.5, height - bite),
            (0, height),
        )
        place = LatticeState(1, 1, chance.randrange(100), chance.randrange(120))
        shapes.append(Shape(f"piece {i}", tuple(Point(x, y) for x, y in corners), (place,)))
    return tuple(shapes), board


@pytest.mark.parametrize("seed", [*range(5), *(pytest.param(s, marks=pytest.mark.slow) for s in range(5, 25))])
def test_small_layouts_are_as_short_as_the_proved_optimum(seed: int):
    shapes, board = small_case(seed)
    ours = lay(shapes, board, effort=40).length
    assert ours == pytest.approx(proved_shortest(shapes, board, ours + 1), abs=0.01)
