"""The sleeve by its cut: set into the body's armhole, or cut in one with the body's pieces."""

from __future__ import annotations

from dataclasses import replace

from settwright.body import Body
from settwright.commission.design import JacketDesign, SleeveCut
from settwright.pattern.drafts.armhole import Armhole
from settwright.pattern.drafts.kimono import with_kimono
from settwright.pattern.drafts.one_piece import draft_one_piece
from settwright.pattern.drafts.parts import Parts
from settwright.pattern.drafts.raglan import with_raglan
from settwright.pattern.drafts.sleeve import draft_sleeve, sleeve_vent


def with_sleeves(shell: Parts, armhole: Armhole, body: Body, design: JacketDesign) -> Parts:
    """Returns the body's parts with the sleeve's; a raglan sleeve comes later, when the collar is on.

    A set-in sleeve is drafted from `armhole`, that of an even figure, so that both sleeves are alike: each half's own
    is as long stop by stop. It adds its pieces and seams to `shell` (`armhole.parts` tells which piece holds which
    stretch). A kimono sleeve replaces pieces and joinings of `shell` by its own; its gusset reaches as far on both
    halves.
    """
    if design.sleeve_cut is SleeveCut.RAGLAN:
        return shell
    if design.sleeve_cut is SleeveCut.KIMONO:
        return with_kimono(shell, armhole, body, design)
    draft = draft_one_piece if design.sleeve_cut is SleeveCut.ONE_PIECE else draft_sleeve
    pieces, seams, steps = draft(armhole, body, design)
    touches = (sleeve_vent(),) if design.sleeve_cut is SleeveCut.TWO_PIECE and design.sleeve_vent else ()
    return replace(
        shell,
        pieces=(*shell.pieces, *pieces),
        seams=(*shell.seams, *seams),
        touches=(*shell.touches, *touches),
        steps=(*shell.steps, *steps),
    )


def with_sleeves_from_the_neck(jacket: Parts, own: Armhole, body: Body, design: JacketDesign) -> Parts:
    """Returns the jacket, its collar on, with raglan sleeves where the design asks for them: they take a part of front,
    back and every seam at the neck."""
    if design.sleeve_cut is not SleeveCut.RAGLAN:
        return jacket
    return with_raglan(jacket, own, body, design)
