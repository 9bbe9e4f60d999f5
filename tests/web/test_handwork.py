"""Hours and the bill on the page: blank until she sets her own, and then what her figures come to, reckoned by hand."""

from __future__ import annotations

import pytest

from settwright.commission.reading import read_commission
from settwright.planner.derive import derive_bars
from settwright.web.changes import Wish, make
from settwright.web.commissions import example
from settwright.web.handwork import hours_data, time_said
from settwright.web.report import differences_data


def plan_with(*changes):
    text = example("plaid-suit")
    if changes:
        text = make(text, [Wish(set=field, to=to) for field, to in changes]).text
    return derive_bars(read_commission(text, "c")).plan


@pytest.fixture(scope="module")
def blank():
    return hours_data(plan_with())


def test_nothing_is_told_before_she_sets_it(blank):
    assert blank["said"] is None
    assert not blank["is_whole"]
    assert blank["blanks"]
    assert all(row["said"] is None for section in ("stitches", "each", "steps") for row in blank[section])


def test_her_minutes_are_multiplied_by_what_there_is_to_do(blank):
    buttonhole = next(row for row in blank["each"] if row["name"] == "buttonhole")
    told = hours_data(plan_with((buttonhole["field"], "50")))
    minutes = 50 * int(buttonhole["amount"])
    assert told["said"] == f"{time_said(minutes)} so far"
    assert "buttonhole" not in told["blanks"]
    assert next(row for row in told["each"] if row["name"] == "buttonhole")["said"] == time_said(minutes)


def test_every_field_that_is_offered_takes_a_figure(blank):
    rows = [row for section in ("stitches", "each", "steps") for row in blank[section]]
    told = hours_data(plan_with(*((row["field"], "7,5") for row in rows)))
    assert told["is_whole"]
    assert not told["blanks"]
    assert all(row["is_set"] for section in ("stitches", "each", "steps") for row in told[section])


def test_a_try_tells_what_it_takes_in_hours():
    taken, tried = plan_with(("hours.each.button", "6")), plan_with(("hours.each.button", "6"), ("jacket.buttons", "2"))
    hours = next(one for one in differences_data(taken, tried) if one["what"] == "hours")
    counts = [
        next(int(row["amount"]) for row in hours_data(plan)["each"] if row["name"] == "button")
        for plan in (taken, tried)
    ]
    assert hours["says"] == f"{6 * (counts[0] - counts[1])} min less"
    assert not hours["same"]
    assert not [one for one in differences_data(plan_with(), plan_with()) if one["what"] == "hours"]
