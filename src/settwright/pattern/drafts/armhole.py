"""The armhole as one line, which body and sleeve agree on.

The body draft assembles it from front, side and back; the sleeve is drafted from it and from nothing else of the body.
"""

from __future__ import annotations

from dataclasses import dataclass

from settwright.geometry import Path


@dataclass(frozen=True)
class ArmholePart:
    """The stretch of the armhole that one piece holds as its edge "armhole", between two stops of the whole."""

    piece: str
    first: str  # nearer the front's shoulder point
    last: str


@dataclass(frozen=True)
class Armhole:
    """The seam line of the armhole, pieces joined at their seams, front to the right, y upwards.

    `path` runs from the front's shoulder point down the front, along the underarm and up the back to the back's
    shoulder point. `stops` are arc lengths in this order: shoulder-point (0), front-pitch, forearm-top,
    underarm-front, underarm, underarm-back, hindarm-top, back-pitch, shoulder-point (the whole length, under the
    name "shoulder-point-back"). Where the body isn't cut with a side panel, underarm-front and underarm-back are
    missing; princess seams that end in the armhole add princess-front and princess-back, wherever they fall.
    `parts` lists the pieces along it, front first; they name their stops alike, but for the last shoulder-point.
    """

    path: Path
    stops: tuple[tuple[str, float], ...]
    parts: tuple[ArmholePart, ...] = (
        ArmholePart("front", "shoulder-point", "underarm-front"),
        ArmholePart("side", "underarm-front", "underarm-back"),
        ArmholePart("back", "underarm-back", "shoulder-point-back"),
    )

    def stop(self, name: str) -> float:
        """Returns a stop's arc length; raises KeyError."""
        return dict(self.stops)[name]

    def between(self, first: str, last: str) -> float:
        """Returns the length of armhole between two stops."""
        return self.stop(last) - self.stop(first)

    @property
    def girth(self) -> float:
        """Length of the whole armhole."""
        return self.path.length

    @property
    def depth(self) -> float:
        """Mean scye depth: from the middle of the two shoulder points down to the underarm."""
        return (self.path.start.y + self.path.end.y) / 2 - self.path.at(self.stop("underarm")).y
