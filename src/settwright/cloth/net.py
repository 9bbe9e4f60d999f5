"""Cloth pulled askew, as a net of threads that turn about their crossings and don't stretch.

The net is Chebyshev's (On the cutting of clothes, 1878); the formulas are the geometry of a rhombus. `shear` is the
angle by which warp and weft have left the right angle.
"""

from __future__ import annotations

import math

_BIAS = math.pi / 4


def length_factor(shear: float, along: float = _BIAS) -> float:
    """Returns by what a length changes that lies at the angle `along` from the warp.

    >>> round(length_factor(math.radians(30)), 5)
    1.22474
    """
    return math.sqrt(1.0 + math.sin(2 * along) * math.sin(shear))


def width_factor(shear: float) -> float:
    """Returns by what the width of a strip on the true bias changes when it is pulled lengthwise."""
    return math.sqrt(2.0) * math.sin(_BIAS - shear / 2)


def shear_of(length: float) -> float:
    """Returns the shear at which a strip on the true bias has become longer by the factor `length`, 1 to √2.

    Raises ValueError for a factor that no net reaches.
    """
    if not 1.0 <= length <= math.sqrt(2.0):
        raise ValueError(f"a net on the bias can't become longer by the factor {length:g}")
    return math.pi / 2 - 2 * math.acos(length / math.sqrt(2.0))
