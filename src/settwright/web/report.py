"""Plans told to the page: seams, cloths and findings as plain data, every figure with its words beside it."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from settwright.bars.frames import place_under, sense
from settwright.bars.joins import base_name
from settwright.bars.model import Axis, Drift, Join, Match, Mode, Phase, Pin
from settwright.cloth import Cloth
from settwright.commission.cloths import read_cloth
from settwright.commission.desk import Desk
from settwright.commission.lines import Lines
from settwright.commission.model import Commission, Importance
from settwright.commission.shape import read_form
from settwright.geometry import Point
from settwright.geometry.tolerances import HAND
from settwright.makeup.model import CutPiece
from settwright.pattern import LineKind
from settwright.plan.cost import reckoned
from settwright.plan.plan import ClothPlan, Plan
from settwright.planner.derive import Matched
from settwright.planner.files import usual_page
from settwright.units import Units, format_cloth, format_fine, format_length
from settwright.web.changes import NAME, finding_data
from settwright.web.handwork import bill_data, hours_said, time_said
from settwright.web.picture import sampled, tile_data
from settwright.web.ticket import sequence_data
from settwright.workbook.drawing.figure.form import View
from settwright.workbook.drawing.layout_drawing import on_cloth
from settwright.workbook.drawing.marks import caption
from settwright.workbook.drawing.plaid import cloth_colour, woven
from settwright.workbook.sheets import PAGES

Data = dict[str, Any]

STAGES = {
    "measurements": "completing the measurements",
    "drafts": "drafting the pieces",
    "make-up": "making up",
    "bars": "matching the bars",
    "layout": "laying the pieces on the cloth",
    "workbook": "setting the workbook",
    "sheets": "drawing the full-size sheets",
}

_CHALK = 1.0  # mm: what misses by more is marked in chalk


def report_data(key: str, plan: Plan) -> Data:
    """Returns where every bar falls and how every seam comes out."""
    commission = plan.commission
    cut = {entry.placed.piece for entry in commission.cut}
    ties = _ties(plan.match, next((c for c in commission.cloths if c.name == "shell"), None))
    return {
        "key": key,
        "title": commission.title,
        "views": [view.value for view in View],
        "cloths": {cloth.name: cloth_data(cloth, commission.units) for cloth in commission.cloths},
        "phases": phases_data(plan.match),
        "pieces": {
            piece.name: {
                "title": caption(piece),
                "cloth": piece.cloth,
                "is_matched": piece.is_matched,
                "is_cut": piece.name in cut,
                "pinned": _pinned(commission, piece.name),
                "hold": hold_data(piece, plan.phase(piece.name)),
                "ties": ties.get(piece.name, {}),
            }
            for piece in plan.made_up.pieces
        },
        **seams_data(plan.match, commission.units),
        "findings": [finding_data(finding) for finding in plan.findings],
    }


def cloth_data(cloth: Cloth, units: Units) -> Data:
    """Returns a cloth with its repeat, drawn and told."""
    colours = dict(cloth.colours)
    used = [{bar.colour for bar in way.bars} for way in (cloth.warp, cloth.weft)]
    return {
        "title": cloth.title,
        "colour": cloth_colour(cloth),
        "tile": tile_data(cloth),
        "warp": sequence_data(cloth.warp, colours, units, cloth.dominant_warp),
        "weft": sequence_data(cloth.weft, colours, units, cloth.dominant_weft),
        "woven": {
            warp: {weft: woven(cloth, warp, weft) for weft in colours if weft in used[1]}
            for warp in colours
            if warp in used[0]
        },
    }


def swatch_data(told: Data) -> Data:
    """Returns a cloth as the page wants to show it before it is kept: {"cloth": its section, "units"}."""
    desk = Desk(NAME, Lines(""))
    desk.units = Units(told["units"]) if told.get("units") in list(Units) else Units.CM
    document = read_form(desk, {"format": 1, "cloths": {"shell": told["cloth"]}})
    form = (document.cloths or {}).get("shell")
    cloth = read_cloth(desk, "shell", form) if form is not None else None
    findings = [finding_data(finding) for finding in (*desk.wrong, *desk.said)]
    for finding in findings:
        finding["field"] = (finding["where"] or "").removeprefix("cloths.shell.") or None
    shown = ("title", "colour", "tile", "warp", "weft", "woven")
    told_cloth: Data = dict.fromkeys(shown)
    if cloth is not None and not desk.wrong:
        told_cloth = cloth_data(cloth, desk.units)
    return {**told_cloth, "findings": findings}


def phases_data(match: Match) -> Data:
    """Returns each piece's place in the repeat."""
    return {p.piece: [round(p.u, 3), round(p.v, 3), p.free_u, p.free_v] for p in match.phases}


def _pinned(commission: Commission, piece: str) -> Data:
    return {pin.axis.value: f"pins.{i}" for i, pin in enumerate(commission.pins) if pin.piece == piece}


def hold_data(piece: CutPiece, phase: Phase | None) -> Data:
    """Returns the place on a piece by which a hand slides the cloth: the centre of what has one, else the grain mark's
    own; `offset` is added to u or v there.
    """
    if phase is None or not piece.is_matched:
        return {}
    found: Data = {}
    for axis in Axis:
        at, says, spot = _spot(piece, axis)
        under = place_under(Phase(piece.name, 0.0, 0.0, phase.orientation), at, piece.grain_turn)
        offset = under.x if axis is Axis.UPRIGHT else under.y
        found[axis.value] = {"offset": round(offset, 3), "says": says, "spot": spot}
    return found


def _spot(piece: CutPiece, axis: Axis) -> tuple[Point, str, Data]:
    """Returns a place of a piece that a pin can name, what it is called, and the pin's fields for it."""
    lines = [line for line in piece.piece.lines if line.kind is LineKind.CENTRE]
    edges = [edge for edge in piece.piece.edges if edge.name in ("centre-back", "centre-front")]
    if lines:
        name, path, ends, field = lines[0].name, lines[0].path, (lines[0].start, lines[0].end), "line"
    else:
        edge = edges[0] if edges else piece.piece.edges[0]
        name, path, ends, field = edge.name, edge.path, (edge.start, edge.end), "edge"
    said = name.removesuffix(".right").removesuffix(".left").replace("-", " ")
    if axis is Axis.LEVEL and "hem" in ends:
        at = path.start if ends[0] == "hem" else path.end
        return at, f"{said} at the hem", {field: name, "stop": "hem"}
    return path.at(path.length / 2), f"{said}, its middle" if not (lines or edges) else said, {field: name}


def _ties(match: Match, cloth: Cloth | None) -> dict[str, dict[str, dict[str, int]]]:
    """Returns for each piece and axis what keeps its place to it, its pair and what hard joins bind: 1 where its place
    in the repeat rises with the piece's own, −1 where it falls.
    """
    lies = {phase.piece: phase.orientation for phase in match.phases}
    found: dict[str, dict[str, dict[str, int]]] = {piece: {} for piece in lies}
    if cloth is None:
        return found
    for axis in Axis:
        is_even = (cloth.weft if axis is Axis.LEVEL else cloth.warp).is_even
        bound: dict[str, dict[str, int]] = {piece: {piece: 1} for piece in lies}  # each group's members, shared
        for join in match.joins:
            mode = join.level if axis is Axis.LEVEL else join.upright
            a, b = bound[join.a], bound[join.b]
            if mode is Mode.NONE or not (join.hard or join.kind == "pair") or a is b:
                continue
            turn = sense(axis, mode, lies[join.a], lies[join.b])
            if turn > 0 or is_even:  # an uneven sett can't be mirrored
                turn *= a[join.a] * b[join.b]
                together = {**a, **{piece: way * turn for piece, way in b.items()}}
                bound |= dict.fromkeys(together, together)
        for piece, group in bound.items():
            found[piece][axis.value] = {
                other: way * group[piece] for other, way in sorted(group.items()) if other != piece
            }
    return found


def seams_data(match: Match, units: Units) -> Data:
    """Returns every seam with its miss, and the worst of those that must always meet."""
    drifts = {drift.join: drift for drift in match.drifts}
    seams = [seam_data(join, drifts[join.name], units) for join in match.joins if join.kind != "pair"]
    cared = [seam for seam in seams if seam["importance"] == Importance.ALWAYS.value and seam["level"] is not None]
    return {"seams": seams, "worst": max(cared, key=lambda seam: (seam["level"], seam["join"]), default=None)}


def seam_data(join: Join, drift: Drift, units: Units) -> Data:
    """Returns one seam as the page tells it."""
    level = None if drift.level is None else round(drift.worst_level, 2)
    upright = None if drift.upright is None else round(drift.worst_upright, 2)
    chosen = sampled(len(join.samples))
    at = min(range(len(chosen)), key=lambda i: abs(chosen[i] - drift.worst_at))
    worst = max((miss for miss in (level, upright) if miss is not None), default=None)
    return {
        "join": join.name,
        "title": _titled(join.name),
        "field": f'importance."{base_name(join.name)}"'
        if "." in base_name(join.name)
        else f"importance.{base_name(join.name)}",
        "kind": join.kind,
        "a": join.a,
        "b": join.b,
        "importance": join.importance.value,
        "level": level,
        "upright": upright,
        "floor": round(drift.floor, 2),
        "at": at,
        "said": _seam_said(level, upright, units),
        "miss": None if worst is None else format_fine(worst, units),
        "summary": drift.summary,
        "misses": level is not None and level >= _CHALK and join.importance is not Importance.LET_GO,
    }


def _seam_said(level: float | None, upright: float | None, units: Units) -> str:
    """Returns how a seam comes out, in a few words."""
    said = [
        f"{bars} bars {'meet' if miss < HAND else f'miss by {format_fine(miss, units)}'}"
        for bars, miss in (("level", level), ("upright", upright))
        if miss is not None
    ]
    return ", ".join(said) or "nothing to meet"


def _titled(name: str) -> str:
    return name.replace(".", ", ").replace("-", " ")


def slide_data(made: Matched, found: Match, held: Pin) -> Data:
    """Returns what follows from a slide, and the changes that would keep it."""
    plan, cloth = made.plan, made.prepared.cloth
    units = plan.commission.units
    piece = plan.made_up.piece(held.piece)
    sequence = cloth.weft if held.axis is Axis.LEVEL else cloth.warp
    at, says, spot = _spot(piece, held.axis)
    under = place_under(found.phase(held.piece), at, piece.grain_turn)
    place = (under.y if held.axis is Axis.LEVEL else under.x) % sequence.repeat
    bar, into, told = _in_bar(cloth, held.axis, place, units)
    pin = {"piece": held.piece, "axis": held.axis.value, "bar": bar, "at": into, **spot}
    return {
        "phases": phases_data(found),
        **seams_data(found, units),
        "snap": {"bar": bar, "at": into, "says": f"{told} on the {says}", "place": round(place, 3)},
        "changes": [{"pin": pin}],
    }


def _in_bar(cloth: Cloth, axis: Axis, place: float, units: Units) -> tuple[str, str, str]:
    """Returns the bar under a place, how far into it as a pin writes it, and both in words."""
    sequence = cloth.weft if axis is Axis.LEVEL else cloth.warp
    first, last = ("lower edge", "upper edge") if axis is Axis.LEVEL else ("left edge", "right edge")
    bar = sequence.bar_at(place)
    start = sequence.starts[sequence.bars.index(bar)]
    into = place - start
    for word, where in ((first, 0.0), ("middle", bar.width / 2), (last, bar.width)):
        if abs(into - where) < 0.06:
            return bar.name, word, f"the {word} of {bar.name}"
    return bar.name, f"{into:.2f} mm", f"{format_fine(into, units)} into {bar.name}"


def length_data(plan: Plan, cloth: str, part: float, length: float) -> Data:
    """Returns how far the search of a layout is."""
    title, units = plan.commission.cloth(cloth).title, plan.commission.units
    return {
        "cloth": cloth,
        "part": round(part, 3),
        "length": round(length, 1),
        "says": f"{title}: lays in {format_cloth(length, units)} so far",
    }


def reckoning_data(plan: Plan) -> Data:
    """Returns what a plan comes to: cloth, price, the worst seam."""
    commission = plan.commission
    return {
        "cloths": [_cloth_reckoning(plan, cloth) for cloth in plan.cloths],
        "worst": seams_data(plan.match, commission.units)["worst"],
        "price": bill_data(plan),
        "findings": [finding_data(finding) for finding in plan.findings],
    }


def _price(plan: ClothPlan) -> float | None:
    per_metre = plan.cloth.price_per_metre
    return None if per_metre is None else per_metre * plan.reckoning.buy / 1000


def _cloth_reckoning(plan: Plan, laid: ClothPlan) -> Data:
    commission, cloth, reckoning = plan.commission, laid.cloth, laid.reckoning
    units, price = commission.units, _price(laid)
    lays_in, buy = format_cloth(reckoning.lays_in, units), format_cloth(reckoning.buy, units)
    hand = cloth.length_in_hand
    fits = hand is not None and laid.layout.length <= hand
    pieces = {piece.name: piece for piece in plan.made_up.pieces}
    outlines: Data = {}
    for placement in laid.layout.placements:
        if (piece := pieces.get(placement.name)) is not None:
            lies = on_cloth(placement, piece.grain_turn)
            outlines[piece.name] = [[round(p.x, 1), round(p.y, 1)] for p in map(lies, piece.cutting_line)]
    return {
        "name": cloth.name,
        "title": cloth.title,
        "lays_in": round(reckoning.lays_in, 1),
        "buy": round(reckoning.buy, 1),
        "says": f"lays in {lays_in}" if hand is not None else f"lays in {lays_in}, buy {buy}",
        "said_lays_in": lays_in,
        "said_buy": buy,
        "parts": [
            {"what": what, "length": round(n, 1), "said": format_length(n, units)} for what, n in reckoning.parts
        ],
        "rule_of_thumb": format_cloth(reckoning.rule_of_thumb, units),
        "price": None if price is None else round(price, 2),
        "said_price": None if price is None else f"{commission.currency} {price:.2f}",
        "in_hand": None
        if hand is None
        else {"length": hand, "fits": fits, "says": _in_hand(hand, laid.layout.length, units)},
        "layout": {
            "width": cloth.width,
            "height": round(reckoning.buy, 1),
            "pieces": outlines,
            "sett": [round(cloth.sett_at_left, 3), round(laid.layout.oy, 3)],
            "faults": [[[round(x, 1), round(y, 1)] for x, y in fault.outline] for fault in cloth.faults],
        },
    }


def _in_hand(hand: float, length: float, units: Units) -> str:
    has = f"{format_cloth(hand, units)} in hand"
    left = format_length(abs(hand - length), units)
    return f"{has}: fits, {left} left over" if length <= hand else f"{has}: {left} too short"


def differences_data(taken: Plan, tried: Plan) -> list[Data]:
    """Returns what a tried plan changes: cloth, worst miss, shaping, hours, price."""
    units = tried.commission.units
    found: list[Data] = []
    names = list(dict.fromkeys(cloth.cloth.name for plan in (taken, tried) for cloth in plan.cloths))
    for name in names:
        was, now = (next((c for c in plan.cloths if c.cloth.name == name), None) for plan in (taken, tried))
        lengths = [None if c is None else c.reckoning.lays_in for c in (was, now)]
        title = (now or was).cloth.title if (now or was) is not None else name  # type: ignore[union-attr]
        said = ["none" if length is None else format_cloth(length, units) for length in lengths]
        change = (lengths[1] or 0.0) - (lengths[0] or 0.0)
        says = f"{format_length(abs(change), units)} {'more' if change > 0 else 'less'}"
        found.append(_difference("cloth", title, said, says, abs(change) < 1.0))
    worst = [seams_data(plan.match, units)["worst"] for plan in (taken, tried)]
    misses = [0.0 if seam is None else float(seam["level"]) for seam in worst]
    said = [
        "nothing to meet" if seam is None else f"{format_fine(seam['level'], units)}, {seam['title']}" for seam in worst
    ]
    change = misses[1] - misses[0]
    says = f"{format_fine(change, units)} {'more' if change > 0 else 'less'}"
    found.append(_difference("worst", "worst of the seams that must always meet", said, says, abs(change) < HAND))
    over = [sum(seam["misses"] for seam in seams_data(plan.match, units)["seams"]) for plan in (taken, tried)]
    says = f"{abs(over[1] - over[0])} {'more' if over[1] > over[0] else 'fewer'}"
    found.append(_difference("misses", "seams marked in chalk", [str(n) for n in over], says, over[0] == over[1]))
    shaping = [_shaping(plan) for plan in (taken, tried)]
    if any(shaping):
        said = [_shaping_said(*(amounts or (0.0, 0.0)), units) for amounts in shaping]
        found.append(_difference("shaping", "shaping of the facings, in all", said, said[1], said[0] == said[1]))
    if not all(plan.commission.hours.is_blank for plan in (taken, tried)):
        hands = [reckoned(plan) for plan in (taken, tried)]
        change = round(hands[1].minutes) - round(hands[0].minutes)
        says = f"{time_said(abs(change))} {'more' if change > 0 else 'less'}"
        found.append(_difference("hours", "hours", [hours_said(hand) for hand in hands], says, change == 0))
    bills = [bill_data(plan) for plan in (taken, tried)]
    if any(bills):
        change = sum(sign * bill["amount"] for sign, bill in zip((-1, 1), bills, strict=True) if bill)
        says = f"{tried.commission.currency} {abs(change):,.2f} {'more' if change > 0 else 'less'}"
        said = [bill["said"] if bill else "not said" for bill in bills]
        found.append(_difference("price", "price", said, says, abs(change) < 0.005))
    return found


def _shaping(plan: Plan) -> tuple[float, float] | None:
    """Returns what the iron shrinks and stretches along the facings of one half, in mm; None where none is shaped."""
    shaped = plan.made_up.shaped
    if not shaped:
        return None
    return sum(facing.shaping.shrunk for facing in shaped), sum(facing.shaping.grown for facing in shaped)


def _shaping_said(shrunk: float, grown: float, units: Units) -> str:
    said = [f"{word} {format_fine(mm, units)}" for word, mm in (("shrink", shrunk), ("stretch", grown)) if mm >= 0.5]
    return ", ".join(said) or "none"


def _difference(what: str, title: str, said: Sequence[str], says: str, same: bool) -> Data:
    return {
        "what": what,
        "title": title,
        "taken": said[0],
        "tried": said[1],
        "says": "the same" if same else says,
        "same": same,
    }


def files_data(plan: Plan) -> list[Data]:
    """Returns what can be had of a plan, without making it."""
    files = [
        ("workbook.pdf", "garment, measurements, layout, seams, order of work", "print"),
        *(
            (f"sheets-{page}.pdf", f"the pattern at full size on {page} tiles", "print")
            for page in sorted(PAGES, key=lambda page: page != usual_page(plan.commission.units))
        ),
        ("sheets-large.pdf", "the pattern at full size on one sheet", "print"),
        ("garment.svg", "the garment from every side with its bars", "draw"),
        *((f"layout-{c.cloth.name}.svg", f"the cutting layout of the {c.cloth.name}", "draw") for c in plan.cloths),
        ("pieces.svg", "the pieces at full size", "draw"),
        ("pieces.dxf", "the pieces for other programs, millimetres", "hand on"),
        ("plan.json", "the whole plan, for any program to check", "hand on"),
        ("all.zip", "all of them together", "hand on"),
    ]
    return [{"name": name, "shows": shows, "group": group} for name, shows, group in files]
