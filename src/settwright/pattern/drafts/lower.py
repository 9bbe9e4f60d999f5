"""The waist seam: the body's pieces cut at the waist, and the section sewn on below.

A straight section is the body's own lower half. A flared one is cut as sectors of rings, so that its width opens
evenly along a curved waist while centre front and centre back stay on the grain; one for padded hips leaves the waist
at an angle, rounds out over the pads and hangs plumb from the hip on. Every seam below the waist is a mirror.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from settwright.commission.design import CentreBack, JacketDesign, LowerSection
from settwright.findings import refuse
from settwright.geometry import Path, Point, Transform, crossing, direction, hook_curve
from settwright.pattern.drafts.bodice import WHOLE_HIP
from settwright.pattern.drafts.bodies import PIECES
from settwright.pattern.drafts.frame import HIP_SHARES, SEAMS, Frame
from settwright.pattern.drafts.parts import Joining, Parts, joining
from settwright.pattern.drafts.pocket import PLACES
from settwright.pattern.drafts.record import Recorder
from settwright.pattern.piece import Edge, Line, LineKind, Notch, Piece, Side, Touch

LOWER = "-lower"

_STEEPEST = 0.45  # of an edge of a padded section where it leaves the waist, from plumb
_GRAIN_UP = 80.0  # of the grain mark above the waist seam
_FLAT = 1e-9
DOWN = Point(0.0, -1.0)


def with_waist_seam(r: Recorder, frame: Frame, design: JacketDesign, jacket: Parts) -> Parts:
    """Returns the jacket with a waist seam. Raises Refusal where the front's line begins below it."""
    names = PIECES[design.body_cut]
    jacket = replace(jacket, pieces=jacket.drawn(), lines=(), notches=())
    front = jacket.piece("front").edge("front-edge").path
    if front.end.y <= WHOLE_HIP:
        raise refuse(
            "design.buttons",
            "the lapel or neckline would begin below the waist seam.",
            "Choose more buttons, or a body without a waist seam.",
        )
    halves = [_parted(jacket.piece(name)) for name in names]
    lowers = [half.lower for half in halves]
    if design.lower_section is not LowerSection.STRAIGHT:
        lowers = _Curved(r, frame, design, halves).pieces()
    cut = dict(zip(names, halves, strict=True))
    pieces: list[Piece] = []
    for piece in jacket.pieces:
        pieces.append(cut[piece.name].upper if piece.name in cut else piece)
    pieces[len(names) : len(names)] = lowers
    at, edge = front.where_y(0.0)[0], Side("front", "front-edge")
    crossed = [j for j in jacket.joinings if j.a == edge and _crosses_at(jacket.piece("front"), j, at)]
    for each in crossed:
        pieces = [_with_waist(piece, jacket.piece("front"), each, at) for piece in pieces]
    seams = ("centre-back", *SEAMS[design.body_cut])
    joinings: list[Joining] = []
    for each in jacket.joinings:
        if each.name in seams:
            joinings += _split(each, LOWER)
        elif each in crossed:
            joinings += _split(each, "-below")
        elif each.a == edge and jacket.piece("front").stop("front-edge", each.stops[0]) < at:
            joinings.append(replace(each, a=Side("front" + LOWER, "front-edge")))
        else:
            joinings.append(each)
    for half in halves:
        joinings += _waist(half.upper)
    return replace(
        jacket,
        pieces=tuple(pieces),
        joinings=tuple(joinings),
        touches=tuple(t for touch in jacket.touches for t in _touched(touch)),
    )


@dataclass(frozen=True)
class _Halves:
    upper: Piece
    lower: Piece
    width: float  # along the waist, its dart closed; of a front up to the centre

    @property
    def left(self) -> Edge:
        """The lower half's edge towards the back."""
        return self.lower.edges[0]

    @property
    def right(self) -> Edge:
        """The lower half's edge towards the front."""
        return self.lower.edges[2]


def _parted(piece: Piece) -> _Halves:
    """Returns a piece of the body cut at the waist."""
    names = [edge.name for edge in piece.edges]
    at = names.index("hem")
    left, hem, right = piece.edges[at - 1], piece.edges[at], piece.edges[at + 1]
    others = (*piece.edges[at + 2 :], *piece.edges[: at - 1])
    on_left, on_right = left.path.where_y(0.0)[-1], right.path.where_y(0.0)[0]
    a, b = left.path.at(on_left), right.path.at(on_right)
    legs = [line for line in piece.lines if line.name in ("dart-back-leg", "dart-front-leg")]
    mouth = [leg.path.at(leg.path.where_y(0.0)[0]) for leg in legs]
    dart = [(f"dart-{name}", point.x - a.x) for name, point in zip("ab", mouth, strict=False)]
    waist = Path.line(a, *mouth, b)
    centre = [(line.name, line.path.start.x - a.x) for line in piece.lines if line.name == "centre-front"]
    stops = [*dart, *centre]

    split: dict[str, float] = {left.name: on_left, right.name: on_right}
    upper = replace(
        piece,
        edges=(
            Edge(left.name, left.path.part(0.0, on_left), left.start, "waist"),
            Edge("waist", waist, left.name, right.name),
            Edge(right.name, right.path.part(on_right, right.path.length), "waist", right.end),
            *others,
        ),
        notches=(
            *(n for n in piece.notches if n.edge == left.name and n.at < on_left - WHOLE_HIP),
            *(Notch(name, "waist", x) for name, x in stops),
            *(
                replace(n, at=n.at - on_right)
                for n in piece.notches
                if n.edge == right.name and n.at > on_right + WHOLE_HIP
            ),
            *(n for n in piece.notches if n.edge not in (*split, "hem", "centre-front")),
            *_on_centre(piece, upper=True),
        ),
        lines=tuple(_cut_line(line, upper=True) for line in piece.lines if _stays(line, upper=True)),
        marks=tuple(mark for mark in piece.marks if mark.at.y >= 0 and mark.name != "dart-end"),
        grain_mark=piece.grain_mark + Point(0.0, _GRAIN_UP),
    )
    lower = replace(
        piece,
        name=piece.name + LOWER,
        title=f"{piece.title}, below the waist",
        edges=(
            Edge(left.name, left.path.part(on_left, left.path.length), "waist", left.end),
            hem,
            Edge(right.name, right.path.part(0.0, on_right), right.start, "waist"),
            Edge("waist", waist.reversed(), right.name, left.name),
        ),
        notches=(
            *(
                replace(n, at=n.at - on_left)
                for n in piece.notches
                if n.edge == left.name and n.at > on_left + WHOLE_HIP
            ),
            *(n for n in piece.notches if n.edge == "hem"),
            *(n for n in piece.notches if n.edge == right.name and n.at < on_right - WHOLE_HIP),
            *(Notch(name, "waist", b.x - a.x - x) for name, x in stops),
        ),
        lines=tuple(_cut_line(line, upper=False) for line in piece.lines if _stays(line, upper=False)),
        marks=tuple(mark for mark in piece.marks if mark.at.y < 0 and mark.name != "dart-top"),
        grain_mark=piece.grain_mark + Point(0.0, left.path.end.y / 2),
    )
    closed = (centre[0][1] if centre else b.x - a.x) - (mouth[1].x - mouth[0].x if mouth else 0.0)
    return _Halves(upper, lower, closed)


def _crosses(line: Line) -> bool:
    """Whether a line runs through the waist: the centre front, and the legs of a dart."""
    return line.name in ("centre-front", "dart-back-leg", "dart-front-leg")


def _stays(line: Line, *, upper: bool) -> bool:
    if line.name == "waist":
        return False
    return _crosses(line) or ((line.path.start.y + line.path.end.y > 0) is upper)


def _cut_line(line: Line, *, upper: bool) -> Line:
    if not _crosses(line):
        return line
    at = line.path.where_y(0.0)[0]
    ends_up = line.path.end.y > line.path.start.y
    if ends_up is upper:
        return replace(line, path=line.path.part(at, line.path.length), start="waist")
    return replace(line, path=line.path.part(0.0, at), end="waist")


def _on_centre(piece: Piece, *, upper: bool) -> list[Notch]:
    """Returns the stops of the centre front's line that lie above the waist, told from the waist."""
    waist = next((n.at for n in piece.notches if n.edge == "centre-front" and n.name == "waist"), None)
    if waist is None or not upper:
        return []
    return [replace(n, at=n.at - waist) for n in piece.notches if n.edge == "centre-front" and n.at > waist + WHOLE_HIP]


def _with_waist(piece: Piece, front: Piece, along: Joining, at: float) -> Piece:
    """Returns a facing with a stop on its front edge where the waist seam meets it, if `along` joins it."""
    if along.b.piece != piece.name:
        return piece
    first, last = along.stops[0], along.stops[-1]
    start, end = piece.stop(along.b.edge, first), piece.stop(along.b.edge, last)
    way = at - front.stop("front-edge", first)
    place = start + (way if end > start else -way)
    return replace(piece, notches=(*piece.notches, Notch("waist", along.b.edge, place)))


def _crosses_at(piece: Piece, each: Joining, at: float) -> bool:
    """Whether a joining of the piece's front edge runs through a place on it."""
    first, last = (piece.stop("front-edge", stop) for stop in (each.stops[0], each.stops[-1]))
    return min(first, last) < at < max(first, last)


def _split(each: Joining, suffix: str) -> list[Joining]:
    """Returns a seam that runs down the body in two: above the waist, and below it."""
    down = each.stops if each.stops[0] in ("hem", "vent-top", "split") else tuple(reversed(each.stops))
    if "waist" not in down:
        down = (down[0], "waist", *down[1:])
    at = down.index("waist")

    def lowered(side: Side) -> Side:
        return side if "facing" in side.piece else Side(side.piece + LOWER, side.edge)

    return [
        replace(each, stops=down[at:]),
        Joining(each.name + suffix, lowered(each.a), lowered(each.b), down[: at + 1], each.across),
    ]


def _waist(upper: Piece) -> list[Joining]:
    """Returns the waist seam of a piece, in two stretches where a dart parts it."""
    name, edge = f"waist-{upper.name}", upper.edge("waist")
    a, b = (upper.name, "waist"), (upper.name + LOWER, "waist")
    if any(n.name == "dart-a" and n.edge == "waist" for n in upper.notches):
        return [joining(name, a, b, edge.start, "dart-a"), joining(f"{name}-2", a, b, "dart-b", edge.end)]
    return [joining(name, a, b, edge.start, edge.end)]


def _touched(touch: Touch) -> list[Touch]:
    """Returns a touch on the half of its piece where it lies now; a lap down the centre front in two."""
    if touch.name == "closing":
        below = Side("front" + LOWER, touch.a.edge)
        return [
            replace(touch, stops=touch.stops[1:]),
            Touch(touch.name + LOWER, touch.kind, below, below, touch.stops[:2], touch.across),
        ]
    if touch.b.edge in PLACES.values():
        return [replace(touch, b=Side("front" + LOWER, touch.b.edge))]
    return [touch]


@dataclass(frozen=True)
class _Curved:
    """Flared and padded sections: drawn anew below the closed waist."""

    r: Recorder
    frame: Frame
    design: JacketDesign
    halves: Sequence[_Halves]

    def pieces(self) -> list[Piece]:
        """Returns a lower section for each piece above."""
        r, frame = self.r, self.frame
        if self.design.front_hem_radius > r["wrap"] + _FLAT:
            raise refuse(
                "design.front_hem_radius",
                "a section that curves at the hem takes no such round at its front corner.",
                "Choose a round no larger than the wrap, or a straight section.",
            )
        flared = self.design.lower_section is LowerSection.FLARED
        half_waist = sum(half.width for half in self.halves)
        r.found("half waist at the waist seam", "lower section", "walked, darts closed", half_waist)
        shares = HIP_SHARES[self.design.body_cut]
        if flared:
            r.number(
                "half hip of the section",
                "lower section",
                f"half hip + {self.design.flare:g} mm / 2 × waist to hip / length below the waist",
            )
            turn = max(0.0, (r["half hip of the section"] - half_waist) / -frame.hip)
            r.found(
                "opening angle of the section",
                "lower section",
                "what its width grows by from waist to hip, over that length",
                turn,
                source="geometry of a ring",
            )
            leans = [turn / 2 * share for share in shares]
            outs = [0.0] * len(shares)
        else:
            r.number(
                "half hip of the section",
                "lower section",
                f"half hip + 2 × {self.design.hip_pad:g} mm",
                "common practice, no source: a pad on each hip takes twice its thickness of cloth",
            )
            leans, outs = self._padded(r["half hip of the section"], shares)
        bounds = [(0.0, 0.0), *zip(leans, outs, strict=True), (0.0, 0.0)]
        return [
            self._piece(half, bounds[index], bounds[index + 1], flared=flared) for index, half in enumerate(self.halves)
        ]

    def _padded(self, half_hip: float, shares: Sequence[float]) -> tuple[list[float], list[float]]:
        """Returns how steeply each seam leaves the waist, and how far out it lies at the hip."""
        outs = [0.0] * len(shares)
        leans = [0.0] * len(shares)
        for _ in range(12):
            around = [0.0, *leans, 0.0]
            chords = sum(
                _chord(half.width, left, right)
                for half, left, right in zip(self.halves, around, around[1:], strict=False)
            )
            outs = [max(0.0, half_hip - chords) / 2 * share for share in shares]
            leans = [min(_STEEPEST, 1.6 * out / -self.frame.hip) for out in outs]
        return leans, outs

    def _piece(self, half: _Halves, left: tuple[float, float], right: tuple[float, float], *, flared: bool) -> Piece:
        frame, lower = self.frame, half.lower
        length, hip = -frame.hem, -frame.hip
        (lean_left, out_left), (lean_right, out_right) = left, right
        waist = _ring(half.width, lean_left, lean_right)
        place = self._place(half, waist)
        waist = waist.moved(place)
        outward_left = DOWN.rotated(-lean_left)
        outward_right = DOWN.rotated(lean_right)
        left_edge = _edge(waist.start, outward_left, -out_left, hip, length, flared=flared)
        right_edge = _edge(waist.end, outward_right, out_right, hip, length, flared=flared)
        hem = self._hem(half, left_edge, right_edge, flared=flared)
        if half.right.name == "front-edge":
            right_edge = half.right.path.reversed()
            if right_edge.start.x < waist.end.x - _FLAT:
                raise refuse(
                    "design.buttons",
                    "the neckline would begin at the waist seam, where a curved section needs an upright edge.",
                    'Choose more buttons, or lower_section = "straight".',
                )
            if right_edge.start.x > waist.end.x + _FLAT:
                waist = waist.then(Path.line(waist.end, right_edge.start))
        closed = waist.length
        mouth = [n for n in half.upper.notches if n.edge == "waist" and n.name in ("dart-a", "dart-b")]
        darts = [Notch(n.name, "waist", closed - mouth[0].at) for n in mouth]
        centre = [n for n in lower.notches if n.edge == "waist" and n.name == "centre-front"]
        stops = [("hip", hip), ("vent-top", length - self.design.vent_length)]
        named = {(n.edge, n.name) for n in lower.notches}

        def downward(edge: Edge, path: Path, *, from_hem: bool) -> list[Notch]:
            at = [(name, y) for name, y in stops if (edge.name, name) in named]
            places = [(name, _down(path, y, flared=flared)) for name, y in at]
            return [Notch(name, edge.name, path.length - s if from_hem else s) for name, s in places]

        hang = [n for n in lower.notches if n.edge == "hem"]
        shift = hem.length - lower.edge("hem").path.length if half.right.name == "front-edge" else 0.0
        return replace(
            lower,
            edges=(
                Edge(half.left.name, left_edge, "waist", "hem"),
                Edge("hem", hem, lower.edges[1].start, lower.edges[1].end),
                Edge(half.right.name, right_edge.reversed(), "hem", "waist"),
                Edge("waist", waist.reversed(), half.right.name, half.left.name),
            ),
            notches=(
                *downward(half.left, left_edge, from_hem=False),
                *(replace(n, at=n.at + shift) for n in hang),
                *(
                    [n for n in lower.notches if n.edge == "front-edge"]
                    if half.right.name == "front-edge"
                    else downward(half.right, right_edge, from_hem=True)
                ),
                *darts,
                *centre,
            ),
            lines=tuple(line for line in lower.lines if line.kind is LineKind.CENTRE),
            marks=tuple(mark for mark in lower.marks if mark.name.startswith(("button", "hook", "twin-button"))),
            grain_mark=self._grain(half, waist),
        )

    def _place(self, half: _Halves, waist: Path) -> Transform:
        """Returns where the section lies under its piece: on the centre back, on the centre front, or between."""
        if half.left.name == "centre-back":
            return Transform.shift(half.left.path.start.x - waist.start.x, -waist.start.y)
        if half.right.name == "front-edge":
            return Transform.shift(self.frame.centre_front - waist.end.x, -waist.end.y)
        middle = half.left.path.start.between(half.right.path.end).x
        return Transform.shift(middle - (waist.start.x + waist.end.x) / 2, 0.0)

    def _grain(self, half: _Halves, waist: Path) -> Point:
        level = self.frame.hem / 2
        if half.left.name == "centre-back" and self.design.centre_back is CentreBack.FOLD:
            return Point(half.left.path.start.x, level)
        if half.right.name == "front-edge":
            return Point(self.frame.centre_front, level)
        return Point((waist.start.x + waist.end.x) / 2, level)

    def _hem(self, half: _Halves, left: Path, right: Path, *, flared: bool) -> Path:
        square_left, square_right = left.end_tangent.left, right.end_tangent.left
        if flared and square_left.cross(square_right) > _FLAT:
            centre = crossing(left.end, left.end_tangent, right.end, right.end_tangent)
            hem = _arc(centre, (left.end - centre).length, left.end_tangent.angle, right.end_tangent.angle)
        else:
            hem = hook_curve(left.end, square_left, right.end, square_right)
        if half.right.name != "front-edge":
            return hem
        corner = half.lower.edge("hem").path.end
        return hem.then(Path.line(hem.end, corner)) if corner.x > hem.end.x + _FLAT else hem


def _edge(top: Point, outward: Point, out: float, hip: float, length: float, *, flared: bool) -> Path:
    """Returns an edge from the waist down: straight on a flared section, rounded over the pad on a padded one."""
    if flared or abs(out) < _FLAT:
        return Path.line(top, top + outward * length)
    over = hook_curve(top, outward, top + Point(out, -hip), DOWN, (0.42, 0.42))
    if length <= hip + WHOLE_HIP:
        return over.part(0.0, over.where_y(top.y - min(length, hip))[0])
    return over.then(Path.line(over.end, Point(over.end.x, top.y - length)))


def _down(path: Path, depth: float, *, flared: bool) -> float:
    """Returns the place of a depth below the waist on an edge of the section."""
    return depth if flared else path.where_y(path.start.y - depth)[0]


def _chord(width: float, left: float, right: float) -> float:
    """Returns how far apart the ends of a waist lie that bends by the two leans over its width."""
    turn = left + right
    return width if turn < _FLAT else width / turn * (math.sin(left) + math.sin(right))


def _ring(width: float, left: float, right: float) -> Path:
    """Returns a waist of a width as an arc, level at the place between the two leans, (0, 0) there."""
    turn = left + right
    if turn < _FLAT:
        return Path.line(Point(0.0, 0.0), Point(width, 0.0))
    radius = width / turn
    return _arc(Point(0.0, radius), radius, -math.pi / 2 - left, -math.pi / 2 + right)


def _arc(centre: Point, radius: float, start: float, end: float) -> Path:
    """Returns the circular arc between two directions, counter-clockwise, in parts of at most 30°."""
    parts = max(1, math.ceil(abs(end - start) / math.radians(30)))
    step = (end - start) / parts
    handle = 4 / 3 * math.tan(step / 4) * radius
    paths: list[Path] = []
    for part in range(parts):
        a, b = direction(start + part * step), direction(start + (part + 1) * step)
        p, q = centre + a * radius, centre + b * radius
        paths.append(Path.curve(p, p + a.left * handle, q - b.left * handle, q))
    return paths[0].then(*paths[1:])
