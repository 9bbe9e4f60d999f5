"""A card for every seam: both sides as they will lie, from where to where the bars meet, and by how much they miss."""

from __future__ import annotations

from reportlab.platypus import Flowable, KeepTogether, Table, TableStyle

from settwright.bars.model import Drift, Importance, Join
from settwright.bars.report import telling_upright
from settwright.geometry.tolerances import HAND
from settwright.plan.plan import Plan
from settwright.units import Units, format_fine, format_length
from settwright.workbook.drawing.pen import POINT, PdfPen
from settwright.workbook.drawing.piece_drawing import SeamSide, draw_seam_card, seam_card_size
from settwright.workbook.style import HEAD, LEAD, QUIET_SMALL, SMALL, SUBHEAD, Drawing, paragraph, ruled_table

_ORDER = {Importance.ALWAYS: 0, Importance.IF_POSSIBLE: 1, Importance.LET_GO: 2, Importance.HIDDEN: 3}
_Seam = tuple[Join, ...]  # the right and left of one seam that come out alike, or one join by itself
_TALLEST, _WIDEST = 78.0, 62.0  # a card's drawing, millimetres of the page


def seams_section(plan: Plan) -> list[Flowable]:
    """Returns the table of all joins and a card for each that shows."""
    drifts = {drift.join: drift for drift in plan.match.drifts}
    shown = [join for join in plan.match.joins if join.importance is not Importance.HIDDEN and join.kind != "pair"]
    seams = sorted(_alike(shown, drifts), key=lambda seam: _ORDER[seam[0].importance])
    if not seams:
        return [paragraph("The cloth has no bars: nothing needs to meet at the seams.", LEAD)]
    flow: list[Flowable] = [
        paragraph("Where the bars meet", HEAD),
        paragraph(
            "What is true on paper; cutting and sewing add their own. The picture lies flat, seam upright.", LEAD
        ),
        _table(plan, seams, drifts),
    ]
    for cycle in plan.match.cycles:
        ring = " – ".join(_spoken(name) for name in cycle.joins)
        miss = format_fine(cycle.closing, plan.commission.units)
        flow.append(paragraph(f"Around {ring} the level bars can't all agree: {miss} is left over.", SMALL))
    first, *others = (_card(plan, seam, drifts[seam[0].name]) for seam in seams)
    flow.append(KeepTogether([paragraph("Seam by seam", HEAD), first]))
    flow += others
    return flow


def _alike(joins: list[Join], drifts: dict[str, Drift]) -> list[_Seam]:
    """Returns the joins, the right and left of one seam together where they come out alike."""
    seams: dict[tuple[str, str, Importance], list[Join]] = {}
    for join in joins:
        name = join.name.removesuffix(".right").removesuffix(".left")
        seams.setdefault((name, drifts[join.name].summary, join.importance), []).append(join)
    return [tuple(seam) for seam in seams.values()]


def _table(plan: Plan, seams: list[_Seam], drifts: dict[str, Drift]) -> Flowable:
    units = plan.commission.units
    rows = [["Seam", "Matters", "From – to", "Level bars miss by", "Least possible", "Upright bars, where they count"]]
    for seam in seams:
        join, drift = seam[0], drifts[seam[0].name]
        rows.append(
            [
                _title(seam),
                str(join.importance),
                " – ".join(stop.replace("-", " ") for stop in join.stretch),
                "–" if drift.level is None else format_fine(drift.worst_level, units),
                "–" if drift.level is None else format_fine(drift.floor, units),
                _upright(join, drift, units),
            ]
        )
    return ruled_table(rows, [42, 20, 38, 24, 20, 36])


def _upright(join: Join, drift: Drift, units: Units) -> str:
    told = telling_upright(join, drift)
    if told is None:
        return "–"
    miss, stop = told
    if drift.worst_upright <= HAND:
        return "meet"
    where = f" at the {stop.replace('-', ' ')}" if stop else ""
    return f"meet{where}" if miss <= HAND else f"miss by {format_fine(miss, units)}{where}"


def _spoken(name: str) -> str:
    return name.replace(".", ", ").replace("-", " ")


def _title(seam: _Seam) -> str:
    """Returns the seam's name: "Side back, right and left"."""
    first, *others = (_spoken(join.name).capitalize() for join in seam)
    return " and ".join((first, *(other.rpartition(", ")[2] for other in others)))


def _card(plan: Plan, seam: _Seam, drift: Drift) -> Flowable:
    join, units = seam[0], plan.commission.units
    words = [
        paragraph(_title(seam), SUBHEAD),
        paragraph(drift.summary, SMALL),
        paragraph(
            f"{_spoken(join.a)} to {_spoken(join.b)}"
            + ("" if len(seam) == 1 else ", as drawn, and likewise on the other side")
            + f"; it matters: {join.importance}."
            + (f" {format_length(abs(join.ease), units)} of ease." if abs(join.ease) > 1 else ""),
            QUIET_SMALL,
        ),
    ]
    picture = _picture(plan, join, drift)
    row = Table([[picture, words]], colWidths=[(_WIDEST + 12) / POINT, (178 - _WIDEST - 12) / POINT], hAlign="LEFT")
    row.setStyle(TableStyle([("VALIGN", (0, 0), (-1, -1), "TOP"), ("LEFTPADDING", (0, 0), (-1, -1), 0)]))
    return row


def _picture(plan: Plan, join: Join, drift: Drift) -> Flowable | str:
    a, b = plan.phase(join.a), plan.phase(join.b)
    if a is None or b is None:
        return ""
    cut_a, cut_b = plan.made_up.piece(join.a), plan.made_up.piece(join.b)
    sides = (
        SeamSide(cut_a, plan.commission.cloth(cut_a.cloth), a),
        SeamSide(cut_b, plan.commission.cloth(cut_b.cloth), b),
    )
    scale, depth = 0.25, 60.0
    _, height = seam_card_size(join, scale, depth)
    scale *= min(1.0, _TALLEST / height)
    depth = min(60.0, (_WIDEST - 34.0) / (2 * scale))
    width, height = seam_card_size(join, scale, depth)

    def draw(pen: PdfPen) -> None:
        draw_seam_card(pen, join, drift, sides, scale=scale, depth=depth, units=plan.commission.units)

    return Drawing((-depth * scale - 2, -5, width - depth * scale - 2, height - 3), 1.0, draw)
