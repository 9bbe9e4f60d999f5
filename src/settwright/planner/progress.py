"""Shows which stage is being worked on, on a terminal or as plain lines."""

from __future__ import annotations

from types import TracebackType

from rich.console import Console
from rich.progress import BarColumn, SpinnerColumn, TaskID, TextColumn
from rich.progress import Progress as Bar

STAGES = (
    "measurements",
    "drafts",
    "make-up",
    "bars",
    "layout",
    "choices",
    "what would make it fit",
    "workbook",
    "sheets",
)


class Progress:
    """A bar that moves on by stages; on a pipe it stays silent."""

    def __init__(self, console: Console):
        self._bar = Bar(
            SpinnerColumn(),
            TextColumn("{task.description}"),
            BarColumn(bar_width=28),
            console=console,
            transient=True,
        )
        self._task: TaskID | None = None

    def __enter__(self) -> Progress:
        self._bar.start()
        self._task = self._bar.add_task("reading the commission", total=len(STAGES))
        return self

    def stage(self, name: str) -> None:
        """Says that a stage begins."""
        if self._task is not None:
            self._bar.update(self._task, description=name, completed=STAGES.index(name))

    def length(self, cloth: str, part: float, length: float) -> None:
        """Says how far the search of a cloth is and how short its layout has become; `length` in mm."""
        if self._task is not None:
            told = f"layout of the {cloth}: {part:.0%}, lays in {length / 1000:.3f} m"
            self._bar.update(self._task, description=told)

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self._bar.stop()
