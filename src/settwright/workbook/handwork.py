"""The workbook's pages about the handwork: steps, stitches and thread, fastenings, and the bill."""

from __future__ import annotations

from reportlab.platypus import Flowable, KeepTogether, PageBreak, Paragraph, Spacer

from settwright.makeup.handwork.reckoning import Reckoned
from settwright.makeup.handwork.stitches import SEAM_CLASSES, STITCHES, WASTE
from settwright.makeup.handwork.task import CLEANING, IRON, MACHINE, NEEDLES, SHEARS
from settwright.makeup.model import Closure, ClosureKind, Step
from settwright.plan.cost import cost_of, reckoned
from settwright.plan.plan import Plan
from settwright.units import Units, format_cloth, format_length, in_units
from settwright.workbook.drawing.closure_drawing import closure_box, draw_closures, fronts_of
from settwright.workbook.drawing.order_graph import draw_order_graph, graph_height
from settwright.workbook.drawing.pen import PdfPen
from settwright.workbook.style import (
    CAUTION,
    HEAD,
    LEAD,
    QUIET,
    QUIET_SMALL,
    SMALL,
    SUBHEAD,
    Drawing,
    escape,
    paragraph,
    ruled_table,
)

_CAUTIONS = (("shears", SHEARS), ("needles", NEEDLES), ("iron", IRON), ("machine", MACHINE), ("cleaning", CLEANING))


def handwork_section(plan: Plan, room: tuple[float, float]) -> list[Flowable]:
    """The order of work as steps, then stitches and thread, fastenings, and the bill."""
    hand = reckoned(plan)
    return [
        *_order(plan, room),
        PageBreak(),
        *_stitches(plan, hand),
        *_fastenings(plan, room),
        *_bill(plan, hand),
    ]


# --- the order of work ---------------------------------------------------------------------------------------------


def _order(plan: Plan, room: tuple[float, float]) -> list[Flowable]:
    steps = plan.made_up.order
    number = {step.name: i for i, step in enumerate(steps, 1)}
    used = [(word, text) for word, text in _CAUTIONS if any(text in step.caution for step in steps)]

    def draw(pen: PdfPen) -> None:
        draw_order_graph(pen, steps, room[0])

    flow: list[Flowable] = [
        paragraph("Order of work", HEAD),
        paragraph(
            "Each step waits for those that it names; what waits for nothing more can be taken up by another hand."
            " Tick them off as you go. Red rings are fittings.",
            LEAD,
        ),
        Drawing((0.0, 0.0, room[0], graph_height(steps)), 1.0, draw),
        Spacer(1, 6),
        Paragraph(
            "<br/>".join(f"<b>{word.capitalize()}.</b> {escape(text)}" for word, text in used),
            CAUTION,
        ),
    ]
    for step in steps:
        told: list[Flowable] = [Paragraph(_title(step, number), SUBHEAD), paragraph(step.text, SMALL)]
        told += [paragraph(f"– {check}", SMALL) for check in step.checks]
        if step.seams:
            told.append(paragraph(f"Sews: {_named(step.seams)}.", QUIET_SMALL))
        flow.append(KeepTogether(told))
    return flow


def _title(step: Step, number: dict[str, int]) -> str:
    after = ", ".join(str(number[name]) for name in step.after)
    words = [word for word, text in _CAUTIONS if text in step.caution]
    aside = "; ".join(part for part in (f"after {after}" if after else "", ", ".join(words)) if part)
    aside = f' <font color="{QUIET}" size="8.5">&nbsp; {aside}</font>' if aside else ""
    return f"{number[step.name]}. {escape(step.name[0].upper() + step.name[1:])}{aside}"


def _named(seams: tuple[str, ...]) -> str:
    """Returns seams for the eye, right and left of one together, in their turn."""
    plain = (seam.replace(".right", "").replace(".left", "").replace("-", " ") for seam in seams)
    return ", ".join(dict.fromkeys(plain))


# --- stitches ------------------------------------------------------------------------------------------------------


def _stitches(plan: Plan, hand: Reckoned) -> list[Flowable]:
    units = plan.commission.units
    rows = [["Stitch", "ISO 4915", "What it does", "Length", "Thread", "Your minutes"]]
    for taken in hand.stitches:
        stitch = STITCHES[taken.name]
        rows.append(
            [
                taken.name,
                stitch.iso,
                f"{stitch.does}; {stitch.thread.value}",
                format_cloth(taken.length, units),
                format_cloth(taken.thread, units),
                "" if taken.minutes is None else f"{taken.minutes:.0f}",
            ]
        )
    threads = [["Thread to have", "Length"]]
    threads += [[thread.value, format_cloth(length, units)] for thread, length in hand.threads]
    return [
        paragraph("Stitches and thread", HEAD),
        paragraph(
            f"Thread by the geometry of each stitch in this cloth, {WASTE:.0%} of waste included; what hand stitches"
            " take is an estimate, a trial seam tells. Class 200 are hand stitches, 209 the running stitch, 301 the"
            " lockstitch. Minutes stay blank until you set your own under [hours].",
            SMALL,
        ),
        Spacer(1, 4),
        ruled_table(rows, [26, 18, 64, 22, 22, 26]),
        Spacer(1, 6),
        ruled_table(threads, [50, 26]),
        paragraph("Seam by seam and edge by edge", SUBHEAD),
        paragraph(
            "Stitches in their turn; behind them the class of the seam by ISO 4916: "
            + ", ".join(f"{number} {name}" for number, name in SEAM_CLASSES.items() if number in "12367")
            + ". Every piece is thread-traced as well.",
            SMALL,
        ),
        Spacer(1, 4),
        ruled_table(_places(plan, units), [66, 22, 90]),
    ]


def _places(plan: Plan, units: Units) -> list[list[str]]:
    """Returns a row for each seam and edge, its right and left together."""
    order = [step.name for step in plan.made_up.order]
    found: dict[str, tuple[float, list[str]]] = {}
    for sewing in sorted(plan.made_up.sewing, key=lambda sewing: order.index(sewing.step)):
        if sewing.stitch == "thread trace":
            continue
        where = sewing.where.replace(".right", "").replace(".left", "")
        length, told = found.get(where, (sewing.length, []))
        stitch = f"{sewing.stitch} ({sewing.seam_class})" if sewing.seam_class else sewing.stitch
        found[where] = (min(length, sewing.length), told if stitch in told else [*told, stitch])
    rows = [["Where", "Length of one", "Stitches"]]
    rows += [
        [where.replace("-", " "), format_length(length, units), ", ".join(told)]
        for where, (length, told) in found.items()
    ]
    return rows


# --- fastenings ----------------------------------------------------------------------------------------------------


def _fastenings(plan: Plan, room: tuple[float, float]) -> list[Flowable]:
    closures, units = plan.made_up.closures, plan.commission.units
    if not closures:
        return []
    fronts = fronts_of(plan.made_up.pieces, closures)
    rows = [["What", "How many", "Length", ""]]
    rows += [list(row) for row in _kinds(closures, units)]
    flow: list[Flowable] = [paragraph("Fastenings", HEAD)]
    if fronts:
        full = closure_box(fronts, 1.0)
        margin = closure_box(fronts, 0.0)[2]
        scale = min(0.2, (room[0] - margin) / (full[2] - margin), 110.0 / full[3])

        def draw(pen: PdfPen) -> None:
            draw_closures(pen, fronts, closures, scale=scale, units=units)

        flow += [
            paragraph(
                "The fronts as one looks at the wearer; figures from hole to hole and on to the hem, finished.",
                SMALL,
            ),
            Drawing(closure_box(fronts, scale), 1.0, draw),
            Spacer(1, 6),
        ]
    flow.append(ruled_table(rows, [44, 20, 24, 90]))
    return [PageBreak(), KeepTogether(flow)]


_TOLD = {
    ClosureKind.WORKED_HOLE: "diameter, thickness and 3 mm; from 3 mm beyond the line of the buttons inwards",
    ClosureKind.BOUND_HOLE: "diameter and thickness; two lips, 3 mm each, on the bars of the front; facing opened",
    ClosureKind.BUTTON: "stem as high as the front is thick; a small button inside takes the strain",
    ClosureKind.COVERED_BUTTON: "its cover, twice as wide, is laid with the pieces, all on one place of the sett",
    ClosureKind.INNER_BUTTON: "on the inside of the front that laps over; its hole is worked in the edge of the other",
    ClosureKind.HOOK: "hook and worked bar by turns, a thread inside the edge",
    ClosureKind.HOOK_AND_BAR: "sewn before the inside is felled over it",
    ClosureKind.SNAP: "ball half on the side that laps over, through the inner layers only",
    ClosureKind.ZIP: "as long as the opening; a longer one is shortened with a bar of thread; pricked every 6 mm",
}


def _kinds(closures: tuple[Closure, ...], units: Units) -> list[tuple[str, str, str, str]]:
    counts: dict[tuple[ClosureKind, float], int] = {}
    for closure in closures:
        if not (closure.kind is ClosureKind.HOOK and closure.piece.endswith(".left")):
            key = (closure.kind, round(closure.length, 1))
            counts[key] = counts.get(key, 0) + 1
    return [
        (kind.value, str(count), format_length(length, units) if length else "", in_units(_TOLD[kind], units))
        for (kind, length), count in counts.items()
    ]


# --- the bill ------------------------------------------------------------------------------------------------------


def _bill(plan: Plan, hand: Reckoned) -> list[Flowable]:
    cost, currency = cost_of(plan), plan.commission.currency
    rows = [["", "Reckoned from", f"Sum, {currency}"]]
    rows += [[line.title, line.how, "" if line.amount is None else f"{line.amount:,.2f}"] for line in cost.lines]
    if cost.total is None:
        rows.append(["So far", "without what is blank", f"{cost.known:,.2f}"])
    else:
        rows.append(["In all", "", f"{cost.total:,.2f}"])
    blank = [taken.name for taken in (*hand.stitches, *hand.each) if taken.minutes is None]
    told: list[Flowable] = [paragraph(f"No minutes set yet for: {', '.join(blank)}.", QUIET_SMALL)] if blank else []
    return [KeepTogether([paragraph("What it costs", HEAD), ruled_table(rows, [60, 80, 38]), *told])]


__all__ = ["handwork_section"]
