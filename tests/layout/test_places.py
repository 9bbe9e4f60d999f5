"""Places told by counted bars: read back against the sequence laid out bar by bar."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from settwright.cloth import Bar, Cloth, Sequence
from settwright.layout import Layout, Placement
from settwright.layout.places import counted, cutting_order, ordinal, places_of
from settwright.makeup.model import Hand
from settwright.units import Units
from tests.cut_pieces import cut, front, under_collar, waistband

WARP = Sequence((Bar("navy 1", "navy", 20), Bar("green 1", "green", 30), Bar("navy 2", "navy", 10)))
WEFT = Sequence((Bar("navy 1", "navy", 24), Bar("red 1", "red", 6), Bar("green 1", "green", 40)))
CLOTH = Cloth(
    "shell",
    "Plaid",
    (("navy", "#202040"), ("green", "#305030"), ("red", "#a02020")),
    WARP,
    WEFT,
    width=1450,
    selvedge=15,
    thickness=0.8,
    sett_at_left=-5,
)


@given(st.floats(0.5, 900), st.floats(-200, 200))
def test_counting_agrees_with_walking_the_bars_one_by_one(beyond: float, start: float):
    """The walk: every bar of many repeats in order, those of the name that show at least 1 mm past the start."""
    place = start + beyond
    told = counted(WARP, place, start)
    seen = 0
    for turn in range(-10, 30):
        for bar, bar_start in zip(WARP.bars, WARP.starts, strict=True):
            begins = bar_start + turn * WARP.repeat
            if bar.name == told.name and begins + bar.width > start + 1 and begins <= place + 1e-6:
                seen += 1
                if begins <= round(place, 6) < begins + bar.width:
                    assert seen == told.count
                    assert told.inside == pytest.approx(place - begins, abs=1e-5)
                    return
    assert told.count <= 0  # a bar of which less than 1 mm shows isn't counted


@pytest.mark.parametrize(
    ("place", "words"),
    [
        (60, "on the left edge of the 2nd navy 1 bar from the left selvedge"),
        (79.8, "on the right edge of the 2nd navy 1 bar from the left selvedge"),
        (95.3, "in the middle of the 2nd green 1 bar from the left selvedge"),
        (84, "0.4 cm inside the left edge of the 2nd green 1 bar from the left selvedge"),
    ],
)
def test_a_place_in_a_bar_in_words(place: float, words: str):
    assert counted(WARP, place, 10).told("left", "right", "left selvedge") == words


def test_inches_are_told_in_sixteenths():
    assert counted(WARP, 60 + 6.35, 10, Units.INCHES).told("left", "right", "left selvedge").startswith("1/4 in inside")


def test_every_piece_is_told_in_the_order_of_cutting():
    pieces = (cut(waistband(), Hand.WHOLE), cut(under_collar(), Hand.RIGHT), cut(front(), Hand.RIGHT))
    layout = Layout(
        tuple(Placement(piece.name, 55.0 + 60 * i, 100.0 + 70 * i, t=-1 if i else 1) for i, piece in enumerate(pieces)),
        length=900,
        oy=30,
        usage=0.5,
    )
    places = places_of(layout, pieces, CLOTH)
    assert [place.piece for place in places] == list(cutting_order(pieces))
    by_name = {place.piece: place for place in places}
    right_front = by_name["front.right"]
    assert (right_front.from_selvedge, right_front.from_end) == (175, 240)
    # across: 175 + 5 = 180 = three repeats of 60 from the sett's origin; the first navy 1 from 15 on is that at −5,
    # which ends at 15 and doesn't show; so 55, 115, 175: the third. Along: 240 − 30 = 210 = three repeats of 70;
    # bars navy 1 begin at 30, 100, 170, 240; the one at −40 ends at −16: so the fourth.
    assert right_front.told == (
        "on the left edge of the 3rd navy 1 bar from the left selvedge, "
        "on the lower edge of the 4th navy 1 bar from the end, turned, its top towards the end"
    )
    for piece in pieces:
        if not piece.is_matched:
            assert by_name[piece.name].told.startswith("by tape")


def test_ordinals():
    assert [ordinal(n) for n in (1, 2, 3, 4, 11, 12, 13, 21, 22, 103, 111)] == (
        ["1st", "2nd", "3rd", "4th", "11th", "12th", "13th", "21st", "22nd", "103rd", "111th"]
    )
