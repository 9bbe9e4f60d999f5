"""From drafts to what is cut and how it goes together: instances with cutting lines, seams with matched points."""

from __future__ import annotations

from collections.abc import Set
from dataclasses import dataclass, replace
from functools import lru_cache

from settwright.cloth.give import WOOL, Give
from settwright.commission.design import FacingGrain, FrontEdge
from settwright.commission.inside import Inside
from settwright.findings import Finding, Weight, refuse
from settwright.makeup.allowances import allowances_of, plain_name
from settwright.makeup.closures import (
    Fastenings,
    closure_findings,
    closures_of,
    lip_joins,
    with_buttonholes,
    with_openings,
)
from settwright.makeup.covers import button_covers, cover_joins
from settwright.makeup.cutting import CuttingLine, MirrorImage, mirror_image, seam_polygon
from settwright.makeup.edges.saying import shaping_findings
from settwright.makeup.edges.shaped import ShapedFacing, rectangle_round, with_shaped_facings
from settwright.makeup.facing import LOWER, with_extended_facing
from settwright.makeup.handwork.order import order_of_work
from settwright.makeup.handwork.stitching import stitching
from settwright.makeup.inside import inside_findings, with_inside
from settwright.makeup.model import BY_THE_LENGTH, CutPiece, Drawn, Hand, MadeUp, MakeUpCloths, SewnPair, Stage
from settwright.makeup.turn_of_cloth import turn_findings
from settwright.makeup.walking import walk_findings, walked
from settwright.pattern import Cut, Draft, Layer, Meeting, Piece, Seam, Side, Touch
from settwright.units import Units

_HANDS = (Hand.RIGHT, Hand.LEFT)
_ROUNDED = 0.01  # millimetres by which two halves may miss one another on their fold
# cut from cloth that bars could be matched on, but out of sight, or by custom cut wherever there is room
_HIDDEN = (
    *("under-collar", "stand-collar-facing", "back-neck-facing", "front-facing-lower", "flap-lining"),
    "pocket-mouth-facing",
    *("top-front", "top-back", "fly-facing", "fly-placket", "fly-shield", "pocket-facing"),
)
_FREE = (*_HIDDEN, "jetting-upper", "jetting-lower", "waistband", "trousers-waistband", "gusset")
# whole pieces that may come from a draft as a half, and their fold
_FOLDS = ("centre-back", "centre-front")


_with_inside = lru_cache(maxsize=8)(with_inside)
"""Kept for the latest drafts: another garment's choice leaves the inside as it is."""


def make_up(
    drafts: tuple[Draft, ...],
    *,
    front_edge: FrontEdge,
    front_laps_over: Hand,
    stage: Stage,
    cloths: MakeUpCloths,
    thickness: float,
    facing_grain: FacingGrain = FacingGrain.AS_CUT,
    give: Give = WOOL,
    inside: Inside | None = None,
    fastenings: Fastenings = Fastenings(),  # noqa: B008  a frozen value
    units: Units = Units.CM,
) -> MadeUp:
    """Returns everything that is cut for the ensemble at a stage, and how it goes together.

    `front_laps_over` is the front that lies over the other when buttoned; a lap's side a is that front. `thickness`
    is that of the shell cloth, `give` what the facing's cloth takes under the iron, `inside` what is wanted inside (or
    None), `units` those in which findings speak. Raises Refusal where an extended facing is asked of a curved
    front edge.
    """
    ready = _Ready(cloths, front_edge, facing_grain, give, inside)
    lefts = {draft.name: ready.made((draft.of_left,)) for draft in drafts if draft.left}
    drafts, made, shaped = ready.made(drafts)
    # what follows from the left half's shape has its own, too
    drafts = tuple(d.with_left(lefts[d.name][0][0]) if d.name in lefts else d for d in drafts)
    made = tuple(d.with_left(lefts[d.name][1][0]) if d.name in lefts else d for d in made)
    pieces, of_pieces = _cut(made, cloths, stage, {facing.cut.name for facing in shaped})
    pieces = with_buttonholes(pieces, front_laps_over, fastenings)
    sewn, of_seams = _sewn(made, pieces, front_laps_over)
    sewn = (*sewn, *lip_joins(pieces))
    pieces = with_openings(pieces, sewn)
    of_drafts = [
        *(found for draft in drafts for found in turn_findings(draft, thickness, units)),
        *(found for draft in drafts for found in (inside_findings(draft, inside, cloths.layers) if inside else ())),
    ]
    closures = closures_of(pieces, front_laps_over, fastenings)
    pieces = (*pieces, *button_covers(pieces, closures))
    sewn = (*sewn, *cover_joins(pieces))
    order = order_of_work(pieces, sewn, front_edge)
    of_closures = closure_findings(pieces, closures, fastenings, stage)
    of_shapes = shaping_findings(shaped, facing_grain)
    return MadeUp(
        drafts,
        pieces,
        sewn,
        order=order.steps,
        sewing=stitching(pieces, sewn, order.works, order.steps),
        closures=closures,
        findings=(
            *(*of_pieces, *of_seams, *of_drafts, *of_shapes, *of_closures, *order.findings),
            *_of_the_facings_cloth(cloths, front_edge),
        ),
        shaped=shaped,
        shaped_left=tuple(facing for _, _, own in lefts.values() for facing in own),
    )


@dataclass(frozen=True)
class _Ready:
    """Makes drafts ready for cutting: what is inside derived, facings as they are wanted."""

    cloths: MakeUpCloths
    front_edge: FrontEdge
    facing_grain: FacingGrain
    give: Give
    inside: Inside | None

    def made(self, drafts: tuple[Draft, ...]) -> tuple[tuple[Draft, ...], tuple[Draft, ...], tuple[ShapedFacing, ...]]:
        """Returns the drafts with their inside, the same with their facings ready, and what of these is shaped."""
        inside = self.inside
        drafts = made = tuple(_with_inside(d, inside, self.cloths.layers) if inside else d for d in drafts)
        shaped: tuple[ShapedFacing, ...] = ()
        if self.facing_grain is not FacingGrain.AS_CUT:
            made, shaped = _shaped(made, self.facing_grain, self.give, self.front_edge)
        if self.front_edge is not FrontEdge.SEPARATE:
            made = tuple(with_extended_facing(draft) for draft in made)
        return drafts, made, shaped


def _shaped(
    drafts: tuple[Draft, ...], grain: FacingGrain, give: Give, edge: FrontEdge
) -> tuple[tuple[Draft, ...], tuple[ShapedFacing, ...]]:
    """Returns the drafts with their facings cut as strips; what is cut in one with the front shares its grain.

    Raises Refusal where that grain can't be the one chosen.
    """
    if edge.is_in_one and grain is FacingGrain.ACROSS:
        raise refuse(
            "design.facing_grain",
            "a facing cut in one with the front has the front's grain, which can't lie across its edge.",
            'Split the facing (front_edge = "split") or sew it on (front_edge = "separate").',
        )
    in_one = (LOWER,) if edge is FrontEdge.SPLIT else ()
    made = [with_shaped_facings(draft, grain, give, in_one) for draft in drafts]
    return tuple(draft for draft, _ in made), tuple(facing for _, found in made for facing in found)


def _cut(
    drafts: tuple[Draft, ...], cloths: MakeUpCloths, stage: Stage, strips: Set[str]
) -> tuple[tuple[CutPiece, ...], tuple[Finding, ...]]:
    pieces: list[CutPiece] = []
    findings: list[Finding] = []
    for draft in drafts:
        lefts = {piece.name: piece for piece in draft.left}
        for piece in draft.pieces:
            cloth = cloths.of(piece, draft.name)
            if cloth is None:
                findings.append(_no_cloth(piece))
                continue
            if cloth == BY_THE_LENGTH:
                findings.append(_by_the_length(piece))
            instances, found = cut_instances(piece, draft.name, cloth, stage, lefts.get(piece.name))
            if piece.name in strips:
                instances = tuple(replace(cut, outline=Drawn(rectangle_round(cut.cutting_line))) for cut in instances)
            if cloth == cloths.facing:  # in a sett of its own right and left are a mirrored pair, and lie on its bars
                instances = tuple(replace(cut, is_matched=True) for cut in instances)
            pieces += instances
            findings += found
    return tuple(pieces), tuple(findings)


def _sewn(
    drafts: tuple[Draft, ...], pieces: tuple[CutPiece, ...], front_laps_over: Hand
) -> tuple[tuple[SewnPair, ...], tuple[Finding, ...]]:
    ensemble = _Ensemble(pieces)
    sewn: list[SewnPair] = []
    findings: list[Finding] = []
    for seam, of_left in ((a, b) for d in drafts for a, b in zip(d.seams, d.of_left.seams, strict=True)):
        if len(seam.stops) < 2:
            findings.append(_not_walked(seam))
            continue
        for name, a, b in ensemble.instances_of(seam):
            own = of_left if a[0].hand is Hand.LEFT else seam
            sewn.append(walked(name, "seam", a, b, own.stops, across=own.across))
            findings += walk_findings(name, a, b, own.stops, own.ease)
    for touch in (*(touch for draft in drafts for touch in draft.touches), *hangs(drafts)):
        over = front_laps_over if touch.kind is Meeting.LAP else Hand.RIGHT
        for name, a, b in ensemble.instances_of(touch, over):
            sewn.append(walked(name, touch.kind.value, a, b, touch.stops, across=touch.across))
    return tuple(sewn), tuple(findings)


@lru_cache(maxsize=256)
def cut_instances(
    piece: Piece, garment: str, cloth: str, stage: Stage, left: Piece | None = None
) -> tuple[tuple[CutPiece, ...], tuple[Finding, ...]]:
    """Returns the instances of a draft's piece, right before left, and what there is to say about them.

    The left one is the exact mirror image of the right one, cutting line included, unless `left` gives it a shape of
    its own, drawn as a right half. Kept for the latest pieces: where
    one choice changed, most pieces are the same as before.
    """
    piece = _whole(piece, left).on_grain()
    allowances, unknown = allowances_of(piece)
    seam_line, outline = seam_polygon(piece), CuttingLine(piece, allowances, stage)
    is_whole = piece.cut is Cut.WHOLE
    # only a lapel or a shawl turns its facing outwards
    is_turned_in = piece.name == "front-facing" and not any(edge.name == "lapel" for edge in piece.edges)
    first = CutPiece(
        name=piece.name if is_whole else f"{piece.name}.{Hand.RIGHT}",
        garment=garment,
        piece=piece,
        hand=Hand.WHOLE if is_whole else Hand.RIGHT,
        cloth=cloth,
        allowances=allowances,
        seam_line=seam_line,
        outline=outline,
        is_matched=piece.layer is Layer.SHELL and piece.name not in _FREE and not is_turned_in,
        is_visible=piece.layer in (Layer.SHELL, Layer.LINING) and piece.name not in _HIDDEN and not is_turned_in,
    )
    found = tuple(
        Finding(Weight.DEFAULT, f"{piece.name}.{edge}", "has no custom of its own; it gets a plain seam's allowance.")
        for edge in unknown
    )
    if is_whole:
        return (first,), found
    own = left.on_grain() if left else piece
    second = replace(
        first,
        name=f"{piece.name}.{Hand.LEFT}",
        piece=own.mirrored(),
        hand=Hand.LEFT,
        seam_line=mirror_image(seam_polygon(own) if left else seam_line),
        outline=MirrorImage(CuttingLine(own, allowances, stage) if left else outline),
        mirrors=left is None,
    )
    return (replace(first, mirrors=left is None), second), found


def hangs(drafts: tuple[Draft, ...]) -> tuple[Touch, ...]:
    """Returns where a jacket's hem hangs over a skirt or trousers: beside the centre front and the centre back."""
    pieces = {piece.name: piece for draft in drafts for piece in draft.pieces}
    return tuple(
        Touch(
            f"jacket-over-{under}-{side}",
            Meeting.HANG,
            Side(jacket, "hem"),
            Side(f"{under}-{side}", "jacket-hem"),
            (f"centre-{side}", "hang-end"),
        )
        for under in ("skirt", "trousers")
        for side in ("front", "back")
        for jacket in (f"{side}-lower", side)
        if jacket in pieces and f"{under}-{side}" in pieces
        if _has(pieces[jacket], "hem") and _has(pieces[f"{under}-{side}"], "jacket-hem")
    )


def _has(piece: Piece, name: str) -> bool:
    names = {edge.name for edge in piece.edges} | {line.name for line in piece.lines}
    return any(plain_name(known) == name for known in names)


def _whole(piece: Piece, left: Piece | None) -> Piece:
    """Returns a whole piece with both its halves, where the draft gave one half (or each half) and its fold."""
    if piece.cut is Cut.WHOLE:
        for edge in piece.edges:
            if edge.name in _FOLDS:
                both = piece.unfolded(edge.name)
                return _halves(both, left.unfolded(edge.name)) if left else both
    return piece


def _halves(right: Piece, left: Piece) -> Piece:
    """Returns a whole piece whose left half is another's; both have the same fold, but for rounding."""
    edges = [b if b.name.endswith(".left") else a for a, b in zip(right.edges, left.edges, strict=True)]
    first = next(i for i, edge in enumerate(edges) if edge.name.endswith(".left"))
    before, last = edges[first - 1].path.end, edges[-1].path.end
    if (edges[first].path.start - before).length < _ROUNDED:
        edges[first] = replace(edges[first], path=edges[first].path.starting(before))
    if (last - edges[0].path.start).length < _ROUNDED:
        edges[-1] = replace(edges[-1], path=edges[-1].path.ending(edges[0].path.start))
    return replace(
        right,
        edges=tuple(edges),
        notches=tuple(b if b.edge.endswith(".left") else a for a, b in zip(right.notches, left.notches, strict=True)),
        marks=tuple(b if b.name.endswith(".left") else a for a, b in zip(right.marks, left.marks, strict=True)),
        lines=tuple(b if b.name.endswith(".left") else a for a, b in zip(right.lines, left.lines, strict=True)),
    )


@dataclass(frozen=True)
class _Ensemble:
    pieces: tuple[CutPiece, ...]

    def instances_of(
        self, join: Seam | Touch, first: Hand = Hand.RIGHT
    ) -> list[tuple[str, tuple[CutPiece, str], tuple[CutPiece, str]]]:
        """Returns the instances of a seam or touch as (name, side a, side b): one if across, else one for each hand.

        A seam of a piece that isn't cut is left out. Raises KeyError for an edge that a piece doesn't have.
        """
        other = Hand.LEFT if first is Hand.RIGHT else Hand.RIGHT
        hands = [(first, other)] if join.across else [(hand, hand) for hand in _HANDS]
        if isinstance(join, Seam) and join.hand:
            hands = [(hand, hand) for hand in _HANDS if hand.value == join.hand]
        found: list[tuple[str, tuple[CutPiece, str], tuple[CutPiece, str]]] = []
        for hand_a, hand_b in hands:
            a, b = self._side(join.a, hand_a), self._side(join.b, hand_b)
            if a and b:
                found.append((join.name if join.across else f"{join.name}.{hand_a}", a, b))
        return found

    def _side(self, side: Side, hand: Hand) -> tuple[CutPiece, str] | None:
        for piece in self.pieces:
            if piece.name == f"{side.piece}.{hand}":
                return piece, side.edge
            if piece.name == side.piece:
                handed = f"{side.edge}.{hand}"
                names = {edge.name for edge in piece.piece.edges} | {line.name for line in piece.piece.lines}
                return piece, handed if handed in names else side.edge
        return None


def _by_the_length(piece: Piece) -> Finding:
    return Finding(
        Weight.NOTE,
        piece.name,
        f"is ribbon bought by the length: {piece.edge('lower').path.length:.0f} mm finished, and its turnings.",
        "Shrink it before it is measured.",
    )


def _of_the_facings_cloth(cloths: MakeUpCloths, front_edge: FrontEdge) -> tuple[Finding, ...]:
    """Returns what of the facings isn't cut from the cloth named for them."""
    if cloths.facing is None or front_edge is FrontEdge.SEPARATE:
        return ()
    part = "the front's facing" if front_edge.is_in_one else "below its join the front's facing"
    return (
        Finding(
            Weight.NOTE,
            f"cloths.{cloths.facing}",
            f"{part} is cut in one with the front, and so from the front's cloth.",
            'Sew it on (front_edge = "separate") where all of it is to be of this cloth.',
        ),
    )


def _no_cloth(piece: Piece) -> Finding:
    return Finding(
        Weight.DEFAULT,
        piece.name,
        "is not in this plan, because no lining cloth is named.",
        "Name one, or cut it from what is at hand, grain with its flap.",
    )


def _not_walked(seam: Seam) -> Finding:
    return Finding(
        Weight.CAUTION,
        seam.name,
        f"{seam.a.piece} and {seam.b.piece} name fewer than two places of this seam alike, so it isn't walked.",
        "Walk it by hand on the sheets.",
    )
