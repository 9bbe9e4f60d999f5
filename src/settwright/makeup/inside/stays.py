"""What stays and pads: the stay across the back, strips for the hems, sleeve heads, the shoulder pad's plan.

Each is measured on the shell's pieces. Reach and widths are common practice, no source.
"""

from __future__ import annotations

import math
from dataclasses import replace

from settwright.geometry import Path, Point, Transform, hook_curve
from settwright.makeup.inside.body_lining import BODY, LOWER, SEAM_EDGES
from settwright.makeup.inside.facing_edge import front_edge
from settwright.makeup.inside.made import Made, named, step
from settwright.makeup.inside.shaping import cut_off, finished
from settwright.pattern.piece import Cut, Draft, Edge, Layer, Line, LineKind, Notch, Piece, Step

BACK_DEPTH = 190.0  # of the back's stay, down the centre back
BELOW_ARM = 60.0
HEM_STRIP = 55.0  # the hem's allowance after the fitting, and 10 mm
STRIP_LAP = 20.0
HEAD_WIDTH = 45.0
PAD_OUT = 10.0  # beyond the armhole's seam
PAD_FRONT, PAD_BACK = 75.0, 95.0  # down the armhole from the shoulder
PAD_FROM_NECK = 25.0
PAD_LAYER = 2.0  # of wadding, pressed: a pad is built of layers, each smaller than the one below (from memory)
_RIGHT = Point(1.0, 0.0)


def back_stay(draft: Draft) -> Made:
    """Returns the stay across the back's shoulders, on the straight grain."""
    pieces = {piece.name: piece for piece in draft.pieces}
    if "back" not in pieces:
        return Made()
    back = pieces["back"]
    centre = back.edge("centre-back").path
    start = centre.at(min(BACK_DEPTH, centre.length * 0.6))
    made: list[Piece] = []
    for name in ("back", "side-back"):
        if name not in pieces:
            continue
        piece = pieces[name]
        try:
            made.append(_as(cut_off(_without_sleeve(piece), _across(piece, start.y), "lower-edge"), piece))
        except (ValueError, IndexError):
            continue
    return Made(
        pieces=tuple(made),
        steps=(step("back stay", "depth of the back's stay", "down the centre back from the nape", BACK_DEPTH),),
    )


def _as(shaped: Piece, of: Piece) -> Piece:
    kept = ("bust", "waist")
    lines = tuple(line for line in shaped.lines if line.name in kept or "dart" in line.name)
    stay = replace(shaped, name=f"{of.name}-stay", title=named(of, "stay"), layer=Layer.POCKETING, follows=of.name)
    return finished(replace(stay, marks=(), lines=lines))


def _without_sleeve(piece: Piece) -> Piece:
    """Returns a back up to where the sleeve begins that is cut in one with it; any other back as it is."""
    under = next((edge for edge in piece.edges if edge.name == "sleeve-underarm"), None)
    if under is None:
        return piece
    over = piece.edge("overarm").path.at(piece.stop("overarm", "shoulder-point"))
    low = min(under.path.start, under.path.end, key=lambda p: round(p.x, 3))
    return cut_off(piece, Path.line(low, over), "sleeve-side")


def _across(piece: Piece, level: float) -> Path:
    """Returns the stay's lower edge, from the side towards the centre back to below the arm."""
    left = next(e for e in piece.edges if e.name in ("centre-back", *SEAM_EDGES) and e.path.start.y > e.path.end.y)
    right = next(e for e in piece.edges if e.name in SEAM_EDGES and e.path.start.y < e.path.end.y)
    start = left.path.at(left.path.where_y(level)[0])
    is_under_arm = right.end.startswith("underarm")
    low = level if not is_under_arm else min(level, right.path.end.y - 20.0)
    end = right.path.at(right.path.length - BELOW_ARM) if is_under_arm else right.path.at(right.path.where_y(low)[0])
    return hook_curve(start, _RIGHT, end, Point(1.0, -0.4 if is_under_arm else 0.0), (0.4, 0.4))


def hem_strips(draft: Draft) -> Made:
    """Returns bias strips for the hems of body and sleeves, as long as the hems from the canvas round to the back."""
    body, made, steps = _hem_length(draft), list[Piece](), list[Step]()
    if body:
        made.append(_strip("hem-stay", "Hem strip", body + STRIP_LAP, HEM_STRIP, on_bias=True))
        steps.append(step("hem strip", "length of the hem's strip", "walked from the facing's edge to the centre back"
                          " + 20 mm to lap", body + STRIP_LAP))  # fmt: skip
    sleeve = sum(
        piece.edge("hem").path.length
        for piece in draft.pieces
        if piece.layer is Layer.SHELL and "sleeve" in piece.name and any(e.name == "hem" for e in piece.edges)
    ) + sum(e.path.length for piece in draft.pieces if piece.layer is Layer.SHELL for e in piece.edges
            if e.name == "sleeve-hem")  # fmt: skip
    if sleeve:
        made.append(_strip("sleeve-hem-stay", "Sleeve hem strip", sleeve + STRIP_LAP, HEM_STRIP, on_bias=True))
        steps.append(step("hem strip", "length of the sleeve hem's strip", "the sleeve's hem, walked round + 20 mm to"
                          " lap", sleeve + STRIP_LAP))  # fmt: skip
    return Made(pieces=tuple(made), steps=tuple(steps))


def _hem_length(draft: Draft) -> float:
    names = {piece.name for piece in draft.pieces}
    total = 0.0
    facing = front_edge(draft)
    for name in BODY:
        for piece in draft.pieces:
            is_lowest = piece.name == name + LOWER or (piece.name == name and name + LOWER not in names)
            if not is_lowest:
                continue
            hem = piece.edge("hem").path
            if name == "front" and facing is not None:
                total += hem.nearest(facing.path.start)
            else:
                total += hem.length
    return total


def _strip(name: str, title: str, length: float, width: float, *, on_bias: bool) -> Piece:
    low, high = Point(-length / 2, -width / 2), Point(length / 2, width / 2)
    right, left = Point(high.x, low.y), Point(low.x, high.y)
    return Piece(
        name=name,
        title=title,
        cut=Cut.PAIR,
        edges=(
            Edge("lower", Path.line(low, right), "back-end", "front-end"),
            Edge("front-end", Path.line(right, high), "lower", "upper"),
            Edge("upper", Path.line(high, left), "front-end", "back-end"),
            Edge("back-end", Path.line(left, low), "upper", "lower"),
        ),
        bias=math.pi / 4 if on_bias else 0.0,
        layer=Layer.INTERLINING,
    )


def sleeve_head(draft: Draft) -> Made:
    """Returns the strip that fills the sleeve's head, as long as the cap between its pitches."""
    lengths: list[tuple[float, float]] = []
    for piece in draft.pieces:
        for edge in piece.edges:
            if piece.layer is Layer.SHELL and edge.name in ("cap", "front-cap", "back-cap"):
                stops = [n.name for n in piece.notches if n.edge == edge.name]
                crown = piece.stop(edge.name, "shoulder-point")
                for pitch in ("front-pitch", "back-pitch"):
                    if pitch in stops:
                        lengths.append((abs(piece.stop(edge.name, pitch) - crown), crown))
    if len(lengths) != 2:
        return Made()
    front, back = lengths[0][0], lengths[1][0]
    head = replace(_strip("sleeve-head", "Sleeve head", front + back, HEAD_WIDTH, on_bias=True), layer=Layer.WADDING)
    head = replace(
        head,
        edges=tuple(
            replace(e, start={"back-end": "back-pitch", "front-end": "front-pitch"}.get(e.start, e.start),
                    end={"back-end": "back-pitch", "front-end": "front-pitch"}.get(e.end, e.end))
            if e.name == "upper" else e
            for e in head.edges
        ),
        notches=(Notch("shoulder-point", "upper", front),),
    )  # fmt: skip
    return Made(
        pieces=(head,),
        steps=(step("sleeve head", "length of the sleeve head", "the cap from pitch to pitch, walked", front + back),),
    )


def shoulder_pad(draft: Draft) -> Made:
    """Returns the plan of the shoulder pad: front and back laid together at the shoulder, out beyond the armhole.

    It is as thick as the draft was told at the armhole and runs out to nothing elsewhere, in layers whose outlines are
    drawn; none where the draft was told of none.
    """
    pieces = {piece.name: piece for piece in draft.pieces}
    thickness = next((value for step in draft.record for word, value in step.numbers if word == "shoulder pad"), 0.0)
    if not thickness:
        return Made()
    front = next((pieces[n] for n in ("side-front", "front") if _holds_shoulder(pieces.get(n))), None)
    back = next((pieces[n] for n in ("side-back", "back") if _holds_shoulder(pieces.get(n))), None)
    if front is None or back is None:
        return Made()
    seam, other = front.edge("shoulder").path, back.edge("shoulder").path
    tip, neckward = seam.end, (seam.start - seam.end).unit
    turn = math.atan2(neckward.y, neckward.x) - math.atan2(*reversed(_xy(other.end - other.start)))
    lay = Transform.turn(turn, other.start).then(Transform.shift(tip.x - other.start.x, tip.y - other.start.y))
    out = Transform.shift(-neckward.x * PAD_OUT, -neckward.y * PAD_OUT)
    before = front.edge("armhole").path.part(0.0, PAD_FRONT).moved(out)
    behind = back.edge("armhole").path.moved(lay.then(out))
    behind = behind.part(behind.length - PAD_BACK, behind.length)
    whole = sum(
        (e.path.end - e.path.start).length - _mouth(p, e.name)
        for p in (pieces[n] for n in ("front", "side-front") if n in pieces)
        for e in p.edges
        if e.name == "shoulder"
    )
    inner = tip + neckward * (whole - PAD_FROM_NECK)
    gap = behind.end - before.start  # of rounding: both begin at the shoulder point
    armhole = behind.then(before.moved(Transform.shift(gap.x, gap.y)))
    piece = Piece(
        name="shoulder-pad",
        title="Shoulder pad",
        cut=Cut.PAIR,
        edges=(
            Edge("armhole", armhole, "back-end", "front-end"),
            Edge("front-edge", _to_the_neck(armhole.end, inner, neckward), "front-end", "neck-end"),
            Edge("back-edge", _to_the_neck(armhole.start, inner, -neckward).reversed(), "neck-end", "back-end"),
        ),
        notches=(Notch("shoulder-point", "armhole", PAD_BACK),),
        lines=(
            Line("shoulder", LineKind.PLACE, Path.line(tip, inner), "shoulder-point", "neck-end"),
            *_layers(armhole, inner, neckward, math.ceil(thickness / PAD_LAYER)),
        ),
        grain_mark=tip.between(inner, 0.45),
        grain=neckward.left.angle,
        layer=Layer.WADDING,
    )  # fmt: skip
    if piece.area < 0:
        piece = _turned(piece)
    return Made(
        pieces=(piece,),
        steps=(
            step("shoulder pad", "thickness at the armhole", "as the shoulder, armhole and sleeve were drafted for it;"
                 " nothing at the neck and at both ends", thickness),
            step("shoulder pad", "layers of wadding", "one for every 2 mm or part of it, each smaller than the one"
                 " below", float(math.ceil(thickness / PAD_LAYER))),
            step("shoulder pad", "shoulder pad beyond the armhole", "to carry the sleeve's head", PAD_OUT),
            step("shoulder pad", "length of the shoulder pad", "the shoulder seam less 25 mm at the neck, and what lies"
                 " beyond the armhole", whole - PAD_FROM_NECK + PAD_OUT),
        ),
    )  # fmt: skip


def _to_the_neck(start: Point, inner: Point, neckward: Point) -> Path:
    """Returns the pad's edge from one end at the armhole to its end at the neck, where it crosses the shoulder."""
    return hook_curve(start, (inner - start).unit, inner, neckward.left, (0.2, 0.4))


def _layers(armhole: Path, inner: Point, neckward: Point, count: int) -> tuple[Line, ...]:
    """Returns the outlines of the layers above the lowest, each less in every direction by an equal part."""
    found: list[Line] = []
    for number in range(2, count + 1):
        part = 1.0 - (number - 1) / count
        before, behind = armhole.at(PAD_BACK + part * (armhole.length - PAD_BACK)), armhole.at(PAD_BACK * (1 - part))
        end = armhole.at(PAD_BACK).between(inner, part)
        outline = _to_the_neck(before, end, neckward).then(_to_the_neck(behind, end, -neckward).reversed())
        found.append(Line(f"layer-{number}", LineKind.PLACE, outline))
    return tuple(found)


def _xy(p: Point) -> tuple[float, float]:
    return p.x, p.y


def _turned(piece: Piece) -> Piece:
    """Returns a piece with its edges walked the other way."""
    lengths = {e.name: e.path.length for e in piece.edges}
    return replace(
        piece,
        edges=tuple(Edge(e.name, e.path.reversed(), e.end, e.start) for e in reversed(piece.edges)),
        notches=tuple(replace(n, at=lengths[n.edge] - n.at) for n in piece.notches),
    )


def _mouth(piece: Piece, edge: str) -> float:
    at = [n.at for n in piece.notches if n.edge == edge and n.name.startswith("shoulder-dart")]
    return max(at) - min(at) if at else 0.0


def _holds_shoulder(piece: Piece | None) -> bool:
    if piece is None:
        return False
    names = {e.name: e for e in piece.edges}
    if "shoulder" not in names or "armhole" not in names:
        return False
    return "shoulder-point" in (names["armhole"].start, names["armhole"].end)
