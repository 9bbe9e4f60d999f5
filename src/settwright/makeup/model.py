"""What is cut: each instance of a piece with its cutting line, on its cloth."""

from __future__ import annotations

import math
from abc import ABC, abstractmethod
from dataclasses import dataclass
from enum import StrEnum
from functools import cached_property

from settwright.commission.model import Stage
from settwright.findings import Finding
from settwright.geometry import Point
from settwright.makeup.edges.shaped import ShapedFacing
from settwright.pattern import Draft, Layer, Meeting, Piece


class Hand(StrEnum):
    """Which of a pair, by the wearer's own left and right."""

    RIGHT = "right"
    LEFT = "left"
    WHOLE = "whole"


class Finish(StrEnum):
    """What becomes of an edge's allowance; of two that meet, the one turned first is the fold of the corner."""

    HEM = "turned up"
    SEAM = "pressed open"
    INSET = "sewn across"  # armhole, neck, waist: sewn after the seams that run into it
    ENCLOSED = "turned in"  # lapel, collar, front edge: trimmed, graded and enclosed

    @property
    def order(self) -> int:
        """0 is turned first under the iron; equal orders meet in a mitre."""
        return {Finish.HEM: 0, Finish.SEAM: 1, Finish.INSET: 2, Finish.ENCLOSED: 2}[self]


@dataclass(frozen=True)
class Allowance:
    """The allowance of one edge in both states, and how its corner is cut.

    An edge has several where its width changes: each then covers one `stretch` between stops.
    """

    edge: str
    before: float
    after: float
    is_fold: bool = False  # a fold: no allowance, the piece goes on
    finish: Finish = Finish.SEAM
    stretch: tuple[str, str] | None = None  # None: the whole edge

    def width(self, stage: Stage) -> float:
        """Returns the width at a stage; none at a fold."""
        if self.is_fold:
            return 0.0
        return self.before if stage is Stage.BEFORE_FITTING else self.after


BY_THE_LENGTH = "by the length"
"""In place of a cloth: what is bought by the length, sewn in and cut from no cloth."""
_RIBBONS = ("waist-ribbon",)


@dataclass(frozen=True)
class MakeUpCloths:
    """Which cloth each part of the ensemble is cut from, by the cloths' ids; None: not planned."""

    shell: str = "shell"
    skirt: str | None = None  # None: the skirt is cut from the shell cloth
    under_collar: str | None = None  # None: from the shell cloth
    lining: str | None = None
    facing: str | None = None  # None: from the shell cloth
    interlining: str | None = None
    haircloth: str | None = None  # None: from the interlining
    underlining: str | None = None
    pocketing: str | None = None
    wadding: str | None = None

    def of_layer(self, layer: Layer) -> str | None:
        """Returns the cloth of a layer, or None where it isn't named."""
        return {
            Layer.SHELL: self.shell,
            Layer.LINING: self.lining,
            Layer.INTERLINING: self.interlining,
            Layer.HAIRCLOTH: self.haircloth or self.interlining,
            Layer.UNDERLINING: self.underlining,
            Layer.POCKETING: self.pocketing,
            Layer.WADDING: self.wadding,
        }[layer]

    @property
    def layers(self) -> tuple[Layer, ...]:
        """The layers whose cloth is named."""
        return tuple(layer for layer in Layer if self.of_layer(layer) is not None)

    def of(self, piece: Piece, garment: str) -> str | None:
        """Returns the cloth of a draft's piece, or None where its cloth isn't named."""
        if piece.layer is not Layer.SHELL:
            return self.of_layer(piece.layer)
        if piece.name in _RIBBONS:
            return BY_THE_LENGTH
        if piece.name == "under-collar" and self.under_collar:
            return self.under_collar
        if self.facing and (piece.name.startswith("front-facing") or piece.name == "back-neck-facing"):
            return self.facing
        if garment == "skirt" and self.skirt:
            return self.skirt
        return self.shell


class Outline(ABC):
    """A polygon that is worked out when it is first asked for: bars and picture do without cutting lines."""

    @cached_property
    def points(self) -> tuple[Point, ...]:
        """Its corners, counter-clockwise, not closed by repetition."""
        return self.worked_out()

    @abstractmethod
    def worked_out(self) -> tuple[Point, ...]:
        """Returns the corners, worked out anew."""


@dataclass(frozen=True)
class Drawn(Outline):
    """An outline that is known."""

    corners: tuple[Point, ...]

    def worked_out(self) -> tuple[Point, ...]:
        """Returns them as they are."""
        return self.corners


@dataclass(frozen=True)
class CutPiece:
    """One instance of a piece as it is cut: in its own frame, as seen from the cloth's right side."""

    name: str  # "front.right", "top-collar"
    garment: str
    piece: Piece  # on its grain; mirrored already for the left hand
    hand: Hand
    cloth: str
    allowances: tuple[Allowance, ...]
    seam_line: tuple[Point, ...]  # polygon, not closed by repetition
    outline: Outline  # its cutting line at the stage being cut
    is_matched: bool  # False: hidden or of plain cloth, lies anywhere
    is_visible: bool = True
    is_later: bool = False  # cut after the fitting
    is_block: bool = False  # cut after the fitting: its cutting line is a rough block's for now
    mirrors: bool = True  # False: the other half has another shape

    @classmethod
    def as_drawn(
        cls, piece: Piece, garment: str, cloth: str, outline: tuple[Point, ...], *, is_matched: bool
    ) -> CutPiece:
        """Returns a whole piece that is cut along its own outline, without allowances."""
        return cls(
            name=piece.name,
            garment=garment,
            piece=piece,
            hand=Hand.WHOLE,
            cloth=cloth,
            allowances=tuple(Allowance(edge.name, 0.0, 0.0) for edge in piece.edges),
            seam_line=outline,
            outline=Drawn(outline),
            is_matched=is_matched,
        )

    @property
    def cutting_line(self) -> tuple[Point, ...]:
        """Its polygon at the stage being cut, not closed by repetition."""
        return self.outline.points

    @property
    def grain_turn(self) -> float:
        """Angle from the piece's +y to the warp (g): 0, or ±π/4 on the bias."""
        return self.piece.bias

    @property
    def on_bias(self) -> bool:
        """Whether it is cut on the bias: neither along nor across the grain."""
        return abs(math.sin(2 * self.piece.bias)) > math.sin(math.radians(2))

    @property
    def is_crosswise(self) -> bool:
        """Whether its length lies across the grain."""
        return not self.on_bias and abs(math.sin(self.piece.bias)) > math.sin(math.radians(1))


@dataclass(frozen=True)
class JoinSide:
    """One side of a join between instances."""

    piece: str  # CutPiece.name
    edge: str  # edge or line of that instance


@dataclass(frozen=True)
class SewnPair:
    """A seam, fold or touch between two instances, with matched points (a, b), each in its piece's frame.

    `stops` are (name, index of the pair) from first to last; pairs lie at most 8 mm apart along the longer side.
    """

    name: str
    kind: str  # "seam" or a Meeting
    a: JoinSide
    b: JoinSide
    pairs: tuple[tuple[Point, Point], ...]
    stops: tuple[tuple[str, int], ...]
    ease: float  # length of b less length of a
    across: bool


@dataclass(frozen=True)
class Step:
    """One step of the order of work."""

    name: str
    text: str
    after: tuple[str, ...] = ()
    pieces: tuple[str, ...] = ()
    caution: str = ""
    seams: tuple[str, ...] = ()  # seams and darts that are sewn in it, in turn
    checks: tuple[str, ...] = ()  # at a fitting: what is looked at, and what is moved


@dataclass(frozen=True, slots=True)
class Sewing:
    """A stretch of stitching: in which step, where, with which stitch, how long in all its rows."""

    step: str
    where: str  # a seam ("side-front.right"), or a piece and its edge or line ("front.right, hem")
    stitch: str  # by the trade's name
    length: float
    seam_class: str = ""  # by ISO 4916; none where the standard has no name for it


class ClosureKind(StrEnum):
    """What fastens."""

    WORKED_HOLE = "hand-worked buttonhole"
    BOUND_HOLE = "bound buttonhole"
    BUTTON = "button"
    COVERED_BUTTON = "covered button"
    INNER_BUTTON = "button inside"
    HOOK = "hook and worked bar"
    HOOK_AND_BAR = "hook and bar"
    SNAP = "snap"
    ZIP = "zip set by hand"


@dataclass(frozen=True, slots=True)
class Closure:
    """A fastening: where its middle stands on a piece, and how long it is (a button's diameter)."""

    name: str  # "buttonhole-1"
    kind: ClosureKind
    piece: str  # CutPiece.name
    at: Point | None  # None: at the piece's end, as fitted
    length: float  # 0: as it is bought


@dataclass(frozen=True)
class MadeUp:
    """Everything that is cut for the ensemble and how it goes together."""

    drafts: tuple[Draft, ...]
    pieces: tuple[CutPiece, ...]
    sewn: tuple[SewnPair, ...]
    order: tuple[Step, ...] = ()
    sewing: tuple[Sewing, ...] = ()
    closures: tuple[Closure, ...] = ()
    findings: tuple[Finding, ...] = ()
    shaped: tuple[ShapedFacing, ...] = ()  # facings cut as strips, to be shaped
    shaped_left: tuple[ShapedFacing, ...] = ()  # the left half's, drawn as right ones, where that half differs

    def shaped_as(self, facing: CutPiece) -> ShapedFacing | None:
        """Returns how a facing is shaped, told for the right half, or None where it is cut as it lies."""
        own = self.shaped_left if facing.hand is Hand.LEFT and self.shaped_left else self.shaped
        return next((shaped for shaped in own if shaped.cut.name == facing.piece.name), None)

    def piece(self, name: str) -> CutPiece:
        """Returns an instance by name; raises KeyError."""
        for piece in self.pieces:
            if piece.name == name:
                return piece
        raise KeyError(name)


__all__ = [
    "Allowance",
    "Closure",
    "ClosureKind",
    "CutPiece",
    "Finish",
    "Hand",
    "JoinSide",
    "MadeUp",
    "MakeUpCloths",
    "Meeting",
    "Sewing",
    "SewnPair",
    "Stage",
    "Step",
]
