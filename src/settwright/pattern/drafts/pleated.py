"""The pleated skirt: straight cloth, its pleats on the bars, the waist shaped in the pleats.

The middle panels before lie flat; from them the pleats are turned towards the sides and on to the centre back, where
the last two meet over the zip. Side seams and centre back lie hidden where a pleat turns back.
"""

from __future__ import annotations

from dataclasses import dataclass

from settwright.geometry import Path, Point, Transform
from settwright.pattern.drafts.bending import swing
from settwright.pattern.drafts.pleats import Pleats, plan_pleats
from settwright.pattern.drafts.record import Recorder
from settwright.pattern.drafts.skirt_waist import SHORT, Stretch, Waist
from settwright.pattern.piece import Cut, Edge, Line, LineKind, Meeting, Notch, Piece, Side, Touch

WIDEST = 1380.0  # of the front: what most cloths give; the side seam, hidden in a pleat, moves forward for it


@dataclass(frozen=True)
class Pleated:
    """The pleats with the skirt's levels."""

    pleats: Pleats
    side: int  # the pleat in which the side seam lies
    drop: float  # of the centre back
    hip: float
    hem: float
    stitched: float  # depth below the waist to which the pleats are stitched down


def lay_pleats(r: Recorder) -> Pleated:
    """Returns the pleats. Raises Refusal where none can be laid."""
    of = "pleats"
    pleats = plan_pleats(r["repeat across the cloth"], r["half hip"], r["half waist"])
    r.found("repeats to a pleat", of, "so that a full pleat shows about 40 mm", float(pleats.repeats),
            ("repeat across the cloth",))  # fmt: skip
    r.found("cloth from fold to fold", of, "so many repeats: each fold lies on the same bar", pleats.cloth)
    r.found("seen of a pleat", of, "a third of its cloth", pleats.seen)
    r.found("depth of a pleat", of, "half of what isn't seen", pleats.depth)
    r.found("folds on the half", of, "what the half hip holds, one or two pleats' width left for the middle panel",
            float(pleats.folds), ("half hip",))  # fmt: skip
    r.found("middle panel, half", of, "what the pleats leave of the half hip", pleats.first)
    r.found("deeper at the waist", of, "half hip less half waist, shared by the pleats", pleats.taken,
            ("half hip", "half waist"))  # fmt: skip
    r.number("stitched down", of, "most of (60 mm; waist to hip − 50 mm)",
             "common practice, no source: to a hand's breadth above the fullest part")  # fmt: skip
    r.number("drop of the centre back", "skirt-back", "10 mm")
    wanted = (r["half hip"] / 2 + 5.0 - pleats.first) / pleats.seen
    side = min(max(round(wanted), 0), pleats.folds - 2)
    while side > 0 and 2 * pleats.inner(side) > WIDEST:
        side -= 1
    return Pleated(pleats, side, r["drop of the centre back"], -r["waist to hip"], -r["length"], r["stitched down"])


def pleated_waist(skirt: Pleated) -> Waist:
    """Returns the waist's stretches that are seen, from the centres outwards."""
    p = skirt.pleats
    seen = p.seen - p.taken
    front = [Stretch.of("front", "centre-front", _stop(0, "fold"), p.first)]
    front += [Stretch.of("front", _stop(n, "cover"), _stop(n + 1, "fold"), seen) for n in range(skirt.side)]
    back = [Stretch.of("back", _stop(n + 1, "fold"), _stop(n, "cover"), seen) for n in range(skirt.side, p.folds - 1)]
    return Waist(tuple(reversed(back)), tuple(front))


def _stop(number: int, line: str) -> str:
    return f"pleat-{number + 1}-{line}"


def _behind(skirt: Pleated, x: float) -> float:
    """Returns which part of the way from the side seam to the centre back a place from the centre front lies."""
    side = skirt.pleats.inner(skirt.side)
    return max(0.0, (x - side) / (skirt.pleats.width - side))


def _height(skirt: Pleated, x: float) -> float:
    """Returns the waist's height there: level before, sinking behind, square to the centre back again."""
    return -skirt.drop * swing(_behind(skirt, x))


def _waist_path(skirt: Pleated, start: float, end: float) -> Path:
    """Returns the waist from a place nearer the front to one nearer the back; the side is at left."""
    a, d = Point(-start, _height(skirt, start)), Point(-end, _height(skirt, end))
    if d.y == a.y:
        return Path.line(a, d)
    behind = skirt.pleats.width - skirt.pleats.inner(skirt.side)
    falls = [6 * skirt.drop * u * (1 - u) / behind for u in (_behind(skirt, start), _behind(skirt, end))]
    third = (end - start) / 3
    return Path.curve(a, a - Point(third, third * falls[0]), d + Point(third, third * falls[1]), d)


def pleat_touches(skirt: Pleated) -> tuple[Touch, ...]:
    """Returns where folds of two pieces are seen side by side: over the side seam, and the last two behind."""
    last = Side("skirt-back", _stop(skirt.pleats.folds - 1, "fold"))
    before, behind = (_stop(skirt.side + k, "fold") for k in (0, 1))
    return (
        Touch("pleats-at-side", Meeting.LAP, Side("skirt-front", before), Side("skirt-back", behind), ("waist", "hem")),
        Touch("pleats-behind", Meeting.LAP, last, last, ("waist", "hem"), across=True),
    )


def _pleat_lines(skirt: Pleated, numbers: range, bounds: tuple[float, float]) -> list[Line]:
    """Returns each pleat's fold, where it turns back, and the line that its fold covers."""
    p, lines = skirt.pleats, list[Line]()

    def upright(name: str, kind: LineKind, x: float, top: float) -> None:
        if bounds[0] + 1e-6 < x < bounds[1] - 1e-6:
            lines.append(Line(name, kind, Path.line(Point(-x, top), Point(-x, skirt.hem)), "waist", "hem"))

    for n in numbers:
        upright(_stop(n, "fold"), LineKind.FOLD, p.fold(n), _height(skirt, p.fold(n)))
        upright(_stop(n, "inner"), LineKind.FOLD, p.inner(n), _height(skirt, p.inner(n)))
        x, top = p.cover(n), p.cover(n) + p.taken
        if bounds[0] + 1e-6 < top < bounds[1] - 1e-6 and n < p.folds - 1:
            end = Point(-x, -skirt.stitched)
            path = Path.line(Point(-top, _height(skirt, top)), end, Point(-x, skirt.hem))
            lines.append(Line(_stop(n, "cover"), LineKind.PLACE, path, "waist", "hem"))
    return lines


def _notches(skirt: Pleated, numbers: range, bounds: tuple[float, float], waist: Path) -> list[tuple[str, float]]:
    """Returns the stops on a waist path that starts at the first of the bounds."""
    p = skirt.pleats
    places = [(_stop(n, "fold"), p.fold(n)) for n in numbers]
    places += [(_stop(n, "cover"), p.cover(n) + p.taken) for n in numbers if n < p.folds - 1]
    return sorted(
        ((name, waist.where_x(-x)[0]) for name, x in places if bounds[0] + 1e-6 < x < bounds[1] - 1e-6),
        key=lambda stop: stop[1],
    )


def pleated_front(skirt: Pleated, jacket_hem: tuple[Line, ...]) -> Piece:
    """Returns the front's right half, its fold at the centre front."""
    p = skirt.pleats
    bounds = (0.0, p.inner(skirt.side))
    numbers = range(skirt.side + 1)
    waist = _waist_path(skirt, *bounds)
    side = Path.line(waist.end, Point(-bounds[1], skirt.hem))
    foot = Point(0.0, skirt.hem)
    return Piece(
        name="skirt-front",
        title="Skirt front",
        cut=Cut.WHOLE,
        edges=(
            Edge("waist", waist, "centre-front", "side"),
            Edge("side", side, "waist", "hem"),
            Edge("hem", Path.line(side.end, foot), "side", "centre-front"),
            Edge("centre-front", Path.line(foot, waist.start), "hem", "waist"),
        ),
        notches=(
            *(Notch(name, "waist", at) for name, at in _notches(skirt, numbers, bounds, waist)),
            Notch("hip", "side", -skirt.hip),
        ),
        lines=(
            Line("hip", LineKind.LEVEL, Path.line(Point(0.0, skirt.hip), Point(-bounds[1], skirt.hip)), "centre-front",
                 "side"),
            *_pleat_lines(skirt, numbers, bounds),
            *jacket_hem,
        ),
        grain_mark=Point(0.0, skirt.hip),
    )  # fmt: skip


def pleated_back(skirt: Pleated, zip_length: float, jacket_hem: tuple[Line, ...], has_ribbon: bool) -> Piece:
    """Returns the back, its side to the right, the centre back where the last pleat turns back behind its fold."""
    p = skirt.pleats
    bounds = (p.inner(skirt.side), p.width)
    numbers = range(skirt.side, p.folds)
    # towards the centre back: the back lies with its centre at the left
    shift = Transform.shift(p.width, 0.0)
    waist = _waist_path(skirt, *bounds)
    stops = _notches(skirt, numbers, bounds, waist)

    def placed(path: Path) -> Path:
        return path.moved(shift)

    side = Path.line(Point(-bounds[0], skirt.hem), waist.start)
    centre = Path.line(waist.end, Point(-p.width, skirt.hem))
    lines = _pleat_lines(skirt, numbers, bounds)
    ribbon = next(at for name, at in stops if name == _stop(p.folds - 1, "fold")) - SHORT
    return Piece(
        name="skirt-back",
        title="Skirt back",
        cut=Cut.PAIR,
        edges=(
            Edge("centre-back", placed(centre), "waist", "hem"),
            Edge("hem", placed(Path.line(centre.end, side.start)), "centre-back", "side"),
            Edge("side", placed(side), "hem", "waist"),
            Edge("waist", placed(waist), "side", "centre-back"),
        ),
        notches=(
            Notch("zip-end", "centre-back", min(zip_length, centre.length - 60.0)),
            Notch("hip", "side", side.length + skirt.hip),
            *(Notch(name, "waist", at) for name, at in stops),
            *([Notch("ribbon-end", "waist", ribbon)] if has_ribbon else []),
        ),
        lines=(
            Line("hip", LineKind.LEVEL, placed(Path.line(Point(-p.width, skirt.hip), Point(-bounds[0], skirt.hip))),
                 "centre-back", "side"),
            *(Line(line.name, line.kind, placed(line.path), line.start, line.end) for line in lines),
            *jacket_hem,
        ),
        grain_mark=Point((p.width - bounds[0]) / 2, skirt.hip),
    )  # fmt: skip
