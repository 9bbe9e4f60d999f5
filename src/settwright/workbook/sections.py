"""The workbook's pages of words and tables: each function returns what one section prints."""

from __future__ import annotations

from collections.abc import Sequence

from reportlab.platypus import Flowable, KeepTogether, Spacer

from settwright.body.catalogue import BY_NAME, CATALOGUE, DEPARTURES
from settwright.commission.fittings import LENGTHS
from settwright.commission.model import Cutting
from settwright.commission.wording import in_words
from settwright.findings import Finding, Weight
from settwright.makeup.model import CutPiece, Hand, Stage
from settwright.plan.plan import ClothPlan, Plan
from settwright.units import Units, format_cloth, format_fine, format_length
from settwright.workbook.drawing.body_figure import NUMBERS, body_figure_size, draw_body_figure
from settwright.workbook.drawing.pen import PdfPen
from settwright.workbook.style import CAUTION, HEAD, QUIET_SMALL, SMALL, SUBHEAD, Drawing, paragraph, ruled_table


def findings_section(plan: Plan) -> list[Flowable]:
    """What to read first: cautions, estimates, defaults, notes."""
    groups = (
        (Weight.CAUTION, "Cautions", "Read these before the shears touch the cloth."),
        (Weight.ESTIMATED, "Estimated", "Nobody measured these. Good for a toile, until measured."),
        (Weight.DEFAULT, "By custom", "Nobody chose these; the custom of the trade was taken."),
        (Weight.NOTE, "Notes", ""),
    )
    flow: list[Flowable] = [paragraph("Read first", HEAD)]
    for weight, title, lead in groups:
        found = _distinct(finding for finding in plan.findings if finding.weight is weight)
        if not found:
            continue
        flow.append(paragraph(title, SUBHEAD))
        if lead:
            flow.append(paragraph(lead, QUIET_SMALL))
        flow += [paragraph(f"• {in_words(str(finding), finding.where)}", SMALL) for finding in found]
    return flow


def _distinct(findings: Sequence[Finding] | object) -> list[Finding]:
    return list(dict.fromkeys(findings))  # type: ignore[call-overload, arg-type]


def measurements_section(plan: Plan) -> list[Flowable]:
    """Where each measurement is taken, and every one with its source; a table's numbers are those of the picture."""
    units, body = plan.commission.units, plan.body
    taken = {measure.name: measure for measure in body.measures}
    rows = [["", "Measurement", "Value", "Source", "How it is taken"]]
    for definition in (*CATALOGUE, *DEPARTURES):
        measure = taken.get(definition.name)
        if measure is None:
            continue
        source = measure.source.value if not measure.how else f"{measure.source.value}: {measure.how}"
        value = definition.written(measure.value, units)
        how = f"{definition.how} ISO 8559-1: {definition.reference}." if definition.term else definition.how
        rows.append([str(NUMBERS[definition.name]), definition.title, value, source, how])
    width, height = body_figure_size(body, 1.0)
    scale = min(_FIGURE_HIGH / height, _FIGURE_WIDE / width)

    def draw(pen: PdfPen) -> None:
        draw_body_figure(pen, body, scale=scale)

    return [
        paragraph("Measurements", HEAD),
        Drawing((0.0, 0.0, width * scale, height * scale), 1.0, draw),
        Spacer(1, 8),
        ruled_table(rows, [8, 32, 20, 46, 72]),
        *_fittings(plan),
    ]


def _fittings(plan: Plan) -> list[Flowable]:
    """The fittings so far, with what they found and what of it this plan follows."""
    fittings, units = plan.commission.fittings, plan.commission.units
    if not fittings:
        return []
    rows = [["Fitting", "Noted", "Drafted in this plan"]]
    for fitting in fittings:
        told = [(name, _said(name), format_length(by, units).replace("-", "−")) for name, by in fitting.corrections]
        drafted = [f"{title} {'' if by[0] == '−' else '+'}{by}" for name, title, by in told if title]
        noted = [f"{name} {'' if by[0] == '−' else '+'}{by}" for name, title, by in told if not title]
        note = " ".join(filter(None, [fitting.note, f"Not drafted: {', '.join(noted)}." if noted else ""]))
        rows.append([fitting.date, note, "; ".join(drafted) or "nothing"])
    return [KeepTogether([paragraph("Fittings so far", SUBHEAD), ruled_table(rows, [26, 82, 70])])]


def _said(correction: str) -> str:
    """Returns what a fitting corrects, by its title; nothing where no draft follows it."""
    if correction in BY_NAME:
        return BY_NAME[correction].title
    return f"{correction.split('.', maxsplit=1)[0]}, {LENGTHS[correction].title}" if correction in LENGTHS else ""


_FIGURE_HIGH, _FIGURE_WIDE = 138.0, 150.0  # room for front and back of the body


def pieces_section(plan: Plan) -> list[Flowable]:
    """Every cut instance: how many, of what, on which grain, with what allowances."""
    flow: list[Flowable] = [
        paragraph("Pieces to cut", HEAD),
        paragraph(
            "Seam lines are the finished lines; the cutting lines carry the allowances "
            f"{plan.commission.choices.stage}. Every piece is cut singly, face up: sides are the wearer's own.",
            SMALL,
        ),
        Spacer(1, 4),
    ]
    units = plan.commission.units
    stage = plan.commission.choices.stage
    for cloth_plan in plan.cloths:
        rows = [["Piece", "Cut", "Grain", "Allowances"]]
        seen: set[tuple[str, str]] = set()
        for piece in plan.made_up.pieces:
            if piece.cloth != cloth_plan.cloth.name or (piece.garment, piece.piece.name) in seen:
                continue
            seen.add((piece.garment, piece.piece.name))
            count = "one" if piece.hand is Hand.WHOLE else "right and left"
            count += ", later" if piece.is_later else ""
            grain = (
                "bias"
                if piece.on_bias
                else "crosswise"
                if piece.is_crosswise
                else "lengthwise"
                if piece.is_matched
                else "lengthwise, any place"
            )
            rows.append([piece.piece.title, count, grain, _allowances(piece, stage, units)])
        flow += [paragraph(cloth_plan.cloth.title, SUBHEAD), ruled_table(rows, [37, 30, 32, 79])]
    return flow


def _allowances(piece: CutPiece, stage: Stage, units: Units) -> str:
    if not any(allowance.is_fold or allowance.width(stage) for allowance in piece.allowances):
        return "none: cut as drawn"
    widths: dict[str, list[str]] = {}
    for allowance in piece.allowances:
        width = "fold" if allowance.is_fold else format_length(allowance.width(stage), units)
        name = allowance.edge.removesuffix(".right").removesuffix(".left").replace("-", " ")
        if name not in widths.setdefault(width, []):
            widths[width].append(name)
    if len(widths) == 1:
        return f"{next(iter(widths))} all round"
    return "; ".join(f"{width}: {', '.join(edges)}" for width, edges in widths.items())


_COUNTED = {1: "one", 2: "two", 3: "three", 4: "four", 5: "five"}


def repeats_to_measure(repeat: float, room: float) -> int:
    """Returns how many repeats are measured at once: five, or as many as three measures on the cloth leave room for.

    >>> repeats_to_measure(70.0, 1500.0), repeats_to_measure(1250.0, 4680.0)
    (5, 1)
    """
    return max(1, min(5, int(room / 3 / repeat)))


def preparing_section(plan: Plan) -> list[Flowable]:
    """What is done to the cloth before a piece is laid, and the table for measuring the repeat."""
    units = plan.commission.units
    is_toile = plan.commission.choices.cutting is Cutting.TOILE
    flow: list[Flowable] = []
    for cloth_plan in plan.cloths:
        cloth = cloth_plan.cloth
        first: list[Flowable] = [] if flow else [paragraph("Preparing the cloth", HEAD), paragraph(_WITH_CARE, CAUTION)]
        shrink = f"{cloth.shrinkage_warp:.1%} in length and {cloth.shrinkage_weft:.1%} in width"
        tried = [
            "Cut a swatch of about a hand's size, note its length and width, steam it as you will press, let it cool, "
            f"and measure again. The plan counts on {shrink}.",
            "Shrink the whole length (sponge, or steam without pressure), and let it dry flat.",
        ]
        steps = [
            *(["Press the whole length with steam, and let it dry flat."] if is_toile else tried),
            "Square the end: pull a weft thread or follow a level bar from selvedge to selvedge, and cut along it.",
            "Fold the cloth lengthwise, selvedges together. If the level bars don't meet, the weft is askew or bowed: "
            "pull it true on the bias, steam it, and look again. Cloth that can't be pulled true goes back.",
        ]
        if not cloth.is_plain:
            steps.append(
                "Measure the repeat at several places, over as many repeats as the table says, and write it below. If "
                f"they differ from the plan by more than {format_fine(2.0, units)}, put the new figure in the "
                "commission and plan again."
            )
        told = [paragraph(f"{number}. {step}", SMALL) for number, step in enumerate(steps, 1)]
        flow.append(KeepTogether([*first, paragraph(cloth.title, SUBHEAD), *told]))
        if not cloth.is_plain:
            rows = [["Repeats", "The plan says", "Near the end", "In the middle", "Near the far end"]]
            ways = (
                ("across the cloth", cloth.has_upright_bars, cloth.warp.repeat, cloth.width),
                ("along the cloth", cloth.has_level_bars, cloth.weft.repeat, cloth_plan.reckoning.buy),
            )
            for way, has_bars, repeat, room in ways:
                if has_bars:
                    count = repeats_to_measure(repeat, room)
                    rows.append([f"{_COUNTED[count]} {way}", format_length(count * repeat, units), "", "", ""])
            flow += [Spacer(1, 5), ruled_table(rows, [36, 36, 35, 35, 36])]
    return flow


_WITH_CARE = (
    "Irons and steam scald, shears and needles cut and pierce, cleaning agents and old dyes can harm skin and "
    "lungs: try heat and damp on a swatch first, keep hands clear, air the room, follow the maker's and local "
    "rules, and leave what you are unsure of to qualified hands."
)


def reckoning_section(plan: Plan) -> list[Flowable]:
    """Cloth to buy, with what it is made up of, beside the trade's rule of thumb."""
    units = plan.commission.units
    flow: list[Flowable] = [paragraph("Cloth needed", HEAD)]
    for cloth_plan in plan.cloths:
        reckoning, cloth = cloth_plan.reckoning, cloth_plan.cloth
        rows = [["", "Length"], ["The pieces lie in", format_cloth(reckoning.lays_in, units)]]
        rows += [[f"and {name}", format_length(length, units)] for name, length in reckoning.parts]
        rows += [
            ["Buy", format_cloth(reckoning.buy, units)],
            ["The trade's rule of thumb would buy", format_cloth(reckoning.rule_of_thumb, units)],
        ]
        if cloth.price_per_metre is not None:
            cost = cloth.price_per_metre * reckoning.buy / 1000
            rows.append(["Price of what is bought", f"{plan.commission.currency} {cost:,.2f}"])
        flow.append(
            KeepTogether(
                [paragraph(f"{cloth.title}, {_width(cloth_plan, units)} wide", SUBHEAD), ruled_table(rows, [90, 40])]
            )
        )
    return flow


def _width(cloth_plan: ClothPlan, units: Units) -> str:
    return format_length(cloth_plan.cloth.width, units)
