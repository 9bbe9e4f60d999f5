"""The facings by the front's style and edge, and what they join."""

from __future__ import annotations

from settwright.findings import refuse
from settwright.pattern.design import CollarStyle, FrontEdge, JacketDesign
from settwright.pattern.drafts.bodice import Bodice
from settwright.pattern.drafts.collar_lines import TurnOfCloth
from settwright.pattern.drafts.facing import draw_back_neck_facing, draw_front_facing, split_facing
from settwright.pattern.drafts.frame import Frame
from settwright.pattern.drafts.lapel import Lapel
from settwright.pattern.drafts.neckline import Neckline
from settwright.pattern.drafts.parts import Front, Joining, Parts, joining
from settwright.pattern.drafts.record import Recorder
from settwright.pattern.drafts.shawl import Shawl
from settwright.pattern.piece import Notch, Piece

_FRONT, _BACK = "front-facing", "back-neck-facing"


def draw_facings(
    r: Recorder, frame: Frame, bodice: Bodice, front: Front, design: JacketDesign, *, turn: TurnOfCloth
) -> Parts:
    """Returns front and back neck facing with their seams. Raises Refusal where the facing asked for can't be cut."""
    if front.line is None:
        return Parts()
    facing = draw_front_facing(r, frame, front.line, design, turn)
    neck_facing = draw_back_neck_facing(r, frame, bodice)
    parts = Parts(
        pieces=(facing, neck_facing),
        joinings=(
            *_at_the_edge(front, design),
            joining("facing-shoulder", (_FRONT, "shoulder"), (_BACK, "shoulder"), "neck-point", "inner"),
        ),
    )
    if design.facing_split is None:
        return parts
    return _split(parts, facing, front, design, design.facing_split)


def _at_the_edge(front: Front, design: JacketDesign) -> tuple[Joining, ...]:
    def along(name: str, edge: str, *stops: str) -> Joining:
        return joining(name, ("front", edge), (_FRONT, edge), *stops)

    edge = along("facing-front-edge", "front-edge", "hem", "split", "break-point")
    if isinstance(front.line, Lapel):
        return (
            edge,
            along("facing-lapel", "lapel", "break-point", "lapel-point"),
            along("facing-lapel-top", "lapel-top", "lapel-point", "notch"),
            joining("facing-gorge", (_FRONT, "gorge"), ("top-collar", "neck"), "notch", "neck-point"),
            joining("facing-neck", (_BACK, "neck"), ("top-collar", "neck"), "neck-point", "nape"),
        )
    if isinstance(front.line, Shawl):
        return (
            edge,
            along("facing-lapel", "lapel", "break-point", "shoulder", "collar-third", "centre-back"),
            joining("facing-centre-back", (_FRONT, "collar-centre-back"), (_FRONT, "collar-centre-back"), "outer",
                    "nape", across=True),
            joining("facing-neck", (_BACK, "neck"), (_FRONT, "collar-neck"), "neck-point", "nape"),
        )  # fmt: skip
    if isinstance(front.line, Neckline) and design.collar_style is CollarStyle.STAND:
        inner = "stand-collar-facing"
        lapped = (
            (along("facing-neckline", "neckline", "break-point", "centre-front"),)
            if front.line.edges.at_centre > 0
            else ()
        )
        return (
            edge,
            *lapped,
            joining("facing-collar-front", (_FRONT, "neckline"), (inner, "neck"), "centre-front", "neck-point"),
            joining("facing-neck", (_BACK, "neck"), (inner, "neck"), "neck-point", "nape"),
        )
    return (
        edge,
        along("facing-neckline", "neckline", "break-point", "centre-front", "neck-point"),
        joining("facing-neck", ("back", "neck"), (_BACK, "neck"), "neck-point", "nape"),
    )


def _split(parts: Parts, facing: Piece, front: Front, design: JacketDesign, below: float) -> Parts:
    if design.front_edge is FrontEdge.EXTENDED:
        raise refuse(
            "design.facing_split",
            "a facing cut in one with the front has no join.",
            'Choose a facing sewn on: front_edge = "separate".',
        )
    upper, lower = split_facing(facing, below)
    on_front = front.edges[0].path.length - below
    return Parts(
        pieces=(upper, lower, *(piece for piece in parts.pieces if piece.name != _FRONT)),
        joinings=(
            *(each for each in parts.joinings if each.name != "facing-front-edge"),
            joining("facing-front-edge", ("front", "front-edge"), (_FRONT, "front-edge"), "split", "break-point"),
            joining("facing-front-edge-lower", ("front", "front-edge"), (lower.name, "front-edge"), "hem", "split"),
            joining("facing-split", (_FRONT, "split"), (lower.name, "split"), "front-edge", "inner"),
        ),
        notches=(("front", Notch("split", "front-edge", on_front)),),
    )
