"""The covers of covered buttons: rounds of the cloth, all on the same place of the sett.

Cut twice as wide as the button (a maker's pattern for hand covering cuts 1 3/4 in for a button of 7/8 in; an
upholsterer's guide says 2 to 2.5 times).
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from settwright.geometry import Path, Point, hook_curve
from settwright.makeup.model import Closure, ClosureKind, CutPiece, SewnPair
from settwright.makeup.walking import walked
from settwright.pattern import Cut, Edge, Line, LineKind, Piece

AS_WIDE = 2.0
_RIMS = ("lower-rim", "upper-rim")
_SEEN = "button"  # the line round what is seen of the cover
_LEVEL = "level"  # through its middle


def button_covers(pieces: Sequence[CutPiece], closures: Sequence[Closure]) -> tuple[CutPiece, ...]:
    """Returns a round for each covered button, from the cloth of the piece on which it is sewn."""
    by_name = {piece.name: piece for piece in pieces}
    covered = [closure for closure in closures if closure.kind is ClosureKind.COVERED_BUTTON]
    return tuple(_cover(number, closure, by_name[closure.piece]) for number, closure in enumerate(covered, 1))


def cover_joins(pieces: Sequence[CutPiece]) -> tuple[SewnPair, ...]:
    """Returns what makes all covers alike: each as if it lay on the first one."""
    covers = [piece for piece in pieces if piece.name.startswith("button-cover-")]
    return tuple(
        walked(
            f"covered-button-{cover.name.removeprefix('button-cover-')}",
            "overlay",
            (covers[0], _LEVEL),
            (cover, _LEVEL),
            ("left", "right"),
        )
        for cover in covers[1:]
        if cover.cloth == covers[0].cloth
    )


def _cover(number: int, button: Closure, on: CutPiece) -> CutPiece:
    name, half = f"button-cover-{number}", button.length * AS_WIDE / 2
    ends, seen = ("left", "right", "left"), button.length / 2
    piece = Piece(
        name=name,
        title=f"Cover {number}",
        cut=Cut.WHOLE,
        edges=tuple(
            Edge(rim, _half_circle(half, upper=rim == "upper-rim"), ends[i], ends[i + 1]) for i, rim in enumerate(_RIMS)
        ),
        lines=(
            Line(_SEEN, LineKind.PLACE, _half_circle(seen, upper=False).then(_half_circle(seen, upper=True))),
            Line(_LEVEL, LineKind.PLACE, Path.line(Point(-seen, 0.0), Point(seen, 0.0)), "left", "right"),
        ),
    )
    return CutPiece.as_drawn(piece, on.garment, on.cloth, tuple(piece.outline.points()[:-1]), is_matched=True)


def _half_circle(radius: float, *, upper: bool) -> Path:
    """Returns half a circle round the middle, counter-clockwise: the lower half from the left to the right."""
    pull = 4 / 3 * math.tan(math.pi / 8) / math.sqrt(2)  # of the chord: a quarter of a circle to 0.03 %
    side = 1.0 if upper else -1.0
    start, middle, end = Point(side * radius, 0.0), Point(0.0, side * radius), Point(-side * radius, 0.0)
    up = Point(0.0, side)
    across = Point(-side, 0.0)
    return hook_curve(start, up, middle, across, (pull, pull)).then(hook_curve(middle, across, end, -up, (pull, pull)))
