"""Changes as the page sends them: what was typed is kept, what can't be is refused, others' changes are left alone."""

from __future__ import annotations

import tomllib
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from settwright.commission.reading import read_commission
from settwright.findings import Refusal
from settwright.units import Units
from settwright.web.changes import (
    PinForm,
    Wish,
    as_written,
    clash,
    differing,
    dotted,
    faults,
    field_of,
    make,
    measured_in,
    parse_path,
)
from settwright.web.commissions import blank, brought_in, example, file_name
from settwright.web.start import examples

SUIT = example("plaid-suit")


def made(text, *wishes):
    return make(text, [Wish(**wish) for wish in wishes])


def values(text):
    return tomllib.loads(text)


@pytest.mark.parametrize(
    ("field", "typed", "kept"),
    [
        ("jacket.buttons", "2", 2),
        ("jacket.length_below_waist", "26,5", "26,5"),
        ("jacket.length_below_waist", "10 1/2 in", "10 1/2 in"),
        ("jacket.length_below_waist", " 26.5 ", 26.5),
        ("choices.hem_on_a_bar", "no", False),
        ("choices.hem_on_a_bar", True, True),
        ("measurements.wrist_girth", "16", 16),
        ("cloths.shell.price_per_metre", "68,50", "68,50"),
        ("title", "A coat", "A coat"),
        ("currency", "CHF", "CHF"),
        ("cloths.shell.colours.rust", "#aa5533", "#aa5533"),
        ('importance."flap.left"', "let go", "let go"),
    ],
)
def test_what_was_typed_is_what_the_file_says(field, typed, kept):
    after = made(SUIT, {"set": field, "to": typed})
    found: Any = values(after.text)
    for key in parse_path(field):
        found = found[key]
    assert found == kept
    assert type(found) is type(kept)


def test_comments_stay_and_nothing_else_changes():
    after = made(SUIT, {"set": "jacket.buttons", "to": "2"})
    assert "# a facing sewn on; " in after.text
    assert differing(SUIT, after.text) == {("jacket", "buttons")}
    assert after.says == "jacket, buttons: 2"


def test_what_is_left_empty_goes_back_to_custom():
    after = made(SUIT, {"set": "jacket.buttons", "to": ""})
    assert "buttons" not in values(after.text)["jacket"]
    jacket = read_commission(after.text, "c").jacket
    assert jacket is not None
    assert jacket.buttons == 3


@pytest.mark.parametrize(
    ("wish", "says"),
    [
        ({"set": "jacket.buttons", "to": "nine"}, "whole number"),
        ({"set": "jacket.buttons", "to": "9"}, "1 to 6 buttons"),
        ({"set": "measurements.bust_girth", "to": "92 what"}, "not a length"),
        ({"set": "measurements.bust_girth", "to": "9"}, "bust girth"),
        ({"set": "jacket.no_such_thing", "to": "1"}, "no field"),
        ({"set": "jacket.buttons.more", "to": "1"}, ""),
        ({"take_out": "measurements.bust_girth"}, "missing"),
        ({"take_out": "cloths.shell"}, "outer cloth is missing"),
        ({"set": "cloths.shell.warp.bars", "to": ["navy 12", "pink 3"]}, "pink"),
        ({"set": "", "to": "1"}, "no field"),
        ({}, "a change is one of"),
        ({"set": "title", "to": "a", "take_out": "title"}, "a change is one of"),
        ({"pin": PinForm(piece="nose", axis="upright", bar="rust 1")}, "nose"),
        ({"pin": PinForm(piece="front.right", axis="upright", bar="mauve 1", line="centre-front")}, "mauve 1"),
        ({"set": "pins.7.bar", "to": "rust 1"}, "there is no pins.7"),
    ],
)
def test_what_cannot_be_is_refused_in_a_tailors_words(wish, says):
    with pytest.raises(Refusal) as refused:
        made(SUIT, wish)
    assert says in str(refused.value)
    assert "Traceback" not in str(refused.value)


def test_a_pin_takes_the_place_of_one_on_the_same_piece_and_axis():
    pin = PinForm(piece="back.right", axis="upright", bar="ivory 1", at="left edge", edge="centre-back", stop="waist")
    after = made(SUIT, {"pin": pin})
    assert values(after.text)["pins"] == [
        {
            "piece": "back.right",
            "edge": "centre-back",
            "stop": "waist",
            "axis": "upright",
            "bar": "ivory 1",
            "at": "left edge",
        }
    ]
    both = made(after.text, {"pin": PinForm(piece="front.right", axis="upright", bar="rust 1", line="centre-front")})
    assert len(values(both.text)["pins"]) == 2
    out = made(both.text, {"take_out": "pins.0"})
    assert [pin["piece"] for pin in values(out.text)["pins"]] == ["front.right"]
    none = made(out.text, {"take_out": "pins"})
    assert "pins" not in values(none.text)


def test_bars_may_take_the_place_of_a_section_when_nothing_speaks_of_the_old_ones():
    bars = {"set": "cloths.shell.warp", "to": ["navy 12 mm", "ivory 3 mm"]}
    with pytest.raises(Refusal, match="no upright bar “rust 1”"):
        made(SUIT, bars)
    listed = made(SUIT, {"take_out": "pins"}, {"take_out": "cloths.shell.dominant_warp"}, bars)
    assert values(listed.text)["cloths"]["shell"]["warp"] == ["navy 12 mm", "ivory 3 mm"]
    assert values(listed.text)["cloths"]["shell"]["weft"] == values(SUIT)["cloths"]["shell"]["weft"]


def test_an_incomplete_commission_is_completed_field_by_field():
    text = blank("A coat", "inches", ["jacket"])
    assert {field_of(finding) for finding in faults(text)} == {
        "measurements.bust_girth",
        "measurements.waist_girth",
        "measurements.hip_girth",
    }
    for field, typed in (("bust_girth", "36 1/2"), ("waist_girth", "29"), ("hip_girth", "39 1/4")):
        with pytest.raises(Refusal, match="not a length"):
            made(text, {"set": f"measurements.{field}", "to": "wide"})
        text = made(text, {"set": f"measurements.{field}", "to": typed}).text
    assert faults(text) == ()
    assert dict(read_commission(text, "c").measured)["bust_girth"] == pytest.approx(36.5 * 25.4)


@pytest.mark.parametrize("name", [entry["name"] for entry in examples()])
@pytest.mark.parametrize("units", Units)
def test_in_other_units_every_figure_keeps_what_it_comes_to(name, units):
    text = example(name)
    before, after = read_commission(text, "c"), read_commission(measured_in(text, units), "c")
    assert after.units is units
    assert after.measured == before.measured
    assert (after.jacket, after.skirt, after.cloths) == (before.jacket, before.skirt, before.cloths)
    assert [pin.place for pin in after.pins] == [pin.place for pin in before.pins]


def test_two_windows_clash_in_one_field_and_not_in_two():
    mine = made(SUIT, {"set": "jacket.buttons", "to": "2"}).touched
    same = differing(SUIT, made(SUIT, {"set": "jacket.buttons", "to": "4"}).text)
    other = differing(SUIT, made(SUIT, {"set": "jacket.wrap", "to": "2.5"}).text)
    whole = differing(SUIT, made(SUIT, {"take_out": "importance"}).text)
    assert clash(mine, same)
    assert not clash(mine, other)
    assert clash(made(SUIT, {"set": "importance.flap", "to": "hidden"}).touched, whole)


@settings(deadline=None, max_examples=40)
@given(st.lists(st.text(min_size=1, max_size=12), min_size=1, max_size=6))
def test_a_path_is_read_as_it_is_written(keys):
    assert parse_path(dotted(tuple(keys))) == tuple(keys)


def refused(work):
    """Returns what a Refusal says, nothing where there is none; any other fault fails the test."""
    try:
        work()
    except Refusal as refusal:
        return [finding.what for finding in refusal.findings]
    return []


@settings(deadline=None, max_examples=40)
@given(st.text(max_size=40))
def test_no_path_makes_it_stumble(text):
    assert all(refused(lambda: parse_path(text)) or [True])


@settings(deadline=None, max_examples=40)
@given(st.one_of(st.text(max_size=30), st.integers(), st.floats(), st.booleans(), st.none()))
def test_no_value_makes_it_stumble(value):
    as_written(("jacket", "buttons"), value)
    assert all(refused(lambda: made(SUIT, {"set": "jacket.wrap", "to": value})) or [True])


def test_a_file_is_brought_in_with_what_it_lacks_but_not_with_what_is_wrong():
    assert brought_in(SUIT) == SUIT
    assert brought_in(blank("A coat", "cm", ["skirt"]))
    with pytest.raises(Refusal, match="whole number"):
        brought_in(SUIT.replace("buttons = 3", 'buttons = "many"'))
    with pytest.raises(Refusal, match="newer than this program"):
        brought_in(SUIT.replace("format = 1", "format = 99"))
    with pytest.raises(Refusal):
        brought_in("not = [a document")


@pytest.mark.parametrize(
    ("title", "name"), [("Suit for “Maud”, No. 2", "suit-for-maud-no-2"), ("../../etc", "etc"), ("…", "commission")]
)
def test_a_title_makes_a_harmless_file_name(title, name):
    assert file_name(f'format = 1\ntitle = "{title}"') == name
