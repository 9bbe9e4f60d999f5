"""The posture that a commission tells goes into the plan's body once."""

from __future__ import annotations

from pathlib import Path as File

import pytest

from settwright.commission.reading import read_commission
from settwright.planner.derive import body_of

EXAMPLE = File(__file__).parents[2] / "examples" / "plaid-suit.toml"
ESTIMATED = ("back_waist_length", "scye_depth", "across_back_width", "front_waist_length")


@pytest.mark.parametrize(("said", "stoop"), [("2", 20.0), ("-1.5", -15.0)])
def test_a_wedge_across_the_blades_lengthens_the_back_by_itself(said: str, stoop: float) -> None:
    """Opening a wedge lengthens the centre back by the wedge: geometry. It is told once."""
    lines = EXAMPLE.read_text().splitlines()
    text = "\n".join(line for line in lines if not line.startswith(ESTIMATED))
    upright = body_of(read_commission(text, "suit"))
    bent = body_of(read_commission(text.replace("[measurements]", f"[measurements]\nback_stoop = {said}"), "suit"))
    assert bent["back_waist_length"] - upright["back_waist_length"] == pytest.approx(stoop)
    assert bent["scye_depth"] - upright["scye_depth"] == pytest.approx(stoop)
    assert len([found for found in bent.findings if found.where == "measurements.back_stoop"]) == 1
