"""Full-size pattern sheets."""

from settwright.workbook.sheets.plane import PAGES
from settwright.workbook.sheets.sheets import Pattern, drawn_pattern, one_large_sheet, tile_sheets

__all__ = ["PAGES", "Pattern", "drawn_pattern", "one_large_sheet", "tile_sheets"]
