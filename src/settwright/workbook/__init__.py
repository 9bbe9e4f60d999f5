"""Sheets and workbook: drawings, cards, full-size pattern pages."""
