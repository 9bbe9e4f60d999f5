"""The sleeves on the figure: a tube hung from the shoulder point, its cap closed against the armhole."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from settwright.makeup.model import CutPiece
from settwright.workbook.drawing.figure.arm import Arm, ArmInOne
from settwright.workbook.drawing.figure.body import BACKS, FRONTS, Body
from settwright.workbook.drawing.figure.form import (
    FAR,
    Face,
    Floats,
    Half,
    Patch,
    Profile,
    View,
    averaged,
    finer_line,
    mirrored,
    receding,
    smooth,
    stacked,
    window,
)
from settwright.workbook.drawing.plaid import Places

_FULL = 1.06  # a sleeve is a little wider than round, as it lies on the arm
_HEAD, _HEAD_DEPTH = 24.0, 75.0  # the sleeve head stands out by this beyond the shoulder point, within this depth
_ELBOW, _ROUND = 330.0, 130.0  # below the shoulder point the arm bends, within this above and below
_LEAN = (math.tan(math.radians(11.0)), math.tan(math.radians(4.5)))  # outwards: upper arm, and below the elbow
_SETTLED = 170.0  # below the armhole by this the tube has its own width
_TURNED_UNDER = ("forearm-top", "hindarm-top")  # the notches at which a sleeve turns under the arm
_HOLD = 110.0  # the armhole draws the sleeve to itself up to this far from the seam


@dataclass(frozen=True)
class Sleeve:
    """One sleeve, seen from one side; places are the right half's, outwards to the right."""

    arm: Arm
    view: Face
    seam: Places  # of the cap with the body, on the upper sleeve
    seam_seen: Places  # the same on the figure
    top: Places  # the shoulder point on the upper sleeve and on the figure

    @property
    def half(self) -> Half:
        """The half of the wearer that it belongs to."""
        return self.arm.half

    @property
    def upper(self) -> CutPiece:
        """The upper sleeve."""
        return self.arm.upper

    @property
    def under(self) -> CutPiece:
        """The under sleeve."""
        return self.arm.under

    @property
    def _below(self) -> str:
        """The seam below the armhole that is seen."""
        return "forearm" if self.view is View.FRONT else "hindarm"

    @cached_property
    def _inner(self) -> Profile:
        """The edge of the upper sleeve that is seen: cap seam and the seam below it."""
        return Profile.along(np.concatenate((self.seam, self.arm.seam(self._below))))

    @cached_property
    def _armpit(self) -> float:
        """Height on the upper sleeve at which its seam leaves the armhole."""
        return float(self.seam[:, 1].min())

    @cached_property
    def _under(self) -> tuple[Profile, float]:
        return self.arm.under_edge(self._below)

    def _girth(self, y: Floats) -> Floats:
        return self.arm.girth(y)

    def _outline_x(self, y: Floats) -> Floats:
        return self.arm.outermost(y, self.top)

    @cached_property
    def _down_the_cap(self) -> Places:
        """The cap seam from the shoulder point to the armpit."""
        return self.seam if self.seam[0, 1] > self.seam[-1, 1] else self.seam[::-1]

    @cached_property
    def _down_the_armhole(self) -> Places:
        return self.seam_seen if self.seam[0, 1] > self.seam[-1, 1] else self.seam_seen[::-1]

    @cached_property
    def _lifts(self) -> Profile:
        heights = np.minimum.accumulate(self._down_the_cap[:, 1])
        falling = np.minimum.accumulate(self._down_the_armhole[:, 1])
        new = np.concatenate(([True], np.diff(heights) < -0.01))  # where the cap climbs past the shoulder point: once
        even = np.linspace(float(heights[-1]), float(heights[0]), 60)
        lifts = Profile.of(heights[new], (falling - heights)[new])(even)
        return Profile(even, averaged(averaged(lifts, 4), 4))

    def _lift(self, y: Floats) -> Floats:
        """Returns what is added to heights of the sleeve to give the figure's, so that the cap closes."""
        return self._lifts(y)

    def _outline(self, y: Floats) -> Floats:
        """Returns how far outwards the figure's outline stands at heights of the sleeve."""
        down = np.maximum(float(self.top[1, 1]) - y - self._lift(y), 0.0)
        past = down - _ELBOW
        bent = np.where(
            past > _ROUND, past, np.where(past < -_ROUND, 0.0, np.square(np.maximum(past + _ROUND, 0)) / (4 * _ROUND))
        )
        short = 1.0 - np.minimum(down / _HEAD_DEPTH, 1.0)
        head = _HEAD * (1.0 - short * short * short)
        return self.top[1, 0] + _LEAN[0] * down + (_LEAN[1] - _LEAN[0]) * bent + head

    def _angle(self, x: Floats, y: Floats) -> Floats:
        """Returns how far round the tube a place of the upper sleeve lies from the outline."""
        return np.clip(2 * math.pi * np.abs(x - self._outline_x(y)) / self._girth(y), 0.0, math.pi)

    def _tube(self, angle: Floats, y: Floats) -> Floats:
        """Returns how far outwards a place of the tube is seen."""
        return self._outline(y) - self._girth(y) / (2 * math.pi) * _FULL * receding(angle)

    def _settled(self, y: Floats) -> Floats:
        return smooth((self._armpit - y) / _SETTLED)

    def _hung(self, places: Places) -> Places:
        """Returns where places of the upper sleeve would be seen on a tube that no armhole holds."""
        x, y = places[:, 0], places[:, 1]
        return stacked(self._tube(self._angle(x, y), y), y + self._lift(y))

    @cached_property
    def _held(self) -> tuple[Places, Places]:
        """The edge of the upper sleeve from the shoulder point down, and by how much each place is drawn from where
        it would hang: at the cap on to the armhole, below it less and less.
        """
        cap = self._down_the_cap
        drawn = self._down_the_armhole - self._hung(cap)
        y = np.linspace(self._armpit, self._armpit - _SETTLED, 20)[1:]
        below = stacked(self._inner(y), y)
        return np.concatenate((cap, below)), np.concatenate((drawn, drawn[-1:] * (1 - self._settled(y))[:, None]))

    def _drawn(self, places: Places) -> Places:
        """Returns by how much places of the upper sleeve are drawn by its edge: as the places near it, less with
        the distance, and not at all at the outline.
        """
        edge, drawn = self._held
        total, weights = np.zeros_like(places), np.zeros(len(places))
        nearest = np.full(len(places), np.inf)
        for start, end, by_start, by_end in zip(edge, edge[1:], drawn, drawn[1:], strict=False):
            chord = end - start
            length = max(float(chord[0] * chord[0] + chord[1] * chord[1]), 1e-9)
            x, y = places[:, 0] - start[0], places[:, 1] - start[1]
            part = np.clip((x * chord[0] + y * chord[1]) / length, 0.0, 1.0)
            off_x, off_y = x - part * chord[0], y - part * chord[1]
            square = off_x * off_x + off_y * off_y
            weight = length / np.square(square + 0.1)
            total += (by_start + part[:, None] * (by_end - by_start)) * weight[:, None]
            weights += weight
            nearest = np.minimum(nearest, square)
        to_seam = np.sqrt(nearest)
        to_outline = np.abs(places[:, 0] - self._outline_x(places[:, 1]))
        share = to_outline / np.maximum(to_outline + to_seam, 1e-9)
        return total * (share * smooth(1.0 - to_seam / _HOLD) / weights)[:, None]

    @cached_property
    def _hems(self) -> tuple[Profile, Profile, float]:
        """Heights of upper and under sleeve's hems from side to side, and the upper's mean."""
        upper, under = self.half.edge(self.upper, "hem"), self.half.edge(self.under, "hem")
        rise = self._under[1]
        return (
            Profile.of(upper[:, 0], upper[:, 1]),
            Profile.of(under[:, 0], under[:, 1] + rise),
            float(upper[:, 1].mean()),
        )

    def _hem_lift(self, hem: Profile, x: Floats, y: Floats) -> Floats:
        """Returns what levels the hem, which is cut square to the bent forearm."""
        middle = self._hems[2]
        below = smooth((self._armpit - 120.0 - y) / (self._armpit - 120.0 - middle))
        return (middle - hem(x)) * below

    def place_upper(self, places: Places) -> Places:
        """Returns where places of the upper sleeve are seen."""
        x, y = places[:, 0], places[:, 1]
        level = stacked(np.zeros_like(y), self._hem_lift(self._hems[0], x, y))
        return self._hung(places) + self._drawn(places) + level

    def place_under(self, places: Places) -> Places:
        """Returns where places of the under sleeve are seen."""
        edge, rise = self._under
        x, y = places[:, 0], places[:, 1] + rise
        start = self._angle(self._inner(y), y)
        angle = np.minimum(start + 2 * math.pi * np.abs(x - edge(places[:, 1])) / self._girth(y), math.pi)
        at_seam = stacked(self._inner(y), y)
        seam = self._hung(at_seam) + self._drawn(at_seam)
        half = np.full_like(y, math.pi)
        scye = np.maximum(self._scye_reach(places[:, 1]), 1e-6)
        last = np.minimum(start + 2 * math.pi * scye / self._girth(y), math.pi)
        share = (self._tube(start, y) - self._tube(angle, y)) / np.maximum(
            self._tube(start, y) - self._tube(last, y), 1e-9
        )
        armpit = self._down_the_armhole[-1, 0]
        inner = armpit + (self._tube(half, y) - armpit) * self._settled(y)
        out = seam[:, 0] + (np.minimum(inner, seam[:, 0]) - seam[:, 0]) * np.minimum(share, 1.0)
        return stacked(out, seam[:, 1] + self._hem_lift(self._hems[1], x, y))

    def _scye_reach(self, y: Floats) -> Floats:
        """Returns how far from the seam seen the under sleeve's own top edge lies, at heights of the under sleeve."""
        edge, _ = self._under
        scye = self.arm.scye(self._below)
        low = int(np.argmin(scye[:, 1]))
        from_seam = scye[: low + 1] if abs(scye[0, 0] - edge(scye[:1, 1])[0]) < 1.0 else scye[low:]
        reach = Profile.of(from_seam[:, 1], np.abs(from_seam[:, 0] - edge(from_seam[:, 1])))
        return np.where(y < scye[low, 1], FAR, reach(y))

    def upper_region(self) -> BaseGeometry:
        """Returns the part of the upper sleeve that is seen, in the right half's frame."""
        y = np.linspace(float(self.top[0, 1]) + 5, float(self.half.edge(self.upper, "hem")[:, 1].min()) - 5, 300)
        side = window(stacked(self._outline_x(y), y), beyond=FAR if self.view is View.FRONT else -FAR)
        return shapely.intersection(self.arm.upper_area(), side)

    def under_region(self) -> BaseGeometry:
        """Returns the part of the under sleeve that is seen, in the right half's frame."""
        edge, rise = self._under
        y = np.linspace(float(edge.heights.max()) + 60, float(edge.heights.min()) - 40, 120)
        lifted = y + rise
        room = (math.pi - self._angle(self._inner(lifted), lifted)) / (2 * math.pi) * self._girth(lifted)
        outwards = 1.0 if self.view is View.FRONT else -1.0
        side = window(stacked(edge(y) + outwards * room, y), beyond=-FAR * outwards)
        seen = shapely.intersection(self.arm.under_area(self._below), side)
        top = float(edge.heights.max())
        return shapely.intersection(seen, shapely.box(-FAR, -FAR, FAR, top))

    def patches(self) -> tuple[Patch, ...]:
        """Returns the parts of the sleeve that are seen, the farther one first."""
        found: list[Patch] = []
        for piece, region, place in (
            (self.under, self.under_region(), self.place_under),
            (self.upper, self.upper_region(), self.place_upper),
        ):
            if not region.is_empty and region.area > 1.0:
                found.append(Patch(piece.name, mirrored(region, self.half.sign), self.half.seen(self.view, place)))
        return tuple(found)


def jacket_sleeve(body: Body, view: Face) -> Sleeve | None:
    """Returns the sleeve of a half as seen from one side, or None where a part is missing."""
    arm = _arm(body.half)
    held = held_cap(body, view, FRONTS if view is View.FRONT else BACKS, down_to=_TURNED_UNDER)
    if arm is None or held is None:
        return None
    on_cap, seen = held
    return Sleeve(arm, view, on_cap, seen, np.array([on_cap[0], seen[0]]))


def _arm(half: Half) -> Arm | None:
    upper, under, whole = (half.find(name) for name in ("upper-sleeve", "under-sleeve", "sleeve"))
    if upper is not None and under is not None:
        return Arm(half, upper, under)
    return None if whole is None else ArmInOne(half, whole, whole)


def held_cap(
    body: Body, view: View, names: Sequence[str], finer: int = 1, down_to: Sequence[str] = ()
) -> tuple[Places, Places] | None:
    """Returns the cap's seam with the body from the shoulder point down, on the upper sleeve and on the figure; where
    a seam of the body ends in the armhole, in one line over both pieces. `names` are the body's pieces looked
    at; `finer` is into how many each step of the seam is divided; it ends at a stop of `down_to`, where it has one.
    """
    found: list[tuple[Places, Places]] = []
    for index, panel in enumerate(body.panels):
        seam = f"sleeve-{panel.piece.piece.name}"
        pairs, sewn = (body.half.pairs(seam), body.half.sewn(seam)) if panel.piece.piece.name in names else (None, None)
        if pairs is not None and sewn is not None:
            end = next((at for stop, at in sewn.stops if stop in down_to), None)
            if end is not None:
                falls = pairs[1][0, 1] > pairs[1][-1, 1]
                pairs = (pairs[0][: end + 1], pairs[1][: end + 1]) if falls else (pairs[0][end:], pairs[1][end:])
            on_body, on_cap = (finer_line(side, finer) for side in pairs)
            seen = body.place(index, on_body, view)
            highest = int(np.argmax(on_cap[:, 1]))
            turn = -1 if highest > len(on_cap) / 2 else 1
            found.append((on_cap[::turn], seen[::turn]))
    if not found:
        return None
    found.sort(key=lambda part: round(float(part[0][0, 1]), 3), reverse=True)
    return np.concatenate([cap for cap, _ in found]), np.concatenate([seen for _, seen in found])
