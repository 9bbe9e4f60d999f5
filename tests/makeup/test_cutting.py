import math
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import LineString, box
from shapely.affinity import affine_transform

from settwright.geometry import Path, Point, Segment
from settwright.makeup import Allowance, Finish, Stage
from settwright.makeup.allowances import CUSTOMS, allowances_of
from settwright.makeup.cutting import cutting_line, mirror_image, seam_polygon
from settwright.pattern import Cut, Edge, Notch, Piece
from tests.makeup.toy_drafts import FRONT, falls_short, panel, polygon, straight_piece

TOYS = (
    panel(),
    straight_piece("front", FRONT),
    straight_piece(
        "side",
        (
            ("side-back", "-60/300", -60, 300),
            ("hem", "-120/-300", -120, -300),
            ("side-front", "90/-280", 90, -280),
            ("armhole", "50/280", 50, 280),
        ),
    ),
    straight_piece(
        "side",
        (
            ("side-back", "-90/300", -90, 300),
            ("hem", "-40/-300", -40, -300),
            ("side-front", "40/-300", 40, -300),
            ("armhole", "110/260", 110, 260),
        ),
    ),
)


def rectangle(width: float, height: float, finish: Finish = Finish.ENCLOSED) -> tuple[Piece, tuple[Allowance, ...]]:
    piece = straight_piece(
        "r", (("a", "ab", 0, 0), ("b", "bc", width, 0), ("c", "cd", width, height), ("d", "da", 0, height))
    )
    return piece, tuple(Allowance(name, 10.0, 5.0, finish=finish) for name in "abcd")


def test_square_corners_of_a_rectangle():
    # A + L d + 4 d² for square corners: 200 × 300 mm with 10 mm gives 70,400 mm² (geometry, computed)
    piece, allowances = rectangle(200, 300)
    assert polygon(cutting_line(piece, allowances, Stage.BEFORE_FITTING)).area == pytest.approx(70_400, abs=0.01)


def test_a_circle_grows_by_two_pi_widths():
    # Steiner: the offset of a closed convex line is longer by 2 π d; r 100 mm and 10 mm give 691.15 mm
    pull = 4 / 3 * math.tan(math.pi / 8) * 100  # the usual cubic arc, true to 0.03 % of the radius
    quarter = Segment(Point(100, 0), Point(100, pull), Point(pull, 100), Point(0, 100))
    segments, here = [], quarter
    for _ in range(4):
        segments.append(here)
        here = Segment(here.a.left, here.b.left, here.c.left, here.d.left)
    circle = Piece("r", "r", Cut.WHOLE, (Edge("a", Path(tuple(segments)), "start", "end"),))
    outline = cutting_line(circle, (Allowance("a", 10.0, 5.0),), Stage.BEFORE_FITTING)
    assert polygon(outline).length == pytest.approx(691.15, abs=0.25)
    assert all(abs(math.hypot(p.x, p.y) - 110) < 0.05 for p in outline)


@pytest.mark.parametrize("stage", Stage)
@pytest.mark.parametrize("piece", TOYS, ids=lambda piece: piece.name)
def test_keeps_every_allowance(piece: Piece, stage: Stage):
    allowances, unknown = allowances_of(piece)
    outline = cutting_line(piece, allowances, stage)
    assert unknown == ()
    assert polygon(outline).is_valid
    assert polygon(outline).contains(polygon(seam_polygon(piece)))
    assert falls_short(piece, allowances, stage, outline) < 0.03


@pytest.mark.parametrize("taper", [-40.0, -12.0, 0.0, 12.0, 40.0])
def test_a_hem_folds_back_on_its_own_seams(taper: float):
    corners = (
        ("side-back", "-90/300", -90, 300),
        ("hem", "-90 + taper/0", -90 + taper, 0),
        ("side-front", "90 - taper/0", 90 - taper, 0),
        ("armhole", "90/300", 90, 300),
    )
    piece = straight_piece("side", corners)
    allowances, _ = allowances_of(piece)
    outline = polygon(cutting_line(piece, allowances, Stage.AFTER_FITTING))
    depth = CUSTOMS["side"]["hem"].after
    below, above = outline & box(-500, -500, 500, 0), outline & box(-500, 0, 500, depth)
    turned_up = affine_transform(below, [1, 0, 0, -1, 0, 0])
    assert turned_up.symmetric_difference(above).area < 0.5


def test_a_shoulder_folds_back_inside_the_armhole_and_the_neck():
    piece = straight_piece("front", FRONT)
    allowances, _ = allowances_of(piece)
    outline = polygon(cutting_line(piece, allowances, Stage.AFTER_FITTING))
    shoulder = piece.edge("shoulder").path
    along, n = (shoulder.end - shoulder.start).unit, shoulder.start_tangent.right
    # everything beyond the shoulder line, produced both ways, turned over about it
    a, b = shoulder.start - along * 60, shoulder.end + along * 60
    beyond = outline & polygon([a, a + n * 90, b + n * 90, b])
    xx, xy, yy = 2 * along.x**2 - 1, 2 * along.x * along.y, 2 * along.y**2 - 1
    fixed = shoulder.start
    folded = affine_transform(
        beyond, [xx, xy, xy, yy, fixed.x - xx * fixed.x - xy * fixed.y, fixed.y - xy * fixed.x - yy * fixed.y]
    )
    assert beyond.area > 100 * CUSTOMS["front"]["shoulder"].after
    assert folded.difference(outline).area < 0.5


@pytest.mark.parametrize("stage", Stage)
def test_curved_edges_come_out_smooth(stage: Stage):
    piece = panel()
    allowances, _ = allowances_of(piece)
    outline = cutting_line(piece, allowances, stage)
    for name in ("hem", "armhole"):
        width = next(a for a in allowances if a.edge == name).width(stage)
        path = piece.edge(name).path
        line = LineString([(p.x, p.y) for p in path.part(15, path.length - 15).points()])
        turns = [
            abs(math.atan2((q - p).cross(r - q), (q - p).dot(r - q)))
            for p, q, r in zip(outline, outline[1:], outline[2:], strict=False)
            if abs(line.distance(polygon([p, q, r]).centroid) - width) < 0.3
        ]
        assert len(turns) > 10
        assert max(turns) < math.radians(6)


def test_a_wider_stretch_runs_out_on_a_slope():
    piece = straight_piece(
        "r", (("a", "0/0", 0, 0), ("b", "200/0", 200, 0), ("c", "200/500", 200, 500), ("d", "0/500", 0, 500))
    )
    piece = replace(piece, notches=(Notch("vent-top", "b", 180.0),))
    allowances = (
        Allowance("a", 10.0, 10.0),
        Allowance("b", 60.0, 60.0, stretch=("200/0", "vent-top")),
        Allowance("b", 20.0, 20.0, stretch=("vent-top", "200/500")),
        Allowance("c", 10.0, 10.0),
        Allowance("d", 10.0, 10.0),
    )
    outline = polygon(cutting_line(piece, allowances, Stage.BEFORE_FITTING))
    assert outline.bounds == pytest.approx((-10, -10, 260, 510), abs=0.002)
    assert outline.covers(box(200, 0, 259.9, 179.9))
    # 45°: the 40 mm that it is wider are gone 40 mm above the stop
    level = outline & LineString([(150, 200), (300, 200)])
    assert level.bounds[2] == pytest.approx(240, abs=0.01)
    assert (outline & LineString([(150, 221), (300, 221)])).bounds[2] == pytest.approx(220, abs=0.01)


def test_the_left_half_is_the_mirror_image():
    piece = panel()
    allowances, _ = allowances_of(piece)
    right = cutting_line(piece, allowances, Stage.AFTER_FITTING)
    left = mirror_image(right)
    assert sorted((-p.x, p.y) for p in right) == sorted((p.x, p.y) for p in left)
    assert polygon(left).exterior.is_ccw
    drawn = polygon(cutting_line(piece.mirrored(), allowances, Stage.AFTER_FITTING))
    assert drawn.symmetric_difference(polygon(left)).area < 2.0


@settings(max_examples=60, deadline=None, derandomize=True)
@given(
    st.lists(st.floats(60, 300), min_size=4, max_size=7),
    st.lists(st.sampled_from([0.0, 10.0, 25.0, 60.0]), min_size=7, max_size=7),
    st.lists(st.sampled_from(list(Finish)), min_size=7, max_size=7),
)
def test_any_star_shaped_outline(radii: list[float], widths: list[float], finishes: list[Finish]):
    corners = [
        (f"e{i}", f"c{i}", r * math.cos(2 * math.pi * i / len(radii)), r * math.sin(2 * math.pi * i / len(radii)))
        for i, r in enumerate(radii)
    ]
    piece = straight_piece("r", corners)
    allowances = tuple(Allowance(f"e{i}", widths[i], widths[i], finish=finishes[i]) for i in range(len(corners)))
    outline = cutting_line(piece, allowances, Stage.BEFORE_FITTING)
    assert polygon(outline).is_valid
    assert polygon(outline).buffer(0.01).contains(polygon(seam_polygon(piece)))
    assert falls_short(piece, allowances, Stage.BEFORE_FITTING, outline) < 0.03


def test_a_hollow_corner_between_two_widths_closes():
    """Front and facing cut in one meet so at the neck: the slope between their allowances crosses itself there."""
    piece = straight_piece(
        "r",
        (
            ("a", "s/t", -36.087, 373.573),
            ("b", "t/u", -80.757, 351.109),
            ("c", "u/v", -197.842, 324.818),
            ("d", "v/w", -190.0, 0.0),
            ("e", "w/s", -30.0, 0.0),
        ),
    )
    widths = {"a": 25.0, "b": 30.0, "c": 25.0, "d": 60.0, "e": 25.0}
    allowances = tuple(Allowance(name, width, width) for name, width in widths.items())
    outline = polygon(cutting_line(piece, allowances, Stage.BEFORE_FITTING))
    assert outline.is_valid
    assert outline.covers(polygon(seam_polygon(piece)).buffer(24.9, join_style="mitre", mitre_limit=1.0))
