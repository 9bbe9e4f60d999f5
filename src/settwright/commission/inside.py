"""What the person chooses of a garment's inside; every default is a custom of the trade."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from settwright.commission.desk import Desk
from settwright.commission.document import InsideForm


class Lined(StrEnum):
    """How far a jacket is lined."""

    FULL = "full"
    HALF = "half"  # fronts, sides and sleeves whole, the back over the shoulders only
    NONE = "none"


class Canvas(StrEnum):
    """How far the front's canvas reaches."""

    FULL = "full"  # to the hem
    HALF = "half"  # to below the chest
    NONE = "none"


class LegLining(StrEnum):
    """Which halves of the trousers are lined, to below the knee."""

    BOTH = "fronts and backs"
    FRONTS = "fronts"
    NONE = "none"


@dataclass(frozen=True, slots=True)
class Inside:
    """What is wanted inside; a part is cut when its cloth is named."""

    jacket_lining: Lined = Lined.FULL
    skirt_lining: bool = True
    trousers_lining: LegLining = LegLining.FRONTS
    canvas: Canvas = Canvas.FULL
    underlining: bool = False


def read_inside(desk: Desk, form: InsideForm) -> Inside:
    """Returns what is wanted inside; words that can't be read are noted at the desk."""
    usual = Inside()
    jacket, legs, canvas = usual.jacket_lining, usual.trousers_lining, usual.canvas
    if form.jacket_lining is not None:
        jacket = desk.word(("inside", "jacket_lining"), form.jacket_lining, Lined, "way of lining a jacket") or jacket
    if form.trousers_lining is not None:
        legs = desk.word(("inside", "trousers_lining"), form.trousers_lining, LegLining, "way of lining legs") or legs
    if form.canvas is not None:
        canvas = desk.word(("inside", "canvas"), form.canvas, Canvas, "reach of the canvas") or canvas
    return Inside(
        jacket_lining=jacket,
        skirt_lining=form.skirt_lining is not False,
        trousers_lining=legs,
        canvas=canvas,
        underlining=bool(form.underlining),
    )
