"""How the stays are cut from their own cloth: bias strips side by side at 45°, straight ones behind them.

A strip of width b at 45° finds √2 × room − b of length between the selvedges; a longer one is cut in parts, joined on
the straight grain. Strips lie end to end in lanes, the widest first; each lane takes √2 × its width of the cloth's
length. Long lanes reach far up the cloth and short ones are many, so several lengths of lane are tried.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from settwright.geometry import Point
from settwright.geometry.shelves import lay_on_strip
from settwright.makeup.edges.stays import Material, Stay

_ROOT = math.sqrt(2.0)
_GAP = 3.0  # between strips
_TRIED = 24  # lengths of lane
_JOIN = 10.0  # what a join takes of each part


@dataclass(frozen=True)
class Strip:
    """A strip on the stay cloth: its corners, x from the left edge of what can be used, y from the squared end."""

    stay: str  # title of the stay it is for
    part: str  # "", or "1 of 2" where it is joined
    corners: tuple[Point, Point, Point, Point]


@dataclass(frozen=True)
class StayPlan:
    """All strips on the stay cloth, the length of cloth they take, and the tape to buy."""

    room: float
    strips: tuple[Strip, ...]
    length: float
    tape: float


@dataclass(frozen=True)
class _Wanted:
    stay: str
    part: str
    length: float
    width: float


def stay_plan(stays: Sequence[Stay], room: float) -> StayPlan:
    """Returns the cutting plan on a cloth with `room` mm between its selvedges.

    Raises ValueError for a cloth narrower than a strip is wide.
    """
    bias: list[_Wanted] = []
    straight: list[_Wanted] = []
    for stay in stays:
        if stay.material is Material.TAPE:
            continue
        for _ in range(stay.count):
            if stay.material is Material.BIAS:
                bias += _parts(stay, room)
            else:
                straight.append(_Wanted(stay.title, "", stay.cut_length, stay.cut_width))
    strips, reached = min(
        (_on_the_bias(bias, room, step / _TRIED) for step in range(1, _TRIED + 1)), key=lambda laid: round(laid[1], 3)
    )
    corner = _in_the_corner(straight, room)
    if corner and strips:
        strips += corner
        reached = max(reached, *(strip.corners[2].y for strip in corner))
        straight = []
    behind = reached + (_GAP if reached else 0.0)
    sizes = [(each.width, each.length) for each in straight]
    length = reached
    if sizes:
        for each, corner in zip(straight, lay_on_strip(sizes, room, _GAP), strict=True):
            low = behind + (-corner.y)
            box = (
                Point(corner.x, low),
                Point(corner.x + each.width, low),
                Point(corner.x + each.width, low + each.length),
                Point(corner.x, low + each.length),
            )
            strips.append(Strip(each.stay, each.part, box))
            length = max(length, low + each.length)
    tape = sum(stay.cut_length * stay.count for stay in stays if stay.material is Material.TAPE)
    return StayPlan(room, tuple(strips), length, tape)


def _parts(stay: Stay, room: float) -> list[_Wanted]:
    longest = _ROOT * room - stay.cut_width
    if longest <= 2 * _JOIN:
        raise ValueError(f"a strip {stay.cut_width:.0f} mm wide can't be cut on the bias of a cloth {room:.0f} mm wide")
    count = math.ceil(max(0.0, stay.cut_length - longest) / (longest - 2 * _JOIN)) + 1
    if count == 1:
        return [_Wanted(stay.title, "", stay.cut_length, stay.cut_width)]
    each = (stay.cut_length + 2 * _JOIN * (count - 1)) / count
    return [_Wanted(stay.title, f"{number} of {count}", each, stay.cut_width) for number in range(1, count + 1)]


def _in_the_corner(straight: Sequence[_Wanted], room: float) -> list[Strip]:
    """Returns the straight strips side by side under the lowest lane; none where they find no room there."""
    tallest = max((each.length for each in straight), default=0.0)
    x = tallest + _ROOT * _GAP
    if not straight or x + sum(each.width + _GAP for each in straight) > room:
        return []
    found: list[Strip] = []
    for each in straight:
        right = x + each.width
        box = (Point(x, 0.0), Point(right, 0.0), Point(right, each.length), Point(x, each.length))
        found.append(Strip(each.stay, each.part, box))
        x = right + _GAP
    return found


def _on_the_bias(wanted: Sequence[_Wanted], room: float, part: float) -> tuple[list[Strip], float]:
    """Returns the bias strips in lanes, and how far up the cloth the last one reaches.

    A lane is no longer than this part of what the cloth has room for, or than the longest strip.
    """
    longest = max((each.length for each in wanted), default=0.0)
    order = sorted(range(len(wanted)), key=lambda i: (-round(wanted[i].width, 3), -round(wanted[i].length, 3), i))
    lanes: list[tuple[float, list[_Wanted]]] = []  # (length used, strips), the first strip the widest
    for i in order:
        strip = wanted[i]
        for number, (used, held) in enumerate(lanes):
            if used + _GAP + strip.length <= max(longest, part * (_ROOT * room - held[0].width)):
                lanes[number] = (used + _GAP + strip.length, [*held, strip])
                break
        else:
            lanes.append((strip.length, [strip]))
    along, across = Point(1 / _ROOT, 1 / _ROOT), Point(-1 / _ROOT, 1 / _ROOT)
    strips: list[Strip] = []
    lift, highest = 0.0, 0.0
    for _, held in lanes:
        width = held[0].width
        start = Point(width / _ROOT, width / _ROOT + lift)
        for strip in held:
            a, b = start, start + along * strip.length
            corners = (a, b, b + across * strip.width, a + across * strip.width)
            strips.append(Strip(strip.stay, strip.part, corners))
            highest = max(highest, corners[2].y)
            start = b + along * _GAP
        lift += _ROOT * (width + _GAP)
    return strips, highest
