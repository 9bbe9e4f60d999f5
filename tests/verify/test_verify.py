"""The verifier against a plan worked out with a pencil, and against that plan with one thing wrong at a time."""

from __future__ import annotations

import json
import subprocess
import sys
from collections.abc import Callable
from typing import Any

import pytest

from settwright.verify import verify
from tests.verify.small_plan import small_plan


def report_on(plan: Any) -> list[str]:
    return [fault.check for fault in verify(json.dumps(plan).encode()).faults]


def test_a_sound_plan_holds():
    report = verify(json.dumps(small_plan()).encode())
    assert report.is_sound, [str(f) for f in report.faults]
    (figures,) = report.joins
    assert figures.worst_level == pytest.approx(0.0)
    assert figures.worst_upright == pytest.approx(20.0)


def _set(*path: Any) -> Callable[[Any], None]:
    *way, key, value = path

    def change(plan: Any) -> None:
        for step in way:
            plan = plan[step]
        plan[key] = value

    return change


def _turn_two(plan: Any) -> None:
    plan["placements"][1]["turned"] = True


def _turn_two_to_an_equivalent_place(plan: Any) -> None:
    # about the pivots 5 and 10: u = 10 goes to 0, v = 45 to −25 = 35 modulo 60
    place = plan["placements"][1]
    place["turned"], place["x"], place["y"] = True, 10.0 + 0.0 + 240.0, 5.0 + 35.0 + 60.0


@pytest.mark.parametrize(
    ("change", "check"),
    [
        (_set("placements", 1, "x", 261.0), "phases"),
        (_set("placements", 1, "y", 170.0), "layout"),  # one repeat on: in phase, but off the cloth
        (_set("placements", 1, "x", 180.0), "layout"),  # two repeats back: in phase, but overlapping
        (_set("placements", 0, "x", 20.0), "layout"),  # two repeats back: in the selvedge
        (_turn_two, "phases"),
        (_set("placements", 1, "face", "wrong"), "layout"),
        (_set("joins", 0, "level_drift", [0.5] * 11), "drifts"),
        (_set("joins", 0, "upright_drift", None), "drifts"),
        (_set("joins", 0, "worst_upright", 3.0), "drifts"),
        (_set("joins", 0, "floor", 3.0), "drifts"),
        (_set("joins", 0, "samples", 5, [30.0, 0.0, -29.9, 0.0, 1.0]), "samples"),
        (_set("joins", 0, "stretch", ["lower", "waist"]), "samples"),
        (_set("joins", 0, "a", "edge", "hem"), "names"),
        (_set("joins", 0, "b", "piece", "three"), "names"),
        (_set("pieces", 0, "phase", "v", None), "phases"),
        (_set("pieces", 0, "cutting_line", [[-20, -65], [45, -65], [45, 65], [-20, 65]]), "pieces"),
        (_set("pieces", 0, "seam_line", [[-30, -50], [30, 50], [30, -50], [-30, 50]]), "pieces"),
        (_set("pieces", 0, "edges", 0, "points", [[-30, -50], [30, -49]]), "pieces"),
        (_set("cloths", 0, "warp", "repeat", 41.0), "setts"),
        (_set("cloths", 0, "warp", "pivots", [7.0, 27.0]), "setts"),
        (_set("cloths", 0, "weft", "matters", False), "setts"),
        (
            _set("cloths", 0, "faults", [{"name": "hole", "outline": [[95, 100], [105, 100], [105, 110], [95, 110]]}]),
            "layout",
        ),
        (_set("cloths", 0, "colours", {"navy": "#202040"}), "setts"),
        (_set("format", "2.0"), "format"),
        (_set("format", None), "format"),
        (_set("thimble", 1), "schema"),
        (_set("pieces", 0, "face", 3), "schema"),
        (_set("placements", []), "names"),
    ],
)
def test_one_thing_wrong_is_found(change: Callable[[Any], None], check: str):
    plan = small_plan()
    change(plan)
    assert check in report_on(plan)


def test_a_sample_row_that_leaves_out_the_end_of_the_stretch_is_found():
    plan = small_plan()
    join = plan["joins"][0]
    for key in ("samples", "level_drift", "upright_drift"):
        join[key] = join[key][:-1]
    assert report_on(plan) == ["samples", "samples"]  # on either side


def test_a_gap_between_samples_is_found():
    plan = small_plan()
    join = plan["joins"][0]
    for key in ("samples", "level_drift", "upright_drift"):
        del join[key][4]
    assert report_on(plan) == ["samples", "samples"]


def _with_a_second_seam(plan: Any, shift: float) -> None:
    """Sews the other two sides together too, with two shifted by `shift`: a ring that leaves `shift` over."""
    first = plan["joins"][0]
    heights = [-50.0 + 10.0 * i for i in range(11)]
    for edge, piece in (("left-side", plan["pieces"][0]), ("right-side", plan["pieces"][1])):
        found = next(e for e in piece["edges"] if e["name"] == edge)
        x = found["points"][0][0]
        moved = [h + (shift if piece["name"] == "two" else 0.0) for h in heights]
        found["points"] = [[x, -50.0], [x, 50.0]]
        found["stops"] = [{"name": "from", "at": [x, moved[1]]}, {"name": "to", "at": [x, moved[-2]]}]
    pairs = [[-30.0, h, 30.0, h + shift, 1.0] for h in heights[1:-1]]
    plan["joins"].append(
        {
            **first,
            "name": "outer",
            "a": {"piece": "one", "edge": "left-side"},
            "b": {"piece": "two", "edge": "right-side"},
            "stretch": ["from", "to"],
            "upright": "none",
            "samples": pairs,
            "level_drift": [-shift] * len(pairs),
            "upright_drift": None,
            "worst_level": abs(shift),
            "worst_upright": 0.0,
        }
    )


def test_what_a_ring_leaves_over_is_worked_out_again():
    plan = small_plan()
    _with_a_second_seam(plan, 4.0)
    plan["cycles"] = [{"joins": ["middle", "outer"], "closing": 4.0}]
    assert report_on(plan) == []
    plan["cycles"] = [{"joins": ["middle", "outer"], "closing": 3.0}]
    assert report_on(plan) == ["cycles"]
    plan["cycles"] = [{"joins": ["middle", "seam of another coat"], "closing": 4.0}]
    assert report_on(plan) == ["cycles"]


def test_an_equivalent_state_of_an_even_sett_is_sound_and_a_nap_forbids_it():
    plan = small_plan()
    _turn_two_to_an_equivalent_place(plan)
    assert report_on(plan) == []
    plan["cloths"][0]["nap"] = "one-way"
    assert report_on(plan) == ["layout"]


@pytest.mark.parametrize("text", [b"", b"[]", b"{", b'{"format": "1.0"}', b"\xff", b"null", b"[" * 3000])
def test_what_is_no_plan_is_refused_without_a_traceback(text: bytes):
    assert not verify(text).is_sound


def test_the_verifier_loads_nothing_of_the_planner():
    code = (
        "import sys, settwright.verify, settwright.cli;print([m for m in sys.modules if m.startswith('settwright.')])"
    )
    loaded = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True).stdout
    assert set(eval(loaded)) <= {
        "settwright.cli",
        "settwright.verify",
        "settwright.verify.checks",
        "settwright.verify.geometry",
    }
