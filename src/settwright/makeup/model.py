"""What is cut: each instance of a piece with its cutting line, on its cloth."""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import StrEnum

from settwright.findings import Finding
from settwright.geometry import Point
from settwright.pattern import Draft, Meeting, Piece


class Hand(StrEnum):
    """Which of a pair, by the wearer's own left and right."""

    RIGHT = "right"
    LEFT = "left"
    WHOLE = "whole"


class Stage(StrEnum):
    """The two states of every allowance."""

    BEFORE_FITTING = "before the fitting"
    AFTER_FITTING = "after the fitting"


@dataclass(frozen=True)
class Allowance:
    """The allowance of one edge in both states, and how its corner is cut."""

    edge: str
    before: float
    after: float
    is_fold: bool = False  # a fold: no allowance, the piece goes on


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
    cutting_line: tuple[Point, ...]  # at the stage being cut
    is_matched: bool  # False: hidden or of plain cloth, lies anywhere
    is_visible: bool = True

    @property
    def grain_turn(self) -> float:
        """Angle from the piece's +y to the warp (g): 0, or ±π/4 on the bias."""
        return self.piece.bias

    @property
    def on_bias(self) -> bool:
        """Whether it is cut on the bias."""
        return abs(self.piece.bias) > math.radians(1)


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


@dataclass(frozen=True)
class MadeUp:
    """Everything that is cut for the ensemble and how it goes together."""

    drafts: tuple[Draft, ...]
    pieces: tuple[CutPiece, ...]
    sewn: tuple[SewnPair, ...]
    order: tuple[Step, ...] = ()
    findings: tuple[Finding, ...] = ()

    def piece(self, name: str) -> CutPiece:
        """Returns an instance by name; raises KeyError."""
        for piece in self.pieces:
            if piece.name == name:
                return piece
        raise KeyError(name)


__all__ = [
    "Allowance",
    "CutPiece",
    "Hand",
    "JoinSide",
    "MadeUp",
    "Meeting",
    "SewnPair",
    "Stage",
    "Step",
]
