"""What a fitting corrects is drafted: measurements and lengths of the cut, told; what is neither is kept as a note."""

from __future__ import annotations

import pytest

from settwright.commission.model import Commission
from settwright.commission.reading import read_commission
from settwright.findings import Refusal, Weight
from settwright.planner.derive import body_of, draft_garments

TEXT = """
format = 1
title = "Plain suit"
units = "cm"

[measurements]
height = 168
bust_girth = 92
waist_girth = 74
hip_girth = 98
arm_length = 59

[jacket]
length_below_waist = 23

[skirt]

[cloths.shell]
colours = { navy = "#1f2a44" }
width = 150
"""


def fitted(corrections: str, more: str = "") -> Commission:
    return read_commission(
        f'{TEXT}{more}\n[[fittings]]\ndate = "12 May"\n[fittings.corrections]\n{corrections}\n', "suit"
    )


def notes(commission: Commission) -> dict[str, str]:
    return {f.where: f.what for f in body_of(commission).findings + commission.findings if f.weight is Weight.NOTE}


def test_a_measurement_that_was_taken_or_estimated_is_corrected_and_no_other_moves():
    before, after = body_of(read_commission(TEXT, "suit")), body_of(fitted("arm_length = 1\nwaist_to_hip = '-0,5'"))
    moved = {m.name: m.value - before[m.name] for m in after.measures if m.value != before[m.name]}
    assert moved == pytest.approx({"arm_length": 10.0, "waist_to_hip": -5.0})
    told = notes(fitted("arm_length = 1"))["measurements.arm_length"]
    assert told == "arm length: 60.0 cm since the fittings, before them 59.0 cm."


def test_the_corrections_of_several_fittings_add_up():
    more = '[[fittings]]\ndate = "2 May"\ncorrections = { arm_length = "6 mm" }'
    assert body_of(fitted("arm_length = 0.4", more))["arm_length"] == pytest.approx(600.0)


def test_a_lower_shoulder_counts_from_nothing():
    assert body_of(fitted("low_shoulder_left = '6 mm'"))["low_shoulder_left"] == pytest.approx(6.0)


def test_a_length_of_the_cut_is_corrected_and_drafted():
    commission = fitted('jacket.length_below_waist = 1.5\n"jacket.ease.waist" = "-24 mm"\n"skirt.length" = -2')
    plain = read_commission(TEXT, "suit")
    assert commission.jacket is not None
    assert commission.skirt is not None
    assert plain.jacket is not None
    assert plain.skirt is not None
    assert commission.jacket.length_below_waist == pytest.approx(245.0)
    assert commission.jacket.ease.waist == pytest.approx(plain.jacket.ease.waist - 24.0)
    assert commission.skirt.length == pytest.approx(plain.skirt.length - 20.0)
    assert notes(commission)["jacket.length_below_waist"].endswith("24.5 cm since the fittings, before them 23.0 cm.")

    def skirt(of: Commission) -> float:
        draft = next(draft for draft in draft_garments(of, body_of(of), 1.0) if draft.name == "skirt")
        low, high = (f(p.y for p in draft.piece("skirt-front").outline.points()) for f in (min, max))
        return high - low

    assert skirt(plain) - skirt(commission) == pytest.approx(20.0, abs=0.5)


def test_a_length_that_one_garment_alone_has_may_be_named_without_it():
    commission = fitted("'length below waist' = 1")
    assert commission.jacket is not None
    assert commission.jacket.length_below_waist == pytest.approx(240.0)


@pytest.mark.parametrize("name", ["waist at the side seam", "trousers.hem_above_floor", "jacket.buttons"])
def test_what_can_not_be_drafted_is_kept_and_said_plainly(name: str):
    commission = fitted(f'"{name}" = "-6 mm"')
    assert commission.fittings[0].corrections == ((name, -6.0),)
    (told,) = (f for f in commission.findings if f.weight is Weight.CAUTION)
    assert "noted and not drafted" in told.what
    assert "by hand" in told.remedy


@pytest.mark.parametrize(
    ("corrections", "says"),
    [
        ("jacket.length_below_waist = -30", "must lie from"),
        ("jacket.sleeve_hem = 1", "no figure to correct"),
        ("shoulder_slope = 2", "Measure it again"),
        ("arm_length = 'much'", "is not a length"),
    ],
)
def test_a_correction_that_can_not_be_is_refused(corrections: str, says: str):
    with pytest.raises(Refusal, match=says):
        fitted(corrections)


def test_a_correction_that_no_body_has_is_refused():
    with pytest.raises(Refusal, match="arm length"):
        body_of(fitted("arm_length = 45"))
