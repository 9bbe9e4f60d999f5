"""Draws the pictures of the README and the docs from the example commission."""

from __future__ import annotations

import io
from pathlib import Path

import pypdfium2

from settwright.commission.reading import read_commission
from settwright.geometry import Point
from settwright.planner import derive
from settwright.workbook.book import both_views
from settwright.workbook.drawing.pen import PdfPen, new_canvas

ROOT = Path(__file__).parents[1]
EXAMPLES = ("plaid-suit", "even-plaid-suit")
SCALE = 0.2  # millimetres of the picture to one of the garment
DOTS = 110  # per inch


def main() -> None:
    """Writes one picture for each example."""
    target = ROOT / "docs" / "pictures"
    target.mkdir(parents=True, exist_ok=True)
    for name in EXAMPLES:
        plan = derive(read_commission((ROOT / "examples" / f"{name}.toml").read_text(), name), effort=1)
        box, draw = both_views(plan, SCALE)
        page = io.BytesIO()
        canvas = new_canvas(page, (box[2] - box[0] + 8, box[3] - box[1] + 8))
        draw(PdfPen(canvas, Point(4 - box[0], 4 - box[1])))
        canvas.showPage()
        canvas.save()
        picture = pypdfium2.PdfDocument(page.getvalue())[0].render(scale=DOTS / 72).to_pil()
        picture.quantize(64).save(target / f"{name}.png", optimize=True)
        print(f"docs/pictures/{name}.png")


if __name__ == "__main__":
    main()
