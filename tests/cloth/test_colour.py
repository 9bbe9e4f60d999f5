"""Colour difference against the published pairs, and threads mixed in linear light."""

import csv
from pathlib import Path

import pytest

from settwright.cloth.colour import Palette, difference, mixed_colour
from tests.cloth.toy_setts import EVEN, UNEVEN, cloth

DATA = Path(__file__).parent.parent / "data"
# Sharma, Wu & Dalal 2005, Table 1 (tests/data/ciede2000-pairs.md)
PAIRS = list(csv.DictReader((DATA / "ciede2000-pairs.csv").read_text().splitlines()))


def test_all_published_pairs_are_there() -> None:
    assert [int(row["pair"]) for row in PAIRS] == list(range(1, 35))


@pytest.mark.parametrize("row", PAIRS, ids=lambda row: f"pair {row['pair']}")
def test_ciede2000_agrees_to_the_printed_digits_in_both_orders(row: dict[str, str]) -> None:
    first = (float(row["L1"]), float(row["a1"]), float(row["b1"]))
    second = (float(row["L2"]), float(row["a2"]), float(row["b2"]))
    assert f"{difference(first, second):.4f}" == f"{float(row['dE00']):.4f}"
    assert f"{difference(second, first):.4f}" == f"{float(row['dE00']):.4f}"


@pytest.mark.parametrize(
    ("warp", "weft", "weave", "seen"),
    [
        # half the light of white is sRGB 188: 1.055 · 0.5^(1/2.4) − 0.055 = 0.7354 (IEC 61966-2-1)
        ("#000000", "#ffffff", "plain", "#bcbcbc"),
        ("#ffffff", "#000000", "twill", "#bcbcbc"),
        # a five-end satin shows four parts of warp: 1.055 · 0.8^(1/2.4) − 0.055 = 0.9063
        ("#ffffff", "#000000", "satin", "#e7e7e7"),
        ("#8c3b1f", "#8c3b1f", "plain", "#8c3b1f"),
    ],
)
def test_threads_mix_in_linear_light(warp: str, weft: str, weave: str, seen: str) -> None:
    assert mixed_colour(warp, weft, weave) == seen


def test_the_table_holds_every_pair_of_crossings_in_thousandths() -> None:
    palette = Palette.of(cloth(EVEN, UNEVEN))
    table = palette.differences
    count = len(palette.warp) * len(palette.weft)
    assert table.shape == (count, count)
    assert (table == table.T).all()
    assert (table.diagonal() == 0).all()
    i, j = palette.warp.index("navy"), palette.weft.index("cream")
    k, m = palette.warp.index("rust"), palette.weft.index("navy")
    width = len(palette.weft)
    crossed = palette.crossings[i * width + j], palette.crossings[k * width + m]
    assert crossed == (mixed_colour("#1c2445", "#e8e0cc"), mixed_colour("#8c3b1f", "#1c2445"))
    assert table[i * width + j, k * width + m] > 5000  # cream and rust over navy are told apart at once


def test_one_direction_alone_is_judged_over_the_mean_of_the_other() -> None:
    palette = Palette.of(cloth(EVEN, UNEVEN))
    width = len(palette.weft)
    i, k = palette.warp.index("navy"), palette.warp.index("rust")
    by_hand = sum(
        share * palette.differences[i * width + j, k * width + j] for j, share in enumerate(palette.weft_shares)
    )
    assert abs(palette.warp_differences[i, k] - by_hand) <= 10
    assert sum(palette.weft_shares) == pytest.approx(1.0)
