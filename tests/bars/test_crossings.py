"""Ticks on the seam lines: each lies on its edge, on the bar that it names, and none is missing."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from settwright.bars.crossings import BarPart, Crossing, crossings
from settwright.bars.model import Axis, Orientation, Phase
from settwright.cloth.cloth import Bar, Cloth, Sequence
from settwright.makeup.model import CutPiece, Hand
from tests.cut_pieces import SHELL, cut, front, under_collar, waistband

PIECES = (
    cut(front(), Hand.RIGHT),
    cut(front(), Hand.LEFT),
    cut(under_collar(), Hand.RIGHT),
    cut(under_collar(), Hand.LEFT),
    cut(waistband(), Hand.WHOLE),
)


def sett_place(crossing: Crossing, piece: CutPiece, phase: Phase) -> float:
    """Returns where in the sett the crossing's point lies: (u, v) + S R(g) p, as bars/model.py defines it."""
    place = phase.orientation.place(crossing.point, piece.grain_turn)
    return phase.u + place.x if crossing.axis is Axis.UPRIGHT else phase.v + place.y


def bar_called(cloth: Cloth, crossing: Crossing) -> tuple[Bar, float, Sequence]:
    sequence = cloth.warp if crossing.axis is Axis.UPRIGHT else cloth.weft
    index = [bar.name for bar in sequence.bars].index(crossing.bar)
    return sequence.bars[index], sequence.starts[index], sequence


@settings(max_examples=40, deadline=None)
@given(
    piece=st.sampled_from(PIECES),
    u=st.floats(0, 72),
    v=st.floats(0, 84),
    t=st.sampled_from((1, -1)),
    f=st.sampled_from((1, -1)),
)
def test_each_crossing_lies_on_its_edge_and_on_its_bar(piece: CutPiece, u: float, v: float, t: int, f: int):
    phase = Phase(piece.name, u, v, Orientation(t, f))
    found = crossings(piece, phase, SHELL)
    assert found
    for crossing in found:
        path = piece.piece.edge(crossing.edge).path
        assert (path.at(crossing.at) - crossing.point).length < 1e-6
        bar, start, sequence = bar_called(SHELL, crossing)
        off = sett_place(crossing, piece, phase) - start
        told = (off % sequence.repeat, (off - bar.width / 2) % sequence.repeat, (off - bar.width) % sequence.repeat)
        misses = [min(rest, sequence.repeat - rest) for rest in told]
        assert misses[1] < 1e-6 if crossing.which_edge is BarPart.MIDDLE else min(misses[0], misses[2]) < 1e-6
        # along the bar the place in the sett doesn't change
        moved = replace(crossing, point=crossing.point + crossing.along * 10)
        assert sett_place(moved, piece, phase) == pytest.approx(sett_place(crossing, piece, phase), abs=1e-9)


@settings(max_examples=40, deadline=None)
@given(
    piece=st.sampled_from(PIECES),
    u=st.floats(0, 72),
    v=st.floats(0, 84),
    t=st.sampled_from((1, -1)),
    f=st.sampled_from((1, -1)),
)
def test_an_edge_is_named_as_it_is_seen(piece: CutPiece, u: float, v: float, t: int, f: int):
    phase = Phase(piece.name, u, v, Orientation(t, f))
    for crossing in crossings(piece, phase, SHELL):
        if crossing.which_edge is BarPart.MIDDLE:
            continue
        bar, _, sequence = bar_called(SHELL, crossing)
        square = crossing.along.right if crossing.axis is Axis.UPRIGHT else crossing.along.left
        into = square if crossing.which_edge in (BarPart.LEFT_EDGE, BarPart.LOWER_EDGE) else -square
        inside, outside = (replace(crossing, point=crossing.point + into * side) for side in (0.01, -0.01))
        assert sequence.bar_at(sett_place(inside, piece, phase)) == bar
        assert sequence.bar_at(sett_place(outside, piece, phase)) != bar


@pytest.mark.parametrize("axis", [Axis.UPRIGHT, Axis.LEVEL])
@pytest.mark.parametrize("piece", PIECES, ids=lambda piece: piece.name)
def test_none_is_missing(piece: CutPiece, axis: Axis):
    """Counted against shapely (GEOS), which cuts each edge with the straight lines that the bars' middles are."""
    phase = Phase(piece.name, 5.21, 8.77)
    sequence = SHELL.warp if axis is Axis.UPRIGHT else SHELL.weft
    g, far = piece.grain_turn, 1000.0
    for bar, start in zip(sequence.bars, sequence.starts, strict=True):
        if bar.width <= 3:
            continue
        for edge in piece.piece.edges:
            line = shapely.LineString([(p.x, p.y) for p in edge.path.points(0.001)])
            count = 0
            for k in range(-20, 20):
                c = start + bar.width / 2 + k * sequence.repeat - (phase.u if axis is Axis.UPRIGHT else phase.v)
                ends = ((c, -far), (c, far)) if axis is Axis.UPRIGHT else ((-far, c), (far, c))
                turned = [
                    (math.cos(g) * x + math.sin(g) * y, -math.sin(g) * x + math.cos(g) * y) for x, y in ends
                ]  # from the cloth's frame to the piece's: R(−g)
                cuts = shapely.get_parts(line.intersection(shapely.LineString(turned)))
                count += sum(not cut.is_empty for cut in cuts)
            found = [
                c
                for c in crossings(piece, phase, SHELL)
                if (c.edge, c.axis, c.bar, c.which_edge) == (edge.name, axis, bar.name, BarPart.MIDDLE)
            ]
            assert len(found) == count, (edge.name, bar.name)


def test_a_straight_edge_by_hand():
    """The waistband's lower edge runs from x = −190 to 190; its grain mark on the start of navy 1 (24 mm wide)."""
    band = PIECES[4]
    found = [
        c
        for c in crossings(band, Phase(band.name, 0.0, 0.0), SHELL)
        if (c.edge, c.bar, c.axis) == ("lower", "navy 1", Axis.UPRIGHT)
    ]
    # repeat 72 mm, middle at 12: 12 − 2·72 = −132 … 12 + 2·72 = 156
    assert [round(c.point.x, 6) for c in found] == [-132.0, -60.0, 12.0, 84.0, 156.0]
    assert [round(c.at, 6) for c in found] == [58.0, 130.0, 202.0, 274.0, 346.0]
    assert found[0].label == "navy 1 upright"


def test_words():
    piece = PIECES[0]
    labels = {c.label for c in crossings(piece, Phase(piece.name, 0.0, 0.0), SHELL)}
    assert "green 2 upright, left edge" in labels
    assert "navy 1 level, upper edge" in labels
    assert not any("white" in label for label in labels)  # 2 and 2.5 mm: too narrow for a tick


def test_nothing_to_tell_of_plain_cloth_or_of_a_free_piece():
    piece = PIECES[0]
    plain = Cloth(
        name="plain",
        title="Plain",
        colours=(("grey", "#888888"),),
        warp=Sequence((Bar("grey 1", "grey", 40.0),)),
        weft=Sequence((Bar("grey 1", "grey", 40.0),)),
        width=1500.0,
        selvedge=10.0,
        thickness=0.5,
    )
    assert crossings(piece, Phase(piece.name, 0.0, 0.0), plain) == ()
    assert crossings(piece, Phase(piece.name, 0.0, 0.0, free_u=True, free_v=True), SHELL) == ()
    uprights = crossings(piece, Phase(piece.name, 0.0, 0.0, free_v=True), SHELL)
    assert {c.axis for c in uprights} == {Axis.UPRIGHT}
