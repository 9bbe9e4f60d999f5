"""The skirt's lining: the shell's panels let out a little, shorter, free at the hem; its pleats taken out.

Its darts are laid as pleats where the shell's are sewn. Figures are common practice, no source.
"""

from __future__ import annotations

import math
from dataclasses import replace

from settwright.geometry import ORIGIN, Path, Point, Transform
from settwright.makeup.inside.body_lining import EASE, as_lining
from settwright.makeup.inside.made import Made, step
from settwright.makeup.inside.shaping import Kept, recut
from settwright.makeup.inside.vents import with_vent_cut
from settwright.pattern.piece import Cut, Draft, Edge, Line, LineKind, Notch, Piece

HEM_UP = 25.0  # the lining's hem line lies so far above the shell's
FLARE = 25.0  # at the hem of each side, of a pleated skirt's lining: it has no pleats to stride in
AT_SIDE = 22.0  # what waist and hip differ by is taken in at the side as far as this, the rest in a tuck
LEAST_TUCK = 6.0
TUCK = 110.0  # its length
SLIT = 200.0  # it is left open so far above its hem
_PANELS = ("skirt-front", "skirt-back")
_TOPS = ("top-front", "top-back")


def skirt_lining(draft: Draft) -> Made:
    """Returns the lining of the skirt's panels, and of a bodice top."""
    made: list[Piece] = []
    steps = [
        step("skirt lining", "ease of the lining in width", "2 mm let out at each side seam", EASE),
        step("skirt lining", "lining's hem line above the shell's", "free at the hem", HEM_UP),
    ]
    for piece in draft.pieces:
        if piece.name in _TOPS:
            made.append(as_lining(piece, piece))
        if piece.name not in _PANELS:
            continue
        if any(line.name.startswith("pleat-") for line in piece.lines):
            made.append(as_lining(_let_out(_without_pleats(piece)), piece))
            if piece.name == _PANELS[0]:
                steps.append(step("skirt lining", "flare of the lining", "at each side of the hem, the sides open"
                                  f" {SLIT:g} mm above it: it has no pleats to stride in", FLARE))  # fmt: skip
        else:
            made.append(as_lining(with_vent_cut(_let_out(piece)), piece))
    return Made(pieces=tuple(made), steps=tuple(steps) if made else ())


def _let_out(piece: Piece) -> Piece:
    kept: dict[str, Kept] = {}
    corners: dict[str, Point] = {}
    for edge in piece.edges:
        plain = edge.name.split(".")[0]
        if plain in ("side", "centre-back"):
            falls = edge.path.start.y > edge.path.end.y
            shift = (edge.path.end - edge.path.start).unit.right * EASE if plain == "side" else ORIGIN
            kept[edge.name] = Kept(shift, *((0.0, -HEM_UP) if falls else (-HEM_UP, 0.0)))
        elif edge.name == "hem.right":
            corners[edge.name] = Point(0.0, HEM_UP)
    return recut(piece, kept, corners=corners)


def _without_pleats(piece: Piece) -> Piece:
    """Returns a pleated panel as wide as what is seen of it: its pleats taken out, flared a little at the side."""
    return _panel(piece, *_widths(piece), whole=piece.name == "skirt-front")


def _widths(piece: Piece) -> tuple[float, float]:
    """Returns how wide a panel is with its pleats laid: at the waist, where they are held, and at the hem."""
    lines = {line.name: line.path for line in piece.lines if line.name.startswith("pleat-")}
    numbers = sorted({int(n.split("-")[1]) for n in lines})
    waist = hem = 0.0
    suffix = ".right" if any(n.endswith(".right") for n in lines) else ""
    for number in numbers:
        cover = lines.get(f"pleat-{number}-cover{suffix}")
        fold = lines.get(f"pleat-{number + 1}-fold{suffix}")
        if cover is not None and fold is not None:
            waist += abs(cover.start.x - fold.start.x)
            hem += abs(cover.end.x - fold.end.x)
    first = lines.get(f"pleat-1-fold{suffix}")
    if piece.name == "skirt-front" and first is not None:
        centre = next(line.path for line in piece.lines if line.name == "centre-front")
        waist += abs(first.start.x - centre.end.x)
        hem += abs(first.end.x - centre.start.x)
    return waist, hem


def _panel(piece: Piece, waist: float, hip: float, *, whole: bool) -> Piece:
    """Returns a plain panel between the levels of a pleated one, its side rounded from waist to hip and flared.

    What waist and hip differ by is taken in at the side, and where that is much, in a tuck.
    """
    low = min(p.y for p in piece.outline.points(1.0))
    level = next(line.path.start.y for line in piece.lines if line.name.split(".")[0] == "hip")
    side_edge = next(e for e in piece.edges if e.name.split(".")[0] == "side")
    top = max(side_edge.path.start.y, side_edge.path.end.y)
    tuck = max(0.0, hip - waist - AT_SIDE)
    tuck = tuck if tuck > LEAST_TUCK else 0.0
    if whole:
        middle = next(line.path for line in piece.lines if line.name == "centre-front")
    else:
        middle = piece.edge("centre-back").path
    x, high = middle.start.x, max(middle.start.y, middle.end.y)
    half = _half(Point(x, high), Point(x + waist + tuck, top), Point(x + hip, level), low)
    zip_end = [n for n in piece.notches if n.edge == "centre-back" and n.name == "zip-end"]
    lines, stops = _tucked(half.edge("waist").path, tuck)
    plain = replace(
        half,
        name=piece.name,
        title=piece.title,
        notches=(*half.notches, *stops, *zip_end),
        lines=lines,
        grain_mark=piece.grain_mark if whole else half.grain_mark,
    )
    if not whole:
        return plain
    # drawn as a back; a front is its mirror image about the fold, unfolded
    over = Transform.shift(-x, 0.0).then(Transform.mirror_x()).then(Transform.shift(x, 0.0))
    edges = tuple(Edge(_as_front(e.name), e.path.moved(over).reversed(), _as_front(e.end), _as_front(e.start))
                  for e in reversed(plain.edges))  # fmt: skip
    lengths = {e.name: e.path.length for e in edges}
    front = replace(
        plain.moved(over),
        edges=edges,
        notches=tuple(Notch(n.name, _as_front(n.edge), lengths[_as_front(n.edge)] - n.at) for n in plain.notches),
        grain_mark=Point(x, level),
        grain=piece.grain,
    )
    return front.unfolded("centre-front")


def _as_front(name: str) -> str:
    return name.replace("centre-back", "centre-front")


def _half(centre: Point, waist: Point, hip: Point, low: float) -> Piece:
    """Returns half a plain panel, its centre at the left."""
    side = _side(waist, hip, low)
    foot = Point(centre.x, low)
    return Piece(
        name="",
        title="",
        cut=Cut.PAIR,
        edges=(
            Edge("centre-back", Path.line(centre, foot), "waist", "hem"),
            Edge("hem", Path.line(foot, side.end), "centre-back", "side"),
            Edge("side", side.reversed(), "hem", "waist"),
            Edge("waist", Path.line(side.start, centre), "side", "centre-back"),
        ),
        notches=(
            Notch("hip", "side", side.length - side.where_y(hip.y)[0]),
            Notch("slit", "side", SLIT),
        ),
        grain_mark=Point((centre.x + hip.x) / 2, hip.y),
    )


def _tucked(waist: Path, width: float) -> tuple[tuple[Line, ...], tuple[Notch, ...]]:
    """Returns a tuck in the middle of the waist, if it is worth laying."""
    if not width:
        return (), ()
    first, last = waist.length / 2 - width / 2, waist.length / 2 + width / 2
    a, b = waist.at(first), waist.at(last)
    line = Line("tuck", LineKind.DART, Path.line(a, a.between(b) - Point(0.0, TUCK), b), "tuck-a", "tuck-b")
    return (line,), (Notch("tuck-a", "waist", first), Notch("tuck-b", "waist", last))


def _side(waist: Point, hip: Point, low: float) -> Path:
    """Returns a side seam downwards: rounded to the hip, then flared."""
    foot = Point(hip.x + math.copysign(FLARE, hip.x - waist.x), low)
    down = (foot - hip).unit
    pull = (hip - waist).length / 3
    inwards = Point((hip.x - waist.x) * 0.9, hip.y - waist.y).unit
    return Path.curve(waist, waist + inwards * pull, hip - down * pull, hip).then(Path.line(hip, foot))
