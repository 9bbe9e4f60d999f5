"""The plan as the stages leave it: what the workbook draws from and plan.json is written from."""

from __future__ import annotations

from dataclasses import dataclass

from settwright.bars.answers import Answer
from settwright.bars.model import Join, Match, Phase
from settwright.bars.ranking import Ranking
from settwright.bars.ways import Way
from settwright.body import Body
from settwright.cloth import Cloth
from settwright.commission.model import Commission, Importance
from settwright.findings import Finding
from settwright.layout.model import Layout
from settwright.layout.rules import Reckoning
from settwright.makeup.model import MadeUp


@dataclass(frozen=True)
class ClothPlan:
    """One cloth with its pieces' places."""

    cloth: Cloth
    layout: Layout
    reckoning: Reckoning
    inputs: str = ""  # hash of what the layout was found for


@dataclass(frozen=True)
class Compared:
    """What the person may decide about the bars, each choice with its figures."""

    fronts: Ranking  # where the centre front may lie
    ways: tuple[Way, ...]  # how the halves may lie in an uneven sett
    answers: tuple[Answer, ...]  # how the draft may answer the cloth


@dataclass(frozen=True)
class Plan:
    """Everything derived from one commission."""

    commission: Commission
    body: Body
    made_up: MadeUp
    match: Match
    cloths: tuple[ClothPlan, ...]
    findings: tuple[Finding, ...]
    compared: Compared | None = None  # what else the bars might do; worked out for the workbook

    def cloth_plan(self, name: str) -> ClothPlan:
        """Returns the plan of one cloth by its name; raises KeyError."""
        for plan in self.cloths:
            if plan.cloth.name == name:
                return plan
        raise KeyError(name)

    def phase(self, piece: str) -> Phase | None:
        """Returns where an instance falls in the repeat; None for one that lies anywhere."""
        return next((phase for phase in self.match.phases if phase.piece == piece), None)

    @property
    def worst_join(self) -> Join | None:
        """The join whose level bars miss most among those that must always meet, right and left halves, which lie
        apart, left out; None when nothing is matched.
        """
        drifts = {drift.join: drift for drift in self.match.drifts}
        told = [join for join in self.match.joins if join.kind != "pair" and drifts[join.name].level is not None]
        cared = [join for join in told if join.importance is Importance.ALWAYS]
        return max(cared, key=lambda join: (drifts[join.name].worst_level, join.name), default=None)
