"""Setts, cloths and their colours."""

from settwright.cloth.cloth import Bar, Cloth, Fault, Nap, Sequence

__all__ = ["Bar", "Cloth", "Fault", "Nap", "Sequence"]
