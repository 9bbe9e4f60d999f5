"""The set-up: what it compiles is all that a plan would otherwise compile, and a step is done again only when due."""

import subprocess
import sys
from pathlib import Path

import pytest
import workroom

ROOT = Path(__file__).parents[1]


def test_it_compiles_every_module_that_holds_compiled_code():
    compiled = {
        ".".join(path.relative_to(ROOT / "src").with_suffix("").parts)
        for path in (ROOT / "src").rglob("*.py")
        if "from numba import" in path.read_text(encoding="utf-8")
    }
    assert set(workroom.LOOPS) == compiled


def test_importing_them_compiles_all_that_is_called_from_outside():
    found = subprocess.run(
        [
            sys.executable,
            "-c",
            f"import {', '.join(workroom.LOOPS)}, sys\n"
            f"for name in {workroom.LOOPS}:\n"
            "    for loop in vars(sys.modules[name]).values():\n"
            "        if hasattr(loop, 'py_func') and not loop.targetoptions.get('no_cpython_wrapper'):\n"
            "            print(loop.__name__, len(loop.signatures))",
        ],
        capture_output=True,
        text=True,
        check=True,
    )
    told = dict(line.split() for line in found.stdout.splitlines())
    assert {"axis_tables", "eliminated", "separate", "fill_tables"} <= set(told)
    assert set(told.values()) == {"1"}


def test_a_step_is_done_again_when_what_it_was_made_from_changes(tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    for name in ("requirements.txt", "pyproject.toml"):
        (tmp_path / name).write_text(name)
    loops = [tmp_path / "src" / "/".join(name.split(".")) for name in workroom.LOOPS]
    for path in loops:
        path.parent.mkdir(parents=True)
        path.with_suffix(".py").write_text("loops")
    monkeypatch.setattr(workroom, "HERE", tmp_path)
    monkeypatch.setattr(workroom, "LOCK", tmp_path / "requirements.txt")
    stamp = tmp_path / "stamp"
    assert not workroom.is_done(stamp, workroom.stamp_of_loops())
    stamp.write_text(workroom.stamp_of_loops())
    assert workroom.is_done(stamp, workroom.stamp_of_loops())
    loops[0].with_suffix(".py").write_text("other loops")
    assert not workroom.is_done(stamp, workroom.stamp_of_loops())
    environment = workroom.stamp_of_inputs()
    (tmp_path / "requirements.txt").write_text("another lock")
    assert workroom.stamp_of_inputs() != environment


def test_the_package_runs_as_a_module():
    told = subprocess.run(
        [sys.executable, "-m", "settwright", "--help"], capture_output=True, text=True, check=True
    ).stdout
    assert "cut-ready plan" in " ".join(told.split())
