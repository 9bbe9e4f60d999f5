"""The bodice top: a skirt that hangs from the shoulders under a jacket.

A plain fitted bodice without sleeves, its neck and armholes cut well away, sewn to the skirt's waist stretch by
stretch; its darts stand over the skirt's. Each of its seams keeps a reserve to let out.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from settwright.body import Body
from settwright.commission.design import SkirtDesign
from settwright.findings import Finding, Refusal, Weight
from settwright.geometry import ORIGIN, Path, Point, Transform, crossing, hook_curve
from settwright.pattern.drafts.bending import bent_path
from settwright.pattern.drafts.record import Recorder
from settwright.pattern.drafts.skirt_waist import Stretch, Waist
from settwright.pattern.piece import Cut, Edge, Line, LineKind, Mark, Notch, Piece, Seam, Side

STRAP = 52.0  # width of the shoulder
RESERVED = ("side", "shoulder", "centre-back")  # the seams that keep a reserve
DART_END = 22.0  # a dart ends so far from the bust point
_ARCS = 2  # in each stretch of the waist
_TRIES, _STILL = 60, 1e-11  # of the dart's angle, until it stands


def known_of_the_top(body: Body, design: SkirtDesign) -> dict[str, float]:
    """Returns measurements and choices under the words that the top's rules use."""
    names = (
        "bust_girth", "neck_base_girth", "shoulder_length", "scye_depth", "back_waist_length", "front_waist_length",
        "neck_point_to_bust_point", "bust_point_width",
    )  # fmt: skip
    known = {name.replace("_", " "): body[name] for name in names}
    return known | {
        "shoulder slope angle": body["shoulder_slope"],
        "ease of the top": design.top_ease,
        "let out": design.let_out,
    }


def draft_top(r: Recorder, waist: Waist) -> tuple[tuple[Piece, ...], tuple[Seam, ...]]:
    """Returns the top's front, a whole one, and its backs, with their seams; `waist` is the skirt's.

    The recorder knows `known_of_the_top`. Raises Refusal where the measurements don't make a bodice.
    """
    _reckon(r)
    _check(r)
    length = {panel: sum(s.length for s in stretches) for panel, stretches in (("front", waist.front),
                                                                             ("back", waist.back))}  # fmt: skip
    r.found("front waist of the top", "top-front", "the skirt's", length["front"])
    r.found("back waist of the top", "top-back", "the skirt's", length["back"])
    r.number(
        "intake at the side of the top",
        "bodice top",
        "(half bust of the top − front waist of the top − back waist of the top) × 0.2",
    )
    front = _front(r, waist.front)
    back = _back(r, waist.back)
    seams = _seams(front, back)
    front, back = front.unfolded("centre-front").on_grain(), back.on_grain()
    front, back = (replace(piece, reserves=tuple((edge, r["let out"]) for edge in RESERVED)) for piece in (front, back))
    for name in ("top-side", "top-shoulder", "top-centre-back"):
        r.number(f"reserve at {name}", "bodice top", "let out", "common practice, no source: kept in the seam")
    return (front, back), seams


def with_top_darts(waist: Waist, pieces: tuple[Piece, ...]) -> tuple[Waist, tuple[Piece, ...]]:
    """Returns waist and skirt, a place for the top's dart marked where a panel of the skirt has no dart of its own."""
    front, marked_front = _parted(waist.front, pieces[0])
    back, marked_back = _parted(waist.back, pieces[1])
    return Waist(back, front), (marked_front, marked_back, *pieces[2:])


def _parted(stretches: tuple[Stretch, ...], piece: Piece) -> tuple[tuple[Stretch, ...], Piece]:
    whole = stretches[0]
    if whole.last != "side":
        return stretches, piece
    near, far = ("a", "b") if whole.panel == "front" else ("b", "a")
    halves = (
        Stretch.of(whole.panel, whole.first, f"dart-1-{near}", whole.length / 2),
        Stretch.of(whole.panel, f"dart-1-{far}", whole.last, whole.length / 2),
    )
    edges = [edge for edge in piece.edges if edge.name.split(".")[0] == "waist"]
    stops = [Notch(f"dart-1-{leg}", e.name, e.path.length / 2) for e in edges for leg in "ab"]
    return halves, replace(piece, notches=(*piece.notches, *stops))


def _reckon(r: Recorder) -> None:
    of = "bodice top"
    r.number("half bust of the top", of, "(bust girth + ease of the top) / 2")
    r.number("front of the top", "top-front", "half bust of the top / 2 + 8 mm")
    r.number("back of the top", "top-back", "half bust of the top / 2 − 8 mm")
    r.number("neck width", of, "neck base girth / 5")
    r.number("back neck rise", "top-back", "neck width × 0.3")
    r.number("underarm of the top", of, "back waist length − scye depth − 12 mm")
    r.number("front over back", "top-front", "front waist length − back waist length")
    r.number("side dart", "top-front", "most of (0; least of (60 mm; (front over back + 5 mm) × 0.7))")
    r.number("front neck point height", "top-front",
             "back waist length + most of (−5 mm; least of (85 mm; front over back))")  # fmt: skip
    r.number("strap begins", of, "most of (20 mm; (shoulder length − 52 mm) × 0.55)")
    r.number("bust line", of, "most of (underarm of the top × 0.5; least of (underarm of the top − 25 mm;"
             " front neck point height − neck point to bust point − side dart))")  # fmt: skip
    r.number("bust point from the centre", "top-front", "bust point width / 2 + 3 mm")


def _check(r: Recorder) -> None:
    wrong: list[Finding] = []
    if not 60 <= r["underarm of the top"] <= 330:
        wrong.append(
            Finding(
                Weight.REFUSED,
                "measurements.scye_depth",
                f"a scye {r['scye depth']:.0f} mm deep leaves no side to a back of {r['back waist length']:.0f} mm.",
                "Measure scye depth and back waist length again; both begin at the nape.",
            )
        )
    if not -90 <= r["front over back"] <= 160:
        wrong.append(
            Finding(
                Weight.REFUSED,
                "measurements.front_waist_length",
                "front and back waist length don't belong to one body.",
                "The front is mostly 2 to 6 cm longer; measure both to the same waist tape.",
            )
        )
    if wrong:
        raise Refusal(wrong)


@dataclass(frozen=True)
class _Low:
    """The top's waist from the centre, its side to the left, with one dart's mouth opened in it."""

    path: Path
    stops: tuple[tuple[str, float], ...]
    dart: tuple[Point, Point, Point, Point] | None  # leg, point, leg, mouth's peak

    @property
    def side(self) -> Point:
        """Where the side begins."""
        return self.path.end


def _low(stretches: Sequence[Stretch], half: float, aside: float, tip: Point, under: float) -> _Low:
    """Returns the waist's line: of what half the bust is wider, `aside` goes into the side, the rest into a dart that
    points up to the level of `tip`; without a dart worth sewing, all of it into the side.

    The dart shut, it runs on from the centre to the side, square to both; the side rises to the underarm at `under`. It
    sinks towards the dart as much as it rises from it, so that its ends lie on the waist's level and the mouth is level
    too.
    """
    length = sum(s.length for s in stretches)
    which = _nearest(stretches, tip.x)
    if half - length - aside < 8.0:
        return _without_dart(stretches, half, under)
    side = Point(aside - half, 0.0)
    lean = (Point(-half, under) - side).left.angle % math.tau - math.pi
    inner, outer = stretches[: which + 1], stretches[which + 1 :]
    outer_part = sum(s.length for s in outer) / length

    def laid(angle: float) -> tuple[Path, Path, Point]:
        """The waist before and behind a dart of an angle, and the dart's point."""
        sinks = (angle - lean) * outer_part
        before = _arc(inner, math.pi, math.pi + sinks)
        behind = _arc(outer, math.pi + sinks - angle, math.pi + lean)
        behind = behind.moved(Transform.shift(side.x - behind.end.x, side.y - behind.end.y))
        middle, axis = before.end.between(behind.start), (before.end - behind.start).left.unit
        return before, behind, middle + axis * ((tip.y - middle.y) / axis.y)

    angle = 0.0
    for _ in range(_TRIES):
        before, behind, top = laid(angle)
        half_mouth = (before.end - behind.start).length / 2
        last, angle = angle, 2 * math.asin(min(half_mouth / (top - before.end).length, 1.0))
        if abs(angle - last) < _STILL:
            break
    before, behind, top = laid(angle)
    leg, other = before.end, behind.start
    peak = _peak(leg, other, top, inwards=-before.end_tangent)
    mouth = Path.line(leg, peak, other)
    return _Low(before.then(mouth, behind), _stops(stretches, which, mouth.length), (leg, top, other, peak))


def _without_dart(stretches: Sequence[Stretch], half: float, under: float) -> _Low:
    lean = 0.0
    path = _arc(stretches, math.pi, math.pi)
    for _ in range(_TRIES):
        last, lean = lean, (Point(-half, under) - path.end).left.angle % math.tau - math.pi
        path = _arc(stretches, math.pi, math.pi + lean)
        path = path.moved(Transform.shift(0.0, -path.end.y))
        if abs(lean - last) < _STILL:
            break
    return _Low(path, _stops(stretches, None, 0.0), None)


def _arc(stretches: Sequence[Stretch], first: float, last: float) -> Path:
    """Returns stretches laid end to end from the origin along one arc from one heading to another."""
    steps = [s.length / _ARCS for s in stretches for _ in range(_ARCS)]
    turn = (last - first) / sum(steps)
    return bent_path(ORIGIN, [first + turn * at for at in itertools.accumulate(steps, initial=0.0)], steps)


def _stops(stretches: Sequence[Stretch], which: int | None, mouth: float) -> tuple[tuple[str, float], ...]:
    """Returns the stops between the stretches; behind the one of this index a dart's mouth is opened."""
    stops: list[tuple[str, float]] = []
    at = 0.0
    for index, (s, after) in enumerate(itertools.pairwise(stretches)):
        at += s.length
        stops.append((s.last, at))
        at += mouth if index == which else 0.0
        stops.append((after.first, at))
    if stretches[-1].last != "side":  # a pleat's fold at the side seam
        stops.append((stretches[-1].last, at + stretches[-1].length))
    if not stretches[0].first.startswith("centre"):
        stops.append((stretches[0].first, 0.0))
    return tuple(stops)


def _nearest(stretches: Sequence[Stretch], x: float) -> int:
    """Returns after which stretch the dart that points to x best stands."""
    at, best = 0.0, (math.inf, 0)
    for index, s in enumerate(stretches[:-1]):
        at += s.length
        best = min(best, (abs(at + x), index))
    return best[1]


def _peak(leg: Point, other: Point, top: Point, *, inwards: Point) -> Point:
    """Returns the mouth's peak of a dart pressed to the centre; from its leg the waist runs `inwards`."""
    axis = (leg.between(other) - top).unit
    way = (leg - top).unit
    folded = way * (2 * inwards.dot(way)) - inwards
    return crossing(leg, folded, top, axis)


def _shoulder(r: Recorder, neck: Point, slope: float) -> tuple[Point, Point]:
    """Returns both ends of the strap on a shoulder that falls to the left from a neck point."""
    along = Point(-math.cos(slope), -math.sin(slope))
    return neck + along * r["strap begins"], neck + along * (r["strap begins"] + STRAP)


def _front(r: Recorder, stretches: Sequence[Stretch]) -> Piece:
    half, under, bust = r["front of the top"], r["underarm of the top"], r["bust line"]
    bust_point = Point(-r["bust point from the centre"], bust)
    low = _low(stretches, half, r["intake at the side of the top"], Point(bust_point.x, bust - DART_END), under)
    slope = r["shoulder slope angle"] + 0.04
    inner, outer = _shoulder(r, Point(-r["neck width"], r["front neck point height"]), slope)
    side_top, mouth = Point(-half, under), r["side dart"]
    up = (side_top - low.side).unit
    level = low.side + up * ((min(bust, under - 22.0) - low.side.y) / up.y)
    if mouth:
        tip = Point(min(bust_point.x - DART_END, level.x + 0.92 * half), level.y)
        turn = Transform.turn(-2 * math.asin(mouth / (2 * (level - tip).length)), tip)
        upper = turn(level)
        folded = _mirrored(up, (level - tip).unit)
        peak = crossing(level, folded, tip, (level.between(upper) - tip).unit)
        side = Path.line(turn(side_top), upper, peak, level, low.side)
        arriving = (turn(level + up) - turn(level)).left
    else:
        tip, side, arriving = None, Path.line(side_top, level, low.side), up.left
    armhole = hook_curve(outer, (outer - inner).right.unit * -1.0, side.start, arriving, (0.5, 0.42))
    neck_level = Point(0.0, max(under + 25.0, 0.72 * r["front neck point height"]))
    neck = hook_curve(neck_level, Point(-1.0, 0.0), inner, (outer - inner).right.unit, (0.45, 0.4))
    upper_at = (side.segments[0].length, sum(s.length for s in side.segments[:3])) if mouth else (
        side.segments[0].length, side.segments[0].length)  # fmt: skip
    return Piece(
        name="top-front",
        title="Front of the bodice top",
        cut=Cut.WHOLE,
        edges=(
            Edge("waist", low.path.reversed(), "side", "centre-front"),
            Edge("centre-front", Path.line(low.path.start, neck_level), "waist", "neck"),
            Edge("neck", neck, "centre-front", "neck-point"),
            Edge("shoulder", Path.line(inner, outer), "neck-point", "shoulder-point"),
            Edge("armhole", armhole, "shoulder-point", "underarm"),
            Edge("side", side, "underarm", "waist"),
        ),
        notches=(
            *(Notch(name, "waist", low.path.length - at) for name, at in low.stops),
            *(Notch(f"side-dart-{leg}", "side", at) for leg, at in zip("ab", upper_at, strict=True)),
        ),
        marks=(
            Mark("bust-point", bust_point),
            *([Mark("waist-dart-point", low.dart[1])] if low.dart else []),
            *([Mark("side-dart-point", tip)] if tip else []),
        ),
        lines=(
            Line("bust", LineKind.LEVEL, Path.line(Point(0.0, bust), Point(level.x, bust))),
            *_dart(low),
            *([Line("side-dart", LineKind.DART, Path.line(level, tip, side.segments[0].d).reversed())] if tip else []),
        ),
        grain_mark=Point(0.0, bust / 2),
    )  # fmt: skip


def _mirrored(way: Point, axis: Point) -> Point:
    return axis * (2 * way.dot(axis)) - way


def _dart(low: _Low) -> tuple[Line, ...]:
    if low.dart is None:
        return ()
    leg, top, other, _ = low.dart
    return (Line("waist-dart", LineKind.DART, Path.line(leg, top, other)),)


def _back(r: Recorder, stretches: Sequence[Stretch]) -> Piece:
    half, under = r["back of the top"], r["underarm of the top"]
    low = _low(stretches, half, r["intake at the side of the top"], Point(-0.5 * half, under - 10.0), under)
    slope = r["shoulder slope angle"] - 0.04
    inner, outer = _shoulder(r, Point(-r["neck width"], r["back waist length"] + r["back neck rise"]), slope)
    side_top = Point(-half, under)
    up = (side_top - low.side).unit
    side = Path.line(side_top, low.side)
    armhole = hook_curve(outer, (outer - inner).right.unit * -1.0, side_top, up.left, (0.5, 0.42))
    nape = Point(0.0, max(under + 40.0, r["back waist length"] - 90.0))
    neck = hook_curve(nape, Point(-1.0, 0.0), inner, (outer - inner).right.unit, (0.45, 0.4))
    over = Transform.mirror_x()
    at = min(max(r["bust line"], 20.0), under - 22.0)
    dart_at = (side_top.y - at) / up.y
    edges = (
        Edge("centre-back", Path.line(nape, low.path.start), "nape", "waist"),
        Edge("waist", low.path, "centre-back", "side"),
        Edge("side", side.reversed(), "waist", "underarm"),
        Edge("armhole", armhole.reversed(), "underarm", "shoulder-point"),
        Edge("shoulder", Path.line(outer, inner), "shoulder-point", "neck-point"),
        Edge("neck", neck.reversed(), "neck-point", "nape"),
    )
    return Piece(
        name="top-back",
        title="Back of the bodice top",
        cut=Cut.PAIR,
        edges=tuple(Edge(e.name, e.path.moved(over), e.start, e.end) for e in edges),
        notches=(
            *(Notch(name, "waist", place) for name, place in low.stops),
            *(Notch(f"side-dart-{leg}", "side", side.length - dart_at) for leg in "ab"),
        ),
        marks=(Mark("waist-dart-point", over(low.dart[1])),) if low.dart else (),
        lines=tuple(Line(line.name, line.kind, line.path.moved(over)) for line in _dart(low)),
        grain_mark=Point(half / 2, under / 2),
    )


def _seams(front: Piece, back: Piece) -> tuple[Seam, ...]:
    def seam(name: str, edge: str, first: str, last: str) -> Seam:
        lengths = [abs(piece.stop(edge, last) - piece.stop(edge, first)) for piece in (front, back)]
        ease = round(lengths[1] - lengths[0], 6) + 0.0
        return Seam(name, Side("top-front", edge), Side("top-back", edge), (first, last), (ease,))

    centre = Side("top-back", "centre-back")
    return (
        seam("top-side-upper", "side", "underarm", "side-dart-a"),
        seam("top-side-lower", "side", "side-dart-b", "waist"),
        seam("top-shoulder", "shoulder", "neck-point", "shoulder-point"),
        Seam("top-centre-back", centre, centre, ("nape", "waist"), (0.0,), across=True),
    )
