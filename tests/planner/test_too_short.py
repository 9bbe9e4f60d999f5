"""A length in hand that is too short: what would make it fit is tried, priced, said and printed."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from settwright.commission.reading import read_commission
from settwright.findings import Refusal
from settwright.planner.advice import Advice, advice_pdf, advise, fitting, is_short, rows_of, verdict
from settwright.planner.derive import derive

EXAMPLE = (Path(__file__).parents[2] / "examples" / "plaid-suit.toml").read_text()


def in_hand(length: str) -> str:
    end = 'at_squared_end = { bar = "navy 1" }'
    return EXAMPLE.replace("price_per_metre = 68\n", f"price_per_metre = 68\nlength_in_hand = {length}\n{end}\n")


def test_it_is_told_in_the_units_of_the_commission():
    findings = derive(read_commission(in_hand("240"), "suit"), effort=20).cloth_plan("shell").layout.findings
    assert any("the length in hand is 240.0 cm" in finding.what for finding in findings)
    assert not any(re.search(r"\d mm\b", finding.what) for finding in findings)


def test_a_piece_too_wide_for_the_cloth_is_refused_in_the_units_of_the_commission():
    narrow = EXAMPLE.replace("width = 150\n", "width = 30\n")
    with pytest.raises(Refusal, match=r"is \d+\.\d cm wide.*\(27\.0 cm\)"):  # 30 cm less 1.5 cm at each side
        derive(read_commission(narrow, "suit"), effort=20)


@pytest.fixture(scope="module")
def advice() -> Advice:
    return advise(read_commission(in_hand("270"), "suit"), effort=20)


def test_it_is_told_whether_the_length_in_hand_is_enough():
    assert is_short(derive(read_commission(in_hand("240"), "suit"), effort=20))
    assert not is_short(derive(read_commission(in_hand("500"), "suit"), effort=20))


def test_every_kind_of_remedy_is_tried_and_what_fits_comes_first(advice: Advice):
    tried = {row.tried for row in advice.remedies}
    for words in ("one bar shorter", "freed from its match", "in two parts", "centre front on", "under collar joined"):
        assert any(words in row for row in tried), words
    fits = fitting(advice)
    assert all(row.lays_in is not None and row.lays_in <= 2700.0 for row in fits)
    assert list(fits) == sorted(fits, key=lambda row: (row.lays_in, row.tried))
    assert "fit" in verdict(advice)
    assert all(row.costs for row in advice.remedies)
    assert all(len(row) == 5 for table in rows_of(advice)[::2] for row in table)
    assert advice_pdf(advice).startswith(b"%PDF")


def test_more_constraints_never_take_less_cloth(advice: Advice):
    assert all(row.lays_in is None or row.lays_in <= advice.as_planned + 0.001 for row in advice.constraints)


def test_an_under_collar_in_parts_covers_the_whole_and_its_joins():
    from shapely import Polygon

    from settwright.planner.advice import _halved  # the cut itself has no other door
    from settwright.planner.laying import shapes_of

    plan = derive(read_commission(EXAMPLE, "suit"), effort=20)
    shapes = shapes_of(plan.made_up.pieces, plan.match, plan.cloth_plan("shell").cloth)
    collar = next(shape for shape in shapes if shape.name.startswith("under-collar"))
    first, second = (Polygon([(p.x, p.y) for p in half.outline]) for half in _halved(collar))
    whole = Polygon([(p.x, p.y) for p in collar.outline])
    assert first.union(second).symmetric_difference(whole).area < 1.0
    assert first.intersection(second).area > 0  # the allowances of the join
