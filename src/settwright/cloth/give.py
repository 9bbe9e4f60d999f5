"""What a cloth gives under iron and steam: how much it can be shrunk away, stretched, and pulled askew.

Nobody knows it without a swatch. Until one has been pressed, the class of its fibre stands in, from memory and on the
careful side; only the pressed swatch of the very cloth is to be trusted.
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


_FROM = "usual for {}, from memory; press a swatch"

# Shrink, stretch (warp, weft), shear in degrees, shear's resistance over shrinking's. From memory, on these grounds:
# worsteds ease by 4 to 8 % in a seam, more on the bias; apparel cloth buckles at a shear of 10 to 30°; under
# the press nothing should be stretched beyond 5 % (one maker's page on pressing wool garments, seen; no standard);
# fibres that don't swell in steam can't be shrunk away. The last column gives wool on a lapel 80 mm
# deep a length λ of 150 mm (bending.py) over which its threads lean; fitted, no source.
_USUAL: dict[Fibre, tuple[float, float, float, float, float, float]] = {
    Fibre.WOOL: (0.08, 0.08, 0.04, 0.05, 20.0, 0.095),
    Fibre.SILK: (0.02, 0.02, 0.02, 0.025, 18.0, 0.04),
    Fibre.COTTON: (0.02, 0.02, 0.015, 0.025, 12.0, 0.04),
    Fibre.LINEN: (0.015, 0.015, 0.015, 0.02, 14.0, 0.03),
    Fibre.BLEND: (0.04, 0.04, 0.025, 0.03, 15.0, 0.06),
    Fibre.SYNTHETIC: (0.005, 0.01, 0.01, 0.015, 10.0, 0.03),
}


def usual(fibre: Fibre) -> Give:
    """Returns what a cloth of a fibre class usually gives; its `said` says that it is an estimate."""
    *parts, degrees, resists = _USUAL[fibre]
    return Give(parts[0], parts[1], parts[2], parts[3], math.radians(degrees), resists, _FROM.format(fibre))


WOOL = usual(Fibre.WOOL)
