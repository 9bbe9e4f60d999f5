"""The inside of a garment, cut from its shell pieces and never drafted twice.

Every part is a function from a finished draft to pieces, seams and record: `with_inside` adds to a draft those that
are wanted and whose cloth is at hand. They then are cut, laid and drawn as any other piece.
"""

from __future__ import annotations

from collections.abc import Callable, Collection
from dataclasses import dataclass

from settwright.commission.inside import Canvas, Inside, LegLining, Lined
from settwright.findings import Finding, Weight
from settwright.geometry.tolerances import HAND
from settwright.makeup.inside.body_lining import body_lining
from settwright.makeup.inside.canvas import canvas, chest_pieces
from settwright.makeup.inside.facing_edge import front_edge
from settwright.makeup.inside.joins import lining_seams
from settwright.makeup.inside.made import Made
from settwright.makeup.inside.pockets import pocketing, welt_canvas
from settwright.makeup.inside.skirt_lining import skirt_lining
from settwright.makeup.inside.sleeve_lining import sleeve_lining
from settwright.makeup.inside.stays import back_stay, hem_strips, shoulder_pad, sleeve_head
from settwright.makeup.inside.trousers_lining import trousers_lining
from settwright.makeup.inside.underlining import underlining
from settwright.pattern.piece import Draft, Layer


@dataclass(frozen=True)
class _Part:
    """A part of the inside: which garment has it, in which cloth, whether it is wanted, and how it is cut."""

    garment: str
    layer: Layer
    what: str  # in a sentence of the plan
    made: Callable[[Draft, Inside], Made]
    field: str = ""  # of the commission's [inside], that leaves it out
    without: str = ""  # the word there that does
    is_wanted: Callable[[Inside], bool] = lambda wanted: True
    is_quiet: bool = False  # bought ready as often as cut: nothing is said where its cloth isn't named


_PARTS: tuple[_Part, ...] = (
    _Part("jacket", Layer.LINING, "the lining of body and sleeves",
          lambda draft, wanted: body_lining(draft, half=wanted.jacket_lining is Lined.HALF).plus(sleeve_lining(draft)),
          "jacket_lining", '"none"', lambda wanted: wanted.jacket_lining is not Lined.NONE),
    _Part("jacket", Layer.INTERLINING, "canvas and hem strips",
          lambda draft, wanted: canvas(draft, wanted.canvas).plus(hem_strips(draft), welt_canvas(draft)),
          "canvas", '"none"', lambda wanted: wanted.canvas is not Canvas.NONE),
    _Part("jacket", Layer.HAIRCLOTH, "chest and shoulder pieces", lambda draft, wanted: chest_pieces(draft),
          "canvas", '"none"', lambda wanted: wanted.canvas is not Canvas.NONE),
    _Part("jacket", Layer.POCKETING, "the back's stay and pocket bags",
          lambda draft, wanted: back_stay(draft).plus(pocketing(draft)), is_quiet=True),
    _Part("jacket", Layer.WADDING, "sleeve heads and shoulder pads",
          lambda draft, wanted: sleeve_head(draft).plus(shoulder_pad(draft)), is_quiet=True),
    _Part("skirt", Layer.LINING, "the skirt's lining", lambda draft, wanted: skirt_lining(draft),
          "skirt_lining", "false", lambda wanted: wanted.skirt_lining),
    _Part("trousers", Layer.LINING, "the trousers' lining",
          lambda draft, wanted: trousers_lining(draft, wanted.trousers_lining),
          "trousers_lining", '"none"', lambda wanted: wanted.trousers_lining is not LegLining.NONE),
    _Part("trousers", Layer.POCKETING, "pocket bags", lambda draft, wanted: pocketing(draft), is_quiet=True),
    *(
        _Part(garment, Layer.UNDERLINING, "the underlining", lambda draft, wanted: underlining(draft),
              "underlining", "false", lambda wanted: wanted.underlining)
        for garment in ("jacket", "skirt", "trousers")
    ),
)  # fmt: skip


def with_inside(draft: Draft, wanted: Inside, layers: Collection[Layer]) -> Draft:
    """Returns the draft with the pieces of its inside that are wanted and are cut from one of these layers.

    Stops that shell pieces need to meet them are set on these; seams and record are added.
    """
    made = Made()
    for part in _PARTS:
        if part.garment == draft.name and part.layer in layers and part.is_wanted(wanted):
            own = part.made(draft, wanted)
            made = made.plus(own, lining_seams(draft, own) if part.layer is Layer.LINING else Made())
    return made.added_to(draft)


def inside_findings(draft: Draft, wanted: Inside, layers: Collection[Layer]) -> tuple[Finding, ...]:
    """Returns what there is to say of a garment's inside: above all what is wanted but has no cloth named."""
    found: list[Finding] = []
    edge = front_edge(draft) if Layer.LINING in layers and wanted.jacket_lining is not Lined.NONE else None
    if edge is not None and edge.forward > HAND:
        found.append(
            Finding(
                Weight.NOTE,
                "front-facing.inner",
                "reaches so near the princess seam that the lining meets it farther forward, by"
                f" {edge.forward:.0f} mm at the hem, running out at the shoulder.",
                "Trim the facing to the lining's edge when the two are sewn.",
            )
        )
    for part in _PARTS:
        if part.garment != draft.name or part.layer in layers or not part.is_wanted(wanted):
            continue
        what = part.what[0].upper() + part.what[1:]
        instead = f", or leave it out (inside.{part.field} = {part.without})" if part.field else ""
        found.append(
            Finding(
                Weight.NOTE if part.is_quiet else Weight.CAUTION,
                f"{draft.name}.inside",
                f"{what}: not in this plan nor in the cloth needed, because no {part.layer} is named.",
                f"Name one among the cloths{instead}.",
            )
        )
    return tuple(found)


__all__ = ["inside_findings", "with_inside"]
