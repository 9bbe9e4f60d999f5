"""Pieces for other programs: DXF and SVG."""
