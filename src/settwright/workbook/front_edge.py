"""The page about the front edge: how the bars lie in the facing either way, and what shaping it asks."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from reportlab.platypus import Flowable, KeepTogether, Spacer, Table, TableStyle

from settwright.bars.model import Orientation, Phase
from settwright.cloth import Cloth
from settwright.cloth.dominance import warp_dominance, weft_dominance
from settwright.commission.design import FacingGrain, FrontEdge
from settwright.makeup.edges.kinds import EdgeKind, edge_kinds
from settwright.makeup.edges.saying import remedies
from settwright.makeup.edges.shaped import ShapedFacing, shaped_facing
from settwright.makeup.edges.shaping import Station, Way
from settwright.pattern import Piece
from settwright.plan.plan import Plan
from settwright.units import Units, format_fine, format_length
from settwright.workbook.drawing.facing_drawing import draw_facing, facing_box
from settwright.workbook.drawing.pen import POINT, PdfPen
from settwright.workbook.style import CAUTION, HEAD, LEAD, QUIET_SMALL, SMALL, SUBHEAD, Drawing, paragraph, ruled_table

_TALL = 112.0  # millimetres of the page for a facing
_INSIDE = 8.0  # the leading bar lies so far inside the edge in the pictures of what wasn't chosen


def front_edge_section(plan: Plan) -> list[Flowable]:
    """Returns the page; nothing for an ensemble without a front facing."""
    views = facing_views(plan)
    if not views or plan.commission.jacket is None:
        return []
    chosen = plan.commission.jacket.facing_grain
    flow: list[Flowable] = [
        paragraph("The front edge", HEAD),
        paragraph(
            f"The facing as it will lie, seen from its right side{', its grain each way' if len(views) > 1 else ''}.",
            LEAD,
        ),
        _pictures(plan, views, chosen),
        *_kinds(plan, _cloth_of(plan)),
    ]
    for view in views:
        if view.shaped is not None and view.grain is chosen:
            flow += _stations(plan, view.shaped)
    return flow


def facing_views(plan: Plan) -> list[FacingView]:
    """Returns the front facing with its grain each way; nothing for an ensemble without one."""
    facing = _finished_facing(plan)
    if facing is None or plan.commission.jacket is None:
        return []
    cloth = _cloth_of(plan)
    views = [FacingView(FacingGrain.AS_CUT, facing, None, cloth, _folded(plan, facing))]
    if views[0].folded:
        return views  # its two folds give it its grain
    for grain in (FacingGrain.ALONG, FacingGrain.ACROSS):
        shaped = shaped_facing(facing, grain, cloth.give)
        views += [FacingView(grain, facing, shaped, cloth)] if shaped is not None else []
    return views


@dataclass(frozen=True)
class FacingView:
    """The finished facing with its grain one way; `shaped` is None where it is cut as the front lies."""

    grain: FacingGrain
    piece: Piece
    shaped: ShapedFacing | None
    cloth: Cloth
    folded: float = 0.0  # by which angle its bars turn above the break point, where it is folded there

    def phase(self, plan: Plan, chosen: FacingGrain) -> Phase:
        """Returns the plan's own phase for what was chosen, else one that lays the leading bar inside the edge."""
        own = None
        if self.grain is chosen:
            own = plan.phase("front-facing.right") or (None if self.shaped else _beyond_the_fold(plan, self.piece))
        if own is not None:
            return own
        piece = self.piece if self.shaped is None else self.shaped.cut
        at = piece.edge("front-edge").path.start - piece.grain_mark
        upright, level = _middle(self.cloth, is_warp=True), _middle(self.cloth, is_warp=False)
        if self.grain is FacingGrain.ACROSS:
            # turned by a quarter, (x, y) lies at (u − y, v + x)
            return Phase("", upright + at.y, level - at.x - _INSIDE, Orientation())
        return Phase("", upright - at.x - _INSIDE, level - at.y, Orientation())


def _folded(plan: Plan, facing: Piece) -> float:
    """Returns by which angle a facing's bars turn above its fold at the top button: twice the edge's turning; 0
    without such a fold.
    """
    jacket = plan.commission.jacket
    if jacket is None or jacket.front_edge is not FrontEdge.TO_NECK:
        return 0.0
    below, above = facing.edge("front-edge").path.start_tangent, facing.edge("neckline").path.end_tangent
    return 2 * math.atan2(below.cross(above), below.dot(above))


def _beyond_the_fold(plan: Plan, facing: Piece) -> Phase | None:
    """Returns where a facing cut in one with its front falls in the repeat, by the hem that both have in common."""
    front, phase = plan.made_up.piece("front.right").piece, plan.phase("front.right")
    if phase is None or not any(edge.name == "facing-hem" for edge in front.edges):
        return None
    shift = front.edge("facing-hem").path.end - facing.on_grain().edge("hem").path.end
    place = phase.orientation.place(shift, 0.0)
    return replace(phase, piece="", u=phase.u + place.x, v=phase.v + place.y)


def _middle(cloth: Cloth, *, is_warp: bool) -> float:
    sequence = cloth.warp if is_warp else cloth.weft
    bar = (warp_dominance(cloth) if is_warp else weft_dominance(cloth)).dominant
    return 0.0 if bar is None else sequence.starts[sequence.bars.index(bar)] + bar.width / 2


def _finished_facing(plan: Plan) -> Piece | None:
    """Returns the facing as drafted, in one with the front or not."""
    pieces = (piece for draft in plan.made_up.drafts for piece in draft.pieces)
    return next((piece for piece in pieces if piece.name == "front-facing"), None)


def _cloth_of(plan: Plan) -> Cloth:
    names = {cloth.name for cloth in plan.commission.cloths}
    extended = plan.commission.jacket is not None and plan.commission.jacket.front_edge.is_in_one
    return plan.commission.cloth("facing" if "facing" in names and not extended else "shell")


def _pictures(plan: Plan, views: list[FacingView], chosen: FacingGrain) -> Flowable:
    cells: list[list[Flowable]] = []
    for view in views:
        box = facing_box(view.piece, 1.0)
        scale = min(_TALL / (box[3] - box[1]), 54.0 / (box[2] - box[0]))
        drawing = Drawing(facing_box(view.piece, scale), 1.0, _drawer(plan, view, chosen, scale))
        drawing.hAlign = "LEFT"
        title = f"{view.grain[:1].upper()}{view.grain[1:]}{' (as planned)' if view.grain is chosen else ''}"
        cells.append(
            [drawing, paragraph(title, SUBHEAD), paragraph(shaping_told(view, plan.commission.units), QUIET_SMALL)]
        )
    table = Table([cells], colWidths=[59 / POINT] * len(cells), hAlign="LEFT")
    table.setStyle(TableStyle([("VALIGN", (0, 0), (-1, -1), "TOP"), ("LEFTPADDING", (0, 0), (-1, -1), 0)]))
    return table


def _kinds(plan: Plan, cloth: Cloth) -> list[Flowable]:
    """Returns the table of the kinds of facing, possible or not, on this edge."""
    jacket, units = plan.commission.jacket, plan.commission.units
    fronts = (piece for draft in plan.made_up.drafts for piece in draft.pieces if piece.name == "front")
    front = next(fronts, None)
    if jacket is None or front is None:
        return []
    shell = plan.commission.cloth("shell")
    kinds = edge_kinds(
        front,
        jacket,
        thickness=(shell.thickness, cloth.thickness),
        room=shell.width - 2 * shell.selvedge,
        shaping=[facing.shaping for facing in plan.made_up.shaped],
        other_cloth=_facing_area(plan) if any(c.name == "facing" for c in plan.commission.cloths) else 0.0,
    )
    rows = [["Kind", "At the edge", "Sewn, folded", "Cloth", "Hours", "How it reads"]]
    rows += [_kind_row(kind, units) for kind in kinds]
    return [
        KeepTogether(
            [
                paragraph("What kinds of facing are possible here", SUBHEAD),
                ruled_table(rows, [40, 38, 24, 18, 14, 44]),
                paragraph(
                    "Layers of cloth at the edge above and below the break point, unpressed, without stays; lengths of "
                    "one front; the front's cloth, full width, against a facing sewn on, by area, for both (the layout "
                    "decides); hours for both, about, until you keep your own.",
                    QUIET_SMALL,
                ),
            ]
        )
    ]


def _facing_area(plan: Plan) -> float:
    """Returns the area of one front's facing, in however many parts."""
    pieces = (piece for draft in plan.made_up.drafts for piece in draft.pieces)
    return sum(abs(piece.area) for piece in pieces if piece.name.startswith("front-facing"))


def _kind_row(kind: EdgeKind, units: Units) -> list[str]:
    title = f"{kind.title}{' (as planned)' if kind.is_chosen else ''}"
    if kind.hindrance:
        return [title, "–", "–", "–", "–", f"Not here: {kind.hindrance}."]
    above, below = (
        f"{layers} layers, {format_fine(thick, units)}"
        for layers, thick in zip(kind.layers, kind.thickness, strict=True)
    )
    at_edge = above if above == below else f"above {above}; below {below}"
    more = "less" if kind.cloth < 0 else "more"
    cloth = "–" if abs(kind.cloth) < 1 else f"{format_length(abs(kind.cloth), units)} {more}"
    lengths = f"{format_length(kind.sewn, units)}, {format_length(kind.folded, units)}"
    return [title, at_edge, lengths, cloth, f"{kind.hours:.1f}", f"{kind.reads[:1].upper()}{kind.reads[1:]}."]


def _drawer(plan: Plan, view: FacingView, chosen: FacingGrain, scale: float):
    def draw(pen: PdfPen) -> None:
        draw_facing(pen, view.piece, view.cloth, view.phase(plan, chosen), scale=scale, shaped=view.shaped,
                    folded=view.folded)  # fmt: skip

    return draw


def shaping_told(view: FacingView, units: Units) -> str:
    """Returns what a facing's grain asks of the cloth, in a sentence."""
    if view.folded:
        askew = math.degrees(abs(view.folded))
        return f"Nothing to shape. Folded at the top button: above it the bars lie askew by {askew:.0f}°."
    if view.shaped is None:
        return "Nothing to shape. The bars stand upright when the coat is closed, and cross the edge where it leans."
    shaping = view.shaped.shaping
    parts: list[str] = []
    if shaping.shrunk >= 0.5:
        parts.append(f"shrink {format_fine(shaping.shrunk, units)} in all at the inner edge")
    if shaping.grown >= 0.5:
        there = "there" if parts else "in all at the inner edge"
        parts.append(f"stretch {format_fine(shaping.grown, units)} {there}")
    words = "; ".join(parts) or "nothing to shrink or stretch"
    lean = math.degrees(shaping.most_askew)
    return f"{words[:1].upper()}{words[1:]}; crosswise threads lean by up to {lean:.0f}°: {shaping.way}."


def _stations(plan: Plan, shaped: ShapedFacing) -> list[Flowable]:
    units, shaping = plan.commission.units, shaped.shaping
    rows = station_rows(shaped, units)
    size = (shaping.deepest, shaping.strip.length)
    beyond = "This curve asks more than the cloth takes. " + " ".join(remedies(shaped))
    return [
        KeepTogether(
            [
                paragraph("Shaping it, station by station", SUBHEAD),
                paragraph(
                    f"{_strip_told(plan)}: {format_length(size[1], units)} along the edge, "
                    f"{format_length(size[0], units)} deep where it is deepest, and allowances; the sheets show it "
                    f"with its marks, and the template. {_named(shaped)}Pin the edge to the template's edge, "
                    "station on station; ease-baste the inner edge where told, steam, let it dry and cool pinned; "
                    "then chalk the template's outline and trim.",
                    SMALL,
                ),
                paragraph(
                    "Irons and steam scald: keep hands clear of the edge under the iron, try heat, damp and time on a "
                    "swatch.",
                    QUIET_SMALL,
                ),
                Spacer(1, 4),
                ruled_table(rows, [20, 24, 34, 20, 22, 24, 34]),
                paragraph(f"What the cloth takes: {shaping.give.said}.", QUIET_SMALL),
                *([paragraph(beyond, CAUTION)] if shaping.way is Way.NOT else []),
            ]
        )
    ]


def _strip_told(plan: Plan) -> str:
    jacket = plan.commission.jacket
    if jacket is not None and jacket.front_edge is FrontEdge.EXTENDED:
        return "Beyond the fold the facing goes on straight, cut in one with the front"
    return "Cut a straight strip for each hand, the two together"


def station_rows(shaped: ShapedFacing, units: Units) -> list[list[str]]:
    """Returns what is done to a facing from station to station, headings first."""
    head = ["From – to", "Along the edge", "At the inner edge", "At most", "Threads lean", "Depth as cut", "How"]
    return [head, *(_row(run, units) for run in _runs(shaped.shaping.stations))]


def _runs(stations: Sequence[Station]) -> list[list[Station]]:
    """Returns the stations one by one, those together that follow one another and lie as they are."""
    found: list[list[Station]] = []
    for station in stations:
        if found and station.way is Way.AS_IT_LIES and found[-1][-1].way is Way.AS_IT_LIES:
            found[-1].append(station)
        else:
            found.append([station])
    return found


def _named(shaped: ShapedFacing) -> str:
    """Returns where along the strip the lapel's point and the break point lie, in a sentence."""
    told: dict[str, str] = {}
    for edge in shaped.cut.edges:
        for stop, at in ((edge.start, edge.path.start), (edge.end, edge.path.end)):
            if stop in ("lapel-point", "break-point") and abs(at.x) < 1e-6:
                near = min(shaped.shaping.stations, key=lambda station: abs(station.start + at.y))
                told[stop] = f"the {stop.replace('-', ' ')} lies by mark {near.name}"
    words = ", ".join(told.values())
    return f"{words[:1].upper()}{words[1:]}. " if words else ""


def _row(run: Sequence[Station], units: Units) -> list[str]:
    station, last = run[0], run[-1]
    lean = math.degrees(station.askew)
    change = "as it is"
    if abs(station.change) >= 0.3:
        change = f"{'shrink' if station.change < 0 else 'stretch'} {format_fine(station.change, units)}"
    return [
        f"{station.name} – {int(last.name) + 1}",
        format_length(last.end - station.start, units),
        change,
        "–" if abs(station.part) < 0.001 else f"{abs(station.part):.1%}",
        "–" if abs(lean) < 0.5 else f"{abs(lean):.0f}° {'down' if lean > 0 else 'up'}",
        format_length(station.cut_depth, units),
        str(station.way),
    ]
