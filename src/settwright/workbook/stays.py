"""The page about stays, tapes and ribbons: what is stayed, how it is cut, and how the waist is held in."""

from __future__ import annotations

from collections.abc import Sequence

from reportlab.platypus import Flowable, KeepTogether, Spacer

from settwright.cloth.give import Fibre, Give, usual
from settwright.geometry import Point
from settwright.makeup.edges.stay_plan import StayPlan, stay_plan
from settwright.makeup.edges.stays import Material, Stay, stays_of
from settwright.makeup.edges.waist import reserves_of, waist_plan
from settwright.pattern.drafts.skirt_waist import SHORT
from settwright.plan.plan import Plan
from settwright.units import Units, format_cloth, format_fine, format_length, in_units
from settwright.workbook.drawing.marks import INK, QUIET, THREAD
from settwright.workbook.drawing.pen import Pen, Stroke
from settwright.workbook.style import HEAD, LEAD, QUIET_SMALL, SMALL, SUBHEAD, Drawing, paragraph, ruled_table

_ROOM = 1370.0  # of a stay cloth that isn't named: silk organza, 140 cm, from memory
_WIDE, _TALL = 178.0, 130.0  # millimetres of the page for the cutting plan


def stays_section(plan: Plan) -> list[Flowable]:
    """Returns the page; nothing where nothing is stayed."""
    give, room, named = stay_cloth(plan)
    stays = stays_of(plan.made_up.pieces, give)
    if not stays:
        return [*_pads(plan), *_waist(plan), *_reserves(plan)]
    units = plan.commission.units
    cloth = stay_plan(stays, room)
    source = named or in_units(
        "no stay cloth is named: silk organza, 140 cm wide, was taken; name one among the cloths", units
    )
    return [
        paragraph("Stays and tapes", HEAD),
        paragraph("What keeps the edges from growing. Finished figures first; every stay for each hand.", LEAD),
        _table(stays, units),
        paragraph(
            "Bias strips: press each out lengthwise with steam until it gives no more, let it cool, and lay it without "
            f"stretching. Here it becomes longer by {give.on_the_bias:.0%} ({give.said}); press a trial strip, measure "
            "before and after, and put what it gave into the commission as bias_gives. Shrink tapes first.",
            SMALL,
        ),
        KeepTogether(_cutting(cloth, units, source)),
        *_pads(plan),
        *_waist(plan),
        *_reserves(plan),
    ]


def stay_cloth(plan: Plan) -> tuple[Give, float, str]:
    """Returns what the stay cloth gives, its width between the selvedges, and its title; "" where none is named."""
    for cloth in plan.commission.cloths:
        if cloth.name == "stay":
            return cloth.give, cloth.width - 2 * cloth.selvedge, cloth.title
    return usual(Fibre.SILK), _ROOM, ""


def _table(stays: Sequence[Stay], units: Units) -> Flowable:
    rows = [["", "Stay", "Of", "Lies on", "Held in", "Finished, long × wide", "Cut", "How it is held in"]]
    for number, stay in enumerate(stays, 1):
        cut = f"{format_length(stay.cut_length, units)}"
        if stay.material is not Material.TAPE:
            cut += f" × {format_fine(stay.cut_width, units)}"
        held = "–" if stay.hold_in < 0.5 else format_fine(stay.hold_in, units)
        finished = f"{format_length(stay.length, units)} × {format_fine(stay.width, units)}"
        of, lies = str(stay.material), format_length(stay.along, units)
        rows.append([str(number), f"{stay.title}, {stay.count} ×", of, lies, held, finished, cut, stay.where])
    return ruled_table(rows, [7, 34, 20, 17, 15, 29, 29, 27])


def _cutting(cloth: StayPlan, units: Units, source: str) -> list[Flowable]:
    if not cloth.strips:
        return []
    scale = min(_WIDE / cloth.room, _TALL / cloth.length)

    def draw(pen: Pen) -> None:
        draw_stay_plan(pen, cloth, scale)

    return [
        paragraph("Cutting the stays", SUBHEAD),
        paragraph(
            f"{source[:1].upper()}{source[1:]}. The strips take {format_cloth(cloth.length, units)}; tape to buy: "
            f"{format_cloth(cloth.tape, units)}. Selvedges at the sides, squared end at the foot; 1 : {1 / scale:.0f}.",
            SMALL,
        ),
        Spacer(1, 4),
        Drawing((-1, -1, cloth.room * scale + 1, cloth.length * scale + 1), 1.0, draw),
        paragraph("Strips longer than the bias of the cloth are cut in parts and joined on the straight.", QUIET_SMALL),
    ]


def _pads(plan: Plan) -> list[Flowable]:
    """Returns what the shoulder pads must be for the shoulders that were drafted."""
    jacket = plan.commission.jacket
    if jacket is None:
        return []
    thick = format_fine(jacket.shoulder_pad, plan.commission.units)
    is_cut = any(piece.piece.name == "shoulder-pad" for piece in plan.made_up.pieces)
    shape = "on the sheets, with the outline of each layer" if is_cut else "drawn when [cloths.wadding] is named"
    told = (
        f"{thick} thick where the sleeve is set, running out to nothing at the neck and at both ends; their shape is"
        f" {shape}. Slope, armhole and sleeve are drafted for that thickness: another pad asks for another draft."
        if jacket.shoulder_pad
        else "None: slope, armhole and sleeve are drafted for the shoulder as it is."
    )
    return [KeepTogether([paragraph("Shoulder pads", SUBHEAD), paragraph(told, SMALL)])]


def _waist(plan: Plan) -> list[Flowable]:
    """Returns how the skirt's waist is held in, and the longer ribbons for later."""
    skirt, units = plan.commission.skirt, plan.commission.units
    shell = plan.commission.cloth("shell")
    drafts = [draft for draft in plan.made_up.drafts if draft.name == "skirt"]
    waist = waist_plan(drafts[0], shell.give, skirt.ribbon_width) if skirt and drafts else None
    if waist is None:
        return []
    is_ribbon = waist.band == "waist-ribbon"
    band = "ribbon" if is_ribbon else "band"
    rows = [["Panel, each half", "From – to", "Of the skirt", "Held in", "That is"]]
    rows += [
        [
            each.panel.replace("-", " "),
            f"{each.first.replace('-', ' ')} – {each.last.replace('-', ' ')}",
            format_length(each.length, units),
            format_fine(each.by, units) if each.by >= 0.05 else "nothing",
            f"{each.part:.1%}" if each.by >= 0.05 else "–",
        ]
        for each in waist.held
    ]
    told = (
        f"The skirt's waist, {format_length(waist.waist, units)}, is held in to a {band} of "
        f"{format_length(waist.length, units)}: {format_fine(waist.held_in, units)} in all, spread by panel, none "
        f"of it beside the zip. This cloth can be held in by {waist.takes:.1%} ({shell.give.said})."
    )
    if is_ribbon:
        told += f" The ribbon ends {format_fine(SHORT, units)} short of the skirt on both sides of the zip."
    words = [told]
    if waist.lower_longer >= 1.0:
        words.append(
            "A straight ribbon holds the waist line only. Shaped to the body, its lower edge is pressed longer by "
            f"{format_fine(waist.lower_longer, units)} over its whole length."
        )
    if waist.ladder:
        steps = ", ".join(format_length(step, units) for step in waist.ladder)
        words.append(f"Longer ribbons that this waist allows later, no seam touched: {steps}.")
    return [
        KeepTogether(
            [
                paragraph("Holding in the waist", SUBHEAD),
                *(paragraph(each, SMALL) for each in words),
                ruled_table(rows, [34, 60, 28, 24, 20]),
            ]
        )
    ]


def _reserves(plan: Plan) -> list[Flowable]:
    reserves = reserves_of(plan.made_up)
    if not reserves:
        return []
    units = plan.commission.units
    rows = [["Seam", "Gives, round the body"]]
    rows += [[reserve.title, format_length(reserve.by, units)] for reserve in reserves]
    return [
        KeepTogether(
            [
                paragraph("What can be let out later", SUBHEAD),
                paragraph(
                    "With the allowances kept after the fitting, both sides of the seam and both hands; "
                    f"{format_length(10.0, units)} stays beyond each. A longer ribbon first, then the centre back, "
                    "then the sides, so that the bars keep their places longest.",
                    SMALL,
                ),
                ruled_table(rows, [70, 40]),
            ]
        )
    ]


def draw_stay_plan(pen: Pen, cloth: StayPlan, scale: float) -> None:
    """Draws the stay cloth with its strips, lower left corner at the origin."""
    room, length = cloth.room * scale, cloth.length * scale
    pen.path([Point(0, 0), Point(room, 0), Point(room, length), Point(0, length)], stroke=Stroke(0.3, INK), closed=True)
    pen.path([Point(2.0, length * 0.55), Point(2.0, length * 0.9)], stroke=Stroke(0.25, THREAD))
    for strip in cloth.strips:
        corners = [corner * scale for corner in strip.corners]
        pen.path(corners, stroke=Stroke(0.18, INK), fill="#f6f2ea", closed=True)
        a, b, _c, d = corners
        along, across = b - a, d - a
        if across.length < along.length:
            start, way, high = a, along, across.length
        else:
            start, way, high = b, across, along.length
        size = min(2.2, high * 0.75)
        if size < 0.9:
            continue
        text = f"{strip.stay} {strip.part}".strip()
        up = way.unit.left
        at = start.between(start + way) + up * ((high - size * 0.7) / 2)
        pen.text(at, text, size=size, anchor="middle", angle=way.angle, colour=QUIET)
