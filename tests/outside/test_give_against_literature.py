"""What a fibre class is taken to give, against what cloth was measured to lose and to extend by.

Origins stand beside the data.

The usual figures are to be on the careful side: never more than what the least of the cloths found did.
"""

import csv
import math
from pathlib import Path

import pytest

from settwright.cloth.give import Fibre, usual
from settwright.cloth.net import shear_of

DATA = Path(__file__).parents[1] / "data"


def rows(name: str) -> list[dict[str, str]]:
    with (DATA / name).open(newline="") as file:
        return list(csv.DictReader(file))


def figures(fibre: str, figure: str, way: str) -> list[float]:
    """Returns every figure found, as parts of 1."""
    found = [row for row in rows("cloth-limits.csv") if row["fibre"] == fibre and row["figure"].startswith(figure)]
    return [float(row[way]) / 100 for row in found if row[way]]


@pytest.mark.parametrize("fibre", [Fibre.COTTON, Fibre.SILK, Fibre.LINEN, Fibre.SYNTHETIC])
@pytest.mark.parametrize("way", ["warp", "weft"])
def test_no_more_is_shrunk_away_than_the_least_of_the_cloths_lost_wet(fibre: Fibre, way: str) -> None:
    found = figures(fibre, "loses", way)
    if fibre is Fibre.LINEN and way == "weft":
        found = figures(fibre, "loses", "warp")  # the trial measured the length alone
    assert found
    assert usual(fibre).shrink(along_warp=way == "warp") <= min(found)


@pytest.mark.parametrize("way", ["warp", "weft"])
def test_wool_is_shrunk_by_no_more_than_a_soft_one_lost_wet(way: str) -> None:
    """A worsted lost half of that: so a swatch decides, and the plan says that the figure is usual only."""
    found = figures("wool", "loses", way)
    shrinks = usual(Fibre.WOOL).shrink(along_warp=way == "warp")
    assert min(found) < shrinks <= max(found) + 0.005
    assert "swatch" in usual(Fibre.WOOL).said


@pytest.mark.parametrize("fibre", [Fibre.WOOL, Fibre.COTTON])
@pytest.mark.parametrize("way", ["warp", "weft"])
def test_no_more_is_stretched_than_a_laboratory_measured(fibre: Fibre, way: str) -> None:
    found = figures(fibre, "extends", way) + figures(fibre, "not to be", way)
    assert found
    assert usual(fibre).stretch(along_warp=way == "warp") <= min(found)


@pytest.mark.parametrize("fibre", list(Fibre))
def test_threads_lean_by_more_than_a_fingers_pull_and_less_than_where_they_touch(fibre: Fibre) -> None:
    """At 5 gf/cm a wool plain weave grew by 4.7 % on the bias, as a net whose threads lean by 5.5°. Threads that cover
    nine tenths of their spacing, as a close cloth's do, touch side by side at 25.8° (geometry).
    """
    at_a_touch = shear_of(1.0 + figures("wool", "bias extends", "warp")[0])
    touching = next(row for row in rows("locking-bound.csv") if row["yarn_width_over_spacing"] == "0.9")
    assert math.degrees(at_a_touch) == pytest.approx(5.5, abs=0.05)
    assert at_a_touch < usual(fibre).shear < math.radians(float(touching["max_shear_deg"]))


def test_under_the_iron_length_resists_less_beside_shear_than_in_the_cold() -> None:
    """In the cold the laboratory's wool had a shear rigidity of 26.17 N/m; 100 gf/cm (98.07 N/m) drew it out by 4.6 %:
    shear resists 0.0123 of what stretching does. Damp heat softens the yarns' crimp, so that the part is greater.
    """
    rigidity = 100 * figures("wool", "shear rigidity", "warp")[0]
    cold = rigidity / (98.07 / figures("wool", "extends", "warp")[0])
    assert cold == pytest.approx(0.0123, abs=0.0001)
    for fibre in Fibre:
        assert usual(fibre).askew_over_shrink > cold
