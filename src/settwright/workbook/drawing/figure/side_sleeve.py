"""The sleeves seen from the side: each hangs before the body, from the line down its middle to its silhouettes."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np
import shapely
from shapely.geometry import Polygon

from settwright.geometry import Transform
from settwright.makeup.model import CutPiece
from settwright.workbook.drawing.figure.arm import Arm
from settwright.workbook.drawing.figure.body import BACKS, FRONTS, Body
from settwright.workbook.drawing.figure.form import (
    Floats,
    Half,
    Patch,
    Profile,
    Side,
    fitted,
    mirrored,
    sine,
    smooth,
    stacked,
)
from settwright.workbook.drawing.figure.sleeve import held_cap
from settwright.workbook.drawing.plaid import Places, affine

_FLAT = 1.13  # a hanging sleeve is so much wider from the side than round: an ellipse like the body's
_SIGNS = (1.0, -1.0)  # forwards, backwards: the front half of a sleeve and its back half
_COUNT = 160  # heights at which a sleeve is told
_FINER = 5  # a cap is told at so many places from one match of its seam to the next
_HEAD = 90.0  # a sleeve grown on the body stands out from it within this below the shoulder point
_SETTLED = 170.0  # below the armhole by this the sleeve has its own width
_LEAST = 1e-3  # mm of fall from one point of a seam to the next
_SHORT = 3.0  # mm: a strip of the under sleeve narrower than this isn't drawn


@dataclass(frozen=True)
class Hung:
    """Half of a hanging sleeve between two lines of its piece, both told by height, and where they are seen.

    `turned` is how far round the arm either line lies from what faces the looker, in radians.
    """

    lines: tuple[Profile, Profile]  # x on the piece
    turned: tuple[Profile, Profile]
    seen: tuple[tuple[Profile, Profile], tuple[Profile, Profile]]  # forwards and up, on the figure

    def place(self, places: Places) -> Places:
        """Returns where places of the piece are seen."""
        x, y = places[:, 0], places[:, 1]
        near, far = self.lines[0](y), self.lines[1](y)
        reach = np.where(np.abs(far - near) < 1e-6, 1e-6, far - near)
        start, end = self.turned[0](y), self.turned[1](y)
        share = np.clip((x - near) / reach, 0.0, 1.0)
        first, whole = sine(start), sine(end) - sine(start)
        across = np.where(whole > 1e-4, (sine(start + (end - start) * share) - first) / np.maximum(whole, 1e-4), share)
        (x0, y0), (x1, y1) = self.seen
        up = across * across  # a level bar is no corner at the middle
        return stacked(x0(y) * (1 - across) + x1(y) * across, y0(y) * (1 - up) + y1(y) * up)

    def region(self) -> shapely.Geometry:
        """Returns the area between its lines."""
        y = self.lines[0].heights
        ring = np.concatenate((stacked(self.lines[0](y), y), stacked(self.lines[1](y), y)[::-1]))
        return shapely.make_valid(Polygon(ring))


@dataclass(frozen=True)
class _Tube:
    """One half of a sleeve, front or back, in a frame of its piece in which the arm hangs down."""

    sign: float  # 1 in front
    middle: Profile  # x of the line down its middle
    leans: Profile  # how far forward of the shoulder point that line hangs
    girth: Profile
    top: tuple[Places, Places]  # the shoulder point on the piece and on the figure
    above: tuple[Places, Places]  # the middle line from there to the neck, on the piece and on the figure
    cap: tuple[Places, Places] | None  # the seam with the body from the top down, on the piece and on the figure
    low: float  # below its hem

    @property
    def _highest(self) -> float:
        lines = (self.top[0], self.above[0], *(self.cap or ())[:1])
        return float(max(line[:, 1].max(initial=-math.inf) for line in lines))

    @cached_property
    def heights(self) -> Floats:
        """The heights at which it is told, upwards: evenly, and wherever the seam is told."""
        told = [np.linspace(self.low, self._highest, _COUNT), self.middle.heights]
        if self.cap is not None:
            told.append(self.cap[0][:, 1])
        y = np.unique(np.concatenate(told))
        return y[(y >= self.low) & (y <= self._highest)]

    @cached_property
    def leaves(self) -> float:
        """The height at which the seam with the body turns out of sight."""
        if self.cap is None:
            return float(self.top[0][0, 1])
        y = self.heights
        out = self._capped(y) >= self._quarter(y)
        return float(y[out].max()) if out.any() else float(y[0])

    @cached_property
    def lift(self) -> float:
        """What is added to heights of the piece where the seam turns out of sight."""
        on, seen = self.cap or self.top
        rising = np.argsort(on[:, 1], kind="stable")
        return float(np.interp(self.leaves, on[rising, 1], (seen - on)[rising, 1]))

    def _quarter(self, y: Floats) -> Floats:
        return self.girth(y) / 4

    def _capped(self, y: Floats) -> Floats:
        """Returns how far the seam with the body lies from the middle line."""
        if self.cap is None:
            t = np.clip((self.top[0][0, 1] - y) / _HEAD, 0.0, 1.0)
            return self._quarter(y) * np.sqrt(np.maximum(1.0 - np.square(1.0 - t), 0.0))
        on = self.cap[0]
        low = int(np.argmin(on[:, 1]))
        edge = Profile.along(on[: low + 1])
        return np.where(y < edge.heights[0], np.inf, np.maximum(self.sign * (edge(y) - self.middle(y)), 0.0))

    @property
    def down_to_leave(self) -> float:
        """How far below the shoulder point the seam with the body turns out of sight."""
        return float(self.top[0][0, 1]) - self.leaves

    def hung(self, lift: float, down: float) -> Hung:
        """Returns how it hangs; `lift` is what both halves add to heights below the armhole, from so far `down` on."""
        y = self.heights
        radius = np.maximum(self.girth(y), 1.0) / (2 * math.pi)
        reach = np.minimum(self._capped(y), self._quarter(y))
        turn = np.minimum(reach / radius, math.pi / 2)
        middle = self.middle(y)
        leaves = self.leaves
        x0, y0 = self._middle_seen(y, lift, down)
        x1, y1 = x0 + self.sign * radius * _FLAT * sine(turn), y + lift
        if self.cap is not None:
            on, seen = self.cap
            rising = np.argsort(on[:, 1], kind="stable")
            held = [np.interp(np.maximum(y, leaves), on[rising, 1], seen[rising, k]) for k in (0, 1)]
            hidden = np.interp(y, on[rising, 1], seen[rising, 0], left=-self.sign * math.inf)
            at = np.array([leaves])
            off = float(np.interp(leaves, y, held[0] - x1))
            below = smooth((at - y) / _SETTLED)
            outline = self.sign * np.maximum(self.sign * (x1 + off * (1 - below)), self.sign * hidden)
            x1 = np.where(y >= leaves, held[0], outline)  # the sleeve covers the armhole
            y1 = np.where(y >= leaves, held[1], y + self.lift + (lift - self.lift) * below)
        lines = (Profile(y, middle), Profile(y, middle + self.sign * reach))
        turned = (Profile(y, np.zeros_like(y)), Profile(y, turn))
        return Hung(lines, turned, ((Profile(y, x0), Profile(y, y0)), (Profile(y, x1), Profile(y, y1))))

    def _middle_seen(self, y: Floats, lift: float, down: float) -> tuple[Floats, Floats]:
        on, seen = self.top
        settled = smooth((on[0, 1] - y) / max(down, 1.0))
        up = y + (seen[0, 1] - on[0, 1]) * (1 - settled) + lift * settled
        forward = seen[0, 0] + self.leans(y)
        if len(self.above[0]) > 1:
            rising = np.argsort(self.above[0][:, 1], kind="stable")
            beyond = y > on[0, 1]
            high, at = self.above[0][rising, 1], self.above[1][rising]
            forward = np.where(beyond, np.interp(y, high, at[:, 0]), forward)
            up = np.where(beyond, np.interp(y, high, at[:, 1]), up)
        return forward, up


def side_sleeve(body: Body, view: Side) -> tuple[Patch, ...]:
    """Returns what is seen of a half's sleeve from its side; nothing where it has none."""
    half = body.half
    if half.find("upper-sleeve") is not None:
        return _in_two(body, view)
    if half.find("sleeve") is not None:
        return _in_one(body, view)
    if half.find("front-sleeve") is not None:
        return _raglan(body, view)
    return _grown(body, view)


_NONE = np.zeros((0, 2))


def _falling(cap: tuple[Places, Places]) -> tuple[Places, Places]:
    """Returns a seam with the body that nowhere climbs on the piece: a cap may, next to the shoulder point."""
    on, seen = cap
    even: Floats = np.minimum.accumulate(on[:, 1]) - _LEAST * np.arange(len(on), dtype=np.float64)
    return stacked(on[:, 0], even), seen


def _caps(body: Body, view: Side) -> tuple[tuple[Places, Places], tuple[Places, Places]] | None:
    front, back = (held_cap(body, view, names, _FINER) for names in (FRONTS, BACKS))
    return None if front is None or back is None else (_falling(front), _falling(back))


def _in_two(body: Body, view: Side) -> tuple[Patch, ...]:
    half = body.half
    upper, under = half.find("upper-sleeve"), half.find("under-sleeve")
    caps = _caps(body, view)
    if upper is None or under is None or caps is None:
        return ()
    arm = Arm(half, upper, under)
    on, seen = caps[0][0][:1], caps[0][1][:1]
    low = float(half.region(upper).bounds[1]) - 1.0
    y = np.linspace(low, float(on[0, 1]), _COUNT)
    middle, girth = Profile(y, arm.outermost(y, on)), Profile(y, arm.girth(y))
    leans = Profile(y, middle.values - middle.values[-1])
    tubes = tuple(
        _Tube(sign, middle, leans, girth, (on, seen), (_NONE, _NONE), cap, low)
        for sign, cap in zip(_SIGNS, caps, strict=True)
    )
    found = _patches(half, view, [(upper, tubes[0]), (upper, tubes[1])])
    return (*_under(half, view, arm, tubes), *found)


def _under(half: Half, view: Side, arm: Arm, tubes: Sequence[_Tube]) -> list[Patch]:
    """Returns what is seen of the under sleeve beyond the upper sleeve's seams."""
    found: list[Patch] = []
    hung_by = _mean_lift(tubes)
    for name, tube in zip(("forearm", "hindarm"), tubes, strict=True):
        edge, rise = arm.under_edge(name)
        y: Floats = np.linspace(tube.low, min(tube.leaves, float(edge.heights[-1]) + rise), _COUNT, dtype=np.float64)
        reach = tube.sign * (arm.edge(name)(y) - tube.middle(y))
        room = np.maximum(tube.girth(y) / 4 - reach, 0.0)
        if room.max() < _SHORT:
            continue
        hung = tube.hung(*hung_by)
        radius = tube.girth(y) / (2 * math.pi)
        at_seam = hung.place(stacked(arm.edge(name)(y), y))
        start, end = np.minimum(reach / radius, math.pi / 2), np.full_like(y, math.pi / 2)
        own = y - rise
        strip = Hung(
            (Profile(own, edge(own)), Profile(own, edge(own) + tube.sign * room)),
            (Profile(own, start), Profile(own, end)),
            (
                (Profile(own, at_seam[:, 0]), Profile(own, at_seam[:, 1])),
                (Profile(own, hung.seen[1][0](y)), Profile(own, hung.seen[1][1](y))),
            ),
        )
        region = shapely.intersection(mirrored(half.region(arm.under), half.sign), strip.region())
        if region.area > 1.0:
            found.append(Patch(arm.under.name, mirrored(region, half.sign), half.seen(view, strip.place)))
    return found


def _mean_lift(tubes: Sequence[_Tube]) -> tuple[float, float]:
    """Returns what both halves of a sleeve add to heights below the armhole, and how far down that begins."""
    lift, down = sum(tube.lift for tube in tubes), sum(tube.down_to_leave for tube in tubes)
    return lift / len(tubes), down / len(tubes)


def _patches(
    half: Half, view: Side, halves: Sequence[tuple[CutPiece, _Tube]], turn: Sequence[Transform] = ()
) -> tuple[Patch, ...]:
    """Returns the two halves of a sleeve as they are seen, as one patch where they are one piece. `turn` brings each
    half's piece to where the arm hangs down.
    """
    hung_by = _mean_lift([tube for _, tube in halves])
    hung = [tube.hung(*hung_by) for _, tube in halves]
    turns = [affine(by) for by in turn or (Transform(),) * len(halves)]
    strips = [
        shapely.transform(half_hung.region(), affine(by.inverse()))
        for half_hung, by in zip(hung, turn or (Transform(),) * len(halves), strict=True)
    ]
    if halves[0][0] is halves[1][0]:
        middle = halves[0][1].middle

        def whole(places: Places) -> Places:
            ahead = (places[:, 0] > middle(places[:, 1]))[:, None]
            return np.where(ahead, hung[0].place(places), hung[1].place(places))

        edges = [stacked(half_hung.lines[1].values, half_hung.lines[1].heights) for half_hung in hung]
        both = shapely.make_valid(Polygon(np.concatenate((edges[0], edges[1][::-1]))))
        parts = [(halves[0][0], both, whole)]
    else:
        parts = [
            (piece, strips[k], lambda places, k=k: hung[k].place(turns[k](places)))  # type: ignore[misc]
            for k, (piece, _) in enumerate(halves)
        ]
    found: list[Patch] = []
    for piece, strip, place in parts:
        seen = shapely.intersection(mirrored(half.region(piece), half.sign), strip)
        region = shapely.union_all([part for part in shapely.get_parts(seen) if part.area > 1.0])
        if not region.is_empty:
            found.append(Patch(piece.name, mirrored(region, half.sign), half.seen(view, place)))
    return tuple(found)


def _in_one(body: Body, view: Side) -> tuple[Patch, ...]:
    half = body.half
    sleeve, caps = half.find("sleeve"), _caps(body, view)
    if sleeve is None or caps is None:
        return ()
    on, seen = caps[0][0][:1], caps[0][1][:1]
    low = float(half.region(sleeve).bounds[1]) - 1.0
    front, back = (Profile.along(half.edge(sleeve, name)) for name in ("front-underarm", "back-underarm"))
    y = np.linspace(low, float(on[0, 1]), _COUNT)
    held = np.minimum(y, min(front.heights[-1], back.heights[-1]))
    settled = smooth((on[0, 1] - y) / 260.0)
    middle = Profile(y, on[0, 0] * (1 - settled) + (front(held) + back(held)) / 2 * settled)
    leans = Profile(y, middle.values - middle.values[-1])
    girth = Profile(y, np.abs(front(held) - back(held)))
    tubes = [
        _Tube(sign, middle, leans, girth, (on, seen), (_NONE, _NONE), cap, low)
        for sign, cap in zip(_SIGNS, caps, strict=True)
    ]
    return _patches(half, view, [(sleeve, tube) for tube in tubes])


def _raglan(body: Body, view: Side) -> tuple[Patch, ...]:
    half = body.half
    overarm, sewn = half.pairs("overarm"), half.sewn("overarm")
    front_sleeve, back_sleeve, front = half.find("front-sleeve"), half.find("back-sleeve"), half.pairs("raglan-front")
    if overarm is None or sewn is None or front_sleeve is None or back_sleeve is None or front is None:
        return ()
    pieces = front_sleeve, back_sleeve
    point = dict(sewn.stops)["shoulder-point"]
    below = [line[point:] for line in overarm]
    leans = (below[0][:, 0] - below[0][0, 0] + below[1][:, 0] - below[1][0, 0]) / 2
    widths = [_between(line, half.edge(piece, "underarm")) for line, piece in zip(below, pieces, strict=True)]
    seen = body.place(0, affine(fitted(front[1], front[0], mirror=False))(overarm[0][: point + 1]), view)
    halves: list[tuple[CutPiece, _Tube]] = []
    for k, (piece, name) in enumerate(zip(pieces, ("front", "back"), strict=True)):
        index = 0 if name == "front" else len(body.panels) - 1
        shoulder = overarm[k][: point + 1]
        parts: list[tuple[Places, Places]] = []
        for seam in (f"raglan-{name}", f"sleeve-{name}"):
            pairs = half.pairs(seam)
            if pairs is not None:
                on_body, on_sleeve = (side if pairs[1][0, 1] > pairs[1][-1, 1] else side[::-1] for side in pairs)
                parts.append((on_sleeve, body.place(index, on_body, view)))
        if not parts:
            return ()
        if shoulder[0, 1] > parts[0][0][0, 1]:  # the neck edge falls from the neck point to the raglan seam
            parts.insert(0, (shoulder[:1], seen[:1]))
        cap = _falling((np.concatenate([on for on, _ in parts]), np.concatenate([seen for _, seen in parts])))
        rise = float(below[k][0, 1] - below[1 - k][0, 1])
        tube = _Tube(
            sign=_SIGNS[k],
            middle=Profile.along(half.edge(piece, "overarm")),
            leans=Profile.of(below[k][:, 1], leans),
            girth=_together(widths[k], widths[1 - k], rise),
            top=(shoulder[-1:], seen[-1:]),
            above=(shoulder, seen),
            cap=cap,
            low=float(half.region(piece).bounds[1]) - 1.0,
        )
        halves.append((piece, tube))
    return _patches(half, view, halves)


def _between(outer: Places, inner: Places) -> Profile:
    """Returns how wide half a sleeve is between two seams; above the underarm as there."""
    y = np.linspace(float(inner[:, 1].min()), float(inner[:, 1].max()), 80)
    return Profile(y, np.abs(Profile.along(outer)(y) - Profile.along(inner)(y)))


def _together(own: Profile, other: Profile, rise: float) -> Profile:
    """Returns the girth from the widths of both halves; the other's heights are raised to lie beside this one's."""
    return Profile(own.heights, own.values + other(own.heights - rise))


def _grown(body: Body, view: Side) -> tuple[Patch, ...]:
    """A sleeve grown on the body, folded down from the shoulder point."""
    half = body.half
    pairs, sewn = half.pairs("overarm"), half.sewn("overarm")
    index = {panel.piece.name: i for i, panel in enumerate(body.panels)}
    if pairs is None or sewn is None or sewn.a.piece not in index or sewn.b.piece not in index:
        return ()
    point = dict(sewn.stops)["shoulder-point"]
    at = (index[sewn.a.piece], index[sewn.b.piece])
    pieces = [body.panels[i].piece for i in at]
    seen = body.place(at[0], pairs[0][point : point + 1], view)
    turns = [_hanging(line[point], line[-1]) for line in pairs]
    lines = [affine(turn)(line[point:]) for turn, line in zip(turns, pairs, strict=True)]
    unders, hems = (
        [affine(turn)(half.edge(piece, name)) for turn, piece in zip(turns, pieces, strict=True)]
        for name in ("sleeve-underarm", "sleeve-hem")
    )
    widths = [_between(line, under) for line, under in zip(lines, unders, strict=True)]
    tubes = [
        _Tube(
            sign=_SIGNS[k],
            middle=Profile.along(lines[k]),
            leans=Profile(np.zeros(1), np.zeros(1)),
            girth=_together(widths[k], widths[1 - k], 0.0),
            top=(np.zeros((1, 2)), seen),
            above=(_NONE, _NONE),
            cap=None,
            low=float(hems[k][:, 1].min()) - 1.0,
        )
        for k in (0, 1)
    ]
    return _patches(half, view, list(zip(pieces, tubes, strict=True)), turns)


def _hanging(top: Places, end: Places) -> Transform:
    """Returns the map that brings one place to the origin and another plumb below it."""
    way = end - top
    turn = -math.pi / 2 - math.atan2(float(way[1]), float(way[0]))
    return Transform.shift(-float(top[0]), -float(top[1])).then(Transform.turn(turn))


__all__ = ["side_sleeve"]
