"""Bars drawn on flat pieces, the cutting layout, single pieces and seam cards, on both pens."""

from __future__ import annotations

import io
import itertools
import math
import random

import pypdfium2
import pytest

from settwright.bars.model import Drift, Importance, Join, Mode, Orientation, Phase, Sample
from settwright.cloth.cloth import Cloth, Fault
from settwright.cloth.colour import mixed_colour
from settwright.geometry import Path, Point, Transform
from settwright.layout.model import Layout, Placement
from settwright.makeup.model import Hand
from settwright.units import Units
from settwright.workbook.drawing.layout_drawing import draw_layout, layout_box, on_cloth
from settwright.workbook.drawing.pen import POINT, PdfPen, SvgPen, new_canvas
from settwright.workbook.drawing.piece_drawing import draw_piece, piece_box
from settwright.workbook.drawing.plaid import colour_at, draw_plaid, faded, runs
from settwright.workbook.drawing.seam_drawing import SeamSide, draw_seam_card, seam_card_size
from tests.workbook.worn import UNEVEN, Recorder, bars, suit


def from_bar_sides(u: float, v: float) -> float:
    """How far a place in the sett lies from the nearest side of a bar."""
    return min(
        abs((place - start + way.repeat / 2) % way.repeat - way.repeat / 2)
        for place, way in ((u, UNEVEN.warp), (v, UNEVEN.weft))
        for start in way.starts
    )


def crossing(u: float, v: float) -> str:
    """The colour of a place in the sett."""
    named = dict(UNEVEN.colours)
    return mixed_colour(named[UNEVEN.warp.bar_at(u).colour], named[UNEVEN.weft.bar_at(v).colour])


SQUARE = (Point(-90.0, -60.0), Point(90.0, -60.0), Point(90.0, 60.0), Point(-90.0, 60.0))


def printed(width: float, height: float, origin: Point, draw, dots: float = 6.0):  # dots to the millimetre
    """Draws one PDF page and returns what its pixels show at a place in millimetres."""
    file = io.BytesIO()
    canvas = new_canvas(file, (width, height))  # type: ignore[arg-type]
    draw(PdfPen(canvas, origin))
    canvas.showPage()
    canvas.save()
    image = pypdfium2.PdfDocument(file.getvalue())[0].render(scale=dots * POINT).to_pil().convert("RGB")

    def colour(x: float, y: float) -> str:
        red, green, blue = image.getpixel((int((origin.x + x) * dots), int(image.height - (origin.y + y) * dots)))
        return f"#{red:02x}{green:02x}{blue:02x}"

    return colour


@pytest.mark.parametrize(
    ("orientation", "turn"),
    [
        (Orientation(), 0.0),
        (Orientation(t=-1), 0.0),
        (Orientation(f=-1), 0.0),
        (Orientation(), math.pi / 4),
        (Orientation(t=-1), -math.pi / 4),
    ],
)
def test_printed_bars_stand_where_the_phase_says(orientation: Orientation, turn: float) -> None:
    """Pixels of the printed page against the sett read bar by bar at (u, v) + S R(g) p."""
    phase = Phase("x", 13.0, 57.0, orientation)
    colour = printed(200, 140, Point(100, 70), lambda pen: draw_plaid(pen, SQUARE, UNEVEN, phase, turn))
    chance = random.Random(7)
    c, s = math.cos(turn), math.sin(turn)
    checked = 0
    for _ in range(300):
        x, y = chance.uniform(-88, 88), chance.uniform(-58, 58)
        u = 13.0 + orientation.t * orientation.f * (c * x - s * y)
        v = 57.0 + orientation.t * (s * x + c * y)
        if from_bar_sides(u, v) < 0.5:
            continue
        wanted = crossing(u, v)
        assert colour(x, y) == wanted == colour_at(UNEVEN, phase, turn, Point(x, y))
        checked += 1
    assert checked > 150
    assert colour(-95, 0) == "#ffffff"
    assert colour(0, 65) == "#ffffff"


def test_no_ground_shines_between_touching_bars() -> None:
    """Three dark colours over a white page: along a line there is no lighter dot."""
    warp, weft = bars(("a", 7.3), ("b", 5.1), ("c", 3.7)), bars(("a", 6.1), ("b", 4.9), ("c", 2.3))
    cloth = Cloth("c", "C", (("a", "#101010"), ("b", "#202020"), ("c", "#181818")), warp, weft, 1500, 10, 1.0)
    colour = printed(60, 60, Point(5, 5), lambda pen: draw_plaid(
        pen, (Point(0, 0), Point(250, 0), Point(250, 250), Point(0, 250)), cloth, Phase("c", 1.0, 2.0),
        place=Transform(xx=0.2, yy=0.2)), dots=11.3)  # fmt: skip
    brightest = max(int(colour(1 + k * 0.043, 1 + k * 0.037)[1:3], 16) for k in range(1100))
    assert brightest < 0x30


def test_svg_and_pdf_show_the_same_ground() -> None:
    pen = SvgPen((-90, -60, 90, 60), title="Ground")
    draw_plaid(pen, SQUARE, UNEVEN, Phase("x", 0.0, 0.0))
    text = pen.finish()
    named = dict(UNEVEN.colours)
    for warp in {bar.colour for bar in UNEVEN.warp.bars}:
        for weft in {bar.colour for bar in UNEVEN.weft.bars}:
            assert f'fill="{mixed_colour(named[warp], named[weft])}"' in text
    assert len(text) < 12_000


def test_runs_join_touching_bars_of_one_colour() -> None:
    sequence = bars(("a", 2.0), ("b", 3.0), ("a", 4.0), ("a", 1.0))
    found = runs(sequence, 0.0, 20.0)
    assert [(run.colour, run.start, run.end) for run in found] == [
        ("a", -5.0, 2.0),
        ("b", 2.0, 5.0),
        ("a", 5.0, 12.0),
        ("b", 12.0, 15.0),
        ("a", 15.0, 22.0),
    ]
    assert [(run.start, run.end) for run in runs(bars(("a", 9.0)), 3.0, 30.0)] == [(3.0, 30.0)]


def test_fading_ends_in_white() -> None:
    assert faded("#28344f", 0.0) == "#28344f"
    assert faded("#28344f", 1.0) == "#ffffff"


def lain() -> tuple[Cloth, Layout]:
    cloth = Cloth(
        **{
            **{name: getattr(UNEVEN, name) for name in UNEVEN.__dataclass_fields__},
            "sett_at_left": 20.0,
            "faults": (Fault("slub", ((1200.0, 900.0), (1300.0, 900.0), (1300.0, 1000.0), (1200.0, 1000.0))),),
        }
    )
    placements = (Placement("front.right", 300, 500), Placement("front.left", 700, 500, -1, 1))
    return cloth, Layout(placements, 1100.0, 33.0, 0.5)


@pytest.mark.parametrize("units", list(Units))
def test_layout_tells_pieces_tapes_repeats_faults_and_what_is_left(units: Units) -> None:
    cloth, layout = lain()
    pen = Recorder()
    draw_layout(pen, cloth, suit().pieces, layout, scale=0.1, length=1400.0, units=units)
    assert {"Front, right", "Front, left", "turned", "slub", "repeats counted"} <= set(pen.texts)
    assert any(text.startswith("left over") for text in pen.texts)
    left, bottom, right, top = layout_box(cloth, 1400.0, 0.1)
    for points in pen.strokes:
        assert all(left <= p.x <= right and bottom <= p.y <= top for p in points)


def test_a_placed_piece_lies_on_the_cloth_as_the_frames_say() -> None:
    """(x, y) + S R(g) p, worked by hand: turned by 180°, a point 10 to the right of the mark lies 10 to its left."""
    assert on_cloth(Placement("p", 700, 500, -1, 1), 0.0)(Point(10, 4)) == Point(690, 496)
    assert on_cloth(Placement("p", 700, 500, 1, -1), 0.0)(Point(10, 4)) == Point(690, 504)
    turned = on_cloth(Placement("p", 0, 0), math.pi / 4)(Point(1, 0))
    assert (turned.x, turned.y) == pytest.approx((math.sqrt(0.5), math.sqrt(0.5)))


def test_the_layout_shows_the_cloth_s_own_bars_under_a_turned_piece() -> None:
    cloth, layout = lain()
    box = layout_box(cloth, 1100.0, 0.1)
    colour = printed(box[2] - box[0], box[3] - box[1], Point(-box[0], -box[1]),
                     lambda pen: draw_layout(pen, cloth, suit().pieces, layout, scale=0.1))  # fmt: skip
    checked = 0
    for x, y in ((560.0, 250.0), (640.0, 180.0), (705.0, 620.0), (540.0, 655.0), (610.0, 680.0), (690.0, 130.0)):
        u, v = x - 20.0, y - 33.0
        if from_bar_sides(u, v) < 1.5:
            continue
        wanted = crossing(u, v)
        assert colour(x * 0.1, y * 0.1) == faded(wanted, 0.3)
        checked += 1
    assert checked >= 2


def test_every_piece_can_be_drawn_and_names_itself() -> None:
    for piece in suit().pieces:
        pen = Recorder()
        draw_piece(pen, piece, scale=0.12, cloth=UNEVEN, phase=Phase(piece.name, 3.0, 4.0))
        whole = piece.hand is Hand.WHOLE
        assert (piece.piece.title if whole else f"{piece.piece.title}, {piece.hand.value}") in pen.texts
        left, bottom, right, top = piece_box(piece, 0.12)
        assert right - left < 80
        for points in pen.strokes:
            assert all(left - 1 <= p.x <= right + 1 and bottom - 1 <= p.y <= top + 1 for p in points), piece.name


def seam(turned: bool) -> tuple[Join, Drift, tuple[SeamSide, SeamSide]]:
    """The side-back seam, right, its back 3 mm too high."""
    made_up = suit()
    sewn = next(s for s in made_up.sewn if s.name == "side-back.right")
    pairs = tuple(reversed(sewn.pairs)) if turned else sewn.pairs
    samples = tuple(Sample(a, b, 1 / len(pairs)) for a, b in pairs)
    stretch = (sewn.stops[-1][0], sewn.stops[0][0]) if turned else (sewn.stops[0][0], sewn.stops[-1][0])
    join = Join("side-back.right", "seam", sewn.a.piece, sewn.a.edge, sewn.b.piece, sewn.b.edge, Mode.CONTINUE,
                Mode.NONE, stretch, True, Importance.ALWAYS, 1.0, 0.0, samples)  # fmt: skip
    v = 10.0
    rise = pairs[0][0].y - pairs[0][1].y
    level = tuple(v + a.y - (v + rise + 3.0 + b.y) for a, b in pairs)
    drift = Drift(join.name, level, None, 0.0, 3.0, 0.0, 0, 0.0, "")
    sides = (
        SeamSide(made_up.piece(join.a), UNEVEN, Phase(join.a, 5.0, v)),
        SeamSide(made_up.piece(join.b), UNEVEN, Phase(join.b, 30.0, v + rise + 3.0)),
    )
    return join, drift, sides


@pytest.mark.parametrize("turned", [False, True])
def test_a_seam_card_shows_back_left_side_right_garment_upright(turned: bool) -> None:
    join, drift, sides = seam(turned)
    pen = Recorder()
    draw_seam_card(pen, join, drift, sides, scale=0.2, depth=40.0)
    width, height = seam_card_size(join, 0.2, 40.0)
    assert width > 16
    samples = tuple(reversed(join.samples)) if turned else join.samples
    walked, checked = 0.0, 0
    for before, sample in itertools.pairwise(samples):
        walked += (sample.a - before.a).length
        if walked * 0.2 > height - 8:
            break
        for side, point, hand in ((sides[0], sample.a, -1), (sides[1], sample.b, 1)):
            inside = Point(point.x + hand * 1.5, point.y)
            u, v = side.phase.u + inside.x, side.phase.v + inside.y
            if from_bar_sides(u, v) < 1.2:
                continue
            wanted = crossing(u, v)
            assert pen.colour_at(hand * 1.5 * 0.2, walked * 0.2) == wanted
            checked += 1
    assert checked > 30
    assert "3.0 mm" in pen.texts
    assert "underarm back" in pen.texts


def test_a_curve_is_filled_to_its_edge() -> None:
    circle = Path.curve(Point(50, 0), Point(50, 66.7), Point(-50, 66.7), Point(-50, 0)).then(
        Path.curve(Point(-50, 0), Point(-50, -66.7), Point(50, -66.7), Point(50, 0))
    )
    colour = printed(120, 120, Point(60, 60), lambda pen: draw_plaid(pen, circle, UNEVEN, Phase("x", 0, 0)))
    assert colour(0, 49.5) != "#ffffff"
    assert colour(0, 50.6) == "#ffffff"
