"""From a commission to its plan: the stages in their order, each a pure function of what stands before it."""

from __future__ import annotations

import itertools
import re
from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import Any, Protocol, TypeVar

from settwright.bars.joins import Taste
from settwright.bars.match import Prepared, beside, prepare
from settwright.bars.match import match as match_prepared
from settwright.bars.model import Match, Pin
from settwright.bars.ways import hindrance, orientations, to_mind
from settwright.body import Body
from settwright.body.catalogue import FOR_TROUSERS
from settwright.body.fitted import as_fitted
from settwright.cloth import Cloth, Sequence
from settwright.commission.design import FacingGrain, FrontEdge
from settwright.commission.fittings import of_the_body
from settwright.commission.handwork import Hours, Prices
from settwright.commission.model import Commission, Uneven
from settwright.commission.model import Pin as Said
from settwright.findings import Finding, Refusal, Weight, refuse, refusing_in, told_in
from settwright.geometry import Point
from settwright.layout.engine import EFFORT
from settwright.makeup.closures import Fastenings
from settwright.makeup.edges.waist import waist_findings, waist_plan
from settwright.makeup.garment import make_up
from settwright.makeup.handwork.reckoning import hours_findings
from settwright.makeup.model import Hand, MadeUp, MakeUpCloths
from settwright.makeup.staging import staged
from settwright.pattern import Draft, Edge, Layer, Piece
from settwright.pattern.asymmetry import (
    halves_of,
    hips_may_differ,
    in_halves,
    with_own_hips,
    with_own_straps,
)
from settwright.pattern.drafts.jacket import draft_jacket
from settwright.pattern.drafts.low_shoulder import MOST_LOWERED
from settwright.pattern.drafts.skirt import draft_skirt
from settwright.pattern.drafts.trousers import draft_trousers
from settwright.pattern.drafts.trousers_hang import with_jacket_hem
from settwright.plan.plan import Plan
from settwright.planner.laying import KeepLayout, OnLength, lay_out, pins_of_cut, search_anew
from settwright.planner.toile import as_asked
from settwright.units import Units, format_length

FREE_SHARE = 10  # of the effort, for a cloth whose pieces lie anywhere
Made = TypeVar("Made")
OnStage = Callable[[str], None]


class Keep(Protocol):
    """Keeps what a stage made by its inputs: returns what it has, or makes it."""

    def __call__(self, stage: str, inputs: Commission, make: Callable[[], Made]) -> Made:
        """Returns what `make` returns for these inputs."""
        ...


def worked_out(stage: str, inputs: Commission, make: Callable[[], Made]) -> Made:
    """Keeps nothing: every stage is worked out."""
    return make()


def derive(
    commission: Commission,
    on_stage: OnStage = lambda stage: None,
    *,
    effort: int = EFFORT,
    anew: bool = False,
    on_length: OnLength | None = None,
    on_matched: Callable[[Plan], None] = lambda plan: None,
) -> Plan:
    """Returns the whole plan of a commission; `on_stage` is told the name of each stage as it begins,
    `effort` bounds the search for the shortest layout; `anew` and `on_length` as in `lay_out`;
    `on_matched` is handed the plan as far as the full-size sheets need it, before the cloths are laid.

    Raises Refusal when a body, a pin or a cloth makes the plan impossible.
    """
    plan = derive_bars(commission, on_stage).plan
    on_matched(plan)
    on_stage("layout")
    return lay_cloths(plan, effort=effort, anew=anew, on_length=on_length)


@dataclass(frozen=True)
class Matched:
    """A plan as far as its bars, its cloths not yet laid, and what a try with the bars begins from."""

    plan: Plan
    prepared: Prepared
    pins: tuple[Pin, ...]


def derive_bars(
    commission: Commission, on_stage: OnStage = lambda stage: None, keep: Keep = worked_out, near: Match | None = None
) -> Matched:
    """Returns the plan of a commission as far as its bars.

    `keep` may keep what a stage made and give it out again for the same inputs. Beginning `near` an earlier match of
    the same pieces the bars come at once, mostly as good.

    Raises Refusal as derive does.
    """
    commission = as_asked(commission)
    on_stage("measurements")
    body = body_of(commission)
    shell = shell_of(commission)

    def pieces() -> MadeUp:
        on_stage("drafts")
        drafts = draft_garments(commission, body, shell.thickness)
        on_stage("make-up")
        return make_up_garments(commission, drafts, shell)

    made_up = keep("make-up", for_pieces(commission), pieces)
    on_stage("bars")
    problem = keep("bars", for_bars(commission), lambda: prepare_bars(commission, made_up, shell))
    pins = pins_of(commission, made_up)
    others = [cloth for cloth in commission.cloths if cloth.name != shell.name and _has_bars_to_match(cloth, made_up)]
    cloths = {shell.name, *(cloth.name for cloth in others)}
    matched = {piece.name for piece in made_up.pieces if piece.cloth in cloths}
    if near is not None and {phase.piece for phase in near.phases} != matched:
        near = None
    match = match_prepared(problem, pins, near)
    for cloth in others:
        own = match_prepared(prepare_bars(commission, made_up, cloth), pins_of(commission, made_up, cloth), near)
        match = beside(match, own)
    uneven = commission.choices.uneven
    findings = (
        *commission.findings,
        *body.findings,
        *told_in(
            commission.units,
            (
                *made_up.findings,
                *_of_the_shoulders(body, commission.units, made_up.drafts),
                *_of_the_waist(commission, made_up.drafts, shell),
                *hours_findings(made_up, commission.hours),
                *match.findings,
                *_of_the_halves(shell, uneven),
            ),
        ),
    )
    return Matched(Plan(commission, body, made_up, match, (), findings), problem, pins)


def for_pieces(commission: Commission) -> Commission:
    """Returns a commission without what no piece's shape depends on: the same one, the same pieces."""
    plain = Sequence(())
    cloths = tuple(
        replace(
            cloth, title="", colours=(), warp=plain, weft=plain, dominant_warp=None, dominant_weft=None, **_ON_TABLE
        )
        for cloth in commission.cloths
    )
    choices = replace(commission.choices, uneven=Uneven.ROUND, hem_on_a_bar=True, bar_off_the_fullest=False)
    return replace(commission, cloths=cloths, choices=choices, pins=(), importance=(), **_ON_PAPER)


def for_bars(commission: Commission) -> Commission:
    """Returns a commission without what the bars' problem doesn't depend on, pins among it."""
    cloths = tuple(replace(cloth, **_ON_TABLE) for cloth in commission.cloths)
    return replace(commission, cloths=cloths, pins=(), **_ON_PAPER)


_ON_PAPER: dict[str, Any] = {
    **{"title": "", "client": "", "currency": "", "notes": "", "findings": (), "found": ()},
    **{"hours": Hours(), "prices": Prices()},
}
_ON_TABLE: dict[str, Any] = {
    "price_per_metre": None,
    "length_in_hand": None,
    "sett_at_left": 0.0,
    "sett_at_end": None,
    "faults": (),
}
"""What of a cloth matters when the pieces are laid on it and not before."""


def lay_cloths(
    plan: Plan,
    *,
    effort: int = EFFORT,
    anew: bool = False,
    on_length: OnLength | None = None,
    keep: KeepLayout = search_anew,
) -> Plan:
    """Returns the whole plan from one that has its bars, every cloth laid; `keep` as in lay_out. Raises Refusal as it
    does.
    """
    commission, made_up = plan.commission, plan.made_up
    cloths = tuple(
        lay_out(
            commission,
            cloth,
            made_up,
            plan.match,
            effort=effort_for(cloth, made_up, effort),
            anew=anew,
            on_length=on_length,
            keep=keep,
        )
        for cloth in commission.cloths
        if any(piece.cloth == cloth.name for piece in made_up.pieces)
    )
    findings = (
        *plan.findings,
        *itertools.chain.from_iterable(cloth.layout.findings for cloth in cloths),
        *_unused(commission.cloths, made_up),
    )
    return replace(plan, cloths=cloths, findings=tuple(dict.fromkeys(findings)))


def effort_for(cloth: Cloth, made_up: MadeUp, effort: int) -> int:
    """Returns how hard to look for a cloth's layout: little where no piece of it has to show its bars.

    Such a cloth costs less, and its pieces lie well wherever there is room.
    """
    is_free = not any(piece.is_matched for piece in made_up.pieces if piece.cloth == cloth.name)
    return max(1, effort // FREE_SHARE) if is_free else effort


def _has_bars_to_match(cloth: Cloth, made_up: MadeUp) -> bool:
    return not cloth.is_plain and any(piece.cloth == cloth.name and piece.is_matched for piece in made_up.pieces)


def prepare_bars(commission: Commission, made_up: MadeUp, cloth: Cloth, uneven: Uneven | None = None) -> Prepared:
    """Returns the bars' problem of a commission on one cloth, made ready; `uneven` asks for another way than the
    chosen one.
    """
    choices = commission.choices
    return prepare(
        made_up,
        cloth,
        importance=commission.importance,
        units=commission.units,
        lying=orientations(made_up.pieces, cloth, uneven or choices.uneven),
        taste=Taste(choices.hem_on_a_bar, choices.bar_off_the_fullest),
    )


def pins_of(commission: Commission, made_up: MadeUp, cloth: Cloth | None = None) -> tuple[Pin, ...]:
    """Returns the pins of a commission on the pieces of one cloth, the outer one where none is named.

    Raises Refusal for a place that doesn't exist.
    """
    cloth = cloth or shell_of(commission)
    as_cut = pins_of_cut(commission, made_up, cloth)
    fixed = {(pin.piece, pin.axis) for pin in as_cut}
    said = (_pin(said, made_up) for said in commission.pins)
    own = (pin for pin in said if made_up.piece(pin.piece).cloth == cloth.name)
    return (*as_cut, *(pin for pin in own if (pin.piece, pin.axis) not in fixed))


def body_of(commission: Commission) -> Body:
    """Returns the body that the garments are drafted for: what wasn't measured estimated, in the client's posture, as
    the fittings corrected it.

    Measures of the legs are told only where trousers are commissioned.
    """
    body = as_fitted(dict(commission.measured), of_the_body(commission.fittings), commission.units)
    if commission.trousers is None:
        body = body.without_guesses_of(FOR_TROUSERS)
    return replace(body, findings=(*body.findings, *_uneven(body, commission.units)))


def _of_the_halves(shell: Cloth, way: Uneven) -> tuple[Finding, ...]:
    """Returns what hinders the way in which the halves should lie, or what to mind on it."""
    if way is Uneven.ROUND:
        return ()
    hindered = hindrance(shell, way)
    if hindered:
        return (Finding(Weight.NOTE, "choices.uneven", f"{way}: not done, for {hindered}."),)
    return (Finding(Weight.CAUTION, "choices.uneven", f"{way}: {to_mind(shell, way)}."),)


def _uneven(body: Body, units: Units) -> list[Finding]:
    """Returns what the tailor has to know of a figure whose halves differ, and what he does by hand."""
    found: list[Finding] = []
    for hand, half in zip(("right", "left"), halves_of(body), strict=True):
        if half.hip_out > 0:
            found.append(
                Finding(
                    Weight.NOTE,
                    f"measurements.full_hip_{hand}",
                    f"the {hand} hip takes {format_length(half.hip_out, units)} more than half the girth: where"
                    " a seam runs over it the halves are cut each in its own shape, out here and in on the other.",
                    "Keep right and left apart from the first mark on; try both sides on the toile.",
                )
            )
    return found


def shell_of(commission: Commission) -> Cloth:
    """Returns the outer cloth, or raises a Refusal that asks for it."""
    try:
        return commission.cloth("shell")
    except KeyError:
        raise refuse(
            "cloths.shell",
            "the outer cloth isn't named.",
            "Call the cloth that the garment is cut from [cloths.shell].",
        ) from None


_jacket, _skirt, _trousers = (lru_cache(maxsize=4)(draft) for draft in (draft_jacket, draft_skirt, draft_trousers))
"""Each garment's draft, kept for the latest designs: another garment's choice leaves it as it is."""


def draft_garments(commission: Commission, body: Body, thickness: float) -> tuple[Draft, ...]:
    """Returns the drafts of every garment of a commission. Raises Refusal, naming measurement or field."""
    drafts: list[Draft] = []
    halves = halves_of(body)
    if commission.jacket:
        with refusing_in(commission.units), _refusing("jacket"):
            own = [_jacket(body, commission.jacket, thickness, half.shoulder_drop) for half in halves]
            drafts.append(own[0] if own[0] is own[1] else in_halves(*own))
    drop = commission.jacket.length_below_waist if commission.jacket else None
    if commission.skirt:
        with refusing_in(commission.units), _refusing("skirt"):
            drafts.append(_skirt(body, commission.skirt, drop))
    if commission.trousers:
        with refusing_in(commission.units), _refusing("trousers"):
            trousers = _trousers(body, commission.trousers)
            drafts.append(trousers if drop is None else with_jacket_hem(trousers, body["waist_to_hip"], drop))
    apart = (with_own_hips(draft, *halves, body["waist_to_hip"]) for draft in drafts)
    return tuple(with_own_straps(draft, *halves, body["shoulder_length"]) for draft in apart)


def _of_the_shoulders(body: Body, units: Units, drafts: Iterable[Draft]) -> tuple[Finding, ...]:
    """Returns what there is to say of a low shoulder: how it is cut, and what is left to a pad."""
    found: list[Finding] = []
    for hand, half in zip(("right", "left"), halves_of(body), strict=True):
        has_jacket = any(draft.name == "jacket" for draft in drafts)
        has_top = any(piece.name == "top-front" for draft in drafts for piece in draft.pieces)
        if not half.shoulder_drop or not (has_jacket or has_top):
            continue
        lies = f"the {hand} shoulder lies {format_length(half.shoulder_drop, units)} lower"
        if half.shoulder_drop > MOST_LOWERED:
            weight = Weight.CAUTION
            what = f"more than a shoulder is cut down by: {format_length(MOST_LOWERED, units)} are, with the armhole."
            remedy = "Build the rest up with a thicker pad on that side."
        elif not has_jacket:
            weight = Weight.NOTE
            what = "the strap of the bodice top is cut lower on that side."
            remedy = "Keep right and left apart from the first mark on."
        else:
            weight = Weight.NOTE
            what = "shoulder and armhole are cut lower together on that side, so that the collar stays alike"
            what += ", and a sleeve set in."
            remedy = "Keep right and left apart from the first mark on; pad both shoulders alike."
        found.append(Finding(weight, f"measurements.low_shoulder_{hand}", f"{lies}, {what}", remedy))
    return tuple(found)


def _hips_alike(commission: Commission, drafts: Iterable[Draft]) -> tuple[Finding, ...]:
    """Returns what to do where a garment has no seam in which one full hip can be let out."""
    full = next((name for name, value in commission.measured if name.startswith("full_hip") and value), None)
    return tuple(
        Finding(
            Weight.CAUTION,
            f"measurements.{full}",
            f"the {draft.name} has no seam from the waist over the hip that can be moved alone: both its halves are"
            " cut alike there.",
            "Let that side out by half of the difference on the toile, and take as much in on the other.",
        )
        for draft in drafts
        if full and not hips_may_differ(draft)
    )


@contextmanager
def _refusing(garment: str) -> Iterator[None]:
    """Lets a draft's refusals name the garment's section, of which the draft knows only that it is a design."""
    try:
        yield
    except Refusal as refusal:
        raise Refusal(
            [replace(found, where=re.sub(r"^design\b", garment, found.where)) for found in refusal.findings]
        ) from None


def _of_the_waist(commission: Commission, drafts: Iterable[Draft], shell: Cloth) -> tuple[Finding, ...]:
    """Returns what there is to say of holding in a skirt's waist."""
    if commission.skirt is None:
        return ()
    width = commission.skirt.ribbon_width
    held = [waist_plan(draft, shell.give, width) for draft in drafts if draft.name == "skirt"]
    return tuple(finding for plan in held if plan is not None for finding in waist_findings(plan))


def make_up_garments(commission: Commission, drafts: tuple[Draft, ...], shell: Cloth) -> MadeUp:
    """Returns what is cut for a commission's drafts."""
    names = {cloth.name for cloth in commission.cloths}
    with refusing_in(commission.units), _refusing("jacket"):
        made_up = make_up(
            drafts,
            front_edge=commission.jacket.front_edge if commission.jacket else FrontEdge.SEPARATE,
            front_laps_over=Hand(commission.choices.front_laps_over.value),
            stage=commission.choices.stage,
            cloths=MakeUpCloths(
                facing="facing" if "facing" in names else None,
                **{layer.value: layer.value for layer in Layer if layer.value in names},
            ),
            thickness=shell.thickness,
            facing_grain=commission.jacket.facing_grain if commission.jacket else FacingGrain.AS_CUT,
            give=(commission.cloth("facing") if "facing" in names else shell).give,
            inside=commission.inside,
            fastenings=_fastenings(commission),
            units=commission.units,
        )
    outlines = {entry.placed.piece: tuple(Point(x, y) for x, y in entry.outline) for entry in commission.cut}
    as_cut = {piece: outline for piece, outline in outlines.items() if outline}
    made_up = replace(made_up, findings=(*made_up.findings, *_hips_alike(commission, drafts)))
    return staged(made_up, commission.choices.cutting, as_cut, commission.units)


def _fastenings(commission: Commission) -> Fastenings:
    jacket = commission.jacket
    if jacket is None:
        return Fastenings(commission.closures)
    return Fastenings(commission.closures, jacket.button_diameter)


def _pin(said: Said, made_up: MadeUp) -> Pin:
    """Returns a pin's place on its piece, or raises a Refusal that tells what the piece has."""
    if said.seam is not None:
        return _pin_of_seam(said, said.seam, made_up)
    where = f"pins.{said.piece}"
    try:
        cut = made_up.piece(said.piece)
    except KeyError:
        raise refuse(
            where, "no such piece is cut.", f"Name one of: {', '.join(p.name for p in made_up.pieces)}."
        ) from None
    piece = cut.piece
    try:
        if said.mark is not None:
            at, name = piece.mark(said.mark), said.mark
        elif said.edge is not None:
            edge = _edge(piece, said.edge)
            s = piece.stop(edge.name, said.stop) if said.stop else edge.path.length / 2
            at, name = edge.path.at(s), f"{said.edge}{f', {said.stop}' if said.stop else ''}"
        else:
            at, name = Point(0.0, 0.0), "grain mark"
    except KeyError as unknown:
        raise refuse(where, f"{unknown.args[0]}.", "docs/names.md lists edges, stops and marks.") from None
    return Pin(said.piece, at, said.axis, said.place, name)


def _pin_of_seam(said: Said, name: str, made_up: MadeUp) -> Pin:
    """Returns a seam's pin on the first of its pieces that is matched; the other follows as the seam matters."""
    where = f"pins.{name}"
    seam = next((pair for pair in made_up.sewn if pair.name == name), None)
    if seam is None:
        there = ", ".join(dict.fromkeys(p.name for p in made_up.sewn if made_up.piece(p.a.piece).is_matched))
        raise refuse(where, "this cut has no such seam.", f"Name one of: {there}.")
    stops = dict(seam.stops)
    if said.stop is not None and said.stop not in stops:
        remedy = f"Name one of: {', '.join(stops)}; or leave `stop` out: the middle is meant."
        raise refuse(where, f"the seam has no stop “{said.stop}”.", remedy)
    on_a, on_b = seam.pairs[stops[said.stop] if said.stop else len(seam.pairs) // 2]
    told = f"the seam {name.replace('-', ' ').replace('.', ', ')}{f', at {said.stop}' if said.stop else ''}"
    if made_up.piece(seam.a.piece).is_matched or not made_up.piece(seam.b.piece).is_matched:
        return Pin(seam.a.piece, on_a, said.axis, said.place, told)
    return Pin(seam.b.piece, on_b, said.axis, said.place, told)


def _edge(piece: Piece, name: str) -> Edge:
    """Returns an edge by name; of a whole piece, whose edges come in halves, the right one."""
    halved = {edge.name for edge in piece.edges} | {line.name for line in piece.lines}
    return piece.edge(f"{name}.right" if name not in halved and f"{name}.right" in halved else name)


def _unused(cloths: Iterable[Cloth], made_up: MadeUp) -> list[Finding]:
    used = {piece.cloth for piece in made_up.pieces}
    return [
        Finding(Weight.NOTE, f"cloths.{cloth.name}", "no piece of this plan is cut from it.")
        for cloth in cloths
        if cloth.name not in used
    ]
