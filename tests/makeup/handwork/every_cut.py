"""Every cut that the drafts can draw, made up: what the tests of the handwork walk through."""

from __future__ import annotations

from functools import cache

from settwright.commission.design import (
    Closing,
    FrontEdge,
    FrontStyle,
    JacketDesign,
    SkirtDesign,
    TrousersDesign,
    TrousersWaist,
)
from settwright.commission.inside import Inside
from settwright.makeup import Hand, MadeUp, MakeUpCloths, Stage, make_up
from settwright.pattern import Draft
from settwright.pattern.drafts.jacket import draft_jacket
from settwright.pattern.drafts.skirt import draft_skirt
from settwright.pattern.drafts.trousers import draft_trousers
from tests.pattern.front_styles import body_of
from tools.cuts import CUTS

TROUSERS = {
    "trousers": TrousersDesign(),
    "trousers, pleats": TrousersDesign(pleats=2),
    "trousers, whole band": TrousersDesign(waist=TrousersWaist.BAND_WHOLE),
    "trousers, ribbon, no pockets": TrousersDesign(waist=TrousersWaist.RIBBON, pockets=False),
}
_V, _CROSSED = FrontStyle.V_NECK, FrontStyle.CROSSED
EDGES = {
    "split": JacketDesign(front_edge=FrontEdge.SPLIT),
    "split at a button, rounded": JacketDesign(front_edge=FrontEdge.SPLIT, split_button=3, front_hem_radius=40.0),
    "split, shawl": JacketDesign(front_edge=FrontEdge.SPLIT, front_style=FrontStyle.SHAWL, buttons=2),
    "split, peaked, double": JacketDesign(
        front_edge=FrontEdge.SPLIT, front_style=FrontStyle.PEAKED, closing=Closing.DOUBLE
    ),
    "split, V": JacketDesign(front_edge=FrontEdge.SPLIT, front_style=_V),
    "extended, V, rounded": JacketDesign(front_edge=FrontEdge.EXTENDED, front_style=_V, front_hem_radius=40.0),
    "extended, crossed": JacketDesign(front_edge=FrontEdge.EXTENDED, front_style=_CROSSED, buttons=2),
    "extended, round": JacketDesign(front_edge=FrontEdge.EXTENDED, front_style=FrontStyle.ROUND_NECK, buttons=5),
    "to the neck": JacketDesign(front_edge=FrontEdge.TO_NECK, front_style=_V),
    "to the neck, crossed": JacketDesign(front_edge=FrontEdge.TO_NECK, front_style=_CROSSED, buttons=2),
}
FOLDED = "side-panel-folded"
SUIT = "suit"
NAMES = (*dict.fromkeys([*(cut.name for cut in CUTS), *TROUSERS, *EDGES]), SUIT)


def edge_of(name: str) -> FrontEdge:
    """Returns how the front edge of a cut is finished."""
    return EDGES[name].front_edge if name in EDGES else FrontEdge.EXTENDED if name == FOLDED else FrontEdge.SEPARATE


@cache
def drafted(name: str) -> tuple[Draft, ...]:
    """Returns the drafts of a cut on the middle body."""
    body = body_of("middle")
    if name in TROUSERS:
        return (draft_trousers(body, TROUSERS[name]),)
    if name in EDGES:
        return (draft_jacket(body, EDGES[name], 1.0),)
    if name == SUIT:
        return (draft_jacket(body, JacketDesign(), 1.0), draft_skirt(body, SkirtDesign(), 230.0))
    return (next(cut for cut in CUTS if cut.name == name).draft(body),)


@cache
def made(name: str) -> MadeUp:
    """Returns a cut as it is made up, its linings cut too."""
    return make_up(
        drafted(name),
        front_edge=edge_of(name),
        front_laps_over=Hand.RIGHT,
        stage=Stage.BEFORE_FITTING,
        cloths=MakeUpCloths(lining="lining"),
        thickness=1.0,
        inside=Inside(),
    )
