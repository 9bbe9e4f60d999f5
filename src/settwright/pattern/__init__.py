"""Pieces, edges, notches and seams, and the drafts that make them."""

from settwright.pattern.piece import (
    Cut,
    Draft,
    Edge,
    Layer,
    Line,
    LineKind,
    Mark,
    Meeting,
    Notch,
    Piece,
    Seam,
    Side,
    Step,
    Touch,
)

__all__ = [
    "Cut",
    "Draft",
    "Edge",
    "Layer",
    "Line",
    "LineKind",
    "Mark",
    "Meeting",
    "Notch",
    "Piece",
    "Seam",
    "Side",
    "Step",
    "Touch",
]
