"""What moved between two drafts, against changes made by hand and changes whose effect is plain."""

from __future__ import annotations

from dataclasses import replace

import pytest

from settwright.body.estimate import complete
from settwright.commission.design import JacketDesign, SkirtDesign
from settwright.geometry import Path, Point
from settwright.pattern import Cut, Draft, Edge, Notch, Piece, Step
from settwright.pattern.drafts.jacket import draft_jacket
from settwright.pattern.drafts.skirt import draft_skirt
from settwright.pattern.moved import Kind, Moved, distance_between, moved, whole_shift
from settwright.units import Units

MEASURED = {"height": 1680.0, "bust_girth": 920.0, "waist_girth": 740.0, "hip_girth": 980.0}


TRUE = Point(100.0, 100.0)


def square(corner: Point = TRUE, shift: float = 0.0) -> Draft:
    """A square of 100 mm with one corner elsewhere, the whole of it shifted to the right."""
    places = [Point(0.0, 0.0), Point(100.0, 0.0), corner, Point(0.0, 100.0)]
    places = [place + Point(shift, 0.0) for place in places]
    names = ("hem", "side", "waist", "centre")
    edges = tuple(
        Edge(name, Path.line(a, b), "start", "end")
        for name, a, b in zip(names, places, [*places[1:], places[0]], strict=True)
    )
    piece = Piece("square", "Square", Cut.WHOLE, edges, (Notch("middle", "hem", 50.0),))
    record = tuple(Step(f"corner {i}", "square", "given", (), point=place) for i, place in enumerate(places))
    return Draft("square", (piece,), (), record=record)


def test_a_draft_compared_with_itself_stands_still() -> None:
    draft = draft_jacket(complete(MEASURED), JacketDesign(), 1.0)
    assert moved(draft, draft) == ()


def test_a_corner_moved_by_hand_moves_its_point_and_its_two_edges_only() -> None:
    # by pencil: the corner goes 3 right and 4 up, so 5 away; the side grows to √(3² + 104²), the waist to √(103² + 4²)
    found = {(m.kind, m.name): m for m in moved(square(), square(Point(103.0, 104.0)))}
    assert set(found) == {(Kind.POINT, "corner 2"), (Kind.EDGE, "side"), (Kind.EDGE, "waist")}
    assert found[Kind.POINT, "corner 2"].distance == pytest.approx(5.0)
    assert found[Kind.EDGE, "side"].longer == pytest.approx((3**2 + 104**2) ** 0.5 - 100)
    assert found[Kind.EDGE, "waist"].longer == pytest.approx((103**2 + 4**2) ** 0.5 - 100)
    assert found[Kind.EDGE, "side"].distance == pytest.approx(5.0)


def test_what_moved_as_a_whole_is_told_once() -> None:
    found = [m for m in moved(square(), square(shift=12.0)) if m.kind is not Kind.POINT]
    assert [(m.kind, m.by) for m in found] == [(Kind.PIECE, Point(12.0, 0.0))]
    assert whole_shift(square().pieces[0], square(shift=12.0).pieces[0]) == Point(12.0, 0.0)


def test_what_only_one_draft_has_is_new_or_gone() -> None:
    with_dart = replace(square(), record=(*square().record, Step("dart", "square", "given", (), point=Point(9.0, 9.0))))
    (new,) = moved(square(), with_dart)
    (gone,) = moved(with_dart, square())
    assert (new.is_new, new.is_gone, gone.is_new, gone.is_gone) == (True, False, False, True)
    assert new.told(Units.CM) == "Square, dart: new."


def test_the_distance_between_two_lines_is_the_farthest() -> None:
    level = Path.line(Point(0.0, 0.0), Point(100.0, 0.0))
    sloping = Path.line(Point(0.0, 1.0), Point(100.0, 7.0))
    assert distance_between(level, sloping) == pytest.approx(7.0)
    assert distance_between(sloping, level) == pytest.approx(7.0)


def test_a_longer_skirt_has_a_lower_hem_and_nothing_else() -> None:
    body = complete(MEASURED)
    short = SkirtDesign(length=600.0)
    found = moved(draft_skirt(body, short, None), draft_skirt(body, replace(short, length=630.0), None))
    edges = {(m.of, m.name): m for m in found if m.kind is Kind.EDGE}
    assert edges["skirt-back", "centre-back"].longer == pytest.approx(30.0, abs=0.01)
    assert not any(name.startswith("waist") for _, name in edges)
    assert {m.name for m in found if m.kind is Kind.POINT} == {"side at the hem"}


def test_more_bust_goes_into_the_jacket_by_half_and_leaves_the_waist_line_level() -> None:
    """A girth enters a half draft by half: the centre front moves by 10 mm, give or take what the seams take in."""
    design = JacketDesign()
    before = draft_jacket(complete(MEASURED), design, 1.0)
    after = draft_jacket(complete(MEASURED | {"bust_girth": 940.0}), design, 1.0)
    front = next(m for m in moved(before, after) if m.kind is Kind.PIECE and m.name == "front")
    assert front.by.x == pytest.approx(10.0, abs=3.0)
    assert front.by.y == 0.0


@pytest.mark.parametrize(
    ("units", "told"),
    [
        (
            Units.CM,
            "Front, side front: lies up to 4.0 mm from where it lay; 6.4 mm longer (45.0 cm before, 45.6 cm now).",
        ),
        (
            Units.INCHES,
            "Front, side front: lies up to 5/32 in from where it lay;"
            " 1/4 in longer (17 11/16 in before, 17 15/16 in now).",
        ),
    ],
)
def test_it_is_told_in_the_persons_units(units: Units, told: str) -> None:
    # 4.0 mm are 5.04 thirty-seconds, 6.35 mm a quarter; 450 and 456.35 mm are 17.717 and 17.967 in
    change = Moved(Kind.EDGE, "front", "side-front", 4.0, length_before=450.0, length_after=456.35)
    assert change.told(units) == told


def test_drafts_of_different_garments_are_not_compared() -> None:
    with pytest.raises(ValueError, match="can't be compared"):
        moved(square(), replace(square(), name="circle"))
