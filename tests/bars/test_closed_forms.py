"""Bodies of revolution, whose mismatch has a closed form (source: plane and solid geometry)."""

from __future__ import annotations

import math

import pytest

from settwright.bars import Axis, Importance, Join, Match, Mode, Sample, match_bars, wrap
from settwright.bars.match import Prepared, prepare
from settwright.bars.match import match as match_prepared
from settwright.bars.objective import SCALE, Lying, problem_of
from settwright.bars.solver import solve
from settwright.geometry import Point
from settwright.makeup.model import CutPiece, JoinSide, MadeUp, SewnPair
from settwright.pattern import Cut
from tests.bars.toys import instances, strip
from tests.cloth.toy_setts import EVEN, UNEVEN, cloth

HEIGHT = 400.0


def tube(bottom: float, top: float, gores: int) -> MadeUp:
    """Returns a frustum of upright gores: half-widths at hem and top from its girths; grain down each middle.

    Right edge of each to the left edge of the next, level with level; no seam matters more than another.
    """
    half = [girth / gores / 2 for girth in (bottom, top)]

    def side(y: float) -> float:
        return half[0] + (half[1] - half[0]) * y / HEIGHT

    cut: list[CutPiece] = []
    for k in range(gores):
        piece = strip(f"gore-{k}", lambda y: -side(y), side, high=HEIGHT, cut=Cut.WHOLE)
        cut += instances(piece)
    count = 50
    levels = [HEIGHT * k / count for k in range(count + 1)]
    pairs = tuple((Point(side(y), y), Point(-side(y), y)) for y in levels)
    stops = (("hem", 0), ("waist", count // 2), ("top", count))
    names = [piece.name for piece in cut]
    seams = tuple(
        SewnPair("skirt-side.right" if k == 0 else f"skirt-side-{k}", "seam", JoinSide(names[k], "right"),
                 JoinSide(names[(k + 1) % gores], "left"), pairs, stops, 0.0, False)
        for k in range(gores)
    )  # fmt: skip
    return MadeUp((), tuple(cut), seams)


def upright_gap(match: Match, prepared: Prepared) -> list[float]:
    """Returns each seam's miss at its hem, read from the phases alone."""
    found: list[float] = []
    for join in prepared.joins:
        if join.kind == "pair":
            continue
        a, b = match.phase(join.a), match.phase(join.b)
        first = join.samples[0]
        found.append(wrap(a.u + first.a.x - b.u - first.b.x, prepared.cloth.warp.repeat))
    return found


@pytest.mark.parametrize("girth", [92.0 * 8, 92.0 * 8 + 30.0, 92.0 * 8 + 46.0])
def test_a_cylinder_misses_by_its_girth_less_whole_repeats(girth: float) -> None:
    # round a cylinder the uprights can close only where the repeat divides the girth: the misses of all seams add up
    # to girth mod repeat, whatever the places
    shell = cloth(UNEVEN)
    prepared = prepare(tube(girth, girth, 4), shell)
    match = match_prepared(prepared)
    assert wrap(sum(upright_gap(match, prepared)) - girth, 92.0) == pytest.approx(0.0, abs=0.01)
    if girth == 92.0 * 8:
        assert all(abs(gap) <= 0.05 for gap in upright_gap(match, prepared))
    assert all(drift.worst_level <= 0.05 for drift in match.drifts)


@pytest.mark.parametrize("taken_in", [20.0, 60.0, 92.0])
def test_along_a_cones_seam_uprights_part_by_the_taper(taken_in: float) -> None:
    # each seam of four takes in a quarter of what the girth loses: so the miss runs over that much from hem to top
    found = match_bars(tube(800.0, 800.0 - 4 * taken_in, 4), cloth(UNEVEN))
    for drift in found.drifts:
        if drift.upright is None or "alike" in drift.join:
            continue
        unwrapped = [drift.upright[0]]
        for before, after in zip(drift.upright, drift.upright[1:], strict=False):
            unwrapped.append(unwrapped[-1] + wrap(after - before, 92.0))
        join = next(j for j in found.joins if j.name == drift.join)
        share = (join.samples[-1].a.y - join.samples[0].a.y) / HEIGHT
        assert abs(unwrapped[-1] - unwrapped[0]) == pytest.approx(taken_in * abs(share), abs=0.01)


def test_the_same_body_scaled_with_its_cloth_misses_in_proportion() -> None:
    # everything twice as large, sett included: the floor of each seam doubles
    small = match_bars(tube(800.0, 700.0, 4), cloth(UNEVEN))
    twice = tuple((colour, 2 * width) for colour, width in UNEVEN)
    made = tube(1600.0, 1400.0, 4)
    large = match_bars(made, cloth(twice, twice))
    for one, two in zip(small.drifts, large.drifts, strict=True):
        assert two.floor == pytest.approx(2 * one.floor, abs=0.01)
    assert [d.join for d in small.drifts] == [d.join for d in large.drifts]


def on_the_bias(turn_a: float, turn_b: float, upright: Mode) -> tuple[int, float]:
    """Returns the cost of two strips cut at these angles to the grain and joined by a straight seam, and by how many
    mm the upright bars part along it."""
    samples = tuple(Sample(Point(30.0, 8.0 * k), Point(-30.0, 8.0 * k), 1 / 26) for k in range(26))
    join = Join("seam", "seam", "a", "r", "b", "l", Mode.CONTINUE, upright, ("hem", "top"), False,
                Importance.ALWAYS, 1.0, 0.0, samples)  # fmt: skip
    problem = problem_of([Lying("a", turn_a), Lying("b", turn_b)], [join], (), cloth(EVEN, EVEN))
    offsets = problem.joins[0].upright
    assert offsets is not None
    found = solve(problem, dict.fromkeys(Axis, ()))
    return found.cost, (int(offsets.offsets.max()) - int(offsets.offsets.min())) / 1000


def test_two_pieces_on_the_same_bias_go_on_and_on_opposite_ones_make_chevrons() -> None:
    # plane geometry: a point y up the seam lies y·cos 45° up and y·sin 45° across the cloth, to either side
    turn = math.pi / 4
    for meeting in ((turn, turn, Mode.CONTINUE), (turn, -turn, Mode.MIRROR), (0.0, 0.0, Mode.CONTINUE)):
        cost, parts = on_the_bias(*meeting)
        assert cost <= 0.01 * SCALE  # lengths are whole micrometres
        assert parts <= 0.002
    cost, parts = on_the_bias(turn, -turn, Mode.CONTINUE)
    assert cost > SCALE
    assert parts == pytest.approx(2 * 200.0 * math.sin(turn), abs=0.002)
