"""Pieces for other programs: DXF and SVG."""

from settwright.exchange.dxf import write_dxf
from settwright.exchange.svg import pieces_svg

__all__ = ["pieces_svg", "write_dxf"]
