"""The templates that strips are shaped on, as the full-size sheets show them."""

from __future__ import annotations

from dataclasses import replace

from settwright.makeup.cutting import seam_polygon
from settwright.makeup.model import Allowance, CutPiece, Hand, MadeUp


def templates_of(made_up: MadeUp) -> tuple[CutPiece, ...]:
    """Returns a template for each shaped facing: its finished outline with the stations, drawn for the right hand."""
    return tuple(_template(made_up, number) for number in range(len(made_up.shaped)))


def _template(made_up: MadeUp, number: int) -> CutPiece:
    shaped = made_up.shaped[number]
    cut = made_up.piece(f"{shaped.cut.name}.{Hand.RIGHT}")
    name = f"{shaped.cut.name}-template"
    piece = replace(shaped.finished.on_grain(), name=name, title=f"Template: {shaped.finished.title}")
    outline = seam_polygon(piece)
    return replace(
        cut,
        name=name,
        piece=piece,
        hand=Hand.WHOLE,
        allowances=tuple(Allowance(edge.name, 0.0, 0.0) for edge in piece.edges),
        seam_line=outline,
        cutting_line=outline,
        is_matched=False,
    )
