"""The pieces of a draft: closed seam lines made of named edges, and the seams that join them.

Frames and hands (docs/names.md): a paired piece is drawn for the wearer's right half as seen from the cloth's right
side, so the centre back lies at its left and the centre front at its right; its edges run counter-clockwise. The
left half mirrors it and keeps the direction of every edge, so that a place on an edge has one arc length on both
halves. In the piece frame the origin is the grain mark and +y runs along the grain towards the garment's top.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from enum import StrEnum
from functools import cached_property

from settwright.geometry import ORIGIN, Path, Point, Transform, joined
from settwright.geometry.tolerances import PRINT, SAME


class Cut(StrEnum):
    """How many of a piece are cut."""

    PAIR = "pair"  # a right one and its mirror image
    WHOLE = "whole"  # one, both halves in it


class Layer(StrEnum):
    """Which cloth of the garment a piece is cut from."""

    SHELL = "shell"
    LINING = "lining"
    INTERLINING = "interlining"  # canvas: front, collar, hems
    HAIRCLOTH = "haircloth"  # the stiffer canvas of chest and shoulder
    UNDERLINING = "underlining"  # mounted to the shell and handled as one with it
    POCKETING = "pocketing"  # firm cotton: pocket bags, stays
    WADDING = "wadding"  # sleeve heads, shoulder pads


class LineKind(StrEnum):
    """What a line drawn inside a piece is for."""

    LEVEL = "level"  # bust, waist, hip: a body level
    CENTRE = "centre"  # centre front or back where it isn't an edge
    ROLL = "roll"  # roll line of lapel or collar
    FOLD = "fold"  # an edge that is a fold, not a seam
    DART = "dart"
    PLACE = "place"  # where another piece, a button or a buttonhole will lie


@dataclass(frozen=True)
class Edge:
    """A named side of a piece; `start` and `end` name its ends, so that seams can speak of them."""

    name: str
    path: Path
    start: str
    end: str


@dataclass(frozen=True)
class Notch:
    """A named place on an edge, by arc length from the edge's start."""

    name: str
    edge: str
    at: float


@dataclass(frozen=True)
class Mark:
    """A named point: a dart's point, a button, a pocket's corner."""

    name: str
    at: Point


@dataclass(frozen=True)
class Line:
    """A named line inside a piece; its ends may be named like an edge's when something meets it there."""

    name: str
    kind: LineKind
    path: Path
    start: str = "start"
    end: str = "end"


@dataclass(frozen=True)
class Piece:
    """A pattern piece as seam lines, in millimetres."""

    name: str
    title: str
    cut: Cut
    edges: tuple[Edge, ...]
    notches: tuple[Notch, ...] = ()
    marks: tuple[Mark, ...] = ()
    lines: tuple[Line, ...] = ()
    grain_mark: Point = ORIGIN
    grain: float = math.pi / 2  # direction of the grain arrow in the frame the piece is drawn in
    bias: float = 0.0  # angle from the grain arrow to the warp: π/4 for a piece cut on the bias
    layer: Layer = Layer.SHELL
    follows: str = ""  # the shell piece that an inside piece is cut from
    reserves: tuple[tuple[str, float], ...] = ()  # by edge, what the design keeps beyond the seam to let out later

    def __post_init__(self) -> None:
        for before, after in zip(self.edges, (*self.edges[1:], self.edges[0]), strict=True):
            if (before.path.end - after.path.start).length > 1e-4:
                raise ValueError(
                    f"{self.name}: {before.name} ends at {before.path.end}, {after.name} starts at {after.path.start}"
                )

    @cached_property
    def _edges_by_name(self) -> dict[str, Edge]:
        return {edge.name: edge for edge in self.edges}

    def edge(self, name: str) -> Edge:
        """Returns an edge by name, or a drawn line as if it were one (overlays and laps meet on lines).

        Raises KeyError with the names that exist.
        """
        if name in self._edges_by_name:
            return self._edges_by_name[name]
        for line in self.lines:
            if line.name == name:
                return Edge(line.name, line.path, line.start, line.end)
        known = ", ".join([*self._edges_by_name, *(line.name for line in self.lines)])
        raise KeyError(f"{self.name} has no edge or line {name!r}; it has {known}")

    def stop(self, edge_name: str, stop: str) -> float:
        """Returns where a named stop (an end or a notch) lies on an edge, as arc length from its start."""
        edge = self.edge(edge_name)
        if stop == edge.start:
            return 0.0
        if stop == edge.end:
            return edge.path.length
        for notch in self.notches:
            if notch.edge == edge_name and notch.name == stop:
                return notch.at
        raise KeyError(f"{self.name}, {edge_name}: no stop {stop!r}")

    def mark(self, name: str) -> Point:
        """Returns a marked point; raises KeyError."""
        for mark in self.marks:
            if mark.name == name:
                return mark.at
        raise KeyError(f"{self.name} has no mark {name!r}; it has {', '.join(m.name for m in self.marks)}")

    @property
    def outline(self) -> Path:
        """The closed seam line, beginning at the first edge's start."""
        path = joined(_snapped(edge.path for edge in self.edges))
        return Path((*path.segments[:-1], replace(path.segments[-1], d=path.start)))

    @property
    def area(self) -> float:
        """Enclosed area; positive for a right half."""
        points = self.outline.points()
        return sum(p.cross(q) for p, q in zip(points, (*points[1:], points[0]), strict=True)) / 2

    def moved(self, by: Transform) -> Piece:
        """Returns the piece under a rigid map or a mirroring."""
        arrow = by(self.grain_mark + Point(math.cos(self.grain), math.sin(self.grain))) - by(self.grain_mark)
        return replace(
            self,
            edges=tuple(replace(edge, path=edge.path.moved(by)) for edge in self.edges),
            marks=tuple(replace(mark, at=by(mark.at)) for mark in self.marks),
            lines=tuple(replace(line, path=line.path.moved(by)) for line in self.lines),
            grain_mark=by(self.grain_mark),
            grain=arrow.angle,
        )

    def on_grain(self) -> Piece:
        """Returns the piece in its own frame: grain mark at the origin, grain along +y."""
        to_origin = Transform.shift(-self.grain_mark.x, -self.grain_mark.y)
        return self.moved(to_origin.then(Transform.turn(math.pi / 2 - self.grain)))

    def is_cut_as(self, other: Piece) -> bool:
        """Returns whether no printed sheet would show this piece and another one of the same edges apart."""
        ours, theirs = ([*piece.edges, *piece.lines] for piece in (self, other))
        if self._names() != other._names():
            return False
        return (
            all(_lies_on(a.path, b.path) for a, b in zip(ours, theirs, strict=True))
            and all(abs(a.at - b.at) < PRINT for a, b in zip(self.notches, other.notches, strict=True))
            and all((a.at - b.at).length < PRINT for a, b in zip(self.marks, other.marks, strict=True))
        )

    def _names(self) -> tuple[tuple[str, ...], ...]:
        return (
            tuple(edge.name for edge in (*self.edges, *self.lines)),
            tuple(f"{notch.edge} {notch.name}" for notch in self.notches),
            tuple(mark.name for mark in self.marks),
        )

    def mirrored(self) -> Piece:
        """Returns the wearer's left half: mirrored about the grain line, edges keeping their direction."""
        return replace(self.on_grain().moved(Transform.mirror_x()), bias=-self.bias)

    def unfolded(self, edge_name: str) -> Piece:
        """Returns the whole piece from a right half whose edge `edge_name` is a straight fold.

        Edges and notches of the two halves get the suffixes `.right` and `.left`; an edge that touches the fold is
        kept in two parts. The fold becomes a line of kind CENTRE with the fold's own name, and the grain mark must
        lie on it. Raises ValueError if the fold isn't straight or the mark lies off it.
        """
        fold = self.edge(edge_name)
        along = fold.path.end_tangent
        if abs(along.cross(self.grain_mark - fold.path.start)) > SAME:
            raise ValueError(f"{self.name}: the grain mark must lie on the fold {edge_name!r}")
        chord = fold.path.end - fold.path.start
        if fold.path.length - chord.length > SAME:
            raise ValueError(f"{self.name}: the fold {edge_name!r} is not straight")
        turn = Transform.turn(math.pi / 2 - chord.angle, fold.path.start)
        mirror = (
            Transform.shift(-fold.path.start.x, 0.0)
            .then(Transform.mirror_x())
            .then(Transform.shift(fold.path.start.x, 0.0))
        )
        flip = turn.then(mirror).then(turn.inverse())
        index = next(i for i, edge in enumerate(self.edges) if edge.name == edge_name)
        right = (*self.edges[index + 1 :], *self.edges[:index])
        left = tuple(replace(edge, path=edge.path.moved(flip).reversed()) for edge in reversed(right))
        lengths = {edge.name: edge.path.length for edge in self.edges}
        return replace(
            self,
            cut=Cut.WHOLE,
            edges=(
                *(replace(e, name=f"{e.name}.right") for e in right),
                *(Edge(f"{e.name}.left", e.path, start=e.end, end=e.start) for e in left),
            ),
            notches=(
                *(replace(n, edge=f"{n.edge}.right") for n in self.notches if n.edge != edge_name),
                *(
                    Notch(n.name, f"{n.edge}.left", lengths[n.edge] - n.at if n.edge in lengths else n.at)
                    for n in self.notches
                    if n.edge != edge_name
                ),
            ),
            marks=(
                *(Mark(f"{m.name}.right", m.at) for m in self.marks),
                *(Mark(f"{m.name}.left", flip(m.at)) for m in self.marks),
            ),
            lines=(
                Line(edge_name, LineKind.CENTRE, fold.path, fold.start, fold.end),
                *(replace(line, name=f"{line.name}.right") for line in self.lines),
                *(replace(line, name=f"{line.name}.left", path=line.path.moved(flip)) for line in self.lines),
            ),
        )


def _snapped(paths: Iterable[Path]) -> Iterator[Path]:
    """Yields paths whose starts are moved onto the end before them (they differ by rounding only)."""
    last: Point | None = None
    for path in paths:
        if last is not None and path.start != last:
            first = path.segments[0]
            path = Path((replace(first, a=last), *path.segments[1:]))
        last = path.end
        yield path


@dataclass(frozen=True)
class Side:
    """One side of a seam: a piece and its edge (or drawn line)."""

    piece: str
    edge: str


def _lies_on(path: Path, other: Path) -> bool:
    """Returns whether a path lies on another one, both walked in eighths."""
    steps = [(path.at(path.length * i / 8), other.at(other.length * i / 8)) for i in range(9)]
    return abs(path.length - other.length) < PRINT and all((a - b).length < PRINT for a, b in steps)


@dataclass(frozen=True)
class Seam:
    """Two edges sewn together, walked from stop to stop; a stop is an end or a notch named alike on both sides.

    `ease` is by how much `b` is longer than `a` in each interval between stops, as the draft meant it: positive
    where b is eased on to a, negative where a is eased on to b. `across` joins the right half to the left one.
    """

    name: str
    a: Side
    b: Side
    stops: tuple[str, ...]
    ease: tuple[float, ...]
    across: bool = False
    hand: str = ""  # "right" or "left" where it is sewn on that half only, as a fly's facing is


class Meeting(StrEnum):
    """How two pieces meet where no seam joins them."""

    OVERLAY = "overlay"  # lies on top: flap on front, collar on back
    LAP = "lap"  # centre front on centre front when buttoned
    HANG = "hang"  # one hangs over the other: jacket over skirt


@dataclass(frozen=True)
class Touch:
    """Two lines that lie on one another when the garment is worn, without being sewn along them.

    Stops as in Seam; `across` lays the right half on the left one (a lap).
    """

    name: str
    kind: Meeting
    a: Side
    b: Side
    stops: tuple[str, ...]
    across: bool = False


@dataclass(frozen=True)
class Step:
    """One entry of the drafting record: a point or curve with its rule, inputs and value.

    `numbers` maps the words in the rule to values in millimetres (angles in radians, names ending in " angle").
    """

    name: str
    of: str  # the piece or part drafted: "back", "sleeve cap"
    rule: str  # in a tailor's words: "back neck width = neck base girth / 5 − 2 mm"
    numbers: tuple[tuple[str, float], ...]
    value: float | None = None
    point: Point | None = None
    source: str = "common practice, no source"
    line: Path | None = None  # the curve or line drawn, in the frame of the points


@dataclass(frozen=True)
class Draft:
    """A drafted garment: right halves and whole pieces, what joins them, and the record of how it came about."""

    name: str  # "jacket", "skirt"
    pieces: tuple[Piece, ...]
    seams: tuple[Seam, ...]
    touches: tuple[Touch, ...] = ()
    record: tuple[Step, ...] = ()
    levels: tuple[tuple[str, float], ...] = ()  # height of each body level above the floor
    left: tuple[Piece, ...] = ()  # pieces whose left half has its own shape, drawn as right halves
    left_seams: tuple[Seam, ...] = ()  # seams that are eased otherwise on the left half

    @property
    def of_left(self) -> Draft:
        """The draft as the left half has it, still drawn for the right hand; itself where both halves are alike."""
        if not self.left:
            return self
        pieces = {piece.name: piece for piece in self.left}
        seams = {seam.name: seam for seam in self.left_seams}
        return replace(
            self,
            pieces=tuple(pieces.get(piece.name, piece) for piece in self.pieces),
            seams=tuple(seams.get(seam.name, seam) for seam in self.seams),
            left=(),
            left_seams=(),
        )

    def with_left(self, other: Draft) -> Draft:
        """Returns this draft with the left half as another one of the same pieces and seams has it."""
        return replace(
            self,
            left=tuple(b for a, b in zip(self.pieces, other.pieces, strict=True) if a != b and not a.is_cut_as(b)),
            left_seams=tuple(b for a, b in zip(self.seams, other.seams, strict=True) if a != b),
        )

    def piece(self, name: str) -> Piece:
        """Returns a piece by name; raises KeyError."""
        for piece in self.pieces:
            if piece.name == name:
                return piece
        raise KeyError(f"{self.name} has no piece {name!r}; it has {', '.join(p.name for p in self.pieces)}")
