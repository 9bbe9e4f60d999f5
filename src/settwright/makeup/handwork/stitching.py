"""Which stitch goes where: every seam, dart and edge of what is cut, with its length and the step it belongs to.

Practice of the trade, from memory: basted before it is sewn, sewn by machine where it is straight and hidden, by hand
where it is seen or must give. An edge that no rule names is overcast.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from settwright.geometry import Path, Point
from settwright.makeup.allowances import plain_name
from settwright.makeup.facing import FRONT_FOLDS, NECK
from settwright.makeup.handwork.roles import JACKET, SKIRT, TROUSERS, Joint, Part, Work, part_of
from settwright.makeup.model import CutPiece, Sewing, SewnPair, Step
from settwright.pattern import LineKind


@dataclass(frozen=True)
class _Use:
    """A stitch along a seam or edge: in how many rows, the class of the seam by ISO 4916, and in which step.

    No step: where the seam itself is sewn. Of several the first that stands.
    """

    stitch: str
    rows: float = 1.0
    seam_class: str = ""
    steps: tuple[str, ...] = ()


_BASTED = ("baste the body", "thread-trace and baste the skirt", "thread-trace and baste the trousers")
_TRACED = ("thread-trace the body", *_BASTED[1:])
_SLIP = _Use("slip baste", steps=_BASTED)
_SEWN = _Use("lockstitch", seam_class="1")
_BASTE = _Use("baste")
_PLAIN = (_SLIP, _SEWN)
_SLEEVED = (_Use("slip baste", steps=("baste the sleeves",)), _SEWN)
_FACED = (_BASTE, _SEWN, _Use("prick stitch"))
_LATER = _Use("baste", steps=("second fitting",))

_BY_JOINT: dict[Joint, tuple[_Use, ...]] = {
    Joint.DART: (_Use("baste", steps=_BASTED), _Use("lockstitch")),
    Joint.BACK_DART: (_Use("baste", steps=_BASTED), _Use("lockstitch")),
    Joint.SLEEVE_SEAM: _SLEEVED,
    Joint.ARMHOLE: (_LATER, _Use("ease thread", 2.0, steps=("baste the sleeves",)), _Use("back stitch", 1.0, "1")),
    Joint.RAGLAN: (_LATER, _SEWN),
    Joint.GUSSET: (_BASTE, _SEWN),
    Joint.COLLAR_SEAM: (_SEWN,),
    Joint.SHAWL_BACK: _PLAIN,
    Joint.SHAWL_NECK: (_LATER, _SEWN),
    Joint.NECK: (_LATER, _Use("fell", 1.0, "2")),
    Joint.COLLAR_EDGE: (_BASTE, _Use("fell", 1.0, "2")),
    Joint.EDGE: _FACED,
    Joint.FACING_JOIN: (_BASTE, _SEWN),
    Joint.FACING_FOLD: (_BASTE, _Use("back stitch"), _Use("fell")),
    Joint.FACING_SHOULDER: (_BASTE, _SEWN),
    Joint.FACING_BACK: (_BASTE, _SEWN),
    Joint.FACING_COLLAR: (_BASTE, _SEWN),
    Joint.FACING_NECK: (_BASTE, _Use("slip stitch", 1.0, "2")),
    Joint.POCKET: (_BASTE, _SEWN, _Use("prick stitch")),
    Joint.PATCH: (_BASTE, _Use("back stitch", 2.0, "3")),
    Joint.FLY: (_BASTE, _SEWN),
    Joint.FLY_SHIELD: (_Use("fell", 1.0, "2"),),
    Joint.SEAT: (_SLIP, _Use("back stitch", 1.0, "1")),
    Joint.BAND_SEAM: (_BASTE, _SEWN),
    Joint.WAIST: (_BASTE, _SEWN),
    Joint.LINING_SEAM: (_SEWN,),
    Joint.LINING_IN: (_BASTE, _Use("fell", 1.0, "2")),
    Joint.INTERLINING: (_BASTE, _Use("catch stitch")),
    Joint.STAY: (_BASTE, _Use("fell", 2.0)),
    Joint.OTHER: (_BASTE, _SEWN),
}
_OPEN_TO_VIEW = (SKIRT, TROUSERS)  # nothing covers their allowances, or only a loose lining
_OVERCAST = _Use("overcast", 2.0, "6")  # both allowances of a seam pressed open
_PRESSED_OPEN = (
    *(Joint.CENTRE_BACK, Joint.SIDE, Joint.FRONT_PANEL, Joint.BACK_PANEL),
    *(Joint.INSEAM, Joint.SHOULDER, Joint.SEAT),
)

_CATCH = _Use("catch stitch", 1.0, "6")
_FELL = _Use("fell", 1.0, "2")
_HEMS = ("turn up the hems", "hem the skirt flat", "line and hem the skirt", "hem the trousers")
_LININGS = ("line the jacket", "line and hem the skirt", "line the trousers")


def _at(steps: tuple[str, ...], *uses: _Use) -> tuple[_Use, ...]:
    return tuple(_Use(use.stitch, use.rows, use.seam_class, steps) for use in uses)


# (parts, edges, uses): the first row that fits; no parts or no edges stand for any
_EdgeRule = tuple[tuple[Part, ...], tuple[str, ...], tuple[_Use, ...]]
_BY_EDGE: tuple[_EdgeRule, ...] = (
    ((Part.LINING,), ("hem",), _at(_LININGS, _Use("slip stitch", 1.0, "6"))),
    ((Part.LINING,), (), _at(_LININGS, _FELL)),
    ((Part.INTERLINING,), (), _at(("set the interlining", "make the under collar"), _Use("catch stitch"))),
    ((Part.STAY,), (), _at(("tape the front edges", "stay the fold of the front"), _Use("fell"))),
    ((Part.PATCH,), (), _at(("bind the buttonholes",), _Use("overcast"))),
    ((Part.COVER,), (), _at(("cover the buttons",), _Use("ease thread", 2.0))),
    ((Part.SLEEVE,), ("hem",), _at(("make the sleeves",), _BASTE, _CATCH)),
    ((Part.SLEEVE,), ("hindarm",), _at(("make the sleeves",), _BASTE, _CATCH, _Use("slip stitch"))),
    ((Part.FACING,), ("hem", "facing-hem"), _at(("turn up the hems",), _FELL)),
    ((Part.FACING,), (), _at(("turn up the hems", "make the bodice top"), _CATCH)),
    ((), ("hem", "sleeve-hem"), _at(_HEMS, _BASTE, _CATCH)),
    ((), ("facing-hem",), _at(("turn up the hems",), _FELL)),
    ((), ("facing-inner",), _at(("turn up the hems",), _CATCH)),
    ((Part.COLLAR,), (), _at(("set the collar",), _BASTE, _FELL)),
    ((Part.FLY,), ("waist",), _at(("set the band",), _BASTE)),
    ((Part.FLY,), ("inner", "lower"), _at(("make the fly",), _FELL)),
    ((Part.FLY,), (), _at(("make the fly",), _Use("overcast", 1.0, "6"))),
    ((Part.BAND,), ("lower",), ()),  # sewn to the waist along lines drawn within the band
    ((Part.BAND,), (), _at(("finish the waist", "set the band"), _FELL)),
    ((Part.TOP,), ("neck", "armhole"), _at(("make the bodice top",), _BASTE, _FELL)),
    ((Part.BODY,), ("waist",), _at(("finish the waist", "set the band"), _BASTE, _FELL)),
)
_LINED = _at(("make the pockets", "make the trousers' pockets"), _FELL)
_TURNED = _at(("make the pockets", "make the trousers' pockets"), _BASTE, _CATCH)
_RAW = (_Use("overcast", 1.0, "6"),)
_BAG = _at(("make the pockets", "make the trousers' pockets"), *_RAW)
_VENT = _at(("make the vents", "make the vent", "make the sleeves"), _BASTE, _CATCH, _Use("slip stitch"))
_ZIP = _at(("set the zip",), _Use("baste", 2.0), _Use("prick stitch", 2.0, "7"), _Use("fell", 2.0, "2"))
_TAPE = _at(("tape the front edges",), _Use("fell", 2.0))
_FOLD = _at(("stay the fold of the front", "turn the front on its fold"), _BASTE, _Use("catch stitch", 2.0))
_ROLL = _at(("tape the roll line and pad the lapels",), _Use("fell", 2.0))
PAD_ROWS = 8.0  # between the rows of pad stitching, on the lapel and on the fall; from memory


def stitching(
    pieces: Sequence[CutPiece], sewn: Sequence[SewnPair], works: Sequence[Work], steps: Sequence[Step]
) -> tuple[Sewing, ...]:
    """Returns every stretch of stitching, by the order of the steps; lengths to 0.1 mm."""
    place = {step.name: number for number, step in enumerate(steps)}
    garments = tuple(dict.fromkeys(work.garment for work in works))
    sewing_step = {(garment, seam): step.name for step in steps for seam in step.seams for garment in garments}
    last_sewing = {work.garment: step.name for step in steps for work in works if sewing_step[work.key] == step.name}
    by_name = {piece.name: piece for piece in pieces}
    pairs = {(by_name[pair.a.piece].garment, pair.name): pair for pair in sewn}
    found: list[Sewing] = []

    def add(use: _Use, where: str, length: float, own: str) -> None:
        step = next((name for name in use.steps if name in place), own)
        found.append(Sewing(step, where, use.stitch, round(length * use.rows, 1), use.seam_class))

    for work in works:
        own, pair = sewing_step[work.key], pairs.get(work.key)
        length = _walked(pair) if pair else _dart_length(by_name[work.a.piece], work.a.edge)
        zipped = _walked(pair, work.stops.index("zip-end")) if pair and _is_zipped(work) else 0.0
        for use in _uses(work):
            if use.stitch != "ease thread" or (pair and abs(pair.ease) > _EASED):
                add(use, work.name, length - zipped if use is _SEWN else length, own)
        for use in _ZIP if zipped else ():
            add(use, f"{work.name}: zip", zipped, own)
        for use in _TAPE if work.joint is Joint.EDGE and _TAPE[0].steps[0] in place else ():
            add(use, f"{work.name}: tape", length, own)
    stretches = _Taken.of(works)
    for piece in pieces:
        own = last_sewing.get(piece.garment, steps[-1].name)
        add(_Use("thread trace", steps=_traced(piece, steps)), f"{piece.name}: lines", _traced_length(piece), own)
        for edge, start, end in stretches.open(piece):
            for use in _edge_uses(piece, plain_name(edge)):
                add(use, f"{piece.name}, {plain_name(edge)}", end - start, own)
        for name, length, uses in _inner(piece):
            for use in uses:
                add(use, f"{piece.name}, {name}", length, own)
    return tuple(sorted(found, key=lambda sewing: place[sewing.step]))


def open_stretches(piece: CutPiece, works: Sequence[Work]) -> tuple[tuple[str, float, float], ...]:
    """Returns the stretches of a piece's edges that no seam takes: (edge, from, to) in arc length; darts are shut."""
    return tuple(_Taken.of(works).open(piece))


_EASED = 3.0  # more than this is drawn in with threads
_LEAST = 5.0  # shorter gaps are the corner of a seam


@dataclass(frozen=True)
class _Taken:
    """Which stops of which edges are sewn: the first and the last of each seam, by piece and edge."""

    seams: dict[tuple[str, str], list[tuple[str, ...]]]

    @classmethod
    def of(cls, works: Sequence[Work]) -> _Taken:
        seams: dict[tuple[str, str], list[tuple[str, ...]]] = {}
        for work in works:
            for side in (work.a, work.b):
                if work.stops:
                    seams.setdefault((side.piece, side.edge), []).append(work.stops)
        return cls(seams)

    def open(self, piece: CutPiece) -> Iterator[tuple[str, float, float]]:
        """Yields the stretches that are left."""
        for edge in piece.piece.edges:
            at = {edge.start: 0.0, edge.end: edge.path.length}
            at |= {notch.name: notch.at for notch in piece.piece.notches if notch.edge == edge.name}
            taken = [[at[stop] for stop in stops] for stops in self.seams.get((piece.name, edge.name), ())]
            taken += [[place, at[f"{stop[:-1]}b"]] for stop, place in at.items() if _is_mouth(stop, at)]
            reached = 0.0
            for places in (*sorted(taken, key=min), [edge.path.length]):
                if min(places) - reached > _LEAST:
                    yield edge.name, reached, min(places)
                reached = max(reached, *places)


def _is_mouth(stop: str, stops: dict[str, float]) -> bool:
    return stop.endswith("-a") and f"{stop[:-1]}b" in stops


def _is_zipped(work: Work) -> bool:
    return work.joint is Joint.CENTRE_BACK and "zip-end" in work.stops


def _walked(pair: SewnPair, last_stop: int = -1) -> float:
    """Returns the length of a seam's longer side, which the thread runs along, up to one of its stops."""
    pairs = pair.pairs[: pair.stops[last_stop][1] + 1]
    sides = ([a for a, _ in pairs], [b for _, b in pairs])
    return max(sum((q - p).length for p, q in itertools.pairwise(points)) for points in sides)


def _dart_length(piece: CutPiece, line: str) -> float:
    """Returns how far a dart is sewn: one leg, or half of the line from one end of its mouth to the other."""
    length = piece.piece.edge(line).path.length
    return length if plain_name(line).endswith("-leg") else length / 2


def _uses(work: Work) -> tuple[_Use, ...]:
    uses = _BY_JOINT.get(work.joint, _PLAIN)
    is_open = work.garment in _OPEN_TO_VIEW and work.joint in _PRESSED_OPEN
    return (*uses, _OVERCAST) if is_open else uses


def _edge_uses(piece: CutPiece, edge: str) -> tuple[_Use, ...]:
    part = part_of(piece.piece)
    if part is Part.POCKET:
        return _LINED if "lining" in piece.piece.name else _TURNED if piece.piece.name == "flap" else _BAG
    if any(notch.name == "vent-top" and plain_name(notch.edge) == edge for notch in piece.piece.notches):
        return _VENT
    for parts, edges, uses in _BY_EDGE:
        if (not parts or part in parts) and (not edges or edge in edges):
            return uses
    return _RAW


def _traced(piece: CutPiece, steps: Sequence[Step]) -> tuple[str, ...]:
    """Returns where a piece is thread-traced: the body and the skirt in a step of their own, the rest when cut."""
    by_part = {Part.BODY: _TRACED, Part.TOP: _TRACED, Part.SLEEVE: ("baste the sleeves",)}
    own = {JACKET: _TRACED[:1], SKIRT: _TRACED[1:2], TROUSERS: _TRACED[2:]}
    part = part_of(piece.piece)
    named = own.get(piece.garment, ()) if by_part.get(part) == _TRACED else by_part.get(part, ())
    return (*named, *(step.name for step in steps if step.name.startswith("cut ") and piece.name in step.pieces))


def _traced_length(piece: CutPiece) -> float:
    return sum(edge.path.length for edge in piece.piece.edges) + sum(line.path.length for line in piece.piece.lines)


def _inner(piece: CutPiece) -> Iterator[tuple[str, float, tuple[_Use, ...]]]:
    """Yields what is sewn within a piece: the tape of a roll line or fold, and the rows of pad stitches."""
    part = part_of(piece.piece)
    for line in piece.piece.lines:
        if part is Part.BODY and line.kind is LineKind.ROLL and not line.name.startswith("facing-"):
            yield "roll line: tape", line.path.length, _ROLL
            yield (
                "lapel: pad stitch",
                lapel_area(piece, line.path) / PAD_ROWS,
                _padded("tape the roll line and pad the lapels"),
            )
        elif part is Part.BODY and line.kind is LineKind.FOLD and line.name in (*FRONT_FOLDS, NECK):
            yield "fold: tape", line.path.length, _FOLD
        elif line.kind is LineKind.FOLD and "pleat" in line.name and plain_name(line.name).endswith("-fold"):
            yield line.name.replace("-", " "), line.path.length, _at(("lay the pleats", *_BASTED), _BASTE)
    if piece.piece.name == "under-collar":
        yield "pad stitch", abs(piece.piece.area) / PAD_ROWS, _padded("make the under collar")


def _padded(step: str) -> tuple[_Use, ...]:
    return _at((step,), _Use("pad stitch"))


def lapel_area(piece: CutPiece, roll: Path) -> float:
    """Returns the area of a front's lapel, square millimetres: what the chord of its roll line cuts off, up to a fold.

    Nothing where the front has no lapel.
    """
    edges = {plain_name(edge.name): edge.path for edge in piece.piece.edges}
    fold = next((line.path for line in piece.piece.lines if line.name == "front-edge"), None)
    outer = edges.get("lapel") or fold
    if outer is None:
        return 0.0
    beyond = _cut_off(piece.seam_line, roll, outer.at(outer.length * 0.75))
    if fold is not None:
        beyond = _cut_off(beyond, fold, roll.at(roll.length / 2))
    along = (roll.end - roll.start).unit
    kept = [p for p in beyond if along.dot(p - roll.start) >= -1.0]
    return abs(sum(p.cross(q) for p, q in itertools.pairwise((*kept, *kept[:1])))) / 2


def _cut_off(polygon: Sequence[Point], line: Path, towards: Point) -> list[Point]:
    """Returns the part of a polygon that lies to one side of a line's chord, drawn on both ways."""
    along = (line.end - line.start).unit
    side = along.cross(towards - line.start)
    sides = [(p, along.cross(p - line.start) * side) for p in polygon]
    kept: list[Point] = []
    for (p, a), (q, b) in itertools.pairwise((*sides, *sides[:1])):
        if a >= 0:
            kept.append(p)
        if a * b < 0:
            kept.append(p + (q - p) * (a / (a - b)))
    return kept
