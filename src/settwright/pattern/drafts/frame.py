"""The frame of the jacket: levels, widths and shoulders, from which every piece is drawn.

Centre back at x = 0, centre front to the right, the waist at y = 0. The pieces stand edge to edge at the armhole and
share every level, so that level bars which meet there meet all the way down.

The bust's fullness is one angle about the bust point, whatever the cut: the front's shoulder is laid out as it lies
with that dart closed, and all that lies behind the dart turns back by the angle when it is opened.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import StrEnum

from settwright.body import Body
from settwright.commission.design import (
    BackShoulder,
    BodyCut,
    BustDart,
    CentreBack,
    Closing,
    FrontStyle,
    JacketDesign,
    Vent,
)
from settwright.findings import Finding, Refusal, Weight
from settwright.geometry import Point, Transform
from settwright.pattern.drafts.record import Recorder
from settwright.pattern.drafts.sleeve_fit import cap_ease


class Fullness(StrEnum):
    """Where the dart of the bust opens."""

    NOWHERE = "nowhere"  # eased, or held in by a tape
    GORGE = "gorge"  # in the neck, hidden under the lapel
    SHOULDER = "shoulder"
    ARMHOLE = "armhole"
    SIDE = "side"


@dataclass(frozen=True)
class Gap:
    """What a panel seam takes out of the frame at each level; negative where the panels overlap for spring."""

    bust: float
    waist: float
    hip: float


@dataclass(frozen=True)
class Frame:
    """Levels as heights over the waist, places across from the centre back; millimetres.

    Neck and shoulder points lie as with the darts of bust and blade closed; `opening` and `blade_opening` tell where
    they go.
    """

    nape: Point
    blade: float
    scye: float  # bottom of the armhole on back and side
    bust: float
    hip: float
    hem: float
    back_neck_point: Point
    back_shoulder_point: Point
    front_neck_point: Point
    front_shoulder_point: Point
    back_slope: float
    front_slope: float
    back_width: float
    front_line: float  # the front of the armhole
    centre_front: float
    hollow: float  # at the waist of the centre back
    seams: tuple[tuple[str, Gap], ...]  # panel seams from the back to the front
    panel_front: float  # how far behind the chest line a side panel begins
    front_dart: float  # width at the waist, 0 without one
    back_dart: float
    side_back_moved: float  # panel seams of a side panel, towards the front
    side_front_moved: float
    front_dart_moved: float
    bust_point: Point
    front_ease: float  # the front's side seam is longer than the panel's by this, over the bust
    fullness: Fullness
    dart_angle: float
    pivot: Point  # about which the bust's dart opens: the bust point, or a seam's nearest place to it
    back_axis: float  # where a back seam from shoulder or armhole runs plumb
    blade_angle: float  # by which a dart or seam of the back's shoulder opens; 0: the back is eased on to the front

    def gap(self, seam: str) -> Gap:
        """Returns the gap of a panel seam; raises KeyError."""
        return dict(self.seams)[seam]

    @property
    def opening(self) -> Transform:
        """What opens the bust's dart: the turn of all that lies behind it."""
        return Transform.turn(self.dart_angle, self.pivot)

    @property
    def blade_pivot(self) -> Point:
        """About which the back's shoulder opens."""
        return Point(self.back_axis, self.blade)

    @property
    def blade_opening(self) -> Transform:
        """What opens the back's shoulder: the turn of all that lies beyond its dart or seam."""
        return Transform.turn(-self.blade_angle, self.blade_pivot)


SEAMS: dict[BodyCut, tuple[str, ...]] = {
    BodyCut.DARTED: ("side",),
    BodyCut.SIDE_PANEL: ("side-back", "side-front"),
    BodyCut.PRINCESS_SHOULDER: ("princess-back", "side", "princess-front"),
    BodyCut.PRINCESS_ARMHOLE: ("princess-back", "side", "princess-front"),
}
"""The panel seams of each cut, from the back to the front."""

_AT_BUST = {"side": 0.04, "side-back": 0.06, "side-front": 0.06}
_AT_WAIST = {
    BodyCut.DARTED: (1.0,),
    BodyCut.SIDE_PANEL: (0.53, 0.47),
    BodyCut.PRINCESS_SHOULDER: (0.38, 0.28, 0.34),
    BodyCut.PRINCESS_ARMHOLE: (0.38, 0.28, 0.34),
}
HIP_SHARES: dict[BodyCut, tuple[float, ...]] = {
    BodyCut.DARTED: (1.0,),
    BodyCut.SIDE_PANEL: (0.55, 0.45),
    BodyCut.PRINCESS_SHOULDER: (0.34, 0.36, 0.3),
    BodyCut.PRINCESS_ARMHOLE: (0.34, 0.36, 0.3),
}
_MOST_INTAKE = {
    BodyCut.DARTED: 110.0,
    BodyCut.SIDE_PANEL: 150.0,
    BodyCut.PRINCESS_SHOULDER: 230.0,
    BodyCut.PRINCESS_ARMHOLE: 230.0,
}  # on the half, that the panel seams can take
_LAPELS = (FrontStyle.NOTCHED, FrontStyle.PEAKED)  # fronts that hide a dart of the neck
_BESIDE_BUST = 12.0  # a seam from the armhole passes the bust point on its outer side by this


def fullness_of(design: JacketDesign) -> Fullness:
    """Returns where the design's cut takes up the bust's fullness."""
    match design.body_cut:
        case BodyCut.PRINCESS_SHOULDER:
            return Fullness.SHOULDER
        case BodyCut.PRINCESS_ARMHOLE:
            return Fullness.ARMHOLE
        case BodyCut.DARTED:
            return Fullness.SIDE if design.bust_dart is BustDart.SIDE else Fullness.SHOULDER
        case BodyCut.SIDE_PANEL:
            return Fullness.GORGE if design.front_style in _LAPELS else Fullness.NOWHERE


def known_figures(body: Body, design: JacketDesign) -> dict[str, float]:
    """Returns measurements and choices under the words that the rules use."""
    measured = {measure.name.replace("_", " "): measure.value for measure in body.measures}
    measured["shoulder slope angle"] = measured.pop("shoulder slope", math.radians(20))
    return measured | {
        "ease at the bust": design.ease.bust,
        "ease at the waist": design.ease.waist,
        "ease at the hip": design.ease.hip,
        "ease at the upper arm": design.ease.upper_arm,
        "ease in the cap": cap_ease(design),
        "length below the waist": design.length_below_waist,
        "shoulder pad": design.shoulder_pad,
        "wrap": design.wrap,
        "round of the front hem": design.front_hem_radius,
        "chosen lapel width": design.lapel_width,
        "stand": design.collar_stand,
        "fall": design.collar_fall,
        "chosen flap width": design.flap_width,
        "flap depth": design.flap_depth,
        "number of buttons": float(design.buttons),
        "vent length": design.vent_length,
        "centre back straightened by": design.moved.centre_back,
        "side back seam moved by": design.moved.side_back,
        "side front seam moved by": design.moved.side_front,
        "front dart moved by": design.moved.front_dart,
        "pocket moved up by": design.moved.pocket,
        "buttons moved up by": design.moved.buttons,
    }


def draw_frame(r: Recorder, design: JacketDesign) -> Frame:
    """Returns the frame of the jacket from the recorder's figures.

    Raises Refusal that names the measurement at fault.
    """
    fullness = fullness_of(design)
    _levels(r)
    _shoulders(r)
    _bust_dart(r, fullness)
    _widths(r)
    _scye(r)
    _intake(r, design)
    _check(r, design)
    nape = r.point("nape", "back", "0", "back waist length")
    back_neck = r.point("back neck point", "back", "back neck width", "back waist length + back neck rise")
    back_shoulder = r.point(
        "back shoulder point",
        "back",
        "back neck width + back shoulder length × cosine of (back slope angle)",
        "back waist length + back neck rise − back shoulder length × sine of (back slope angle)",
    )
    front_neck = r.point("front neck point", "front", "centre front − front neck width", "front neck point height")
    front_shoulder = r.point(
        "front shoulder point",
        "front",
        "centre front − front neck width − front shoulder length × cosine of (front slope angle)",
        "front neck point height − front shoulder length × sine of (front slope angle)",
    )
    bust_point = r.point("bust point", "front", "centre front − bust point from the centre", "bust line")
    beside = _BESIDE_BUST if fullness is Fullness.ARMHOLE else 0.0
    r.number("seam's distance from the bust point", "front", f"{beside:g} mm")
    r.number("back seam's distance from the centre", "back", "back width × 0.55")
    blade_angle = 0.0
    if design.body_cut is BodyCut.PRINCESS_SHOULDER or design.back_shoulder is BackShoulder.DART:
        blade_angle = _blade_angle(r, back_neck, back_shoulder)
    blade = Point(r["back seam's distance from the centre"], r["blade line"])
    return Frame(
        nape=nape,
        blade=r["blade line"],
        scye=r["scye line"],
        bust=r["bust line"],
        hip=r["hip line"],
        hem=r["hem line"],
        back_neck_point=back_neck,
        back_shoulder_point=Transform.turn(blade_angle, blade)(back_shoulder) if blade_angle else back_shoulder,
        front_neck_point=front_neck,
        front_shoulder_point=front_shoulder,
        back_slope=r["back slope angle"] if not blade_angle else r["back slope angle, closed"],
        front_slope=r["front slope angle"],
        back_width=r["back width"],
        front_line=r["centre front"] - r["chest width"],
        centre_front=r["centre front"],
        hollow=r["hollow of the centre back"],
        seams=tuple((seam, _gap(r, seam)) for seam in SEAMS[design.body_cut]),
        panel_front=r["front of the side panel"],
        front_dart=r["front dart"],
        back_dart=r["back dart"],
        side_back_moved=r["side back seam moved by"],
        side_front_moved=r["side front seam moved by"],
        front_dart_moved=r["front dart moved by"],
        bust_point=bust_point,
        front_ease=r["ease over the bust"] if design.body_cut is BodyCut.SIDE_PANEL else 0.0,
        fullness=fullness,
        dart_angle=r["bust dart angle"],
        pivot=bust_point - Point(beside, 0.0),
        back_axis=r["back seam's distance from the centre"],
        blade_angle=blade_angle,
    )


def _blade_angle(r: Recorder, neck: Point, tip: Point) -> float:
    """Returns by how much the back's shoulder opens about the blade: closed, it is as long as the front's.

    Found by halving.
    """
    pivot = Point(r["back seam's distance from the centre"], r["blade line"])
    low, high, angle = 0.0, 0.3, 0.0
    for _ in range(50):
        angle = (low + high) / 2
        if (Transform.turn(angle, pivot)(tip) - neck).length > r["front shoulder length"]:
            low = angle
        else:
            high = angle
    closed = Transform.turn(angle, pivot)(tip)
    r.found(
        "back shoulder's opening angle",
        "back",
        "turned about the blade until the back's shoulder, its dart or seam closed, is as long as the front's",
        angle,
        using=("back shoulder length", "front shoulder length"),
    )
    slope = math.atan2(neck.y - closed.y, closed.x - neck.x)
    r.found("back slope angle, closed", "back", "of the back's shoulder with its dart or seam closed", slope)
    return angle


def _gap(r: Recorder, seam: str) -> Gap:
    words = seam.replace("-", " ")
    return Gap(*(r[f"{words} gap at the {level}"] for level in ("bust", "waist", "hip")))


def _levels(r: Recorder) -> None:
    of = "levels"
    r.number("hip line", of, "−waist to hip")
    r.number("hem line", of, "−length below the waist")
    r.number("balance", of, "front waist length − back waist length")
    r.number("front neck point height", "front", "back waist length + most of (−5 mm; least of (65 mm; balance))")
    r.number("ease over the bust", "front", "most of (0; least of (6 mm; balance × 0.12))")


def _shoulders(r: Recorder) -> None:
    of = "shoulder"
    r.number("back neck width", "back", "neck base girth / 5 − 2 mm")
    r.number("back neck rise", "back", "back neck width × 0.3")
    r.number(
        "mean slope angle",
        of,
        "angle with tangent (tangent of (shoulder slope angle) − shoulder pad / shoulder length)",
    )
    r.number(
        "half slope difference angle",
        of,
        "most of (0.01; least of (0.08; 0.04 + (balance − 30 mm) / shoulder length / 6))",
    )
    r.number("back slope angle", of, "most of (0.07; mean slope angle − half slope difference angle)")
    r.number("front slope angle", of, "most of (0.1; mean slope angle + half slope difference angle)")
    r.number("blade ease", "back", "8 mm")
    r.number("front neck width by the body", "front", "back neck width + 4 mm")
    # An armhole square to the shoulder leans by the shoulder's slope; it comes upright without a dent only where the
    # shoulder reaches out over the width by as much.
    r.number("reach over the back", "back", "100 mm × tangent of (back slope angle / 2)")
    r.number("reach over the chest", "front", "110 mm × tangent of (front slope angle / 2)")
    r.number(
        "shoulder's widening",
        of,
        "most of (0; least of (18 mm; across back width / 4 + across front width / 4 + 8 mm"
        " + reach over the back / 2 + reach over the chest / 2 − back neck width / 2 − front neck width by the body / 2"
        " − (shoulder length + blade ease / 2) × cosine of (mean slope angle)))",
        "common practice, no source: where the body is wide below short shoulders, the jacket's shoulder is set wider",
    )
    r.number("front shoulder length", "front", "shoulder length + shoulder's widening")
    r.number("back shoulder length", "back", "front shoulder length + blade ease")


def _bust_dart(r: Recorder, fullness: Fullness) -> None:
    """The angle that the bust's dart takes up, and how much of the width it brings to the chest."""
    of = "bust dart"
    r.number("scye line by the body", "levels", "back waist length − scye depth − 8 mm − shoulder pad / 4")
    r.number("bust point from the centre", "front", "bust point width / 2 + 3 mm")
    r.number(
        "bust line by the body",
        "levels",
        "front neck point height − root of (most of (1; neck point to bust point × neck point to bust point"
        " − (bust point from the centre − front neck width by the body)"
        " × (bust point from the centre − front neck width by the body)))",
    )
    r.number(
        "bust dart's wanted angle",
        of,
        "most of (0; least of (0.3; (balance − 18 mm) / (bust girth / 8)))",
        "common practice, no source: the front's length over the back's, less what armhole and chest ease away, is"
        " taken up between bust point and side",
    )
    match fullness:
        case Fullness.NOWHERE:
            r.number("bust dart angle", of, "0", "the front has no place for a dart: the fullness is eased")
        case Fullness.GORGE:
            r.number(
                "bust dart angle",
                of,
                "least of (bust dart's wanted angle; 18 mm / most of (120 mm; front neck point height"
                " − front neck width by the body − 5 mm − bust line by the body))",
                "common practice, no source: a dart under the lapel is at most 2 cm wide at the gorge",
            )
        case _:
            r.number("bust dart angle", of, "bust dart's wanted angle")
    r.number(
        "chest's share of the dart",
        "front",
        "bust dart angle × most of (0; scye line by the body + 62 mm − bust line by the body)",
        "geometry: the chest is crossed as far over the bust point",
    )
    most = 0 if fullness in (Fullness.SHOULDER, Fullness.ARMHOLE, Fullness.SIDE) else 8
    r.number("most that a tape holds in", "front", f"{most} mm")


def _widths(r: Recorder) -> None:
    of = "widths"
    r.number("half bust", of, "(bust girth + ease at the bust) / 2")
    r.number("half waist", of, "(waist girth + ease at the waist) / 2")
    r.number("half hip", of, "(hip girth + ease at the hip) / 2")
    r.number("back shoulder reach", "back", "back neck width + back shoulder length × cosine of (back slope angle)")
    r.number(
        "front shoulder reach by the body",
        "front",
        "front neck width by the body + front shoulder length × cosine of (front slope angle)",
    )
    r.number(
        "back width by the body",
        "back",
        "most of (back shoulder reach − 26 mm; least of (back shoulder reach − reach over the back;"
        " across back width / 2 + 8 mm))",
    )
    r.number(
        "chest width by the body",
        "front",
        "most of (front shoulder reach by the body − 34 mm; least of (front shoulder reach by the body"
        " − reach over the chest; across front width / 2 + 8 mm))",
    )
    r.number(
        "bust's fullness over chest and scye",
        "front",
        "half bust − back width by the body − chest width by the body − bust girth / 8 − 25 mm",
        "after the German system's armhole, bust / 8 − 15 mm without ease, from memory",
    )
    r.number(
        "fullness held in at the roll line",
        "front",
        "most of (0; least of (most that a tape holds in; (bust's fullness over chest and scye"
        " − chest's share of the dart + 10 mm) × 0.12))",
        "common practice, no source: the shoulder is set back from the centre front, and a tape draws the roll line in",
    )
    r.number("front neck width", "front", "front neck width by the body + fullness held in at the roll line")
    r.number(
        "scye width's part of the bust",
        of,
        "most of (bust girth / 8 + 24 mm; (upper arm girth + ease at the upper arm) × 0.33)",
        "after the German system's armhole, bust / 8 − 15 mm, from memory, and its part of the ease",
    )
    r.number(
        "scye width at most",
        of,
        "most of (bust girth / 8 − 2 mm; (upper arm girth + ease at the upper arm) × 0.33;"
        " scye width's part of the bust + (half bust − back width by the body − chest width by the body"
        " − fullness held in at the roll line − chest's share of the dart − scye width's part of the bust) × 0.5)",
    )
    r.number(
        "width left over",
        of,
        "half bust − back width by the body − chest width by the body − fullness held in at the roll line"
        " − chest's share of the dart − scye width at most",
    )
    r.number(
        "back width",
        "back",
        "back width by the body + least of (width left over × 0.4; most of (0; back shoulder reach"
        " − reach over the back − back width by the body))",
        "common practice, no source: no wider than an upright armhole allows under the shoulder",
    )
    r.number(
        "chest width",
        "front",
        "chest width by the body + fullness held in at the roll line + chest's share of the dart"
        " + least of (width left over × 0.6; most of (0; front shoulder reach by the body − reach over the chest"
        " + bust dart angle × 100 mm − chest width by the body))",
        "common practice, no source: no wider than an upright armhole allows under the shoulder",
    )
    r.number("scye width", of, "half bust − back width − chest width")


def _scye(r: Recorder) -> None:
    """Levels of scye, blade and bust; a scye too small for the arm's sleeve is lowered."""
    of = "levels"
    r.number(
        "mean height of the shoulder points",
        of,
        "(front neck point height + back waist length + back neck rise − front shoulder length"
        " × sine of (front slope angle) − back shoulder length × sine of (back slope angle)) / 2",
    )
    r.number(
        "armhole by the body",
        of,
        "(mean height of the shoulder points − scye line by the body) × 2 + scye width × 0.5",
    )
    r.number(
        "lowering for the arm",
        of,
        "most of (0; least of (45 mm; (upper arm girth + ease at the upper arm) × 0.68 − ease in the cap / 2"
        " − armhole by the body / 2))",
        "common practice, no source: armhole and cap ease together are at least 1.36 of the sleeve's width, lest the"
        " cap be too low",
    )
    r.number("scye line", of, "scye line by the body − lowering for the arm")
    r.number("blade line", of, "scye line + (back waist length − scye line) × 0.45")
    r.number("bust line", of, "most of (scye line × 0.55; least of (scye line − 12 mm; bust line by the body))")


def _intake(r: Recorder, design: JacketDesign) -> None:
    of = "intake"
    r.number("intake", of, "half bust − half waist")
    if design.centre_back is CentreBack.FOLD:
        r.number("hollow of the centre back", of, "0", "a fold is straight")
    else:
        r.number(
            "hollow of the centre back",
            of,
            "most of (0; least of (10 mm; intake × 0.09) − centre back straightened by)",
        )
    r.number("part of the way from blade to waist", "back", "(blade line − bust line) / blade line")
    r.number(
        "hollow at the bust",
        "back",
        "hollow of the centre back × part of the way from blade to waist × part of the way from blade to waist"
        " × (3 − 2 × part of the way from blade to waist)",
    )
    match design.body_cut:
        case BodyCut.SIDE_PANEL:
            front = "least of (intake × 0.21; 25 mm + least of (7 mm; most of (0; intake − 120 mm) × 0.2))"
            back = "least of (28 mm; (intake − 120 mm) × 0.9)"
        case BodyCut.DARTED:
            front = "least of (34 mm; intake × 0.23)"
            back = "least of (36 mm; intake × 0.29)"
        case _:
            front = back = "0"
    r.number("front dart by the intake", of, f"most of (0; {front})")
    _dart(r, "front dart")
    r.number("back dart by the intake", of, f"most of (0; {back})")
    _dart(r, "back dart")
    r.number(
        "intake of the panel seams",
        of,
        "intake − (hollow of the centre back − hollow at the bust) − front dart − back dart",
    )
    r.number(
        "front of the side panel",
        of,
        "scye width × (0.24 − 0.08 × most of (0; least of (1; (intake of the panel seams − 65 mm) / 35 mm)))",
        "common practice, no source: behind the chest; less where the panel needs its width at the waist",
    )
    cut = design.body_cut
    seams = [name.replace("-", " ") for name in SEAMS[cut]]
    for seam, name in zip(seams, SEAMS[cut], strict=True):
        share = _AT_BUST.get(name, 0.0)
        rule = f"most of (0; intake of the panel seams × {share:g})" if share else "0"
        r.number(f"{seam} gap at the bust", of, rule)
    for seam, share in zip(seams, _AT_WAIST[cut], strict=True):
        r.number(f"{seam} gap at the waist", of, f"{seam} gap at the bust + intake of the panel seams × {share:g}")
    gaps = " + ".join(f"{seam} gap at the bust" for seam in seams)
    r.number("centre front", of, f"half bust + hollow at the bust + {gaps}")
    r.number("spring at the hip", of, "half hip − centre front")
    for seam, share in zip(seams, HIP_SHARES[cut], strict=True):
        r.number(f"{seam} gap at the hip", of, f"−spring at the hip × {share:g}")


def _dart(r: Recorder, name: str) -> None:
    if r[f"{name} by the intake"] >= 6:
        r.number(name, "intake", f"{name} by the intake")
    else:
        r.number(name, "intake", "0", "common practice, no source: a dart under 6 mm isn't worth sewing")


def _check(r: Recorder, design: JacketDesign) -> None:
    """Refuses a body or design from which no jacket of this cut can be drawn."""
    wrong: list[Finding] = []

    def hold(is_right: bool, where: str, what: str, remedy: str = "Measure again.") -> None:
        if not is_right:
            wrong.append(Finding(Weight.REFUSED, where, what, remedy))

    hold(
        90 <= r["scye line"] <= r["back waist length"] - 130,
        "measurements.scye_depth",
        "it doesn't leave an armhole between the nape and the waist.",
        "Measure scye depth and back waist length again, both from the nape bone.",
    )
    hold(
        -45 <= r["bust line by the body"] - r["bust line"] <= 90,
        "measurements.neck_point_to_bust_point",
        "it puts the bust point far from the level of the armhole's foot.",
        "Measure it again, and the front waist length with it; both begin at the neck point.",
    )
    hold(
        -90 <= r["balance"] <= 160,
        "measurements.front_waist_length",
        "front and back waist length don't belong to one body.",
        "The front is mostly 2 to 6 cm longer; measure both to the same waist tape.",
    )
    hold(
        abs(r["width left over"]) <= 110,
        "measurements.across_back_width",
        "across back, across front and bust girth don't belong to one body.",
        "Measure the three again.",
    )
    hold(
        r["intake of the panel seams"] <= _MOST_INTAKE[design.body_cut] and r["intake"] >= -180,
        "measurements.waist_girth",
        "bust and waist differ by more than the seams and darts of this cut can shape.",
        "Measure both again; the waist goes where the body bends sideways.",
    )
    hold(
        -125 <= r["spring at the hip"] <= 170,
        "measurements.hip_girth",
        "bust and hip differ by more than the seams of this cut can shape.",
        "Measure both again; the hip goes round the fullest part of the seat.",
    )
    hold(
        70 <= r["waist to hip"] <= 350,
        "measurements.waist_to_hip",
        "no jacket can be fitted over such a distance from waist to hip.",
    )
    hold(
        90 <= r["bust point from the centre"] * 2 <= r["chest width"] * 2 - 20,
        "measurements.bust_point_width",
        "it puts the bust points outside the chest.",
    )
    hold(
        r["length below the waist"] >= 125,
        "design.length_below_waist",
        "so short a jacket has no room for its pockets and lowest button.",
        "Choose 12.5 cm or more.",
    )
    hold(
        0 <= r["round of the front hem"] <= 120,
        "design.front_hem_radius",
        "so large a round would cut the lowest button's place away.",
        "Choose 12 cm or less.",
    )
    if design.closing is Closing.SINGLE:
        hold(
            12 <= r["wrap"] <= 45,
            "design.wrap",
            "a single-breasted front can't button with it.",
            "Choose 18 to 22 mm.",
        )
    hold(
        design.vent is not Vent.BACK or design.centre_back is CentreBack.SEAM,
        "design.vent",
        "a centre back that is a fold has no seam to leave open.",
        "Choose a seam at the centre back, or side vents.",
    )
    hold(
        design.vent is Vent.NONE or 40 <= r["vent length"] <= r["length below the waist"] - 30,
        "design.vent_length",
        "the vent must end between hem and waist.",
        "Choose a vent at least 3 cm shorter than the jacket below its waist.",
    )
    hold(
        40 <= r["back neck width"] <= 110,
        "measurements.neck_base_girth",
        "it gives a neck that no collar can be drawn for.",
    )
    if wrong:
        raise Refusal(wrong)
