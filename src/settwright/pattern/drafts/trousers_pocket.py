"""The slant side pocket: its mouth on the front, the facing behind the mouth, the underlay that shows through it."""

from __future__ import annotations

from dataclasses import dataclass, replace

from settwright.geometry import Path, Point
from settwright.pattern.drafts.record import Recorder
from settwright.pattern.drafts.trousers_fly import turned_over
from settwright.pattern.drafts.trousers_halves import Half
from settwright.pattern.drafts.trousers_waist import WaistLine
from settwright.pattern.piece import Cut, Edge, Line, LineKind, Notch, Piece, Seam, Side

UNDER = 45.0  # the underlay reaches past the mouth by this, where a pleat leaves it room
BELOW = 28.0  # and below the mouth's end
FACING = 38.0


@dataclass(frozen=True)
class Pocket:
    """The pocket's mouth on the front, its stops, pieces and seams."""

    line: Path
    from_side: float  # along the waist
    down_side: float  # along the side seam
    pieces: tuple[Piece, ...]
    seams: tuple[Seam, ...]

    def notches(self, waist: float) -> tuple[Notch, ...]:
        """Returns the mouth's ends on a front whose waist edge has a length."""
        return Notch("pocket-top", "waist", waist - self.from_side), Notch("pocket-end", "side", self.down_side)


def draw_pocket(r: Recorder, half: Half, waist: WaistLine) -> Pocket:
    """Returns the pocket of a front, its side to the left."""
    of = "pocket"
    free = waist.stretches[-1]
    r.found("waist free of folds", of, "from the last dart or pleat to the side", free.length)
    r.number("pocket from the side", of, "least of (38 mm; waist free of folds × 0.55)")
    r.found("side from waist to hip", of, "walked", half.side.hip)
    r.number("pocket down the side", of, "most of (120 mm; least of (170 mm; side from waist to hip − 15 mm))")
    inset, down = r["pocket from the side"], r["pocket down the side"]
    top, end = free.at(free.length - inset), half.side.path.at(down)
    line = r.drawn("pocket's mouth", of, "straight from the waist to the side", Path.line(top, end))
    return Pocket(
        line=line,
        from_side=inset,
        down_side=down,
        pieces=_pieces(line, free, half.side.path, inset, down),
        seams=(
            Seam(
                "pocket-mouth",
                Side("trousers-front", "pocket-line"),
                Side("pocket-facing", "mouth"),
                ("pocket-top", "pocket-end"),
                (0.0,),
            ),
            Seam(
                "pocket-side",
                Side("pocket-underlay", "side"),
                Side("trousers-back", "side"),
                ("waist", "pocket-end"),
                (0.0,),
            ),
        ),
    )


def with_own_pocket(front: Piece) -> tuple[Piece, Piece, Piece]:
    """Returns a front whose side was altered with its pocket's mouth straight again, and underlay and facing for it."""
    waist, side = front.edge("waist").path, front.edge("side").path
    top, down = front.stop("waist", "pocket-top"), front.stop("side", "pocket-end")
    folds = [n.at for n in front.notches if n.edge == "waist" and n.name.startswith(("dart", "pleat"))]
    free = waist.part(max((at for at in folds if at < top), default=0.0), waist.length)
    mouth = Path.line(waist.at(top), side.at(down))
    lines = tuple(replace(line, path=mouth) if line.name == "pocket-line" else line for line in front.lines)
    return (replace(front, lines=lines), *_pieces(mouth, free, side, waist.length - top, down))


def _pieces(line: Path, free: Path, side: Path, inset: float, down: float) -> tuple[Piece, Piece]:
    return _underlay(line, free, side, inset, down), turned_over(_facing(line, free, inset))


def _underlay(line: Path, free: Path, side: Path, inset: float, down: float) -> Piece:
    reach = min(inset + UNDER, free.length - 2.0)
    along = line.end - line.start
    inner = free.at(free.length - reach)
    low = side.at(down + BELOW)
    foot = line.end + along * ((low.y - line.end.y) / along.y) + Point(UNDER, 0.0)
    waist = free.part(free.length - reach, free.length)
    return Piece(
        name="pocket-underlay",
        title="Pocket underlay",
        cut=Cut.PAIR,
        edges=(
            Edge("side", side.part(0.0, down + BELOW), "waist", "lower"),
            Edge("lower", Path.line(low, foot), "side", "inner"),
            Edge("inner", Path.line(foot, inner), "lower", "waist"),
            Edge("waist", waist, "inner", "side"),
        ),
        notches=(Notch("pocket-end", "side", down), Notch("pocket-top", "waist", waist.length - inset)),
        lines=(Line("pocket-line", LineKind.PLACE, line, "pocket-top", "pocket-end"),),
        grain_mark=line.at(line.length / 2),
    )


def _facing(line: Path, free: Path, inset: float) -> Piece:
    """Returns the facing as it lies under the front."""
    reach = min(FACING, free.length - inset - 2.0)
    along = line.end_tangent
    inner = free.at(free.length - inset - reach)
    corner = line.end + along.left * FACING
    return Piece(
        name="pocket-facing",
        title="Pocket facing",
        cut=Cut.PAIR,
        edges=(
            Edge("mouth", line, "pocket-top", "pocket-end"),
            Edge("lower", Path.line(line.end, corner), "pocket-end", "inner"),
            Edge("inner", Path.line(corner, inner), "lower", "waist"),
            Edge("waist", free.part(free.length - inset - reach, free.length - inset), "inner", "pocket-top"),
        ),
        grain_mark=line.at(line.length / 2) + along.left * (reach / 2),
        grain=(-along).angle,
    )


__all__ = ["Pocket", "draw_pocket", "with_own_pocket"]
