"""The fastenings: where buttonholes are cut and buttons sewn, the lips of bound ones, hooks, snaps and zips.

Rules. A buttonhole is as long as the button's diameter and thickness; one worked by hand 3 mm more, a bound one not
(a handbook quoted in a needlewoman's diary of 2010; a sewing lesson of 1999 gives diameter plus thickness). A level
one begins 3 mm beyond the centre front, towards the edge (both). The lips of a bound one are 3 mm each (the same
handbook). From the centre front to the edge: half the button and a quarter of an inch at least (a contest's published
standards of construction). Lowest button 4 in over the hem (the lesson). The rest: common practice, no source.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace

from settwright.commission.handwork import BandFastening, Buttonholes, Closures
from settwright.findings import Finding, Weight
from settwright.geometry import Path, Point
from settwright.makeup.allowances import plain_name
from settwright.makeup.facing import FRONT_FOLDS, PREFIX, TOP_FOLD
from settwright.makeup.handwork.roles import Part, part_of
from settwright.makeup.model import Closure, ClosureKind, CutPiece, Hand, SewnPair, Stage
from settwright.makeup.walking import walked
from settwright.pattern import Cut, Edge, Line, LineKind, Piece
from settwright.units import INCH

BEYOND = 3.0  # a level buttonhole begins so far beyond the centre front
WORKED_EXTRA = 3.0  # a buttonhole worked by hand is longer by this
LIP_ENDS = 15.0  # a lip's strip is longer than the hole by this at each end
LIP_DEEP = 20.0  # a lip's strip goes so far beyond its fold, on both sides
LEAST_BEYOND_BUTTON = INCH / 4
LEAST_OVER_HEM = 4 * INCH
ZIP_ALLOWANCE = 0.75 * INCH  # a seam that takes a zip; mudmosh.com
SLEEVE_BUTTON = 15.0
INNER_BUTTON = 15.0  # holds the under front's edge of a double-breasted or crossed-over front; from memory
_ON_LINE = 1.0  # a place so near to a seam line lies on it


@dataclass(frozen=True, slots=True)
class Fastenings:
    """How the garments fasten: what was chosen, and what follows from the jacket's design."""

    chosen: Closures = field(default_factory=Closures)
    button_diameter: float = 22.0

    @property
    def hole(self) -> float:
        """How long a buttonhole is cut."""
        return hole_length(self.button_diameter, self.chosen.button_thickness, self.chosen.buttonholes)

    @property
    def is_bound(self) -> bool:
        """Whether the buttonholes are bound."""
        return self.chosen.buttonholes is Buttonholes.BOUND


def hole_length(diameter: float, thickness: float, way: Buttonholes) -> float:
    """Returns how long a buttonhole is cut."""
    return diameter + thickness + (WORKED_EXTRA if way is Buttonholes.HAND_WORKED else 0.0)


def with_buttonholes(pieces: Sequence[CutPiece], front_laps_over: Hand, fastenings: Fastenings) -> tuple[CutPiece, ...]:
    """Returns the pieces with a line for each buttonhole on the front that laps over, and the lips of bound ones, two
    strips for each.

    The line `buttonhole-1` runs from its outer end, beyond the centre front, to its inner one.
    """
    length = fastenings.hole
    made: list[CutPiece] = []
    lips: list[CutPiece] = []
    for piece in pieces:
        holes = _holes(piece, length) if _is_front(piece) and piece.hand is front_laps_over else []
        made.append(_with_lines(piece, holes))
        if fastenings.is_bound:
            lips += [lip for hole in holes for lip in _lips(piece, hole.name, length)]
    return (*made, *lips)


def with_openings(pieces: Sequence[CutPiece], sewn: Sequence[SewnPair]) -> tuple[CutPiece, ...]:
    """Returns the pieces with the opening behind each bound buttonhole, `buttonhole-opening-1`, on what faces it."""
    by_name = {piece.name: piece for piece in pieces}
    is_bound = any(part_of(piece.piece) is Part.PATCH for piece in pieces)
    openings: dict[str, list[Line]] = {}
    for piece in pieces if is_bound else ():
        faced = list(_faced(piece, sewn))
        for hole in (line for line in piece.piece.lines if faced and _is_hole(line)):
            for facing, own, other in sorted(faced, key=lambda edge: _nearest(hole.path.start, edge[1])[0]):
                opening = _opening(hole, own, other)
                if _is_within(opening.path.start, by_name[facing]):
                    openings.setdefault(facing, []).append(opening)
                    break
    return tuple(_with_lines(piece, openings.get(piece.name, [])) for piece in pieces)


def _faced(piece: CutPiece, sewn: Sequence[SewnPair]) -> Iterator[tuple[str, Sequence[Point], Sequence[Point] | None]]:
    """Yields the edges at which a front is faced: by which piece, and matched points of both, none beyond a fold."""
    for line in piece.piece.lines:
        if line.name in FRONT_FOLDS:
            yield piece.name, (line.path.start, line.path.end), None
    for pair in sewn:
        if pair.a.piece == piece.name and ("facing" in pair.b.piece or pair.b.edge.startswith(PREFIX)):
            yield pair.b.piece, [a for a, _ in pair.pairs], [b for _, b in pair.pairs]


def _with_lines(piece: CutPiece, lines: Sequence[Line]) -> CutPiece:
    return replace(piece, piece=replace(piece.piece, lines=(*piece.piece.lines, *lines))) if lines else piece


def _is_hole(line: Line) -> bool:
    return line.name.startswith("buttonhole-") and line.name.removeprefix("buttonhole-").isdigit()


def lip_joins(pieces: Sequence[CutPiece]) -> tuple[SewnPair, ...]:
    """Returns where the lips of bound buttonholes lie on the front, fold on hole: their bars go on as the front's."""
    by_name = {piece.name: piece for piece in pieces}
    found: list[SewnPair] = []
    for piece in pieces:
        for line in piece.piece.lines:
            if not _is_hole(line):
                continue
            number = line.name.removeprefix("buttonhole-")
            for place in ("upper", "lower"):
                lip = by_name.get(f"buttonhole-lip-{number}-{place}")
                if lip is not None:
                    name = f"buttonhole-{place}-{number}"
                    found.append(walked(name, "overlay", (piece, line.name), (lip, "fold"), ("outer", "inner")))
    return tuple(found)


def _is_front(piece: CutPiece) -> bool:
    return piece.piece.name in ("front", "front-lower") and any(m.name.startswith("button-") for m in piece.piece.marks)


def _front_edge(piece: CutPiece, at: Point) -> Point | None:
    """Returns the place nearest to a point on the edge at which the fronts close, or on the fold that it is."""
    edges = [
        edge.path for edge in (*piece.piece.edges, *piece.piece.lines) if edge.name in ("front-edge", *FRONT_FOLDS)
    ]
    places = [edge.at(edge.nearest(at)) for edge in edges]
    return min(places, key=lambda place: round((place - at).length, 3), default=None)


def _holes(piece: CutPiece, length: float) -> list[Line]:
    found: list[Line] = []
    for mark in piece.piece.marks:
        number = mark.name.removeprefix("button-")
        edge = _front_edge(piece, mark.at) if number.isdigit() else None
        if edge is not None:
            out = Point(1.0 if edge.x > mark.at.x else -1.0, 0.0)
            outer = mark.at + out * BEYOND
            hole = Path.line(outer, outer - out * length)
            found.append(Line(f"buttonhole-{number}", LineKind.PLACE, hole, "outer", "inner"))
    return found


def _opening(hole: Line, front: Sequence[Point], facing: Sequence[Point] | None) -> Line:
    """Returns a hole's place on the facing: as far along the edge as on the front, and as far from it.

    `front` and `facing` are matched points of the two edges; no facing: it lies beyond the fold that `front` is.
    """
    _, i = _nearest(hole.path.start, front)
    other = front if facing is None else facing
    along, back = (front[i + 1] - front[i]).unit, (other[i + 1] - other[i]).unit

    def behind(p: Point) -> Point:
        t, n = along.dot(p - front[i]), along.cross(p - front[i])
        return other[i] + back * t - back.left * n  # the facing lies face to face with the front

    ends = (behind(hole.path.start), behind(hole.path.end))
    name = hole.name.replace("buttonhole", "buttonhole-opening")
    return Line(name, LineKind.PLACE, Path.line(*ends), "outer", "inner")


def _nearest(p: Point, points: Sequence[Point]) -> tuple[float, int]:
    """Returns how near a polyline comes to a point, and in which of its sides."""
    found: list[tuple[float, int]] = []
    for i, (a, b) in enumerate(itertools.pairwise(points)):
        side = b - a
        part = min(max((p - a).dot(side) / max(side.dot(side), 1e-12), 0.0), 1.0)
        found.append((round((a + side * part - p).length, 3), i))
    return min(found)


def _is_within(p: Point, piece: CutPiece) -> bool:
    """Whether a point lies inside a piece's seam line, or on it, as where a facing's parts are joined behind a hole.

    A ray from a point inside crosses the line an odd number of times.
    """
    outline = (*piece.seam_line, *piece.seam_line[:1])
    inside = _nearest(p, outline)[0] < _ON_LINE
    for a, b in itertools.pairwise(outline) if not inside else ():
        if (a.x > p.x) != (b.x > p.x) and p.y < a.y + (b.y - a.y) * (p.x - a.x) / (b.x - a.x):
            inside = not inside
    return inside


def _lips(front: CutPiece, hole: str, length: float) -> list[CutPiece]:
    """Returns the two strips of a bound buttonhole, each folded lengthwise, its fold on the hole's line."""
    number = hole.removeprefix("buttonhole-")
    return [
        _lip(front, f"buttonhole-lip-{number}-{place}", f"Buttonhole {number}, {place} lip", length)
        for place in ("upper", "lower")
    ]


def _lip(front: CutPiece, name: str, title: str, length: float) -> CutPiece:
    half, deep = length / 2 + LIP_ENDS, LIP_DEEP
    corners = (Point(-half, -deep), Point(half, -deep), Point(half, deep), Point(-half, deep))
    names = ("lower", "right-end", "upper", "left-end")
    stops = ("a", "b", "c", "d", "a")
    sides = itertools.pairwise((*corners, corners[0]))
    out = length / 2 if front.hand is Hand.RIGHT else -length / 2
    piece = Piece(
        name=name,
        title=title,
        cut=Cut.WHOLE,
        edges=tuple(
            Edge(edge, Path.line(a, b), stops[i], stops[i + 1])
            for i, (edge, (a, b)) in enumerate(zip(names, sides, strict=True))
        ),
        lines=(Line("fold", LineKind.FOLD, Path.line(Point(out, 0.0), Point(-out, 0.0)), "outer", "inner"),),
    )
    return CutPiece.as_drawn(piece, front.garment, front.cloth, corners, is_matched=True)


# --- what is sewn on -----------------------------------------------------------------------------------------------


def closures_of(pieces: Sequence[CutPiece], front_laps_over: Hand, fastenings: Fastenings) -> tuple[Closure, ...]:
    """Returns every fastening in the order of the pieces: holes, buttons, hooks, zips."""
    found: list[Closure] = []
    chosen = fastenings.chosen
    hole_kind = ClosureKind.BOUND_HOLE if fastenings.is_bound else ClosureKind.WORKED_HOLE
    button = ClosureKind.COVERED_BUTTON if chosen.covered_buttons else ClosureKind.BUTTON
    in_columns = any(mark.name.startswith("twin-button-") for piece in pieces for mark in piece.piece.marks)
    for piece in pieces:
        for mark in piece.piece.marks:
            stem, _, number = mark.name.rpartition("-")
            if stem == "sleeve-button":
                found.append(Closure(mark.name, button, piece.name, mark.at, SLEEVE_BUTTON))
            elif stem == "hook":
                found.append(Closure(mark.name, ClosureKind.HOOK, piece.name, mark.at, 0.0))
            elif stem == "button" and piece.hand is front_laps_over:
                found.append(Closure(f"buttonhole-{number}", hole_kind, piece.name, mark.at, fastenings.hole))
            elif stem == "button" and in_columns:
                # of two columns the holes lie over the twins; under the other's twins the top one holds the edge
                if number == "1":
                    inside = ClosureKind.INNER_BUTTON
                    found.append(Closure("inner-button", inside, piece.name, mark.at, INNER_BUTTON))
            elif stem in ("button", "twin-button"):
                found.append(Closure(mark.name, button, piece.name, mark.at, fastenings.button_diameter))
    return (*found, *(zip_ for piece in pieces for zip_ in _zips(piece)), *_bands(pieces, chosen))


def _zips(piece: CutPiece) -> list[Closure]:
    """Returns the zip of an opening once, told on its right half: as long as the opening."""
    if piece.hand is Hand.LEFT or part_of(piece.piece) not in (Part.BODY, Part.TOP):
        return []
    found: list[Closure] = []
    for notch in piece.piece.notches:
        edge = piece.piece.edge(notch.edge)
        if notch.name == "zip-end" and plain_name(notch.edge) == "centre-back":
            found.append(Closure("zip", ClosureKind.ZIP, piece.name, edge.path.at(notch.at), notch.at))
        elif notch.name == "fly-end" and notch.edge == "crotch":
            length = edge.path.length - notch.at if edge.end == "waist" or edge.start == "fork" else notch.at
            found.append(Closure("zip", ClosureKind.ZIP, piece.name, edge.path.at(notch.at), length))
    return found


def _bands(pieces: Sequence[CutPiece], chosen: Closures) -> list[Closure]:
    kinds = {
        BandFastening.HOOK: ClosureKind.HOOK_AND_BAR,
        BandFastening.SNAP: ClosureKind.SNAP,
        BandFastening.BUTTON: ClosureKind.BUTTON,
    }
    bands = [p for p in pieces if part_of(p.piece) is Part.BAND and p.hand is not Hand.LEFT]
    return [Closure("band", kinds[chosen.band], piece.name, None, 0.0) for piece in bands]


def closure_findings(
    pieces: Sequence[CutPiece], closures: Sequence[Closure], fastenings: Fastenings, stage: Stage
) -> tuple[Finding, ...]:
    """Returns what there is to say of where the fastenings stand: over the edge, at the hem, on the zip's seam."""
    by_name = {piece.name: piece for piece in pieces}
    found: list[Finding] = []
    holes = [c for c in closures if c.kind in (ClosureKind.WORKED_HOLE, ClosureKind.BOUND_HOLE)]
    for hole in holes:
        piece = by_name[hole.piece]
        edge = None if hole.at is None else _front_edge(piece, hole.at)
        if edge is None or hole.at is None:
            continue
        beyond = (edge - hole.at).length
        least = fastenings.button_diameter / 2 + LEAST_BEYOND_BUTTON
        if beyond < least - 0.05:
            found.append(
                Finding(
                    Weight.CAUTION,
                    f"{hole.piece}.{hole.name}",
                    f"the edge lies {beyond:.0f} mm beyond the button's middle; half the button and 6 mm are"
                    f" {least:.0f}.",
                    "Take a smaller button or a wider wrap.",
                )
            )
            break
    found += _hem_findings(by_name, holes)
    fold = PREFIX + TOP_FOLD
    folded = next((h for h in holes if any(line.name == fold for line in by_name[h.piece].piece.lines)), None)
    if folded is not None and not fastenings.is_bound:
        found.append(
            Finding(
                Weight.NOTE,
                f"{folded.piece}.{folded.name}",
                "the facing's fold lies behind this hole, which is worked through it.",
                'Bound (closures.buttonholes = "bound"), its back would be finished by the fold, cut open.',
            )
        )
    for closure in closures:
        if closure.kind is ClosureKind.ZIP and "skirt" in closure.piece:
            width = min(
                (a.width(stage) for a in by_name[closure.piece].allowances if a.edge == "centre-back"), default=99
            )
            if width < ZIP_ALLOWANCE:
                found.append(
                    Finding(
                        Weight.CAUTION,
                        f"{closure.piece}.centre-back",
                        f"an allowance of {width:.0f} mm is narrow for a zip set by hand; it wants 19 mm.",
                        "Leave more when trimming after the fitting, or face the edge with a strip of silk.",
                    )
                )
    return tuple(found)


def _hem_findings(pieces: dict[str, CutPiece], holes: Sequence[Closure]) -> list[Finding]:
    if not holes:
        return []
    lowest = holes[-1]
    piece = pieces[lowest.piece]
    hem = next((edge.path for edge in piece.piece.edges if edge.name == "hem"), None)
    if hem is None or lowest.at is None:
        return []
    over = lowest.at.y - hem.at(hem.nearest(lowest.at)).y
    if over >= LEAST_OVER_HEM - 0.5:
        return []
    return [
        Finding(
            Weight.NOTE,
            f"{lowest.piece}.{lowest.name}",
            f"the lowest button stands {over:.0f} mm over the hem; a published lesson asks for 4 in (102 mm) at least.",
            "Set closures.lowest_button_above_hem, or fewer buttons.",
        )
    ]
