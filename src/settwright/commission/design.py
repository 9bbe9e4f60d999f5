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


class TrousersWaist(StrEnum):
    """How the waist of the trousers is finished."""

    BAND_IN_HALVES = "band in halves"  # a seam at the centre back, so that band and seat let out together
    BAND_WHOLE = "whole band"
    RIBBON = "ribbon"  # turned in and faced with a ribbon: no band is cut


class FlyLap(StrEnum):
    """Which front lies on top at the fly; sides are the wearer's."""

    RIGHT = "right"
    LEFT = "left"


@dataclass(frozen=True)
class TrousersDesign:
    """Tailored trousers with a crease, a fly front and slant side pockets."""

    hem_above_floor: float = 15.0  # at the side, barefoot: the heel that will be worn less what the hem clears
    ease_waist: float = 15.0
    ease_hip: float = 50.0  # without what the pleats hold
    ease_thigh: float = 75.0  # wanted; the fork gives and takes for it within its limits
    ease_rise: float = 35.0  # the fork hangs below the crotch by this
    pleats: int = 0  # on each half of the front: none (a dart where one is needed), one or two
    back_darts: int = 2  # on each half: one or two
    knee_width: float | None = None  # finished, round; None: by hip and knee
    hem_width: float | None = None  # finished, round; None: by the knee's width
    hem_slant: float = 6.0  # the hem rises at the front crease and dips at the back one; none for a turn-up
    waist: TrousersWaist = TrousersWaist.BAND_IN_HALVES
    waistband_width: float = 38.0
    zip_length: float = 170.0  # from the waist line
    fly_lap: FlyLap = FlyLap.RIGHT
    pockets: bool = True
