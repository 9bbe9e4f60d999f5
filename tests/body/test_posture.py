"""A stooping back lengthens the back and shortens the front, an erect one the reverse; what was measured stays.

The direction: Vincent, The Cutter's Practical Guide, 1898, part 1, page 60, "shortening the back and lengthening the
front for an erect form, and a longer back and shorter front shoulder for a stooping form".
"""

from __future__ import annotations

import pytest

from settwright.body import Source
from settwright.body.estimate import complete
from settwright.commission.design import JacketDesign
from settwright.pattern.drafts.jacket import draft_jacket
from settwright.units import Units

CLIENT = {"height": 1680.0, "bust_girth": 920.0, "waist_girth": 740.0, "hip_girth": 980.0}


@pytest.mark.parametrize("stoop", [-15.0, 12.0, 25.0])
def test_balance_goes_the_way_the_handbook_says(stoop: float) -> None:
    upright, bent = complete(CLIENT), complete(CLIENT | {"back_stoop": stoop})
    back = bent["back_waist_length"] - upright["back_waist_length"]
    front = bent["front_waist_length"] - upright["front_waist_length"]
    assert back == pytest.approx(stoop)
    assert front * stoop < 0


@pytest.mark.parametrize("stoop", [-15.0, 20.0])
def test_the_front_is_the_same_whether_the_back_was_measured_or_estimated(stoop: float) -> None:
    """A measured back holds the stoop; the front that is estimated from it must not inherit it."""
    upright = complete(CLIENT)["back_waist_length"]
    estimated = complete(CLIENT | {"back_stoop": stoop})
    measured = complete(CLIENT | {"back_stoop": stoop, "back_waist_length": upright + stoop})
    assert measured["back_waist_length"] == upright + stoop
    assert measured["front_waist_length"] == pytest.approx(estimated["front_waist_length"], abs=0.11)


def test_what_was_measured_is_never_changed() -> None:
    lengths = {
        "back_waist_length": 420.0,
        "front_waist_length": 440.0,
        "scye_depth": 215.0,
        "neck_point_to_bust_point": 265.0,
        "across_back_width": 350.0,
        "across_front_width": 330.0,
    }
    body = complete(CLIENT | lengths | {"back_stoop": 20.0})
    for name, value in lengths.items():
        assert body[name] == value
    told = [f for f in body.findings if f.where == "measurements.back_stoop"]
    assert len(told) == 1
    assert "changes nothing" in told[0].what


def test_an_upright_body_has_no_word_of_posture() -> None:
    for given in (CLIENT, CLIENT | {"back_stoop": 0.0}):
        body = complete(given)
        assert not [f for f in body.findings if f.where == "measurements.back_stoop"]
        assert {m.name: m.value for m in body.measures if m.name != "back_stoop"} == {
            m.name: m.value for m in complete(CLIENT).measures
        }


def test_each_changed_length_says_how_in_the_persons_units() -> None:
    body = complete(CLIENT | {"back_stoop": 25.4}, Units.INCHES)
    back = next(m for m in body.measures if m.name == "back_waist_length")
    assert back.source is Source.ESTIMATED
    assert "1 in more for the posture" in back.how
    (told,) = [f.what for f in body.findings if f.where == "measurements.back_stoop"]
    assert "stooping" in told
    assert "cm" not in told


def test_the_draft_of_a_stooping_body_has_the_longer_back() -> None:
    """Nape to waist on the pattern grows by the stoop: the jacket is drafted from the changed body."""
    upright, bent = (draft_jacket(complete(CLIENT | more), JacketDesign(), 1.0) for more in ({}, {"back_stoop": 15.0}))
    napes = [next(s.point for s in draft.record if s.name == "nape") for draft in (upright, bent)]
    assert napes[0] is not None
    assert napes[1] is not None
    assert napes[1].y - napes[0].y == pytest.approx(15.0)
