"""Where each measurement is taken: a front and a back figure, a numbered line for every measure of the catalogue."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from contextlib import AbstractContextManager, nullcontext
from dataclasses import dataclass

from settwright.body import Body
from settwright.body.catalogue import CATALOGUE, DEPARTURES
from settwright.geometry import Path, Point, Transform, direction, fair_curve
from settwright.workbook.drawing.body_contour import MIRROR, Contour, contour_of
from settwright.workbook.drawing.marks import INK, QUIET, THREAD, scaled
from settwright.workbook.drawing.pen import Pen, Stroke
from settwright.workbook.style import PAPER

NUMBERS: dict[str, int] = {definition.name: n for n, definition in enumerate((*CATALOGUE, *DEPARTURES), 1)}
"""The number of each measure, in the drawing and in the table beside it."""

_CONTOUR, _TAPE, _LEADER = Stroke(0.3, INK), Stroke(0.32, THREAD), Stroke(0.12, THREAD, (0.7, 0.6))
_FINE = Stroke(0.14, QUIET)
_RING, _FIGURE = 1.75, 2.35  # radius of a number's ring and height of its type, millimetres of the page
_TICK = 0.9  # half a tick at the end of a tape, millimetres of the page
_GAP = 60.0  # between the two figures, millimetres of the body


@dataclass(frozen=True)
class Taken:
    """How one measure is shown: the tape's way, thin leaders, and where its number stands; millimetres of the body.

    On the front view x runs to the viewer's right, which is the wearer's left; on the back view to her right.
    """

    name: str
    is_front: bool
    tape: tuple[Path, ...]
    number: Point
    leaders: tuple[Path, ...] = ()
    has_ticks: bool = True


def body_figure_size(body: Body, scale: float) -> tuple[float, float]:
    """Returns the width and height that `draw_body_figure` takes, millimetres of the page."""
    contour = contour_of(body)
    return (4 * _half(contour) + _GAP) * scale, (contour.height + 2 * _MARGIN) * scale


_MARGIN = 40.0  # over the crown and under the feet


def _half(contour: Contour) -> float:
    """Returns the room to one side of a figure's middle: its arm, and outside it the line of the whole height."""
    return contour.reach + 75.0


def draw_body_figure(
    pen: Pen, body: Body, *, scale: float, kept: Callable[[str], AbstractContextManager[None]] = nullcontext
) -> None:
    """Draws front and back of a body side by side from (0, 0), with the tape of every measure that it has.

    `kept` is given each measure's name and opens the `with` block that its tape and number are drawn in.
    """
    contour = contour_of(body)
    half = _half(contour)
    known = {measure.name for measure in body.measures}
    for is_front, x in ((True, half), (False, 3 * half + _GAP)):
        page = scaled(scale, Point(x * scale, _MARGIN * scale))
        _draw_figure(pen, contour, page, is_front)
        for taken in all_taken(contour):
            if taken.is_front is is_front and taken.name in known:
                with kept(taken.name):
                    _draw_taken(pen, taken, page)
        title = "front" if is_front else "back"
        pen.text(page(Point(0.0, -32.0)), title, size=2.8, weight="italic", anchor="middle", colour=QUIET)


def _draw_figure(pen: Pen, contour: Contour, page: Transform, is_front: bool) -> None:
    pen.path(contour.whole.moved(page), stroke=_CONTOUR, fill=PAPER, closed=True)
    lines: list[Path] = []
    if is_front:
        lines += [contour.chin, *_busts(contour)]
    else:
        h = contour.height
        lines.append(fair_curve([Point(0.0, h * 0.892), Point(0.0365 * h, h * 0.915)], Point(1.0, 0.1), direction(1.3)))
        lines.append(Path.line(Point(0.0, contour.nape - 0.02 * h), Point(0.0, contour.hip + 0.015 * h)))
    both = [path for line in lines for path in (line, line.moved(MIRROR))]
    pen.path([line.moved(page) for line in both], stroke=_FINE)


def _busts(contour: Contour) -> list[Path]:
    """Returns the fold under the bust, on the viewer's right."""
    at, half = contour.bust_point, 0.42 * contour.bust_width
    inner, outer = Point(at.x - 0.62 * half, at.y - 0.3 * half), Point(at.x + 0.66 * half, at.y - 0.22 * half)
    return [fair_curve([inner, Point(at.x, at.y - 0.62 * half), outer])]


def _draw_taken(pen: Pen, taken: Taken, page: Transform) -> None:
    if taken.leaders:
        pen.path([line.moved(page) for line in taken.leaders], stroke=_LEADER)
    pen.path([line.moved(page) for line in taken.tape], stroke=_TAPE)
    if taken.has_ticks:
        first, last = taken.tape[0], taken.tape[-1]
        ends = ((first.start, first.start_tangent), (last.end, last.end_tangent))
        ticks = [(page(at), way.left * _TICK) for at, way in ends]
        pen.polylines([[((a - b).x, (a - b).y), ((a + b).x, (a + b).y)] for a, b in ticks], stroke=_TAPE)
    at = page(taken.number)
    pen.path(_ring(at), stroke=Stroke(0.16, THREAD), fill="#ffffff", closed=True)
    number = str(NUMBERS[taken.name])
    pen.text(
        Point(at.x, at.y - 0.34 * _FIGURE), number, size=_FIGURE, weight="semibold", anchor="middle", colour=THREAD
    )


def _ring(at: Point) -> Path:
    k = 0.5523 * _RING
    e, n, w, s = (at + direction(turn * math.pi / 2) * _RING for turn in range(4))
    up, right = Point(0.0, k), Point(k, 0.0)
    return Path.curve(e, e + up, n + right, n).then(
        Path.curve(n, n - right, w + up, w), Path.curve(w, w - up, s - right, s), Path.curve(s, s + right, e - up, e)
    )


def all_taken(contour: Contour) -> Iterator[Taken]:
    """Yields every measure's tape on a figure."""
    yield from _lengths_in_front(contour)
    yield from _girths_in_front(contour)
    yield from _back(contour)
    yield from _arms(contour)
    yield from _departures(contour)


def _upright(x: float, low: float, high: float) -> Path:
    return Path.line(Point(x, high), Point(x, low))


def _level(y: float, left: float, right: float) -> Path:
    return Path.line(Point(left, y), Point(right, y))


def _round(middle: Point, half: float, sag: float = 0.09) -> Path:
    """Returns a tape round a body or limb as seen from in front: it sinks a little in the middle."""
    low = middle - Point(0.0, 2 * half * sag)
    return fair_curve([middle - Point(half, 0.0), low, middle + Point(half, 0.0)])


def _along(path: Path, part: float) -> Point:
    return path.at(path.length * part)


def _lengths_in_front(c: Contour) -> Iterator[Taken]:
    outside = -(c.reach + 40.0)
    whole = _upright(outside, 0.0, c.height)
    leaders = (_level(c.height, outside, -0.01 * c.height), _level(0.0, outside, -c.leg[1]))
    yield Taken("height", True, (whole,), _along(whole, 0.3), leaders)
    pit = fair_curve([Point(-c.neck_point.x, c.neck_point.y), Point(0.0, c.neck_pit), c.neck_point])
    yield Taken("neck_base_girth", True, (pit,), Point(0.0, c.neck_pit), has_ticks=False)
    crease = (c.shoulder_point.y + c.armpit.y) / 2
    across = _level(crease, -0.97 * c.armpit.x, 0.97 * c.armpit.x)
    yield Taken("across_front_width", True, (across,), _along(across, 0.5))
    left_neck, left_bust = Point(-c.neck_point.x, c.neck_point.y), Point(-c.bust_point.x, c.bust_point.y)
    to_bust = Path.line(left_neck, left_bust)
    yield Taken("neck_point_to_bust_point", True, (to_bust,), _along(to_bust, 0.62))
    front = fair_curve([c.neck_point, c.bust_point, Point(0.92 * c.bust_point.x, c.waist)])
    yield Taken("front_waist_length", True, (front,), _along(front, 0.8))
    points = _level(c.bust + 0.017 * c.height, -c.bust_point.x, c.bust_point.x)
    drop = 0.017 * c.height
    leaders = tuple(_upright(x, c.bust, c.bust + drop) for x in (-c.bust_point.x, c.bust_point.x))
    yield Taken("bust_point_width", True, (points,), _along(points, 0.5), leaders)
    side = fair_curve(
        [
            Point(c.waist_width + 10.0, c.waist),
            Point(c.waist_width + 0.66 * (c.hip_width - c.waist_width) + 12.0, c.waist - 0.45 * (c.waist - c.hip)),
            Point(c.hip_width + 10.0, c.hip),
        ]
    )
    yield Taken("waist_to_hip", True, (side,), _along(side, 0.55))
    knee = Path.line(Point(-0.52 * c.hip_width, c.waist), Point(-c.leg[1], c.knee))
    yield Taken("waist_to_knee", True, (knee,), _along(knee, 0.62))
    floor = Path.line(Point(-c.hip_width - 26.0, c.waist), Point(-c.hip_width - 26.0, 0.0))
    leaders = (_level(c.waist, -c.hip_width - 26.0, -c.waist_width),)
    yield Taken("waist_height", True, (floor,), _along(floor, 0.78), leaders)
    leg = _upright(0.0, 0.0, c.crotch)
    yield Taken("crotch_height", True, (leg,), _along(leg, 0.6))


def _girths_in_front(c: Contour) -> Iterator[Taken]:
    for name, y, half, part in (
        ("bust_girth", c.bust, c.bust_width * 1.01, 0.36),
        ("waist_girth", c.waist, c.waist_width, 0.82),
        ("hip_girth", c.hip, c.hip_width, 0.8),
    ):
        tape = _round(Point(0.0, y), half, 0.05)
        yield Taken(name, True, (tape,), _along(tape, part), has_ticks=False)
    thigh = _round(Point(c.leg[0] + 0.01 * c.hip_width, c.crotch - 0.025 * c.height), 0.95 * c.leg_width[0])
    yield Taken("thigh_girth", True, (thigh,), _along(thigh, 0.5), has_ticks=False)
    knee = _round(Point(c.leg[1], c.knee), c.leg_width[1])
    yield Taken("knee_girth", True, (knee,), _along(knee, 0.5), has_ticks=False)


def _back(c: Contour) -> Iterator[Taken]:
    lift = direction((c.shoulder_point - c.neck_point).angle).left * 16.0
    shoulder = Path.line(c.neck_point + lift, c.shoulder_point + lift)
    yield Taken("shoulder_length", False, (shoulder,), _along(shoulder, 0.5) + lift)
    neck, end = (Point(-p.x, p.y) for p in (c.neck_point, c.shoulder_point))
    fall = Path.line(Point(end.x, neck.y + 4.0), end + Point(0.0, 4.0))
    yield Taken(
        "shoulder_slope", False, (fall,), Point(end.x - 12.0, neck.y + 18.0), (Path.line(neck, Point(end.x, neck.y)),)
    )
    crease = (c.shoulder_point.y + c.armpit.y) / 2
    across = _level(crease, -0.98 * c.armpit.x, 0.98 * c.armpit.x)
    yield Taken("across_back_width", False, (across,), _along(across, 0.78))
    scye = _upright(-22.0, c.armpit.y, c.nape)
    yield Taken("scye_depth", False, (scye,), _along(scye, 0.72), (_level(c.armpit.y, -c.armpit.x, c.armpit.x),))
    waist = _upright(0.0, c.waist, c.nape)
    leaders = (_round(Point(0.0, c.waist), c.waist_width, 0.03),)
    yield Taken("back_waist_length", False, (waist,), _along(waist, 0.82), leaders)


def _arms(c: Contour) -> Iterator[Taken]:
    top, elbow, wrist = c.arm
    upper, lower = (elbow - top).unit, (wrist - elbow).unit
    out = c.arm_width[0] + 14.0
    whole = fair_curve(
        [c.shoulder_point + Point(14.0, 6.0), elbow + upper.left * out, wrist + lower.left * (out - 14.0)]
    )
    yield Taken("arm_length", False, (whole,), _along(whole, 0.72))
    left = fair_curve([Point(-c.shoulder_point.x - 4.0, c.shoulder_point.y), Point(-elbow.x, elbow.y)])
    yield Taken("upper_arm_length", False, (left,), _along(left, 0.45))
    for name, at, way, half, is_front in (
        ("upper_arm_girth", top.between(elbow, 0.45), upper, c.arm_width[0], True),
        ("wrist_girth", wrist, lower, c.arm_width[2], True),
        ("elbow_girth", elbow, (upper + lower).unit, c.arm_width[1], False),
    ):
        tape = Path.line(at - way.left * half, at + way.left * half)
        place = at + way.left * (half + 22.0)
        if is_front:
            yield Taken(name, True, (tape,), place, has_ticks=False)
        else:
            tape = tape.moved(MIRROR)
            yield Taken(name, False, (tape,), Point(-place.x, place.y), has_ticks=False)


def _departures(c: Contour) -> Iterator[Taken]:
    """Yields what makes a figure uneven or stooping, on the back view: her right is the viewer's right."""
    for name, side in (("low_shoulder_right", 1.0), ("low_shoulder_left", -1.0)):
        at = Point(side * (c.shoulder_point.x + 34.0), c.shoulder_point.y)
        drop = _upright(at.x, at.y - 26.0, at.y + 2.0)
        yield Taken(name, False, (drop,), at + Point(side * 22.0, -12.0), (_level(at.y, 0.0, at.x),))
    for name, side in (("full_hip_right", 1.0), ("full_hip_left", -1.0)):
        swell = fair_curve(
            [
                Point(side * (c.waist_width + 3.0), c.waist - 0.15 * (c.waist - c.hip)),
                Point(side * (c.hip_width + 16.0), c.hip + 0.02 * c.height),
                Point(side * (c.hip_width + 2.0), c.hip - 0.05 * c.height),
            ]
        )
        yield Taken(name, False, (swell,), Point(side * (c.hip_width + 36.0), c.hip + 0.03 * c.height), has_ticks=False)
    blade, end = (c.shoulder_point.y + 3 * c.armpit.y) / 4 + 0.002 * c.height, 0.85 * c.armpit.x
    wedge = Path.line(Point(0.0, blade + 8.0), Point(-end, blade), Point(0.0, blade - 8.0))
    yield Taken("back_stoop", False, (wedge,), Point(-0.66 * c.armpit.x, blade), has_ticks=False)


__all__ = ["NUMBERS", "Taken", "all_taken", "body_figure_size", "draw_body_figure"]
