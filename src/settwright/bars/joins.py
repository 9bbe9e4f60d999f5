"""From the seams of the made-up garment to the joins across which bars should agree."""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from settwright.bars.customs import (
    BEHIND_A_PLEAT,
    BEYOND_THE_PITCH,
    CUSTOMS,
    PAIR,
    PAIR_EDGES,
    WORDS,
    Custom,
    custom_of,
)
from settwright.bars.model import Axis, Importance, Join, Mode, Sample, Wish
from settwright.cloth import Bar, Cloth
from settwright.cloth.dominance import warp_dominance, weft_dominance
from settwright.findings import refuse
from settwright.geometry import Point
from settwright.geometry.tolerances import SAME
from settwright.makeup.model import CutPiece, Hand, MadeUp, SewnPair
from settwright.pattern import LineKind

SPACING = 8.0  # samples along a pair's edge
FULLEST = (("front", "bust"), ("back", "hip"), ("skirt-front", "hip"), ("skirt-back", "hip"))
CLEAR = 12.0  # mm between a bar's edge and the line that it keeps off; from memory
BESIDE_EDGE = 8.0  # mm from a facing's edge to the middle of the bar that runs beside it; from memory
FAR_WEIGHT = 0.2  # what the far end of a stretch counts where a custom names the stop that counts first


def joins_of(made_up: MadeUp, cloth: Cloth, importance: Sequence[tuple[str, Importance]] = ()) -> tuple[Join, ...]:
    """Returns the joins between the matched pieces of one cloth, the heaviest first.

    `importance` holds the person's words by seam, with or without its hand ("side-front", "side-front.left").
    Raises Refusal for a seam that doesn't exist.
    """
    _check_words(made_up, importance)
    if cloth.is_plain:
        return ()
    matched = {piece.name: piece for piece in made_up.pieces if piece.cloth == cloth.name and piece.is_matched}
    words = dict(importance)
    joins: list[Join] = []
    for pair in made_up.sewn:
        custom = custom_of(base_name(pair.name))
        if custom is None or pair.a.piece not in matched or pair.b.piece not in matched:
            continue
        if pair.a.piece == pair.b.piece:
            continue  # a sleeve sewn to itself: its own bars meet as they will, wherever it lies
        if matched[pair.a.piece].is_crosswise != matched[pair.b.piece].is_crosswise:
            continue  # warp against weft: no bar goes on
        if custom.of and base_name(pair.a.piece) != custom.of:
            continue
        if pair.kind == "seam" and all(_is_pleated(matched[side.piece]) for side in (pair.a, pair.b)):
            custom = BEHIND_A_PLEAT
        stops = dict(pair.stops)
        if custom.first.endswith("-pitch") and custom.first not in stops and "shoulder-point" in stops:
            custom = BEYOND_THE_PITCH
        join = join_of(pair, custom, matched[pair.a.piece])
        word = words.get(pair.name, words.get(base_name(pair.name)))
        if word is not None:
            weight, hard = WORDS[word]
            join = replace(
                join,
                importance=word,
                weight=weight / 10,
                hard=hard and join.level is not Mode.NONE,
                level_at=join.level_at if hard else "",
                upright_at=join.upright_at if hard else "",
            )
        if join.weight > 0 and (join.level is not Mode.NONE or join.upright is not Mode.NONE):
            joins.append(join)
    joins += _pairs(matched, _hung_unlike(made_up.sewn, matched))
    order = {id(join): index for index, join in enumerate(joins)}
    return tuple(sorted(joins, key=lambda join: (-join.weight, order[id(join)])))


def _is_pleated(piece: CutPiece) -> bool:
    """Returns whether a piece is laid in pleats from side to side, so that its seams lie hidden in them."""
    names = (base_name(line.name) for line in piece.piece.lines)
    return any(name.startswith("pleat-") and name.endswith("-fold") for name in names)


def base_name(name: str) -> str:
    """Returns a seam's or a piece's name without its hand.

    >>> base_name("side-front.left")
    'side-front'
    """
    return name.removesuffix(".right").removesuffix(".left")


def join_of(pair: SewnPair, custom: Custom, a: CutPiece) -> Join:
    """Returns the join that a custom makes of a seam: its stretch, and samples weighed by length.

    `a` is the instance on the seam's first side.
    """
    names = [name for name, _ in pair.stops]
    start, end = pair.stops[0], pair.stops[-1]
    for first, last in custom.stretch:
        if first in names and last in names:
            start, end = sorted((stop for stop in pair.stops if stop[0] in (first, last)), key=lambda stop: stop[1])
            break
    points = pair.pairs[start[1] : end[1] + 1]
    stops = tuple((name, index - start[1]) for name, index in pair.stops if start[1] <= index <= end[1])
    inside = {name for name, _ in stops}
    return Join(
        name=pair.name,
        kind=str(pair.kind),
        a=pair.a.piece,
        a_edge=pair.a.edge,
        b=pair.b.piece,
        b_edge=pair.b.edge,
        level=custom.level,
        upright=custom.upright,
        stretch=(start[0], end[0]),
        hard=custom.hard,
        importance=custom.importance,
        weight=custom.weight / 10,
        ease=pair.ease,
        samples=_weighed(points, dict(stops).get(custom.first)),
        level_at=custom.level_at if custom.level_at in inside else "",
        upright_at=custom.upright_at if custom.upright_at in inside else "",
        stops=stops,
        named=custom.first if custom.first in inside else "",
        a_lies=_side_of_seam(a, points) if pair.kind in ("seam", "lap") else 0,
        is_across=pair.across,
    )


def _side_of_seam(piece: CutPiece, points: Sequence[tuple[Point, Point]]) -> int:
    """Returns 1 for a piece left of a seam that runs up and down, −1 for one right of it, 0 for a level seam."""
    run = points[-1][0] - points[0][0]
    if abs(run.y) <= abs(run.x):
        return 0
    middle = sum(p.x for p in piece.seam_line) / len(piece.seam_line)
    return 1 if middle < (points[0][0].x + points[-1][0].x) / 2 else -1


def whole_join(pair: SewnPair, join: Join) -> Join:
    """Returns a join over its whole seam, to tell what happens beyond its stretch."""
    return replace(
        join,
        stretch=(pair.stops[0][0], pair.stops[-1][0]),
        samples=_weighed(pair.pairs, None),
        stops=pair.stops,
        level_at="",
        upright_at="",
    )


def _weighed(points: Sequence[tuple[Point, Point]], first: int | None) -> tuple[Sample, ...]:
    """Returns samples weighed by the length along a that each stands for, together 1."""
    steps = [(q[0] - p[0]).length for p, q in itertools.pairwise(points)]
    shares = [(steps[i - 1] if i > 0 else 0.0) + (steps[i] if i < len(steps) else 0.0) for i in range(len(points))]
    if first is not None:
        along = [0.0]
        for step in steps:
            along.append(along[-1] + step)
        reach = max(along[first], along[-1] - along[first]) or 1.0
        shares = [
            share * (1.0 - (1.0 - FAR_WEIGHT) * abs(at - along[first]) / reach)
            for share, at in zip(shares, along, strict=True)
        ]
    total = sum(shares)
    if total <= 0:
        shares, total = [1.0] * len(points), float(len(points))
    return tuple(Sample(a, b, round(share / total, 9)) for (a, b), share in zip(points, shares, strict=True))


def _hung_unlike(sewn: Iterable[SewnPair], matched: dict[str, CutPiece]) -> frozenset[str]:
    """Returns the sleeves, without their hand, that are set into halves of unlike shape: one shoulder lies lower."""
    found: set[str] = set()
    for pair in sewn:
        for body, sleeve in ((pair.a, pair.b), (pair.b, pair.a)):
            base = base_name(body.piece)
            right, left = matched.get(f"{base}.right"), matched.get(f"{base}.left")
            if pair.kind != "seam" or body.edge not in _HOLES or right is None or left is None:
                continue
            if base_name(sleeve.piece) != base and not _mirrors(right, left, body.edge):
                found.add(base_name(sleeve.piece))
    return frozenset(found)


_HOLES = ("armhole", "raglan")
"""The body's edges into which a sleeve is set."""


def _pairs(matched: dict[str, CutPiece], hung_unlike: frozenset[str]) -> Iterable[Join]:
    """Yields what holds right and left alike; sleeves that hang from unlike armholes follow these with their level
    bars, not each other."""
    for name, piece in matched.items():
        if piece.on_bias:
            continue
        base = base_name(name)
        if piece.hand is Hand.RIGHT and f"{base}.left" in matched:
            left = matched[f"{base}.left"]
            names = [edge for edge in edges_in_order(piece) if _mirrors(piece, left, edge)]
            edge = PAIR_EDGES.get(base, "")
            if names:
                edge = edge if edge in names else names[0]
                join = _pair_join(piece, edge, left, edge)
                yield replace(join, level=Mode.NONE) if base in hung_unlike else join
        elif piece.hand is Hand.WHOLE:
            edges = {edge.name for edge in piece.piece.edges}
            right = next((e for e in edges_in_order(piece) if e.endswith(".right")), None)
            if right is not None and base_name(right) + ".left" in edges:
                yield _pair_join(piece, right, piece, base_name(right) + ".left")


def _mirrors(right: CutPiece, left: CutPiece, edge: str) -> bool:
    """Returns whether an edge has one shape in both halves, so that their bars can be compared along it."""
    if right.mirrors:
        return True
    a, b = right.piece.edge(edge).path.points(), left.piece.edge(edge).path.points()
    return len(a) == len(b) and all((Point(0.0 - q.x, q.y) - p).length < SAME for p, q in zip(a, b, strict=True))


def edges_in_order(piece: CutPiece) -> tuple[str, ...]:
    """Returns the names of a piece's edges in order."""
    return tuple(edge.name for edge in piece.piece.edges)


def _pair_join(a: CutPiece, a_edge: str, b: CutPiece, b_edge: str) -> Join:
    edge, other = a.piece.edge(a_edge), b.piece.edge(b_edge)
    stations = edge.path.stations(SPACING)
    if len(stations) < 3:
        stations = edge.path.stations(edge.path.length / 2)
    runs_back = other.start != edge.start
    points: list[tuple[Point, Point]] = []
    for s in stations:
        p = edge.path.at(s)
        if a.name != b.name:
            points.append((p, Point(0.0 - p.x, p.y)))  # the left half is the mirror image about the grain line
        else:
            part = s / edge.path.length
            points.append((p, other.path.at(other.path.length * (1 - part if runs_back else part))))
    return Join(
        name=f"{base_name(a.name)}-alike",
        kind="pair",
        a=a.name,
        a_edge=a_edge,
        b=b.name,
        b_edge=b_edge,
        level=PAIR.level,
        upright=PAIR.upright,
        stretch=(edge.start, edge.end),
        hard=PAIR.hard,
        importance=PAIR.importance,
        weight=PAIR.weight / 10,
        ease=0.0,
        samples=_weighed(points, None),
        stops=((edge.start, 0), (edge.end, len(points) - 1)),
    )


def _check_words(made_up: MadeUp, importance: Sequence[tuple[str, Importance]]) -> None:
    seams = {base_name(pair.name) for pair in made_up.sewn}
    known = seams | {custom.seam for custom in CUSTOMS}
    for name, _ in importance:
        if base_name(name) not in known:
            listed = ", ".join(sorted(seams & {custom.seam for custom in CUSTOMS}))
            raise refuse(f"importance.{name}", f"there is no seam {name!r}.", f"The seams are {listed}.")


@dataclass(frozen=True)
class Taste:
    """What the person would like of single places, where nothing speaks against it."""

    hem_on_a_bar: bool = True  # the hem on the lower edge of the leading level bar
    off_the_fullest: bool = False  # that bar kept off the fullest part of bust and hip


PLAIN_TASTE = Taste()


def wishes_of(made_up: MadeUp, cloth: Cloth, taste: Taste = PLAIN_TASTE) -> tuple[Wish, ...]:
    """Returns the customs about single places: which bar lies on the centre back, the sleeve, the hem.

    Kept where no pin and no join speaks against them.
    """
    matched = [piece for piece in made_up.pieces if piece.cloth == cloth.name and piece.is_matched]
    has_jacket = any(base_name(piece.name) == "back" for piece in matched)
    wishes: list[Wish] = []
    if cloth.has_upright_bars:
        bar, place = centre_bar(cloth)
        for piece in matched:
            at, where = _centre(piece)
            if at is not None:
                reason = f"the middle of {bar} lies on the {where}"
                leads = where == "centre back" and (base_name(piece.name) == "back" or not has_jacket)
                weight = 20.0 if leads else 2.0
                wishes.append(Wish(piece.name, at, Axis.UPRIGHT, place, weight, reason))
    wishes += _of_covers(matched, cloth)
    if all(base_name(piece.name) != "front" for piece in matched):
        wishes += _of_facings(matched, cloth)
    if cloth.has_level_bars:
        hem = weft_dominance(cloth).dominant
        if hem is not None and taste.off_the_fullest:
            wishes += _off_the_fullest(matched, cloth, hem)
        for piece in matched if taste.hem_on_a_bar else ():
            ends_above = any(base_name(edge) == "waist" for edge in edges_in_order(piece)) and piece.garment == "jacket"
            if base_name(piece.name) not in ("back", "back-lower", "skirt-back") or hem is None:
                continue
            if piece.hand is not Hand.LEFT and (base_name(piece.name) != "back" or not ends_above):
                at = piece.piece.edge("centre-back").path
                low = min((at.start, at.end), key=lambda p: p.y)
                start = cloth.weft.starts[cloth.weft.bars.index(hem)]
                weight = 10.0 if piece.garment == "jacket" or not has_jacket else 1.0
                wishes.append(
                    Wish(piece.name, low, Axis.LEVEL, start, weight, f"the hem lies on the lower edge of {hem.name}")
                )
    return tuple(wishes)


def _of_covers(matched: Sequence[CutPiece], cloth: Cloth) -> Iterable[Wish]:
    """Yields the wish that the leading bars cross in the middle of the covered buttons, which all follow the first."""
    first = next((piece for piece in matched if piece.name == "button-cover-1"), None)
    ways = ((Axis.UPRIGHT, cloth.warp, warp_dominance), (Axis.LEVEL, cloth.weft, weft_dominance))
    for axis, sequence, dominance in ways if first is not None else ():
        bar = dominance(cloth).dominant
        if bar is not None and len(sequence.bars) > 1:
            middle = sequence.starts[sequence.bars.index(bar)] + bar.width / 2
            reason = f"the middle of {bar.name} lies over the covered buttons"
            yield Wish("button-cover-1", Point(0.0, 0.0), axis, middle, 2.0, reason)


def _of_facings(matched: Sequence[CutPiece], cloth: Cloth) -> Iterable[Wish]:
    """Yields the wishes for facings of a cloth of their own: its leading bar runs inside the front's edge, one of
    those across it meets the break point, and one lies on the centre of the back neck's.
    """
    bars = {
        Axis.UPRIGHT: (cloth.warp, warp_dominance(cloth).dominant),
        Axis.LEVEL: (cloth.weft, weft_dominance(cloth).dominant),
    }
    for piece in matched:
        base, wanted = base_name(piece.name), list[tuple[Axis, Point, str]]()
        if base.startswith("front-facing") and piece.hand is Hand.RIGHT:
            along, across = (Axis.LEVEL, Axis.UPRIGHT) if piece.is_crosswise else (Axis.UPRIGHT, Axis.LEVEL)
            top = piece.piece.edge("front-edge").path.start
            inside = top + Point(BESIDE_EDGE if top.x < 0 else -BESIDE_EDGE, 0.0)
            wanted = [(along, inside, "inside the edge of the facing")]
            if base == "front-facing":
                wanted.append((across, top, "at the facing's break point"))
        elif base == "back-neck-facing":
            wanted = [(Axis.UPRIGHT, Point(0.0, 0.0), "on the centre of the back neck facing")]
        for axis, at, where in wanted:
            sequence, bar = bars[axis]
            if bar is not None and len(sequence.bars) > 1:
                middle = sequence.starts[sequence.bars.index(bar)] + bar.width / 2
                yield Wish(piece.name, at, axis, middle, 5.0, f"the middle of {bar.name} lies {where}")


def _off_the_fullest(matched: Sequence[CutPiece], cloth: Cloth, bar: Bar) -> Iterable[Wish]:
    """Yields the wishes that keep a level bar off the lines of bust and hip."""
    middle = cloth.weft.starts[cloth.weft.bars.index(bar)] + bar.width / 2
    for piece in matched:
        if piece.hand is Hand.LEFT:
            continue
        for line in piece.piece.lines:
            name = base_name(line.name)
            if line.kind is LineKind.LEVEL and (base_name(piece.name), name) in FULLEST and line.name != f"{name}.left":
                at = line.path.at(line.path.length / 2)
                reason = f"{bar.name} keeps clear of the fullest part of the {name}"
                yield Wish(piece.name, at, Axis.LEVEL, middle, 20.0, reason, bar.width / 2 + CLEAR)


def centre_bar(cloth: Cloth) -> tuple[str, float]:
    """Returns the upright bar that the centre back takes by custom, and the place of its middle.

    The leading bar; in an even sett the leading one of the two about which the sett mirrors.
    """
    dominance = warp_dominance(cloth)
    sequence = cloth.warp
    assert dominance.dominant is not None
    middle = sequence.starts[sequence.bars.index(dominance.dominant)] + dominance.dominant.width / 2
    if not sequence.pivots or any(abs(middle % sequence.repeat - pivot) < 0.05 for pivot in sequence.pivots):
        return dominance.dominant.name, middle
    scores = dict(dominance.scores)
    bars = [(sequence.bar_at(pivot).name, pivot) for pivot in sequence.pivots]
    return max(bars, key=lambda bar: (scores[bar[0]], -bar[1]))


def _centre(piece: CutPiece) -> tuple[Point | None, str]:
    base = base_name(piece.name)
    if base in ("back", "skirt-back") and not _is_pleated(piece):
        path = piece.piece.edge("centre-back").path
        stop = next((n.at for n in piece.piece.notches if n.edge == "centre-back" and n.name == "blade"), None)
        if stop is None:
            stop = path.length if base == "skirt-back" else path.length / 4
        return path.at(stop), "centre back"
    if base in ("upper-sleeve", "sleeve"):
        return Point(0.0, 0.0), "sleeve's grain line"
    if base in ("trousers-front", "trousers-back"):
        return Point(0.0, 0.0), "crease"
    return None, ""
