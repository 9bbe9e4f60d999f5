"""Draws every cut as a contact sheet: its pieces and the body assembled flat, for a small, a middle and a large body.

Run it after any change of a draft, and look: `python tools/contact_sheets.py [name …]` writes
docs/pictures/cuts/NAME.svg. A cut is added by a line in CUTS.
"""

from __future__ import annotations

import math
import sys
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace
from pathlib import Path as File

from settwright.body import Body
from settwright.body.estimate import complete
from settwright.findings import Refusal
from settwright.geometry import Path, Point, Transform
from settwright.pattern.design import (
    BackShoulder,
    BodyCut,
    BustDart,
    CentreBack,
    Closing,
    CollarStyle,
    FrontStyle,
    JacketDesign,
    LowerSection,
    SkirtCut,
    SkirtDesign,
    SleeveCut,
    SleeveLength,
    StandEnds,
    TrousersDesign,
    TrousersWaist,
    Vent,
    WaistFinish,
)
from settwright.pattern.drafts.jacket import draft_jacket
from settwright.pattern.drafts.skirt import draft_skirt
from settwright.pattern.drafts.trousers import draft_trousers
from settwright.pattern.piece import Draft, LineKind, Piece, Seam
from settwright.workbook.drawing.pen import Stroke, SvgPen

FOLDER = File(__file__).parents[1] / "docs" / "pictures" / "cuts"

BODIES = {  # bust, waist, hip, height
    "small": (820.0, 640.0, 890.0, 1630.0),
    "middle": (920.0, 740.0, 980.0, 1680.0),
    "large": (1120.0, 950.0, 1170.0, 1680.0),
}
SCALE = 1 / 8
WIDTH = 400.0  # of a sheet, millimetres
OVER_BOX = 62.0  # of the view over the shoulder
GAP = 4.0

INK, QUIET, THREAD, CLOTH = "#23211e", "#8d867b", "#9b3d2e", "#f6f2ea"
OUTLINE, INSIDE = Stroke(0.3, INK), Stroke(0.12, QUIET)
DART, TICK, GRAIN = Stroke(0.18, THREAD), Stroke(0.2, THREAD), Stroke(0.15, QUIET)


@dataclass(frozen=True)
class Sheet:
    """A cut to draw: how it is drafted, and which seams are laid together in its assembled flats.

    `around` and `over` are chains of seams; a seam is laid together at its last stop, edges pointing the same way.
    `around` shows the body from the back to the front, `over` neck and armhole on both sides of the shoulder.
    """

    name: str
    title: str
    draft: Callable[[Body], Draft]
    around: tuple[str, ...]
    over: tuple[str, ...]


AROUND = ("side-back", "princess-back", "side-2", "side", "side-front", "princess-front")
OVER = ("shoulder", "side-shoulder")


def jacket(name: str, title: str, design: JacketDesign) -> Sheet:
    """Returns the sheet of a jacket: assembled round the body, and over the shoulder."""
    return Sheet(name, title, lambda body: draft_jacket(body, design, 1.0), AROUND, OVER)


def skirt(name: str, title: str, design: SkirtDesign) -> Sheet:
    """Returns the sheet of a skirt: its pieces."""
    return Sheet(name, title, lambda body: draft_skirt(body, design, None), (), ())


def trousers(name: str, title: str, design: TrousersDesign) -> Sheet:
    """Returns the sheet of a pair of trousers: its pieces."""
    return Sheet(name, title, lambda body: draft_trousers(body, design), (), ())


PLAIN = JacketDesign()
COAT = replace(PLAIN, length_below_waist=600.0)
DARTED = replace(PLAIN, body_cut=BodyCut.DARTED)
SHOULDER = replace(PLAIN, body_cut=BodyCut.PRINCESS_SHOULDER)
ARMHOLE = replace(PLAIN, body_cut=BodyCut.PRINCESS_ARMHOLE)
SEAMED = {"waist_seam": True}

CUTS: tuple[Sheet, ...] = (
    jacket("side-panel", "Side panel, dart under the lapel", PLAIN),
    jacket("side-panel-coat", "Side panel, coat length, back vent", replace(COAT, vent=Vent.BACK, vent_length=300.0)),
    jacket("darted", "Darted, side bust dart", DARTED),
    jacket(
        "darted-shoulder",
        "Darted from the shoulder, back shoulder dart, back on the fold",
        replace(DARTED, bust_dart=BustDart.SHOULDER, back_shoulder=BackShoulder.DART, centre_back=CentreBack.FOLD),
    ),
    jacket("princess-shoulder", "Princess from the shoulder", SHOULDER),
    jacket(
        "princess-shoulder-coat",
        "Princess from the shoulder, coat length, double-breasted",
        replace(SHOULDER, length_below_waist=600.0, closing=Closing.DOUBLE),
    ),
    jacket("princess-armhole", "Princess from the armhole, side vents", replace(ARMHOLE, vent=Vent.SIDES)),
    jacket(
        "waist-seam",
        "Side panel with a waist seam, straight below it",
        replace(PLAIN, **SEAMED),
    ),
    jacket(
        "waist-seam-flared",
        "Princess from the shoulder with a flared section below the waist",
        replace(SHOULDER, **SEAMED, lower_section=LowerSection.FLARED),
    ),
    jacket(
        "waist-seam-padded",
        "Darted with a section for padded hips",
        replace(DARTED, **SEAMED, lower_section=LowerSection.PADDED_HIP, length_below_waist=200.0),
    ),
    jacket("peaked", "Peaked lapel", replace(PLAIN, front_style=FrontStyle.PEAKED, lapel_width=92.0, buttons=2)),
    jacket(
        "peaked-double",
        "Peaked lapel, double-breasted",
        replace(PLAIN, front_style=FrontStyle.PEAKED, closing=Closing.DOUBLE, lapel_width=98.0),
    ),
    jacket("shawl", "Shawl collar", replace(PLAIN, front_style=FrontStyle.SHAWL, buttons=1)),
    jacket(
        "shawl-double",
        "Shawl collar, double-breasted, the facing split below the break point",
        replace(PLAIN, front_style=FrontStyle.SHAWL, closing=Closing.DOUBLE, buttons=2, facing_split=60.0),
    ),
    jacket("v-neck", "V neck without collar", replace(PLAIN, front_style=FrontStyle.V_NECK)),
    jacket(
        "round-neck",
        "Round neck without collar, edge to edge",
        replace(PLAIN, front_style=FrontStyle.ROUND_NECK, closing=Closing.EDGE_TO_EDGE, neck_drop=40.0, buttons=5),
    ),
    jacket(
        "round-neck-double",
        "Round neck without collar, double-breasted",
        replace(PLAIN, front_style=FrontStyle.ROUND_NECK, closing=Closing.DOUBLE, buttons=4),
    ),
    jacket("crossed", "Crossed-over front", replace(PLAIN, front_style=FrontStyle.CROSSED, buttons=2)),
    jacket(
        "crossed-straight",
        "Crossed-over front with straight edges, princess from the shoulder",
        replace(SHOULDER, front_style=FrontStyle.CROSSED, buttons=1, neck_edge_hollow=0.0),
    ),
    jacket(
        "stand-collar",
        "Stand collar, round ends",
        replace(PLAIN, front_style=FrontStyle.ROUND_NECK, collar_style=CollarStyle.STAND, buttons=6),
    ),
    jacket(
        "stand-collar-double",
        "Stand collar in halves, square ends, double-breasted",
        replace(
            PLAIN,
            front_style=FrontStyle.ROUND_NECK,
            collar_style=CollarStyle.STAND,
            stand_ends=StandEnds.SQUARE,
            stand_halves=True,
            closing=Closing.DOUBLE,
            buttons=5,
        ),
    ),
    jacket(
        "sleeve-three-quarter",
        "Three-quarter sleeve in two pieces",
        replace(PLAIN, sleeve_length=SleeveLength.THREE_QUARTER),
    ),
    jacket("sleeve-vent", "Two-piece sleeve with a vent", replace(PLAIN, sleeve_vent=100.0)),
    jacket("sleeve-one-piece", "One-piece sleeve with an elbow dart", replace(PLAIN, sleeve_cut=SleeveCut.ONE_PIECE)),
    jacket(
        "sleeve-one-piece-eased",
        "One-piece sleeve, the elbow eased",
        replace(DARTED, sleeve_cut=SleeveCut.ONE_PIECE, elbow_dart=False),
    ),
    jacket("sleeve-raglan", "Raglan sleeve", replace(DARTED, sleeve_cut=SleeveCut.RAGLAN)),
    jacket("sleeve-kimono", "Kimono sleeve with a gusset", replace(DARTED, sleeve_cut=SleeveCut.KIMONO)),
    jacket(
        "sleeve-kimono-lifted",
        "Kimono sleeve lifted, without a gusset",
        replace(DARTED, sleeve_cut=SleeveCut.KIMONO, sleeve_lift=math.radians(68)),
    ),
    skirt("skirt-straight", "Straight skirt", SkirtDesign()),
    skirt("skirt-ribbon", "Straight skirt, waist faced with ribbon", SkirtDesign(waist_finish=WaistFinish.RIBBON)),
    skirt("skirt-bodice-top", "Straight skirt on a bodice top", SkirtDesign(waist_finish=WaistFinish.BODICE_TOP)),
    skirt("skirt-flared", "Slightly flared skirt", SkirtDesign(cut=SkirtCut.FLARED, vent_length=0.0)),
    skirt("skirt-pleated", "Pleated on the bars", SkirtDesign(cut=SkirtCut.PLEATED)),
    trousers("trousers", "Trousers, flat front", TrousersDesign()),
    trousers("trousers-pleated", "Trousers, two pleats", TrousersDesign(pleats=2)),
    trousers("trousers-ribbon", "Trousers, one pleat, waist faced with ribbon",
        TrousersDesign(pleats=1, waist=TrousersWaist.RIBBON)),
)


def body_of(name: str) -> Body:
    """Returns one of the three bodies, the rest of it estimated."""
    girths = ("bust_girth", "waist_girth", "hip_girth", "height")
    return complete(dict(zip(girths, BODIES[name], strict=True)))


def drawn(sheet: Sheet) -> str:
    """Returns the sheet as SVG."""
    rows = [(name, _drafted(sheet, name)) for name in BODIES]
    blocks: list[tuple[str, list[tuple[Piece, Transform]], float]] = []
    for name, draft in rows:
        if isinstance(draft, str):
            blocks.append((f"{name}: {draft}", [], 10.0))
            continue
        flat, width, flat_height = _flat(draft, sheet.around)
        right = WIDTH - width - 3 * GAP - (OVER_BOX if sheet.over else 0.0)
        pieces, height = _shelved(draft.pieces, right)
        flat = [(piece, by.then(Transform.shift(right + GAP, 0.0))) for piece, by in flat]
        blocks.append((name, [*pieces, *flat], max(height, flat_height, OVER_BOX if sheet.over else 0.0)))
    total = 14.0 + sum(height + 12.0 for _, _, height in blocks)
    pen = SvgPen((0.0, -total, WIDTH, 0.0), title=sheet.title)
    pen.path([Point(0, 0), Point(WIDTH, 0), Point(WIDTH, -total), Point(0, -total)], fill="#ffffff", closed=True)
    pen.text(Point(GAP, -9.0), sheet.title, size=6, weight="semibold", colour=INK)
    top = -14.0
    for (name, placed, height), (_, draft) in zip(blocks, rows, strict=True):
        pen.text(Point(GAP, top - 5.0), f"{name}", size=4, weight="italic", colour=QUIET)
        for piece, place in placed:
            _piece(pen, piece, place.then(Transform.shift(0.0, top - 7.0)))
        if isinstance(draft, Draft):
            _over_the_shoulder(pen, draft, sheet.over, Point(WIDTH - OVER_BOX - GAP, top - 7.0))
        top -= height + 12.0
    return pen.finish()


def _drafted(sheet: Sheet, body: str) -> Draft | str:
    try:
        return sheet.draft(body_of(body))
    except Refusal as refusal:
        return "; ".join(f"{f.where} {f.what}" for f in refusal.findings)


def _box(piece: Piece, place: Transform) -> tuple[float, float, float, float]:
    points = [place(p) for p in piece.outline.points(1.0)]
    return (
        min(p.x for p in points),
        min(p.y for p in points),
        max(p.x for p in points),
        max(p.y for p in points),
    )


def _shelved(pieces: Iterable[Piece], width: float) -> tuple[list[tuple[Piece, Transform]], float]:
    """Returns pieces on their grain in rows, tallest first, from (GAP, 0) downwards, and the rows' height."""
    scaled = [(piece, Transform(SCALE, 0.0, 0.0, SCALE)) for piece in (p.on_grain() for p in pieces)]
    boxes = [(_box(piece, by), piece, by) for piece, by in scaled]
    boxes.sort(key=lambda entry: round(entry[0][1] - entry[0][3], 3))
    placed: list[tuple[Piece, Transform]] = []
    x, top, tallest = GAP, 0.0, 0.0
    for (left, _, right, high), piece, by in boxes:
        if x + right - left > width and x > GAP:
            x, top, tallest = GAP, top - tallest - GAP, 0.0
        placed.append((piece, by.then(Transform.shift(x - left, top - high))))
        low = _box(piece, by)[1]
        tallest = max(tallest, high - low)
        x += right - left + GAP
    return placed, tallest - top


def _flat(draft: Draft, chain: Sequence[str]) -> tuple[list[tuple[Piece, Transform]], float, float]:
    """Returns the pieces laid together along a chain of seams, from (0, 0) downwards, with width and height."""
    group = _assembled(draft, [s for name in chain for s in draft.seams if s.name == name])
    if not group:
        return [], 0.0, 0.0
    shrunk = [(piece, by.then(Transform(SCALE, 0.0, 0.0, SCALE))) for piece, by in group]
    boxes = [_box(piece, by) for piece, by in shrunk]
    left, high = min(b[0] for b in boxes), max(b[3] for b in boxes)
    shift = Transform.shift(-left, -high)
    width, height = max(b[2] for b in boxes) - left, high - min(b[1] for b in boxes)
    return [(piece, by.then(shift)) for piece, by in shrunk], width, height


def _over_the_shoulder(pen: SvgPen, draft: Draft, chain: Sequence[str], corner: Point) -> None:
    """Draws neck and armhole as they run over the joined shoulder, in a square whose upper left corner is given."""
    group = _assembled(draft, [s for name in chain for s in draft.seams if s.name == name])
    if not group:
        return
    piece, place = group[0]
    at = place(piece.edge("shoulder").path.at(piece.edge("shoulder").path.length / 2))
    middle = corner + Point(OVER_BOX / 2, -OVER_BOX / 2)
    move = (
        Transform.shift(-at.x, -at.y).then(Transform(SCALE, 0.0, 0.0, SCALE)).then(Transform.shift(middle.x, middle.y))
    )
    square = [corner, corner + Point(OVER_BOX, 0), corner + Point(OVER_BOX, -OVER_BOX), corner - Point(0, OVER_BOX)]
    with pen.clipped([*square, corner]):
        for piece, place in group:
            _piece(pen, piece, place.then(move))


def _assembled(draft: Draft, seams: Sequence[Seam]) -> list[tuple[Piece, Transform]]:
    """Returns the pieces of a chain of seams, each laid against its neighbour at the seam's last stop."""
    if not seams:
        return []
    places: dict[str, Transform] = {}
    waiting = list(seams)
    places[waiting[0].b.piece if waiting[0].name == "shoulder" else waiting[0].a.piece] = Transform()
    while waiting:
        seam = next((s for s in waiting if (s.a.piece in places) != (s.b.piece in places)), None)
        if seam is None:
            break
        waiting.remove(seam)
        fixed, free = (seam.a, seam.b) if seam.a.piece in places else (seam.b, seam.a)
        stop, other = seam.stops[-1], seam.stops[0]
        at, along = _stop(draft.piece(fixed.piece), fixed.edge, stop, other)
        free_at, free_along = _stop(draft.piece(free.piece), free.edge, stop, other)
        lay = Transform.turn(along.angle - free_along.angle, free_at).then(
            Transform.shift(at.x - free_at.x, at.y - free_at.y)
        )
        places[free.piece] = lay.then(places[fixed.piece])
    return [(draft.piece(name), place) for name, place in places.items()]


def _stop(piece: Piece, edge: str, stop: str, towards: str) -> tuple[Point, Point]:
    """Returns a stop's place and the direction in which the seam leaves it."""
    path = piece.edge(edge).path
    at, away = piece.stop(edge, stop), piece.stop(edge, towards)
    step = 3.0 if away > at else -3.0
    point = path.at(at)
    return point, path.at(at + step) - point


def _piece(pen: SvgPen, piece: Piece, by: Transform) -> None:
    def moved(path: Path) -> Path:
        return path.moved(by)

    pen.path(moved(piece.outline), stroke=OUTLINE, fill=CLOTH, closed=True)
    inside = [line for line in piece.lines if line.kind is not LineKind.DART]
    if inside:
        pen.path([moved(line.path) for line in inside], stroke=INSIDE)
    darts = [line for line in piece.lines if line.kind is LineKind.DART]
    if darts:
        pen.path([moved(line.path) for line in darts], stroke=DART)
    ticks: list[list[tuple[float, float]]] = []
    for notch in piece.notches:
        path = piece.edge(notch.edge).path
        at, inwards = path.at(notch.at), path.tangent(notch.at).left * 12.0
        a, b = by(at), by(at + inwards)
        ticks.append([(a.x, a.y), (b.x, b.y)])
    pen.polylines(ticks, stroke=TICK)
    foot = piece.grain_mark
    up = Point(0.0, 1.0).rotated(piece.grain - 1.5707963267948966)
    a, b = by(foot - up * 25), by(foot + up * 25)
    pen.polylines([[(a.x, a.y), (b.x, b.y)]], stroke=GRAIN)
    pen.text(by(foot) + Point(0.8, 0.0), piece.name, size=2.2, colour=QUIET)


def main(names: Sequence[str]) -> None:
    """Writes the sheets named, or all."""
    FOLDER.mkdir(parents=True, exist_ok=True)
    for sheet in CUTS:
        if not names or sheet.name in names:
            target = FOLDER / f"{sheet.name}.svg"
            target.write_text(drawn(sheet), encoding="utf-8")
            print(f"{target.relative_to(FOLDER.parents[2])}  {target.stat().st_size // 1024} kB")


if __name__ == "__main__":
    main(sys.argv[1:])
