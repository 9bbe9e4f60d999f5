"""Random small problems, and their optimum by trying every place on a grid of whole millimetres."""

from __future__ import annotations

import random

import numpy as np

from settwright.bars.model import Importance, Join, Mode, Sample
from settwright.bars.objective import Lying, Problem, problem_of
from settwright.geometry import Point
from tests.cloth.toy_setts import COLOURS, cloth


def widths(chance: random.Random, repeat: int) -> tuple[tuple[str, float], ...]:
    """Returns a random sett of this repeat in whole millimetres."""
    cuts = sorted(chance.sample(range(1, repeat), 3))
    colours = [chance.choice([name for name, _ in COLOURS])]
    while len(colours) < 4:
        colours.append(chance.choice([name for name, _ in COLOURS if name != colours[-1]]))
    ends = [0, *cuts, repeat]
    return tuple((colour, float(b - a)) for colour, a, b in zip(colours, ends, ends[1:], strict=False))


def ring(seed: int, repeat: int = 12, pieces: int = 3) -> Problem:
    """Returns pieces joined in a ring by slanting seams of unequal weight, on a random cloth.

    All points and bars lie on whole millimetres, so that the best places mostly do too.
    """
    chance = random.Random(seed)
    shell = cloth(widths(chance, repeat), widths(chance, repeat))
    joins: list[Join] = []
    for k in range(pieces):
        x, y, slant, tilt = (chance.randint(-20, 20) for _ in range(4))
        samples = tuple(
            Sample(
                Point(30 + round(slant * 0.3 * part), 60 * part),
                Point(-30 + x + round(tilt * 0.3 * part), 60 * part + y + round(tilt * 0.1 * part)),
                1 / 11,
            )
            for part in (i / 10 for i in range(11))
        )
        joins.append(
            Join(f"seam {k}", "seam", f"p{k}", "r", f"p{(k + 1) % pieces}", "l", Mode.CONTINUE, Mode.CONTINUE,
                 ("hem", "top"), False, Importance.IF_POSSIBLE, float(chance.randint(1, 10)), 0.0, samples)
        )  # fmt: skip
    return problem_of([Lying(f"p{k}") for k in range(pieces)], joins, (), shell)


def best_on_grid(problem: Problem, step: int = 1000) -> int:
    """Returns the least cost of a ring over all places on a grid; `step` in µm divides both repeats."""
    us, vs = (np.arange(0, threads.repeat, step, dtype=np.int64) for threads in (problem.upright, problem.level))
    u, v = (grid.ravel() for grid in np.meshgrid(us, vs, indexing="ij"))
    along = None
    for join in problem.joins[:-1]:
        table = problem.join_cost(join, u[:, None], u[None, :], v[:, None], v[None, :])
        along = table if along is None else _shortest(along, table)
    assert along is not None
    last = problem.joins[-1]
    closing = problem.join_cost(last, u[:, None], u[None, :], v[:, None], v[None, :])
    return int((along + closing.T).min())


def _shortest(first: np.ndarray, second: np.ndarray) -> np.ndarray:
    return np.array([(row[:, None] + second).min(axis=0) for row in first])
