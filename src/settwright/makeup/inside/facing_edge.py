"""The line at which lining meets facing: the facing's own inner edge, laid on the pieces that it lies under.

Front facing and back neck facing are drawn in their garment's frame, mirrored: they are seen from their right side.
Turned over they lie on front and back as they will be sewn.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from settwright.geometry import Path, Point, Transform
from settwright.makeup.inside.shaping import fitted, laid_open, opening_of
from settwright.pattern.piece import Draft, Piece

LEAST_PANEL = 30.0  # between the facing's edge and a princess seam
_TOP = 0.15  # of the way from the top: there the shoulder sets the width
_MIRROR = Transform.mirror_x()
_SHOULDER_DARTS = ("gorge-dart", "shoulder-dart")


@dataclass(frozen=True)
class FacingEdge:
    """A facing's inner edge on a shell piece, where a dart is drawn open."""

    path: Path
    parts: tuple[tuple[str, float, float], ...]  # facing pieces whose edges it is, each from where to where, unopened
    edge: str  # their name for it
    mouth: tuple[float, float] | None = None  # where on the path it jumps over a dart's mouth
    forward: float = 0.0  # by which it lies before the facing's edge, to leave the lining a panel

    @property
    def length(self) -> float:
        """Length of the facing's edge itself, without what the mouth adds."""
        return self.path.length - (self.mouth[1] - self.mouth[0] if self.mouth else 0.0)

    def unopened(self, at: float) -> float:
        """Returns a place on the path as arc length on the facing's own edge."""
        if self.mouth is None or at <= self.mouth[0]:
            return at
        return max(self.mouth[0], at - (self.mouth[1] - self.mouth[0]))

    def on_facing(self, at: float) -> tuple[str, float]:
        """Returns the facing piece at a place of the facing's edge, and the place on that piece's edge."""
        for name, start, end in self.parts:
            if at <= end or name == self.parts[-1][0]:
                return name, at - start
        raise AssertionError("a facing has parts")


def front_edge(draft: Draft) -> FacingEdge | None:
    """Returns the front facing's inner edge on the front, from the hem to the shoulder; None without a facing."""
    pieces = {piece.name: piece for piece in draft.pieces}
    names = ("front-facing-lowest", "front-facing-lower", "front-facing")
    parts = [pieces[name] for name in names if name in pieces]
    if "front-facing" not in pieces or "front" not in pieces:
        return None
    path, spans = None, list[tuple[str, float, float]]()
    for piece in parts:
        inner = piece.edge("inner").path.moved(_MIRROR)
        start = path.length if path else 0.0
        path = path.then(inner) if path else inner
        spans.append((piece.name, start, start + inner.length))
    assert path is not None
    forward = _forward(path, [pieces[name] for name in ("front", "front-lower") if name in pieces])
    leaning = fitted(path, path.start + Point(forward, 0.0), path.end)
    return replace(_opened(leaning, tuple(spans), "inner", pieces["front"]), forward=forward)


def _forward(path: Path, fronts: list[Piece]) -> float:
    """Returns by how much the edge's foot must lie farther forward, its top staying, to be clear of a princess seam."""
    wanted = 0.0
    chord = path.end - path.start
    for piece in fronts:
        seam = next((edge.path for edge in piece.edges if edge.name == "princess-front"), None)
        if seam is None:
            continue
        for at in path.stations(15.0):
            point = path.at(at)
            share = 1.0 - (point - path.start).dot(chord) / chord.dot(chord)
            for there in seam.where_y(point.y)[:1] if share > _TOP else ():
                wanted = max(wanted, (LEAST_PANEL * min(1.0, 2 * share) - (point.x - seam.at(there).x)) / share)
    return round(wanted, 3)


def neck_edge(draft: Draft) -> FacingEdge | None:
    """Returns the back neck facing's lower edge on the back, from the shoulder to the centre; None without one."""
    pieces = {piece.name: piece for piece in draft.pieces}
    if "back-neck-facing" not in pieces or "back" not in pieces:
        return None
    outer = pieces["back-neck-facing"].edge("outer").path.moved(_MIRROR)
    reach = outer.length
    # from the centre outwards the dart is met as on a front: the part at the centre stays, the outer one is turned
    laid = _opened(outer.reversed(), (("back-neck-facing", 0.0, reach),), "outer", pieces["back"])
    mouth = None if laid.mouth is None else (laid.path.length - laid.mouth[1], laid.path.length - laid.mouth[0])
    return FacingEdge(laid.path.reversed(), laid.parts, laid.edge, mouth)


def _opened(path: Path, parts: tuple[tuple[str, float, float], ...], edge: str, piece: Piece) -> FacingEdge:
    for name in _SHOULDER_DARTS:
        opening = opening_of(piece, name, stayed="a")
        if opening is not None:
            laid, mouth = laid_open(path, opening)
            return FacingEdge(laid, parts, edge, mouth)
    return FacingEdge(path, parts, edge)


def on_sleeve(edge: FacingEdge, body: Piece, sleeve: Piece) -> Path:
    """Returns a facing's edge laid on a raglan sleeve, which was parted from the body along its raglan seam."""
    on_body, on_sleeve = body.edge("raglan"), sleeve.edge("raglan")
    a = (on_body.path.start, on_body.path.start_tangent) if on_body.start == "neck" else (
        on_body.path.end, -on_body.path.end_tangent)  # fmt: skip
    b = (on_sleeve.path.start, on_sleeve.path.start_tangent) if on_sleeve.start == "neck" else (
        on_sleeve.path.end, -on_sleeve.path.end_tangent)  # fmt: skip
    turn = math.atan2(a[1].cross(b[1]), a[1].dot(b[1]))
    shift = b[0] - a[0]
    return edge.path.moved(Transform.turn(turn, a[0]).then(Transform.shift(shift.x, shift.y)))
