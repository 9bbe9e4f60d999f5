"""The same input gives the same layout: in two processes, on any processor's feature set."""

from __future__ import annotations

import os
import subprocess
import sys

import numpy as np
import pytest

SCRIPT = """
from settwright.layout import Board, lay
from tests.layout.jacket_like import suit
for repeat in ((70, 90), (None, None)):
    print(lay(suit(*repeat, may_turn=True), Board(1450, 15, *repeat), effort=25, seed=3))
"""


def laid(tmp: str, **more: str) -> str:
    environment = {**os.environ, "NUMBA_CACHE_DIR": tmp, **more}
    done = subprocess.run([sys.executable, "-c", SCRIPT], env=environment, capture_output=True, text=True, check=True)
    return done.stdout


@pytest.mark.slow
def test_two_processes_and_two_feature_sets_agree(tmp_path_factory):
    plain = laid(str(tmp_path_factory.mktemp("native")))
    generic = laid(
        str(tmp_path_factory.mktemp("generic")), NUMBA_CPU_NAME="generic", NPY_DISABLE_CPU_FEATURES=features()
    )
    assert plain == generic
    assert "Placement" in plain


def features() -> str:
    """Returns the processor's features that numpy would use and can be told to leave."""
    found = np.show_config(mode="dicts")["SIMD Extensions"].get("found", [])  # type: ignore[index]
    return " ".join(found)
