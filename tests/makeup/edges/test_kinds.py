"""The kinds of facing on the real drafts: what is a fold, what is sewn, and that nothing is lost between them."""

import itertools
import math
from collections.abc import Callable, Sequence
from dataclasses import replace

import pytest
from shapely import Polygon, box

from settwright.commission.design import Closing, FrontEdge, JacketDesign, SleeveCut
from settwright.findings import Refusal
from settwright.geometry import Point, Transform
from settwright.geometry.tolerances import HAND
from settwright.makeup.edges.kinds import EdgeKind, edge_kinds
from settwright.makeup.facing import joined_front, with_extended_facing
from settwright.pattern import Draft, LineKind, Piece
from tests.pattern.front_styles import CROSSED, PEAKED, PLAIN, ROUND, SHAWL, V_NECK, body_of, drawn, polygon

EXTENDED, SPLIT, TO_NECK = FrontEdge.EXTENDED, FrontEdge.SPLIT, FrontEdge.TO_NECK
NECK, CORNER = {"facing-neckline", "facing-front-edge"}, {"facing-corner"}
LAPEL = {"facing-front-edge", "facing-lapel", "facing-split"}


def made(design: JacketDesign) -> tuple[Draft, Draft]:
    """Returns a draft, and the same with front and facing in one."""
    draft = drawn(body_of("middle"), design)
    return draft, with_extended_facing(draft)


def fold_of(front: Piece) -> tuple[Point, Point]:
    line = next(
        line for line in front.lines if line.kind is LineKind.FOLD and line.name in ("front-edge", "front-fold")
    )
    return line.path.start, line.path.end


@pytest.mark.parametrize(
    ("design", "sewn"),
    [
        (replace(PLAIN, front_edge=EXTENDED), set()),
        (replace(PEAKED, front_edge=EXTENDED), set()),
        (replace(PLAIN, front_edge=EXTENDED, front_hem_radius=50.0), CORNER),
        (replace(V_NECK, front_edge=EXTENDED), NECK),
        (replace(V_NECK, front_edge=EXTENDED, front_hem_radius=45.0), NECK | CORNER),
        (replace(ROUND, front_edge=EXTENDED), {"facing-neckline"}),
        (replace(CROSSED, front_edge=EXTENDED), NECK),
        (replace(PLAIN, front_edge=SPLIT), LAPEL),
        (replace(PLAIN, front_edge=SPLIT, front_hem_radius=45.0), LAPEL | CORNER),
        (replace(PLAIN, front_edge=SPLIT, split_button=3), LAPEL),
        (replace(SHAWL, front_edge=SPLIT, buttons=2), LAPEL),
        (replace(PEAKED, front_edge=SPLIT, closing=Closing.DOUBLE, buttons=3), LAPEL),
    ],
)  # fmt: skip
def test_what_is_a_fold_and_what_is_sewn(design: JacketDesign, sewn: set[str]) -> None:
    draft, one = made(design)
    front = one.piece("front")
    part = draft.piece("front-facing-lower" if design.front_edge is SPLIT else "front-facing")
    # cloth is neither lost nor cut twice, but for the hair by which the facing is the smaller side
    shape = polygon(front)
    assert shape.is_valid
    assert shape.area == pytest.approx(draft.piece("front").area + part.area, abs=600.0)
    low, high = fold_of(front)
    assert low.x == pytest.approx(high.x, abs=0.1), "the fold is upright"
    # along the fold the cloth goes on
    for share in (0.05, 0.5, 0.95):
        at = low.between(high, share)
        assert shape.buffer(0.05).contains(polygon_square(at))
    names = {seam.name for seam in one.seams}
    assert sewn <= names
    assert not ({"facing-front-edge", "facing-lapel", "facing-corner", "facing-split"} - sewn) & names
    for seam in one.seams:
        for side in (seam.a, seam.b):
            for stop in seam.stops:
                one.piece(side.piece).stop(side.edge, stop)


def polygon_square(at: Point) -> Polygon:
    return box(at.x - 1, at.y - 1, at.x + 1, at.y + 1)


def test_a_rounded_corner_is_a_dart_at_the_lower_end_of_the_fold() -> None:
    """Its two legs are the rounding and its mirror image about the fold (geometry), equally long but for the turn."""
    draft, one = made(replace(V_NECK, front_edge=EXTENDED, front_hem_radius=45.0))
    front = one.piece("front")
    leg, other = front.edge("corner").path, front.edge("facing-corner").path.reversed()
    x = fold_of(front)[0].x
    for share in (0.0, 0.3, 0.7, 1.0):
        p, q = leg.at(share * leg.length), other.at(share * other.length)
        assert q.x - x == pytest.approx(x - p.x, abs=0.1)
        assert q.y == pytest.approx(p.y, abs=0.1)
    assert draft.piece("front").edge("front-edge").path.start == leg.start


def test_a_v_neck_opens_a_wedge_above_the_fold() -> None:
    _, one = made(replace(V_NECK, front_edge=EXTENDED))
    front = one.piece("front")
    fold_top = fold_of(front)[1]
    edge, facing = front.edge("front-edge").path, front.edge("facing-front-edge").path
    assert edge.start == facing.end == fold_top
    assert edge.end.x < fold_top.x < facing.start.x


def test_the_split_lies_at_the_button_chosen() -> None:
    for button in (2, 3):
        draft = drawn(body_of("middle"), replace(PLAIN, front_edge=SPLIT, split_button=button))
        front = draft.piece("front")
        at = front.edge("front-edge").path.at(front.stop("front-edge", "split"))
        assert at.y == pytest.approx(front.mark(f"button-{button}").y, abs=HAND)


def test_a_second_join_lower_down() -> None:
    whole = drawn(body_of("middle"), PLAIN)
    draft = drawn(body_of("middle"), replace(PLAIN, split_button=2, second_split=100.0))
    parts = [draft.piece(name) for name in ("front-facing", "front-facing-lower", "front-facing-lowest")]
    assert sum(part.area for part in parts) == pytest.approx(whole.piece("front-facing").area, abs=0.1)
    front = draft.piece("front")
    assert front.stop("front-edge", "split") - front.stop("front-edge", "second-split") == pytest.approx(100.0)


@pytest.mark.parametrize(
    "design",
    [SHAWL, PLAIN, replace(PEAKED, front_hem_radius=40.0)],
    ids=["shawl", "leaning lapel", "leaning peak"],
)
def test_an_edge_that_leans_outwards_cannot_be_one_fold(design: JacketDesign) -> None:
    """Drafted for a facing sewn on, its lapel leaves the fold's line."""
    draft = drawn(body_of("middle"), design)
    with pytest.raises(Refusal, match="split"):
        joined_front(draft.piece("front"), draft.piece("front-facing"))


def kinds_of(design: JacketDesign) -> dict[FrontEdge, EdgeKind]:
    front = drawn(body_of("middle"), design).piece("front")
    return {kind.kind: kind for kind in edge_kinds(front, design, thickness=(0.8, 0.4), room=1470.0)}


def test_layers_at_a_seam_and_at_a_fold() -> None:
    """Counted: a seam holds front, facing and both allowances turned in; a fold holds the cloth twice."""
    kinds = kinds_of(PLAIN)
    assert kinds[FrontEdge.SEPARATE].layers == (4, 4)
    assert kinds[FrontEdge.SEPARATE].thickness == pytest.approx((2.4, 2.4))
    assert kinds[SPLIT].layers == (4, 2)
    assert kinds[EXTENDED].layers == (2, 2)
    assert kinds[EXTENDED].thickness == pytest.approx((1.6, 1.6))
    v_neck = kinds_of(V_NECK)
    assert v_neck[EXTENDED].layers == (4, 2), "above the fold a neckline is sewn"


def test_lengths_cloth_and_what_hinders() -> None:
    kinds = kinds_of(PLAIN)
    whole = kinds[FrontEdge.SEPARATE].sewn
    for kind in kinds.values():
        assert kind.sewn + kind.folded == pytest.approx(whole)
        assert bool(kind.hindrance) is (kind.kind is TO_NECK)
    # a fold saves both allowances of 25 mm along it, on both fronts
    assert kinds[EXTENDED].cloth == pytest.approx(-2 * 2 * 25.0 * kinds[EXTENDED].folded / 1470.0)
    assert kinds[EXTENDED].hours < kinds[SPLIT].hours < kinds[FrontEdge.SEPARATE].hours + 0.5
    assert kinds_of(SHAWL)[EXTENDED].hindrance
    assert not kinds_of(SHAWL)[SPLIT].hindrance
    waisted = kinds_of(replace(PLAIN, waist_seam=True))
    assert waisted[SPLIT].hindrance
    assert waisted[EXTENDED].hindrance


# --- folded over up to the neck ------------------------------------------------------------------------------------

FOLDED_NECKS = [
    replace(V_NECK, front_edge=TO_NECK),
    replace(V_NECK, front_edge=TO_NECK, closing=Closing.DOUBLE),
    replace(CROSSED, front_edge=TO_NECK, front_hem_radius=45.0),
]


def mirror_about(a: Point, b: Point) -> Callable[[Point], Point]:
    along = (b - a).unit
    return lambda p: a + along * (2 * along.dot(p - a)) - (p - a)


def legs_of(front: Piece) -> tuple[Point, Point, Point]:
    """Returns the fold's point, and where its lower and its upper leg meet the facing's inner edge."""
    legs = front.edge("facing-top-fold").path
    return front.edge("neckline").path.start, legs.start, legs.end


@pytest.mark.parametrize("design", FOLDED_NECKS, ids=["V", "V, double", "crossed, rounded"])
def test_a_facing_folded_over_up_to_the_neck_lies_flat(design: JacketDesign) -> None:
    """Creases that meet at a point lie flat where every other angle between them adds up to half a turn (Kawasaki's
    condition for flat folding). Here they are the two folds of the edge, the fold's lower leg and its middle; so the
    facing's fold takes up twice the angle by which the edge turns.
    """
    draft, one = made(design)
    front, facing = one.piece("front"), draft.piece("front-facing")
    point, lower, upper = legs_of(front)
    below, neck = front.edge("front-edge").path, front.edge("neckline").path
    middle = (lower - point).unit + (upper - point).unit
    ways = [below.start - point, lower - point, middle, neck.end - point]
    angles = [(b.angle - a.angle) % (2 * math.pi) for a, b in itertools.pairwise([*ways, ways[0]])]
    assert sum(angles) == pytest.approx(2 * math.pi)
    assert angles[0] + angles[2] == pytest.approx(math.pi, abs=1e-6)
    turned = math.pi - angles[3]
    assert 2 * angles[1] == pytest.approx(2 * turned, abs=1e-6)
    wedge = abs((lower - point).cross(upper - point)) / 2
    shape = polygon(front)
    assert shape.is_valid
    # cloth is neither lost nor cut twice; the fold's mouth is peaked, so that folded it lies along the edge
    first, last = (front.stop("facing-inner", f"top-fold-{leg}") for leg in "ab")
    peak = polygon_of(front.edge("facing-inner").path.part(first, last).points())
    assert shape.area == pytest.approx(draft.piece("front").area + facing.area + wedge + peak, abs=0.5)


def polygon_of(points: Sequence[Point]) -> float:
    return Polygon([(p.x, p.y) for p in points]).area


@pytest.mark.parametrize("design", FOLDED_NECKS, ids=["V", "V, double", "crossed, rounded"])
def test_turned_over_both_folds_the_facing_lies_where_a_sewn_one_would(design: JacketDesign) -> None:
    draft, one = made(design)
    front = one.piece("front")
    point, lower, upper = legs_of(front)
    below, neck = front.edge("front-edge").path, front.edge("neckline").path
    over_edge, over_neck = mirror_about(below.start, below.end), mirror_about(neck.start, neck.end)
    # face to face with the front: the draft's own facing, turned over
    lying = draft.piece("front-facing").edge("inner").path.moved(Transform.mirror_x())
    inner = front.edge("facing-inner").path
    first, last = (front.stop("facing-inner", f"top-fold-{leg}") for leg in "ab")
    for share in (0.0, 0.25, 0.5, 0.75, 1.0):
        for turned in (over_edge(inner.at(first * share)), over_neck(inner.at(last + (inner.length - last) * share))):
            assert (lying.at(lying.nearest(turned)) - turned).length < 0.01
    assert (over_edge(lower) - over_neck(upper)).length < 1e-6, "closed, the fold's legs lie on one another"
    assert over_edge(lower).y == pytest.approx(point.y), "level, as the buttonhole is"
    names = {seam.name for seam in one.seams}
    assert not {"facing-front-edge", "facing-neckline"} & names


def test_a_fold_up_to_the_neck_wants_an_edge_that_turns_inwards() -> None:
    for design in (PLAIN, PEAKED, SHAWL, ROUND, replace(V_NECK, sleeve_cut=SleeveCut.RAGLAN)):
        with pytest.raises(Refusal, match="fold"):
            drawn(body_of("middle"), replace(design, front_edge=TO_NECK))
        assert kinds_of(design)[TO_NECK].hindrance
    kind = kinds_of(replace(V_NECK, front_edge=TO_NECK))[TO_NECK]
    assert not kind.hindrance
    assert kind.layers == (2, 2)
    assert kind.sewn == pytest.approx(0.0, abs=1e-6)
    assert kinds_of(V_NECK)[EXTENDED].cloth > kind.cloth, "it saves the neck's allowances too, but for its fold"


def test_what_is_cut_in_one_comes_from_the_fronts_cloth() -> None:
    """Of another cloth a facing sewn on takes none of the front's; a fold takes its area and saves two allowances."""
    front, area = drawn(body_of("middle"), PLAIN).piece("front"), 40_000.0
    kinds = {kind.kind: kind for kind in edge_kinds(front, PLAIN, thickness=(0.8, 0.4), room=1470.0, other_cloth=area)}
    extended = kinds[EXTENDED]
    part = extended.folded / (extended.sewn + extended.folded)
    assert kinds[FrontEdge.SEPARATE].cloth == 0.0
    assert extended.cloth == pytest.approx(2 * (area * part - 2 * 25.0 * extended.folded) / 1470.0)
