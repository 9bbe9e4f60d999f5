"""How the cloth looks: warp and weft thread mixed by the weave, and how far two places differ to the eye.

Threads mix in linear light, as the eye mixes them from a distance; differences are CIEDE2000. A sett knows few
colours, so the differences are worked out once for every pair of crossings and kept as a table of integers.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property, lru_cache

import numpy as np
from coloraide import Color

from settwright.cloth.cloth import Cloth, Sequence

# Share of the warp in what one sees of the right side. Plain weave and an even twill show both alike; a five-end
# satin shows the warp in four crossings of five (geometry of the weave; from memory).
WARP_SHARE = {"plain": 0.5, "twill": 0.5, "satin": 0.8}

PARTS = 1000  # the table counts in thousandths of ΔE

Lab = tuple[float, float, float]  # CIELAB under D65


def difference(first: Lab, second: Lab) -> float:
    """Returns the CIEDE2000 difference of two CIELAB colours."""
    return float(Color("lab-d65", first).delta_e(Color("lab-d65", second), method="2000"))


def mixed_colour(warp: str, weft: str, weave: str = "twill") -> str:
    """Returns the colour "#rrggbb" of a place where a warp and a weft thread cross, seen from a distance.

    >>> mixed_colour("#000000", "#ffffff", "plain")
    '#bcbcbc'
    """
    return _hex(_mixed((warp, weft), _shares(weave)))


def lab_of(colour: str) -> Lab:
    """Returns the CIELAB coordinates (D65) of a colour "#rrggbb"."""
    return _lab(_linear(colour))


def mean_colour(colours: tuple[str, ...], widths: tuple[float, ...]) -> str:
    """Returns the colour into which bars of these widths run together from a distance."""
    total = sum(widths)
    return _hex(_mixed(colours, tuple(width / total for width in widths)))


@dataclass(frozen=True)
class Palette:
    """The colours of a cloth's crossings and how far apart they are.

    `warp` and `weft` are the colours of either direction by name, in order of appearance; the crossing of warp
    colour i and weft colour j has the number i · len(weft) + j.
    """

    warp: tuple[str, ...]
    weft: tuple[str, ...]
    crossings: tuple[str, ...]  # "#rrggbb" by number
    warp_shares: tuple[float, ...]  # part of the repeat that each colour takes up
    weft_shares: tuple[float, ...]

    @classmethod
    def of(cls, cloth: Cloth) -> Palette:
        """Returns the palette of a cloth."""
        shades = dict(cloth.colours)
        warp, warp_shares = _colours_of(cloth.warp)
        weft, weft_shares = _colours_of(cloth.weft)
        crossings = tuple(mixed_colour(shades[a], shades[b], cloth.weave) for a in warp for b in weft)
        return cls(warp, weft, crossings, warp_shares, weft_shares)

    @cached_property
    def differences(self) -> np.ndarray:
        """ΔE between crossings in thousandths: int64, shape (crossings, crossings), symmetric, read-only."""
        labs = [lab_of(colour) for colour in self.crossings]
        table = np.zeros((len(labs), len(labs)), dtype=np.int64)
        for i, first in enumerate(labs):
            for j in range(i):
                table[i, j] = table[j, i] = round(PARTS * _difference(first, labs[j]))
        table.flags.writeable = False
        return table

    @cached_property
    def warp_differences(self) -> np.ndarray:
        """ΔE between warp colours, averaged over the weft: int64, shape (warp, warp)."""
        m = len(self.weft)
        return self._averaged([self.differences[j::m, j::m] for j in range(m)], self.weft_shares)

    @cached_property
    def weft_differences(self) -> np.ndarray:
        """ΔE between weft colours, averaged over the warp: int64, shape (weft, weft)."""
        m = len(self.weft)
        parts = [self.differences[i * m : (i + 1) * m, i * m : (i + 1) * m] for i in range(len(self.warp))]
        return self._averaged(parts, self.warp_shares)

    @staticmethod
    def _averaged(parts: list[np.ndarray], shares: tuple[float, ...]) -> np.ndarray:
        weights = [round(PARTS * share) for share in shares]
        total = sum(weights)
        table = np.zeros_like(parts[0])
        for part, weight in zip(parts, weights, strict=True):
            table = table + part * weight
        table = (table + total // 2) // total
        table.flags.writeable = False
        return table


def _colours_of(sequence: Sequence) -> tuple[tuple[str, ...], tuple[float, ...]]:
    widths: dict[str, float] = {}
    for bar in sequence.bars:
        widths[bar.colour] = widths.get(bar.colour, 0.0) + bar.width
    return tuple(widths), tuple(width / sequence.repeat for width in widths.values())


def _shares(weave: str) -> tuple[float, float]:
    share = WARP_SHARE.get(weave, 0.5)
    return share, 1.0 - share


@lru_cache(maxsize=4096)
def _difference(first: Lab, second: Lab) -> float:
    return 0.0 if first == second else difference(first, second)


@lru_cache(maxsize=1024)
def _linear(colour: str) -> tuple[float, float, float]:
    red, green, blue = Color(colour).convert("srgb-linear").coords()
    return red, green, blue


@lru_cache(maxsize=1024)
def _lab(linear: tuple[float, float, float]) -> Lab:
    lightness, a, b = Color("srgb-linear", linear).convert("lab-d65").coords()
    return lightness, a, b


def _mixed(colours: tuple[str, ...], shares: tuple[float, ...]) -> tuple[float, float, float]:
    parts = [_linear(colour) for colour in colours]
    red, green, blue = (sum(p[k] * s for p, s in zip(parts, shares, strict=True)) for k in range(3))
    return red, green, blue


@lru_cache(maxsize=1024)
def _hex(linear: tuple[float, float, float]) -> str:
    return str(Color("srgb-linear", linear).convert("srgb").to_string(hex=True, fit=True, compress=False))
