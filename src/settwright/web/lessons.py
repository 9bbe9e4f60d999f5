"""What the page shows for reading: the drafting record, the order of work, where each measurement is taken."""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import Any

from settwright.body import Body
from settwright.body.catalogue import BY_NAME, CATALOGUE, DEPARTURES, REQUIRED
from settwright.body.estimate import check, complete
from settwright.body.model import Measure, Source
from settwright.commission.desk import Desk
from settwright.commission.fittings import LENGTHS
from settwright.commission.lines import Lines
from settwright.commission.reading import read_toml
from settwright.findings import Refusal
from settwright.plan.plan import Plan
from settwright.units import Units, parse_length
from settwright.web.changes import NAME
from settwright.workbook.drawing.body_figure import NUMBERS, body_figure_size, draw_body_figure
from settwright.workbook.drawing.facing_drawing import draw_facing, facing_box
from settwright.workbook.drawing.lesson import draw_lesson_figure
from settwright.workbook.drawing.pen import SvgPen
from settwright.workbook.front_edge import facing_views, shaping_told, station_rows
from settwright.workbook.lesson import lesson_of
from settwright.workbook.record import bare_rule, boxes_of, figure_said, rule_said, value_said

Data = dict[str, Any]

_ROOM = (110.0, 80.0)  # of a figure of the lesson, millimetres of its page
_FIGURE_SCALE = 0.085
_FACING_SCALE = 0.25
_STAND_IN = {"bust_girth": 920.0, "waist_girth": 740.0, "hip_girth": 980.0, "height": 1680.0}  # for the drawing only


def lesson_data(plan: Plan) -> Data:
    """Returns every draft's lesson, figure by figure."""
    units = plan.commission.units
    drafts: list[Data] = []
    for draft in plan.made_up.drafts:
        figures = lesson_of(draft)
        told: list[Data] = []
        for figure, sheet in zip(figures, boxes_of(figures), strict=True):
            pen = SvgPen((0.0, 0.0, *_ROOM), title=figure.title)
            draw_lesson_figure(pen, figure, sheet, _ROOM)
            told.append(
                {
                    "title": figure.title,
                    "svg": None if figure.is_blank else pen.finish(),
                    "steps": [
                        {
                            "name": step.name.replace("-", " "),
                            "rule": rule_said(bare_rule(step), units),
                            "numbers": [[name, figure_said(name, value, units)] for name, value in step.numbers],
                            "value": value_said(step, units),
                            "source": step.source,
                        }
                        for step in figure.steps
                    ],
                }
            )
        drafts.append({"name": draft.name, "figures": told})
    return {"drafts": drafts}


def order_data(plan: Plan) -> Data:
    """Returns the order of work."""
    return {
        "steps": [
            {
                "name": step.name,
                "text": step.text,
                "after": list(step.after),
                "pieces": list(step.pieces),
                "caution": step.caution,
                "seams": list(step.seams),
                "checks": list(step.checks),
            }
            for step in plan.made_up.order
        ]
    }


def measurements_data(text: str) -> Data:
    """Returns the drawing of a client's measurements and how each stands: measured, or estimated from the others.

    Before bust, waist and hip are known a figure of common size stands in for the drawing. Raises Refusal where the
    text isn't a document.
    """
    data = read_toml(text, NAME)
    units = Units(data["units"]) if data.get("units") in list(Units) else Units.CM
    written = data.get("measurements")
    written = written if isinstance(written, dict) else {}
    measured = _measured(written, units)
    body = _body(measured, units)
    stand_in = body or complete(_STAND_IN, units)
    known = {measure.name: measure for measure in body.measures} if body else {}
    definitions = (*CATALOGUE, *DEPARTURES)
    return {
        "svg": _drawn(stand_in),
        "measures": [
            {
                "name": definition.name,
                "number": NUMBERS[definition.name],
                "title": definition.title,
                "how": definition.how,
                "written": str(written[definition.name]) if definition.name in written else None,
                **_stands(definition.name, known.get(definition.name), units),
                "is_needed": definition.name in REQUIRED,
                "is_angle": definition.is_angle,
                "group": "departures" if definition in DEPARTURES else "measures",
            }
            for definition in definitions
        ],
        "correctable": [{"name": name, "title": title} for name, title in correctable(data)],
    }


def correctable(data: Mapping[str, Any]) -> list[tuple[str, str]]:
    """Returns what a fitting may correct, with its title: measurements, and lengths of the garments commissioned."""
    measured = [(known.name, known.title) for known in (*CATALOGUE, *DEPARTURES) if not known.is_angle]
    cut = [
        (name, f"{name.split('.')[0]}, {field.title}") for name, field in LENGTHS.items() if name.split(".")[0] in data
    ]
    return measured + cut


def _stands(name: str, measure: Measure | None, units: Units) -> Data:
    if measure is None:
        return {"said": None, "is_estimate": False, "by": ""}
    said = BY_NAME[name].written(measure.value, units)
    return {"said": said, "is_estimate": measure.source is Source.ESTIMATED, "by": measure.how}


def _measured(written: Mapping[str, Any], units: Units) -> dict[str, float]:
    """Returns the measurements that can be read."""
    desk = Desk(NAME, Lines(""))
    desk.units = units
    found: dict[str, float] = {}
    for name, figure in written.items():
        definition = BY_NAME.get(name)
        try:
            if definition is not None and definition.is_angle:
                degrees = str(figure).replace("°", "").replace("degrees", "").replace(",", ".")
                found[name] = math.radians(float(degrees))
            elif definition is not None:
                found[name] = parse_length(figure, units)
        except (ValueError, TypeError, AttributeError, OverflowError):
            continue
    return found


def _body(measured: Mapping[str, float], units: Units) -> Body | None:
    """Returns the body, those left out that make it impossible; None where too little is known."""
    wrong = {finding.where.removeprefix("measurements.") for finding in check(measured, units)}
    try:
        return complete({name: value for name, value in measured.items() if name not in wrong}, units)
    except Refusal:
        return None


def _drawn(body: Body) -> str:
    pen = SvgPen((0.0, 0.0, *body_figure_size(body, _FIGURE_SCALE)), title="Where each measurement is taken")
    draw_body_figure(pen, body, scale=_FIGURE_SCALE, kept=lambda name: pen.named(f"measure-{name}"))
    return pen.finish()


def facings_data(plan: Plan) -> Data:
    """Returns the front facing with its grain each way: its bars as they will lie, and what the iron must do."""
    jacket = plan.commission.jacket
    if jacket is None:
        return {"facings": []}
    units, found = plan.commission.units, list[Data]()
    for view in facing_views(plan):
        is_chosen = view.grain is jacket.facing_grain
        pen = SvgPen(facing_box(view.piece, _FACING_SCALE), title=f"The facing, its grain {view.grain}")
        phase = view.phase(plan, jacket.facing_grain)
        draw_facing(pen, view.piece, view.cloth, phase, scale=_FACING_SCALE, shaped=view.shaped, folded=view.folded)
        head, *rows = station_rows(view.shaped, units) if view.shaped is not None else [[]]
        found.append(
            {
                "piece": "front-facing.right",
                "title": f"grain {view.grain}{' (as planned)' if is_chosen else ''}",
                "is_chosen": is_chosen,
                "change": {"set": "jacket.facing_grain", "to": view.grain.value},
                "rows": [dict(zip(head, row, strict=True)) for row in rows],
                "svg": pen.finish(),
                "advice": shaping_told(view, units),
            }
        )
    return {"facings": found}
