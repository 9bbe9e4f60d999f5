"""Hours and price as the page shows them: her own times where she has set them, blanks where she hasn't."""

from __future__ import annotations

from typing import Any

from settwright.makeup.handwork.reckoning import Reckoned
from settwright.plan.cost import cost_of, reckoned
from settwright.plan.plan import Plan
from settwright.units import format_cloth, format_length
from settwright.web.changes import dotted

Data = dict[str, Any]


def hours_data(plan: Plan) -> Data:
    """Returns what there is to do by hand, and her times for it: in all, stitch by stitch, apiece and step by step."""
    hand, units, hours = reckoned(plan), plan.commission.units, plan.commission.hours
    stitches, each, steps = dict(hours.stitches), dict(hours.each), dict(hours.steps)
    return {
        "said": None if hours.is_blank else hours_said(hand),
        "is_whole": not blanks(hand),
        "per": format_length(hours.per, units).replace(".0 ", " "),
        "blanks": blanks(hand),
        "stitches": [
            _row("stitches", t.name, format_cloth(t.length, units), stitches.get(t.name), t.minutes)
            for t in hand.stitches
        ],
        "each": [_row("each", t.name, str(t.count), each.get(t.name), t.minutes) for t in hand.each],
        "steps": [
            _row("steps", t.name, format_cloth(t.stitching, units) if t.stitching else "", steps.get(t.name), t.minutes)
            for t in hand.steps
        ],
    }


def _row(section: str, name: str, amount: str, set_to: float | None, minutes: float | None) -> Data:
    return {
        "name": name,
        "field": dotted(("hours", section, name)),
        "amount": amount,
        "is_set": set_to is not None,
        "said": None if minutes is None else time_said(minutes),
    }


def blanks(hand: Reckoned) -> list[str]:
    """Returns the stitches and fastenings of a garment that she has set no minutes for."""
    return [taken.name for taken in (*hand.stitches, *hand.each) if taken.minutes is None]


def hours_said(hand: Reckoned) -> str:
    """Returns the hours in all, or as far as they are set."""
    return time_said(hand.minutes) + (" so far" if blanks(hand) else "")


def time_said(minutes: float) -> str:
    """Returns a time in hours and minutes.

    >>> time_said(95.4), time_said(12.2)
    ('1 h 35 min', '12 min')
    """
    hours, rest = divmod(round(minutes), 60)
    return f"{hours} h {rest} min" if hours else f"{rest} min"


def bill_data(plan: Plan) -> Data | None:
    """Returns what the ensemble costs line by line; None where she has set no price at all."""
    cost, currency = cost_of(plan), plan.commission.currency
    if all(line.amount is None for line in cost.lines):
        return None
    whole = cost.total is not None
    return {
        "amount": round(cost.known, 2),
        "is_whole": whole,
        "said": f"{currency} {cost.known:,.2f}" + ("" if whole else " so far"),
        "lines": [
            {"title": line.title, "how": line.how, "said": None if line.amount is None else f"{line.amount:,.2f}"}
            for line in cost.lines
        ],
    }
