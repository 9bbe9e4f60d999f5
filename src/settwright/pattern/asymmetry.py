"""A figure that is not even: the own shape of each half, made from the half that was drafted for an even one.

The trade drafts for the higher shoulder and the mean of the hips, and then alters the paper of one side: the shoulder
turns down about the neck point and the whole armhole goes down with it, as long as it was, so that the sleeve stays as
it is; the side seam goes out at the hip, tapering to nothing at the waist. Common practice, no source. Seams keep their
lengths or change alike on both edges: the shoulder is turned, not redrawn, and both edges of a side seam move alike.

Every function takes a piece drawn as the wearer's right half and returns one drawn so; for the left, mirror it after.
"""

from __future__ import annotations

import itertools
import math
import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace

from settwright.body import Body
from settwright.geometry import ORIGIN, Path, Point, Segment, Transform
from settwright.pattern.drafts.bending import root
from settwright.pattern.drafts.trousers_pocket import with_own_pocket
from settwright.pattern.piece import Draft, Edge, Line, LineKind, Notch, Piece, Side

Shift = Callable[[float], Point]
"""How far each place of an edge moves, by arc length from its start."""

MOST_LOWERED = 25.0  # of a shoulder; a lower one is padded by the rest (common practice, no source)
_NECK_REACH = 12.0  # of the neck from its point, within which it turns with the shoulder
_FOLLOW_REACH = 150.0  # of an edge whose corner moves, within which it follows
_NEAR_CORNER = 50.0  # of a corner that moves, within which notches follow
_BOWS = (-0.5, 12.0)  # inwards, of an armhole between shoulder and first notch, so that it stays as long
_TURN_PART = 0.8  # of its upper part, over which an armhole turns with its shoulder
_SAME = 1e-6  # millimetres between a place and a segment's end that are one
_STEP = 0.01  # millimetres along an edge, for the slope of a shift
_SPLIT = 15.0  # an edge is bent in stretches no longer than this
_NEAR = 0.1  # millimetres within which a line ends on an edge


@dataclass(frozen=True, slots=True)
class Half:
    """How one half of a figure differs from the even one; millimetres."""

    shoulder_drop: float = 0.0  # of the shoulder point
    hip_out: float = 0.0  # of the half's girth at the hip, more (less where negative) than half the hip girth

    @property
    def is_even(self) -> bool:
        """Whether nothing differs."""
        return self.shoulder_drop == 0.0 and self.hip_out == 0.0


def halves_of(body: Body) -> tuple[Half, Half]:
    """Returns the right and the left half of a figure.

    The hip girth is the client's whole one: what one half has more than the other is added to it by half, and taken
    from the other by half.
    """
    known = {measure.name: measure.value for measure in body.measures}
    more = (known.get("full_hip_right", 0.0) - known.get("full_hip_left", 0.0)) / 2
    return (
        Half(known.get("low_shoulder_right", 0.0), more + 0.0),
        Half(known.get("low_shoulder_left", 0.0), -more + 0.0),
    )


def hips_may_differ(draft: Draft) -> bool:
    """Returns whether a draft has a seam over the hip that can be moved alone."""
    return bool(hip_edges(draft))


def with_own_hips(draft: Draft, right: Half, left: Half, waist_to_hip: float) -> Draft:
    """Returns a draft whose halves have each its own hip: the right one in its pieces, the left one in `left`.

    The hip's part is shared evenly by the side seams' edges, or where there are none by all that run over the hip; the
    princess seams, fitted to the bust, stay. A draft whose hips can't differ
    (`hips_may_differ`) stays as it is. A piece drawn with both its halves gets both shapes at once.
    """
    over = hip_edges(draft)
    edges = tuple(found for found in over if found[1].startswith("side")) or over
    if not hips_may_differ(draft) or right.hip_out == left.hip_out == 0.0:
        return draft
    ours = _hip_shifts(draft, edges, right.hip_out / len(edges), waist_to_hip)
    others = [(of, re.sub(r"\.right$", ".left", edge)) for of, edge in edges]
    theirs = _hip_shifts(draft, others, left.hip_out / len(edges), waist_to_hip)
    pieces: list[Piece] = []
    lefts: list[Piece] = []
    for piece in draft.pieces:
        on_right, on_left = ({e: by for (of, e), by in half.items() if of == piece.name} for half in (ours, theirs))
        if not on_right:
            pieces.append(piece)
        elif on_right.keys() == on_left.keys():
            pieces.append(reshaped(piece, on_right))
            lefts.append(reshaped(piece, on_left))
        else:
            pieces.append(reshaped(piece, on_right | on_left))
    return replace(draft, pieces=_with_pocket(pieces), left=_with_pocket(lefts))


def _with_pocket(half: Sequence[Piece]) -> tuple[Piece, ...]:
    """Returns the pieces of a half with the slant pocket, if it has one, cut anew for its own side seam."""
    front = next((piece for piece in half if piece.name == "trousers-front"), None)
    if front is None or not any(line.name == "pocket-line" for line in front.lines):
        return tuple(half)
    own = {piece.name: piece for piece in with_own_pocket(front)}
    return (*(own.pop(piece.name, piece) for piece in half), *own.values())


def shoulders_may_differ(draft: Draft) -> bool:
    """Returns whether a draft's shoulder can be lowered alone: front and back have it in one from neck to armhole,
    without a dart, and the armhole down to the underarm."""
    return all(
        any(_has_the_shoulder(piece) for piece in draft.pieces if piece.name == name) for name in ("front", "back")
    )


def _has_the_shoulder(piece: Piece) -> bool:
    ends = {edge.name: {edge.start, edge.end} for edge in piece.edges}
    has_dart = any(notch.edge == "shoulder" for notch in piece.notches)
    to_underarm = any(end.startswith("underarm") for end in ends.get("armhole", ()))
    return ends.get("shoulder") == {"neck-point", "shoulder-point"} and to_underarm and not has_dart


def with_own_shoulders(draft: Draft, right: Half, left: Half) -> Draft:
    """Returns a draft whose halves have each its own shoulder: the right one in its pieces, the left one in `left`.

    Shoulder and armhole are lowered together, the facings' shoulders with them; sleeve and collar stay. What is more
    than MOST_LOWERED is left to a pad. A draft whose shoulders can't differ (`shoulders_may_differ`) stays as it is.
    """
    if not shoulders_may_differ(draft) or right.shoulder_drop == left.shoulder_drop == 0.0:
        return draft
    ours, theirs = (
        _lowered(pieces, min(half.shoulder_drop, MOST_LOWERED))
        for pieces, half in ((draft.pieces, right), (draft.of_left.pieces, left))
    )
    return replace(draft, pieces=ours, left=tuple(b for a, b in zip(ours, theirs, strict=True) if a is not b))


_ALONG = {"front": "front", "back": "back", "front-facing": "front", "back-neck-facing": "back"}
"""The pieces with a shoulder, and the one whose shoulder theirs lies along."""


def _lowered(pieces: tuple[Piece, ...], drop: float) -> tuple[Piece, ...]:
    """Returns pieces with what they have of shoulder and armhole lowered.

    The underarm falls by a little more than the shoulder: by what the armholes of front and back would both lose.
    """
    if not drop:
        return pieces
    turns = {piece.name: shoulder_turn(piece, drop) for piece in pieces if piece.name in ("front", "back")}
    lost = [_lost(piece, turns[piece.name], drop) for piece in pieces if piece.name in turns]
    fall = drop + min(lost)

    def lowered(piece: Piece) -> Piece:
        names = {edge.name for edge in piece.edges}
        if piece.name in _ALONG and "shoulder" in names:
            return with_low_shoulder(piece, turns[_ALONG[piece.name]], drop, fall)
        return with_low_armhole(piece, fall) if "armhole" in names else piece

    return tuple(lowered(piece) for piece in pieces)


def hip_edges(draft: Draft) -> tuple[tuple[str, str], ...]:
    """Returns the edges of a draft's half, as (piece, edge), that run from the waist over the hip, centres apart."""
    found: list[tuple[str, str]] = []
    for piece in draft.pieces:
        for edge in piece.edges:
            stops = {edge.start, edge.end, *(notch.name for notch in piece.notches if notch.edge == edge.name)}
            if {"waist", "hem"} <= stops and not edge.name.startswith("centre") and not edge.name.endswith(".left"):
                found.append((piece.name, edge.name))
    return tuple(found)


def shoulder_turn(piece: Piece, drop: float) -> float:
    """Returns the angle by which a shoulder turns about its neck point so that its other end lies lower by `drop`.

    Positive lowers it. Raises ValueError for a drop that no turn gives.
    """
    neck, end = _shoulder_ends(piece)
    along = end - neck
    low = (along.y - drop) / along.length
    if abs(low) > 1.0:
        raise ValueError(f"{piece.name}: a shoulder of {along.length:.0f} mm can't fall by {drop:.0f} mm")
    return math.asin(along.y / along.length) - math.asin(low)


def with_low_armhole(piece: Piece, fall: float) -> Piece:
    """Returns a piece whose armhole lies lower, as it is."""
    return reshaped(piece, {"armhole": lambda along: Point(0.0, -fall)})


def with_low_shoulder(piece: Piece, turn: float, drop: float, fall: float) -> Piece:
    """Returns a piece whose shoulder is turned down by an angle about its neck point (`shoulder_turn`), which lowers
    the shoulder point by `drop`, and whose armhole lies lower by `fall` at its foot.

    The armhole stays square to the shoulder, keeps its length and the places of its notches, and lies in by what the
    turn takes the shoulder in, less and less to its first notch, so that chest and back keep their width. The
    neck turns with the shoulder at the neck point alone, so that the whole neck stays smooth across the seam. Any other
    edge that meets them follows.
    """
    neck, end = _shoulder_ends(piece)
    around = _turn_about(neck, end, turn)
    moves: dict[str, Shift] = {}
    for edge in piece.edges:
        if edge.name == "shoulder":
            moves[edge.name] = _turned(edge.path, around, lambda along: 1.0)
        elif edge.name == "armhole":
            moves[edge.name] = _kept_in_length(edge.path, _dropped(piece, around, fall))
        elif _touches(edge.path, neck):
            reach = min(_NECK_REACH, edge.path.length / 2)
            moves[edge.name] = _turned(edge.path, around, _fading(edge.path, neck, reach))
    return reshaped(piece, moves)


def _turn_about(neck: Point, end: Point, turn: float) -> Transform:
    """Returns the turn that lowers a shoulder's end: counter-clockwise on a shoulder that runs to the left."""
    return Transform.turn(turn if end.x < neck.x else -turn, neck)


def _lost(piece: Piece, turn: float, drop: float) -> float:
    """Returns by how much an armhole would become shorter if all of it were lowered like its shoulder point."""
    neck, end = _shoulder_ends(piece)
    around = _turn_about(neck, end, turn)
    return -_longer(piece.edge("armhole").path, _dropped(piece, around, drop)(0.0))


def _kept_in_length(path: Path, bowed: Callable[[float], Shift]) -> Shift:
    return bowed(root(lambda bow: _longer(path, bowed(bow)), *_BOWS, _SAME))


def _longer(path: Path, shift: Shift) -> float:
    return _bent(path, shift, [])[0].length - path.length


def _dropped(piece: Piece, around: Transform, fall: float) -> Callable[[float], Shift]:
    """Returns how an armhole goes down with its shoulder: between it and the first notch it goes in and turns less and
    less, and may be bowed by so many millimetres; below it goes down as it is, along the seam at its foot."""
    shoulder, armhole = _shoulder_ends(piece)[1], piece.edge("armhole").path
    from_start = (armhole.start - shoulder).length < (armhole.end - shoulder).length
    stops = [notch.at for notch in piece.notches if notch.edge == "armhole"]
    upper = min([0.7 * armhole.length, *(at if from_start else armhole.length - at for at in stops)])
    above, turning = (_fading(armhole, shoulder, reach) for reach in (upper, _TURN_PART * upper))
    top, foot = around(shoulder) - shoulder, _down(piece, armhole.end if from_start else armhole.start) * fall

    def bowed(bow: float) -> Shift:
        def shift(along: float) -> Point:
            point, whole = armhole.at(along), above(along)
            part = min(1.0, (along if from_start else armhole.length - along) / upper)
            moved = top * whole + foot * (1.0 - whole) + (around(point) - point - top) * turning(along)
            return moved + armhole.tangent(along).left * (bow * (4.0 * part * (1.0 - part)) ** 2)

        return shift

    return bowed


def _down(piece: Piece, corner: Point) -> Point:
    """Returns the direction downwards along the seam that meets an armhole's foot."""
    for edge in piece.edges:
        for end, away in ((edge.path.start, edge.path.start_tangent), (edge.path.end, -edge.path.end_tangent)):
            if edge.name != "armhole" and (end - corner).length < _NEAR:
                return away
    return Point(0.0, -1.0)


def with_full_hip(piece: Piece, edge_name: str, out: float, waist_to_hip: float) -> Piece:
    """Returns a piece whose side seam lies farther out by `out` at the hip (farther in where negative).

    From nothing at the waist it grows to the hip; below, it stays out to a hem near the hip and tapers to nothing at a
    hem twice as far below the hip as the waist lies above it. It leaves waist, hip and hem in the directions that it
    had. `waist_to_hip` is level, in millimetres. The edge has a stop named waist.
    """
    return reshaped(piece, {edge_name: _hip_shift(piece, edge_name, out, waist_to_hip)})


def _hip_shift(piece: Piece, edge_name: str, out: float, waist_to_hip: float) -> Shift:
    edge = piece.edge(edge_name)
    waist = edge.path.at(piece.stop(edge_name, "waist")).y
    hip, hem = waist - waist_to_hip, min(edge.path.start.y, edge.path.end.y)
    side = _outward(piece, edge)
    kept = 1.0 - _swing((hip - hem) / (2 * waist_to_hip)) if hem < hip else 1.0

    def shift(along: float) -> Point:
        y = edge.path.at(along).y
        if y >= hip:
            part = _swing((waist - y) / waist_to_hip)
        else:
            part = 1.0 - (1.0 - kept) * _swing((hip - y) / max(hip - hem, _STEP))
        return side * (out * part)

    return shift


def _hip_shifts(
    draft: Draft, edges: Sequence[tuple[str, str]], out: float, waist_to_hip: float
) -> dict[tuple[str, str], Shift]:
    """Returns how each edge of a half is let out at the hip, both edges of a seam growing alike between its stops.

    Where front and back lean differently, letting both out alike makes one a little longer than the other: each is
    slid along itself, from the waist down, by half of that.
    """
    shifts = {(of, edge): _hip_shift(draft.piece(of), edge, out, waist_to_hip) for of, edge in edges}
    for seam in draft.seams:
        sides = [key for side in (seam.a, seam.b) for key in edges if _is_side(side, *key)]
        if len(sides) == 2 and "waist" in seam.stops:
            walks = [_Walk.of(draft.piece(of), edge, seam.stops) for of, edge in sides]
            grown = [walk.grown(shifts[key]) for walk, key in zip(walks, sides, strict=True)]
            alike = [(a + b) / 2 for a, b in zip(*grown, strict=True)]
            for walk, key, own in zip(walks, sides, grown, strict=True):
                shifts[key] = walk.slid(shifts[key], [by - have for by, have in zip(alike, own, strict=True)])
    return shifts


def _is_side(side: Side, of: str, edge: str) -> bool:
    return side.piece == of and side.edge in (edge, edge.removesuffix(".right"), edge.removesuffix(".left"))


@dataclass(frozen=True)
class _Walk:
    """A seam's edge walked from the waist down: the stops' places by arc length, and which way they run."""

    path: Path
    places: tuple[float, ...]

    @classmethod
    def of(cls, piece: Piece, edge: str, stops: Sequence[str]) -> _Walk:
        waist = piece.stop(edge, "waist")
        path = piece.edge(edge).path
        is_down = path.start.y > path.end.y
        places = sorted((piece.stop(edge, stop) for stop in stops), reverse=not is_down)
        return cls(path, tuple(at for at in places if (at - waist) * (1.0 if is_down else -1.0) >= 0.0))

    def grown(self, shift: Shift) -> list[float]:
        """Returns by how much the edge grows between every two stops."""
        _, moved = _bent(self.path, shift, list(self.places))
        after, before = itertools.pairwise(moved), itertools.pairwise(self.places)
        return [abs(b - a) - abs(d - c) for (a, b), (c, d) in zip(after, before, strict=True)]

    def slid(self, shift: Shift, by: Sequence[float]) -> Shift:
        """Returns a shift that makes each stretch between stops longer still, by so much."""
        way = 1.0 if self.places[-1] > self.places[0] else -1.0
        stretches = [
            (low, high - low, more * way) for (low, high), more in zip(itertools.pairwise(self.places), by, strict=True)
        ]

        def slid(along: float) -> Point:
            slide = sum(more * _swing((along - low) / length) for low, length, more in stretches)
            return shift(along) + self.path.tangent(along) * slide

        return slid


def _outward(piece: Piece, edge: Edge) -> Point:
    """Returns the level direction that leads out of a piece at an edge."""
    xs = [point.x for other in piece.edges for point in (other.path.start, other.path.end)]
    middle = (min(xs) + max(xs)) / 2
    return Point(1.0 if edge.path.at(edge.path.length / 2).x > middle else -1.0, 0.0)


def reshaped(piece: Piece, moves: Mapping[str, Shift]) -> Piece:
    """Returns a piece some of whose edges are bent, notches going with their places.

    An edge that isn't named, but whose corner moves, follows within 150 mm of it; so does a line that ends on a bent
    edge. Marks stay. Raises ValueError (as Piece does) where two named edges move their common corner apart.
    """
    corners = [
        (point, shift(along))
        for edge in piece.edges
        if (shift := moves.get(edge.name)) is not None
        for point, along in ((edge.path.start, 0.0), (edge.path.end, edge.path.length))
    ]
    edges: list[Edge] = []
    notches: list[Notch] = []
    for edge in piece.edges:
        own = [notch for notch in piece.notches if notch.edge == edge.name]
        shift = moves.get(edge.name) or _following(edge.path, corners, own)
        if shift is None:
            edges.append(edge)
            notches += own
            continue
        bent, places = _bent(edge.path, shift, [notch.at for notch in own])
        edges.append(replace(edge, path=bent))
        notches += [replace(notch, at=at) for notch, at in zip(own, places, strict=True)]
    lines = tuple(_followed(line, piece, moves) for line in piece.lines)
    drawn = {edge.name for edge in piece.edges}
    notches += [notch for notch in piece.notches if notch.edge not in drawn]
    return replace(piece, edges=tuple(edges), notches=tuple(notches), lines=lines)


def _following(path: Path, corners: list[tuple[Point, Point]], notches: Sequence[Notch] = ()) -> Shift | None:
    """Returns how an edge follows the corners that moved, or nothing where none of its own did.

    Its notches stay, but for those near the corner that aren't a dart's: so both edges of a seam follow alike.
    """
    starts = [by for point, by in corners if (point - path.start).length < _NEAR]
    ends = [by for point, by in corners if (point - path.end).length < _NEAR]
    at_start, at_end = (found[0] if found else ORIGIN for found in (starts, ends))
    if at_start == ORIGIN and at_end == ORIGIN:
        return None
    most = min(_FOLLOW_REACH, path.length if ORIGIN in (at_start, at_end) else path.length / 2)
    stay = [n.at for n in notches if "dart" in n.name or _NEAR_CORNER < n.at < path.length - _NEAR_CORNER]
    from_start, from_end = min([most, *stay]), min([most, *(path.length - at for at in stay)])

    def shift(along: float) -> Point:
        return at_start * (1.0 - _swing(along / from_start)) + at_end * (1.0 - _swing((path.length - along) / from_end))

    return shift


def _followed(line: Line, piece: Piece, moves: Mapping[str, Shift]) -> Line:
    """Returns an inner line with its ends still on the bent edges on which they lay.

    One that begins and ends on the same edge, as a vent's lap does, goes with that edge all along; not so a dart.
    """
    for name, shift in moves.items() if line.kind is not LineKind.DART else ():
        path = piece.edge(name).path
        if all(_where(end, path) is not None for end in (line.path.start, line.path.end)):
            return replace(line, path=_bent(line.path, _beside(line.path, path, shift), [])[0])
    corners: list[tuple[Point, Point]] = []
    for end in (line.path.start, line.path.end):
        for name, shift in moves.items():
            at = _where(end, piece.edge(name).path)
            if at is not None:
                corners.append((end, shift(at)))
                break
    shift = _following(line.path, corners)
    return line if shift is None else replace(line, path=_bent(line.path, shift, [])[0])


def _beside(path: Path, edge: Path, shift: Shift) -> Shift:
    """Returns how each place of a path moves that goes with an edge as it is moved."""
    return lambda along: shift(edge.nearest(path.at(along)))


def _where(point: Point, path: Path) -> float | None:
    """Returns the arc length at which a point lies on a path; none if it lies off it."""
    start = 0.0
    for segment in path.segments:
        xs, ys = zip(*((p.x, p.y) for p in (segment.a, segment.b, segment.c, segment.d)), strict=True)
        if min(xs) - _NEAR <= point.x <= max(xs) + _NEAR and min(ys) - _NEAR <= point.y <= max(ys) + _NEAR:
            alone = Path((segment,))
            at = alone.nearest(point)
            if (alone.at(at) - point).length < _NEAR:
                return start + at
        start += segment.length
    return None


def _bent(path: Path, shift: Shift, places: list[float]) -> tuple[Path, list[float]]:
    """Returns a path moved place by place, and where on it the places given by arc length have come to lie.

    Each stretch between segments' ends and places becomes one cubic that has the moved curve's ends and directions; a
    straight stretch that moves rigidly stays straight.
    """
    segments: list[Segment] = []
    lengths = {0.0: 0.0}
    total = start = 0.0
    for segment in path.segments:
        end = start + segment.length
        count = max(1, math.ceil(segment.length / _SPLIT))
        even = [start + segment.length * i / count for i in range(1, count)]
        cuts = [start, *sorted({*even, *(p for p in places if start + _SAME < p < end - _SAME)}), end]
        rest, gone = segment, 0.0
        for low, high in itertools.pairwise(cuts):
            at = segment.parameter_at(high - start) if high < end else 1.0
            part, rest = rest.split((at - gone) / (1.0 - gone)) if at < 1.0 else (rest, rest)
            gone = at
            leaving = (part.b - part.a) + _slope(shift, low, low, high) * (part.b - part.a).length
            arriving = (part.d - part.c) + _slope(shift, high, low, high) * (part.d - part.c).length
            a, d = part.a + shift(low), part.d + shift(high)
            segments.append(Segment(a, a + leaving, d - arriving, d))
            total += segments[-1].length
            lengths[high] = total
        start = end
    return Path(tuple(segments)), [lengths[min(lengths, key=lambda at: abs(at - place))] for place in places]


def _slope(shift: Shift, at: float, low: float, high: float) -> Point:
    """Returns by how much the shift changes for each millimetre along, measured inside a stretch."""
    a, b = max(low, at - _STEP), min(high, at + _STEP)
    return (shift(b) - shift(a)) / (b - a)


def _turned(path: Path, around: Transform, weight: Callable[[float], float]) -> Shift:
    def shift(along: float) -> Point:
        point = path.at(along)
        return (around(point) - point) * weight(along)

    return shift


def _fading(path: Path, full: Point, reach: float) -> Callable[[float], float]:
    """Returns a weight that is whole at one end of a path, where `full` lies, and nothing from `reach` on."""
    from_start = (path.start - full).length < (path.end - full).length

    def weight(along: float) -> float:
        return 1.0 - _swing((along if from_start else path.length - along) / reach)

    return weight


def _swing(u: float) -> float:
    """Returns 0 before u = 0, 1 after u = 1, and between them a change that begins and ends level."""
    u = min(max(u, 0.0), 1.0)
    return u * u * (3 - 2 * u)


def _touches(path: Path, point: Point) -> bool:
    return min((path.start - point).length, (path.end - point).length) < _NEAR


def _shoulder_ends(piece: Piece) -> tuple[Point, Point]:
    """Returns a shoulder's neck point and its other end. Raises KeyError for a piece without a shoulder."""
    edge = piece.edge("shoulder")
    return (edge.path.start, edge.path.end) if edge.start == "neck-point" else (edge.path.end, edge.path.start)
