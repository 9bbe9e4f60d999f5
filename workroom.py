#!/usr/bin/env python3
"""Sets the workroom up and runs it; needs nothing but Python 3.11 and pip.

    python3 workroom.py                open the page in the browser
    python3 workroom.py example        plan the example commission and say where its sheets are
    python3 workroom.py test           run every check and every quick test
    python3 workroom.py plan FILE ...  any other words go to the settwright command as they are

The first run makes `.venv` beside this file, installs the locked libraries into it and compiles the loops that weigh
bars and layouts, so that the first plan is there at once; later runs see the stamps (a hash of what each was made from)
and start at once.
"""

from __future__ import annotations

import hashlib
import os
import shutil
import subprocess
import sys
from pathlib import Path

HERE = Path(__file__).resolve().parent
VENV = HERE / ".venv"
BIN = VENV / ("Scripts" if os.name == "nt" else "bin")
PYTHON = BIN / ("python.exe" if os.name == "nt" else "python")
LOCK = HERE / "requirements.txt"
STAMP = VENV / "settwright-stamp"
LOOPS = ("settwright.bars.kernels", "settwright.layout.kernels")  # compiled when first imported, and kept
LOOPS_STAMP = VENV / "settwright-loops-stamp"
EXAMPLE = HERE / "examples" / "plaid-suit.toml"
EXAMPLE_PLAN = HERE / "plans" / "plaid-suit"


def run(*command: str | Path, check: bool = True, folder: Path = HERE) -> int:
    """Runs one command in the project folder, or another; returns its exit code, or stops with it when `check`."""
    environment = {**os.environ, "UV_PYTHON_DOWNLOADS": "never"}
    code = subprocess.run([str(part) for part in command], cwd=folder, env=environment, check=False).returncode
    if check and code:
        sys.exit(f"This step failed (exit {code}): {' '.join(str(part) for part in command)}")
    return code


def stamp_of_inputs() -> str:
    """Returns a hash of everything that decides what `.venv` holds."""
    digest = hashlib.sha256(sys.version.encode())
    for path in (LOCK, HERE / "pyproject.toml"):
        digest.update(path.read_bytes())
    return digest.hexdigest()


def make_environment() -> None:
    """Makes `.venv` with the locked libraries, by uv where it is, else by pip, with or without ensurepip."""
    print("Setting up the workroom (once; a minute or less) ...", flush=True)
    shutil.rmtree(VENV, ignore_errors=True)
    made_whole = run(sys.executable, "-m", "venv", VENV, check=False) == 0
    if not made_whole:
        shutil.rmtree(VENV, ignore_errors=True)
        run(sys.executable, "-m", "venv", "--without-pip", VENV)
    install: list[str | Path]
    if uv := shutil.which("uv"):
        install = [uv, "pip", "install", "--quiet", "--python", PYTHON]
    elif made_whole and run(PYTHON, "-m", "pip", "install", "--quiet", "uv", check=False) == 0:
        install = [BIN / "uv", "pip", "install", "--quiet", "--python", PYTHON]
    elif made_whole:
        install = [PYTHON, "-m", "pip", "install", "--quiet"]
    elif run(sys.executable, "-m", "pip", "--version", check=False) == 0:
        install = [sys.executable, "-m", "pip", "--python", PYTHON, "install", "--quiet"]
    else:
        sys.exit("Python has no pip here. Install it (on Debian: apt-get install python3-pip), then try again.")
    run(*install, "--require-hashes", "-r", LOCK)
    run(*install, "--no-deps", "--no-build-isolation", "-e", HERE)
    STAMP.write_text(stamp_of_inputs())


def stamp_of_loops() -> str:
    """Returns a hash of everything that decides what the compiled loops are."""
    digest = hashlib.sha256(stamp_of_inputs().encode())
    for loops in LOOPS:
        digest.update(HERE.joinpath("src", *loops.split(".")).with_suffix(".py").read_bytes())
    return digest.hexdigest()


def compile_loops() -> None:
    """Compiles the loops that weigh bars and layouts; they are kept beside their source."""
    print("Compiling what weighs bars and layouts (once; half a minute) ...", flush=True)
    run(PYTHON, "-c", f"import {', '.join(LOOPS)}")
    LOOPS_STAMP.write_text(stamp_of_loops())


def is_done(stamp: Path, inputs: str) -> bool:
    """Tells whether a step of the set-up was done for the inputs as they are now."""
    return stamp.exists() and stamp.read_text() == inputs


def plan_example() -> int:
    """Plans the example commission and says what was made."""
    code = run(BIN / "settwright", "plan", EXAMPLE, "--to", EXAMPLE_PLAN, check=False)
    if not code:
        code = run(BIN / "settwright", "verify", EXAMPLE_PLAN / "plan.json", check=False)
    return code


def run_tests() -> int:
    """Runs formatter, linter, types, import directions and the quick tests; returns the first bad exit code."""
    checks: list[list[str | Path]] = [
        [BIN / "ruff", "format", "--check", "."],
        [BIN / "ruff", "check", "."],
        [BIN / "lint-imports"],
        [BIN / "pyright"],
        [PYTHON, "-m", "pytest", "-n", "2"],
    ]
    failed = [code for check in checks if (code := run(*check, check=False))]
    return failed[0] if failed else 0


def main(words: list[str]) -> int:
    """Sets up if need be, then does what the words ask."""
    if sys.version_info < (3, 11):
        sys.exit("Settwright needs Python 3.11 or newer.")
    if words and words[0] in ("-h", "--help"):
        print(__doc__)
        return 0
    if not is_done(STAMP, stamp_of_inputs()):
        make_environment()
    if not is_done(LOOPS_STAMP, stamp_of_loops()):
        compile_loops()
    if words == ["example"]:
        return plan_example()
    if words == ["test"]:
        return run_tests()
    return run(BIN / "settwright", *words, check=False, folder=Path.cwd())  # files are named from where she stands


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
