"""Older documents are brought up to date, and decisions are written back, with every comment kept."""

import os
import subprocess
import sys
import tomllib
from pathlib import Path

import pytest

from settwright.commission import (
    AddFound,
    AddPin,
    Axis,
    Found,
    Placed,
    RemoveValue,
    SetValue,
    bring_up_to_date,
    canonical_hash,
    migrate,
    read_commission,
    write_back,
)
from settwright.findings import Refusal

PLAID = (Path(__file__).parents[2] / "examples" / "plaid-suit.toml").read_text()

OLD = """\
# The earliest draft of the format.
format = 0
title = "Old suit"
units = "cm"
client = "Ines Corvale"       # her card is in the second drawer
laps = "left over right"

[measures]
height = 170
bust-girth = 92               # over the new bra
waist-girth = 74
hip-girth = 98

[jacket]

[cloth]                       # from the mill's end of roll
colours = { navy = "#243049", rust = "#a4512f" }
warp = "navy 30, rust 8"
weft = "navy 40, rust 8"
width = 150
"""


def comments(text: str) -> list[str]:
    return [line.partition("#")[2] for line in text.splitlines() if "#" in line.replace('"#', "")]


def test_a_document_of_format_0_is_read() -> None:
    commission = read_commission(OLD, "old.toml")
    assert commission.client == "Ines Corvale"
    assert dict(commission.measured)["bust_girth"] == 920
    assert commission.cloth("shell").warp.repeat == 38
    assert commission.choices.front_laps_over == "left"


def test_an_old_file_is_brought_up_to_date_with_its_comments() -> None:
    new = bring_up_to_date(OLD, "old.toml")
    assert tomllib.loads(new)["format"] == 1
    assert read_commission(new, "old.toml") == read_commission(OLD, "old.toml")
    assert set(comments(OLD)) <= set(comments(new))
    assert bring_up_to_date(new) == new


def test_a_fault_in_an_old_file_is_told_in_the_words_of_today() -> None:
    with pytest.raises(Refusal) as caught:
        read_commission(OLD.replace("waist-girth = 74", "waist-girth = 20"), "old.toml")
    (finding,) = caught.value.findings
    assert "measurements.waist_girth" in finding.where


def test_a_document_of_today_is_left_alone_and_a_newer_one_refused() -> None:
    document = tomllib.loads(PLAID)
    migrate(document)
    assert document == tomllib.loads(PLAID)
    for number in (2, 10**30):
        newer = {"format": number, "kept": True}
        with pytest.raises(Refusal, match="newer than this program"):
            migrate(newer)
        assert newer == {"format": number, "kept": True}


def test_nothing_changed_is_the_same_text() -> None:
    assert write_back(PLAID, []) == PLAID


def test_a_value_is_set_in_its_place_and_its_comment_kept() -> None:
    text = write_back(PLAID, [SetValue(("jacket", "wrap"), 2.2), SetValue(("measurements", "waist_girth"), "73,5")])
    assert comments(text) == comments(PLAID)
    assert len(text.splitlines()) == len(PLAID.splitlines())
    changed = [(a, b) for a, b in zip(PLAID.splitlines(), text.splitlines(), strict=True) if a != b]
    assert [b.split("#")[0].strip() for _, b in changed] == ['waist_girth = "73,5"', "wrap = 2.2"]
    commission = read_commission(text, "suit.toml")
    assert commission.jacket is not None
    assert commission.jacket.wrap == 22
    assert dict(commission.measured)["waist_girth"] == 735


def test_the_ends_of_lines_are_kept() -> None:
    windows = PLAID.replace("\n", "\r\n")
    assert write_back(windows, []) == windows
    assert "\r\nwrap = 2.2" in write_back(windows, [SetValue(("jacket", "wrap"), 2.2)])


def test_an_old_file_is_brought_up_to_date_on_the_way() -> None:
    text = write_back(
        OLD, [SetValue(("choices", "front_laps_over"), "right"), SetValue(("measurements", "height"), 171)]
    )
    commission = read_commission(text, "old.toml")
    assert tomllib.loads(text)["format"] == 1
    assert commission.choices.front_laps_over == "right"
    assert dict(commission.measured)["height"] == 1710
    assert set(comments(OLD)) <= set(comments(text))


def test_a_section_that_isnt_there_is_begun() -> None:
    text = PLAID[: PLAID.index("# How much it matters")]
    text = write_back(
        text,
        [SetValue(("importance", "side-front.left"), "let go"), SetValue(("choices", "stage"), "after the fitting")],
    )
    commission = read_commission(text, "suit.toml")
    assert commission.importance == (("side-front.left", "let go"),)
    assert commission.choices.stage == "after the fitting"


def test_a_pin_is_added_and_taken_out() -> None:
    pin = AddPin("front.left", "level", bar="rust 2", at="lower edge", edge="hem", stop="centre-front")
    text = write_back(PLAID, [pin])
    assert comments(text) == comments(PLAID)
    added = read_commission(text, "suit.toml").pins[1]
    assert (added.piece, added.axis, added.place) == ("front.left", Axis.LEVEL, 18 + 4 + 16 + 3 + 22 + 10)
    back = write_back(text, [RemoveValue(("pins", 1))])
    assert read_commission(back, "suit.toml") == read_commission(PLAID, "suit.toml")
    first = write_back(PLAID.split("# A pin holds")[0], [pin])
    assert len(read_commission(first, "suit.toml").pins) == 1


def test_a_found_layout_takes_the_place_of_an_older_one() -> None:
    commission = read_commission(PLAID, "suit.toml")
    inputs = canonical_hash(commission.cloths, commission.measured)
    found = Found(
        "shell", inputs, 2843.25, 12.5, (Placed("back.right", 300.125, 1700, turned=True), Placed("flap.left", 0.5, 9))
    )
    text = write_back(PLAID, [AddFound(Found("shell", inputs, 3000.0, None, ())), AddFound(found)])
    assert comments(text) == comments(PLAID)
    assert read_commission(text, "suit.toml").found == (found,)


@pytest.mark.parametrize(
    "change",
    [
        RemoveValue(("pins", 7)),
        RemoveValue(("jacket", "pockets")),
        SetValue(("title", "jacket"), 1),
        SetValue(("jacket", "buttons"), 40),
        AddPin("front", "level", bar="rust 2", edge="hem"),
    ],
)
def test_a_change_that_leads_nowhere_is_refused(change: RemoveValue | SetValue | AddPin) -> None:
    with pytest.raises(Refusal) as caught:
        write_back(PLAID, [change], "suit.toml")
    assert all(f.remedy for f in caught.value.findings)


def test_the_hash_is_of_the_meaning() -> None:
    commission = read_commission(PLAID, "suit.toml")
    same = read_commission(PLAID.replace("bust_girth = 92 ", 'bust_girth = "920 mm"'), "suit.toml")
    other = read_commission(PLAID.replace("bust_girth = 92\n", "bust_girth = 92.1\n"), "suit.toml")
    assert canonical_hash(commission.measured) == canonical_hash(same.measured)
    assert canonical_hash(commission.measured) != canonical_hash(other.measured)
    assert canonical_hash({"a": 1, "b": -0.0}) == canonical_hash({"b": 0, "a": 1.0})
    with pytest.raises(TypeError):
        canonical_hash(object())


def test_the_hash_is_the_same_in_another_process() -> None:
    code = (
        "import sys; from settwright.commission import canonical_hash, read_commission;"
        "print(canonical_hash(read_commission(sys.stdin.read(), 'suit.toml')))"
    )
    run = [
        subprocess.run(
            [sys.executable, "-c", code],
            input=PLAID,
            env={"PYTHONHASHSEED": seed, "PYTHONPATH": os.pathsep.join(sys.path)},
            text=True,
            capture_output=True,
            check=True,
        ).stdout.strip()
        for seed in ("1", "2")
    ]
    assert run == [canonical_hash(read_commission(PLAID, "suit.toml"))] * 2
