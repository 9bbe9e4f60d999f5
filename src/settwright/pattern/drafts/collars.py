"""The collar by its style, and what it joins."""

from __future__ import annotations

from settwright.commission.design import CollarStyle, JacketDesign
from settwright.pattern.drafts.bodice import Bodice
from settwright.pattern.drafts.collar import draw_collar
from settwright.pattern.drafts.collar_lines import TurnOfCloth, WornEdge, third_of
from settwright.pattern.drafts.frame import Frame
from settwright.pattern.drafts.lapel import Lapel
from settwright.pattern.drafts.neckline import Neckline
from settwright.pattern.drafts.parts import Front, Parts, joining
from settwright.pattern.drafts.record import Recorder
from settwright.pattern.drafts.shawl import Shawl
from settwright.pattern.drafts.stand_collar import draw_stand_collar
from settwright.pattern.piece import Line, LineKind, Meeting, Notch, Side, Touch


def draw_collars(
    r: Recorder, frame: Frame, bodice: Bodice, front: Front, design: JacketDesign, *, turn: TurnOfCloth
) -> Parts:
    """Returns the collar's pieces, their seams to front, back and one another, and where they lie on the back."""
    if isinstance(front.line, Lapel):
        return _turned_down(r, frame, bodice, front.line, turn)
    if isinstance(front.line, Shawl):
        turn.keep(r)
        return _of_shawl(front.line)
    if isinstance(front.line, Neckline) and design.collar_style is CollarStyle.STAND:
        return _standing(r, bodice, front.line, design, turn)
    return Parts()


def _turned_down(r: Recorder, frame: Frame, bodice: Bodice, lapel: Lapel, turn: TurnOfCloth) -> Parts:
    collar = draw_collar(r, frame, bodice, lapel, turn)
    both = ("under-collar", "top-collar")
    return Parts(
        pieces=(collar.under, collar.top),
        joinings=(
            joining("under-collar-centre-back", ("under-collar", "centre-back"), ("under-collar", "centre-back"),
                    "outer", "nape", across=True),
            joining("gorge", ("front", "gorge"), ("under-collar", "neck"), "notch", "neck-point"),
            joining("neck", ("back", "neck"), ("under-collar", "neck"), "neck-point", "nape"),
            joining("collar-outer", (both[0], "outer"), (both[1], "outer"), "centre-back", "shoulder", "collar-point"),
            joining("collar-end", (both[0], "end"), (both[1], "end"), "collar-point", "notch"),
        ),
    ).plus(_lying_on_the_back(collar.worn, Side("top-collar", "outer")))  # fmt: skip


def _of_shawl(shawl: Shawl) -> Parts:
    return Parts(
        joinings=(
            joining("under-collar-centre-back", ("front", "collar-centre-back"), ("front", "collar-centre-back"),
                    "outer", "nape", across=True),
            joining("neck", ("back", "neck"), ("front", "collar-neck"), "neck-point", "nape"),
        ),
    ).plus(_lying_on_the_back(shawl.worn, Side("front-facing", "lapel")))  # fmt: skip


def _lying_on_the_back(worn: WornEdge, outer: Side) -> Parts:
    stops = ("centre-back", "collar-third", "shoulder")
    third = third_of(worn.on_back.length)
    return Parts(
        touches=(Touch("collar-on-back", Meeting.OVERLAY, outer, Side("back", "collar-edge"), stops),),
        lines=(("back", Line("collar-edge", LineKind.PLACE, worn.on_back, "centre-back", "shoulder")),),
        notches=(("back", Notch("collar-third", "collar-edge", third)),),
    )


def _standing(r: Recorder, bodice: Bodice, neckline: Neckline, design: JacketDesign, turn: TurnOfCloth) -> Parts:
    edges = neckline.edges
    pieces = draw_stand_collar(r, bodice.back_neck.length, edges.edge.length - edges.at_centre, design, turn)
    both = ("stand-collar", "stand-collar-facing")
    halved = tuple(
        joining(f"{piece}-centre-back", (piece, "centre-back"), (piece, "centre-back"), "outer", "nape", across=True)
        for piece in both
        if design.stand_halves
    )
    return Parts(
        pieces=pieces,
        joinings=(
            *halved,
            joining("stand-collar-back", ("back", "neck"), (both[0], "neck"), "neck-point", "nape"),
            joining("stand-collar-front", ("front", "neckline"), (both[0], "neck"), "centre-front", "neck-point"),
            joining("collar-outer", (both[0], "outer"), (both[1], "outer"), "centre-back", "front-end"),
            joining("collar-end", (both[0], "end"), (both[1], "end"), "front-end", "centre-front"),
        ),
    )  # fmt: skip
