"""Drifts and floors worked out again by the verifier, which shares no code with this stage."""

import pytest

from settwright.bars import match_bars
from settwright.cloth import Sequence
from settwright.verify.checks import join_figures
from tests.bars.toys import jacket
from tests.cloth.toy_setts import EVEN, UNEVEN, cloth


@pytest.mark.parametrize("warp", [EVEN, UNEVEN], ids=["even", "uneven"])
def test_the_verifier_finds_the_same_figures(warp: tuple[tuple[str, float], ...]) -> None:
    shell = cloth(warp, UNEVEN)
    made = jacket(9.0, 14.0, 6.0)
    match = match_bars(made, shell)
    plan = {
        "cloths": [{"name": "shell", "warp": _sett(shell.warp), "weft": _sett(shell.weft)}],
        "pieces": [
            {
                "name": phase.piece,
                "cloth": "shell",
                "phase": {"u": phase.u, "v": phase.v},
                "grain_angle": 0.0,
                "turned": False,
                "face": "right",
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
