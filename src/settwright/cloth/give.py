"""What a cloth gives under iron and steam: how much it can be shrunk away, stretched, and pulled askew.

Nobody knows it without a swatch. Until one has been pressed, the class of its fibre stands in, on the careful side;
only the pressed swatch of the very cloth is to be trusted.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import StrEnum

from settwright.cloth.net import length_factor


class Fibre(StrEnum):
    """What a cloth is spun from, as far as the iron is concerned."""

    WOOL = "wool"
    SILK = "silk"
    COTTON = "cotton"
    LINEN = "linen"
    BLEND = "blend"  # wool with something else
    SYNTHETIC = "synthetic"


@dataclass(frozen=True)
class Give:
    """What a cloth takes at most, as parts of a length (0.08 is 8 %), and how far it can be pulled askew.

    `askew_over_shrink` compares what a little shear resists with what as much shrinking or stretching resists under
    the iron: small where the cloth would rather slip askew than shrink.
    """

    shrink_warp: float
    shrink_weft: float
    stretch_warp: float
    stretch_weft: float
    shear: float  # radians
    askew_over_shrink: float
    said: str  # where the figures come from

    def shrink(self, along_warp: bool) -> float:
        """Returns what can be shrunk away along warp or weft."""
        return self.shrink_warp if along_warp else self.shrink_weft

    def stretch(self, along_warp: bool) -> float:
        """Returns what can be stretched along warp or weft."""
        return self.stretch_warp if along_warp else self.stretch_weft

    @property
    def on_the_bias(self) -> float:
        """By what part a bias strip becomes longer when it is pressed until it gives no more."""
        return length_factor(self.shear) - 1.0


_FROM = "usual for {}, {}; press a swatch"

# Shrink, stretch (warp, weft), shear in degrees, shear's resistance over shrinking's. The grounds, each seen unless
# said otherwise:
# - shrink: what a cloth loses wet is what steam can take away at most. Worsteds 4 and 3.5 %, cotton 3.5 to 6 and 2.5 to
#   3.5 %, silk 10 and 3 % (a cloth maker's table of 2018); a wool trousering 7.5 and 8.3 % (a dressmaker, 2010); close
#   linen 2.5 %, open 6 % (a needlewoman's trial, 2017); polyester 1 % in boiling water (a tester's notes). That
#   worsteds ease by 4 to 8 % in a seam is from memory, as is a blend's figure.
# - stretch: a wool plain weave gave 4.6 and 5.9 % at 100 gf/cm (a laboratory report); denims at least 4.7 % (a journal
#   article of 2016); under the press nothing should be stretched beyond 5 % (a maker's notes). Others: from memory.
# - shear: that apparel cloth buckles at 10 to 30° is from memory; papers tell how it is measured, a table by fibre was
#   not found. The laboratory's wool leans by 5.5° at 5 gf/cm, worked out from its 4.7 % on the bias; threads that
#   cover nine tenths of their spacing touch at 25.8° (geometry).
# - the last column gives wool on a lapel 80 mm deep a length λ of 150 mm (bending.py) over which its threads lean;
#   fitted, no source. In the cold the laboratory's figures make it 0.012, and damp heat makes it more.
_USUAL: dict[Fibre, tuple[float, float, float, float, float, float]] = {
    Fibre.WOOL: (0.08, 0.08, 0.04, 0.05, 20.0, 0.095),
    Fibre.SILK: (0.02, 0.02, 0.02, 0.025, 18.0, 0.04),
    Fibre.COTTON: (0.02, 0.02, 0.015, 0.025, 12.0, 0.04),
    Fibre.LINEN: (0.015, 0.015, 0.015, 0.02, 14.0, 0.03),
    Fibre.BLEND: (0.04, 0.04, 0.025, 0.03, 15.0, 0.06),
    Fibre.SYNTHETIC: (0.005, 0.01, 0.01, 0.015, 10.0, 0.03),
}
_SHRINKS, _GIVES = (
    "shrinking by published figures, the rest from memory",
    "by published figures, its leaning from memory",
)
_SAID: dict[Fibre, str] = {
    Fibre.WOOL: _GIVES,
    Fibre.COTTON: _GIVES,
    Fibre.SILK: _SHRINKS,
    Fibre.LINEN: _SHRINKS,
    Fibre.BLEND: "from memory",
    Fibre.SYNTHETIC: _SHRINKS,
}


def usual(fibre: Fibre) -> Give:
    """Returns what a cloth of a fibre class usually gives; its `said` says that it is an estimate."""
    *parts, degrees, resists = _USUAL[fibre]
    said = _FROM.format(fibre, _SAID[fibre])
    return Give(parts[0], parts[1], parts[2], parts[3], math.radians(degrees), resists, said)


WOOL = usual(Fibre.WOOL)
