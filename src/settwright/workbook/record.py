"""The drafting record: every point with its rule and numbers, part by part, in the person's units."""

from __future__ import annotations

from reportlab.platypus import Flowable

from settwright.pattern import Draft, Step
from settwright.plan.plan import Plan
from settwright.units import Units, format_length
from settwright.workbook.style import HEAD, LEAD, SUBHEAD, paragraph, ruled_table


def record_section(plan: Plan) -> list[Flowable]:
    """Returns the record of all drafts as tables, one for each part drafted."""
    flow: list[Flowable] = [
        paragraph("The drafting record", HEAD),
        paragraph("Why each point lies where it does. x runs from the centre back, y up from the waist.", LEAD),
    ]
    for draft in plan.made_up.drafts:
        for part in dict.fromkeys(step.of for step in draft.record):
            flow.append(paragraph(f"{draft.name.capitalize()}: {part.replace('-', ' ')}", SUBHEAD))
            flow.append(_part_table(draft, part, plan.commission.units))
    return flow


def _part_table(draft: Draft, part: str, units: Units) -> Flowable:
    rows = [["Step", "Rule", "Value"]]
    rows += [[step.name, _rule(step, units), _value(step, units)] for step in draft.record if step.of == part]
    return ruled_table(rows, [42, 96, 40])


def _rule(step: Step, units: Units) -> str:
    numbers = ", ".join(f"{name} {_figure(name, value, units)}" for name, value in step.numbers)
    return step.rule + (f" ({numbers})" if numbers else "")


def _figure(name: str, value: float, units: Units) -> str:
    if name.endswith(("angle", "slope")):
        return f"{value * 57.29577951308232:.1f}°"
    return format_length(value, units)


def _value(step: Step, units: Units) -> str:
    if step.value is not None:
        return _figure(step.name, step.value, units)
    if step.point is not None:
        return f"x {format_length(step.point.x, units)}, y {format_length(step.point.y, units)}"
    return ""
