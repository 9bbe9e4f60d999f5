"""What to buy: parts add up, and the trade's rules are as published (sources beside the rules)."""

from __future__ import annotations

from dataclasses import replace

import pytest
from shapely import Polygon

from settwright.cloth import Bar, Cloth, Sequence
from settwright.layout import Layout
from settwright.layout.rules import PLAIN_USAGE, reckon
from settwright.makeup.model import Hand
from settwright.pattern import Layer
from tests.cut_pieces import cut, front, under_collar
from tests.layout.test_places import CLOTH, WARP, WEFT

PIECES = (cut(front(), Hand.RIGHT), cut(front(), Hand.LEFT), cut(under_collar(), Hand.RIGHT))
LAYOUT = Layout((), length=2000, oy=0, usage=0.7)
EVEN = replace(
    CLOTH,
    warp=Sequence((Bar("navy 1", "navy", 20), Bar("green 1", "green", 30))),
    weft=Sequence((Bar("navy 1", "navy", 20), Bar("green 1", "green", 30))),
)
PLAIN = replace(CLOTH, warp=Sequence((Bar("navy 1", "navy", 20),)), weft=Sequence((Bar("navy 1", "navy", 20),)))


@pytest.mark.parametrize("cloth", [CLOTH, EVEN, PLAIN])
def test_lays_in_and_parts_make_what_to_buy(cloth: Cloth):
    reckoning = reckon(LAYOUT, PIECES, cloth)
    assert reckoning.lays_in == 2000
    assert reckoning.buy == pytest.approx(reckoning.lays_in + sum(length for _, length in reckoning.parts))
    assert all(length > 0 for _, length in reckoning.parts)


def test_enough_is_left_after_sponging():
    reckoning = reckon(LAYOUT, PIECES, replace(CLOTH, shrinkage_warp=0.05))
    before = sum(length for name, length in reckoning.parts if "shrinkage" not in name)
    assert reckoning.buy * 0.95 == pytest.approx(2000 + before)


def test_one_repeat_more_only_where_the_start_must_still_be_found():
    def names(cloth: Cloth) -> str:
        return "; ".join(name for name, _ in reckon(LAYOUT, PIECES, cloth).parts)

    assert "beginning at the right bar" in names(CLOTH)
    assert "beginning at the right bar" not in names(replace(CLOTH, sett_at_end=12.0))
    assert "beginning at the right bar" not in names(PLAIN)


def test_nothing_is_tried_on_a_toile():
    """Common practice, no source: it is fitted and taken apart."""
    toile = dict(reckon(LAYOUT, PIECES, PLAIN, is_toile=True).parts)
    assert set(toile) == {"squaring both ends", "shrinkage in sponging"}


def test_an_inner_cloth_is_squared_but_tried_on_its_scraps():
    """Common practice, no source."""
    inner = [replace(piece, piece=replace(piece.piece, layer=Layer.LINING), is_matched=False) for piece in PIECES]
    outer = dict(reckon(LAYOUT, PIECES, PLAIN).parts)
    lining = dict(reckon(LAYOUT, inner, PLAIN).parts)
    assert "swatches for pressing and thread" in outer
    assert "swatches for pressing and thread" not in lining
    assert lining["squaring both ends"] == outer["squaring both ends"]


def test_the_sure_bound_is_area_over_width_or_the_longest_piece():
    area = sum(Polygon([(p.x, p.y) for p in piece.cutting_line]).area for piece in PIECES)  # shapely
    longest = max(Polygon([(p.x, p.y) for p in piece.cutting_line]).bounds[3] for piece in PIECES) - min(
        Polygon([(p.x, p.y) for p in piece.cutting_line]).bounds[1] for piece in PIECES
    )
    bound = reckon(LAYOUT, PIECES, CLOTH).sure_bound
    assert bound >= area / (1450 - 30) - 1e-6
    assert bound <= max(area / (1450 - 30), longest) + 1e-6
    narrow = reckon(LAYOUT, PIECES, replace(CLOTH, width=130)).sure_bound
    assert narrow == pytest.approx(area / 100)


def test_rules_of_thumb_add_what_their_sources_say():
    """Stitch magazine 2010: 1/4 yd, or up to a yard for an uneven plaid; thriftyfun: 1/2 yd; The Sewtionary: 25 %."""
    shrunk = 1 - CLOTH.shrinkage_warp
    area = sum(Polygon([(p.x, p.y) for p in piece.cutting_line]).area for piece in PIECES)
    plain = area / (1450 - 30) / PLAIN_USAGE
    for cloth, most in ((CLOTH, 36 * 25.4), (EVEN, 9 * 25.4)):
        rules = dict(reckon(LAYOUT, PIECES, cloth).rules)
        yard = rules["a yard more" if cloth is CLOTH else "a quarter of a yard more"] * shrunk
        assert yard - rules["half a yard more"] * shrunk == pytest.approx(most - 18 * 25.4)
        assert yard - rules["a quarter more"] * shrunk == pytest.approx(most - plain / 4)
    assert not (WARP.is_even and WEFT.is_even)
    (only,) = reckon(LAYOUT, PIECES, PLAIN).rules
    assert only[1] == reckon(LAYOUT, PIECES, PLAIN).rule_of_thumb
