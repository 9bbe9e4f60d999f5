"""What every exchange file says of a cut piece: its title, its grain, its notches, its place beside the others."""

from __future__ import annotations

from collections.abc import Sequence

from settwright.geometry import Path, Point
from settwright.geometry.shelves import lay_on_strip
from settwright.makeup.model import CutPiece, Hand
from settwright.pattern import Notch

GAP = 20.0
STRIP = 2500.0  # width of the strip that the pieces are laid on, unless one is wider
NOTCH = 5.0  # how far a notch's line goes into the allowance


def title_of(piece: CutPiece) -> str:
    """Returns the piece in words: "front, right; cut one; shell"."""
    title = piece.piece.title if piece.hand is Hand.WHOLE else f"{piece.piece.title}, {piece.hand}"
    return f"{title}; cut one; {piece.cloth}"


def grain_line(piece: CutPiece) -> Path:
    """Returns a line along the warp through the grain mark, half as long as the piece, towards the garment's top."""
    along = Point(0.0, 1.0).rotated(-piece.grain_turn)
    reach = [along.dot(p) for p in piece.seam_line]
    return Path.line(along * (min(reach) / 2), along * (max(reach) / 2))


def notch_line(piece: CutPiece, notch: Notch) -> Path:
    """Returns the line of a notch: from the seam line square into the allowance."""
    path = piece.piece.edge(notch.edge).path
    at, tangent = path.at(notch.at), path.tangent(notch.at)
    return Path.line(at, at + (tangent.right if piece.piece.area > 0 else tangent.left) * NOTCH)


def side_by_side(pieces: Sequence[CutPiece]) -> tuple[Point, ...]:
    """Returns where each piece's grain mark goes so that all lie beside one another, below and right of the origin."""
    boxes = [_box(piece.cutting_line) for piece in pieces]
    sizes = [(high.x - low.x, high.y - low.y) for low, high in boxes]
    corners = lay_on_strip(sizes, max(STRIP, *(wide for wide, _ in sizes)), GAP)
    return tuple(corner - Point(low.x, high.y) for corner, (low, high) in zip(corners, boxes, strict=True))


def _box(points: Sequence[Point]) -> tuple[Point, Point]:
    xs, ys = [p.x for p in points], [p.y for p in points]
    return Point(min(xs), min(ys)), Point(max(xs), max(ys))
