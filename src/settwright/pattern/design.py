"""The cut that the person chose: decided in the commission, read by the drafts."""

from settwright.commission.design import (
    FlyLap,
    FrontEdge,
    JacketDesign,
    JacketEase,
    SkirtDesign,
    TrousersDesign,
    TrousersWaist,
)

__all__ = [
    "FlyLap",
    "FrontEdge",
    "JacketDesign",
    "JacketEase",
    "SkirtDesign",
    "TrousersDesign",
    "TrousersWaist",
]
