"""What is cut: facings, turn of cloth, allowances, hands, and the order of work."""

from settwright.makeup.closures import Fastenings
from settwright.makeup.garment import make_up
from settwright.makeup.model import (
    Allowance,
    CutPiece,
    Finish,
    Hand,
    JoinSide,
    MadeUp,
    MakeUpCloths,
    SewnPair,
    Stage,
    Step,
)

__all__ = [
    "Allowance",
    "CutPiece",
    "Fastenings",
    "Finish",
    "Hand",
    "JoinSide",
    "MadeUp",
    "MakeUpCloths",
    "SewnPair",
    "Stage",
    "Step",
    "make_up",
]
