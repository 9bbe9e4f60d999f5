"""How a figure stands, seen from the side: where its centre front, its side and its centre back lie at each height.

The ellipse of the front view is turned by a quarter, its side hanging plumb; front and back are its two halves, the one
let out and the other taken in as a person stands. Above the underarm they lean back and forth to the neck, and the
shoulder, which slopes towards the looker, is seen lower than it lies in the flat. What part is from memory, no source.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np

from settwright.workbook.drawing.figure.form import Floats, Profile, greatest_depth, seen_depth, smooth, stacked
from settwright.workbook.drawing.plaid import Places

_STANDS = Profile(np.array([-200.0, 0.0, 130.0, 230.0]), np.array([-0.1, 0.0, 0.05, 0.0]))
"""How far front and back lie forward of even, by height over the waist, as a part of the depth: seat and bust."""
_BUST = 0.72  # of the underarm's height over the waist
_PIT, _NAPE = 0.42, -0.55  # of the depth at the underarm: neck pit and nape before the side
_SHOULDER, _NECK = -0.05, -0.15  # likewise shoulder point and neck point
_ROUND_NECK = 0.07  # likewise: at the neck point the neck still rounds out before and behind it by this
_PIT_BELOW = 80.0  # the neck pit lies this far below the neck point
_NECK_OVER = 10.0  # the neck point this far over the nape


@dataclass(frozen=True)
class Shoulder:
    """A half's shoulder, from the neck point outwards; rows (distance from the centre, height) match one by one."""

    front: Places  # from the centre front
    back: Places  # from the centre back
    nape: float  # height of the centre back's top


@dataclass(frozen=True)
class Stance:
    """Maps a half's distances round the body to how they are seen from the side: forwards, and up."""

    girth: Profile  # the half girth by height
    size: Profile  # the same, its corners rounded
    to_side: Profile  # from the centre front round to the side, below the underarm
    underarm: float
    shoulder: Shoulder | None  # None: the body ends below it

    @cached_property
    def _seen(self) -> Places:
        """Where the shoulder is seen: forwards and up."""
        assert self.shoulder is not None
        front, back, high = self.shoulder.front, self.shoulder.back, self.shoulder.nape + _NECK_OVER
        slope = (front[0, 1] - front[-1, 1] + back[0, 1] - back[-1, 1]) / 2
        out = front[:, 0] - front[0, 0]
        part = out / max(float(out[-1]), 1e-6)
        depth = self._depth(np.array([self.underarm]))[0]
        return stacked(depth * (_NECK + (_SHOULDER - _NECK) * part), high - slope * part)

    def _depth(self, y: Floats) -> Floats:
        return greatest_depth(self.size(np.minimum(y, self.underarm)))

    @cached_property
    def _side(self) -> Profile:
        if self.shoulder is None:
            return Profile(np.zeros(1), np.zeros(1))
        return Profile.of(
            np.concatenate(([self.underarm], self._seen[:, 1])), np.concatenate(([0.0], self._seen[:, 0]))
        )

    def _quarter(self, line: Places | None, *, from_front: bool) -> Profile:
        y = np.linspace(float(self.size.heights[0]), self.underarm, 100)
        below = self.to_side(y) if from_front else self.girth(y) - self.to_side(y)
        if line is None:
            return Profile(y, below)
        return Profile.of(np.concatenate((y, line[:, 1])), np.concatenate((below, line[:, 0])))

    def _drop(self, line: Places | None) -> Profile:
        if line is None:
            return Profile(np.zeros(1), np.zeros(1))
        return Profile.of(
            np.concatenate(([self.underarm], line[:, 1])), np.concatenate(([0.0], self._seen[:, 1] - line[:, 1]))
        )

    @cached_property
    def _quarters(self) -> tuple[Profile, Profile]:
        """How far round the side lies from the centre front and from the centre back."""
        known = self.shoulder
        return (
            self._quarter(known.front if known else None, from_front=True),
            self._quarter(known.back if known else None, from_front=False),
        )

    @cached_property
    def _drops(self) -> tuple[Profile, Profile]:
        known = self.shoulder
        return self._drop(known.front if known else None), self._drop(known.back if known else None)

    def front(self, y: Floats) -> Floats:
        """Returns how far forwards the centre front lies at heights; above the neck pit, the neck."""
        stands = self._depth(y) * (1.0 + _STANDS(y))
        if self.shoulder is None:
            return stands
        neck = float(self.shoulder.front[0, 1])
        bust, pit = _BUST * self.underarm, neck - _PIT_BELOW
        at = np.array([bust, self.underarm])
        depths = self._depth(at) * (1.0 + _STANDS(at))
        base = self._depth(at)[1]
        ends = (depths[0], base * _PIT, base * (_NECK + _ROUND_NECK))
        return _leaning(y, stands, (bust, pit, neck), ends)

    def back(self, y: Floats) -> Floats:
        """Returns the same of the centre back, negative."""
        stands = -self._depth(y) * (1.0 - _STANDS(y))
        if self.shoulder is None:
            return stands
        at = np.array([self.underarm])
        depth = self._depth(at)[0]
        ends = (-depth * (1.0 - _STANDS(at)[0]), depth * _NAPE, depth * (_NECK - _ROUND_NECK))
        return _leaning(y, stands, (self.underarm, self.shoulder.nape, float(self.shoulder.back[0, 1])), ends)

    def ahead(self, distance: Floats, y: Floats, *, from_front: bool) -> Floats:
        """Returns how far before the side places lie that are a distance round from the centre front, or back."""
        quarter = self._quarters[0 if from_front else 1](y)
        return quarter - distance if from_front else distance - quarter

    def place(self, ahead: Floats, y: Floats, *, is_back: bool) -> Places:
        """Returns where places so far before the side are seen; of the back, which drops towards the shoulder alone."""
        to_front, to_back = (np.maximum(quarter(y), 1.0) for quarter in self._quarters)
        before, behind = np.clip(ahead / to_front, 0.0, 2.0), np.clip(-ahead / to_back, 0.0, 2.0)
        part = np.abs(1.0 - behind)  # of the way from the centre back to the side
        up = y + (self._drops[1](y) * smooth(part) if is_back else self._drops[0](y))
        side = self._side(up)
        forward = (self.front(y) - side) * self._round(np.abs(1.0 - before), y)
        backward = (self.back(y) - side) * self._round(part, y)
        return stacked(side + np.where(ahead > 0, forward, backward), up)

    def _round(self, part: Floats, y: Floats) -> Floats:
        """Returns how far before the side a place lies that is a part of the way from the centre to it, as a part of
        the centre's: round below, towards the shoulder blunt, for it has its own thickness.
        """
        if self.shoulder is None:
            return seen_depth(part / 2)
        point = float(self.shoulder.front[-1, 1])
        blunt = smooth((y - self.underarm) / max(point - self.underarm, 1.0))
        eighth = np.square(np.square(np.square(np.minimum(part, 1.0))))
        return seen_depth(part / 2) * (1 - blunt) + (1.0 - eighth) * blunt


def _leaning(
    y: Floats, stands: Floats, heights: tuple[float, float, float], ends: tuple[float, float, float]
) -> Floats:
    """Returns what stands up to the first height, from there leaning to the second, and on to the neck point."""
    part = np.clip((y - heights[0]) / max(heights[1] - heights[0], 1.0), 0.0, 1.0)
    leans = ends[0] + (ends[1] - ends[0]) * part * part * (1.5 - 0.5 * part)
    round_the_neck = smooth((y - heights[1]) / max(heights[2] - heights[1], 1.0))
    return np.where(part > 0, leans + (ends[2] - ends[1]) * round_the_neck, stands)


__all__ = ["Shoulder", "Stance"]
