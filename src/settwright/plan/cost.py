"""What the ensemble costs: cloth, thread, hours and what else she names, each blank until she sets its price."""

from __future__ import annotations

from dataclasses import dataclass

from settwright.makeup.handwork.reckoning import Reckoned, reckon
from settwright.plan.plan import Plan
from settwright.units import format_cloth


@dataclass(frozen=True, slots=True)
class CostLine:
    """One line of the bill: what, how it is reckoned, and the sum or None where a price or time is missing."""

    title: str
    how: str
    amount: float | None


@dataclass(frozen=True, slots=True)
class Cost:
    """The bill. `total` is None while anything in it is blank; `known` is the sum so far."""

    lines: tuple[CostLine, ...]
    known: float
    total: float | None


def reckoned(plan: Plan) -> Reckoned:
    """Returns the handwork of a plan in figures."""
    shell = plan.commission.cloth("shell")
    return reckon(plan.made_up, shell.thickness, plan.commission.hours)


def cost_of(plan: Plan) -> Cost:
    """Returns what the ensemble costs, in the commission's currency, line by line."""
    prices, hand = plan.commission.prices, reckoned(plan)
    lines = [
        CostLine(
            cloth.cloth.title,
            f"{format_cloth(cloth.reckoning.buy, plan.commission.units)} to buy",
            None if cloth.cloth.price_per_metre is None else cloth.cloth.price_per_metre * cloth.reckoning.buy / 1000,
        )
        for cloth in plan.cloths
    ]
    metres = sum(length for _, length in hand.threads) / 1000
    thread = None if prices.thread_per_100_m is None else prices.thread_per_100_m * metres / 100
    told = format_cloth(1000 * metres, plan.commission.units)
    lines.append(CostLine("Thread", f"{told}, waste included", thread))
    fitting = hand.fitting_minutes
    for title, minutes in (("Handwork", hand.minutes - fitting), ("Fittings and corrections", fitting)):
        blank = _has_blanks(hand, is_fitting=title != "Handwork")
        amount = None if prices.hour is None or blank else prices.hour * minutes / 60
        told = f"{minutes / 60:.1f} hours" if minutes else "no hours set"
        lines.append(CostLine(title, f"{told}{', not all set yet' if blank and minutes else ''}", amount))
    lines += [CostLine(name, "as you set it", price) for name, price in prices.other]
    known = sum(line.amount for line in lines if line.amount is not None)
    return Cost(tuple(lines), known, None if any(line.amount is None for line in lines) else known)


def _has_blanks(hand: Reckoned, *, is_fitting: bool) -> bool:
    """Whether minutes are missing: for fittings of any of them, else of a stitch or fastening that occurs.

    Another step without minutes of its own counts the stitching in it.
    """
    if is_fitting:
        return any(step.minutes is None for step in hand.steps if step.is_fitting)
    return any(taken.minutes is None for taken in (*hand.stitches, *hand.each))
