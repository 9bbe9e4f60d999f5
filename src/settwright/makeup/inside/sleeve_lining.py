"""The sleeve's lining: let out at its seams, raised under the arm over the armhole's allowance, shorter at the hem.

The head isn't raised: there the cap's own line holds. Figures are common practice, no source.
"""

from __future__ import annotations

from settwright.geometry import ORIGIN
from settwright.makeup.inside.body_lining import EASE, HEM_UP, as_lining, sleeve_off_at_facing
from settwright.makeup.inside.made import Made, step
from settwright.makeup.inside.shaping import Kept, recut
from settwright.makeup.inside.vents import with_vent_cut
from settwright.pattern.piece import Draft, Piece

SLEEVES = ("upper-sleeve", "under-sleeve", "sleeve", "front-sleeve", "back-sleeve", "gusset")
RAISE = 15.0  # under the arm: the armhole's allowance after the fitting
_SEAMS = ("hindarm", "forearm", "back-underarm", "front-underarm", "underarm")
_HEADS = ("cap", "scye", "front-cap", "back-cap")


def sleeve_lining(draft: Draft) -> Made:
    """Returns the lining of every piece of the sleeves; of a gusset as it is."""
    pieces = [piece for piece in draft.pieces if piece.name in SLEEVES]
    if not pieces:
        return Made()
    return Made(
        pieces=tuple(
            as_lining(with_vent_cut(_lined(sleeve_off_at_facing(draft, piece))), piece) for piece in pieces
        ),
        steps=(
            step("sleeve lining", "sleeve lining raised under the arm",
                 "over the armhole's allowance, which stands up there; running out at the crown", RAISE),
            step("sleeve lining", "ease of the sleeve lining in width", "2 mm let out at each edge of a seam", EASE),
        ),
    )  # fmt: skip


def _lined(piece: Piece) -> Piece:
    kept: dict[str, Kept] = {}
    count = len(piece.edges)
    for index, edge in enumerate(piece.edges):
        before, after = piece.edges[index - 1], piece.edges[(index + 1) % count]
        ends = [-HEM_UP if n.name == "hem" else RAISE if n.name in _HEADS else 0.0 for n in (before, after)]
        if edge.name in _SEAMS:
            kept[edge.name] = Kept((edge.path.end - edge.path.start).unit.right * EASE, *ends)
        elif edge.name in ("overarm", "facing"):
            kept[edge.name] = Kept(ORIGIN, *ends)
    crown = {"cap": piece.stop("cap", "shoulder-point")} if any(e.name == "cap" for e in piece.edges) else {}
    return recut(piece, kept, by_height=_HEADS if piece.name != "under-sleeve" else (), fixed=crown)
