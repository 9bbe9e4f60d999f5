"""What the person chooses of a garment's cut; every default is a custom of the trade. Millimetres."""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import StrEnum


class FrontEdge(StrEnum):
    """How the front edge of the jacket is finished."""

    SEPARATE = "separate"  # a facing sewn on: the edge is a seam and may curve
    EXTENDED = "extended"  # facing cut in one with the front: the edge is a straight fold, the lapel's too


@dataclass(frozen=True)
class JacketEase:
    """Finished girth less body girth."""

    bust: float = 95.0
    waist: float = 80.0
    hip: float = 70.0
    upper_arm: float = 65.0


@dataclass(frozen=True)
class JacketDesign:
    """A fitted single-breasted jacket: side panels, notched lapel, two-piece set-in sleeve, flap pockets."""

    length_below_waist: float = 230.0
    ease: JacketEase = field(default_factory=JacketEase)
    buttons: int = 3
    button_diameter: float = 22.0
    wrap: float = 20.0  # from centre front to the front edge
    lapel_width: float = 82.0  # at right angles to the roll line
    collar_stand: float = 28.0
    collar_fall: float = 38.0
    shoulder_pad: float = 8.0  # thickness
    front_edge: FrontEdge = FrontEdge.SEPARATE
    front_hem_radius: float = 0.0  # 0: square corner at the hem
    flap_width: float = 140.0
    flap_depth: float = 50.0
    sleeve_hem: float = 250.0  # finished width round
    cap_ease: float = 34.0


@dataclass(frozen=True)
class SkirtDesign:
    """A straight skirt with a back zip, a waistband and a back vent."""

    length: float = 600.0  # finished, from waist to hem
    ease_waist: float = 15.0
    ease_hip: float = 35.0
    hem_taper: float = 15.0  # each side seam comes in by this at the hem
    waistband_width: float = 32.0
    zip_length: float = 180.0
    vent_length: float = 180.0
