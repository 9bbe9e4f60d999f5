"""The plan beside the trade's orders: a share where there is something to take a share of, else what it comes to."""

from __future__ import annotations

import pytest

from settwright.units import Units
from settwright.workbook.comparisons import order_told

# by the objective's table a mean miss of 1 mm costs 3 ΔE, and a seam that must meet has the weight 10: 30 in all
PER_MM = 30.0


@pytest.mark.parametrize(
    ("ours", "theirs", "told"),
    [
        (100.0, 150.0, "+50%"),
        (100.0, 100.0, "+0%"),
        (0.8, 62.6, "as 2.1 mm at one seam that must meet"),  # a share would be +7725 %
        (0.0, 0.0, "nothing"),
        (0.0, 4 * PER_MM, "as 4.0 mm at one seam that must meet"),
        (80.0, 10.0**15 / 4.096e7 + 80.0, "breaks a seam that must meet"),
    ],
)
def test_another_order_is_told_by_its_share_or_by_what_it_comes_to(ours: float, theirs: float, told: str) -> None:
    assert order_told(ours, theirs, Units.CM) == told
