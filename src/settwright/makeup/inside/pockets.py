"""Pocket parts: bags and stays of a jacket's pockets, a welt's canvas, bags of the trousers' side pockets.

Each is laid out from the pocket's own place on the shell. Figures are common practice, no source.
"""

from __future__ import annotations

from dataclasses import replace

from settwright.geometry import Path, Point, hook_curve
from settwright.makeup.inside.made import Made, step
from settwright.makeup.inside.shaping import cut_off, finished
from settwright.pattern.piece import Cut, Draft, Edge, Layer, Line, LineKind, Notch, Piece

WIDER = 15.0  # at each end of the mouth
DEEPEST = 170.0
CLEAR_OF_HEM = 35.0
STAY = 50.0  # depth of the strip behind the mouth
BAG_BELOW = 110.0  # of the trousers' bag, below the mouth's end
HAND = 155.0  # it is as wide below, for a hand
BAG_IN = 75.0  # beyond the mouth's upper end, towards the centre front

# the shell piece by which a pocket with a mouth is known, its line on the front, and the name of its kind
_MOUTHS = (
    ("flap", "flap-place", "flap"),
    ("jetting-upper", "pocket-place", "jetted"),
    ("welt", "pocket-place", "welt"),
)


def pocketing(draft: Draft) -> Made:
    """Returns the pocket parts of a garment; nothing where it has no pocket."""
    pieces = {piece.name: piece for piece in draft.pieces}
    for piece, line, kind in _MOUTHS:
        if piece in pieces:
            front = next(p for n in ("front", "front-lower") if (p := pieces.get(n)) and _has_line(p, line))
            return _mouth_pocket(front, line, kind)
    if "pocket-underlay" in pieces and "trousers-front" in pieces:
        return _side_pocket(pieces["trousers-front"])
    return Made()


def _has_line(piece: Piece, name: str) -> bool:
    return any(line.name == name for line in piece.lines)


def welt_canvas(draft: Draft) -> Made:
    """Returns what stiffens a welt: its outer half, cut net."""
    welt = next((piece for piece in draft.pieces if piece.name == "welt"), None)
    if welt is None:
        return Made()
    half = cut_off(welt, welt.edge("fold").path, "fold", ends=("front-end", "back-end"))
    canvas = replace(
        half, name="welt-canvas", title="Welt canvas", layer=Layer.INTERLINING, follows=welt.name, lines=()
    )
    return Made(pieces=(finished(canvas),))


def _mouth_pocket(front: Piece, line: str, kind: str) -> Made:
    place = front.edge(line).path
    right, left = max(place.start, place.end), min(place.start, place.end)
    low = min(p.y for p in front.edge("hem").path.points())
    depth = min(DEEPEST, place.start.y - low - CLEAR_OF_HEM)
    bag = _bag(left - Point(WIDER, 0.0), right + Point(WIDER, 0.0), depth)
    mouth = (Notch("front-end", "top", WIDER), Notch("back-end", "top", bag.edge("top").path.length - WIDER))
    made = [
        replace(bag, name=f"{kind}-pocket-{word}", title=title, notches=mouth, follows=front.name)
        for word, title in (("bag", "Pocket bag, next to the cloth"), ("bag-inner", "Pocket bag, inner"))
    ]
    strip = _bag(left - Point(WIDER + 10.0, -STAY / 2), right + Point(WIDER + 10.0, STAY / 2), STAY, is_square=True)
    made.append(replace(strip, name=f"{kind}-pocket-stay", title="Pocket stay", follows=front.name))
    return Made(
        pieces=tuple(made),
        steps=(
            step("pocket", "depth of the pocket bag", "from the pocket line, 35 mm clear of the hem at least", depth),
            step("pocket", "pocket bag wider than the mouth", "at each end", WIDER),
        ),
    )


def _bag(left: Point, right: Point, depth: float, *, is_square: bool = False) -> Piece:
    down = Point(0.0, -depth)
    radius = 0.0 if is_square else min(30.0, depth / 3)
    low_left, low_right = left + down, right + down
    if is_square:
        bottom = Path.line(low_left, low_right)
        sides = Path.line(left, low_left), Path.line(low_right, right)
    else:
        a, b = low_left + Point(0.0, radius), low_left + Point(radius, 0.0)
        c, d = low_right - Point(radius, 0.0), low_right + Point(0.0, radius)
        bottom = hook_curve(a, Point(0.0, -1.0), b, Point(1.0, 0.0), (0.39, 0.39)).then(
            Path.line(b, c), hook_curve(c, Point(1.0, 0.0), d, Point(0.0, 1.0), (0.39, 0.39))
        )
        sides = Path.line(left, a), Path.line(d, right)
    return Piece(
        name="bag",
        title="Pocket bag",
        cut=Cut.PAIR,
        edges=(
            Edge("top", Path.line(right, left), "front-side", "back-side"),
            Edge("back-side", sides[0], "top", "lower"),
            Edge("lower", bottom, "back-side", "front-side"),
            Edge("front-side", sides[1], "lower", "top"),
        ),
        grain_mark=left.between(right) + down * 0.5,
        layer=Layer.POCKETING,
    )


def _side_pocket(front: Piece) -> Made:
    """Returns both halves of the bag of a slant pocket, drawn on the front, its side to the left."""
    waist, side = front.edge("waist").path, front.edge("side").path
    top, end = front.stop("waist", "pocket-top"), front.stop("side", "pocket-end")
    clear = [n.at for n in front.notches if n.edge == "waist" and n.name.startswith(("dart", "pleat"))]
    inner_at = max(top - BAG_IN, max((at for at in clear if at < top), default=0.0) + 2.0)
    inner = waist.at(inner_at)
    foot = side.at(min(end + BAG_BELOW * 0.45, side.length))
    low = Point(side.at(end).x + HAND / 2, side.at(end).y - BAG_BELOW)
    wide = Point(max(inner.x, side.at(end).x + HAND), low.y + 70.0)
    bottom = hook_curve(foot, Point(0.2, -1.0), low, Point(1.0, 0.0), (0.4, 0.4)).then(
        hook_curve(low, Point(1.0, 0.0), wide, Point(0.0, 1.0), (0.5, 0.4))
    )
    back = Piece(
        name="pocket-bag-back",
        title="Pocket bag, back half",
        cut=Cut.PAIR,
        edges=(
            Edge("side", side.part(0.0, side.nearest(foot)), "waist", "lower"),
            Edge("lower", bottom, "side", "inner"),
            Edge("inner", hook_curve(wide, Point(0.0, 1.0), inner, inner - wide, (0.4, 0.3)), "lower", "waist"),
            Edge("waist", waist.part(inner_at, waist.length), "inner", "side"),
        ),
        notches=(Notch("pocket-end", "side", end), Notch("pocket-top", "waist", top - inner_at)),
        lines=(Line("pocket-line", LineKind.PLACE, front.edge("pocket-line").path, "pocket-top", "pocket-end"),),
        layer=Layer.POCKETING,
        follows=front.name,
    )
    mouth = front.edge("pocket-line").path  # from the waist down to the side: the bag's front half lies to its left
    half = cut_off(back, mouth, "mouth", ends=("pocket-top", "pocket-end"))
    half = replace(half, name="pocket-bag-front", title="Pocket bag, front half", lines=())
    return Made(
        pieces=(finished(back), finished(half)),
        steps=(step("pocket", "pocket bag below the mouth", "below its lower end", BAG_BELOW),),
    )
