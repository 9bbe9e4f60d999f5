"""What else might be decided about the bars: each choice worked through and set beside the plan."""

from __future__ import annotations

from dataclasses import replace

from settwright.bars.answers import Answer, Length, answers
from settwright.bars.match import match
from settwright.bars.model import Match
from settwright.bars.ranking import rank_fronts
from settwright.bars.ways import ways
from settwright.commission.model import Commission, Uneven
from settwright.plan.plan import Compared, Plan
from settwright.planner.derive import draft_garments, make_up_garments, pins_of, prepare_bars, shell_of


def compared(plan: Plan) -> Plan:
    """Returns the plan with its choices compared: the centre front, the halves' ways, the hems."""
    commission, made_up = plan.commission, plan.made_up
    shell = shell_of(commission)
    pins = pins_of(commission, made_up)
    prepared = prepare_bars(commission, made_up, shell)

    def lying(way: Uneven) -> Match:
        return match(prepare_bars(commission, made_up, shell, way), pins)

    return replace(
        plan,
        compared=Compared(
            fronts=rank_fronts(prepared, pins, plan.match),
            ways=ways(shell, commission.choices.uneven, plan.match, lying),
            answers=_answers(plan),
        ),
    )


def _answers(plan: Plan) -> tuple[Answer, ...]:
    commission = plan.commission
    shell = shell_of(commission)

    def again(field: str, value: float) -> Match:
        changed = with_length(commission, field, value)
        made_up = make_up_garments(changed, draft_garments(changed, plan.body, shell.thickness), shell)
        return match(prepare_bars(changed, made_up, shell), pins_of(changed, made_up))

    return answers(lengths_of(commission), plan.made_up.pieces, shell, plan.match, again)


def lengths_of(commission: Commission) -> tuple[Length, ...]:
    """Returns the lengths of the design that may give way to the cloth."""
    lengths: list[Length] = []
    if commission.jacket:
        jacket = commission.jacket.length_below_waist
        lengths.append(Length("jacket.length_below_waist", "the jacket's hem", jacket, "back.right"))
    if commission.skirt:
        lengths.append(Length("skirt.length", "the skirt's hem", commission.skirt.length, "skirt-back.right"))
    return tuple(lengths)


def with_length(commission: Commission, field: str, value: float) -> Commission:
    """Returns the commission with one length of its design changed: "skirt.length"."""
    garment, _, name = field.partition(".")
    if garment == "jacket" and commission.jacket:
        return replace(commission, jacket=replace(commission.jacket, **{name: value}))
    if garment == "skirt" and commission.skirt:
        return replace(commission, skirt=replace(commission.skirt, **{name: value}))
    raise KeyError(field)


__all__ = ["compared", "lengths_of", "with_length"]
