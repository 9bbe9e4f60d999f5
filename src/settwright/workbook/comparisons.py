"""What the person may still decide about the bars: where the centre front lies, how the halves lie, which hem gives
way; and the plan beside what the trade's customary orders would have made of it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import shapely
from reportlab.platypus import Flowable, KeepTogether, Spacer, Table, TableStyle

from settwright.bars.answers import Answer, Change
from settwright.bars.cards import cutting_card
from settwright.bars.customs import WORDS
from settwright.bars.model import Drift, Importance, Join, Match
from settwright.bars.objective import BROKEN, COEFFICIENTS, SCALE
from settwright.bars.ranking import FrontChoice, Ranking
from settwright.bars.report import telling_upright
from settwright.bars.ways import Way
from settwright.geometry import Path, Point
from settwright.geometry.tolerances import HAND
from settwright.plan.plan import Plan
from settwright.units import Units, format_cloth, format_fine, format_length
from settwright.workbook.drawing.garment import View, draw_garment
from settwright.workbook.drawing.marks import scaled
from settwright.workbook.drawing.pen import POINT, Pen, Stroke
from settwright.workbook.drawing.plaid import Places, paint
from settwright.workbook.drawing.recording import Recording
from settwright.workbook.style import (
    HEAD,
    INK,
    LEAD,
    QUIET_SMALL,
    SMALL,
    SUBHEAD,
    THREAD,
    Drawing,
    paragraph,
    ruled_table,
)

_WIDE, _HIGH = 220.0, 100.0  # of cloth in a small drawing of the centre front
_SCALE = 0.2
_UNSAID = 0.005  # of the cost: what differs by less comes to the same


def comparisons_sections(plan: Plan) -> list[Sequence[Flowable]]:
    """Returns the workbook's pages of choices; none for cloth without bars, or where nothing was compared."""
    sections: list[Sequence[Flowable]] = []
    cards = cutting_cards_section(plan)
    if cards:
        sections.append(cards)
    if plan.compared and plan.compared.fronts.choices:
        sections.append(_fronts(plan, plan.compared.fronts))
    others = _trades(plan) + _ways(plan) + _answers(plan)
    return [*sections, *(section for section in (others, _orders(plan)) if section)]


def _spoken(name: str) -> str:
    return name.replace(".", ", ").replace("-", " ")


def _fronts(plan: Plan, ranking: Ranking) -> list[Flowable]:
    units, best = plan.commission.units, ranking.choices[0].cost
    flow: list[Flowable] = [
        paragraph("Where the centre front may lie", HEAD),
        paragraph(
            "Each place pinned in turn and everything else placed anew; the best by the weights given comes first. "
            "To take one, pin it in the commission.",
            LEAD,
        ),
    ]
    cards: list[list[Flowable]] = [
        _front_card(plan, choice, number, best, units) for number, choice in enumerate(ranking.choices, 1)
    ]
    rows = [cards[i : i + 3] for i in range(0, len(cards), 3)]
    for row in rows:
        cells: list[list[Flowable]] = [*row, *([] for _ in range(3 - len(row)))]
        table = Table([cells], colWidths=[59 / POINT] * 3, hAlign="LEFT")
        table.setStyle(TableStyle([("VALIGN", (0, 0), (-1, -1), "TOP"), ("LEFTPADDING", (0, 0), (-1, -1), 0)]))
        flow.append(KeepTogether([table, Spacer(1, 3)]))
    return flow


def _front_card(plan: Plan, choice: FrontChoice, number: int, best: float, units: Units) -> list[Flowable]:
    seam, miss = choice.worst_upright
    more = choice.cost / best - 1 if best > 0 else 0.0
    words = f"{number}. {choice.at.said[:1].upper()}{choice.at.said[1:]}"
    told = [
        "the best" if number == 1 else "as good as the best" if more < _UNSAID else f"{more:.1%} worse than the best",
        "fronts mirror" if choice.fronts_mirror else "fronts run on in one direction",
        f"upright bars miss most at the {_spoken(seam)}, by {format_fine(miss, units)} where they count"
        if seam and miss > HAND
        else "upright bars meet wherever they count",
        f"level bars miss at {choice.level_misses} seams that should always meet" if choice.level_misses else "",
        "as planned now" if choice.is_as_planned else "",
    ]
    picture = Drawing(
        (-_WIDE / 2 * _SCALE - 1, -3.0, _WIDE / 2 * _SCALE + 1, _HIGH * _SCALE + 1),
        1.0,
        lambda pen: draw_centre_front(pen, plan, choice, _SCALE),
    )
    picture.hAlign = "LEFT"
    return [picture, paragraph(words, SUBHEAD), paragraph("; ".join(part for part in told if part) + ".", QUIET_SMALL)]


def draw_centre_front(pen: Pen, plan: Plan, choice: FrontChoice, scale: float) -> None:
    """Draws the closing as one sees it: the wearer's right front at the looker's left, the centre front at x = 0,
    from the lowest button's height downwards nothing, upwards a hand's breadth."""
    over, reach = plan.commission.choices.front_laps_over.value, _WIDE / 2
    piece = plan.made_up.piece(choice.pin.piece)
    cloth, at = plan.commission.cloth(piece.cloth), choice.pin.at
    wrap = plan.commission.jacket.wrap if plan.commission.jacket else 0.0
    parts = [(choice.pin.piece, at, -reach, reach)]
    if choice.pin.piece == "front.right":
        edge = wrap if over == "right" else -wrap
        parts = [("front.right", at, -reach, edge), ("front.left", Point(-at.x, at.y), edge, reach)]
    for name, centre, left, right in parts:
        place = _shifted(centre, scale)
        region = shapely.box(centre.x + left, centre.y, centre.x + right, centre.y + _HIGH)
        paint(pen, region, cloth, choice.match.phase(name), piece.grain_turn, place=place, scale=scale)
    if len(parts) > 1:
        x = parts[1][2] * scale
        pen.path(Path.line(Point(x, 0), Point(x, _HIGH * scale)), stroke=Stroke(0.2, INK))
    pen.path(Path.line(Point(0, -2.5), Point(0, 0)), stroke=Stroke(0.35, THREAD))
    pen.path(Path.line(Point(0, _HIGH * scale), Point(0, _HIGH * scale + 1)), stroke=Stroke(0.35, THREAD))


def _shifted(centre: Point, scale: float):
    def place(places: Places) -> Places:
        return (places - (centre.x, centre.y)) * scale

    return place


def _trades(plan: Plan) -> list[Flowable]:
    units = plan.commission.units
    if not plan.match.trades:
        return []
    rows = [["Bars", "Miss at", "by", "so that they meet at", "which would miss by"]]
    rows += [
        [
            str(trade.axis),
            _spoken(trade.misses),
            format_fine(trade.by, units),
            _spoken(trade.meets),
            format_fine(trade.would_miss, units),
        ]
        for trade in plan.match.trades
    ]
    return [paragraph("What was traded against what", HEAD), ruled_table(rows, [18, 50, 22, 50, 38])]


def cutting_cards_section(plan: Plan) -> list[Flowable]:
    """Returns a card for each matched piece to cut by."""
    rows = [["Piece", "Where", "Upright bar", "Level bar"]]
    for piece in plan.made_up.pieces:
        phase = plan.phase(piece.name)
        if phase is None or not piece.is_matched or (phase.free_u and phase.free_v):
            continue
        card = cutting_card(piece, phase, plan.commission.cloth(piece.cloth), plan.commission.units)
        for number, point in enumerate(card.checkpoints):
            name = (_spoken(piece.name), card.turned, "", "")[number] if number < 4 else ""
            rows.append([name, point.where, point.upright or "–", point.level or "–"])
    if len(rows) == 1:
        return []
    return [
        paragraph("Cards to cut by", HEAD),
        paragraph(
            "Before cutting, see that each grain mark and corner of the seam line (not of the cut edge) lies as told, "
            "the piece's top away from you.",
            LEAD,
        ),
        ruled_table(rows, [30, 40, 54, 54]),
    ]


def _ways(plan: Plan) -> list[Flowable]:
    if plan.compared is None or not plan.compared.ways:
        return []
    rows = [["How the halves lie", "Fronts", "Must meet and miss, or can't", "Lays in", "To mind"]]
    rows += [way_row(way, plan.commission.units) for way in plan.compared.ways]
    return [
        paragraph("An uneven sett", HEAD),
        paragraph(
            "The upright bars read differently from left and right. Outlines mirror all the same; of the bars this "
            "can be had. What each takes of the cloth was laid by the same short search: compare these lengths with "
            "one another, not with the plan's own.",
            SMALL,
        ),
        ruled_table(rows, [40, 20, 32, 24, 62]),
    ]


def way_row(way: Way, units: Units) -> list[str]:
    """Returns what the workbook tells of one way: its name, the fronts, the seams, the cloth, what to mind."""
    name = f"{way.way}{' (as planned)' if way.is_chosen else ''}"
    if not way.is_possible:
        return [name, "–", "–", "–", f"Not with this cloth: {way.why}."]
    mind = f"{way.why[:1].upper()}{way.why[1:]}." if way.why else ""
    seams = "no seam" if not way.misses else f"{way.misses} seam{'s' if way.misses > 1 else ''}"
    lays_in = format_cloth(way.lays_in, units) if way.lays_in is not None else "not laid"
    return [name, "mirror" if way.fronts_mirror else "run on", seams, lays_in, mind]


def _answers(plan: Plan) -> list[Flowable]:
    if plan.compared is None or not plan.compared.answers:
        return []
    units = plan.commission.units
    rows = [["What may give way", "and comes to lie", "What it gains", "What pays", "In the commission"]]
    for answer in plan.compared.answers:
        better = 1 - answer.cost_then / answer.cost_now if answer.cost_now > 0 else 0.0
        gains, pays = ([_change(change, units) for change in told] for told in (answer.gains, answer.pays))
        if better >= _UNSAID:
            gains.append(f"all of it by weight: {better:.1%} better")
        if better <= -_UNSAID:
            pays.append(f"all of it by weight: {-better:.1%} worse")
        rows.append(
            [
                f"{answer.title}: {format_length(abs(answer.by), units)} {answer.way}",
                f"on {answer.lies_on}" if answer.lies_on else "straight on the grain",
                "; ".join(gains) or "the rest comes to the same",
                "; ".join(pays) or "–",
                _written(answer, units),
            ]
        )
    return [
        paragraph("How the draft may answer the cloth", HEAD),
        paragraph(
            "Each change drafted, made up and matched again before it is offered; the girths stay as they are. To take "
            "one, write its line into the commission.",
            SMALL,
        ),
        ruled_table(rows, [36, 30, 42, 32, 38]),
    ]


def _change(change: Change, units: Units) -> str:
    now, then = format_fine(change.now, units), format_fine(change.then, units)
    return f"{_spoken(change.join)}, {change.axis} bars: {then}, not {now}"


def _written(answer: Answer, units: Units) -> str:
    """Returns the line of the commission that takes an answer, under its section."""
    section, _, field = answer.field.rpartition(".")
    sign = "-" if answer.then < 0 else ""
    return f'[{section}] {field} = "{sign}{format_length(abs(answer.then), units)}"'


def _orders(plan: Plan) -> list[Flowable]:
    match, units = plan.match, plan.commission.units
    if not match.orders or not match.joins:
        return []
    placings = (match.drifts, *(order.drifts for order in match.orders))
    rows = [["Largest miss, level / upright", "this plan", *(order.name for order in match.orders)]]
    for number, join in enumerate(match.joins):
        if join.kind == "pair" or join.importance is not Importance.ALWAYS or join.name.endswith(".left"):
            continue
        rows.append([_spoken(join.name), *(_both(join, drifts[number], units) for drifts in placings)])
    return [
        paragraph("Beside the trade's own orders", HEAD),
        paragraph(
            "Piece after piece laid against those already cut, as one does by hand: from the centre back outwards, or "
            "from the front. All three are judged alike, by how much each seam matters. Level bars are told at their "
            "worst, upright ones where they count most.",
            SMALL,
        ),
        *([_drawn_orders(plan)] if plan.compared is not None else []),
        ruled_table([*rows, _cost_row(match, units)], [58, 40, 40, 40]),
    ]


_ROOM = 50.0  # width of one garment in the comparison, millimetres of the page
_CHALKED = 3.0  # mm: smaller misses aren't chalked on so small a garment


def _drawn_orders(plan: Plan) -> Flowable:
    """Draws the garment front and back as planned, and as either order would have cut it."""
    placings = [("This plan", plan.match)]
    for order in plan.match.orders:
        placed = {phase.piece: phase for phase in plan.match.phases} | {phase.piece: phase for phase in order.phases}
        told = replace(plan.match, phases=tuple(placed.values()), drifts=order.drifts)
        placings.append((f"{order.name[:1].upper()}{order.name[1:]}", told))
    rows: list[list[Flowable]] = [[paragraph(name, SUBHEAD) for name, _ in placings]]
    for view in (View.FRONT, View.BACK):
        row: list[Flowable] = []
        for _, told in placings:
            drawing = Recording()
            box = draw_garment(
                drawing, plan.made_up, told, plan.commission.cloths, view,
                scale=_FIGURE, chalk=_CHALKED, units=plan.commission.units,
            )  # fmt: skip
            by = min(1.0, _ROOM / (box[2] - box[0]))
            row.append(_shrunk(drawing, box, by))
        rows.append(row)
    table = Table(rows, colWidths=[(_ROOM + 9) / POINT] * len(placings), hAlign="LEFT")
    table.setStyle(TableStyle([("VALIGN", (0, 0), (-1, -1), "TOP"), ("LEFTPADDING", (0, 0), (-1, -1), 0)]))
    return table


_FIGURE = 0.1  # scale at which the small garments are drawn before they are fitted to the page


def _shrunk(drawing: Recording, box: tuple[float, float, float, float], by: float) -> Drawing:
    def draw(pen: Pen) -> None:
        with pen.moved(scaled(by)):
            drawing.draw(pen)

    left, bottom, right, top = box
    return Drawing((left * by, bottom * by, right * by, top * by), 1.0, draw)


_ONE_MM = COEFFICIENTS.level * WORDS[Importance.ALWAYS][0] / 10  # what a millimetre costs at a seam that must meet
_NOTHING = 0.05  # mm


def _cost_row(match: Match, units: Units) -> list[str]:
    orders = (order_told(match.cost, order.cost, units) for order in match.orders)
    own = "–" if match.cost >= _ONE_MM else as_one_seam(match.cost, units)
    return ["All of it, by weight", own, *orders]


def order_told(ours: float, theirs: float, units: Units) -> str:
    """Returns what another order costs beside the plan, all seams by weight (ΔE × weight): a share of the plan's own,
    or, where the plan has next to nothing to take a share of, what it comes to.
    """
    if theirs - ours > BROKEN / SCALE / 2:
        return "breaks a seam that must meet"
    return as_one_seam(theirs, units) if ours < _ONE_MM else f"{theirs / ours - 1:+.0%}"


def as_one_seam(cost: float, units: Units) -> str:
    """Returns a cost by the miss that would cost as much at a single seam that must meet."""
    miss = cost / _ONE_MM
    return f"as {format_fine(miss, units)} at one seam that must meet" if miss >= _NOTHING else "nothing"


def _both(join: Join, drift: Drift, units: Units) -> str:
    level = None if drift.level is None else drift.worst_level
    upright = (telling_upright(join, drift) or (None, ""))[0]
    return " / ".join("–" if miss is None else format_fine(miss, units) for miss in (level, upright))
