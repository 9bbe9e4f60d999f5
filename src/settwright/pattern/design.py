"""The cut that the person chose: decided in the commission, read by the drafts."""

from settwright.commission.design import FrontEdge, JacketDesign, JacketEase, SkirtDesign

__all__ = ["FrontEdge", "JacketDesign", "JacketEase", "SkirtDesign"]
