"""The leading bar: suggested by contrast times width, and the person's word above it."""

from dataclasses import replace

from settwright.cloth.dominance import warp_dominance, weft_dominance
from tests.cloth.toy_setts import cloth

GROUND = (("navy", 40.0), ("cream", 12.0), ("navy", 40.0), ("moss", 3.0))


def test_a_broad_bar_that_stands_out_leads() -> None:
    found = warp_dominance(cloth(GROUND))
    assert found.dominant is not None
    assert found.dominant.name == "cream 1"
    assert not found.is_named
    assert dict(found.scores)["cream 1"] > dict(found.scores)["moss 1"] > 0


def test_the_ground_recedes() -> None:
    found = warp_dominance(cloth(GROUND))
    assert found.recessive is not None
    assert found.recessive.colour == "navy"


def test_the_persons_word_is_final() -> None:
    found = warp_dominance(replace(cloth(GROUND), dominant_warp="moss 1"))
    assert found.dominant is not None
    assert found.dominant.name == "moss 1"
    assert found.is_named


def test_a_wider_bar_of_the_same_contrast_leads() -> None:
    twice = (("navy", 40.0), ("cream", 6.0), ("navy", 40.0), ("cream", 9.0))
    found = weft_dominance(cloth(GROUND, twice))
    assert found.dominant is not None
    assert found.dominant.name == "cream 2"


def test_one_colour_has_no_leading_bar() -> None:
    assert warp_dominance(cloth((("navy", 10.0),))).dominant is None


def test_the_ground_does_not_lead_however_broad() -> None:
    found = warp_dominance(cloth((("navy", 200.0), ("moss", 3.0))))
    assert found.dominant is not None
    assert found.dominant.name == "moss 1"
