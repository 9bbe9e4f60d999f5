"""The same commission gives the same bytes: in a second process, with processor features held to the generic set."""

from __future__ import annotations

import hashlib
import os
import subprocess
import sys
from pathlib import Path

import numpy as np
import pytest

EXAMPLES = Path(__file__).parents[2] / "examples"


def digests(folder: Path) -> dict[str, str]:
    return {path.name: hashlib.sha256(path.read_bytes()).hexdigest() for path in sorted(folder.iterdir())}


def planned(example: str, folder: Path, **environment: str) -> dict[str, str]:
    done = subprocess.run(
        [sys.executable, "-m", "settwright", "plan", str(EXAMPLES / f"{example}.toml"), "--to", str(folder)],
        env={**os.environ, **environment},
        check=False,
        capture_output=True,
        text=True,
    )
    assert done.returncode == 0, done.stderr
    return digests(folder)


def features_to_leave_out() -> str:
    """The features beyond its baseline that this numpy would use on this processor."""
    from numpy._core._multiarray_umath import (  # type: ignore[import-not-found]
        __cpu_dispatch__,
        __cpu_features__,
    )

    return " ".join(feature for feature in __cpu_dispatch__ if __cpu_features__.get(feature))


@pytest.mark.parametrize("example", ["plaid-suit", "even-plaid-suit"])
def test_two_processes_on_two_kinds_of_processor_give_the_same_bytes(example: str, tmp_path: Path):
    ours = planned(example, tmp_path / "here", PYTHONHASHSEED="1")
    generic = planned(
        example,
        tmp_path / "generic",
        PYTHONHASHSEED="2",
        NPY_DISABLE_CPU_FEATURES=features_to_leave_out(),
        NUMBA_CPU_NAME="generic",
        NUMBA_CPU_FEATURES="",
    )
    assert len(ours) >= 9
    assert ours == generic


def test_leaving_features_out_takes_effect():
    left_out = features_to_leave_out()
    if not left_out:
        pytest.skip("this processor has nothing beyond numpy's baseline")
    code = (
        "from numpy._core._multiarray_umath import __cpu_features__ as f, __cpu_dispatch__ as d;"
        "print([name for name in d if f.get(name)])"
    )
    shown = subprocess.run(
        [sys.executable, "-c", code],
        env={**os.environ, "NPY_DISABLE_CPU_FEATURES": left_out},
        check=True,
        capture_output=True,
        text=True,
    ).stdout
    assert shown.strip() == "[]", np.__version__
