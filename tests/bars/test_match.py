"""Matches whose answer is known beforehand, on garments simple enough to check with a pencil."""

from __future__ import annotations

import subprocess
import sys
from dataclasses import replace

import pytest

from settwright.bars import Axis, Drift, Importance, Match, Mode, Pin, joins_of, match_bars, wrap
from settwright.bars.customs import custom_of
from settwright.cloth import Cloth
from settwright.findings import Refusal, Weight
from settwright.geometry import Point
from settwright.makeup.model import JoinSide, MadeUp, SewnPair
from settwright.units import Units
from tests.bars.toys import instances, jacket, strip
from tests.cloth.toy_setts import EVEN, PLAIN, UNEVEN, bars, cloth


def drift_at(match: Match, join: str) -> Drift:
    return next(drift for drift in match.drifts if drift.join == join)


def worst(match: Match) -> float:
    return max(max(drift.worst_level, drift.worst_upright) for drift in match.drifts)


def test_straight_seams_match_to_nothing_in_an_even_sett_that_divides_the_girth() -> None:
    # half round is 150 + 85 + 200 = 435 mm: a sett of 87 mm goes into it five times, so its pivot meets both centres
    shell = cloth((("navy", 40.0), ("cream", 10.0), ("rust", 27.0), ("cream", 10.0)))
    match = match_bars(jacket(), shell)
    assert worst(match) <= 0.05
    assert match.cost == pytest.approx(0.0, abs=20.0)


def test_straight_seams_match_to_nothing_in_an_uneven_sett_that_divides_the_girth() -> None:
    # all round is 870 mm: ten repeats of 87 mm
    shell = cloth((("navy", 40.0), ("cream", 10.0), ("rust", 17.0), ("moss", 20.0)))
    match = match_bars(jacket(), shell)
    assert max(drift.worst_upright for drift in match.drifts if drift.upright is not None) <= 0.05


def test_a_sett_as_wide_as_the_intake_matches_on_both_sides_of_it() -> None:
    # a sett of 15 mm is itself again when the seam has taken in 15 mm, and opposite to itself at half of that
    shell = cloth((("navy", 9.0), ("cream", 6.0)))
    whole = drift_at(match_bars(jacket(slope=15.0), shell), "side-back.right").upright
    half = drift_at(match_bars(jacket(slope=7.5), shell), "side-back.right").upright
    assert whole is not None
    assert half is not None
    assert wrap(whole[0] - whole[-1], 15.0) == pytest.approx(0.0, abs=0.05)
    assert abs(wrap(half[0] - half[-1], 15.0)) == pytest.approx(7.5, abs=0.05)


def test_fronts_mirror_each_other_in_an_even_sett() -> None:
    shell = cloth(EVEN)
    match = match_bars(jacket(hollow=9.0, slope=14.0), shell)
    sett = shell.warp
    for name in ("back", "side", "front"):
        right, left = match.phase(f"{name}.right"), match.phase(f"{name}.left")
        assert wrap(right.u + left.u - 2 * sett.pivots[0], sett.repeat) == pytest.approx(0.0, abs=0.002)
        assert right.v == pytest.approx(left.v)
    closing = drift_at(match, "closing")
    assert closing.worst_upright <= 1.0
    # mirrored and unbroken: a pivot stands on the centre front
    centre = match.phase("front.right").u + 110.0
    assert min(abs(wrap(centre - pivot, sett.repeat)) for pivot in sett.pivots) <= 0.5


def test_an_uneven_sett_runs_round_the_body_and_says_so() -> None:
    match = match_bars(jacket(hollow=9.0), cloth(UNEVEN))
    alike = drift_at(match, "front-alike")
    assert alike.upright is None
    assert "can't mirror" in alike.summary
    assert any("round the body" in finding.what for finding in match.findings)
    assert drift_at(match, "closing").worst_upright <= 1.0


def test_the_leading_bar_lies_on_the_centre_back_by_custom() -> None:
    shell = cloth(UNEVEN)
    match = match_bars(jacket(), replace(shell, dominant_warp="rust 1"))
    start = shell.warp.starts[2] + 9.0  # middle of the third bar, 18 mm wide
    assert wrap(match.phase("back.right").u - start, shell.warp.repeat) == pytest.approx(0.0, abs=0.05)
    assert any(f.weight is Weight.DEFAULT and "rust 1" in f.what for f in match.findings)


def test_a_dart_parts_the_bars_above_the_waist_only() -> None:
    match = match_bars(jacket(dart=9.0), cloth())
    seam = drift_at(match, "side-front.right")
    assert seam.worst_level <= 0.05
    assert "from the hem to the waist" in seam.summary
    assert "9 mm at the top" in seam.summary


def test_a_hard_join_misses_by_the_floor_and_a_millimetre_at_most() -> None:
    # above the waist the front is 30 mm longer: over the whole seam nothing beats 15
    words = [("side-front", Importance.ALWAYS)]
    made = jacket(dart=30.0)
    match = match_bars(made, cloth(), importance=words)
    for seam in match.drifts:
        join = next(j for j in match.joins if j.name == seam.join)
        if join.hard and seam.level is not None:
            assert seam.worst_level <= seam.floor + 1.0 + 1e-6


def test_a_pin_is_held_and_the_rest_follows() -> None:
    shell = cloth(UNEVEN)
    pin = Pin("front.right", Point(110.0, 200.0), Axis.UPRIGHT, 31.0, "centre-front")
    match = match_bars(jacket(), shell, pins=[pin])
    assert wrap(match.phase("front.right").u + 110.0 - 31.0, shell.warp.repeat) == pytest.approx(0.0, abs=0.002)
    assert drift_at(match, "closing").worst_upright <= 1.0
    assert "your pin" in dict(match.reasons)["front.right"]


def test_a_pin_beside_the_pivot_takes_the_mirror_from_the_fronts() -> None:
    shell = cloth(EVEN)
    pin = Pin("front.right", Point(110.0, 0.0), Axis.UPRIGHT, 20.0, "centre-front")  # the edge of a bar
    match = match_bars(jacket(), shell, pins=[pin])
    assert drift_at(match, "closing").worst_upright <= 1.0
    assert any(f.where == "front-alike" and "alike" in f.what for f in match.findings)


def test_contradicting_pins_are_told_with_the_seam_that_they_break() -> None:
    pins = [
        Pin("front.right", Point(110.0, 0.0), Axis.LEVEL, 10.0, "front hem"),
        Pin("side.right", Point(0.0, 0.0), Axis.LEVEL, 40.0, "side hem"),
    ]
    match = match_bars(jacket(), cloth(), pins=pins)
    told = [f for f in match.findings if f.weight is Weight.CAUTION]
    assert any(f.where == "side-front.right" and "30.0 mm" in f.what and "side hem" in f.what for f in told)
    assert abs(drift_at(match, "side-front.right").worst_level - 30.0) <= 0.01
    in_inches = match_bars(jacket(), cloth(), pins=pins, units=Units.INCHES)
    (told,) = (f for f in in_inches.findings if f.where == "side-front.right" and f.weight is Weight.CAUTION)
    assert "1 3/16 in" in told.what  # 30 mm to the nearest 32nd (arithmetic)
    assert " mm" not in told.what


def test_only_the_pins_that_contradict_each_other_are_blamed() -> None:
    pins = [
        Pin("back.right", Point(0.0, 0.0), Axis.UPRIGHT, 3.0, "back"),
        Pin("front.right", Point(110.0, 0.0), Axis.UPRIGHT, 10.0, "centre front"),
        Pin("front.left", Point(-110.0, 0.0), Axis.UPRIGHT, 20.0, "centre front"),
    ]
    match = match_bars(jacket(), cloth(UNEVEN), pins=pins)
    (told,) = (f for f in match.findings if f.where == "closing")
    assert "front, right: centre front; front, left: centre front" in told.what
    assert "back" not in told.what


def test_two_pins_that_tear_one_piece_apart_are_refused() -> None:
    pins = [Pin("front.right", Point(0.0, 0.0), Axis.LEVEL, place) for place in (10.0, 14.0)]
    with pytest.raises(Refusal, match=r"apart by 4.0 mm"):
        match_bars(jacket(), cloth(), pins=pins)
    with pytest.raises(Refusal, match=r"apart by 5/32 in"):
        match_bars(jacket(), cloth(), pins=pins, units=Units.INCHES)


def test_a_pin_on_an_unknown_piece_is_refused_with_the_names() -> None:
    with pytest.raises(Refusal, match=r"front\.right"):
        match_bars(jacket(), cloth(), pins=[Pin("front", Point(0.0, 0.0), Axis.LEVEL, 0.0)])


def test_a_word_about_an_unknown_seam_is_refused() -> None:
    with pytest.raises(Refusal, match="side-frnt"):
        match_bars(jacket(), cloth(), importance=[("side-frnt", Importance.LET_GO)])


def test_stripes_leave_the_level_free() -> None:
    match = match_bars(jacket(), cloth(EVEN, PLAIN))
    assert all(phase.free_v and not phase.free_u and phase.v == 0.0 for phase in match.phases)
    assert all(drift.level is None and drift.floor == 0.0 for drift in match.drifts)


def test_level_bars_alone_leave_the_upright_free() -> None:
    match = match_bars(jacket(), cloth(PLAIN, UNEVEN))
    assert all(phase.free_u and not phase.free_v for phase in match.phases)
    assert worst(match) <= 0.05


def test_plain_cloth_has_nothing_to_match() -> None:
    match = match_bars(jacket(), cloth(PLAIN, PLAIN))
    assert match.joins == ()
    assert all(phase.free_u and phase.free_v for phase in match.phases)


def test_hidden_pieces_take_no_part() -> None:
    made = jacket()
    hidden = instances(strip("under-collar", lambda _: 0.0, lambda _: 50.0), matched=False)
    made = MadeUp((), (*made.pieces, *hidden), made.sewn)
    match = match_bars(made, cloth())
    assert match.phase("under-collar.right").free_u
    assert not any("under-collar" in (join.a + join.b) for join in match.joins)


def test_samples_reach_both_ends_of_the_stretch_and_lie_close() -> None:
    for join in joins_of(jacket(hollow=9.0, slope=5.0), cloth()):
        steps = [(q.a - p.a).length for p, q in zip(join.samples, join.samples[1:], strict=False)]
        assert max(steps) <= 10.0
        assert sum(sample.weight for sample in join.samples) == pytest.approx(1.0, abs=1e-6)
        assert join.stops[0] == (join.stretch[0], 0)
        assert join.stops[-1] == (join.stretch[1], len(join.samples) - 1)


def test_the_persons_word_changes_a_join() -> None:
    made = jacket()
    let_go = {j.name: j for j in joins_of(made, cloth(), [("side-front", Importance.LET_GO)])}
    assert not let_go["side-front.left"].hard
    assert let_go["side-front.left"].weight < let_go["side-back.left"].weight
    gone = joins_of(made, cloth(), [("side-front.left", Importance.HIDDEN)])
    assert {j.name for j in gone} == set(let_go) - {"side-front.left"}


def test_over_the_shoulder_bars_mirror() -> None:
    custom = custom_of("shoulder")
    assert custom is not None
    assert custom.upright is Mode.MIRROR


def test_a_level_ring_that_cannot_close_is_named_with_its_error() -> None:
    made = jacket()
    back, front = (next(p for p in made.pieces if p.name == name) for name in ("back.right", "front.right"))
    along = [k * 8.0 for k in range(6)]
    pairs = tuple((Point(-90.0, y), Point(150.0, y + 12.0)) for y in along)  # as a seam that sits 12 mm too high
    made_up = replace(made, sewn=(*made.sewn, _pair(front.name, back.name, pairs)))
    cycle = match_bars(made_up, cloth()).cycles[0]
    assert set(cycle.joins) == {"side-back.right", "side-front.right", "hindarm.right"}
    assert abs(cycle.closing) == pytest.approx(12.0)


def _pair(a: str, b: str, pairs: tuple[tuple[Point, Point], ...]):
    stops = (("hem", 0), ("elbow", 3), ("top", len(pairs) - 1))
    return SewnPair(
        "hindarm.right", "seam", JoinSide(a, "side-front"), JoinSide(b, "side-back"), pairs, stops, 0.0, False
    )


def shells() -> list[Cloth]:
    return [cloth(EVEN), cloth(UNEVEN), replace(cloth(UNEVEN), warp=bars(*UNEVEN[:3]))]


@pytest.mark.parametrize("shell", shells(), ids=["even", "uneven", "narrow"])
def test_never_worse_than_either_of_the_trades_orders(shell: Cloth) -> None:
    for made in (jacket(9.0, 14.0, 6.0), jacket(0.0, 25.0), jacket(20.0, -18.0, 12.0)):
        match = match_bars(made, shell)
        assert [name for name, _ in match.baselines] == ["from the centre back", "from the front"]
        assert all(match.cost <= cost for _, cost in match.baselines)


def test_the_same_again_in_another_process_without_the_processors_extras() -> None:
    code = (
        "from tests.bars.toys import jacket; from tests.cloth.toy_setts import cloth, UNEVEN;"
        "from settwright.bars import match_bars; print(match_bars(jacket(9.0, 14.0, 6.0), cloth(UNEVEN)))"
    )
    found = {
        subprocess.run(
            [sys.executable, "-c", code], env=env, capture_output=True, text=True, check=True, cwd="."
        ).stdout
        for env in (
            {"PYTHONHASHSEED": "1"},
            {"PYTHONHASHSEED": "2", "NPY_DISABLE_CPU_FEATURES": "AVX512F AVX512CD AVX512_SKX AVX2 FMA3"},
        )
    }
    assert len(found) == 1
    assert "Phase(piece='back.right'" in found.pop()
