"""Draws the pictures of the README from the example commissions: the workbooks' covers."""

from __future__ import annotations

from pathlib import Path

import pypdfium2

from settwright.commission.reading import read_commission
from settwright.planner import derive
from settwright.workbook.book import workbook_pdf
from settwright.workbook.cover import pictures

ROOT = Path(__file__).parents[1]
EXAMPLES = ("plaid-suit", "even-plaid-suit")
DOTS = 110  # per inch


def main() -> None:
    """Writes one picture for each example."""
    target = ROOT / "docs" / "pictures"
    target.mkdir(parents=True, exist_ok=True)
    for name in EXAMPLES:
        plan = derive(read_commission((ROOT / "examples" / f"{name}.toml").read_text(), name))
        cover = pypdfium2.PdfDocument(workbook_pdf(plan, pictures(plan)))[0].render(scale=DOTS / 72).to_pil()
        cover.quantize(96).save(target / f"{name}.png", optimize=True)
        print(f"docs/pictures/{name}.png")


if __name__ == "__main__":
    main()
