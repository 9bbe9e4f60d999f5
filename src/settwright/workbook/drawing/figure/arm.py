"""A sleeve as the tube that hangs on the arm: where its seams run, how wide it is round, what of it is seen."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from settwright.makeup.model import CutPiece
from settwright.workbook.drawing.figure.form import FAR, Floats, Half, Profile, mirrored, smooth, stacked, window
from settwright.workbook.drawing.plaid import Places

_TURN = 0.31  # of the tube's girth, from the forearm seam to the outline, seen from the front
_SHOULDER = 260.0  # below the shoulder point by this the outermost line has its own place
_TUCKED = 200.0  # below the armhole by this the line where a sleeve in one piece turns under has its own place


@dataclass(frozen=True)
class Arm:
    """A sleeve cut in two as a tube; places are the right half's. Its seams are named "forearm" and "hindarm"."""

    half: Half
    upper: CutPiece
    under: CutPiece

    def seam(self, name: str) -> Places:
        """Returns the points of a seam of the upper sleeve."""
        return self.half.edge(self.upper, name)

    def edge(self, name: str) -> Profile:
        """Returns a seam of the upper sleeve by height."""
        return Profile.along(self.seam(name))

    def under_edge(self, name: str) -> tuple[Profile, float]:
        """Returns the under sleeve's edge at a seam, and by how much it is raised to lie beside the upper's."""
        rise = 0.0
        pairs = self.half.pairs(name)
        if pairs is not None:
            upper, under = pairs
            rise = float(np.median(upper[:, 1] - under[:, 1]))
        return Profile.along(self.half.edge(self.under, name)), rise

    def scye(self, name: str) -> Places:
        """Returns the under sleeve's top edge, beginning or ending at a seam."""
        return self.half.edge(self.under, "scye")

    def upper_area(self) -> BaseGeometry:
        """Returns the area of the upper sleeve."""
        return mirrored(self.half.region(self.upper), self.half.sign)

    def under_area(self, name: str) -> BaseGeometry:
        """Returns the area of the under sleeve that begins at a seam."""
        return mirrored(self.half.region(self.under), self.half.sign)

    @cached_property
    def _edges(self) -> tuple[Profile, Profile, Profile, Profile]:
        hindarm, forearm = (Profile.along(self.half.edge(self.under, name)) for name in ("hindarm", "forearm"))
        return self.edge("forearm"), self.edge("hindarm"), hindarm, forearm

    def girth(self, y: Floats) -> Floats:
        """Returns the tube's girth at heights of the upper sleeve, above the biceps that of the biceps."""
        y = np.minimum(y, self._biceps)
        forearm, hindarm, under_hindarm, under_forearm = self._edges
        return forearm(y) - hindarm(y) + under_hindarm(y) - under_forearm(y)

    @cached_property
    def _biceps(self) -> float:
        return float(min(self.seam(name)[:, 1].max() for name in ("forearm", "hindarm")))

    def outermost(self, y: Floats, top: Places) -> Floats:
        """Returns where on the upper sleeve its outermost line runs: from the shoulder point to its own place."""
        own = self._edges[0](y) - _TURN * self.girth(y)
        settle = smooth((top[0, 1] - y) / _SHOULDER)
        return top[0, 0] * (1 - settle) + own * settle


@dataclass(frozen=True)
class ArmInOne(Arm):
    """A sleeve cut in one: it turns under the arm along lines where a sleeve in two has its seams, from the same
    notches of the armhole down.
    """

    @cached_property
    def _underarms(self) -> tuple[Profile, Profile]:
        front, back = (Profile.along(self.half.edge(self.upper, f"{name}-underarm")) for name in ("front", "back"))
        return front, back

    def _middle(self, y: Floats) -> Floats:
        front, back = self._underarms
        y = np.minimum(y, self._biceps)
        return (front(y) + back(y)) / 2

    def girth(self, y: Floats) -> Floats:
        """See Arm."""
        front, back = self._underarms
        y = np.minimum(y, self._biceps)
        return front(y) - back(y)

    @cached_property
    def _biceps(self) -> float:
        return float(min(edge.heights[-1] for edge in self._underarms))

    def _cap(self, name: str) -> tuple[Places, int]:
        """Returns the cap's half on a seam's side from the shoulder point down, and where the sleeve turns under."""
        cap = self.half.edge(self.upper, "front-cap" if name == "forearm" else "back-cap")
        cap = cap if cap[0, 1] > cap[-1, 1] else cap[::-1]
        edge = "front-cap" if name == "forearm" else "back-cap"
        notch = next(n for n in self.upper.piece.notches if n.name == f"{name}-top" and n.edge == edge)
        at = self.half.turned(np.array([[*_xy(self.upper, edge, notch.at)]]))
        return cap, int(np.argmin(np.square(cap - at).sum(axis=1)))

    def seam(self, name: str) -> Places:
        """See Arm."""
        cap, turn = self._cap(name)
        start = cap[turn]
        low = float(self.half.region(self.upper).bounds[1])
        y = np.linspace(float(start[1]), low, 120)
        settled = smooth((start[1] - y) / _TUCKED)
        sign = 1.0 if name == "forearm" else -1.0
        own = self._middle(y) + sign * _TURN * self.girth(y)
        return stacked(own + (start[0] - own[0]) * (1 - settled), y)

    def under_edge(self, name: str) -> tuple[Profile, float]:
        """See Arm."""
        return self.edge(name), 0.0

    def scye(self, name: str) -> Places:
        """See Arm."""
        cap, turn = self._cap(name)
        return cap[turn:]

    def upper_area(self) -> BaseGeometry:
        """See Arm."""
        area = super().upper_area()
        for name, beyond in (("forearm", -FAR), ("hindarm", FAR)):
            area = shapely.intersection(area, window(self.seam(name), beyond=beyond))
        return area

    def under_area(self, name: str) -> BaseGeometry:
        """See Arm."""
        beyond = FAR if name == "forearm" else -FAR
        return shapely.intersection(super().under_area(name), window(self.seam(name), beyond=beyond))

    def outermost(self, y: Floats, top: Places) -> Floats:
        """See Arm."""
        settle = smooth((top[0, 1] - y) / _SHOULDER)
        return top[0, 0] * (1 - settle) + self._middle(y) * settle


def _xy(piece: CutPiece, edge: str, at: float) -> tuple[float, float]:
    place = piece.piece.edge(edge).path.at(at)
    return place.x, place.y


__all__ = ["Arm", "ArmInOne"]
