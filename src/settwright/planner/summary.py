"""The short summary that the command line prints: what a tailor asks first."""

from __future__ import annotations

from pathlib import Path

from rich.console import Console
from rich.markup import escape
from rich.table import Table

from settwright.body.catalogue import BY_NAME
from settwright.body.model import Source
from settwright.findings import Weight
from settwright.plan.plan import Plan
from settwright.planner import Made
from settwright.planner.advice import fitting, verdict
from settwright.units import format_cloth, format_fine

_MOST_REMEDIES = 4


def print_summary(console: Console, made: Made, folder: Path) -> None:
    """Prints cloth needed, the worst seam, what was guessed, cautions, and where the sheets are."""
    plan, units = made.plan, made.plan.commission.units
    console.print(f"\n[bold]{escape(plan.commission.title)}[/]")
    for cloth in plan.cloths:
        lays_in, buy = (format_cloth(length, units) for length in (cloth.reckoning.lays_in, cloth.reckoning.buy))
        thumb = format_cloth(cloth.reckoning.rule_of_thumb, units)
        console.print(f"{escape(cloth.cloth.title)}: lays in {lays_in}, buy [bold]{buy}[/] (rule of thumb {thumb}).")
    if made.advice:
        console.print(f"[bold]{escape(verdict(made.advice))}[/]")
        for row in fitting(made.advice)[:_MOST_REMEDIES]:
            told = format_cloth(row.lays_in, units) if row.lays_in else ""
            console.print(f"  • {escape(row.tried)}: lays in {told}; costs: {escape(row.costs)}")
    worst = plan.worst_join
    if worst is not None:
        drift = next(d for d in plan.match.drifts if d.join == worst.name)
        name, miss = worst.name.replace(".", ", ").replace("-", " "), format_fine(drift.worst_level, units)
        console.print(f"Worst of the seams that must always meet: {escape(name)}; level bars miss by {miss} at most.")
    cautions = [finding for finding in plan.findings if finding.weight is Weight.CAUTION]
    if cautions:
        console.print("[bold]Cautions[/]")
        for finding in cautions:
            console.print(f"  • {escape(str(finding))}")
    if estimates := _estimates(plan):
        console.print("[bold]Estimated, not measured: good for a toile, until measured[/]")
        console.print(f"  {escape(estimates)}. The workbook tells how each is taken.")
    defaults = sum(finding.weight is Weight.DEFAULT for finding in plan.findings)
    if defaults:
        console.print(f"{defaults} choices were left to custom; the workbook lists them.")
    console.print(f"\n[bold]In {escape(_near(folder))}[/]")
    files = Table.grid(padding=(0, 2))
    for file in made.written:
        files.add_row(f"  {escape(file.name)}", escape(file.shows))
    console.print(files)


def _estimates(plan: Plan) -> str:
    """Returns every estimated measurement with its figure."""
    estimated = (measure for measure in plan.body.measures if measure.source is Source.ESTIMATED)
    named = ((BY_NAME[measure.name], measure.value) for measure in estimated)
    return ", ".join(f"{known.title} {known.written(value, plan.commission.units)}" for known, value in named)


def _near(folder: Path) -> str:
    """Returns the folder as seen from here, where it lies below."""
    here = Path.cwd()
    return str(folder.relative_to(here)) if folder.is_relative_to(here) else str(folder)
