"""Checks a plan.json from its geometry alone; imports nothing of the planner."""

from __future__ import annotations

import json
from dataclasses import dataclass
from importlib.resources import files
from typing import Any

from settwright.verify.checks import Fault, JoinFigures, check_all

__all__ = ["Fault", "JoinFigures", "Report", "verify"]

KNOWN_MAJOR = 1


@dataclass(frozen=True)
class Report:
    """What verifying a plan found."""

    faults: tuple[Fault, ...]
    joins: tuple[JoinFigures, ...] = ()

    @property
    def is_sound(self) -> bool:
        """Whether every claim of the plan holds."""
        return not self.faults


def verify(text: bytes) -> Report:
    """Returns the report on a plan.json; never raises for a bad document."""
    try:
        plan = json.loads(text)
    except (json.JSONDecodeError, UnicodeDecodeError, RecursionError):
        return Report((Fault("format", "the file", "is no plan; the one to check is plan.json in a plan's folder"),))
    major = str(plan.get("format", "")).partition(".")[0] if isinstance(plan, dict) else ""
    if major != str(KNOWN_MAJOR):
        return Report((Fault("format", "format", f"is {major or 'missing'}; this verifier knows {KNOWN_MAJOR}.x"),))
    faults = tuple(_schema_faults(plan))
    if faults:
        return Report(faults)
    found, joins = check_all(plan)
    return Report(found, joins)


def _schema_faults(plan: Any) -> list[Fault]:
    from jsonschema import Draft202012Validator  # noqa: PLC0415  (0.1 s to import, needed here only)

    schema = json.loads((files("settwright.verify") / "plan.schema.json").read_text())
    found = sorted(Draft202012Validator(schema).iter_errors(plan), key=lambda e: [str(part) for part in e.path])
    return [
        Fault("schema", "/".join(str(part) for part in e.absolute_path) or "the plan", e.message[:200])
        for e in found[:20]
    ]
