"""The sheets made in a second process are those made in the first; where there is no second one, they still come."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

from settwright.commission.reading import read_commission
from settwright.plan.plan import Plan
from settwright.planner import assistant, derive
from settwright.planner.assistant import Assistant
from settwright.planner.files import sheet_files
from settwright.planner.folder import write_folder

EXAMPLE = Path(__file__).parents[2] / "examples" / "even-plaid-suit.toml"


@pytest.fixture(scope="module")
def plan() -> Plan:
    return derive(read_commission(EXAMPLE.read_text(), "example"), effort=1)


def test_the_second_process_makes_the_same_bytes(plan: Plan, monkeypatch: pytest.MonkeyPatch):
    monkeypatch.setattr(assistant, "_processors", lambda: 2)
    with Assistant() as second:
        second.take(plan)
        assert second.sheets() == sheet_files(plan)


def absent(monkeypatch: pytest.MonkeyPatch):
    monkeypatch.setattr(sys, "executable", "/no/such/program")


def failing(monkeypatch: pytest.MonkeyPatch):
    monkeypatch.setattr(assistant, "_PROGRAM", "raise SystemExit(3)")


def alone(monkeypatch: pytest.MonkeyPatch):
    monkeypatch.setattr(assistant, "_processors", lambda: 1)


@pytest.mark.parametrize("how", [absent, failing, alone])
def test_without_a_second_process_every_file_is_written(how, plan: Plan, tmp_path: Path, monkeypatch):
    how(monkeypatch)
    with Assistant() as second:
        written = write_folder(plan, tmp_path, lambda stage: None, second)
    assert {file.name for file in written} == {path.name for path in tmp_path.iterdir()}
    assert "sheets-large.pdf" in {file.name for file in written}


def test_an_assistant_that_gets_no_plan_goes_home():
    with Assistant() as second:
        process = second._process
    assert process is None or process.returncode is not None
