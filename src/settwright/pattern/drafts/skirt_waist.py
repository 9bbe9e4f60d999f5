"""What a skirt's waist is held by: a waistband or a ribbon, each stretch of the skirt held in to its own part of it.

Between the darts, or between the pleats, the skirt is a little longer than what it is sewn to; beside the zip nothing
is held in.
"""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from dataclasses import dataclass, replace

from settwright.geometry import Path, Point
from settwright.pattern.drafts.record import Recorder
from settwright.pattern.piece import Cut, Edge, Line, LineKind, Notch, Piece, Seam, Side

SHORT = 5.5  # by which a ribbon ends before the skirt's edge at the zip, so that the zip runs clear of it


@dataclass(frozen=True)
class Stretch:
    """A stretch of a panel's waist, told from the centre outwards, and the length that it is held in to."""

    panel: str  # "front" or "back"
    first: str
    last: str
    length: float
    held: float

    @classmethod
    def of(cls, panel: str, first: str, last: str, length: float) -> Stretch:
        """Returns a stretch that isn't held in."""
        return cls(panel, first, last, length, length)


@dataclass(frozen=True)
class Waist:
    """The waist's right half: each panel's stretches from its centre outwards."""

    back: tuple[Stretch, ...]
    front: tuple[Stretch, ...]

    def held_in(self, excess: float) -> Waist:
        """Returns the waist held in by `excess` on the half, in proportion, none of it beside the zip."""
        part = excess / sum(s.length for s in (*self.back[1:], *self.front))

        def held(s: Stretch) -> Stretch:
            return replace(s, held=s.length * (1 - part))

        return Waist((self.back[0], *map(held, self.back[1:])), tuple(map(held, self.front)))

    def short_of_the_zip(self) -> Waist:
        """Returns the waist whose stretch beside the zip begins where a ribbon does."""
        first = self.back[0]
        begun = replace(first, first="ribbon-end", length=first.length - SHORT, held=first.held - SHORT)
        return Waist((begun, *self.back[1:]), self.front)

    @property
    def length(self) -> float:
        """Of what holds the half, as held in."""
        return sum(s.held for s in (*self.back, *self.front))

    def seams(self, other: str) -> tuple[Seam, ...]:
        """Returns one seam for each stretch, numbered from the centre front and from the side."""
        found: list[Seam] = []
        for stretches in (self.front, tuple(reversed(self.back))):
            for number, s in enumerate(stretches, 1):
                stops = (s.first, s.last) if s.panel == "front" else (s.last, s.first)
                edge = s.panel if other in ("waistband", "waist-ribbon") else "waist"
                name = other if other in ("waistband", "waist-ribbon") else f"{other}-{s.panel}"
                found.append(
                    Seam(
                        f"waist-{s.panel}-{number}",
                        Side(f"skirt-{s.panel}", "waist"),
                        Side(name, edge),
                        stops,
                        (s.held - s.length,),
                    )
                )
        return tuple(found)


def between_darts(panel: str, lengths: Sequence[float], numbers: Sequence[int]) -> tuple[Stretch, ...]:
    """Returns a panel's stretches between its darts, told with their numbers from the centre outwards."""
    stops = [f"centre-{panel}"]
    for number in numbers:
        near, far = ("a", "b") if panel == "front" else ("b", "a")
        stops += [f"dart-{number}-{near}", f"dart-{number}-{far}"]
    stops.append("side")
    return tuple(Stretch.of(panel, stops[2 * i], stops[2 * i + 1], length) for i, length in enumerate(lengths))


def draw_waistband(r: Recorder, waist: Waist) -> Piece:
    """Returns the whole band, twice its finished width, the wearer's right end with the underlap."""
    fold = r["waistband width"]
    band = _strip(waist, "waistband", "Waistband", 2 * fold, r["underlap"])
    low, high = band.edge("lower").path, band.edge("upper").path
    half = waist.length
    return replace(
        band,
        lines=(
            Line("fold", LineKind.FOLD, Path.line(Point(low.start.x, fold), Point(low.end.x, fold))),
            Line("underlap", LineKind.PLACE, Path.line(Point(-half, 0.0), Point(-half, high.end.y))),
            *band.lines,
        ),
        grain_mark=Point(0.0, fold),
    ).on_grain()


def draw_ribbon(r: Recorder, waist: Waist) -> Piece:
    """Returns the ribbon that faces the waist, its lower edge sewn; it ends short of the zip on both sides."""
    r.found("ribbon as cut", "waist-ribbon", "the waist held in, short of the zip at either end", 2 * waist.length)
    r.number(
        "longest ribbon that the waist allows",
        "waist-ribbon",
        f"half waist × 2 − {2 * SHORT:.0f} mm",
        "common practice, no source: to it the skirt can be let out later without touching a seam",
    )
    for s in (*waist.front, *waist.back):
        r.found(f"held in from {s.first} to {s.last}", f"skirt-{s.panel}", "its part of the whole", s.length - s.held)
    ribbon = _strip(waist, "waist-ribbon", "Waist ribbon", r["ribbon width"], 0.0)
    return replace(ribbon, grain_mark=Point(0.0, r["ribbon width"] / 2)).on_grain()


def _strip(waist: Waist, name: str, title: str, high: float, underlap: float) -> Piece:
    """Returns a straight strip, centre front in its middle, the skirt's panels and darts marked on its lower edge."""
    front, half = sum(s.held for s in waist.front), waist.length
    right, left = -half - underlap, half
    lines: list[Line] = []
    notches: list[Notch] = []
    centre_back = waist.back[0].first
    for hand, sign in (("right", -1.0), ("left", 1.0)):
        for panel, stretches, start in (("front", waist.front, 0.0), ("back", tuple(reversed(waist.back)), front)):
            ends = (stretches[0].first, stretches[-1].last) if panel == "front" else (stretches[0].last, centre_back)
            along = sum(s.held for s in stretches)
            path = Path.line(Point(sign * start, 0.0), Point(sign * (start + along), 0.0))
            lines.append(Line(f"{panel}.{hand}", LineKind.PLACE, path, *ends))
            at = 0.0
            for s, after in itertools.pairwise(stretches):
                at += s.held
                pair = (s.last, after.first) if panel == "front" else (s.first, after.last)
                notches += [Notch(stop, f"{panel}.{hand}", at) for stop in pair]
    return Piece(
        name=name,
        title=title,
        cut=Cut.WHOLE,
        edges=(
            Edge("lower", Path.line(Point(right, 0.0), Point(left, 0.0)), "right-end", "left-end"),
            Edge("left-end", Path.line(Point(left, 0.0), Point(left, high)), "lower", "upper"),
            Edge("upper", Path.line(Point(left, high), Point(right, high)), "left-end", "right-end"),
            Edge("right-end", Path.line(Point(right, high), Point(right, 0.0)), "upper", "lower"),
        ),
        notches=tuple(notches),
        lines=tuple(lines),
        grain=0.0,
    )
