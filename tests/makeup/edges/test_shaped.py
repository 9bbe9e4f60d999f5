"""Facings of the real drafts cut as strips: the map between strip and facing, and what is kept."""

import itertools

import pytest
from shapely import Point as Spot

from settwright.cloth.give import WOOL, Fibre, usual
from settwright.commission.design import FacingGrain
from settwright.makeup.edges.bending import stretched
from settwright.makeup.edges.shaped import rectangle_round, shaped_facing, with_shaped_facings
from settwright.makeup.edges.shaping import Way
from settwright.pattern import Piece
from tests.pattern.front_styles import drafted, polygon

CURVED = ("notched", "peaked", "shawl", "V", "V, straight", "crossed", "crossed, rounded")


def facing(style: str) -> Piece:
    return drafted("middle", style).piece("front-facing")


@pytest.mark.parametrize("style", CURVED)
def test_the_strip_keeps_every_edge_and_its_outer_one_is_straight(style: str) -> None:
    piece = facing(style)
    shaped = shaped_facing(piece, FacingGrain.ALONG, WOOL)
    assert shaped is not None
    assert [edge.name for edge in shaped.cut.edges] == [edge.name for edge in piece.edges]
    assert polygon(shaped.cut).is_valid
    for edge in shaped.cut.edges:
        finished = piece.edge(edge.name)
        assert (edge.start, edge.end) == (finished.start, finished.end)
        for segment, was in zip(edge.path.segments, finished.path.segments, strict=False):
            if was in shaped.followed.segments:
                assert segment.a.x == segment.d.x == 0.0
                assert segment.length == pytest.approx(was.length, abs=1e-6)  # the edge's own thread keeps its length
    assert {n.name for n in shaped.cut.notches} == {n.name for n in piece.notches}


@pytest.mark.parametrize("style", CURVED)
def test_laid_on_its_edge_the_strip_is_the_template_again(style: str) -> None:
    piece = facing(style)
    shaped = shaped_facing(piece, FacingGrain.ALONG, WOOL)
    assert shaped is not None
    outline = polygon(piece).exterior
    for edge in shaped.cut.edges:
        for p in edge.path.points(0.5):
            back = shaped.shaping.strip.at(-p.y, p.x)
            assert outline.distance(Spot(back.x, back.y)) < 0.15, edge.name


def test_a_lengthwise_thread_changes_by_what_the_stations_tell() -> None:
    """Walked with a tape on the template and on the strip, 50 mm inside a V's edge."""
    shaped = shaped_facing(facing("V, straight"), FacingGrain.ALONG, WOOL)
    assert shaped is not None
    strip, depth = shaped.shaping.strip, 50.0
    tape = [strip.at(strip.length * i / 2000, depth) for i in range(2001)]
    walked = sum((b - a).length for a, b in itertools.pairwise(tape))
    told = sum(
        stretched(bend, (a + b) / 2, depth) * strip.step
        for bend, (a, b) in zip(strip.bends, itertools.pairwise(strip.slips), strict=True)
    )
    assert told < -8.0
    assert walked - strip.length == pytest.approx(told, abs=0.05)


def test_an_edge_on_the_grain_needs_no_strip_along_it() -> None:
    for style in ("round", "stand", "peaked, a fold"):
        assert shaped_facing(facing(style), FacingGrain.ALONG, WOOL) is None
    across = shaped_facing(facing("round"), FacingGrain.ACROSS, WOOL)
    assert across is not None
    assert across.shaping.way is Way.AS_IT_LIES
    assert polygon(across.cut).area == pytest.approx(polygon(facing("round")).area, rel=1e-3)


def test_cloth_that_cannot_be_shrunk_is_told_before_it_is_cut() -> None:
    piece = facing("V")
    wool = shaped_facing(piece, FacingGrain.ALONG, WOOL)
    polyester = shaped_facing(piece, FacingGrain.ALONG, usual(Fibre.SYNTHETIC))
    assert wool is not None
    assert polyester is not None
    assert wool.shaping.way is Way.EASE
    assert polyester.shaping.way is Way.NOT
    assert polyester.shaping.remedy is not None


def test_seams_know_what_is_shrunk_before_they_are_sewn() -> None:
    draft, shaped = with_shaped_facings(drafted("middle", "V"), FacingGrain.ALONG, WOOL)
    assert [facing.cut.name for facing in shaped] == ["front-facing"]
    pieces = {piece.name: piece for piece in draft.pieces}
    for seam in draft.seams:
        if "front-facing" not in (seam.a.piece, seam.b.piece):
            continue
        for stops, ease in zip(itertools.pairwise(seam.stops), seam.ease, strict=True):
            a, b = (
                abs(pieces[side.piece].stop(side.edge, stops[1]) - pieces[side.piece].stop(side.edge, stops[0]))
                for side in (seam.a, seam.b)
            )
            assert b - a == pytest.approx(ease, abs=2e-3)


def test_the_strip_is_cut_as_a_rectangle() -> None:
    shaped = shaped_facing(facing("notched"), FacingGrain.ALONG, WOOL)
    assert shaped is not None
    corners = rectangle_round(shaped.cut.outline.points())
    assert len(corners) == 4
    assert corners[0].x == pytest.approx(min(p.x for p in shaped.cut.outline.points()))
