"""How each join came out, in figures and in a tailor's sentence; rings that can't close; what fixed each piece."""

from __future__ import annotations

import itertools
import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from settwright.bars.frames import sense
from settwright.bars.model import Axis, Cycle, Drift, Join, Mode, Phase, Wish
from settwright.bars.objective import JoinCost, Problem
from settwright.cloth import Cloth
from settwright.geometry.tolerances import HAND
from settwright.units import CM, INCH, Units, format_fine, format_length

Misses = tuple[float, ...]


@dataclass(frozen=True)
class Laid:
    """The pieces of one cloth as they lie on it."""

    cloth: Cloth
    phases: Mapping[str, Phase]
    turns: Mapping[str, float]  # grain turn by instance


def misses(join: Join, axis: Axis, laid: Laid) -> Misses | None:
    """Returns by how much the bars of one axis miss at each sample; None where nothing is or can be asked."""
    cloth = laid.cloth
    mode = join.level if axis is Axis.LEVEL else join.upright
    matters = cloth.has_level_bars if axis is Axis.LEVEL else cloth.has_upright_bars
    a, b = laid.phases[join.a], laid.phases[join.b]
    is_free = (a.free_v or b.free_v) if axis is Axis.LEVEL else (a.free_u or b.free_u)
    if mode is Mode.NONE or not matters or is_free:
        return None
    sequence = cloth.weft if axis is Axis.LEVEL else cloth.warp
    turn = sense(axis, mode, a.orientation, b.orientation)
    if turn < 0 and not sequence.pivots:
        return None
    on_a = _places(a, join.places[0], join.places[1], laid.turns[join.a], axis)
    on_b = _places(b, join.places[2], join.places[3], laid.turns[join.b], axis)
    miss = on_a - on_b if turn > 0 else on_a + on_b - 2 * sequence.pivots[0]
    half = sequence.repeat / 2
    return tuple((np.round(half - (half - miss) % sequence.repeat, 6) + 0.0).tolist())


def _places(phase: Phase, x: np.ndarray, y: np.ndarray, grain_turn: float, axis: Axis) -> np.ndarray:
    """Returns the place in the sett under many points of a piece on one axis, as frames.place_under does for one."""
    c, s = math.cos(grain_turn), math.sin(grain_turn)
    t, f = phase.orientation.t, phase.orientation.f
    return phase.v + t * (s * x + c * y) if axis is Axis.LEVEL else phase.u + t * f * (c * x - s * y)


def telling_upright(join: Join, drift: Drift) -> tuple[float, str] | None:
    """Returns the upright miss that tells how a seam came out, and its stop: where the match counts most, for shape
    parts the bars elsewhere; the largest one, and no stop, where no place counts more. None where nothing is asked."""
    if drift.upright is None:
        return None
    at = dict(join.stops).get(join.named)
    if at is None or drift.worst_upright <= HAND:
        return drift.worst_upright, ""
    return abs(drift.upright[at]), join.named


def least_worst(found: Misses, repeat: float) -> float:
    """Returns the least that the worst of these misses can be, however the two sides are slid along each other.

    Misses lie on a ring as long as the repeat; slid together they keep their distances on it, so that the shortest
    arc that holds them all is best laid with its middle at nothing. It is the ring less the widest gap.
    """
    on_ring = sorted(miss % repeat for miss in found)
    gaps = [after - before for before, after in itertools.pairwise([*on_ring, on_ring[0] + repeat])]
    return (repeat - max(gaps)) / 2


def drift_of(
    join: Join, whole: Join | None, colour: float, laid: Laid, units: Units, *, doubled: str | None = None
) -> Drift:
    """Returns how a join came out; `whole` is the same join over its whole seam, where that is longer.

    `doubled` is the leading or receding bar that stands doubled at the named stop; "" for none, None if not asked.
    """
    cloth = laid.cloth
    level = misses(join, Axis.LEVEL, laid)
    upright = misses(join, Axis.UPRIGHT, laid)
    judged = level or upright or (0.0,)
    sizes = [abs(miss) for miss in judged]
    said: list[str] = []
    for axis, found in ((Axis.LEVEL, level), (Axis.UPRIGHT, upright)):
        mode = join.level if axis is Axis.LEVEL else join.upright
        matters = cloth.has_level_bars if axis is Axis.LEVEL else cloth.has_upright_bars
        if mode is Mode.NONE or not matters:
            continue
        if found is None:
            said.append(f"the {axis} bars can't mirror each other in an uneven sett")
            continue
        said.append(_sentence(axis, mode, join, found, units))
        if axis is Axis.UPRIGHT:
            said[-1] += _where_it_counts(join, found, doubled, units)
        beyond = misses(whole, axis, laid) if whole is not None else None
        if whole is not None and beyond is not None:
            cause = _parted_by(join, whole) if axis is Axis.LEVEL else "shape"
            said[-1] += _beyond(whole, beyond, max(HAND, *map(abs, found)), units, cause=cause)
    text = "; ".join(said)
    return Drift(
        join=join.name,
        level=level,
        upright=upright,
        floor=least_worst(level, cloth.weft.repeat) if level else 0.0,
        worst_level=max((abs(miss) for miss in level), default=0.0) if level else 0.0,
        worst_upright=max((abs(miss) for miss in upright), default=0.0) if upright else 0.0,
        worst_at=sizes.index(max(sizes)),
        colour=round(colour, 3),
        summary=text[:1].upper() + text[1:] + "." if text else "No bars to match.",
    )


def _sentence(axis: Axis, mode: Mode, join: Join, found: Misses, units: Units) -> str:
    verb = "mirror each other" if mode is Mode.MIRROR else "meet"
    close = f"{axis} bars {verb} within {_small(HAND, units)}"
    sizes = [abs(miss) for miss in found]
    worst = sizes.index(max(sizes))
    runs = _runs(found)
    if not runs:
        text = f"{axis} bars miss by {_small(min(sizes), units)}"
        if _small(min(sizes), units) != _small(sizes[worst], units):
            text += f" to {_small(sizes[worst], units)}, most at {_near(join, worst, units)}"
        return text
    first, last = max(runs, key=lambda run: (run[1] - run[0], -run[0]))
    if (first, last) == (0, len(found) - 1):
        return f"{close} from {_words(join.stretch[0])} to {_words(join.stretch[1])}"
    start, end = _near(join, first, units), _near(join, last, units)
    where = f"from {start} to {end}" if last - first >= 2 and start != end else f"only near {start}"
    return f"{close} {where}{_to_both_sides(join, sizes, (first, last), units)}"


def _to_both_sides(join: Join, sizes: Sequence[float], run: tuple[int, int], units: Units) -> str:
    """Returns what happens to each side of the run within which bars meet: above and below it, on an upright seam."""
    parts = [(0, run[0]), (run[1] + 1, len(sizes))]
    worst = [max(range(*part), key=lambda k: sizes[k]) if part[0] < part[1] else None for part in parts]
    told = [k for k in worst if k is not None and sizes[k] > HAND + 1e-9]
    if len(told) < 2:
        return "".join(f", and miss by up to {_small(sizes[k], units)} at {_near(join, k, units)}" for k in told)
    rise = join.samples[-1].a - join.samples[0].a
    if abs(rise.y) > abs(rise.x):
        ways = ("below", "above") if rise.y > 0 else ("above", "below")
    else:
        ways = tuple(f"towards {_words(stop)}" for stop in join.stretch)
    misses_by = [
        f"{way} by up to {_small(sizes[k], units)} at {_near(join, k, units)}"
        for way, k in zip(ways, told, strict=True)
    ]
    return f", and miss {', '.join(misses_by)}"


def _where_it_counts(join: Join, found: Misses, doubled: str | None, units: Units) -> str:
    """Returns what was chosen at the named stop of a seam whose sequence doesn't go on there."""
    at = dict(join.stops).get(join.named)
    if at is None or doubled is None or abs(found[at]) <= HAND + 1e-9:
        return ""
    bar = f"{doubled} stands doubled" if doubled else "no leading bar stands doubled"
    return f"; at {_words(join.named)}, where it counts most, by {_small(abs(found[at]), units)}, and {bar} there"


def _beyond(whole: Join, found: Misses, already: float, units: Units, *, cause: str) -> str:
    sizes = [abs(miss) for miss in found]
    worst = sizes.index(max(sizes))
    if sizes[worst] <= already:
        return ""
    verb = "take" if " and " in cause else "takes"
    return (
        f"; beyond that, {cause} {verb} them apart by up to {_small(sizes[worst], units)} at "
        f"{_near(whole, worst, units)}"
    )


def _parted_by(join: Join, whole: Join) -> str:
    """Returns what parts the level bars beyond a stretch: shape, with a dart or ease that lies there."""
    inside = {name for name, _ in join.stops}
    causes = ["shape"]
    if any("dart" in name for name, _ in whole.stops if name not in inside):
        causes.append("the dart")
    if abs(_eased(whole) - _eased(join)) > 1.0:
        causes.append("ease")
    return ", ".join(causes[:-1]) + (" and " if len(causes) > 1 else "") + causes[-1]


def _eased(join: Join) -> float:
    """Returns by how much b is longer than a along a join's samples."""
    return sum((q.b - p.b).length - (q.a - p.a).length for p, q in itertools.pairwise(join.samples))


def _small(length: float, units: Units) -> str:
    return format_fine(length, units).replace(".0 mm", " mm")


def _runs(found: Misses) -> list[tuple[int, int]]:
    """Returns the stretches of samples at which bars meet within a hand's precision."""
    runs: list[tuple[int, int]] = []
    for index, miss in enumerate(found):
        if abs(miss) <= HAND + 1e-9:
            if runs and runs[-1][1] == index - 1:
                runs[-1] = (runs[-1][0], index)
            else:
                runs.append((index, index))
    return runs


def _near(join: Join, index: int, units: Units) -> str:
    """Returns a sample's place in words: at a stop, or so far from the nearest one."""
    along = join.along
    stops = join.stops or ((join.stretch[0], 0), (join.stretch[1], len(join.samples) - 1))
    name, at = min(stops, key=lambda stop: abs(along[stop[1]] - along[index]))
    off = abs(along[at] - along[index])
    if off <= 8.0:
        return _words(name)
    other = [stop for stop in stops if (stop[1] - at) * (index - at) > 0]
    if not other:
        return _words(name)
    towards = min(other, key=lambda stop: abs(stop[1] - at))
    rise = join.samples[index].a - join.samples[at].a
    if abs(rise.y) > 2 * abs(rise.x):
        return f"{_length(off, units)} {'above' if rise.y > 0 else 'below'} {_words(name)}"
    return f"{_length(off, units)} from {_words(name)} towards {_words(towards[0])}"


def _length(length: float, units: Units) -> str:
    return (
        f"{round(length / CM)} cm" if units is Units.CM else format_length(round(length / INCH * 2) / 2 * INCH, units)
    )


_ENDS = {"outer": "outer end", "inner": "inner end", "left": "left edge", "right": "right edge"}


def _words(stop: str) -> str:
    """Returns a stop in words; both legs of a dart lie at one place once it is sewn."""
    if "dart" in stop and stop.endswith(("-a", "-b")):
        stop = stop[:-2]
    return "the " + _ENDS.get(stop, stop).replace("-", " ")


def cycles_of(problem: Problem) -> tuple[Cycle, ...]:
    """Returns the rings of joins whose level offsets don't add up within a millimetre.

    A join's offset is taken at the stop where it must meet, else in the middle of its range. A tree of the heaviest
    joins matches exactly; every other join closes a ring. Left halves repeat the right ones and aren't told again.
    """
    repeat = problem.level.repeat
    joins = [
        j
        for j in problem.joins
        if j.level is not None and j.level.sense > 0 and j.join.kind != "pair" and not j.join.name.endswith(".left")
    ]
    group = list(range(len(problem.instances)))
    height = [0] * len(group)  # phase relative to the group's first member
    tree: dict[int, list[tuple[int, JoinCost]]] = {i: [] for i in range(len(group))}
    cycles: list[Cycle] = []
    for join in sorted(joins, key=lambda j: -j.weight):
        assert join.level is not None
        offset = join.level.targets[0] if join.level.targets else join.level.middle
        gap = height[join.a] - height[join.b] + offset
        if group[join.a] != group[join.b]:
            old, new = group[join.b], group[join.a]
            for i, g in enumerate(group):
                if g == old:
                    group[i], height[i] = new, height[i] + gap
            tree[join.a].append((join.b, join))
            tree[join.b].append((join.a, join))
            continue
        closing = repeat // 2 - (repeat // 2 - gap) % repeat
        if abs(closing) > HAND * 1000:
            names = (*(j.join.name for j in _path(tree, join.b, join.a)), join.join.name)
            cycles.append(Cycle(names, closing / 1000))
    return tuple(cycles)


def _path(tree: dict[int, list[tuple[int, JoinCost]]], start: int, end: int) -> list[JoinCost]:
    came: dict[int, tuple[int, JoinCost] | None] = {start: None}
    queue = [start]
    for i in queue:
        for j, join in tree[i]:
            if j not in came:
                came[j] = (i, join)
                queue.append(j)
    path: list[JoinCost] = []
    at = end
    while (step := came[at]) is not None:
        path.append(step[1])
        at = step[0]
    return path


def reasons_of(problem: Problem, pinned: Mapping[Axis, Mapping[int, str]]) -> tuple[tuple[str, str], ...]:
    """Returns what fixed each instance: a pin, a custom, or the heaviest join to one that lies already."""
    upright = _one_axis(problem, Axis.UPRIGHT, pinned[Axis.UPRIGHT])
    level = _one_axis(problem, Axis.LEVEL, pinned[Axis.LEVEL])
    told: list[tuple[str, str]] = []
    for i, name in enumerate(problem.instances):
        if upright[i] == level[i]:
            text = upright[i] or "nothing: any place will do"
        else:
            parts = [f"{axis} bars {why}" for axis, why in (("level", level[i]), ("upright", upright[i])) if why]
            text = "; ".join(parts)
        told.append((name, text))
    return tuple(told)


def _one_axis(problem: Problem, axis: Axis, pinned: Mapping[int, str]) -> list[str]:
    why = [""] * len(problem.instances)
    laid: set[int] = set()
    for i, name in pinned.items():
        why[i] = f"by your pin at {name}" if name else "by your pin"
        laid.add(i)
    joins = sorted(
        (j for j in problem.joins if j.agreement(axis) and j.a != j.b),
        key=lambda j: (j.join.kind == "pair", -j.weight),
    )
    wishes: list[tuple[int, Wish]] = sorted(
        ((w.piece, w.wish) for w in problem.wishes if w.wish.axis is axis), key=lambda w: -w[1].weight
    )
    while True:
        join = next((j for j in joins if (j.a in laid) != (j.b in laid)), None)
        if join is not None:
            new, old = (join.b, join.a) if join.a in laid else (join.a, join.b)
            why[new] = f"by {join.join.name} with {problem.instances[old]}"
            laid.add(new)
            continue
        wish = next(((i, w) for i, w in wishes if i not in laid), None)
        if wish is not None:
            why[wish[0]] = f"by custom: {wish[1].reason}"
            laid.add(wish[0])
            continue
        rest = next((j for j in joins if j.a not in laid), None)
        if rest is None:
            return why
        why[rest.a] = "by the colours at its seams"
        laid.add(rest.a)
