"""Whether the outer layer of collar and lapel is large enough to lie over the inner one.

The drafts give the turn of cloth; here it is measured on the pieces, because nothing shows it until the collar
refuses to turn.
"""

from __future__ import annotations

import math

from settwright.findings import Finding, Weight
from settwright.geometry.tolerances import WALK
from settwright.pattern import Draft


def turn_findings(draft: Draft, thickness: float) -> tuple[Finding, ...]:
    """Returns what there is to say of the turn of cloth, for a shell cloth of that thickness.

    Round a fold the outer layer needs π × the distance between the two layers' middles more (geometry; 1 mm of cloth
    takes 3.1 mm, the workroom's 1/8 in).
    """
    pieces = {piece.name: piece for piece in draft.pieces}
    if not {"top-collar", "under-collar"} <= set(pieces):
        return ()
    top, under = (pieces[name].edge("centre-back").path.length for name in ("top-collar", "under-collar"))
    needed, given = math.pi * thickness, top - under
    if given < needed - WALK:
        return (
            Finding(
                Weight.CAUTION,
                "top-collar.centre-back",
                f"is {given:.1f} mm deeper than the under collar; this cloth needs {needed:.1f} mm to turn.",
                "Cut the top collar's outer edge wider by the difference, and less at its ends.",
            ),
        )
    return (
        Finding(
            Weight.NOTE,
            "top-collar.centre-back",
            f"is {given:.1f} mm deeper than the under collar: {needed:.1f} mm for the turn, the rest to roll the seam"
            " under.",
        ),
    )
