"""Pleats laid on the bars of a plaid: every fold on the same bar.

From fold to fold the cloth measures a whole number of repeats. What of it is not to be seen lies doubled under the
fold; the rest, seen from one fold to the next, makes the hip. At the waist each pleat lies a little deeper: the fold
keeps to its bar, and the line that the next fold covers slants under it.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from settwright.findings import Finding, Refusal, Weight

SEEN = (26.0, 62.0)  # least and most of a pleat to be seen (common practice, no source)
FULL = 3.0  # a full pleat takes three times what is seen of it
MOST_REPEATS = 6


@dataclass(frozen=True)
class Pleats:
    """How half a skirt is pleated, from the centre front to the centre back; millimetres.

    `first` is from the centre front to the first fold; folds follow one another at `cloth`, a whole number of repeats;
    `seen` is what is seen of each, `taken` how much deeper each lies at the waist.
    """

    repeats: int
    repeat: float
    first: float
    seen: float
    folds: int
    taken: float

    @property
    def cloth(self) -> float:
        """From fold to fold."""
        return self.repeats * self.repeat

    @property
    def depth(self) -> float:
        """How far a pleat reaches under its fold."""
        return (self.cloth - self.seen) / 2

    def fold(self, number: int) -> float:
        """Returns how far a fold, counted from 0, lies from the centre front on the flat cloth."""
        return self.first + number * self.cloth

    def inner(self, number: int) -> float:
        """Returns where a pleat turns back under its fold."""
        return self.fold(number) + self.depth

    def cover(self, number: int) -> float:
        """Returns which place on the flat cloth lies under a fold, below the stitching."""
        return self.fold(number) + 2 * self.depth

    @property
    def width(self) -> float:
        """Of the half's flat cloth: at the centre back the last pleat meets its other half behind both folds."""
        return self.cover(self.folds - 1)


def plan_pleats(repeat: float, half_hip: float, half_waist: float) -> Pleats:
    """Returns the pleats of half a skirt for a cloth whose bars across the width repeat at `repeat`.

    Of all numbers of repeats to a pleat, the one whose full pleat shows nearest to 40 mm; what the hip then has over
    whole pleats goes to the middle panel, between one and two pleats wide on the half. Raises Refusal where the repeat
    is too large for a pleat or the waist too small for this hip.
    """
    usual = 40.0
    counts = [n for n in range(1, MOST_REPEATS + 1) if SEEN[0] <= n * repeat / FULL <= SEEN[1]]
    if not counts:
        counts = [n for n in range(1, MOST_REPEATS + 1) if SEEN[0] <= n * repeat / 2 <= SEEN[1] + 20]
    if not counts:
        raise Refusal([
            Finding(Weight.REFUSED, "design.pleat_repeat",
                    f"no pleat can be laid on bars that repeat at {repeat:.0f} mm.",
                    "Pleats ask for a repeat of 15 to 150 mm across the cloth; or choose a flared skirt."),
        ])  # fmt: skip
    repeats = min(counts, key=lambda n: (round(abs(n * repeat / FULL - usual), 6), n))
    seen = min(repeats * repeat / FULL, SEEN[1])
    if repeats * repeat / FULL < SEEN[0]:
        seen = SEEN[0]
    folds = math.floor((half_hip - seen) / seen + 1e-9) + 1
    first = half_hip - (folds - 1) * seen
    taken = (half_hip - half_waist) / (folds - 1)
    if taken > 0.6 * seen:
        raise Refusal([
            Finding(Weight.REFUSED, "measurements.waist_girth",
                    f"each pleat of {seen:.0f} mm would take {taken:.0f} mm at the waist.",
                    "Measure waist and hip again, or choose a skirt with darts."),
        ])  # fmt: skip
    return Pleats(repeats, repeat, first, seen, folds, taken)
