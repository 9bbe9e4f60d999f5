"""Full-size pattern sheets."""

from settwright.workbook.sheets.sheets import Pattern, drawn_pattern, one_large_sheet, tile_sheets

__all__ = ["Pattern", "drawn_pattern", "one_large_sheet", "tile_sheets"]
