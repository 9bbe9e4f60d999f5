"""Draws the inside of every cut over its shell pieces, for a small, a middle and a large body.

Run it after any change of a draft or of the inside, and look: `python tools/inside_sheets.py [--to FOLDER] [name …]`
writes docs/pictures/inside/NAME.svg, or into another folder. The cuts are those of cuts.py.
"""

from __future__ import annotations

import sys
from collections.abc import Sequence
from pathlib import Path as File

from contact_sheets import BODIES, FOLDER, GAP, QUIET, body_of, draw_notches_and_grain, laps

from cuts import CUTS, Cut
from settwright.commission.inside import Inside
from settwright.findings import Refusal
from settwright.geometry import Path, Point, Transform
from settwright.makeup.inside import with_inside
from settwright.pattern.piece import Draft, Layer, LineKind, Piece
from settwright.workbook.drawing.pen import Stroke, SvgPen

INSIDE = FOLDER.parent / "inside"
SCALE = 1 / 6
WIDTH = 420.0
INK = "#23211e"
SHELL, THIN = Stroke(0.15, QUIET), Stroke(0.08, QUIET)
COLOURS = {
    Layer.LINING: "#9b3d2e",
    Layer.INTERLINING: "#31618c",
    Layer.HAIRCLOTH: "#7a5c1e",
    Layer.UNDERLINING: "#4d7a3a",
    Layer.POCKETING: "#5b3d8c",
    Layer.WADDING: "#2e8c84",
}


def groups(draft: Draft) -> list[list[Piece]]:
    """Returns each shell piece with the inside pieces cut from it, in one frame; then the others."""
    shell = [p for p in draft.pieces if p.layer is Layer.SHELL]
    inside = [p for p in draft.pieces if p.layer is not Layer.SHELL]
    names = {p.name for p in shell}
    found: list[list[Piece]] = []
    for piece in shell:
        own = [p for p in inside if p.follows == piece.name]
        for layers in ((Layer.LINING,), (Layer.INTERLINING, Layer.HAIRCLOTH, Layer.POCKETING), (Layer.UNDERLINING,)):
            group = [p for p in own if p.layer in layers]
            if group:
                found.append([piece, *group])
    return [*found, *([p] for p in inside if p.follows not in names)]


def drawn(sheet: Cut, wanted: Inside) -> str:
    """Returns the sheet as SVG."""
    blocks: list[tuple[str, list[tuple[list[Piece], Transform]], float]] = []
    for body in BODIES:
        try:
            draft = with_inside(sheet.draft(body_of(body)), wanted, frozenset(Layer))
        except Refusal as refusal:
            blocks.append((f"{body}: {refusal.findings[0]}", [], 8.0))
            continue
        placed, height = _shelved(groups(draft))
        blocks.append((body, placed, height))
    total = 14.0 + sum(height + 12.0 for _, _, height in blocks)
    pen = SvgPen((0.0, -total, WIDTH, 0.0), title=sheet.title)
    pen.path([Point(0, 0), Point(WIDTH, 0), Point(WIDTH, -total), Point(0, -total)], fill="#ffffff", closed=True)
    pen.text(Point(GAP, -9.0), f"{sheet.title}: inside", size=6, weight="semibold", colour=INK)
    top = -14.0
    for name, placed, height in blocks:
        pen.text(Point(GAP, top - 5.0), name, size=4, weight="italic", colour=QUIET)
        for group, place in placed:
            for piece in group:
                _piece(pen, piece, place.then(Transform.shift(0.0, top - 7.0)))
        top -= height + 12.0
    return pen.finish()


def _shelved(every: list[list[Piece]]) -> tuple[list[tuple[list[Piece], Transform]], float]:
    boxes: list[tuple[float, float, float, float]] = []
    for group in every:
        paths = [path for piece in group for path in (piece.outline, *(lap.path for lap in laps(piece)))]
        points = [p * SCALE for path in paths for p in path.points(1.0)]
        xs, ys = [p.x for p in points], [p.y for p in points]
        boxes.append((min(xs), min(ys), max(xs), max(ys)))
    order = sorted(range(len(every)), key=lambda i: round(boxes[i][1] - boxes[i][3], 3))
    placed: list[tuple[list[Piece], Transform]] = []
    x, top, tallest = GAP, 0.0, 0.0
    for i in order:
        left, low, right, high = boxes[i]
        if x + right - left > WIDTH - GAP and x > GAP:
            x, top, tallest = GAP, top - tallest - GAP, 0.0
        placed.append((every[i], Transform(SCALE, 0.0, 0.0, SCALE).then(Transform.shift(x - left, top - high))))
        tallest = max(tallest, high - low)
        x += right - left + GAP
    return placed, tallest - top


def _piece(pen: SvgPen, piece: Piece, by: Transform) -> None:
    def moved(path: Path) -> Path:
        return path.moved(by)

    is_shell = piece.layer is Layer.SHELL
    colour = COLOURS.get(piece.layer, QUIET)
    pen.path(moved(piece.outline), stroke=SHELL if is_shell else Stroke(0.3, colour), closed=True,
             fill="#f6f2ea" if is_shell else None)  # fmt: skip
    lines = [line for line in piece.lines if line.kind is not LineKind.LEVEL]
    if lines:
        pen.path([moved(line.path) for line in lines], stroke=THIN if is_shell else Stroke(0.15, colour))
    if is_shell:
        return
    draw_notches_and_grain(pen, piece, by, Stroke(0.2, colour), Stroke(0.15, colour))
    pen.text(by(piece.grain_mark) + Point(0.8, 0.0), piece.name, size=2.2, colour=colour)


def main(arguments: Sequence[str]) -> None:
    """Writes the sheets named, or all."""
    folder, names = INSIDE, list(arguments)
    if names[:1] == ["--to"]:
        folder, names = File(names[1]), names[2:]
    folder.mkdir(parents=True, exist_ok=True)
    for sheet in CUTS:
        if not names or sheet.name in names:
            target = folder / f"{sheet.name}.svg"
            target.write_text(drawn(sheet, Inside()), encoding="utf-8")
            print(f"{target.name}  {target.stat().st_size // 1024} kB")


if __name__ == "__main__":
    main(sys.argv[1:])
