"""What each constraint costs in cloth, and what would make a plan fit the length in hand: each tried, none guessed.

Every row is a plan of its own, worked out from the commission with one decision changed, its layout searched shortly.
That takes a minute, so it is done when asked for.
"""

from __future__ import annotations

import io
import itertools
from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace
from typing import cast

from reportlab.platypus import Flowable, SimpleDocTemplate
from rich.console import Console
from rich.markup import escape
from rich.table import Table
from shapely import Polygon

from settwright.bars.match import match
from settwright.bars.model import Importance, Match
from settwright.bars.ranking import Ranking, rank_fronts
from settwright.bars.ways import hindrance
from settwright.cloth import Cloth, Nap
from settwright.commission.design import FrontEdge
from settwright.commission.model import Commission, Cutting, Uneven
from settwright.findings import Refusal
from settwright.geometry import Point
from settwright.layout.engine import EFFORT, lay
from settwright.layout.model import Board, LatticeState, Shape
from settwright.layout.rules import reckon
from settwright.makeup.model import CutPiece, MadeUp
from settwright.plan.plan import Plan
from settwright.planner.comparing import hems_of, with_field
from settwright.planner.derive import (
    body_of,
    draft_garments,
    make_up_garments,
    pins_of,
    prepare_bars,
    shell_of,
)
from settwright.planner.laying import board_of, shapes_of, to_lay
from settwright.planner.toile import as_asked
from settwright.units import Units, format_cloth, format_fine, format_length
from settwright.workbook.drawing.pen import register_fonts
from settwright.workbook.style import HEAD, LEAD, SUBHEAD, paragraph, ruled_table

MOST_SEAMS = 3
MOST_FRONTS = 3
_SPLIT = 150.0  # mm below the break point, where a facing in two parts is joined
_JOIN = 15.0  # mm of allowance on each side of a join
_LEAST_HEM = 10.0  # mm of change in a hem that is worth a row


@dataclass(frozen=True)
class Row:
    """Something tried: what it takes, and what it costs besides."""

    tried: str
    lays_in: float | None  # mm; None where it can't be laid
    costs: str  # in bars, hours of style or work


@dataclass(frozen=True)
class Advice:
    """The shell cloth of one commission, with and without what binds it."""

    title: str
    cloth: Cloth
    units: Units
    currency: str
    as_planned: float  # lays in, by the same short search as every row
    constraints: tuple[Row, ...]
    rules: tuple[tuple[str, float], ...]  # the trade's rules of thumb: what they would buy
    buys: float
    remedies: tuple[Row, ...]

    @property
    def fits(self) -> bool | None:
        """Whether it fits the length in hand; None where none is."""
        hand = self.cloth.length_in_hand
        return None if hand is None else self.as_planned <= hand


def is_short(plan: Plan) -> bool:
    """Tells whether the outer cloth in hand is too short for its plan."""
    shell = plan.cloth_plan("shell")
    hand = shell.cloth.length_in_hand
    return hand is not None and shell.layout.length > hand


def advise(commission: Commission, effort: int = EFFORT) -> Advice:
    """Returns what was tried for the shell cloth of a commission.

    Constraints are priced on the pieces as planned: without their bars, without the nap, with the stripes of one
    direction only. Remedies are plans of their own: a hem one bar shorter, a seam's match let go, the centre front on
    another bar, a facing or an under collar in parts.

    Raises Refusal for a commission that can't be planned.
    """
    commission = as_asked(commission)
    shell = shell_of(commission)
    body = body_of(commission)

    def planned(changed: Commission) -> tuple[MadeUp, Match]:
        made_up = make_up_garments(changed, draft_garments(changed, body, shell.thickness), shell)
        return made_up, match(prepare_bars(changed, made_up, shell), pins_of(changed, made_up))

    made_up, found = planned(commission)
    pieces = [piece for piece in made_up.pieces if piece.cloth == shell.name]
    board = board_of(shell)
    shapes, stays = to_lay(commission, shell, pieces, found)
    as_planned = lay(shapes, board, stays=stays, effort=effort)
    reckoning = reckon(as_planned, pieces, shell, is_toile=commission.choices.cutting is Cutting.TOILE)

    def relaxed(shapes: Iterable[Shape], board: Board) -> float:
        """Whatever lies as planned lies with fewer constraints too, so that no more than that is ever needed."""
        return min(lay(tuple(shapes), board, stays=stays, effort=effort).length, as_planned.length)

    def matched(chosen: Match, made: MadeUp = made_up) -> float | None:
        own = [piece for piece in made.pieces if piece.cloth == shell.name]
        try:
            moving, lying = to_lay(commission, shell, own, chosen)
            return lay(moving, board, stays=lying, effort=effort).length
        except Refusal:
            return None

    def lengths(changed: Commission) -> float | None:
        try:
            made, chosen = planned(changed)
        except Refusal:
            return None
        return matched(chosen, made)

    fronts = rank_fronts(prepare_bars(commission, made_up, shell), pins_of(commission, made_up), found)

    return Advice(
        title=commission.title,
        cloth=shell,
        units=commission.units,
        currency=commission.currency,
        as_planned=as_planned.length,
        constraints=tuple(_constraints(shapes, pieces, found, shell, relaxed)),
        rules=reckoning.rules,
        buys=reckoning.buy,
        remedies=(
            *_of_the_design(commission, shell, found, lengths),
            *_of_fronts(fronts, matched),
            *_of_pieces(shapes, pieces, board, relaxed),
            *_of_the_under_collar(shapes, board, relaxed),
        ),
    )


Laid = Callable[[Iterable[Shape], Board], float]


def _constraints(
    shapes: tuple[Shape, ...], pieces: list[CutPiece], found: Match, shell: Cloth, laid: Laid
) -> Iterable[Row]:
    board = board_of(shell)
    if shell.has_upright_bars and shell.has_level_bars:
        yield Row("level bars matched only", laid(_freed(shapes, upright=True), board), "upright bars run as they fall")
        yield Row("upright bars matched only", laid(_freed(shapes, level=True), board), "level bars run as they fall")
    if shell.has_upright_bars or shell.has_level_bars:
        without = laid(_freed(shapes, upright=True, level=True), board)
        yield Row("no match at all", without, "no bar agrees at any seam")
    if shell.nap is not Nap.NONE:
        smooth = replace(shell, nap=Nap.NONE)
        yield Row("no nap, bars matched", laid(shapes_of(pieces, found, smooth), board), "only if the cloth had none")
        both = _freed(shapes_of(pieces, found, smooth), upright=True, level=True)
        yield Row("no nap, no match", laid(both, board), "plain cloth without a nap")
    if board.faults or board.blemishes:
        yield Row("no faults", laid(shapes, replace(board, faults=(), blemishes=())), "a flawless length")


def _freed(shapes: Iterable[Shape], *, upright: bool = False, level: bool = False) -> tuple[Shape, ...]:
    """Returns the shapes without their places in the repeat on one axis or both."""
    return tuple(
        replace(
            shape,
            states=tuple(
                LatticeState(s.t, s.f, None if upright else s.u, None if level else s.v) for s in shape.states
            ),
        )
        for shape in shapes
    )


def _of_the_design(
    commission: Commission, shell: Cloth, found: Match, lengths: Callable[[Commission], float | None]
) -> Iterable[Row]:
    """Changes of the commission itself, each drafted, made up, matched and laid anew."""
    if shell.has_level_bars:
        bar = min((bar.width for bar in shell.weft.bars if bar.width >= _LEAST_HEM), default=shell.weft.repeat)
        told = format_fine(bar, commission.units)
        for hem in hems_of(commission):
            shorter = with_field(commission, hem.field, hem.now - bar)
            yield Row(f"{hem.title} one bar shorter ({told})", lengths(shorter), f"{told} less length")
    if commission.jacket and commission.jacket.front_edge.is_in_one:
        apart = replace(commission, jacket=replace(commission.jacket, front_edge=FrontEdge.SEPARATE))
        yield Row("a separate facing", lengths(apart), "a seam along the front edge")
    if commission.jacket and commission.jacket.front_edge is FrontEdge.SEPARATE and not commission.jacket.facing_split:
        split = replace(commission, jacket=replace(commission.jacket, facing_split=_SPLIT))
        yield Row("the front facing in two parts", lengths(split), "a join in the facing")
    if shell.nap is Nap.NONE and commission.choices.uneven is not Uneven.TURN and not hindrance(shell, Uneven.TURN):
        turned = replace(commission, choices=replace(commission.choices, uneven=Uneven.TURN))
        yield Row("one half turned end for end", lengths(turned), "level bars read the other way on that half")
    if commission.pins:
        yield Row("no bar pinned", lengths(replace(commission, pins=())), "the bars fall where they match best")
    seams = sorted({join.name.split(".")[0] for join in found.joins if not join.hard and join.kind == "seam"})
    for seam in seams[:MOST_SEAMS]:
        told = (*((name, word) for name, word in commission.importance if name != seam), (seam, Importance.LET_GO))
        changed = replace(commission, importance=tuple(sorted(told)))
        yield Row(f"no match at {seam.replace('-', ' ')}", lengths(changed), "the bars of that seam")


def _of_fronts(fronts: Ranking, matched: Callable[[Match], float | None]) -> Iterable[Row]:
    """The centre front on other places of the sett, the best of them by their bars."""
    for choice in [choice for choice in fronts.choices if not choice.is_as_planned][:MOST_FRONTS]:
        misses = f"{choice.level_misses} seams whose level bars miss" if choice.level_misses else "no level bar misses"
        yield Row(f"centre front on the {choice.at.said}", matched(choice.match), misses)


def _of_the_under_collar(shapes: tuple[Shape, ...], board: Board, laid: Laid) -> Iterable[Row]:
    """Each half of the under collar joined from two parts across its length."""
    if not any(shape.name.startswith("under-collar") for shape in shapes):
        return
    parts = tuple(
        part for shape in shapes for part in (_halved(shape) if shape.name.startswith("under-collar") else (shape,))
    )
    yield Row("the under collar joined from more parts", laid(parts, board), "a join in each half, out of sight")


def _halved(shape: Shape) -> tuple[Shape, Shape]:
    """Returns a shape cut across the middle of its longest extent, with a seam's allowance on both sides."""
    outline = Polygon([(p.x, p.y) for p in shape.outline])
    along = max(
        ((p - q) for p, q in itertools.combinations(shape.outline, 2)), key=lambda d: (round(d.length, 3), d.x, d.y)
    )
    unit, middle = along * (1 / along.length), Point(*outline.centroid.coords[0])
    far = 10 * along.length
    halves: list[Shape] = []
    for number, sign in enumerate((1.0, -1.0), 1):
        edge = middle - unit * (sign * _JOIN)
        side = unit.left * far
        wanted = Polygon(
            [
                (p.x, p.y)
                for p in (
                    edge + side,
                    edge - side,
                    edge - side + unit * (sign * far),
                    edge + side + unit * (sign * far),
                )
            ]
        )
        part = outline.intersection(wanted)
        largest = max(getattr(part, "geoms", (part,)), key=lambda geometry: geometry.area)
        corners = tuple(Point(x, y) for x, y in cast(Polygon, largest).exterior.coords[:-1])
        halves.append(replace(shape, name=f"{shape.name}-{number}", outline=corners))
    return halves[0], halves[1]


def _of_pieces(shapes: tuple[Shape, ...], pieces: list[CutPiece], board: Board, laid: Laid) -> Iterable[Row]:
    """Single pieces freed from their match, the others as planned."""
    alone: list[tuple[float, str, frozenset[str]]] = []

    def without_match(group: frozenset[str]) -> tuple[Shape, ...]:
        return tuple(_freed([s], upright=True, level=True)[0] if s.name in group else s for s in shapes)

    for name, group in _groups(pieces).items():
        freed = without_match(group)
        if freed != shapes:
            length = laid(freed, board)
            alone.append((length, name, group))
            yield Row(f"{name} freed from its match", length, "its bars agree at no seam")
    hand = board.length_in_hand
    if hand is None or any(length <= hand for length, _, _ in alone):
        return
    alone.sort(key=lambda row: (row[0], row[1]))
    for count in range(2, len(alone) + 1):
        together = alone[:count]
        length = laid(without_match(frozenset().union(*(group for _, _, group in together))), board)
        names = ", ".join(name for _, name, _ in together[:-1])
        yield Row(f"{names} and {together[-1][1]} freed together", length, "their bars agree at no seam")
        if length <= hand:
            return


def _groups(pieces: list[CutPiece]) -> dict[str, frozenset[str]]:
    """Returns the instances of each of the smaller matched pieces, by their common name."""
    groups: dict[str, set[str]] = {}
    for piece in pieces:
        if piece.is_matched and piece.piece.name in ("top-collar", "flap", "front-facing", "under-sleeve", "side"):
            groups.setdefault(piece.piece.name.replace("-", " "), set()).add(piece.name)
    return {name: frozenset(group) for name, group in groups.items()}


def rows_of(advice: Advice) -> tuple[list[list[str]], list[list[str]], list[list[str]]]:
    """Returns the three tables as text: constraints, rules of thumb, remedies."""
    units, price = advice.units, advice.cloth.price_per_metre

    def told(row: Row) -> list[str]:
        if row.lays_in is None:
            return [row.tried, "can't be laid", "", "", row.costs]
        saved = advice.as_planned - row.lays_in
        if abs(saved) < 1:
            return [row.tried, format_cloth(row.lays_in, units), "nothing", "", row.costs]
        money = "" if price is None else f"{advice.currency} {saved * price / 1000:,.2f}"
        sign = "−" if saved < 0 else ""
        fits = "" if advice.cloth.length_in_hand is None or row.lays_in > advice.cloth.length_in_hand else ", fits"
        return [
            row.tried,
            format_cloth(row.lays_in, units) + fits,
            sign + format_length(abs(saved), units),
            money.replace("-", "−"),
            row.costs,
        ]

    head = ["", "lays in", "saves", "worth", "costs"]
    planned = ["as planned", format_cloth(advice.as_planned, units), "", "", ""]
    rules = [["The trade's rule", "would buy"]] + [[name, format_cloth(length, units)] for name, length in advice.rules]
    rules.append(["this plan", format_cloth(advice.buys, units)])
    remedies = sorted(advice.remedies, key=lambda row: (row.lays_in is None, row.lays_in or 0.0, row.tried))
    return [head, planned, *map(told, advice.constraints)], rules, [head, planned, *map(told, remedies)]


def fitting(advice: Advice) -> tuple[Row, ...]:
    """Returns the changes that would make it fit the length in hand, the shortest first."""
    hand = advice.cloth.length_in_hand
    rows = [row for row in advice.remedies if row.lays_in is not None and hand is not None and row.lays_in <= hand]
    return tuple(sorted(rows, key=lambda row: (row.lays_in, row.tried)))


def verdict(advice: Advice) -> str:
    """Returns whether it fits the length in hand, in a sentence or two."""
    hand = advice.cloth.length_in_hand
    if hand is None:
        return "No length is in hand; the plan may begin where the repeat suits it."
    told = format_cloth(hand, advice.units)
    if advice.fits:
        return f"It fits the {told} in hand."
    able = len(fitting(advice))
    short = format_length(advice.as_planned - hand, advice.units)
    found = {0: "None of the changes tried makes it fit.", 1: "One of the changes tried would make it fit."}
    remedy = found.get(able, f"{able} of the changes tried would each make it fit.")
    return f"It doesn't fit the {told} in hand: {short} too short. {remedy}"


_SEARCHED = (
    "Each row is a plan of its own, searched as shortly as the others: a hundredth more or less is within the search."
)


def advice_sections(advice: Advice) -> list[Flowable]:
    """Returns the workbook's page of advice."""
    register_fonts()
    constraints, rules, remedies = rows_of(advice)
    widths = [58, 34, 24, 24, 38]
    return [
        paragraph(f"What the {advice.cloth.title} costs in length", HEAD),
        paragraph(verdict(advice), LEAD),
        paragraph("With and without each constraint", SUBHEAD),
        ruled_table(constraints, widths),
        paragraph("Beside the trade's rules of thumb", SUBHEAD),
        ruled_table(rules, [90, 40]),
        paragraph("What would shorten it", SUBHEAD),
        ruled_table(remedies, widths),
        paragraph(_SEARCHED, LEAD),
    ]


def advice_pdf(advice: Advice) -> bytes:
    """Returns the page of advice as a PDF."""
    target = io.BytesIO()
    book = SimpleDocTemplate(target, invariant=1, title=advice.title, leftMargin=45, rightMargin=45, topMargin=45)
    book.build(advice_sections(advice))
    return target.getvalue()


def print_advice(console: Console, advice: Advice) -> None:
    """Prints the advice for the command line."""
    console.print(f"[bold]{escape(advice.title)}[/]: {escape(advice.cloth.title)}\n{escape(verdict(advice))}")
    titles = ("With and without each constraint", "Beside the trade's rules of thumb", "What would shorten it")
    for title, rows in zip(titles, rows_of(advice), strict=True):
        console.print(f"\n[bold]{title}[/]")
        table = Table.grid(padding=(0, 2))
        for row in rows:
            table.add_row(*(escape(cell) for cell in row))
        console.print(table)
    console.print(f"\n{_SEARCHED}")
