"""What each way of laying the halves of an uneven sett costs, in seams and in cloth."""

from __future__ import annotations

import re
from pathlib import Path

import shapely

from settwright.bars import match
from settwright.commission.model import Uneven
from settwright.commission.reading import read_commission
from settwright.makeup.model import CutPiece
from settwright.plan.plan import Plan
from settwright.planner.comparing import ways_of
from settwright.planner.derive import (
    body_of,
    derive_bars,
    draft_garments,
    make_up_garments,
    pins_of,
    prepare_bars,
    shell_of,
)
from settwright.units import Units, format_cloth
from settwright.workbook.comparisons import way_row

SUIT = (Path(__file__).parents[2] / "examples" / "plaid-suit.toml").read_text()


def area(piece: CutPiece) -> float:
    return float(shapely.Polygon([(point.x, point.y) for point in piece.cutting_line]).area)


def test_each_way_that_can_be_gone_is_laid_and_told_in_the_workbook() -> None:
    text = SUIT.replace('dominant_weft = "rust 2"\n', 'weft = "navy"\n')  # stripes: a half may be turned end for end
    text = re.sub(r"\[cloths\.shell\.weft\].*?\n\n", "", text, flags=re.DOTALL)
    commission = read_commission(text, "suit")
    shell, body = shell_of(commission), body_of(commission)
    made = make_up_garments(commission, draft_garments(commission, body, shell.thickness), shell)
    found = match(prepare_bars(commission, made, shell), pins_of(commission, made))
    by_way = {way.way: way for way in ways_of(Plan(commission, body, made, found, (), ()))}
    assert by_way[Uneven.ROUND].is_chosen
    # no shorter than the pieces' area over the cloth's usable width
    least = sum(area(piece) for piece in made.pieces if piece.cloth == "shell") / shell.width
    for way in (Uneven.ROUND, Uneven.TURN):
        assert by_way[way].is_possible
        length = by_way[way].lays_in
        assert length is not None
        assert length >= least
        assert way_row(by_way[way], Units.CM)[3] == format_cloth(length, Units.CM)
    assert by_way[Uneven.OTHER_FACE].lays_in is None
    assert way_row(by_way[Uneven.OTHER_FACE], Units.CM)[3] == "–"


def test_a_way_that_is_chosen_says_what_to_mind_and_one_that_cannot_be_gone_why() -> None:
    asked = SUIT.replace("[choices]", '[choices]\nuneven = "other face"')
    for text, said in (
        (asked.replace("faces_alike = false", "faces_alike = true"), "twill's line runs the other way"),
        (asked, "not done, for the two faces of the cloth aren't alike"),
    ):
        commission = read_commission(text, "suit")
        (told,) = (f.what for f in derive_bars(commission).plan.findings if f.where == "choices.uneven")
        assert said in told
