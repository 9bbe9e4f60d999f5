"""The trousers' lining: fronts, or fronts and backs, from the waist to below the knee.

Pleats and darts are laid as the shell's. Figures are common practice, no source.
"""

from __future__ import annotations

from dataclasses import replace

from settwright.commission.inside import LegLining
from settwright.geometry import Path, Point
from settwright.makeup.inside.body_lining import EASE, as_lining
from settwright.makeup.inside.made import Made, step
from settwright.makeup.inside.shaping import Kept, cut_off, recut
from settwright.pattern.piece import Draft, Piece

BELOW_KNEE = 60.0
_SHELL_ONLY = ("pocket-line", "fly-stitching", "crease", "thigh")


def trousers_lining(draft: Draft, wanted: LegLining) -> Made:
    """Returns the lining of the legs."""
    names = {
        LegLining.BOTH: ("trousers-front", "trousers-back"),
        LegLining.FRONTS: ("trousers-front",),
        LegLining.NONE: (),
    }[wanted]
    made = tuple(_lined(piece) for piece in draft.pieces if piece.name in names)
    return Made(
        pieces=made,
        steps=(
            step("trousers lining", "lining below the knee", "its lower edge hangs free, pinked", BELOW_KNEE),
            step("trousers lining", "ease of the lining in width", "2 mm let out at the side seam", EASE),
        )
        if made
        else (),
    )


def _lined(piece: Piece) -> Piece:
    knee = next(line.path for line in piece.lines if line.name == "knee")
    level = knee.start.y - BELOW_KNEE
    xs = [p.x for p in piece.outline.points(1.0)]
    upper = cut_off(piece, Path.line(Point(min(xs), level), Point(max(xs), level)), "lower-end")
    chord = upper.edge("side").path.end - upper.edge("side").path.start
    let_out = recut(upper, {"side": Kept(chord.unit.right * EASE)})
    kept = tuple(line for line in let_out.lines if line.name not in _SHELL_ONLY)
    return as_lining(replace(let_out, lines=kept), piece)
