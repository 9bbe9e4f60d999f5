"""The stitches: what each is called in the trade, its class by ISO 4915, and how much thread it takes.

Thread by the length of seam. For the lockstitch the published geometry is 2 + 2TS (T: thickness of what is sewn
through, S: stitches to the length), and the published trade ratio 2.5 (at 7 stitches to the centimetre); the larger
of the two counts. No consumption of hand stitches was found published; theirs is worked out here in the same way,
from what the thread does in one stitch, and said to be an estimate. Classes of ISO 4915:1991: 200 are hand stitches,
209 the running stitch, 301 the lockstitch; where no number within the class was seen, none is given.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from enum import StrEnum

LOCKSTITCH_RATIO = 2.5  # thread makers' tables (Coats; textilecalculator.com), needle and bobbin together
WASTE = 0.15  # of the thread; published 10 to 15 % (apparelscience.com)


class Thread(StrEnum):
    """What is sewn with."""

    BASTING = "basting cotton"
    MACHINE = "machine thread"
    SILK = "hand-sewing silk"
    TWIST = "buttonhole twist"


@dataclass(frozen=True)
class Stitch:
    """A stitch; `pitch` is the way from one to the next, millimetres."""

    name: str
    iso: str  # by ISO 4915: "301", or "200" where only the class is known
    thread: Thread
    pitch: float
    does: str
    ratio: Callable[[float, float], float]  # thread to length, by the thickness sewn through and the pitch

    def thread_for(self, length: float, thickness: float) -> float:
        """Returns the thread for a length of it, waste included; all in one unit."""
        return length * self.ratio(thickness, self.pitch) * (1.0 + WASTE)


def lockstitch_ratio(thickness: float, pitch: float) -> float:
    """Returns the thread of a lockstitch to its length, both threads: 2 + 2TS, or the trade's 2.5 if that is more.

    `thickness` of all that is sewn through and `pitch` in one unit.
    """
    return max(LOCKSTITCH_RATIO, 2.0 + 2.0 * thickness / pitch)


def running_ratio(thickness: float, pitch: float) -> float:
    """Returns the thread of a running stitch: along the seam once, and through it twice in every pitch."""
    return 1.0 + 2.0 * thickness / pitch


def back_ratio(thickness: float, pitch: float) -> float:
    """Returns the thread of a back stitch: one pitch above and two below, the published geometry of class 101."""
    return 3.0 + 2.0 * thickness / pitch


def prick_ratio(thickness: float, pitch: float, prick: float = 1.0) -> float:
    """Returns the thread of a prick stitch: a back stitch of which only `prick` shows."""
    return 1.0 + 2.0 * prick / pitch + 2.0 * thickness / pitch


def fell_ratio(thickness: float, pitch: float, depth: float = 2.0) -> float:
    """Returns the thread of felling or slip stitching: along, and to and fro into the edge."""
    return 1.0 + 2.0 * (depth + thickness / 2) / pitch


def catch_ratio(thickness: float, pitch: float, width: float = 6.0) -> float:
    """Returns the thread of a catch stitch: slanting legs across its width, each set back by half a pitch."""
    return (math.hypot(width, pitch) + pitch / 2) / (pitch / 2)


def overcast_ratio(thickness: float, pitch: float, depth: float = 4.0) -> float:
    """Returns the thread of overcasting: round the edge, slanting on both faces."""
    return (2.0 * math.hypot(depth, pitch / 2) + thickness) / pitch


def pad_ratio(thickness: float, pitch: float, gap: float = 6.0) -> float:
    """Returns the thread of a row of pad stitches: slanting to the next row, a bite of 2 mm through."""
    return math.hypot(1.0, gap / pitch) + (2.0 + thickness) / pitch


_ALL = (
    Stitch("thread trace", "209", Thread.BASTING, 25.0, "marks seam lines through to the right side", running_ratio),
    Stitch("baste", "209", Thread.BASTING, 12.0, "holds until the seam is sewn", running_ratio),
    Stitch("slip baste", "200", Thread.BASTING, 8.0, "holds two folds bar on bar, from the right side", fell_ratio),
    Stitch("ease thread", "209", Thread.BASTING, 4.0, "draws the ease in", running_ratio),
    Stitch("lockstitch", "301", Thread.MACHINE, 2.5, "sews the seam", lockstitch_ratio),
    Stitch("back stitch", "200", Thread.SILK, 3.0, "sews by hand what must give", back_ratio),
    Stitch("prick stitch", "200", Thread.SILK, 6.0, "holds an edge or a zip, hardly seen", prick_ratio),
    Stitch("fell", "200", Thread.SILK, 4.0, "holds a folded edge flat on another layer", fell_ratio),
    Stitch("slip stitch", "200", Thread.SILK, 6.0, "joins two folds unseen", fell_ratio),
    Stitch("catch stitch", "200", Thread.SILK, 8.0, "holds a raw edge flat, and gives", catch_ratio),
    Stitch("overcast", "200", Thread.SILK, 5.0, "keeps a raw edge from fraying", overcast_ratio),
    Stitch("pad stitch", "200", Thread.SILK, 10.0, "shapes cloth and interlining as one, in rows", pad_ratio),
)
STITCHES: dict[str, Stitch] = {stitch.name: stitch for stitch in _ALL}

SEAM_CLASSES = {  # ISO 4916:1991
    "1": "superimposed",
    "2": "lapped",
    "3": "bound",
    "4": "flat",
    "5": "decorative",
    "6": "edge finished",
    "7": "with a separate item attached",
    "8": "one ply made up",
}
