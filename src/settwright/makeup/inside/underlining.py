"""Underlining: every shell piece that is mounted on one, exactly as it is."""

from __future__ import annotations

from dataclasses import replace

from settwright.makeup.inside.body_lining import BODY, LOWER
from settwright.makeup.inside.made import Made, named
from settwright.makeup.inside.sleeve_lining import SLEEVES
from settwright.pattern.piece import Draft, Layer

MOUNTED = (
    *BODY,
    *(name + LOWER for name in BODY),
    *SLEEVES,
    *("skirt-front", "skirt-back", "top-front", "top-back", "trousers-front", "trousers-back"),
)


def underlining(draft: Draft) -> Made:
    """Returns an underlining for each piece of body, sleeves, skirt and legs: same lines, allowances and grain."""
    return Made(
        pieces=tuple(
            replace(
                piece,
                name=f"{piece.name}-underlining",
                title=named(piece, "underlining"),
                layer=Layer.UNDERLINING,
                follows=piece.name,
            )
            for piece in draft.pieces
            if piece.layer is Layer.SHELL and piece.name in MOUNTED
        )
    )
