"""The inside of a garment, cut from its shell pieces and never drafted twice.

Every part is a function from a finished draft to pieces, seams and record: `with_inside` adds to a draft those that
are wanted and whose cloth is at hand. They then are cut, laid and drawn as any other piece.
"""

from __future__ import annotations

from collections.abc import Collection

from settwright.commission.inside import Inside, Lined
from settwright.findings import Finding, Weight
from settwright.makeup.inside.body_lining import body_lining
from settwright.makeup.inside.joins import lining_seams
from settwright.makeup.inside.made import Made
from settwright.makeup.inside.sleeve_lining import sleeve_lining
from settwright.pattern.piece import Draft, Layer


def with_inside(draft: Draft, wanted: Inside, layers: Collection[Layer]) -> Draft:
    """Returns the draft with the pieces of its inside that are wanted and are cut from one of these layers.

    Stops that shell pieces need to meet them are set on these; seams and record are added.
    """
    made = Made()
    if draft.name == "jacket":
        made = _of_jacket(draft, wanted, layers)
    return made.added_to(draft)


def _of_jacket(draft: Draft, wanted: Inside, layers: Collection[Layer]) -> Made:
    made = Made()
    if Layer.LINING in layers and wanted.jacket_lining is not Lined.NONE:
        lining = body_lining(draft, half=wanted.jacket_lining is Lined.HALF).plus(sleeve_lining(draft))
        made = made.plus(lining, lining_seams(draft, lining))
    return made


def without_cloth(draft: Draft, wanted: Inside, layers: Collection[Layer]) -> tuple[Finding, ...]:
    """Returns what is wanted inside a garment but isn't in the plan, because its cloth isn't named."""
    return tuple(
        Finding(
            Weight.CAUTION,
            f"{draft.name}.inside",
            f"{what} is wanted but not in this plan nor in the cloth needed: no {layer} is named.",
            f"Begin a section [cloths.{layer}], or write {field} = {none} under [inside].",
        )
        for layer, what, field, none in _wanted(draft, wanted)
        if layer not in layers
    )


def _wanted(draft: Draft, wanted: Inside) -> list[tuple[Layer, str, str, str]]:
    """Returns what is wanted of each layer: its name, the field that asks for it, and what leaves it out."""
    found: list[tuple[Layer, str, str, str]] = []
    if draft.name == "jacket" and wanted.jacket_lining is not Lined.NONE:
        found.append((Layer.LINING, "the lining of body and sleeves", "jacket_lining", '"none"'))
    return found


__all__ = ["with_inside", "without_cloth"]
