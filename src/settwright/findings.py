"""What a stage has to say about its work: data that page, sheet and command line print alike.

A Finding is raised inside a Refusal when the plan can't go on; otherwise it travels with the plan.
"""

from __future__ import annotations

from collections.abc import Generator, Iterable
from contextlib import contextmanager
from dataclasses import dataclass, replace
from enum import StrEnum

from settwright.units import Units, in_units


class Weight(StrEnum):
    """How much a finding weighs."""

    REFUSED = "refused"  # no plan can be made until it is mended
    CAUTION = "caution"  # the plan stands; read this before cutting or pressing
    ESTIMATED = "estimated"  # a figure that nobody measured
    DEFAULT = "default"  # a choice that nobody made; the custom was taken
    NOTE = "note"


@dataclass(frozen=True, slots=True)
class Finding:
    """One thing to tell the tailor: what, where, and what would mend it."""

    weight: Weight
    where: str  # the field of the commission, or the piece and edge: "measurements.bust_girth", "front.right"
    what: str
    remedy: str = ""

    def __str__(self) -> str:
        return f"{self.where}: {self.what}" + (f" {self.remedy}" if self.remedy else "")


def told_in(units: Units, findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """Returns findings of stages that know only millimetres as one reads them who measures in these units."""
    return tuple(
        replace(finding, what=in_units(finding.what, units), remedy=in_units(finding.remedy, units))
        for finding in findings
    )


class Refusal(Exception):
    """The plan can't be made; holds every finding that stands in the way."""

    def __init__(self, findings: Iterable[Finding]):
        self.findings = tuple(findings)
        super().__init__("\n".join(str(finding) for finding in self.findings))


@contextmanager
def refusing_in(units: Units) -> Generator[None]:
    """Lets the refusals of stages that know only millimetres speak in these units."""
    try:
        yield
    except Refusal as refusal:
        raise Refusal(told_in(units, refusal.findings)) from None


def refuse(where: str, what: str, remedy: str = "") -> Refusal:
    """Returns a Refusal with one finding, to be raised."""
    return Refusal([Finding(Weight.REFUSED, where, what, remedy)])
