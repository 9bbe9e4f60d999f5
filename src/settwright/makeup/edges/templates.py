"""The templates that strips are shaped on, as the full-size sheets show them."""

from __future__ import annotations

from dataclasses import replace

from settwright.makeup.cutting import seam_polygon
from settwright.makeup.edges.shaped import ShapedFacing
from settwright.makeup.model import CutPiece, MadeUp


def templates_of(made_up: MadeUp) -> tuple[CutPiece, ...]:
    """Returns a template for each shaped facing: its finished outline with the stations, drawn for the right hand.

    A facing cut in one with its front has one too.
    """
    garments = {piece.name: draft.name for draft in made_up.drafts for piece in draft.pieces}
    return tuple(_template(shaped, garments[shaped.cut.name]) for shaped in made_up.shaped)


def _template(shaped: ShapedFacing, garment: str) -> CutPiece:
    name = f"{shaped.cut.name}-template"
    piece = replace(shaped.finished.on_grain(), name=name, title=f"Template: {shaped.finished.title}")
    return CutPiece.as_drawn(piece, garment, "", seam_polygon(piece), is_matched=False)
