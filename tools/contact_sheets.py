"""Draws every cut as a contact sheet: its pieces and the body assembled flat, for a small, a middle and a large body.

Run it after any change of a draft, and look: `python tools/contact_sheets.py [name …]` writes
docs/pictures/cuts/NAME.svg.
"""

from __future__ import annotations

import math
import sys
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from pathlib import Path as File

from settwright.body import Body
from settwright.body.estimate import complete
from settwright.body.sizes import EUROPEAN
from settwright.findings import Refusal
from settwright.geometry import Path, Point, Transform
from settwright.geometry.shelves import lay_on_strip
from settwright.pattern.drafts.vents import FACING, UNDER
from settwright.pattern.nest import draft_range, nests_of
from settwright.pattern.piece import Draft, Line, LineKind, Piece
from settwright.workbook.drawing.nest_drawing import draw_nests, nest_size
from settwright.workbook.drawing.pen import Stroke, SvgPen, text_width

ROOT = File(__file__).parents[1]
sys.path.insert(0, str(ROOT))

from tools.cuts import CUTS, Cut  # noqa: E402
from tools.flats import assembled  # noqa: E402

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
NOTE = 2.2  # height of a title
SIZES = ("80", "88", "96", "104", "116")  # of a nest

INK, QUIET, THREAD, CLOTH = "#23211e", "#8d867b", "#9b3d2e", "#f6f2ea"
OUTLINE, INSIDE, CUT_ON = Stroke(0.3, INK), Stroke(0.12, QUIET), Stroke(0.2, INK)
DART, TICK, GRAIN = Stroke(0.18, THREAD), Stroke(0.2, THREAD), Stroke(0.15, QUIET)


def body_of(name: str) -> Body:
    """Returns one of the three bodies, the rest of it estimated."""
    girths = ("bust_girth", "waist_girth", "hip_girth", "height")
    return complete(dict(zip(girths, BODIES[name], strict=True)))


def drawn(cut: Cut) -> str:
    """Returns the sheet as SVG."""
    blocks = [_block(cut, name) for name in BODIES]
    nests = nests_of(draft_range([s for s in EUROPEAN.sizes if s.name in SIZES], cut.draft)) if cut.in_sizes else ()
    nest_high = nest_size(nests, WIDTH - 2 * GAP, SCALE)[1] + 12.0 if nests else 0.0
    total = 14.0 + sum(block.height + 12.0 for block in blocks) + nest_high
    pen = SvgPen((0.0, -total, WIDTH, 0.0), title=cut.title)
    pen.path([Point(0, 0), Point(WIDTH, 0), Point(WIDTH, -total), Point(0, -total)], fill="#ffffff", closed=True)
    pen.text(Point(GAP, -9.0), cut.title, size=6, weight="semibold", colour=INK)
    top = -14.0
    for block in blocks:
        pen.text(Point(GAP, top - 5.0), block.title, size=4, weight="italic", colour=QUIET)
        down = Transform.shift(0.0, top - 7.0)
        for piece, place, note in block.pieces:
            _piece(pen, piece, place.then(down))
            if note is not None:
                pen.text(down(note), piece.title, size=NOTE, anchor="middle", colour=QUIET)
        if block.draft and cut.over:
            _over_the_shoulder(pen, block.draft, cut.over, Point(WIDTH - OVER_BOX - GAP, top - 7.0))
        top -= block.height + 12.0
    if nests:
        pen.text(Point(GAP, top - 5.0), "in sizes", size=4, weight="italic", colour=QUIET)
        with pen.moved(Transform.shift(GAP, top - 7.0)):
            draw_nests(pen, nests, width=WIDTH - 2 * GAP, scale=SCALE)
    return pen.finish()


@dataclass(frozen=True)
class _Block:
    """One body's pieces and flats, each with its place and, of single pieces, where its title stands."""

    title: str
    pieces: Sequence[tuple[Piece, Transform, Point | None]]
    height: float
    draft: Draft | None


def _block(cut: Cut, body: str) -> _Block:
    draft = _drafted(cut, body)
    if isinstance(draft, str):
        return _Block(f"{body}: {draft}", (), 10.0, None)
    right = WIDTH - GAP - (OVER_BOX + GAP if cut.over else 0.0)
    placed: list[tuple[Piece, Transform, Point | None]] = []
    height = OVER_BOX if cut.over else 0.0
    for chain in reversed(cut.flats):
        flat, width, flat_height = _flat(draft, chain)
        right -= width
        placed += [(piece, by.then(Transform.shift(right, 0.0)), None) for piece, by in flat]
        height = max(height, flat_height)
        right -= 2 * GAP
    pieces, pieces_height = _shelved(draft.pieces, right - GAP)
    return _Block(body, [*pieces, *placed], max(height, pieces_height), draft)


def _drafted(cut: Cut, body: str) -> Draft | str:
    try:
        return cut.draft(body_of(body))
    except Refusal as refusal:
        return "; ".join(f"{f.where} {f.what}" for f in refusal.findings)


def _box(piece: Piece, place: Transform) -> tuple[float, float, float, float]:
    points = [place(p) for path in (piece.outline, *(lap.path for lap in laps(piece))) for p in path.points(1.0)]
    return (
        min(p.x for p in points),
        min(p.y for p in points),
        max(p.x for p in points),
        max(p.y for p in points),
    )


def _shelved(pieces: Iterable[Piece], width: float) -> tuple[list[tuple[Piece, Transform, Point]], float]:
    """Returns pieces on their grain with their titles' places, packed from (GAP, 0) downwards, and their height."""
    scaled = [(piece, Transform(SCALE, 0.0, 0.0, SCALE)) for piece in (p.on_grain() for p in pieces)]
    boxes = [_box(piece, by) for piece, by in scaled]
    sizes = [
        (max(right - left, text_width(piece.title, NOTE)), high - low + 4.0)
        for (piece, _), (left, low, right, high) in zip(scaled, boxes, strict=True)
    ]
    corners = lay_on_strip(sizes, max(width, *(wide for wide, _ in sizes)), GAP)
    placed: list[tuple[Piece, Transform, Point]] = []
    for (piece, by), (left, low, right, high), corner, (wide, _) in zip(scaled, boxes, corners, sizes, strict=True):
        middle = GAP + corner.x + wide / 2
        move = Transform.shift(middle - (left + right) / 2, corner.y - high)
        placed.append((piece, by.then(move), Point(middle, corner.y - (high - low) - 3.0)))
    return placed, max(high - corner.y for corner, (_, high) in zip(corners, sizes, strict=True))


def _flat(draft: Draft, chain: Sequence[str]) -> tuple[list[tuple[Piece, Transform]], float, float]:
    """Returns the pieces laid together along a chain of seams, from (0, 0) downwards, with width and height."""
    group = assembled(draft, chain)
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
    group = assembled(draft, chain)
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


def laps(piece: Piece) -> list[Line]:
    """Returns what is cut on beyond the seam line at a vent."""
    return [line for line in piece.lines if line.name.split(".")[0] in (FACING, UNDER)]


def _piece(pen: SvgPen, piece: Piece, by: Transform) -> None:
    def moved(path: Path) -> Path:
        return path.moved(by)

    for lap in laps(piece):
        pen.path(moved(lap.path), stroke=CUT_ON, fill=CLOTH, closed=True)
    pen.path(moved(piece.outline), stroke=OUTLINE, fill=CLOTH, closed=True)
    inside = [line for line in piece.lines if line.kind is not LineKind.DART and line not in laps(piece)]
    if inside:
        pen.path([moved(line.path) for line in inside], stroke=INSIDE)
    darts = [line for line in piece.lines if line.kind is LineKind.DART]
    if darts:
        pen.path([moved(line.path) for line in darts], stroke=DART)
    draw_notches_and_grain(pen, piece, by, TICK, GRAIN)


def draw_notches_and_grain(pen: SvgPen, piece: Piece, by: Transform, notches: Stroke, grain: Stroke) -> None:
    """Draws a piece's notches as ticks inwards, and its grain through the grain mark."""
    ticks: list[list[tuple[float, float]]] = []
    for notch in piece.notches:
        path = piece.edge(notch.edge).path
        at, inwards = path.at(notch.at), path.tangent(notch.at).left * 12.0
        a, b = by(at), by(at + inwards)
        ticks.append([(a.x, a.y), (b.x, b.y)])
    pen.polylines(ticks, stroke=notches)
    foot = piece.grain_mark
    up = Point(0.0, 1.0).rotated(piece.grain - math.pi / 2 + piece.bias)
    a, b = by(foot - up * 25), by(foot + up * 25)
    pen.polylines([[(a.x, a.y), (b.x, b.y)]], stroke=grain)


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
