"""Draws every cut as a contact sheet: its pieces and the body assembled flat, for a small, a middle and a large body.

Run it after any change of a draft, and look: `python tools/contact_sheets.py [name …]` writes
docs/pictures/cuts/NAME.svg.
"""

from __future__ import annotations

import sys
from collections.abc import Iterable, Sequence
from pathlib import Path as File

from settwright.body import Body
from settwright.body.estimate import complete
from settwright.findings import Refusal
from settwright.geometry import Path, Point, Transform
from settwright.pattern.piece import Draft, LineKind, Piece, Seam
from settwright.workbook.drawing.pen import Stroke, SvgPen

ROOT = File(__file__).parents[1]
sys.path.insert(0, str(ROOT))

from tools.cuts import CUTS, Cut  # noqa: E402

FOLDER = ROOT / "docs" / "pictures" / "cuts"

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


def body_of(name: str) -> Body:
    """Returns one of the three bodies, the rest of it estimated."""
    girths = ("bust_girth", "waist_girth", "hip_girth", "height")
    return complete(dict(zip(girths, BODIES[name], strict=True)))


def drawn(cut: Cut) -> str:
    """Returns the sheet as SVG."""
    rows = [(name, _drafted(cut, name)) for name in BODIES]
    blocks: list[tuple[str, list[tuple[Piece, Transform]], float]] = []
    for name, draft in rows:
        if isinstance(draft, str):
            blocks.append((f"{name}: {draft}", [], 10.0))
            continue
        flat, width, flat_height = _flat(draft, cut.around)
        right = WIDTH - width - 3 * GAP - (OVER_BOX if cut.over else 0.0)
        pieces, height = _shelved(draft.pieces, right)
        flat = [(piece, by.then(Transform.shift(right + GAP, 0.0))) for piece, by in flat]
        blocks.append((name, [*pieces, *flat], max(height, flat_height, OVER_BOX if cut.over else 0.0)))
    total = 14.0 + sum(height + 12.0 for _, _, height in blocks)
    pen = SvgPen((0.0, -total, WIDTH, 0.0), title=cut.title)
    pen.path([Point(0, 0), Point(WIDTH, 0), Point(WIDTH, -total), Point(0, -total)], fill="#ffffff", closed=True)
    pen.text(Point(GAP, -9.0), cut.title, size=6, weight="semibold", colour=INK)
    top = -14.0
    for (name, placed, height), (_, draft) in zip(blocks, rows, strict=True):
        pen.text(Point(GAP, top - 5.0), f"{name}", size=4, weight="italic", colour=QUIET)
        for piece, place in placed:
            _piece(pen, piece, place.then(Transform.shift(0.0, top - 7.0)))
        if isinstance(draft, Draft):
            _over_the_shoulder(pen, draft, cut.over, Point(WIDTH - OVER_BOX - GAP, top - 7.0))
        top -= height + 12.0
    return pen.finish()


def _drafted(cut: Cut, body: str) -> Draft | str:
    try:
        return cut.draft(body_of(body))
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
    for cut in CUTS:
        if not names or cut.name in names:
            target = FOLDER / f"{cut.name}.svg"
            target.write_text(drawn(cut), encoding="utf-8")
            print(f"{target.relative_to(FOLDER.parents[2])}  {target.stat().st_size // 1024} kB")


if __name__ == "__main__":
    main(sys.argv[1:])
