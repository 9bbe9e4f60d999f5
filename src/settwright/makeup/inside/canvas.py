"""Canvas: the front's from edge to edge of what must stand, the stiffer pieces of chest and shoulder, the collar's.

The front's canvas is the front itself up to a line from below the arm to behind the facing at the hem, its darts cut
as the shell's. Chest and shoulder pieces lie on it, behind the roll line. Reach and widths are common practice, no
source.
"""

from __future__ import annotations

import math
from dataclasses import replace

from settwright.commission.inside import Canvas
from settwright.geometry import Path, Point, hook_curve
from settwright.makeup.inside.body_lining import LOWER, SEAM_EDGES
from settwright.makeup.inside.facing_edge import front_edge
from settwright.makeup.inside.made import Made, named, step
from settwright.makeup.inside.shaping import cut_off, finished, laid_open, opening_of
from settwright.pattern.piece import Draft, Layer, Piece

BELOW_ARM = 60.0  # of the armhole, along the seam
BEHIND_FACING = 25.0  # at the hem and up to the waist
ABOVE_WAIST = 30.0  # where the canvas begins at a princess seam
BELOW_BREAK = 60.0  # where a half canvas ends at the front edge
BEHIND_ROLL = 15.0  # the chest piece keeps clear of the roll line, so that the lapel rolls
FROM_NECK = 25.0  # along the shoulder
CHEST_BELOW_ARM = 40.0
SHOULDER_DEPTH = 95.0  # of the shoulder piece
_DOWN, _RIGHT = Point(0.0, -1.0), Point(1.0, 0.0)
_COLLARS = ("under-collar", "stand-collar")


def canvas(draft: Draft, reach: Canvas) -> Made:
    """Returns the canvas of fronts and collar."""
    pieces = {piece.name: piece for piece in draft.pieces}
    if reach is Canvas.NONE or "front" not in pieces:
        return Made()
    made: list[Piece] = []
    back = _back_line(draft, pieces["front"])
    for name in ("front", f"front{LOWER}"):
        if name not in pieces or (name != "front" and reach is Canvas.HALF):
            continue
        piece = pieces[name]
        is_panel = name == "front" and _is_princess(piece) and any(e.name == "waist" for e in piece.edges)
        shaped = piece if back is None or is_panel else _kept(piece, back, "back-edge")
        if reach is Canvas.HALF:
            shaped = _kept(piece, _half_line(piece), "lower-edge")
        made.append(_as(shaped, piece, "canvas", Layer.INTERLINING))
    if "side-front" in pieces:
        beside = pieces["side-front"]
        line = _before_the_sleeve(beside) if _grows_on(beside) else _below_arm(beside, BELOW_ARM)
        made.append(_as(_kept(beside, line, "lower-edge"), beside, "canvas", Layer.INTERLINING))
    for name in _COLLARS:
        if name in pieces:
            made.append(replace(_as(pieces[name], pieces[name], "canvas", Layer.INTERLINING), bias=math.pi / 4))
    of = "canvas"
    return Made(
        pieces=tuple(made),
        steps=(
            step(of, "canvas below the arm", "along the seam, below the armhole", BELOW_ARM),
            step(of, "canvas behind the facing", "at the hem and up to the waist: it is stepped against the facing's"
                 " edge", BEHIND_FACING),
        ),
    )  # fmt: skip


def chest_pieces(draft: Draft) -> Made:
    """Returns what stiffens chest and shoulder: laid on the canvas, the shoulder piece on the bias."""
    pieces = {piece.name: piece for piece in draft.pieces}
    if "front" not in pieces or any(name in pieces and _grows_on(pieces[name]) for name in ("front", "side-front")):
        return Made()  # a sleeve cut in one with the front hangs from a soft shoulder
    made: list[Piece] = []
    for name in ("front", "side-front"):
        if name not in pieces:
            continue
        piece = pieces[name]
        chest = _kept(piece, _below_arm(piece, CHEST_BELOW_ARM), "lower-edge")
        if name == "front":
            chest = _kept(chest, _roll_edge(piece), "roll-edge")
        made.append(_as(chest, piece, "chest canvas", Layer.HAIRCLOTH))
        shoulder = next((edge.path for edge in chest.edges if edge.name == "shoulder"), None)
        if shoulder is not None:
            down = (shoulder.end - shoulder.start).unit.left * SHOULDER_DEPTH
            line = Path.line(shoulder.end + down, shoulder.start + down)
            upper = _kept(chest, line, "lower-edge-of-shoulder")
            made.append(replace(_as(upper, piece, "shoulder canvas", Layer.HAIRCLOTH), bias=math.pi / 4))
    return Made(
        pieces=tuple(made),
        steps=(
            step("chest canvas", "chest piece behind the roll line", "so that the lapel rolls", BEHIND_ROLL),
            step("chest canvas", "depth of the shoulder piece", "from the shoulder seam", SHOULDER_DEPTH),
        ),
    )


def _as(shaped: Piece, of: Piece, word: str, layer: Layer) -> Piece:
    kept = ("bust", "waist", "roll-line", "centre-front")
    return finished(
        replace(
            shaped,
            name=f"{of.name}-{word.replace(' ', '-')}",
            title=named(of, word),
            layer=layer,
            follows=of.name,
            marks=tuple(mark for mark in shaped.marks if mark.name == "bust-point"),
            lines=tuple(line for line in shaped.lines if line.name in kept or "dart" in line.name),
        )
    )


def _kept(piece: Piece, line: Path, name: str) -> Piece:
    """Returns the part of a piece left of a line; the whole piece where the line passes it by."""
    try:
        return cut_off(piece, line, name)
    except ValueError:
        return piece


def _seam_behind(piece: Piece) -> Path | None:
    """Returns a front piece's edge towards the back, from the top down."""
    edge = next((e for e in piece.edges if e.name in SEAM_EDGES), None)
    if edge is None:
        return None
    return edge.path if edge.path.start.y > edge.path.end.y else edge.path.reversed()


def _clear_of_darts(piece: Piece, at: float) -> float:
    """Returns a place down the seam towards the back that isn't in a dart's mouth."""
    edge = next(e for e in piece.edges if e.name in SEAM_EDGES)
    falls = edge.path.start.y > edge.path.end.y
    stops = [n.at for n in piece.notches if n.edge == edge.name and n.name.startswith("bust-dart")]
    mouth = sorted(s if falls else edge.path.length - s for s in stops)
    if mouth and mouth[0] - 12.0 < at < mouth[1] + 12.0:
        return mouth[1] + 12.0
    return at


def _back_line(draft: Draft, front: Piece) -> Path | None:
    """Returns the canvas's back edge, from under the arm down to the hem behind the facing; None without a facing."""
    facing, seam = front_edge(draft), _seam_behind(front)
    if facing is None or seam is None:
        return None
    foot = facing.path.start - _RIGHT * BEHIND_FACING
    foot = Point(foot.x, foot.y - 5.0)
    if _grows_on(front):  # a kimono's front: the canvas ends where the sleeve begins
        start = front.edge("overarm").path.at(front.stop("overarm", "shoulder-point"))
        at_waist = Point(foot.x, 0.0)
        return hook_curve(start, _DOWN, at_waist, _DOWN, (0.3, 0.4)).then(Path.line(at_waist, foot))
    if _is_princess(front):
        at = seam.where_y(ABOVE_WAIST)
        start = seam.at(at[0]) if at else seam.end
    else:
        start = seam.at(_clear_of_darts(front, BELOW_ARM))
    if start.x > foot.x - 20.0:
        return None
    waist = Point(foot.x, min(0.0, start.y - 80.0))
    return hook_curve(start, Point(1.0, -0.35), waist, _DOWN, (0.42, 0.42)).then(Path.line(waist, foot))


def _grows_on(piece: Piece) -> bool:
    """Whether a sleeve is cut in one with a piece."""
    return any(edge.name == "overarm" for edge in piece.edges)


def _before_the_sleeve(side_front: Piece) -> Path:
    """Returns the lower edge of a kimono's side front's canvas: from where the sleeve begins to the seam before it."""
    start = side_front.edge("overarm").path.at(side_front.stop("overarm", "shoulder-point"))
    seam = side_front.edge("princess-front").path
    end = seam.at(seam.where_y(ABOVE_WAIST)[0]) + _RIGHT * 10.0
    return hook_curve(start, _DOWN, end, Point(1.0, -0.35), (0.4, 0.4))


def _is_princess(front: Piece) -> bool:
    """Whether a front's armhole, if it has any, doesn't reach under the arm."""
    return not any(e.name == "armhole" and e.end.startswith("underarm") for e in front.edges)


def _half_line(front: Piece) -> Path:
    """Returns a half canvas's lower edge, from the seam towards the back to below the break point."""
    seam = _seam_behind(front)
    edge = front.edge("front-edge").path
    end = edge.at(max(edge.length - BELOW_BREAK, edge.length * 0.3))
    assert seam is not None
    at = seam.where_y(ABOVE_WAIST) if _is_princess(front) else ()
    start = seam.at(at[0] if at else _clear_of_darts(front, BELOW_ARM))
    return hook_curve(start, Point(1.0, -0.5), end, Point(1.0, -0.1), (0.35, 0.35))


def _below_arm(piece: Piece, below: float) -> Path:
    """Returns a line across a front or side front from under the arm to its other side, a little lower there."""
    points = piece.outline.points(1.0)
    right = max(p.x for p in points)
    seams = [e for e in piece.edges if e.name in SEAM_EDGES]
    armhole = next((e for e in piece.edges if e.name == "armhole"), None)
    if armhole is not None and seams:
        under = min(armhole.path.start, armhole.path.end, key=lambda p: round(p.y, 3))
        own = min(seams, key=lambda e: round(min((e.path.start - under).length, (e.path.end - under).length), 3))
        path = own.path if (own.path.start - under).length < (own.path.end - under).length else own.path.reversed()
        start = path.at(_clear_of_darts(piece, below) if own.name == "side" and piece.name == "front" else below)
    else:
        start = Point(min(p.x for p in points), piece.mark("bust-point").y if _has_bust(piece) else 0.0)
    bust = piece.mark("bust-point").y if _has_bust(piece) else start.y
    end = Point(right + 10.0, min(start.y, bust) - 25.0)
    return hook_curve(start, _RIGHT, end, Point(1.0, -0.2), (0.4, 0.3))


def _has_bust(piece: Piece) -> bool:
    return any(mark.name == "bust-point" for mark in piece.marks)


def _roll_edge(front: Piece) -> Path:
    """Returns the chest piece's front edge: behind a line from the break point to the shoulder, beside the neck."""
    edge = front.edge("front-edge").path
    break_point = edge.end
    foot = break_point - _RIGHT * BEHIND_ROLL
    top_edge = next((e for e in front.edges if e.name in ("shoulder", "overarm", "raglan")), None)
    assert top_edge is not None
    top = top_edge.path.at(min(FROM_NECK, top_edge.path.length * 0.3))
    opening = next((o for n in ("gorge-dart", "shoulder-dart") if (o := opening_of(front, n, stayed="a"))), None)
    closed = top if opening is None or opening.name == "shoulder-dart" else opening.opened.inverse()(top)
    line = Path.line(Point(foot.x, foot.y - 150.0), foot, closed)
    return laid_open(line, opening if opening and opening.name == "gorge-dart" else None)[0]
