"""Every cut of the trade on bodies of every kind, with its inside."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

from settwright.commission.design import BodyCut, Closing, FrontStyle, JacketDesign, SleeveCut
from settwright.commission.inside import Inside
from settwright.makeup.inside import with_inside
from settwright.pattern import Draft, Layer, Piece
from tests.pattern.front_styles import body_of
from tools.cuts import CUTS, jacket

PLAIN = JacketDesign()
BESIDES = (  # of interest to what lies inside, and not on the list of cuts
    jacket(
        "shawl-split-facing",
        "Shawl, its facing in two parts",
        replace(PLAIN, front_style=FrontStyle.SHAWL, closing=Closing.DOUBLE, buttons=2, facing_split=60.0),
    ),
    jacket(
        "sleeve-kimono-princess",
        "Kimono with princess seams",
        replace(PLAIN, body_cut=BodyCut.PRINCESS_SHOULDER, sleeve_cut=SleeveCut.KIMONO),
    ),
    jacket("sleeve-raglan-side-panel", "Raglan on a side panel", replace(PLAIN, sleeve_cut=SleeveCut.RAGLAN)),
)
JACKETS = {cut.name: cut for cut in (*CUTS, *BESIDES) if not cut.name.startswith(("skirt", "trousers"))}
EVERY = Inside()


@cache
def shell(body: str, cut: str) -> Draft:
    """Returns the draft of a jacket by its cut."""
    return JACKETS[cut].draft(body_of(body))


@cache
def whole(body: str, cut: str) -> Draft:
    """Returns the draft with everything inside."""
    return with_inside(shell(body, cut), EVERY, tuple(Layer))


def of_layer(draft: Draft, *layers: Layer) -> list[Piece]:
    """Returns the pieces of some layers."""
    return [piece for piece in draft.pieces if piece.layer in layers]
