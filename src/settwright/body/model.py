"""A client's body as measurements, each with where it came from."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass
from enum import StrEnum

from settwright.findings import Finding


class Source(StrEnum):
    """Where a measurement came from."""

    MEASURED = "measured"
    ESTIMATED = "estimated"


@dataclass(frozen=True, slots=True)
class Measure:
    """One measurement in millimetres (`shoulder_slope` in radians)."""

    name: str  # id: "bust_girth"
    value: float
    source: Source
    how: str = ""  # for an estimate: from what, and how sure ("from bust girth; two in three lie within 23 mm")
    spread: float = 0.0  # standard deviation of the estimate


@dataclass(frozen=True)
class Body:
    """The completed measurements of one client.

    >>> Body.of({"bust_girth": 920.0})["bust_girth"]
    920.0
    """

    measures: tuple[Measure, ...]
    findings: tuple[Finding, ...] = ()

    @classmethod
    def of(cls, values: Mapping[str, float]) -> Body:
        """Returns a body of measured values."""
        return cls(tuple(Measure(name, value, Source.MEASURED) for name, value in values.items()))

    def __getitem__(self, name: str) -> float:
        for measure in self.measures:
            if measure.name == name:
                return measure.value
        raise KeyError(f"no measurement {name!r}")

    def without_guesses_of(self, names: Collection[str]) -> Body:
        """Returns the body without those of the named measures that nobody took: no draft asks for them."""
        guessed = {m.name for m in self.measures if m.name in names and m.source is Source.ESTIMATED}
        return Body(
            tuple(m for m in self.measures if m.name not in guessed),
            tuple(f for f in self.findings if f.where.rpartition(".")[2] not in guessed),
        )
