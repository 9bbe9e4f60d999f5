"""The drafting record's arithmetic, checked by pencil."""

from __future__ import annotations

import math

import pytest

from settwright.geometry import Point
from settwright.pattern.drafts.record import Recorder


@pytest.mark.parametrize(
    ("rule", "value"),
    [
        ("neck girth / 5 − 2 mm", 72.0),
        ("(neck girth + 10 mm) × 2 − 4", 756.0),
        ("neck girth − 10 − 5", 355.0),
        ("100 / 4 / 5", 5.0),
        ("2 + 3 × 4", 14.0),
        ("−neck girth + 400", 30.0),
        ("most of (0; least of (65 mm; neck girth))", 65.0),
        ("root of (3 × 3 + 4 × 4)", 5.0),
        ("sine of (slope angle) × 2", 1.0),
        ("angle with tangent (1)", math.pi / 4),
        ("shoulder's widening / 2", 3.0),
    ],
)
def test_a_rule_is_worked_out_as_it_reads(rule: str, value: float) -> None:
    recorder = Recorder({"neck girth": 370.0, "slope angle": math.pi / 6, "shoulder's widening": 6.0})
    assert recorder.number("figure", "test", rule) == pytest.approx(value)


@pytest.mark.parametrize("rule", ["2 +", "(3", "3 ! 4", "most of 3", "2 3"])
def test_a_rule_that_cannot_be_read_says_so(rule: str) -> None:
    with pytest.raises(ValueError, match=r"rule"):
        Recorder({}).number("figure", "test", rule)


def test_a_rule_with_an_unknown_figure_names_it() -> None:
    with pytest.raises(KeyError, match="neck girth"):
        Recorder({}).number("figure", "test", "neck girth / 5")


def test_later_rules_use_earlier_figures_and_every_step_keeps_its_numbers() -> None:
    recorder = Recorder({"neck girth": 370.0})
    recorder.number("neck width", "back", "neck girth / 5")
    point = recorder.point("neck point", "back", "neck width", "neck width × 0.5 + neck girth")
    assert point == Point(74.0, 407.0)
    assert [step.name for step in recorder.steps] == ["neck width", "neck point"]
    assert dict(recorder.steps[1].numbers) == {"neck width": 74.0, "neck girth": 370.0}
