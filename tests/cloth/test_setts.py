"""Even and uneven setts against published thread counts."""

import csv
from pathlib import Path

import pytest

from settwright.cloth import Sequence
from tests.cloth.toy_setts import bars

DATA = Path(__file__).parent.parent / "data"
SETTS = list(csv.DictReader((DATA / "published-setts.csv").read_text().splitlines()))  # origin beside it


def sequence(count: str) -> Sequence:
    """Returns the full repeat of a written thread count, one millimetre to a thread."""
    stripes = [(word.rstrip("0123456789").rstrip("/"), word) for word in count.split()]
    listed = [(colour, float(word[len(colour) :].lstrip("/"))) for colour, word in stripes]
    if "/" in count:
        listed += list(reversed(listed[1:-1]))
    return bars(*listed)


@pytest.mark.parametrize("row", SETTS, ids=lambda row: f"{row['name']}, {row['dataset']}")
def test_published_setts_read_as_published(row: dict[str, str]) -> None:
    sett = sequence(row["count"])
    assert sett.repeat == float(row["threads"])
    assert sett.is_even == (row["reads"] == "even")
    if sett.is_even:
        assert len(sett.pivots) == 2
        assert sett.pivots[1] - sett.pivots[0] == pytest.approx(sett.repeat / 2)
        bars_there = [sett.bar_at(pivot) for pivot in sett.pivots]
        told = {f"{bar.colour}{bar.width:.0f}" for bar in bars_there}
        assert told == set(row["mirror_bars"].split())


def test_a_pivot_may_lie_in_a_bar_cut_by_the_repeat() -> None:
    sett = bars(("navy", 6.0), ("cream", 10.0), ("navy", 4.0))
    assert sett.pivots == (1.0, 11.0)


def test_equal_colours_of_unequal_width_break_the_mirror() -> None:
    assert not bars(("navy", 20.0), ("cream", 4.0), ("rust", 8.0), ("cream", 5.0)).is_even


def test_one_colour_mirrors_anywhere() -> None:
    assert bars(("navy", 10.0)).pivots == (0.0, 5.0)
