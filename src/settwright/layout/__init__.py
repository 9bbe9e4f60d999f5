"""The cutting layout: places on the lattice of the repeat, the least cloth."""

from settwright.layout.engine import lay
from settwright.layout.model import Board, Laid, LatticeState, Layout, Placement, Shape

__all__ = ["Board", "Laid", "LatticeState", "Layout", "Placement", "Shape", "lay"]
