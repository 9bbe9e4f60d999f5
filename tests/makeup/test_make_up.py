import itertools
from dataclasses import replace

import pytest
from shapely import LineString

from settwright.commission.design import FrontEdge
from settwright.findings import Refusal
from settwright.geometry import Path, Point
from settwright.makeup import Hand, MadeUp, MakeUpCloths, Stage, make_up
from settwright.makeup.facing import joined_front
from settwright.makeup.walking import SPACING
from settwright.pattern import LineKind
from tests.makeup.toy_drafts import jacket, polygon, shapely_point, skirt


def suit(edge: FrontEdge = FrontEdge.SEPARATE, over: Hand = Hand.RIGHT) -> MadeUp:
    return make_up(
        (jacket(), skirt()),
        front_edge=edge,
        front_laps_over=over,
        stage=Stage.BEFORE_FITTING,
        cloths=MakeUpCloths(),
        thickness=0.6,
    )


def test_instances_and_their_hands():
    made = suit()
    assert [piece.name for piece in made.pieces] == [
        "front.right",
        "front.left",
        "back.right",
        "back.left",
        "front-facing.right",
        "front-facing.left",
        "top-collar",
        "skirt-front",
        "skirt-back.right",
        "skirt-back.left",
    ]
    assert made.piece("top-collar").hand is Hand.WHOLE
    assert made.piece("top-collar").piece.edge("neck.left").path.length == pytest.approx(
        made.piece("top-collar").piece.edge("neck.right").path.length
    )
    assert all(polygon(piece.cutting_line).is_valid for piece in made.pieces)


def test_seams_carry_the_hand_of_side_a():
    sewn = {pair.name: pair for pair in suit().sewn}
    assert (sewn["shoulder.left"].a.piece, sewn["shoulder.left"].b.piece) == ("front.left", "back.left")
    assert (sewn["centre-back"].a.piece, sewn["centre-back"].b.piece) == ("back.right", "back.left")
    assert (sewn["facing-gorge.left"].b.piece, sewn["facing-gorge.left"].b.edge) == ("top-collar", "neck.left")
    assert sewn["closing"].kind == "lap"
    assert "centre-back.right" not in sewn


def test_side_a_of_the_closing_lies_over():
    for over, under in ((Hand.RIGHT, Hand.LEFT), (Hand.LEFT, Hand.RIGHT)):
        closing = next(pair for pair in suit(over=over).sewn if pair.name == "closing")
        assert (closing.a.piece, closing.b.piece) == (f"front.{over}", f"front.{under}")


@pytest.mark.parametrize("edge", FrontEdge)
def test_matched_points_lie_on_their_edges_close_enough(edge: FrontEdge):
    made = suit(edge)
    assert len(made.sewn) > 10
    for pair in made.sewn:
        for side, points in ((pair.a, [a for a, _ in pair.pairs]), (pair.b, [b for _, b in pair.pairs])):
            path = made.piece(side.piece).piece.edge(side.edge).path
            line = LineString([(p.x, p.y) for p in path.points()])
            assert max(line.distance(shapely_point(p)) for p in points) < 0.05
            assert max((q - p).length for p, q in itertools.pairwise(points)) <= SPACING + 0.002
        names = [name for name, _ in pair.stops]
        for side, index in ((pair.a, 0), (pair.b, 1)):
            piece = made.piece(side.piece).piece
            for name, place in pair.stops:
                at = piece.edge(side.edge).path.at(piece.stop(side.edge, name))
                assert (pair.pairs[place][index] - at).length < 0.002
        assert pair.stops[0][1] == 0
        assert pair.stops[-1][1] == len(pair.pairs) - 1, names


def test_the_jacket_hangs_over_the_skirt_from_the_centres_to_the_end():
    sewn = {pair.name: pair for pair in suit().sewn}
    front, back = sewn["jacket-over-skirt-front.left"], sewn["jacket-over-skirt-back.right"]
    assert (front.kind, front.a.piece, front.b.piece, front.b.edge) == (
        "hang",
        "front.left",
        "skirt-front",
        "jacket-hem.left",
    )
    assert front.pairs[0][1].x == pytest.approx(0, abs=0.001)
    assert (back.a.piece, back.b.piece) == ("back.right", "skirt-back.right")
    assert [name for name, _ in back.stops] == ["centre-back", "hang-end"]


def test_an_extended_facing_is_one_piece_with_the_front():
    made, apart = suit(FrontEdge.EXTENDED), suit()
    front = made.piece("front.right").piece
    fold = front.edge("front-edge")
    assert [edge.name for edge in front.edges] == [
        "lapel-top",
        "gorge",
        "shoulder",
        "armhole",
        "side-front",
        "hem",
        "facing-hem",
        "facing-inner",
        "facing-shoulder",
        "facing-gorge",
        "facing-lapel-top",
    ]
    assert next(line for line in front.lines if line.name == "front-edge").kind is LineKind.FOLD
    assert fold.path.length == pytest.approx(560)
    assert front.stop("front-edge", "break-point") == pytest.approx(310)
    assert not any(piece.name.startswith("front-facing") for piece in made.pieces)
    # nothing is lost or doubled: the joined area is the sum of the two
    areas = {p.name: polygon(p.seam_line).area for p in (*made.pieces, *apart.pieces)}
    one, other = made.piece("front.right"), apart.piece("front.right")
    assert polygon(one.seam_line).area == pytest.approx(
        polygon(other.seam_line).area + areas["front-facing.right"], abs=1.0
    )
    assert polygon(one.seam_line).is_valid
    names = {pair.name: pair for pair in made.sewn}
    assert "facing-front-edge.right" not in names
    assert (names["facing-lapel-top.left"].a.edge, names["facing-lapel-top.left"].b.edge) == (
        "lapel-top",
        "facing-lapel-top",
    )
    assert (names["facing-gorge.right"].a.piece, names["facing-gorge.right"].a.edge) == ("front.right", "facing-gorge")


def test_a_curved_lapel_cannot_be_a_fold():
    draft = jacket()
    front = draft.piece("front")
    bent = replace(
        front,
        edges=tuple(
            replace(
                e, path=Path.curve(e.path.start, e.path.start + Point(20, 80), e.path.end - Point(-20, 80), e.path.end)
            )
            if e.name == "lapel"
            else e
            for e in front.edges
        ),
    )
    with pytest.raises(Refusal, match="separate facing"):
        joined_front(bent, draft.piece("front-facing"))


def test_a_vent_has_its_extension_in_one():
    back = suit().piece("skirt-back.right")
    ring = polygon(back.cutting_line)

    def beyond(y: float) -> float:
        return -(ring & LineString([(-300, y), (10, y)])).bounds[0]

    assert beyond(-500) == pytest.approx(75, abs=0.01)  # below the vent's top, at 420
    assert beyond(-375) == pytest.approx(35, abs=0.01)  # above the slope by which it runs out
