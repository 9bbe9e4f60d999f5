"""The same input gives the same layout: in two processes, on any processor's feature set."""

from __future__ import annotations

import os
import subprocess
import sys

SCRIPT = """
from settwright.layout import Board, lay
from tests.layout.jacket_like import suit
for repeat in ((70, 90), (None, None)):
    print(lay(suit(*repeat, may_turn=True), Board(1450, 15, *repeat), effort=25, seed=3))
"""
NO_FEATURES = "AVX512_ICL AVX512_CNL AVX512_CLX AVX512_SKX AVX512F AVX512CD AVX2 FMA3"


def laid(tmp: str, **more: str) -> str:
    environment = {**os.environ, "NUMBA_CACHE_DIR": tmp, **more}
    done = subprocess.run([sys.executable, "-c", SCRIPT], env=environment, capture_output=True, text=True, check=True)
    return done.stdout


def test_two_processes_and_two_feature_sets_agree(tmp_path_factory):
    plain = laid(str(tmp_path_factory.mktemp("native")))
    generic = laid(
        str(tmp_path_factory.mktemp("generic")), NUMBA_CPU_NAME="generic", NPY_DISABLE_CPU_FEATURES=features()
    )
    assert plain == generic
    assert "Placement" in plain


def features() -> str:
    """Returns those of NO_FEATURES that this processor has and numpy lets go."""
    import numpy as np

    found = np.show_config(mode="dicts")["SIMD Extensions"].get("found", [])  # type: ignore[index]
    return " ".join(found)
