"""What the handwork takes: thread by the length of each stitch, and her own minutes where she has set them.

Nothing is guessed: a stitch, a step or a fastening without minutes stays blank and is named among the blanks.
"""

from __future__ import annotations

import difflib
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from settwright.commission.handwork import Hours
from settwright.findings import Finding, Weight
from settwright.makeup.handwork.stitches import STITCHES, WASTE, Thread
from settwright.makeup.model import Closure, ClosureKind, MadeUp, Step

PURL_PITCH = 1.0  # between the stitches of a buttonhole worked by hand; from memory
PURL_DEPTH = 3.0
PURL_KNOT = 3.0
BUTTON_THREAD = 500.0  # for a button, its stem and fastening; from memory
LAYERS = 2.0  # of shell cloth, that a stitch goes through

_EACH = {
    ClosureKind.WORKED_HOLE: "buttonhole",
    ClosureKind.BOUND_HOLE: "buttonhole",
    ClosureKind.BUTTON: "button",
    ClosureKind.COVERED_BUTTON: "button",
    ClosureKind.INNER_BUTTON: "button",
    ClosureKind.HOOK: "hook",
    ClosureKind.HOOK_AND_BAR: "hook",
    ClosureKind.SNAP: "snap",
    ClosureKind.ZIP: "zip",
}


@dataclass(frozen=True, slots=True)
class StitchTaken:
    """One kind of stitch over the whole ensemble: its length, its thread with waste, and her minutes or None."""

    name: str
    length: float
    thread: float
    minutes: float | None


@dataclass(frozen=True, slots=True)
class EachTaken:
    """One kind of fastening: how many, and her minutes for all of them or None."""

    name: str
    count: int
    minutes: float | None


@dataclass(frozen=True, slots=True)
class StepTaken:
    """One step of the order of work: the stitching in it, and her minutes so far or None."""

    name: str
    stitching: float
    minutes: float | None
    is_fitting: bool  # a fitting, or the correction after it


@dataclass(frozen=True, slots=True)
class Reckoned:
    """The handwork in figures. `blanks` names what she hasn't set; `minutes` is the sum of what she has."""

    stitches: tuple[StitchTaken, ...]
    threads: tuple[tuple[Thread, float], ...]
    each: tuple[EachTaken, ...]
    steps: tuple[StepTaken, ...]
    minutes: float
    blanks: tuple[str, ...]

    @property
    def fitting_minutes(self) -> float:
        """What fittings and corrections take of it, as far as it is set."""
        return sum(step.minutes or 0.0 for step in self.steps if step.is_fitting)


def reckon(made: MadeUp, thickness: float, hours: Hours) -> Reckoned:
    """Returns the handwork of what is made up, from shell cloth of a thickness, by her table of hours."""
    stitches = tuple(_stitches(made, thickness * LAYERS, hours))
    each = tuple(_each(made.closures, dict(hours.each)))
    threads: dict[Thread, float] = {}
    for taken in stitches:
        thread = STITCHES[taken.name].thread
        threads[thread] = threads.get(thread, 0.0) + taken.thread
    threads[Thread.TWIST] = sum(
        hole_thread(c.length, thickness * LAYERS) for c in made.closures if c.kind is ClosureKind.WORKED_HOLE
    )
    buttons = next((taken.count for taken in each if taken.name == "button"), 0)
    threads[Thread.SILK] = threads.get(Thread.SILK, 0.0) + buttons * BUTTON_THREAD
    steps = tuple(_steps(made, hours))
    known = sum(step.minutes or 0.0 for step in steps) + sum(taken.minutes or 0.0 for taken in each)
    blanks = (
        *(taken.name for taken in stitches if taken.minutes is None),
        *(taken.name for taken in each if taken.minutes is None),
        *(step.name for step in steps if step.minutes is None),
    )
    kept = tuple((thread, threads[thread]) for thread in Thread if threads.get(thread))
    return Reckoned(stitches, kept, each, steps, known, blanks)


def hole_thread(length: float, thickness: float) -> float:
    """Returns the twist for a buttonhole worked by hand, waste included: purl stitches along both sides and round
    both ends. An estimate; a trial buttonhole tells.
    """
    stitches = (2.0 * length + 4.0 * PURL_DEPTH) / PURL_PITCH
    return stitches * (2.0 * PURL_DEPTH + thickness + PURL_KNOT) * (1.0 + WASTE)


def hours_findings(made: MadeUp, hours: Hours) -> tuple[Finding, ...]:
    """Returns a note for each step that she set minutes for and that isn't in this order of work."""
    names = [step.name for step in made.order]
    found: list[Finding] = []
    for name, _ in hours.steps:
        if name not in names:
            near = difflib.get_close_matches(name, names, n=1, cutoff=0.5)
            remedy = f"Did you mean “{near[0]}”?" if near else "The workbook's order of work names them all."
            found.append(Finding(Weight.NOTE, f"hours.steps.{name}", "is no step of this order of work.", remedy))
    return tuple(found)


def _stitches(made: MadeUp, thickness: float, hours: Hours) -> Iterable[StitchTaken]:
    lengths: dict[str, float] = {}
    for sewing in made.sewing:
        lengths[sewing.stitch] = lengths.get(sewing.stitch, 0.0) + sewing.length
    minutes = dict(hours.stitches)
    for name, stitch in STITCHES.items():
        if name in lengths:
            length = lengths[name]
            taken = minutes[name] * length / hours.per if name in minutes else None
            yield StitchTaken(name, length, stitch.thread_for(length, thickness), taken)


def _each(closures: Iterable[Closure], minutes: Mapping[str, float]) -> Iterable[EachTaken]:
    counts: dict[str, int] = {}
    for closure in closures:
        if closure.kind is ClosureKind.HOOK and closure.piece.endswith(".left"):
            continue  # its bar, told with the hook
        name = _EACH[closure.kind]
        counts[name] = counts.get(name, 0) + 1
    for name, count in counts.items():
        yield EachTaken(name, count, minutes[name] * count if name in minutes else None)


def _steps(made: MadeUp, hours: Hours) -> Iterable[StepTaken]:
    own, by_stitch = dict(hours.steps), dict(hours.stitches)
    lengths: dict[str, list[tuple[str, float]]] = {}
    for sewing in made.sewing:
        lengths.setdefault(sewing.step, []).append((sewing.stitch, sewing.length))
    for step in made.order:
        sewn = lengths.get(step.name, [])
        known = [by_stitch[stitch] * length / hours.per for stitch, length in sewn if stitch in by_stitch]
        minutes = None if step.name not in own and not known else own.get(step.name, 0.0) + sum(known)
        yield StepTaken(step.name, sum(length for _, length in sewn), minutes, is_fitting(step))


def is_fitting(step: Step) -> bool:
    """Whether a step is a fitting or the correction after it."""
    return bool(step.checks) or step.name.startswith("correct the ")
