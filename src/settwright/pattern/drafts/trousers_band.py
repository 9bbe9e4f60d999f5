"""What finishes the waist: a band in halves, a whole band or a ribbon; the trousers are held in to it."""

from __future__ import annotations

import itertools
from dataclasses import dataclass, replace

from settwright.geometry import Path, Point
from settwright.pattern.drafts.record import Recorder
from settwright.pattern.drafts.trousers_fly import SHIELD_TOP
from settwright.pattern.drafts.trousers_waist import Pleat, WaistLine
from settwright.pattern.piece import Cut, Edge, Line, LineKind, Notch, Piece, Seam, Side


@dataclass(frozen=True)
class Band:
    """The waistband and its seams with the waist."""

    piece: Piece
    seams: tuple[Seam, ...]


@dataclass(frozen=True)
class _Stretch:
    """A stretch of the waist between folds, from the centre front to the centre back, and its length of band."""

    piece: str
    number: int
    first: str
    last: str
    trousers: float
    band: float


def draw_band(r: Recorder, front: WaistLine, back: WaistLine, *, is_whole: bool) -> Band:
    """Returns the band's right half, or the whole band; nothing is held in beside the fly."""
    stretches = _stretches(r, front, back)
    seams = tuple(
        Seam(
            f"trousers-waist-{s.piece}-{s.number}",
            Side(f"trousers-{s.piece}", "waist"),
            Side("trousers-waistband", s.piece),
            (s.first, s.last),
            (s.band - s.trousers,),
        )
        for s in stretches
    )
    half = _half(r, stretches)
    if is_whole:
        whole = replace(half, notches=()).unfolded("centre-back")
        hands = [replace(notch, edge=f"{notch.edge}.{hand}") for hand in ("right", "left") for notch in half.notches]
        return Band(replace(whole, notches=tuple(hands)), seams)
    across = Side("trousers-waistband", "centre-back")
    return Band(half, (*seams, Seam("trousers-band-centre-back", across, across, ("upper", "lower"), (0.0,), True)))


def measure_ribbon(r: Recorder) -> None:
    """Keeps the lengths of a waist ribbon, which is bought, not drafted."""
    of = "waist ribbon"
    r.number("length held in to the ribbon", of, "half waist × 2 − finished waist")
    r.found("finished ribbon", of, "from centre front to centre front, as the finished waist", r["finished waist"])
    r.number("ribbon to cut", of, f"finished ribbon + {SHIELD_TOP:g} mm + 2 × 20 mm")


def _stretches(r: Recorder, front: WaistLine, back: WaistLine) -> tuple[_Stretch, ...]:
    lengths = [path.length for path in front.stretches]
    behind = [path.length for path in reversed(back.stretches)]  # from the side to the centre back
    kept = lengths[0] if len(lengths) > 1 else 0.0  # beside the fly
    excess = sum(lengths) + sum(behind) - r["finished waist"] / 2
    held = excess / (sum(lengths) + sum(behind) - kept)
    found: list[_Stretch] = []
    for piece, along, folds, ends in (
        ("front", lengths, front.folds, ("centre-front", "side")),
        ("back", behind, back.folds, ("side", "centre-back")),
    ):
        stops = [ends[0]]
        for number, fold in enumerate(folds, 1):
            kind = "pleat" if isinstance(fold, Pleat) else "dart"
            stops += [f"{kind}-{number}-a", f"{kind}-{number}-b"]
        stops.append(ends[1])
        for i, length in enumerate(along):
            is_kept = piece == "front" and i == 0 and kept > 0
            band = length if is_kept else length * (1.0 - held)
            found.append(_Stretch(piece, i + 1, stops[2 * i], stops[2 * i + 1], length, band))
    return tuple(found)


def _half(r: Recorder, stretches: tuple[_Stretch, ...]) -> Piece:
    """Returns the right half, twice its finished width, with an end to lap under as far as the shield."""
    along = sum(s.band for s in stretches)
    right, high = along + SHIELD_TOP, 2 * r["waistband width"]
    lines: list[Line] = []
    notches: list[Notch] = []
    x = along
    for name, start, end in (("front", "centre-front", "side"), ("back", "side", "centre-back")):
        of = [s for s in stretches if s.piece == name]
        length = sum(s.band for s in of)
        lines.append(Line(name, LineKind.PLACE, Path.line(Point(x, 0.0), Point(x - length, 0.0)), start, end))
        at = 0.0
        for before, after in itertools.pairwise(of):
            at += before.band
            notches += [Notch(before.last, name, at), Notch(after.first, name, at)]
        x -= length
    corners = Point(0.0, 0.0), Point(right, 0.0), Point(right, high), Point(0.0, high)
    return Piece(
        name="trousers-waistband",
        title="Trousers waistband",
        cut=Cut.PAIR,
        edges=(
            Edge("lower", Path.line(corners[0], corners[1]), "centre-back", "front-end"),
            Edge("front-end", Path.line(corners[1], corners[2]), "lower", "upper"),
            Edge("upper", Path.line(corners[2], corners[3]), "front-end", "centre-back"),
            Edge("centre-back", Path.line(corners[3], corners[0]), "upper", "lower"),
        ),
        notches=tuple(notches),
        lines=(
            Line("fold", LineKind.FOLD, Path.line(Point(0.0, high / 2), Point(right, high / 2))),
            Line("centre-front", LineKind.CENTRE, Path.line(Point(along, 0.0), Point(along, high)), "lower", "upper"),
            *lines,
        ),
        grain_mark=Point(0.0, high / 2),
        grain=0.0,
    )


__all__ = ["Band", "draw_band", "measure_ribbon"]
