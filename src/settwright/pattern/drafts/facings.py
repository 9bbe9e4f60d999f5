"""The facings by the front's style and edge, and what they join."""

from __future__ import annotations

from settwright.commission.design import BodyCut, CollarStyle, FrontEdge, JacketDesign
from settwright.findings import refuse
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

_CLEAR_OF_TURN = 62.0  # below the break point the edge turns into the lapel over so much
_SPLIT = 90.0  # below the break point, where no button says where
_FRONT, _BACK = "front-facing", "back-neck-facing"


def draw_facings(
    r: Recorder, frame: Frame, bodice: Bodice, front: Front, design: JacketDesign, *, turn: TurnOfCloth
) -> Parts:
    """Returns front and back neck facing with their seams. Raises Refusal where the facing asked for can't be cut."""
    if front.line is None:
        return Parts()
    if design.body_cut is BodyCut.PRINCESS_SHOULDER:
        r.found("princess seam on the shoulder", "front facing", "from the neck point", bodice.shoulder_part)
    facing = draw_front_facing(r, frame, front.line, design, turn)
    neck_facing = draw_back_neck_facing(r, frame, bodice)
    parts = Parts(
        pieces=(facing, neck_facing),
        joinings=(
            *_at_the_edge(front, design),
            joining("facing-shoulder", (_FRONT, "shoulder"), (_BACK, "shoulder"), "neck-point", "inner"),
        ),
    )
    below = _below(front, design)
    return parts if below is None else _split(parts, facing, front, design, below)


def _below(front: Front, design: JacketDesign) -> float | None:
    """Returns how far below the break point a facing is joined; None where it is in one."""
    edge = front.edges[0].path
    break_level = edge.end.y
    if design.split_button is not None:
        if not 1 <= design.split_button <= len(front.buttons):
            raise refuse(
                "design.split_button",
                f"the front has no button {design.split_button} to join the facing at.",
                f"Choose 1 to {len(front.buttons)}." if front.buttons else "Give the join's place as a length.",
            )
        return break_level - front.buttons[design.split_button - 1].y
    if design.facing_split is not None or design.front_edge is not FrontEdge.SPLIT:
        return design.facing_split
    lower = [break_level - button.y for button in front.buttons if break_level - button.y > _CLEAR_OF_TURN]
    return lower[0] if lower else _SPLIT


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
    if design.front_edge.is_in_one:
        raise refuse(
            "design.facing_split",
            "a facing cut in one with the front all along has no join.",
            'Choose front_edge = "split", or a facing sewn on: front_edge = "separate".',
        )
    upper, lower = split_facing(facing, below, "front-facing-lower", "Front facing, lower part", "split")
    if design.front_edge is FrontEdge.SPLIT and below < _CLEAR_OF_TURN:
        raise refuse(
            "design.facing_split",
            f"{below:.0f} mm below the break point the edge still turns into the lapel, where it can't be a fold.",
            f"Join it at least {_CLEAR_OF_TURN:.0f} mm below, such as at the second button.",
        )
    if design.second_split is not None:
        return _twice(parts, (upper, lower), front, design, (below, design.second_split))
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


def _twice(
    parts: Parts, split: tuple[Piece, Piece], front: Front, design: JacketDesign, places: tuple[float, float]
) -> Parts:
    """Returns the parts of a separate facing joined twice, the second join so far below the first."""
    (upper, lower), (below, second) = split, places
    if design.front_edge is FrontEdge.SPLIT:
        raise refuse(
            "design.second_split",
            "the lower part of a split facing is cut in one with the front, so there is nothing to join below.",
            'Take it out, or choose front_edge = "separate".',
        )
    middle, lowest = split_facing(lower, second, "front-facing-lowest", "Front facing, lowest part", "second-split")
    on_front = front.edges[0].path.length - below
    return Parts(
        pieces=(upper, middle, lowest, *(piece for piece in parts.pieces if piece.name != _FRONT)),
        joinings=(
            *(each for each in parts.joinings if each.name != "facing-front-edge"),
            joining("facing-front-edge", ("front", "front-edge"), (_FRONT, "front-edge"), "split", "break-point"),
            joining("facing-front-edge-lower", ("front", "front-edge"), (middle.name, "front-edge"),
                    "second-split", "split"),
            joining("facing-front-edge-lowest", ("front", "front-edge"), (lowest.name, "front-edge"),
                    "hem", "second-split"),
            joining("facing-split", (_FRONT, "split"), (middle.name, "split"), "front-edge", "inner"),
            joining("facing-second-split", (middle.name, "second-split"), (lowest.name, "second-split"),
                    "front-edge", "inner"),
        ),
        notches=(
            ("front", Notch("split", "front-edge", on_front)),
            ("front", Notch("second-split", "front-edge", on_front - second)),
        ),
    )  # fmt: skip
