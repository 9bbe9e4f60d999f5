"""Pieces: outlines, stops, mirroring and unfolding, on shapes that a pencil can check."""

from __future__ import annotations

import math

import pytest

from settwright.geometry import Path, Point, Transform
from settwright.pattern import Cut, Edge, Line, LineKind, Mark, Notch, Piece


def corner_piece(**changes: object) -> Piece:
    """Returns a right-angled piece 40 wide and 30 high: fold at the left, slanting side at the right."""
    a, b, c = Point(0, 0), Point(40, 0), Point(0, 30)
    values: dict[str, object] = {
        "name": "corner",
        "title": "Corner",
        "cut": Cut.WHOLE,
        "edges": (
            Edge("hem", Path.line(a, b), "centre", "side"),
            Edge("side", Path.line(b, c), "hem", "top"),
            Edge("centre", Path.line(c, a), "top", "hem"),
        ),
        "notches": (Notch("hip", "side", 10.0),),
        "marks": (Mark("point", Point(10, 5)),),
        "lines": (Line("level", LineKind.LEVEL, Path.line(Point(0, 5), Point(20, 5))),),
        "grain_mark": Point(0, 10),
    }
    return Piece(**(values | changes))  # type: ignore[arg-type]


def test_area_is_positive_counter_clockwise_and_the_outline_closes() -> None:
    piece = corner_piece()
    assert piece.area == pytest.approx(600)
    assert piece.outline.end == piece.outline.start
    assert piece.outline.length == pytest.approx(40 + 50 + 30)


def test_edges_must_meet() -> None:
    with pytest.raises(ValueError, match="hem ends at"):
        corner_piece(edges=(Edge("hem", Path.line(Point(0, 0), Point(40, 0)), "a", "b"),))


def test_stops_are_ends_and_notches_and_lines_count_as_edges() -> None:
    piece = corner_piece()
    assert [piece.stop("side", stop) for stop in ("hem", "hip", "top")] == pytest.approx([0, 10, 50])
    assert piece.stop("level", "end") == pytest.approx(20)
    with pytest.raises(KeyError, match="waist"):
        piece.stop("side", "waist")
    with pytest.raises(KeyError, match="it has hem, side, centre, level"):
        piece.edge("collar")


def test_on_grain_puts_the_mark_at_the_origin_and_the_grain_upwards() -> None:
    leaning = corner_piece().moved(Transform.turn(0.7, Point(3, 4)))
    upright = leaning.on_grain()
    assert upright.grain == pytest.approx(math.pi / 2)
    assert upright.grain_mark.length < 1e-12
    assert upright.edge("hem").path.start.y == pytest.approx(-10)


def test_the_left_half_mirrors_the_right_and_keeps_its_edges_lengths() -> None:
    piece = corner_piece(bias=math.pi / 4)
    left = piece.mirrored()
    assert left.area == pytest.approx(-piece.area)
    assert left.bias == -piece.bias
    for at in (0.0, 10.0, 50.0):
        right_point, left_point = (p.edge("side").path.at(at) for p in (piece.on_grain(), left))
        assert (left_point.x, left_point.y) == pytest.approx((-right_point.x, right_point.y))


def test_unfolding_gives_both_halves_and_a_centre_line() -> None:
    whole = corner_piece().unfolded("centre")
    assert whole.area == pytest.approx(1200)
    assert [edge.name for edge in whole.edges] == ["hem.right", "side.right", "side.left", "hem.left"]
    right, left = (whole.edge(f"side.{hand}").path.at(whole.stop(f"side.{hand}", "hip")) for hand in ("right", "left"))
    assert (left.x, left.y) == pytest.approx((-right.x, right.y))
    assert whole.mark("point.left") == Point(-10, 5)
    assert whole.edge("centre").path.length == pytest.approx(30)


def test_a_fold_must_be_straight_and_hold_the_grain_mark() -> None:
    with pytest.raises(ValueError, match="grain mark must lie on the fold"):
        corner_piece(grain_mark=Point(5, 5)).unfolded("centre")
