"""A second process that makes the full-size sheets while the first one makes the workbook.

It starts before the plan is made, so that it has loaded the program by the time it is handed the plan, and it is a
plain child that reads its standard input: that works alike on every system, whatever the first process is and
however many threads it has. Where it can't be started or fails, `sheets` returns None and the caller makes the
sheets itself: the bytes are the same.
"""

from __future__ import annotations

import gc
import os
import pickle
import subprocess
import sys
from contextlib import suppress
from types import TracebackType

from settwright.plan.plan import Plan
from settwright.planner.files import File, sheet_files

_PROGRAM = f"from {__name__} import assist; assist()"


class Assistant:
    """The second process, from the beginning to the end of a `with` block."""

    def __init__(self) -> None:
        self._process: subprocess.Popen[bytes] | None = None

    def __enter__(self) -> Assistant:
        if sys.executable and _processors() > 1:
            try:
                self._process = subprocess.Popen(
                    [sys.executable, "-P", "-c", _PROGRAM],
                    stdin=subprocess.PIPE,
                    stdout=subprocess.PIPE,
                    stderr=subprocess.DEVNULL,
                    creationflags=getattr(subprocess, "CREATE_NO_WINDOW", 0),
                )
            except OSError:
                self._process = None
        return self

    def take(self, plan: Plan) -> None:
        """Hands the plan over."""
        if self._process is not None and self._process.stdin is not None:
            try:
                with self._process.stdin as there:
                    pickle.dump(plan, there)
            except OSError:
                self._dismiss()

    def sheets(self) -> tuple[File, ...] | None:
        """Returns the sheets of the plan that it took, when they are made; None where it couldn't make them."""
        if self._process is None or self._process.stdout is None:
            return None
        made = self._process.stdout.read()
        return pickle.loads(made) if self._process.wait() == 0 else None

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self._dismiss()

    def _dismiss(self) -> None:
        if self._process is not None:
            self._process.kill()
            for pipe in (self._process.stdin, self._process.stdout):
                if pipe is not None:
                    with suppress(OSError):  # what was still to be written is lost, as it should be
                        pipe.close()
            self._process.wait()
            self._process = None


def _processors() -> int:
    """Returns how many processors this process may run on."""
    return len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count() or 1


def assist() -> None:
    """Makes the sheets of the plan that comes by standard input, in the second process."""
    from ezdxf import filemanagement  # noqa: F401, PLC0415  loaded while the plan is still being made

    try:
        plan = pickle.load(sys.stdin.buffer)
    except EOFError:  # there is no plan after all
        return
    gc.disable()
    pickle.dump(sheet_files(plan), sys.stdout.buffer)
