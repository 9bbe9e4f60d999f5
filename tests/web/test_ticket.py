"""The ticket tells every choice that the commission knows, each where it matters."""

from __future__ import annotations

import dataclasses
import re

import pytest

from settwright.commission.fields import WordField
from settwright.commission.inside import Canvas, Inside, LegLining, Lined
from settwright.commission.wording import FIELDS, SAYS
from settwright.web.changes import Wish, make
from settwright.web.commissions import blank, example
from settwright.web.ticket import SECTIONS, ticket_of

FIELD = re.compile(r"\{([^}]+)\}")


def choices(text):
    return {
        part["field"]: part
        for section in ticket_of(text)
        for sentence in section["sentences"]
        for part in sentence["parts"]
        if isinstance(part, dict) and part["field"]
    }


def test_every_field_of_a_garment_stands_in_a_sentence():
    told = {field for section in SECTIONS for sentence in section.sentences for field in FIELD.findall(sentence)}
    known = {f"{section}.{name}" for section, fields in FIELDS.items() for name in fields}
    assert known <= told
    assert {field for field in told if not field.startswith(("choices.", "inside."))} <= known
    assert {f"inside.{field.name}" for field in dataclasses.fields(Inside)} <= told


def test_every_word_that_may_be_chosen_has_its_words_and_no_others_have():
    kinds = {
        f"{section}.{name}": {member.value for member in field.kind}
        for section, fields in FIELDS.items()
        for name, field in fields.items()
        if isinstance(field, WordField)
    }
    kinds |= {
        "inside.jacket_lining": {member.value for member in Lined},
        "inside.trousers_lining": {member.value for member in LegLining},
        "inside.canvas": {member.value for member in Canvas},
    }
    plain = {"jacket.sleeve_length", "jacket.stand_ends"}
    for field, values in kinds.items():
        said = {value for known, value in SAYS if known == field}
        assert said <= values, field
        if field not in plain:
            assert said == values, field


def test_a_field_that_does_not_bear_on_the_cut_is_left_out():
    text = example("plaid-suit")
    assert "jacket.wrap" in choices(text)
    double = make(text, [Wish(set="jacket.closing", to="double-breasted")]).text
    assert "jacket.wrap" not in choices(double)
    assert "jacket.double_wrap" in choices(double)


@pytest.mark.parametrize("garments", [["jacket"], ["skirt"], ["trousers"], ["jacket", "skirt", "trousers"]])
def test_a_blank_commission_has_a_ticket_though_it_cannot_be_planned(garments):
    fields = choices(blank("A coat", "inches", garments))
    assert {field.split(".")[0] for field in fields} >= set(garments)
    assert all(part["says"] for part in fields.values())


def test_what_is_said_is_in_her_units():
    text = blank("A coat", "inches", ["jacket"])
    assert choices(text)["jacket.length_below_waist"]["says"].endswith(" in")


def test_a_pin_is_told_where_it_is_and_what_it_might_be():
    part = choices(example("plaid-suit"))["pins.0"]
    assert part["says"] == "the middle of rust 1"
    assert part["pin"] == {"piece": "back.right", "edge": "centre-back", "stop": "blade", "axis": "upright"}
    assert {"bar": "navy 1", "at": "left edge", "says": "the left edge of navy 1"} in part["bars"]


def test_nothing_is_said_of_a_garment_that_is_not_commissioned():
    told = [section for section in ticket_of(blank("Skirt", "cm", ["skirt"])) if section["title"] == "How the bars lie"]
    places = [sentence["id"] for sentence in told[0]["sentences"] if sentence["id"].startswith("place: ")]
    assert places
    assert all("skirt" in place for place in places)
