"""Lengths as a tailor writes and reads them."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from settwright.units import NotALength, Units, format_cloth, format_fine, format_length, in_units, parse_length

CM, INCHES = Units.CM, Units.INCHES


@pytest.mark.parametrize(
    ("written", "units", "millimetres"),
    [
        # 1 in = 25.4 mm exactly, 1 yd = 36 in (international yard and pound agreement, 1959)
        ("38 1/2", INCHES, 977.9),
        ("38½", INCHES, 977.9),
        ("38-1/2", INCHES, 977.9),
        ("1/8", INCHES, 3.175),
        ("1/2", INCHES, 12.7),
        (38.5, INCHES, 977.9),
        ('38 1/2"', CM, 977.9),
        ("5 yd", CM, 4572),
        ("97,5", CM, 975),
        ("97.5", CM, 975),
        (97.5, CM, 975),
        (97, CM, 970),
        ("12 mm", INCHES, 12),
        ("4 cm", INCHES, 40),
        ("3.2 m", INCHES, 3200),
        ("-5 mm", CM, -5),
        ("-3/8", INCHES, -9.525),
        ("3 1/8 yd", CM, 2857.5),
        ("  7  ", CM, 70),
    ],
)
def test_what_is_written_is_read(written: str | float, units: Units, millimetres: float) -> None:
    assert parse_length(written, units) == millimetres


@pytest.mark.parametrize(
    "written",
    ["", "wide", "1/0", "1.5 1/2", "3 feet", "12 mm 4", True, float("nan"), float("inf"), "--3", "1/2/3"],
)
def test_what_is_no_length_says_how_to_write_one(written: str | float) -> None:
    with pytest.raises(NotALength):
        parse_length(written, CM)


@pytest.mark.parametrize("written", ["1e3", "38 1", "½½", "9" * 400, "1/" + "9" * 50])
def test_what_is_too_much_for_a_length_says_so(written: str) -> None:
    with pytest.raises(NotALength):
        parse_length(written, INCHES)


@given(st.text(max_size=40))
def test_no_text_gives_anything_but_a_length_or_a_word(text: str) -> None:
    try:
        length = parse_length(text, INCHES)
    except NotALength:
        return
    assert abs(length) < 1e15


@given(st.floats(0, 5000), st.sampled_from(Units))
def test_a_printed_length_reads_back_within_half_a_mark(length: float, units: Units) -> None:
    mark = 1.0 if units is CM else 25.4 / 16
    assert parse_length(format_length(length, units), units) == pytest.approx(length, abs=mark / 2 + 1e-6)


@given(st.floats(0.01, 20000), st.sampled_from(Units))
def test_cloth_is_never_rounded_down(length: float, units: Units) -> None:
    step = 10.0 if units is CM else 914.4 / 8
    told = parse_length(format_cloth(length, units), units)
    assert length - 1e-3 <= told <= length + step + 1e-3


def test_a_small_miss_is_told_finely() -> None:
    assert format_fine(0.84, CM) == "0.8 mm"
    assert format_fine(0.84, INCHES) == "1/32 in"
    assert format_fine(0.1, INCHES) == "under 1/64 in"


@pytest.mark.parametrize(
    ("said", "in_inches"),
    [
        # sixteenths of an inch: 25 mm = 15.75/16, 110 mm = 69.3/16, 60 mm = 37.8/16, 4 cm = 25.2/16 (1 in = 25.4 mm)
        ("a peak is 25 to 110 mm long.", "a peak is 1 to 4 5/16 in long."),
        ("Choose about 4 cm, not 60 mm.", "Choose about 1 9/16 in, not 2 3/8 in."),
        ("leave it by 0.8 mm", "leave it by 1/32 in"),
        ("her own “12 mm” stays", "her own “12 mm” stays"),
        ("3 buttons of silk", "3 buttons of silk"),
    ],
)
def test_what_is_said_in_millimetres_is_told_in_inches(said: str, in_inches: str) -> None:
    assert in_units(said, INCHES) == in_inches


def test_one_who_measures_in_centimetres_reads_long_lengths_so() -> None:
    assert in_units("takes 2843 mm, 6 mm more", CM) == "takes 284.3 cm, 6 mm more"
