"""The main job: how long each stage takes, how much memory, and whether the bars meet as well as geometry allows.

    python benchmarks/plan.py [--quick] [--json FILE]

Times are those of this machine in one run; drifts and floors are worked out again by the verifier. `--quick` leaves
out the empty caches, and quotes them from the committed full run.
"""

from __future__ import annotations

import argparse
import itertools
import json
import tempfile
import time
from pathlib import Path

from measure import RESULTS, ROOT, Report, as_installed, timed_process

EXAMPLES = ("plaid-suit", "even-plaid-suit")
NAMED_SEAMS = ("centre-back", "side-back", "side-front", "closing", "skirt-side", "skirt-centre-back")
SETTWRIGHT = str(ROOT / ".venv" / "bin" / "settwright")


def stages(report: Report, name: str) -> None:
    """Times each stage in this process, after one run that loads and compiles."""
    from settwright.planner import plan_to_folder  # noqa: PLC0415

    text = (ROOT / "examples" / f"{name}.toml").read_text()
    times: list[tuple[str, float]] = []
    with tempfile.TemporaryDirectory() as folder:
        plan_to_folder(text, name, Path(folder), lambda stage: None)
        plan_to_folder(text, name, Path(folder), lambda stage: times.append((stage, time.perf_counter())))
    times.append(("end", time.perf_counter()))
    for (stage, began), (_, ended) in itertools.pairwise(times):
        report.note(f"{name}: {stage}", round(ended - began, 3), "s")


def whole_plan(report: Report, name: str, folder: Path, *, quick: bool) -> None:
    """Times the whole plan in a new process, after one that compiles: the middle one of three runs, or one run."""
    command = (SETTWRIGHT, "plan", str(ROOT / "examples" / f"{name}.toml"), "--to", str(folder / name))
    installed = as_installed(folder / "byte-code")
    timed_process(command, **installed)
    if not quick:
        seconds, _ = timed_process(command, NUMBA_CACHE_DIR=str(folder / f"cache-{name}"), **installed)
        report.note(f"{name}: whole plan, empty compile cache", round(seconds, 2), "s")
        seconds, _ = timed_process(command, **as_installed(folder / f"byte-code-{name}"))
        report.note(f"{name}: whole plan, no byte code kept yet", round(seconds, 2), "s")
    runs = sorted(timed_process(command, **installed) for _ in range(1 if quick else 3))
    seconds, memory = runs[len(runs) // 2][0], max(run[1] for run in runs)
    report.note(f"{name}: whole plan, new process", round(seconds, 2), "s", at_most=10)
    report.note(f"{name}: whole plan, slowest of {len(runs)}", round(runs[-1][0], 2), "s")
    report.note(f"{name}: peak memory", round(memory), "MB", at_most=1000)


def bars(report: Report, name: str, folder: Path) -> None:
    """Lets the verifier work out drifts and floors, and compares them with the mark."""
    from settwright.verify import verify  # noqa: PLC0415

    result = verify((folder / name / "plan.json").read_bytes())
    report.note(f"{name}: claims that don't hold (verifier)", len(result.faults), "", at_most=0)
    figures = {join.name: join for join in result.joins}
    for seam, join in sorted(figures.items()):
        if seam.split(".")[0] in NAMED_SEAMS and join.worst_level is not None:
            over = round(join.worst_level - join.floor, 2)
            report.note(f"{name}: {seam}, level drift over the floor", over, "mm", at_most=1.0)
    plan = json.loads((folder / name / "plan.json").read_text())
    for cloth in plan["cloths"]:
        report.note(f"{name}: {cloth['name']} lays in", round(cloth["length"]), "mm")
    for cycle in plan["cycles"]:
        report.note(f"{name}: cycle {' – '.join(cycle['joins'])}", round(cycle["closing"], 2), "mm")


def main() -> None:
    """Runs and reports."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--quick", action="store_true")
    parser.add_argument("--json", type=Path)
    words = parser.parse_args()
    report = Report("plan")
    with tempfile.TemporaryDirectory() as made:
        folder = Path(made)
        for name in EXAMPLES:
            whole_plan(report, name, folder, quick=words.quick)
            bars(report, name, folder)
            if not words.quick or name == EXAMPLES[0]:
                stages(report, name)
    if words.quick:
        told = ("empty compile cache", "no byte code kept yet")
        report.quote([f"{name}: whole plan, {which}" for name in EXAMPLES for which in told])
    report.write(words.json or (None if words.quick else RESULTS / "plan.json"))


if __name__ == "__main__":
    main()
