"""Drifts and floors worked out again by the verifier, which shares no code with this stage."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from settwright.bars import Orientation, match_bars
from settwright.bars.report import least_worst
from settwright.bars.ways import orientations
from settwright.cloth import Sequence
from settwright.commission.model import Uneven
from settwright.verify.checks import join_figures
from settwright.verify.geometry import shortest_arc, wrapped
from tests.bars.toys import jacket
from tests.cloth.toy_setts import EVEN, UNEVEN, cloth


@pytest.mark.parametrize(
    ("warp", "weft", "way"),
    [
        (EVEN, UNEVEN, Uneven.ROUND),
        (UNEVEN, UNEVEN, Uneven.ROUND),
        (UNEVEN, EVEN, Uneven.TURN),
        (UNEVEN, UNEVEN, Uneven.OTHER_FACE),
    ],
    ids=["even", "uneven", "turned", "other face"],
)
def test_the_verifier_finds_the_same_figures(
    warp: tuple[tuple[str, float], ...], weft: tuple[tuple[str, float], ...], way: Uneven
) -> None:
    shell = replace(cloth(warp, weft), faces_alike=True)
    made = jacket(9.0, 14.0, 6.0)
    match = match_bars(made, shell, lying=orientations(made.pieces, shell, way))
    assert any(phase.orientation != Orientation() for phase in match.phases) == (way is not Uneven.ROUND)
    plan = {
        "cloths": [{"name": "shell", "warp": _sett(shell.warp), "weft": _sett(shell.weft)}],
        "pieces": [
            {
                "name": phase.piece,
                "cloth": "shell",
                "phase": {"u": phase.u, "v": phase.v},
                "grain_angle": 0.0,
                "turned": phase.orientation.t < 0,
                "face": "right" if phase.orientation.f > 0 else "wrong",
            }
            for phase in match.phases
        ],
        "joins": [
            {
                "name": join.name,
                "hard": join.hard,
                "level_at": "",  # a toy plan has no edges to find a stop on
                "a": {"piece": join.a},
                "b": {"piece": join.b},
                "level": join.level.value,
                "upright": join.upright.value,
                "samples": [(s.a.x, s.a.y, s.b.x, s.b.y, s.weight) for s in join.samples],
                "level_drift": drift.level,
                "upright_drift": drift.upright,
                "floor": drift.floor,
                "worst_level": drift.worst_level,
                "worst_upright": drift.worst_upright,
            }
            for join, drift in zip(match.joins, match.drifts, strict=True)
        ],
    }
    found = list(join_figures(plan))
    assert len(found) == len(match.joins)
    assert [fault for _, faults in found for fault in faults] == []


def _sett(bars: Sequence) -> dict[str, object]:
    return {"repeat": bars.repeat, "pivots": bars.pivots, "matters": True}


REPEAT = 40.0


@given(st.lists(st.floats(-REPEAT / 2, REPEAT / 2), min_size=1, max_size=12), st.floats(0.0, REPEAT))
def test_the_least_that_can_be_reached_is_never_above_what_is_reached(misses: list[float], slid: float) -> None:
    """Beside the worst miss of every placing, the ring slid by hand; and the verifier finds the same."""
    least = least_worst(tuple(misses), REPEAT)
    found = np.array(misses)
    assert least <= np.abs(wrapped(found + slid, REPEAT)).max() + 1e-9
    tried = [np.abs(wrapped(found - (a + b) / 2 + half, REPEAT)).max()
             for a in misses for b in misses for half in (0.0, REPEAT / 2)]  # fmt: skip
    assert least == pytest.approx(min(tried), abs=1e-6)
    assert least == pytest.approx(shortest_arc(found, REPEAT) / 2, abs=1e-6)


def test_a_seam_longer_askew_than_the_repeat_asks_no_more_than_half_of_it() -> None:
    """An edge that falls by 50 mm against its neighbour shows every miss of a repeat of 40 mm, up to 20."""
    falling = tuple(float(miss) for miss in wrapped(np.linspace(0.0, 50.0, 26), REPEAT))
    assert least_worst(falling, REPEAT) == pytest.approx(REPEAT / 2, abs=1.0)
