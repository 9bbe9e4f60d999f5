"""What the person chooses of a garment's cut; every default is a custom of the trade. Millimetres."""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from enum import StrEnum


class FrontEdge(StrEnum):
    """How the front edge of the jacket is finished."""

    SEPARATE = "separate"  # a facing sewn on: the edge is a seam and may curve
    EXTENDED = "extended"  # facing cut in one with the front: the edge is a straight fold, the lapel's too
    TO_NECK = "extended to the neck"  # likewise, the neck's edge a fold too, the facing folded at the top button
    SPLIT = "split"  # the lapel's part sewn on, the lower part cut in one with the front

    @property
    def is_in_one(self) -> bool:
        """Whether the whole facing is cut in one with the front."""
        return self in (FrontEdge.EXTENDED, FrontEdge.TO_NECK)


class FacingGrain(StrEnum):
    """Which way the grain runs in the front facing."""

    AS_CUT = "as the front"  # along the centre front, as the front lies
    ALONG = "along the edge"
    ACROSS = "across the edge"  # the weft along the edge: a cross-rib runs with it


class BodyCut(StrEnum):
    """How the body of the jacket is divided."""

    DARTED = "darted"  # back and front, a seam under the arm
    SIDE_PANEL = "side panel"  # a panel under the arm between back and front
    PRINCESS_SHOULDER = "princess from the shoulder"  # seams from the shoulders over blade and bust to the hem
    PRINCESS_ARMHOLE = "princess from the armhole"


class BustDart(StrEnum):
    """Where a darted front takes up the bust's fullness; the waist's dart is apart from it."""

    SIDE = "side"
    SHOULDER = "shoulder"


class BackShoulder(StrEnum):
    """How the back shoulder comes to the front's length."""

    EASE = "ease"
    DART = "dart"


class Closing(StrEnum):
    """How the fronts meet."""

    SINGLE = "single-breasted"
    DOUBLE = "double-breasted"
    EDGE_TO_EDGE = "edge to edge"


class FrontStyle(StrEnum):
    """The line of the front from the hem to the neck."""

    NOTCHED = "notched lapel"
    PEAKED = "peaked lapel"
    SHAWL = "shawl"  # collar cut in one with the front
    V_NECK = "V neck"
    ROUND_NECK = "round neck"
    CROSSED = "crossed over"  # wrapped well past the centre front, the edges straight or gently curved


class CollarStyle(StrEnum):
    """What is sewn to the neck."""

    OF_THE_FRONT = "of the front"  # the lapel's or the shawl's own; none on a plain neckline
    STAND = "stand"  # a band standing up from a round neck


class StandEnds(StrEnum):
    """The front ends of a stand collar."""

    ROUND = "round"
    SQUARE = "square"


class SleeveCut(StrEnum):
    """How the sleeve is cut and set."""

    TWO_PIECE = "two-piece"
    ONE_PIECE = "one-piece"
    RAGLAN = "raglan"  # in two halves, taking the shoulder with it up to the neck
    KIMONO = "kimono"  # cut in one with back and front


class SleeveLength(StrEnum):
    """How far the sleeve reaches."""

    FULL = "full"
    THREE_QUARTER = "three-quarter"


class Vent(StrEnum):
    """Where the hem opens."""

    NONE = "none"
    BACK = "back"
    SIDES = "sides"


class CentreBack(StrEnum):
    """How the two halves of the back join."""

    SEAM = "seam"
    FOLD = "fold"


class FrontPocket(StrEnum):
    """How the pockets of the fronts are made."""

    FLAP = "flap"
    JETTED = "jetted"  # two narrow jettings meet in the mouth
    WELT = "welt"  # a strip stands up over the mouth
    PATCH = "patch"  # set on


class LowerSection(StrEnum):
    """The shape of what is sewn on below a waist seam."""

    STRAIGHT = "straight"
    FLARED = "flared"
    PADDED_HIP = "padded hip"


@dataclass(frozen=True)
class JacketEase:
    """Finished girth less body girth."""

    bust: float = 95.0
    waist: float = 80.0
    hip: float = 70.0
    upper_arm: float = 65.0


@dataclass(frozen=True)
class JacketMoved:
    """By how much the draft gives way to the bars of the cloth, millimetres; 0: drawn by the body alone."""

    centre_back: float = 0.0  # taken out of the hollow at the waist and given to the panel seams
    side_back: float = 0.0  # the panel seams of a side panel towards the front
    side_front: float = 0.0
    front_dart: float = 0.0  # the dart at the waist towards the centre front
    pocket: float = 0.0  # up
    buttons: float = 0.0  # up, and the break of the lapel with them


@dataclass(frozen=True)
class SkirtMoved:
    """Likewise of a skirt; darts move towards the side."""

    front_dart: float = 0.0
    back_darts: float = 0.0


@dataclass(frozen=True)
class JacketDesign:
    """A fitted jacket or coat; by default single-breasted with side panels, notched lapel and two-piece sleeve."""

    length_below_waist: float = 230.0
    ease: JacketEase = field(default_factory=JacketEase)
    buttons: int = 3
    button_diameter: float = 22.0
    top_button_above_waist: float | None = None  # None: by the front and the number of buttons
    lowest_button_above_hem: float | None = None  # None: by the body
    wrap: float = 20.0  # from centre front to the front edge
    lapel_width: float = 82.0  # at right angles to the roll line
    collar_stand: float = 28.0
    collar_fall: float = 38.0
    shoulder_pad: float = 8.0  # thickness
    front_edge: FrontEdge = FrontEdge.SEPARATE
    front_hem_radius: float = 0.0  # 0: square corner at the hem
    flap_width: float = 140.0
    flap_depth: float = 50.0
    flaps: bool = True  # whether pockets of the kind with flaps are made
    pockets: FrontPocket = FrontPocket.FLAP  # on darted and side-panel bodies
    sleeve_hem: float | None = None  # finished width round a full sleeve's hem; None: by the arm
    cap_ease: float = 34.0
    body_cut: BodyCut = BodyCut.SIDE_PANEL
    bust_dart: BustDart = BustDart.SIDE  # of the darted body only
    back_shoulder: BackShoulder = BackShoulder.EASE
    closing: Closing = Closing.SINGLE
    front_style: FrontStyle = FrontStyle.NOTCHED
    collar_style: CollarStyle = CollarStyle.OF_THE_FRONT
    sleeve_cut: SleeveCut = SleeveCut.TWO_PIECE
    sleeve_length: SleeveLength = SleeveLength.FULL
    sleeve_vent: float = 0.0  # length of the hindarm's vent in a two-piece sleeve; 0: none
    elbow_dart: bool = True  # of a one-piece sleeve; False: the elbow's fullness is eased
    sleeve_lift: float = math.radians(55)  # of a kimono sleeve: how far the arm is lifted when the cloth lies smooth
    raglan_reach: float = 35.0  # along the neck, from the neck point to the raglan seam
    centre_back: CentreBack = CentreBack.SEAM
    vent: Vent = Vent.NONE
    vent_length: float = 160.0
    waist_seam: bool = False
    lower_section: LowerSection = LowerSection.STRAIGHT  # below a waist seam only
    flare: float = 200.0  # what a flared section adds to the hem's girth
    hip_pad: float = 15.0  # thickness of the padding under a padded hip
    double_wrap: float = 75.0  # from centre front to the front edge of a double-breasted front
    crossed_wrap: float = 120.0  # likewise of a crossed-over front
    peak_angle: float = math.radians(50)  # of a peaked lapel's top over the line of the gorge
    peak_length: float = 62.0  # from the notch to the lapel's point
    facing_grain: FacingGrain = FacingGrain.AS_CUT
    facing_split: float | None = None  # a facing in two parts, joined so far below the break point; None: in one
    split_button: int | None = None  # or joined at this button, the top one being 1
    second_split: float | None = None  # a separate facing joined once more, so far below the first join
    neck_opening: float = 10.0  # a neckline without collar is set out from the neck point by this
    neck_drop: float = 25.0  # a round neck without collar lies lower than the body's at the centre front by this
    neck_edge_hollow: float = 7.0  # of a V or crossed edge against a straight one; 0: straight, less: a belly
    stand_height: float = 38.0  # of a stand collar
    stand_lean: float = math.radians(4)  # towards the neck, against a plumb line
    stand_ends: StandEnds = StandEnds.ROUND
    stand_halves: bool = False  # a seam at the centre back; else in one piece
    moved: JacketMoved = field(default_factory=JacketMoved)

    @property
    def pocket(self) -> FrontPocket | None:
        """The kind of pocket on the fronts; None without one."""
        return None if self.pockets is FrontPocket.FLAP and not self.flaps else self.pockets

    @property
    def reach(self) -> float:
        """From the centre front to the front edge, by how the fronts close."""
        if self.front_style is FrontStyle.CROSSED:
            return self.crossed_wrap
        return {Closing.SINGLE: self.wrap, Closing.DOUBLE: self.double_wrap, Closing.EDGE_TO_EDGE: 0.0}[self.closing]


class SkirtCut(StrEnum):
    """The shape of the skirt."""

    STRAIGHT = "straight"
    FLARED = "flared"  # slightly: its darts closed into the hem
    PLEATED = "pleated"  # on the bars of the cloth


class WaistFinish(StrEnum):
    """What the skirt hangs from."""

    WAISTBAND = "waistband"
    RIBBON = "ribbon"  # faced with a ribbon, nothing to be seen above the waist seam
    BODICE_TOP = "bodice top"  # from the shoulders, under a jacket


@dataclass(frozen=True)
class SkirtDesign:
    """A skirt with a back zip and a back vent, by default straight, with a waistband."""

    length: float = 600.0  # finished, from waist to hem
    ease_waist: float = 15.0
    ease_hip: float = 35.0
    hem_taper: float = 15.0  # each side seam comes in by this at the hem
    waistband_width: float = 32.0
    zip_length: float = 180.0
    vent_length: float = 180.0
    cut: SkirtCut = SkirtCut.STRAIGHT
    flare: float = 240.0  # what a flared skirt has at the hem, all round, over a straight one without taper
    pleat_repeat: float = 72.0  # width of the repeat across the cloth, on which the pleats are laid
    waist_finish: WaistFinish = WaistFinish.WAISTBAND
    held_in: float = 20.0  # by which a ribbon holds the waist in
    ribbon_width: float = 25.0
    top_ease: float = 60.0  # of a bodice top at the bust
    let_out: float = 25.0  # kept at each seam of a bodice top
    moved: SkirtMoved = field(default_factory=SkirtMoved)


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
