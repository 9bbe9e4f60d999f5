"""The bars stage: from the made-up garment and its cloth to a place in the repeat for every matched piece."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np

from settwright.bars.bonds import Clash, Fixed, bonds_of
from settwright.bars.joins import PLAIN_TASTE, Taste, base_name, joins_of, whole_join, wishes_of
from settwright.bars.model import Axis, Drift, Importance, Join, Match, Mode, Order, Orientation, Phase, Pin, Wish
from settwright.bars.objective import (
    MICRON,
    SCALE,
    Array,
    JoinCost,
    Lying,
    Problem,
    microns,
    phase_for,
    problem_of,
    wrapped,
)
from settwright.bars.report import Laid, cycles_of, drift_of, reasons_of
from settwright.bars.solver import Baseline, Placing, Solution, solve
from settwright.bars.traded import trades_of
from settwright.cloth import Cloth
from settwright.findings import Finding, Refusal, Weight
from settwright.geometry.tolerances import HAND
from settwright.makeup.model import CutPiece, MadeUp, SewnPair
from settwright.units import Units, format_fine


def match_bars(
    made_up: MadeUp,
    cloth: Cloth,
    *,
    pins: Sequence[Pin] = (),
    importance: Sequence[tuple[str, Importance]] = (),
    units: Units = Units.CM,
    lying: Mapping[str, Orientation] | None = None,
    taste: Taste = PLAIN_TASTE,
) -> Match:
    """Returns where in the repeat each piece of this cloth lies, and how every join came out.

    Pieces of other cloths take no part; hidden ones and axes without bars are free. `lying` tells of the pieces that
    are turned or lie on their other face. Raises Refusal for a pin or a word about a seam that doesn't exist, or for
    two pins that tear one piece apart.
    """
    return match(prepare(made_up, cloth, importance=importance, units=units, lying=lying, taste=taste), pins)


@dataclass(frozen=True)
class Prepared:
    """The match problem of one ensemble on one cloth, made ready once; every try (another pin) starts from it."""

    cloth: Cloth
    units: Units
    pieces: tuple[CutPiece, ...]
    joins: tuple[Join, ...]
    wholes: tuple[Join | None, ...]  # each join over its whole seam, where that is longer
    lying: tuple[Lying, ...]  # of the matched pieces
    problem: Problem

    @property
    def matched(self) -> tuple[CutPiece, ...]:
        """The pieces whose place matters."""
        names = set(self.problem.instances)
        return tuple(piece for piece in self.pieces if piece.name in names)


def prepare(
    made_up: MadeUp,
    cloth: Cloth,
    *,
    importance: Sequence[tuple[str, Importance]] = (),
    units: Units = Units.CM,
    lying: Mapping[str, Orientation] | None = None,
    taste: Taste = PLAIN_TASTE,
) -> Prepared:
    """Returns the match problem made ready. Raises Refusal for a word about a seam that doesn't exist."""
    turned = lying or {}
    pieces = tuple(piece for piece in made_up.pieces if piece.cloth == cloth.name)
    lie = tuple(
        Lying(piece.name, piece.grain_turn, turned.get(piece.name, Orientation()))
        for piece in pieces
        if piece.is_matched and not cloth.is_plain
    )
    ways = {way.name: way.orientation for way in lie}
    joins = tuple(_as_they_lie(join, ways) for join in joins_of(made_up, cloth, importance))
    wishes = wishes_of(made_up, cloth, taste) if lie else ()
    # two garments may each have a seam of one name: jacket and skirt at the waist
    pairs = {(pair.name, pair.a.piece): pair for pair in made_up.sewn}
    return Prepared(
        cloth=cloth,
        units=units,
        pieces=pieces,
        joins=joins,
        wholes=tuple(_whole(join, pairs.get((join.name, join.a))) for join in joins),
        lying=lie,
        problem=problem_of(lie, joins, wishes, cloth),
    )


def _as_they_lie(join: Join, ways: Mapping[str, Orientation]) -> Join:
    """Returns a join between right and left halves that read the upright bars opposite ways as a mirror."""
    opposite = ways[join.a].reading(Axis.UPRIGHT) != ways[join.b].reading(Axis.UPRIGHT)
    if not (join.is_across and opposite and join.upright is Mode.CONTINUE):
        return join
    return replace(join, upright=Mode.MIRROR, named=join.named or join.level_at)


def match(
    prepared: Prepared,
    pins: Sequence[Pin] = (),
    near: Match | None = None,
    *,
    is_wide: bool = False,
    stay: Collection[str] = (),
) -> Match:
    """Returns the match under these pins.

    Beginning `near` an earlier match of the same problem it comes at once, and is mostly as good, but leaves out
    what was traded and the trade's orders seam by seam; `is_wide` takes a little longer over it. The instances that
    are to `stay` keep the places that they have in the earlier match.
    Raises Refusal as match_bars does.
    """
    lying = prepared.lying
    pins, findings = _checked(pins, prepared, {way.name: way for way in lying})
    problem = replace(
        prepared.problem,
        wishes=tuple(wish for wish in prepared.problem.wishes if not _is_settled(wish.wish, pins)),
    )
    number = {name: index for index, name in enumerate(problem.instances)}
    fixed = {
        axis: tuple(
            Fixed(number[pin.piece], phase_for(lying[number[pin.piece]], pin.at, axis, pin.place), _said(pin))
            for pin in pins
            if pin.axis is axis
        )
        for axis in Axis
    }
    start = None
    if near is not None:
        begun = [near.phase(name) for name in problem.instances]
        start = (
            np.array([microns(phase.u) for phase in begun], dtype=np.int64),
            np.array([microns(phase.v) for phase in begun], dtype=np.int64),
        )
    held = fixed
    if start is not None and stay:
        kept = tuple(number[name] for name in problem.instances if name in stay)
        held = {
            axis: (
                *fixed[axis],
                *(Fixed(i, int(at[i]), "") for i in kept if i not in {pin.piece for pin in fixed[axis]}),
            )
            for axis, at in ((Axis.UPRIGHT, start[0]), (Axis.LEVEL, start[1]))
        }
    solution = solve(problem, held, start=start, is_wide=is_wide)
    found = _told(prepared, problem, solution, fixed=fixed, findings=findings)
    return found if start is not None else _compared(prepared, problem, solution, found)


def beside(first: Match, second: Match) -> Match:
    """Returns the matches of two cloths of one ensemble as one; what was found of each stays as it was."""
    baselines, costs = dict(first.baselines), dict(second.baselines)
    orders = {order.name: order for order in second.orders}
    return Match(
        phases=(*first.phases, *second.phases),
        joins=(*first.joins, *second.joins),
        drifts=(*first.drifts, *second.drifts),
        cycles=(*first.cycles, *second.cycles),
        cost=first.cost + second.cost,
        baselines=tuple((name, cost + costs.get(name, 0.0)) for name, cost in baselines.items()),
        reasons=(*first.reasons, *second.reasons),
        findings=(*first.findings, *second.findings),
        wishes=(*first.wishes, *second.wishes),
        orders=tuple(_with(order, orders[order.name]) for order in first.orders if order.name in orders),
        trades=(*first.trades, *second.trades),
    )


def _with(order: Order, other: Order) -> Order:
    return Order(order.name, order.cost + other.cost, (*order.phases, *other.phases), (*order.drifts, *other.drifts))


def _told(
    prepared: Prepared,
    problem: Problem,
    solution: Solution,
    *,
    fixed: Mapping[Axis, Sequence[Fixed]],
    findings: Sequence[Finding],
) -> Match:
    """Returns the whole report of a solution."""
    cloth, joins = prepared.cloth, prepared.joins
    number = {name: index for index, name in enumerate(problem.instances)}
    phases = tuple(_phase(piece, number, solution, prepared) for piece in prepared.pieces)
    turns = {piece.name: piece.grain_turn for piece in prepared.pieces}
    laid = Laid(cloth, {phase.piece: phase for phase in phases}, turns)
    drifts = _drifts(prepared, problem, (solution.u, solution.v), laid)
    pinned = {axis: {pin.piece: pin.name for pin in fixed[axis]} for axis in Axis}
    return Match(
        phases=phases,
        joins=joins,
        drifts=drifts,
        cycles=cycles_of(problem),
        cost=solution.cost / SCALE,
        baselines=tuple((order.name, order.cost / SCALE) for order in solution.baselines),
        reasons=reasons_of(problem, pinned),
        findings=(
            *findings,
            *_customs_taken(problem, solution),
            *_clashes(problem, solution, fixed, prepared.units),
            *_uneven(joins, drifts_none=[d.join for d in drifts if d.upright is None], cloth=cloth),
            *_broken(problem, solution, prepared.units),
            *_doubled(problem, solution, cloth),
        ),
        wishes=tuple(wish.wish for wish in problem.wishes),
    )


def _compared(prepared: Prepared, problem: Problem, solution: Solution, found: Match) -> Match:
    """Returns the match with what was traded, and the trade's orders seam by seam; a quick try does without."""
    bonds = {Axis.UPRIGHT: solution.upright, Axis.LEVEL: solution.level}
    turns = {piece.name: piece.grain_turn for piece in prepared.pieces}
    return replace(
        found,
        trades=trades_of(problem, bonds, solution.u, solution.v),
        orders=tuple(_order(prepared, problem, order, turns) for order in solution.baselines),
    )


def _order(prepared: Prepared, problem: Problem, order: Baseline, turns: Mapping[str, float]) -> Order:
    """Returns one of the trade's orders, with by how much it would have let the bars of each join miss."""
    orientations = {way.name: way.orientation for way in prepared.lying}
    cloth = prepared.cloth
    phases = {
        name: Phase(
            name,
            int(order.u[i] % problem.upright.repeat) / MICRON,
            int(order.v[i] % problem.level.repeat) / MICRON,
            orientations[name],
            not cloth.has_upright_bars,
            not cloth.has_level_bars,
        )
        for i, name in enumerate(problem.instances)
    }
    laid = Laid(cloth, phases, turns)
    return Order(
        order.name,
        order.cost / SCALE,
        tuple(phases.values()),
        _drifts(prepared, problem, (order.u, order.v), laid),
    )


def _drifts(prepared: Prepared, problem: Problem, placing: Placing, laid: Laid) -> tuple[Drift, ...]:
    """Returns how each join comes out at a placing."""
    return tuple(
        drift_of(join, whole, colour, laid, prepared.units, doubled=_doubled_bar(problem, cost, placing[0], laid.cloth))
        for join, whole, colour, cost in zip(
            prepared.joins, prepared.wholes, problem.mean_colours(*placing), problem.joins, strict=True
        )
    )


def _doubled_bar(problem: Problem, join: JoinCost, u: Array, cloth: Cloth) -> str | None:
    """Returns which leading or receding bar stands doubled at a join's named stop: "" for none, None if not asked."""
    stop = join.doubling
    if stop is None:
        return None
    if not bool(problem.is_doubled(stop, u[join.a], u[join.b])):
        return ""
    return cloth.warp.bar_at(((int(u[join.a]) + stop.ax) / MICRON) % cloth.warp.repeat).name


def _is_settled(wish: Wish, pins: Sequence[Pin]) -> bool:
    """Returns whether a pin speaks in the wish's stead: on the same piece or its pair, or for all level bars."""
    return any(
        pin.axis is wish.axis and (pin.axis is Axis.LEVEL or base_name(pin.piece) == base_name(wish.piece))
        for pin in pins
    )


def _checked(
    pins: Sequence[Pin], prepared: Prepared, ways: Mapping[str, Lying]
) -> tuple[tuple[Pin, ...], tuple[Finding, ...]]:
    """Returns the pins that can act, and what to say of the others; raises Refusal for those that can't be."""
    cloth = prepared.cloth
    names, all_names = set(prepared.problem.instances), {piece.name for piece in prepared.pieces}
    wrong: list[Finding] = []
    notes: list[Finding] = []
    kept: list[Pin] = []
    for pin in pins:
        where = f"pins.{pin.piece}" + (f".{pin.name}" if pin.name else "")
        sequence, matters = (
            (cloth.weft, cloth.has_level_bars) if pin.axis is Axis.LEVEL else (cloth.warp, cloth.has_upright_bars)
        )
        if pin.piece not in all_names:
            wrong.append(
                Finding(
                    Weight.REFUSED,
                    where,
                    f"no piece of {cloth.title} is called {pin.piece!r}.",
                    f"The pieces are {', '.join(sorted(names))}.",
                )
            )
        elif not matters or pin.piece not in names:
            why = f"{cloth.title} has no {pin.axis} bars" if not matters else "the piece is hidden and lies anywhere"
            notes.append(Finding(Weight.NOTE, where, f"the pin changes nothing: {why}."))
        else:
            lying = ways[pin.piece]
            phase = phase_for(lying, pin.at, pin.axis, pin.place)
            twin = next((p for p in kept if p.piece == pin.piece and p.axis is pin.axis), None)
            if twin is None:
                kept.append(pin)
                continue
            miss = phase - phase_for(lying, twin.at, twin.axis, twin.place)
            repeat = microns(sequence.repeat)
            miss = repeat // 2 - (repeat // 2 - miss) % repeat
            if abs(miss) > microns(HAND):
                wrong.append(
                    Finding(
                        Weight.REFUSED,
                        where,
                        f"the pin at {_said(pin)} and the one at {_said(twin)} pull "
                        f"{pin.piece.replace('-', ' ').replace('.', ', ')} apart by "
                        f"{format_fine(abs(miss) / MICRON, prepared.units)} in its {pin.axis} bars.",
                        "Take one of them out, or pin one to where the other leaves it.",
                    )
                )
    if wrong:
        raise Refusal(wrong)
    return tuple(kept), tuple(notes)


def _said(pin: Pin) -> str:
    """Returns a pin in a tailor's words: "front, right: centre front" or "the seam side front, right, at waist"."""
    piece, place = (name.replace("-", " ").replace(".", ", ") for name in (pin.piece, pin.name))
    if not place or pin.name.startswith("the seam "):
        return pin.name or piece
    return f"{piece}: {place}"


def _phase(piece: CutPiece, number: dict[str, int], solution: Solution, prepared: Prepared) -> Phase:
    if piece.name not in number:
        return Phase(piece.name, 0.0, 0.0, free_u=True, free_v=True)
    cloth = prepared.cloth
    i = number[piece.name]
    u = int(solution.u[i]) / MICRON if cloth.has_upright_bars else 0.0
    v = int(solution.v[i]) / MICRON if cloth.has_level_bars else 0.0
    free_u, free_v = not cloth.has_upright_bars, not cloth.has_level_bars
    return Phase(piece.name, u, v, prepared.lying[i].orientation, free_u, free_v)


def _whole(join: Join, pair: SewnPair | None) -> Join | None:
    if pair is None or len(pair.pairs) == len(join.samples):
        return None
    return whole_join(pair, join)


def _customs_taken(problem: Problem, solution: Solution) -> list[Finding]:
    findings: list[Finding] = []
    told: set[str] = set()
    for wish in problem.wishes:
        phases = solution.v if wish.wish.axis is Axis.LEVEL else solution.u
        miss = int(problem.wish_miss(wish, phases[wish.piece]))
        if miss <= microns(HAND) and wish.wish.reason not in told:
            told.add(wish.wish.reason)
            said = f"{wish.wish.reason[0].upper()}{wish.wish.reason[1:]}"
            if wish.wish.off:
                findings.append(Finding(Weight.NOTE, wish.wish.piece, f"{said}, as you asked."))
                continue
            remedy = "Pin another bar there if you want it otherwise."
            findings.append(Finding(Weight.DEFAULT, wish.wish.piece, f"{said}, as custom has it.", remedy))
    return findings


def _clashes(
    problem: Problem, solution: Solution, fixed: Mapping[Axis, Sequence[Fixed]], units: Units
) -> list[Finding]:
    findings: list[Finding] = []
    for axis, clash in solution.clashes:
        join = clash.join.join
        pinned = "; ".join(_to_blame(problem, axis, clash, fixed[axis]))
        if join.kind == "pair":
            what = f"right and left can't be cut alike in their {axis} bars: other joins"
            what += f" and the pins at {pinned}" if pinned else ""
            findings.append(Finding(Weight.NOTE, join.name, f"{what} settle them differently."))
        else:
            what = f"the {axis} bars can't meet here: they miss by {format_fine(abs(clash.miss) / MICRON, units)}"
            what += f", because of the pins at {pinned}." if pinned else ", because stronger joins settle both pieces."
            remedy = "Take out one of the pins or say that this seam may go." if pinned else ""
            findings.append(Finding(Weight.CAUTION, join.name, what, remedy))
    return findings


def _to_blame(problem: Problem, axis: Axis, clash: Clash, pins: Sequence[Fixed]) -> tuple[str, ...]:
    """Returns the pins without any one of which a join would be kept; all of them where that isn't two or more."""
    blamed = [
        pin.name
        for pin in pins
        if all(
            other.join is not clash.join
            for other in bonds_of(
                problem, axis, tuple(other for other in pins if other is not pin), pairs_only=False
            ).clashes
        )
    ]
    return tuple(blamed if len(blamed) > 1 else (pin.name for pin in pins))


def _uneven(joins: Sequence[Join], drifts_none: Sequence[str], cloth: Cloth) -> list[Finding]:
    stuck = [j for j in joins if j.upright is Mode.MIRROR and j.name in drifts_none]
    if not stuck or not cloth.has_upright_bars:
        return []
    whole = sorted({j.a.replace("-", " ") for j in stuck if j.a == j.b})
    if any(j.a != j.b and j.kind == "pair" for j in stuck):
        what = "the bars run round the body in one direction."
        what = f"the upright bars are uneven, so right and left halves can't mirror each other: {what}"
    else:
        what = f"the upright bars are uneven: {', '.join(whole) or 'what is cut whole'} can't mirror from the middle."
    return [Finding(Weight.NOTE, cloth.name, what)]


def _doubled(problem: Problem, solution: Solution, cloth: Cloth) -> list[Finding]:
    findings: list[Finding] = []
    for join in problem.joins:
        bar = _doubled_bar(problem, join, solution.u, cloth)
        if bar:
            what = f"{bar} stands doubled at the {join.join.named.replace('-', ' ')}."
            findings.append(Finding(Weight.NOTE, join.join.name, what, "Pin another bar, or let this seam go."))
    return findings


def _broken(problem: Problem, solution: Solution, units: Units) -> list[Finding]:
    findings: list[Finding] = []
    told = {(clash.join.join.name, axis) for axis, clash in solution.clashes}
    for join in problem.joins:
        for axis in Axis:
            agreement = join.agreement(axis)
            if agreement is None or (join.join.name, axis) in told:
                continue
            phases = solution.v if axis is Axis.LEVEL else solution.u
            base = phases[join.a] - agreement.sense * phases[join.b]
            worst = max(
                (abs(int(wrapped(base + t, problem.threads(axis).repeat))) for t in agreement.targets), default=0
            )
            if worst > microns(problem.coefficients.limit):
                what = f"the {axis} bars should always meet here, and miss by {format_fine(worst / 1000, units)}."
                findings.append(Finding(Weight.CAUTION, join.join.name, what))
    return findings
