"""Cutting in stages: what is cut now, what is kept for later, and what has been cut and stays as it is.

A garment is cut when its fit is known. Before the fitting the body alone is cut, and the cloth for facings, collars,
sleeves and the like is kept as rough blocks on the repeat; after it they are laid anew inside what remains, and
linings and what lies between are cut (common practice, no source). A toile has neither bars nor facings. A piece that
has been cut keeps the outline that the shears gave it: a later correction can use only its allowances.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import replace

from shapely import Polygon
from shapely.geometry import Point as Spot

from settwright.commission.model import Cutting
from settwright.findings import Finding, Weight, refuse
from settwright.geometry import Point
from settwright.geometry.tolerances import HAND
from settwright.makeup.model import CutPiece, Drawn, MadeUp
from settwright.pattern import Layer
from settwright.units import Units, format_length

BLOCK_MARGIN = 15.0
"""Kept around a piece's cutting line, so that a changed one still fits its block; common practice, no source."""

_UPPER = ("back", "front", "side", "side-back", "side-front")
BODY = frozenset(
    (
        *_UPPER,
        *(f"{name}-lower" for name in _UPPER),
        *("skirt-front", "skirt-back", "top-front", "top-back", "trousers-front", "trousers-back"),
    )
)
"""What is cut before the first fitting; names as in the drafts."""

_OF_A_TOILE = ("sleeve", "collar", "gusset", "waistband")  # besides the body: what is in the name of a fitted part


def staged(
    made_up: MadeUp,
    cutting: Cutting,
    outlines: Mapping[str, tuple[Point, ...]],
    units: Units = Units.CM,
) -> MadeUp:
    """Returns what is cut at this stage; `outlines` are those of pieces already cut, by instance, in their frames.

    Raises Refusal where a seam line now lies outside what was cut.
    """
    if cutting is Cutting.TOILE:
        made_up = _toile(made_up)
    elif cutting is Cutting.BODY_FIRST:
        made_up = _with_blocks(made_up, kept=outlines)
    return _as_cut(made_up, outlines, units) if outlines else made_up


def _toile(made_up: MadeUp) -> MadeUp:
    pieces = tuple(
        replace(piece, is_matched=False)
        for piece in made_up.pieces
        if piece.cloth == "shell" and _belongs_to_toile(piece.piece.name)
    )
    names = {piece.name for piece in pieces}
    sewn = tuple(pair for pair in made_up.sewn if {pair.a.piece, pair.b.piece} <= names)
    return replace(made_up, pieces=pieces, sewn=sewn)


def _belongs_to_toile(name: str) -> bool:
    if name in BODY:
        return True
    return (
        any(part in name for part in _OF_A_TOILE) and not name.endswith(("facing", "lining")) and name != "top-collar"
    )


def _with_blocks(made_up: MadeUp, kept: Mapping[str, tuple[Point, ...]]) -> MadeUp:
    """Returns the body to be cut now and the rest of the outer cloth as blocks; other cloths stay whole for now."""

    def for_now(piece: CutPiece) -> CutPiece:
        if _is_of_body(piece) or piece.name in kept:
            return piece
        return block_of(piece) if piece.cloth == "shell" else replace(piece, is_later=True)

    pieces = tuple(for_now(piece) for piece in made_up.pieces)
    blocks = sum(piece.is_block for piece in pieces)
    if not any(piece.is_later for piece in pieces):
        return made_up
    found = Finding(
        Weight.NOTE,
        "choices.cutting",
        f"the body is cut now; {blocks} other pieces are kept as rough blocks, their bars as planned. Linings and what"
        " lies between are cut after the fitting.",
        "After the fitting mark what is cut (settwright cut), put cutting to “everything”, and plan again.",
    )
    return replace(made_up, pieces=pieces, findings=(*made_up.findings, found))


def _is_of_body(piece: CutPiece) -> bool:
    """Whether a piece is cut before the first fitting; an underlining is, with what it is mounted to."""
    name = piece.piece.follows if piece.piece.layer is Layer.UNDERLINING else piece.piece.name
    return name in BODY


def block_of(piece: CutPiece) -> CutPiece:
    """Returns a piece as a block for later: a rectangle along the cloth's threads around its cutting line."""
    c, s = math.cos(piece.grain_turn), math.sin(piece.grain_turn)
    across = [c * p.x - s * p.y for p in piece.cutting_line]
    along = [s * p.x + c * p.y for p in piece.cutting_line]
    left, right = math.floor(min(across) - BLOCK_MARGIN), math.ceil(max(across) + BLOCK_MARGIN)
    low, high = math.floor(min(along) - BLOCK_MARGIN), math.ceil(max(along) + BLOCK_MARGIN)
    corners = ((left, low), (right, low), (right, high), (left, high))
    outline = tuple(Point(round(c * x + s * y, 3), round(c * y - s * x, 3)) for x, y in corners)
    return replace(piece, outline=Drawn(outline), is_later=True, is_block=True)


def _as_cut(made_up: MadeUp, outlines: Mapping[str, tuple[Point, ...]], units: Units) -> MadeUp:
    findings: list[Finding] = []
    pieces: list[CutPiece] = []
    for piece in made_up.pieces:
        outline = outlines.get(piece.name)
        if outline is None:
            pieces.append(piece)
            continue
        findings += _allowance_left(piece, outline, units)
        pieces.append(replace(piece, outline=Drawn(outline)))
    return replace(made_up, pieces=tuple(pieces), findings=(*made_up.findings, *findings))


def _allowance_left(piece: CutPiece, outline: tuple[Point, ...], units: Units) -> list[Finding]:
    """Tells the least allowance that is left on a cut piece; raises Refusal where there is none."""
    cut = Polygon([(p.x, p.y) for p in outline])
    least, at = math.inf, ""
    folds = {allowance.edge for allowance in piece.allowances if allowance.is_fold}
    for edge in piece.piece.edges:
        if edge.name in folds:
            continue
        for point in edge.path.points():
            spot = Spot(point.x, point.y)
            room = cut.exterior.distance(spot) * (1 if cut.covers(spot) else -1)
            if room < least:
                least, at = room, edge.name
    where = f"cut.{piece.name}"
    if least < -HAND:
        raise refuse(
            where,
            f"its seam line now lies {format_length(-least, units)} outside what was cut, at {at.replace('-', ' ')}.",
            "Take the change back or make it smaller there; cloth that is cut away doesn't come back.",
        )
    told = f"is cut; the least allowance left is {format_length(max(least, 0.0), units)}, at {at.replace('-', ' ')}."
    return [Finding(Weight.NOTE if least >= _LEAST_SEAM else Weight.CAUTION, where, told)]


_LEAST_SEAM = 8.0
"""Less allowance than this is a caution; common practice, no source."""
