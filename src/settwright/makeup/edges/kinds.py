"""Which kinds of facing are possible on a front's edge, and what each means in bulk, cloth, hours and looks.

All of it follows from the edge as it is drafted and the allowances of the trade. Hours are about right for one who
has done it before: common practice, no source.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence
from dataclasses import dataclass

from settwright.commission.design import FacingGrain, FrontEdge, FrontStyle, JacketDesign, SleeveCut
from settwright.makeup.allowances import EDGE, SEAM
from settwright.makeup.edges.shaping import Shaping, Way
from settwright.pattern import Piece

_SEWN = 12 / 100  # minutes a millimetre: baste, sew, grade, turn, baste again
_FOLDED = 5 / 100  # stay the fold, baste it
_JOIN = 15.0  # minutes a join
_MINUTES = {Way.AS_IT_LIES: 0.0, Way.IRON: 2.0, Way.STRETCH: 6.0, Way.EASE: 6.0, Way.NOT: 0.0}  # a station
_HANDS = 2
_SEAM_LAYERS, _FOLD_LAYERS = 2, 1  # of each cloth at the edge: itself, and at a seam its allowance turned in


@dataclass(frozen=True)
class EdgeKind:
    """A kind of facing on this edge. Thicknesses and lengths in mm."""

    kind: FrontEdge
    title: str
    is_chosen: bool
    hindrance: str  # why it can't be had here; empty: it can
    layers: tuple[int, int]  # of cloth at the edge, above the break point and below it
    thickness: tuple[float, float]  # of those, unpressed and without stays
    sewn: float  # length of edge that is sewn, of one front
    folded: float  # length that is a fold
    cloth: float  # length of the front's cloth, full width, more (or less) than a facing sewn on, by area, both fronts
    hours: float  # about, both fronts, the shaping chosen included
    reads: str  # how the lapel, or the neck's edge, reads


def edge_kinds(
    front: Piece,
    design: JacketDesign,
    *,
    thickness: tuple[float, float],
    room: float,
    shaping: Sequence[Shaping] = (),
    other_cloth: float = 0.0,
) -> tuple[EdgeKind, ...]:
    """Returns the kinds of facing, each possible or with what hinders it.

    `front` is the front as drafted, without its facing; `thickness` that of the shell and of the facing's cloth;
    `room` the cloth's width between the selvedges; `shaping` what the facing chosen asks; `other_cloth` the area of a
    facing that is sewn on from another cloth, which cut in one it would take from the front's.
    """
    edge = front.edge("front-edge").path
    upper = _upper(front)
    straight = _straight(front)
    minutes = sum(_MINUTES[station.way] for each in shaping for station in each.stations) * _HANDS
    joins = sum(field is not None for field in (design.facing_split, design.split_button, design.second_split))

    def kind(
        which: FrontEdge, title: str, folded: float, joined: int, upper_folds: bool, *, wedge: float = 0.0
    ) -> EdgeKind:
        sewn = edge.length + upper - folded
        layers = (_layers(upper_folds), _layers(folded > 0))
        saved = 2 * EDGE.before * folded - (wedge or joined * 2 * SEAM.before * _DEPTH)
        saved -= other_cloth * folded / (edge.length + upper)
        about = _HANDS * (sewn * _SEWN + folded * _FOLDED + joined * _JOIN)
        return EdgeKind(
            kind=which,
            title=title,
            is_chosen=design.front_edge is which,
            hindrance=_hindrance(which, design, straight),
            layers=layers,
            thickness=(_thick(upper_folds, thickness), _thick(folded > 0, thickness)),
            sewn=sewn,
            folded=folded,
            cloth=-_HANDS * saved / room,
            hours=(about + (0.0 if which.is_in_one else minutes)) / 60,
            reads=_reads(which, design),
        )

    is_lapel = design.front_style in _LAPELS
    to_lapel = upper if is_lapel else 0.0
    # below a split some 90 mm of the straight part are sewn too
    lower = max(0.0, min(straight, edge.length - _TO_SPLIT))
    separate = joins if design.front_edge is FrontEdge.SEPARATE else 0
    return (
        kind(FrontEdge.SEPARATE, "Separate: sewn on", 0.0, separate, False),
        kind(FrontEdge.SPLIT, "Split: lapel sewn on, below it in one", lower, 1, False),
        kind(FrontEdge.EXTENDED, "Extended: cut in one, a fold", straight + to_lapel, 0, is_lapel),
        kind(
            FrontEdge.TO_NECK, "Extended to the neck: the neck's edge a fold too", straight + upper, 1, True,
            wedge=_wedge(front),
        ),
    )  # fmt: skip


_LAPELS = (FrontStyle.NOTCHED, FrontStyle.PEAKED)
_DEPTH = 75.0  # of a facing at a join
_TO_SPLIT = 90.0  # from the break point down to a split
_LEAST = 60.0  # a shorter fold isn't worth cutting in one


def _layers(is_fold: bool) -> int:
    return 2 * (_FOLD_LAYERS if is_fold else _SEAM_LAYERS)


def _thick(is_fold: bool, thickness: tuple[float, float]) -> float:
    return thickness[0] * 2 if is_fold else sum(thickness) * _SEAM_LAYERS


def _upper(front: Piece) -> float:
    """Returns the length of the edge above the break point: lapel or neckline."""
    return sum(edge.path.length for edge in front.edges if edge.name in ("lapel", "neckline"))


def _straight(front: Piece) -> float:
    """Returns the length of the front edge's straight part below the break point."""
    segments = front.edge("front-edge").path.segments
    runs = [list(run) for is_straight, run in itertools.groupby(segments, lambda s: s.is_straight) if is_straight]
    return max((sum(segment.length for segment in run) for run in runs), default=0.0)


def _wedge(front: Piece) -> float:
    """Returns the area of the fold across a facing that folds over at front edge and neck: twice the edge's turning."""
    break_point = front.edge("front-edge").path.end
    neck = next((edge.path.end for edge in front.edges if edge.name == "neckline"), break_point)
    turn = 2 * abs(math.atan2(neck.x - break_point.x, neck.y - break_point.y))
    return math.sin(min(turn, math.pi / 2)) * _DEPTH**2 / 2


def _hindrance(kind: FrontEdge, design: JacketDesign, straight: float) -> str:
    if kind is FrontEdge.SEPARATE:
        return ""
    style = design.front_style
    hindrances = (
        (design.waist_seam, "a waist seam would cut the facing off from its front"),
        (straight < _LEAST, "too little of the edge is straight to be a fold"),
        (style is FrontStyle.SHAWL and kind.is_in_one, "a shawl's edge curves from the break point on"),
        (kind is not FrontEdge.TO_NECK, ""),
        (design.sleeve_cut is SleeveCut.RAGLAN, "a raglan sleeve takes the end of the neck with it"),
        (style in (FrontStyle.V_NECK, FrontStyle.CROSSED), ""),
        (style is FrontStyle.ROUND_NECK, "a round neck's edge curves"),
    )
    leans = "above the top button the lapel's edge leans outwards, where cloth is wanting for a fold"
    return next((told for hinders, told in hindrances if hinders), leans)


def _reads(kind: FrontEdge, design: JacketDesign) -> str:
    grain = design.facing_grain
    lapel = design.front_style in (*_LAPELS, FrontStyle.SHAWL)
    rounded = "; rounded below: a dart at the fold's lower end" if design.front_hem_radius > 0 else ""
    if kind is FrontEdge.TO_NECK:
        return (
            "drawn with a straight neck's edge, without a seam; the facing is folded at the top button, its fold cut"
            f" open for the hole's back, and lies askew above it{rounded}"
        )
    if kind is FrontEdge.EXTENDED:
        told = (
            "drawn with a straight edge; upright bars run along it, level bars go over the fold without a seam"
            if lapel
            else "level bars go over the fold without a seam; the neck's edge is sewn"
        )
        return told + rounded
    if grain is FacingGrain.ALONG:
        told = "one upright bar follows the whole edge"
    elif grain is FacingGrain.ACROSS:
        told = "the weft's bars follow the edge, as a rib would"
    else:
        told = "upright bars cross the edge where it leans" if lapel else "upright bars run out at the edge"
    return told + ("; the join lies under the turn, at a button" if kind is FrontEdge.SPLIT else "")
