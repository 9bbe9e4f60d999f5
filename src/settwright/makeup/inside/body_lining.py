"""The jacket's body lining: each shell piece cut off at the facings, let out at its seams, a pleat at the centre back.

The lining is the looser layer in width and length, so that the cloth hangs and the arms move: at each seam it is let
out, under the arm it goes up over the armhole's allowance, at the centre back it has a pleat, and what it is longer
than its place lies at the hem in the jump pleat. Figures are common practice, no source, except where said.
"""

from __future__ import annotations

from dataclasses import replace

from settwright.geometry import ORIGIN, Path, Point
from settwright.makeup.inside.facing_edge import FacingEdge, front_edge, neck_edge, on_sleeve
from settwright.makeup.inside.made import Made, named, step
from settwright.makeup.inside.shaping import Kept, cut_off, finished, recut
from settwright.makeup.inside.vents import with_vent_cut
from settwright.pattern.piece import Cut, Draft, Edge, Layer, Line, LineKind, Notch, Piece, Step

BODY = ("back", "side-back", "side", "side-front", "front")
LOWER = "-lower"
SEAM_EDGES = ("side-back", "side", "side-front", "princess-back", "princess-front")

EASE = 2.0  # let out at each edge of a seam: 4 mm a seam
ARMHOLE_RAISE = 8.0  # under the arm
PLEAT_AT_NECK, PLEAT_AT_HEM = 25.0, 10.0  # on each half
FELLED = 20.0  # the lining's edge is felled so far above the shell's hem
JUMP = 10.0  # ease in length, in the jump pleat
HEM_UP = FELLED - JUMP  # the lining's hem line lies so far above the shell's
FREE = 50.0  # facing and lining are sewn down to here above the hem; below it the lining is felled with its hem
HALF = 60.0  # a half lining's back ends so far below the armhole
_OF_A_KIMONO = {"overarm", "sleeve-underarm"}  # seams of the sleeve: what meets them stays where it is
_TUCK_TO = 0.4  # of the way from the dart's pivot to the facing: where the bust's tuck runs out
_LEAST_TUCK = 2.0


def body_lining(draft: Draft, *, half: bool = False) -> Made:
    """Returns the lining of every piece of the body, with what the facings need to meet it."""
    front, neck = front_edge(draft), neck_edge(draft)
    has_lower = any(piece.name == f"front{LOWER}" for piece in draft.pieces)
    made = Made(steps=_steps())
    for name in BODY:
        for piece in (p for p in draft.pieces if p.name in (name, name + LOWER)):
            made = made.plus(_lined(piece, front, neck, has_lower=has_lower, half=half))
    return made


def _steps() -> tuple[Step, ...]:
    of = "body lining"
    return (
        step(of, "ease of the lining in width", "2 mm let out at each edge of a seam", EASE),
        step(of, "pleat at the neck", "on each half, kept out of the hand's way by basting at neck and waist",
             PLEAT_AT_NECK),
        step(of, "pleat at the hem", "on each half", PLEAT_AT_HEM),
        step(of, "lining raised under the arm", "over the armhole's allowance, running out at the shoulder",
             ARMHOLE_RAISE),
        step(of, "lining's hem line above the shell's", "felled above the hem − ease in length, laid in a jump pleat",
             HEM_UP, felled_above_the_hem=FELLED, ease_in_length=JUMP),
    )  # fmt: skip


def _lined(piece: Piece, front: FacingEdge | None, neck: FacingEdge | None, *, has_lower: bool, half: bool) -> Made:
    stops: list[tuple[str, Notch]] = []
    plain = piece.name.removesuffix(LOWER)
    shaped = piece
    if plain == "front" and front is not None:
        shaped, found = off_at_front_facing(piece, front, has_lower=has_lower)
        stops += found
    if piece.name == "back" and neck is not None:
        shaped, found = off_at_neck_facing(piece, neck)
        stops += found
    if plain == "back":
        shaped = with_pleat(shaped, lower=piece.name != plain)
        if half and piece.name != plain:
            return Made(stops=tuple(stops))
        if half:
            shaped = _over_the_shoulders(shaped)
    shaped = with_vent_cut(with_ease(shaped))
    return Made(pieces=(as_lining(shaped, piece),), stops=tuple(stops))


def as_lining(shaped: Piece, of: Piece) -> Piece:
    """Returns a shaped piece under its lining's name."""
    return finished(
        replace(
            shaped,
            name=f"{of.name}-lining",
            title=named(of, "lining"),
            layer=Layer.LINING,
            follows=of.name,
            marks=tuple(mark for mark in shaped.marks if not mark.name.startswith(_SHELL_ONLY)),
            lines=tuple(line for line in shaped.lines if not line.name.startswith(_SHELL_ONLY)),
        )
    )


_SHELL_ONLY = (
    "button", "twin-button", "flap", "collar-edge", "roll-line", "centre-front", "jacket-hem", "vent-fold",
    "vent-facing", "vent-lap", "pocket-place", "patch-place", "sleeve-button", "vent-top",
)  # fmt: skip


def off_at_front_facing(piece: Piece, edge: FacingEdge, *, has_lower: bool) -> tuple[Piece, list[tuple[str, Notch]]]:
    """Returns a front, or its part below the waist, up to the facing's inner edge, called `facing`.

    With it come the stops that the facing needs to be walked along it. The bust's fullness, which the shell takes up
    in a dart under the lapel, is laid in a tuck at that edge. Raises ValueError where the edge doesn't lie on it.
    """
    ends = ("hem", "shoulder")
    if has_lower:
        ends = ("waist", "shoulder") if piece.name == "front" else ("hem", "waist")
    whole = edge.length
    stops = [("lining-end", FREE)] if ends[0] == "hem" else []
    joins = ("second-split", "split")[-(len(edge.parts) - 1) :] if len(edge.parts) > 1 else ()
    stops += [(name, part[2]) for name, part in zip(joins, edge.parts, strict=False)]
    if edge.mouth:
        stops += [("bust-tuck-a", edge.mouth[0]), ("bust-tuck-b", edge.mouth[1])]
    is_raglan = any(e.name == "raglan" for e in piece.edges)
    if is_raglan:
        ends = (ends[0], "raglan")
    cut = cut_off(piece, edge.path, "facing", stops, ends=ends)
    if edge.mouth and (edge.mouth[1] - edge.mouth[0]) >= _LEAST_TUCK and piece.name == "front":
        cut = _tucked(cut, piece)
    path = cut.edge("facing").path
    wanted: list[tuple[str, float]] = []
    for notch in cut.notches:
        if notch.edge == "facing" and notch.name not in joins:
            wanted.append((notch.name, edge.unopened(edge.path.nearest(path.at(notch.at)))))
    if ends[0] == "waist":
        wanted.append(("waist", edge.unopened(edge.path.nearest(path.start))))
    if is_raglan:
        wanted.append(("raglan", min(edge.unopened(edge.path.nearest(path.end)), whole - 1.0)))
    on_facing: list[tuple[str, Notch]] = []
    for name, at in wanted:
        facing, place = edge.on_facing(at)
        on_facing.append((facing, Notch(name, edge.edge, place)))
    return cut, on_facing


def _tucked(cut: Piece, front: Piece) -> Piece:
    """Returns the lining's front with the bust's tuck drawn from the facing's edge."""
    path = cut.edge("facing").path
    a, b = (path.at(cut.stop("facing", f"bust-tuck-{leg}")) for leg in "ab")
    dart = next(line for line in front.lines if line.name in ("gorge-dart", "shoulder-dart"))
    bust = front.mark("bust-point")
    tip = bust.between(a.between(b), _TUCK_TO)
    lines = tuple(line for line in cut.lines if line.name != dart.name)
    return replace(
        cut, lines=(*lines, Line("bust-tuck", LineKind.DART, Path.line(a, tip, b), "bust-tuck-a", "bust-tuck-b"))
    )


def off_at_neck_facing(piece: Piece, edge: FacingEdge) -> tuple[Piece, list[tuple[str, Notch]]]:
    """Returns the back below its neck facing's edge, called `facing`, with the stops that the facing needs."""
    is_raglan = any(e.name == "raglan" for e in piece.edges)
    cut = cut_off(piece, edge.path, "facing", ends=("raglan" if is_raglan else "shoulder", "centre-back"))
    if not is_raglan:
        return cut, []
    at = edge.path.nearest(cut.edge("facing").path.start)
    return cut, [("back-neck-facing", Notch("raglan", edge.edge, max(at, 1.0)))]


def with_pleat(piece: Piece, *, lower: bool) -> Piece:
    """Returns a back with its pleat: the centre back let out by it, what stands above going on as far.

    On a fold the pleat is as deep all the way; with a seam it tapers to the hem, or to nothing at a vent.
    """
    index = next((i for i, e in enumerate(piece.edges) if e.name == "centre-back"), None)
    if index is None:
        return piece
    centre, before = piece.edges[index], piece.edges[index - 1]
    vent = next((n.at for n in piece.notches if n.edge == "centre-back" and n.name == "vent-top"), None)
    on_fold = piece.cut is Cut.WHOLE
    top = PLEAT_AT_HEM if lower and not on_fold else PLEAT_AT_NECK
    foot = top if on_fold else 0.0 if vent is not None else PLEAT_AT_HEM
    path = centre.path
    shifted = recut(
        piece,
        {} if lower else {before.name: Kept(end=top)},
        corners={before.name: Point(-top, 0.0), centre.name: Point(-foot, 0.0)},
        fixed={**({} if vent is None or on_fold else {centre.name: vent}), **_dart_at_the_waist(piece)},
    )
    fold = Line("pleat", LineKind.FOLD, path, "top", "hem")
    if lower or before.end != "centre-back":
        return replace(shifted, lines=(*shifted.lines, fold))
    return replace(
        shifted,
        edges=tuple(replace(e, end="pleat") if e.name == before.name else e for e in shifted.edges),
        notches=(*shifted.notches, Notch("centre-back", before.name, before.path.length)),
        lines=(*shifted.lines, fold),
    )


def _dart_at_the_waist(piece: Piece) -> dict[str, float]:
    """Returns where a dart begins in a waist seam: the pleat lies between it and the centre, not in its mouth."""
    return {n.edge: n.at for n in piece.notches if n.edge == "waist" and n.name == "dart-a"}


def with_ease(piece: Piece) -> Piece:
    """Returns a lining piece let out at its seams, raised under the arm and shortened at the hem."""
    kept: dict[str, Kept] = {}
    count = len(piece.edges)
    for index, edge in enumerate(piece.edges):
        before, after = piece.edges[index - 1], piece.edges[(index + 1) % count]
        ends = (_end(edge.start, before), _end(edge.end, after))
        if edge.name in SEAM_EDGES and not {before.name, after.name} & _OF_A_KIMONO:
            chord = edge.path.end - edge.path.start
            kept[edge.name] = Kept(chord.unit.right * EASE, *ends)
        elif edge.name in ("centre-back", "facing", *SEAM_EDGES):
            kept[edge.name] = Kept(ORIGIN, *ends)
        elif edge.name in _OF_A_KIMONO:
            kept[edge.name] = Kept(ORIGIN, *(-HEM_UP if n.name == "sleeve-hem" else 0.0 for n in (before, after)))
    return recut(piece, kept, by_height=("armhole",))


def _end(stop: str, neighbour: Edge) -> float:
    """Returns by how much a seam goes on at an end."""
    if neighbour.name == "hem":
        return -HEM_UP
    if neighbour.name == "armhole" and stop.startswith("underarm"):
        return ARMHOLE_RAISE
    return 0.0


def _over_the_shoulders(piece: Piece) -> Piece:
    """Returns the upper part of a back, for a half lining: it ends level below the armhole."""
    armhole = next((e for e in piece.edges if e.name in ("armhole", "sleeve-underarm")), None)
    if armhole is None:
        return piece
    low = min(armhole.path.start.y, armhole.path.end.y) - HALF
    points = piece.outline.points(1.0)
    left, right = min(p.x for p in points), max(p.x for p in points)
    return cut_off(piece, Path.line(Point(left, low), Point(right, low)), "hem-of-half")


def sleeve_off_at_facing(draft: Draft, sleeve: Piece) -> Piece:
    """Returns a raglan sleeve's piece without its tip, which lies under the facings; any other piece as it is."""
    edge, body = (front_edge(draft), "front") if sleeve.name == "front-sleeve" else (neck_edge(draft), "back")
    if edge is None or not any(e.name == "raglan" for e in sleeve.edges):
        return sleeve
    path = on_sleeve(edge, draft.piece(body), sleeve)
    ends = ("raglan", "shoulder") if body == "front" else ("shoulder", "raglan")
    return cut_off(sleeve, path, "facing", ends=ends)
