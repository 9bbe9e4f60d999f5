"""Real bodies for everybody's tests: the open survey's women, in a tailor's measurements.

The rows are tests/data/open-bodies.csv (origin beside it). Most columns are the tailor's own measure under another
name; a few aren't, and are carried over as said below. `bodies` gives only what the survey measured; what it didn't
(across front, scye depth, front waist length, bust point width) is left to be estimated, as it is for a client.
"""

from __future__ import annotations

import csv
import math
from collections.abc import Mapping
from functools import cache
from pathlib import Path

from settwright.body import Body

ROWS = Path(__file__).parent / "data" / "open-bodies.csv"

# The survey's waist lies at the navel. Natural waist girth against it: 0.833 in Heinz et al. 2003 (260 women, means
# 69.8 and 83.75 cm); 0.878 from ASTM D5585-11e1 (waist for the survey's mean bust, mean of its two figures). Halfway:
NATURAL_WAIST = 0.855
# How far the navel lies below the waist along the back: brings the survey's mean (425 mm) to the handbooks'
# stature / 4 less half an inch (Rosenfeld 1918, p. 9, with and without his inch for the collar stand: 395 mm).
NAVEL_BELOW_WAIST = 30.0
# A hanging arm is thinner than the flexed one that the survey measured (about 4 %, from memory).
RELAXED = 0.96


@cache
def rows() -> tuple[dict[str, float], ...]:
    """Returns the survey's rows as they are, in millimetres."""
    with ROWS.open(newline="") as file:
        return tuple({name: float(value) for name, value in row.items()} for row in csv.DictReader(file))


def measured(row: dict[str, float]) -> dict[str, float]:
    """Returns one woman in a tailor's measurements: millimetres, shoulder slope in radians."""
    drop = row["cervicaleheight"] - row["acromialheight"]
    # The bony shoulder point lies lower than the seam's end: 26.6° on the survey's mean; patterns take about 21°.
    slope = math.asin(min(drop / row["shoulderlength"], 0.9)) - math.radians(5.6)
    return {
        "height": row["stature"],
        "bust_girth": row["chestcircumference"],
        "waist_girth": round(row["waistcircumference"] * NATURAL_WAIST, 1),
        "hip_girth": row["buttockcircumference"],
        "neck_base_girth": row["neckcircumferencebase"],
        "shoulder_length": row["shoulderlength"],
        "shoulder_slope": min(max(slope, math.radians(14)), math.radians(28)),
        "across_back_width": row["interscyei"],
        "back_waist_length": row["waistbacklength"] - NAVEL_BELOW_WAIST,
        "waist_to_hip": row["waistheightomphalion"] - row["buttockheight"] + NAVEL_BELOW_WAIST + 10,
        # A slightly bent arm: between the straight outseam and the sum of its two bones.
        "arm_length": (row["sleeveoutseam"] + row["shoulderelbowlength"] + row["radialestylionlength"]) / 2,
        "upper_arm_length": row["shoulderelbowlength"],
        "upper_arm_girth": round(row["bicepscircumferenceflexed"] * RELAXED, 1),
        "elbow_girth": row["forearmcircumferenceflexed"],
        "wrist_girth": row["wristcircumference"],
        "waist_to_knee": row["waistheightomphalion"] + NAVEL_BELOW_WAIST - row["kneeheightmidpatella"],
        "waist_height": row["waistheightomphalion"] + NAVEL_BELOW_WAIST,
    }


def bodies() -> list[dict[str, float]]:
    """Returns every woman of the file in a tailor's measurements, as measured (nothing estimated)."""
    return [measured(row) for row in rows()]


def completed_bodies() -> list[Body]:
    """Returns every woman of the file with what the survey lacks estimated."""
    from settwright.body.estimate import complete

    return [complete(values) for values in bodies()]


@cache
def five_hundred() -> tuple[dict[str, float], ...]:
    """Returns 500 women in a tailor's measurements, their own crotch heights and thighs among them.

    Those of open-bodies.csv, the survey's extremes among them, and 371 more (tests/data/more-open-bodies.md).
    """
    with ROWS.with_name("open-legs.csv").open(newline="") as file:
        crotch = {float(row["row"]): float(row["crotchheight"]) for row in csv.DictReader(file)}
    with ROWS.with_name("more-open-bodies.csv").open(newline="") as file:
        more = [{name: float(value) for name, value in row.items()} for row in csv.DictReader(file)]
    every = [row | {"crotchheight": crotch[row["row"]]} for row in rows()] + more
    return tuple(
        measured(row) | {"crotch_height": row["crotchheight"], "thigh_girth": row["thighcircumference"]}
        for row in every
    )


# 5th and 95th percentiles of the survey's 1,986 women, from its public release file; the waist carried over as above.
USUAL = {
    "bust_girth": (824.2, 1094.0),
    "waist_girth": (710.0 * NATURAL_WAIST, 1040.0 * NATURAL_WAIST),
    "hip_girth": (901.2, 1155.8),
}


def is_usual(body: Body | Mapping[str, float]) -> bool:
    """Whether bust, waist and hip lie within the survey's 5th to 95th percentiles."""
    return all(low <= body[name] <= high for name, (low, high) in USUAL.items())
