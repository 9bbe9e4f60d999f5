"""What every benchmark shares: timing new processes, the machine's description, the report's form."""

from __future__ import annotations

import json
import os
import platform
import resource
import subprocess
import sys
import time
from collections.abc import Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

ROOT = Path(__file__).parents[1]
RESULTS = ROOT / "benchmarks" / "results"


@dataclass
class Report:
    """Figures by name, those that miss their mark, and what was quoted from an earlier full run."""

    name: str
    figures: dict[str, Any] = field(default_factory=dict)
    falls_short: list[dict[str, Any]] = field(default_factory=list)
    quoted: dict[str, Any] = field(default_factory=dict)

    def note(self, name: str, value: Any, unit: str, at_most: float | None = None, why: str = "") -> None:
        """Keeps a figure; one above its mark is listed as falling short, with the reason."""
        self.figures[name] = {"value": value, "unit": unit} | ({"at_most": at_most} if at_most is not None else {})
        if at_most is not None and value > at_most:
            self.falls_short.append({"figure": name, "value": value, "at_most": at_most, "why": why})

    def quote(self, names: Sequence[str]) -> None:
        """Quotes figures that a quick run doesn't measure from the committed full run."""
        path = RESULTS / f"{self.name}.json"
        if not path.exists():
            return
        full = json.loads(path.read_text())
        kept = {name: figure for name, figure in full["figures"].items() if name.startswith(tuple(names))}
        commit = subprocess.run(
            ["git", "log", "-1", "--format=%h", "--", str(path)], cwd=ROOT, capture_output=True, text=True, check=False
        ).stdout.strip()
        self.quoted = {"from_commit": commit, "figures": kept}

    def write(self, path: Path | None) -> None:
        """Prints every figure and writes them as JSON."""
        for name, figure in self.figures.items():
            mark = f"   (at most {figure['at_most']})" if "at_most" in figure else ""
            print(f"{name:<58} {figure['value']:>10} {figure['unit']}{mark}")
        for short in self.falls_short:
            print(f"FALLS SHORT  {short['figure']}: {short['value']} > {short['at_most']}  {short['why']}")
        if path:
            whole = {
                "benchmark": self.name,
                "machine": {
                    "python": platform.python_version(),
                    "cores": os.cpu_count(),
                    "machine": platform.machine(),
                    "load": round(os.getloadavg()[0], 1) if hasattr(os, "getloadavg") else None,
                },
                "figures": self.figures,
                "falls_short": self.falls_short,
                "quoted": self.quoted,
            }
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_text(json.dumps(whole, indent=1) + "\n")


def as_installed(folder: Path) -> dict[str, str]:
    """Returns the environment in which byte code is kept, in `folder`, as an installation keeps it.

    Some machines forbid it; every library is then read from its source anew, which an installed program never does.
    """
    return {"PYTHONDONTWRITEBYTECODE": "", "PYTHONPYCACHEPREFIX": str(folder)}


def timed_process(command: Sequence[str], **environment: str) -> tuple[float, float]:
    """Runs a command in a new process; returns its seconds and its peak memory in MB."""
    before = time.perf_counter()
    script = (
        "import resource, subprocess, sys;"
        "code = subprocess.run(sys.argv[1:], stdout=subprocess.DEVNULL).returncode;"
        "print(resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss); sys.exit(code)"
    )
    done = subprocess.run(
        [sys.executable, "-c", script, *command],
        env={**os.environ, **environment},
        capture_output=True,
        text=True,
        check=False,
    )
    seconds = time.perf_counter() - before
    if done.returncode:
        raise SystemExit(f"{' '.join(command)} failed:\n{done.stderr}")
    return seconds, int(done.stdout.split()[-1]) / 1024


def own_memory() -> float:
    """Returns this process's peak memory in MB."""
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
