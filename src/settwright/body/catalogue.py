"""The measures that a client is taken by: what each is called, how it is taken, and what no adult body has.

Terms are those of ISO 8559-1:2017: with its clause where that was seen, as public pages reproduce it; the others
from memory, most of them in the list of ISO 8559:1989. How each is taken is common practice, no source.
The limits are wide: they catch a slip of the tape, of the pen or of the unit, not an unusual client.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from settwright.units import Units, format_length


@dataclass(frozen=True, slots=True)
class Definition:
    """One measure. Limits in millimetres; radians where it is an angle."""

    name: str  # id
    title: str  # "bust girth"
    term: str  # the ISO 8559-1 term, or "" where there is none
    how: str  # one sentence
    lowest: float
    highest: float
    is_angle: bool = False
    clause: str = ""  # of the standard, where term and definition were seen

    @property
    def reference(self) -> str:
        """The term with its clause."""
        return f"{self.term} ({self.clause})" if self.clause else self.term

    def written(self, value: float, units: Units) -> str:
        """Returns a value of this measure as a tailor writes it."""
        return f"{math.degrees(value):.0f}°" if self.is_angle else format_length(value, units)


_DEGREE = math.pi / 180

CATALOGUE: tuple[Definition, ...] = (
    Definition(
        "height", "height", "stature", "Stand barefoot against a wall, heels together: floor to crown.", 1200, 2150
    ),
    Definition(
        "bust_girth",
        "bust girth",
        "bust girth",
        "Level round the fullest part of the bust, over the bra that will be worn, breathing quietly.",
        600,
        1800,
        clause="5.3.4",
    ),
    Definition(
        "waist_girth",
        "waist girth",
        "waist girth",
        "Tie a tape where the body bends sideways, between the lowest rib and the hip bone, and measure along it.",
        420,
        1750,
        clause="5.3.10",
    ),
    Definition(
        "hip_girth",
        "hip girth",
        "hip girth",
        "Level round the fullest part of the seat, heels together.",
        600,
        1900,
        clause="5.3.13",
    ),
    Definition(
        "neck_base_girth",
        "neck base girth",
        "neck base girth",
        "Round the base of the neck: the nape bone, the two neck points, the hollow in front.",
        270,
        560,
        clause="5.3.3",
    ),
    Definition(
        "shoulder_length",
        "shoulder length",
        "shoulder length",
        "From the neck point, where neck and shoulder meet, to the shoulder point, where the arm hinges.",
        85,
        200,
    ),
    Definition(
        "shoulder_slope",
        "shoulder slope",
        "shoulder slope",
        "How far the shoulder falls from the level, in degrees; read it from a photograph of the back.",
        5 * _DEGREE,
        40 * _DEGREE,
        True,
    ),
    Definition(
        "across_back_width",
        "across back width",
        "across back width",
        "Across the shoulder blades from arm crease to arm crease, halfway between shoulder and armpit.",
        240,
        560,
    ),
    Definition(
        "across_front_width",
        "across front width",
        "across front width",
        "Across the chest from arm crease to arm crease, halfway between shoulder and armpit.",
        220,
        540,
    ),
    Definition(
        "scye_depth",
        "scye depth",
        "scye depth",
        "From the nape bone down the back to a tape held level under the armpits.",
        130,
        340,
    ),
    Definition(
        "back_waist_length",
        "back waist length",
        "back neck point to waist",
        "From the nape bone down the middle of the back to the waist tape, following the body.",
        290,
        560,
        clause="5.4.5",
    ),
    Definition(
        "front_waist_length",
        "front waist length",
        "front waist length",
        "From the neck point over the bust point down to the waist tape.",
        300,
        680,
    ),
    Definition(
        "neck_point_to_bust_point",
        "neck point to bust point",
        "neck shoulder point to breast point",
        "From the neck point straight to the bust point.",
        170,
        480,
    ),
    Definition(
        "bust_point_width",
        "bust point width",
        "bust point width",
        "From bust point to bust point, the tape not dipping between.",
        110,
        380,
    ),
    Definition(
        "waist_to_hip",
        "waist to hip",
        "waist to hips",
        "At the side from the waist tape down to the level of the hip girth, following the body.",
        90,
        330,
    ),
    Definition(
        "arm_length",
        "arm length",
        "outer arm length",
        "From the shoulder point over the slightly bent elbow to the wrist bone.",
        400,
        780,
        clause="5.7.8",
    ),
    Definition(
        "upper_arm_length",
        "upper arm length",
        "upper arm length",
        "From the shoulder point to the tip of the elbow, the arm slightly bent.",
        230,
        480,
    ),
    Definition(
        "upper_arm_girth",
        "upper arm girth",
        "upper-arm girth",
        "Round the thickest part of the relaxed upper arm.",
        170,
        620,
        clause="5.3.16",
    ),
    Definition("elbow_girth", "elbow girth", "elbow girth", "Round the bent elbow, over its tip.", 160, 500),
    Definition(
        "wrist_girth", "wrist girth", "wrist girth", "Round the wrist, over the wrist bone.", 110, 260, clause="5.3.19"
    ),
    Definition(
        "waist_to_knee",
        "waist to knee",
        "waist to knee",
        "From the waist tape down the front to the middle of the knee cap.",
        400,
        780,
    ),
    Definition(
        "waist_height",
        "waist height",
        "waist height",
        "From the waist tape at the side down to the floor, barefoot.",
        700,
        1400,
    ),
    Definition(
        "crotch_height",
        "crotch height",
        "inside leg height",
        "Inside the leg from the crotch down to the floor, barefoot, a thin book held level against the body.",
        480,
        1100,
    ),
    Definition(
        "thigh_girth",
        "thigh girth",
        "thigh girth",
        "Level round the thickest part of the thigh, close under the seat, standing on both feet.",
        330,
        1050,
        clause="5.3.20",
    ),
    Definition(
        "knee_girth",
        "knee girth",
        "knee girth",
        "Round the middle of the knee cap, the leg straight.",
        220,
        700,
        clause="5.3.22",
    ),
)

DEPARTURES: tuple[Definition, ...] = (
    Definition(
        "low_shoulder_right",
        "lower right shoulder",
        "",
        "Standing at ease, a level rule held across the back: how far the right shoulder point lies below the left.",
        0,
        50,
    ),
    Definition(
        "low_shoulder_left",
        "lower left shoulder",
        "",
        "Standing at ease, a level rule held across the back: how far the left shoulder point lies below the right.",
        0,
        50,
    ),
    Definition(
        "full_hip_right",
        "fuller right hip",
        "",
        "Round the hip from centre front to centre back on either side: how much the right half is more than the left.",
        0,
        120,
    ),
    Definition(
        "full_hip_left",
        "fuller left hip",
        "",
        "Round the hip from centre front to centre back on either side: how much the left half is more than the right.",
        0,
        120,
    ),
    Definition(
        "back_stoop",
        "stoop of the back",
        "",
        "In a plain upright toile: the wedge to open across the blades until its back hangs plumb (stooping), or with a"
        " minus the fold to pin away there (erect).",
        -30,
        50,
    ),
)
"""How a body departs from an even, upright figure. Never estimated: one that isn't measured isn't there."""

BY_NAME: dict[str, Definition] = {definition.name: definition for definition in (*CATALOGUE, *DEPARTURES)}

REQUIRED: tuple[str, ...] = ("bust_girth", "waist_girth", "hip_girth")
"""Measures that nothing can stand in for."""

FOR_TROUSERS = ("crotch_height", "thigh_girth", "knee_girth")  # asked for by no other garment
