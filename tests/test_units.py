"""Reading and printing lengths. 1 in = 25.4 mm exactly (international yard and pound agreement, 1959)."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from settwright.units import NotALength, Units, format_cloth, format_fine, format_length, parse_length


@pytest.mark.parametrize(
    ("written", "units", "length"),
    [
        ("38 1/2", Units.INCHES, 38.5 * 25.4),
        ("38-1/2", Units.INCHES, 38.5 * 25.4),
        ("38½", Units.INCHES, 38.5 * 25.4),
        ("1/2", Units.INCHES, 12.7),
        (36, Units.INCHES, 914.4),
        ("97,5", Units.CM, 975.0),
        (97.5, Units.CM, 975.0),
        ("12 mm", Units.INCHES, 12.0),
        ("3 1/8 yd", Units.CM, 3.125 * 914.4),
        ("-3/8", Units.INCHES, -0.375 * 25.4),
        ("2 in", Units.CM, 50.8),
    ],
)
def test_lengths_as_they_are_written(written: str | float, units: Units, length: float):
    assert parse_length(written, units) == pytest.approx(length, abs=1e-6)


@pytest.mark.parametrize(
    "written",
    ["", "abc", "1/0", "3.5 1/2", "1e3", "38 1", "1/2/3", "½½", "9" * 400, "1/" + "9" * 50, True, float("nan")],
)
def test_what_is_no_length_is_told_as_one(written: str | float):
    with pytest.raises(NotALength):
        parse_length(written, Units.CM)


@given(st.text(max_size=40))
def test_no_text_gives_anything_but_a_length_or_a_word(text: str):
    try:
        length = parse_length(text, Units.INCHES)
    except NotALength:
        return
    assert abs(length) < 1e15


@given(st.integers(0, 3000))
def test_what_is_printed_is_read_again(sixteenths: int):
    length = sixteenths * 25.4 / 16
    assert parse_length(format_length(length, Units.INCHES), Units.CM) == pytest.approx(length, abs=1e-5)
    assert parse_length(format_length(float(sixteenths), Units.CM), Units.INCHES) == pytest.approx(sixteenths)


def test_cloth_is_told_rounded_up():
    assert format_cloth(2843.0, Units.CM) == "2.85 m"
    assert format_cloth(2850.0, Units.CM) == "2.85 m"
    assert format_cloth(914.4 * 3, Units.INCHES) == "3 yd"
    assert format_cloth(914.4 * 3 + 1, Units.INCHES) == "3 1/8 yd"


def test_a_miss_is_told_finely():
    assert format_fine(0.84, Units.CM) == "0.8 mm"
    assert format_fine(0.84, Units.INCHES) == "1/32 in"
    assert format_fine(0.1, Units.INCHES) == "under 1/64 in"
