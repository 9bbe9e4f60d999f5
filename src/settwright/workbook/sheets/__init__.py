"""Full-size pattern sheets."""

from settwright.workbook.sheets.sheets import one_large_sheet, tile_sheets

__all__ = ["one_large_sheet", "tile_sheets"]
