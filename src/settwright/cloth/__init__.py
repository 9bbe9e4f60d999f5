"""Setts, cloths and their colours."""

from settwright.cloth.cloth import Bar, Cloth, Fault, Nap, Sequence
from settwright.cloth.give import Fibre, Give

__all__ = ["Bar", "Cloth", "Fault", "Fibre", "Give", "Nap", "Sequence"]
