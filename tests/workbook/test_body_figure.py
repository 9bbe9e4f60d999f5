"""The figure that shows where measurements are taken: a tape for every measure, as long as the measure says."""

from __future__ import annotations

import re

import pytest
from shapely.geometry import Polygon

from settwright.body import Body
from settwright.body.catalogue import CATALOGUE, DEPARTURES
from settwright.body.estimate import complete
from settwright.workbook.drawing.body_contour import contour_of
from settwright.workbook.drawing.body_figure import NUMBERS, all_taken, body_figure_size, draw_body_figure
from settwright.workbook.drawing.pen import SvgPen
from tests.bodies import completed_bodies

CLIENT = {"height": 1680.0, "bust_girth": 920.0, "waist_girth": 740.0, "hip_girth": 980.0}


def test_every_measure_has_one_tape_and_a_number_in_the_order_of_the_table() -> None:
    names = [taken.name for taken in all_taken(contour_of(complete(CLIENT)))]
    assert sorted(names) == sorted(NUMBERS)
    assert list(NUMBERS) == [definition.name for definition in (*CATALOGUE, *DEPARTURES)]
    assert list(NUMBERS.values()) == list(range(1, len(NUMBERS) + 1))


@pytest.mark.parametrize("girths", [(780, 580, 830), (920, 740, 980), (1300, 1180, 1360)])
@pytest.mark.parametrize("height", [1480, 1680, 1850])
def test_lengths_that_hang_plumb_are_as_long_as_the_measure(girths: tuple[int, int, int], height: int) -> None:
    bust, waist, hip = girths
    body = complete({"height": height, "bust_girth": bust, "waist_girth": waist, "hip_girth": hip})
    tapes = {taken.name: taken.tape[0] for taken in all_taken(contour_of(body))}
    for name in ("height", "waist_height"):
        assert tapes[name].length == pytest.approx(body[name], abs=0.01)
    assert tapes["shoulder_length"].length == pytest.approx(body["shoulder_length"], abs=0.01)
    assert tapes["bust_point_width"].length == pytest.approx(body["bust_point_width"], abs=0.01)
    # seen from in front, a tape that follows the body looks a little shorter
    for name in ("back_waist_length", "scye_depth", "neck_point_to_bust_point"):
        assert 0.85 * body[name] < tapes[name].length <= body[name] + 0.01


def test_the_contour_never_crosses_itself_on_real_bodies() -> None:
    """Bodies: ANSUR II women (Gordon et al. 2014, open data), the file's sample."""
    crossed = [
        number
        for number, body in enumerate(completed_bodies())
        if not Polygon([(p.x, p.y) for p in contour_of(body).whole.points(1.0)]).is_valid
    ]
    assert not crossed


def test_a_body_shows_only_what_it_has() -> None:
    plain, uneven = complete(CLIENT), complete(CLIENT | {"low_shoulder_left": 12.0})
    assert _numbers(uneven) - _numbers(plain) == {str(NUMBERS["low_shoulder_left"])}


def _numbers(body: Body) -> set[str]:
    width, height = body_figure_size(body, 0.08)
    pen = SvgPen((0.0, 0.0, width, height), title="figure")
    draw_body_figure(pen, body, scale=0.08)
    drawing = pen.finish()
    places = [float(x) for x in re.findall(r'<text x="([-0-9.]+)"', drawing)]
    assert all(0 <= x <= width for x in places)
    return set(re.findall(r">(\d+)</text>", drawing))
