"""A drafting record retold as a lesson: which points and lines each figure adds, and the rules that they hang on.

A record runs in the order of reckoning: all widths first, then all points. A student draws a point as soon as she can.
So each figure brings a few points or lines, preceded by just those figures that they need and that nothing told before.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, field, replace

from settwright.geometry import Path, Point, Transform
from settwright.pattern import Draft, Piece, Step

_MOST_STEPS = 7  # told in one figure
_MOST_DRAWN = 5  # points and lines in one figure
_MOST_LETTERS = 520  # of rules in one figure
_SAME_PLACE = 0.5  # millimetres within which a piece's corner is a point of the record


@dataclass(frozen=True)
class Drawn:
    """What stands on a sheet of paper: millimetres of the draft, y up."""

    points: tuple[tuple[str, Point], ...] = ()
    lines: tuple[Path, ...] = ()
    levels: tuple[tuple[str, float], ...] = ()  # heights over the waist
    uprights: tuple[tuple[str, float], ...] = ()  # distances from the centre back

    def __add__(self, more: Drawn) -> Drawn:
        return Drawn(
            self.points + more.points,
            self.lines + more.lines,
            self.levels + more.levels,
            self.uprights + more.uprights,
        )


@dataclass(frozen=True)
class Figure:
    """One figure of the lesson: what stood before, what is new, and the steps told beside it."""

    title: str
    steps: tuple[Step, ...]
    before: Drawn = Drawn()
    new: Drawn = Drawn()
    piece: Piece | None = None  # traced off in this figure, lying as it does on the sheet

    @property
    def is_blank(self) -> bool:
        """Whether its paper is still empty: figures are worked out, and nothing stands but levels drawn before."""
        return self.piece is None and self.new == Drawn() and not self.before.points and not self.before.lines


def lesson_of(draft: Draft) -> tuple[Figure, ...]:
    """Returns a draft's lesson, every step of its record told once.

    Sheet by sheet: the figures that draw it, then the pieces traced off it; last the pieces drawn apart.
    """
    record = draft.record
    sheets = _sheets(draft)
    telling = _Telling(record, sheets, _shared(draft, sheets))
    figures: list[list[Figure]] = []
    traced: list[str] = []
    for sheet in dict.fromkeys(sheets.values()):
        places = [i for i, step in enumerate(record) if sheets[step.of] == sheet and is_drawn(step)]
        if not places:
            continue
        points = [point for i in places for point in _ends(record[i])]
        ours = [piece for piece in draft.pieces if sheets.get(piece.name, sheet) == sheet and piece.name not in traced]
        pieces = [laid for piece in ours if (laid := _laid(piece, points))]
        traced += [piece.name for piece in pieces]
        figures.append(_drawing(telling, places, pieces))
        stands = figures[-1][-1].before + figures[-1][-1].new
        for piece in pieces:
            new = Drawn(lines=tuple(edge.path for edge in piece.edges))
            figures[-1].append(Figure(piece.title, (), stands, new, piece))
            stands += new
    figures.append([_apart(piece) for piece in draft.pieces if piece.name not in traced])
    return tuple(_with_the_rest([f for sheet in figures for f in sheet], telling))


def _ends(step: Step) -> list[Point]:
    """Returns the points that a step puts on the paper."""
    points = [step.point] if step.point is not None else []
    return points + ([step.line.start, step.line.end] if step.line is not None else [])


def is_drawn(step: Step) -> bool:
    """Whether a step puts something on the paper: a point, a line, or a level."""
    return step.point is not None or step.line is not None or is_level(step) or is_upright(step)


def is_level(step: Step) -> bool:
    """Whether a step's value is the height of a level over the waist: "scye line"."""
    return step.value is not None and step.line is None and re.fullmatch(r"[a-z]+ line", step.name) is not None


def is_upright(step: Step) -> bool:
    """Whether a step's value is the distance of an upright line from the centre back."""
    return step.value is not None and step.line is None and step.name == "centre front"


@dataclass
class _Telling:
    """Which steps of a record have been told so far."""

    record: Sequence[Step]
    sheets: dict[str, str]
    shared: frozenset[str]  # parts that only work out figures, for every sheet
    told: set[int] = field(default_factory=set[int])

    def needed(self, index: int) -> list[int]:
        """Returns a step with the untold figures that it needs before it, in an order that can be worked out.

        What was constructed by eye or by search names few figures; it needs all that were worked out for its part.
        """
        step = self.record[index]
        earlier = [self.figure(name, index) for name, _ in step.numbers]
        if (step.point is not None or step.line is not None) and not step.rule.startswith("across from"):
            part, sheet = step.of, self.sheets[step.of]
            earlier += [
                i
                for i, other in enumerate(self.record[:index])
                if not is_drawn(other)
                and (other.of == part or (sheet and (self.sheets[other.of] == sheet or other.of in self.shared)))
            ]
        found: list[int] = []
        for i in earlier:
            if i is not None and i not in self.told and i not in found:
                found += [j for j in self.needed(i) if j not in found]
        return [*found, index]

    def figure(self, name: str, before: int) -> int | None:
        """Returns the latest step that worked out a figure; none for a measurement or a choice."""
        named = (i for i in range(before - 1, -1, -1) if self.record[i].name == name)
        return next((i for i in named if self.record[i].value is not None and self.record[i].line is None), None)

    def groups(self, places: Sequence[int]) -> Iterator[list[int]]:
        """Yields the steps of each figure that draws the given steps, and counts them as told."""
        group: list[int] = []
        for index in places:
            if index in self.told:
                continue
            steps = self.needed(index)
            if group and not self._fits(group, steps):
                yield group
                group = []
            self.told.update(steps)
            while not self._fits(group, steps):
                count = next(n for n in range(len(steps), 0, -1) if n == 1 or self._fits([], steps[:n]))
                if count == len(steps):
                    break
                yield steps[:count]
                steps = steps[count:]
            group += steps
        if group:
            yield group

    def _fits(self, group: Sequence[int], steps: Sequence[int]) -> bool:
        """Whether steps find room in a figure, beside others of the same part."""
        together = [self.record[i] for i in (*group, *steps)]
        return (
            len(together) <= _MOST_STEPS
            and sum(map(is_drawn, together)) <= _MOST_DRAWN
            and sum(len(step.rule) for step in together) <= _MOST_LETTERS
            and (not group or self.record[group[-1]].of == self.record[steps[-1]].of)
        )


def _drawing(telling: _Telling, places: Sequence[int], pieces: Sequence[Piece]) -> list[Figure]:
    """Returns the figures that draw one sheet. An edge is drawn as soon as both its ends are known."""
    waiting = [edge.path for piece in pieces for edge in piece.edges]
    figures: list[Figure] = []
    stands = Drawn()
    for group in telling.groups(places):
        steps = tuple(telling.record[i] for i in group)
        points = tuple((step.name, step.point) for step in steps if step.point is not None)
        lines = tuple(step.line for step in steps if step.line is not None)
        known = [point for _, point in (*stands.points, *points)]
        ready = [path for path in waiting if _is_among(path.start, known) and _is_among(path.end, known)]
        waiting = [path for path in waiting if all(path is not other for other in ready)]
        levels = tuple((step.name, step.value) for step in steps if is_level(step) and step.value is not None)
        uprights = tuple((step.name, step.value) for step in steps if is_upright(step) and step.value is not None)
        new = Drawn(points, (*lines, *ready), levels, uprights)
        figures.append(Figure(_title(steps[-1].of), steps, stands, new))
        stands += new
    return figures


def _is_among(point: Point, known: Iterable[Point]) -> bool:
    return any((point - other).length < _SAME_PLACE for other in known)


def _apart(piece: Piece) -> Figure:
    return Figure(piece.title, (), new=Drawn(lines=tuple(edge.path for edge in piece.edges)), piece=piece)


def _title(part: str) -> str:
    return part.replace("-", " ").capitalize()


def _sheets(draft: Draft) -> dict[str, str]:
    """Returns on which sheet each part of the record is drawn.

    A part whose piece would lie over another part's has a sheet of its own, and so has the sleeve.
    """
    parts = list(dict.fromkeys(step.of for step in draft.record))
    boxes = {part: box for part in parts if (box := _box(step for step in draft.record if step.of == part))}
    sheets: dict[str, str] = {}
    for part in parts:
        if "sleeve" in part:
            sheets[part] = "sleeve"
        elif part in {piece.name for piece in draft.pieces} and part in boxes:
            over = any(
                _overlap(boxes[part], boxes[other]) > 0.5
                for other in boxes
                if other != part and other in {piece.name for piece in draft.pieces}
            )
            sheets[part] = part if over else ""
        else:
            sheets[part] = ""
    return sheets


def _shared(draft: Draft, sheets: dict[str, str]) -> frozenset[str]:
    """Returns the parts that draw nothing, where pieces are drawn on sheets of their own and all sheets need them."""
    pieces = {piece.name for piece in draft.pieces}
    if pieces.isdisjoint(sheets.values()):
        return frozenset()
    return frozenset(sheets) - {step.of for step in draft.record if is_drawn(step)} - pieces


_Box = tuple[float, float, float, float]  # left, bottom, right, top


def _box(steps: Iterable[Step]) -> _Box | None:
    points = [step.point for step in steps if step.point is not None]
    if len(points) < 2:
        return None
    xs, ys = [p.x for p in points], [p.y for p in points]
    return min(xs), min(ys), max(xs), max(ys)


def _overlap(a: _Box, b: _Box) -> float:
    """Returns the common part of two boxes as a part of the smaller."""
    wide = max(0.0, min(a[2], b[2]) - max(a[0], b[0]))
    high = max(0.0, min(a[3], b[3]) - max(a[1], b[1]))
    smaller = min((box[2] - box[0]) * (box[3] - box[1]) for box in (a, b))
    return wide * high / smaller if smaller > 0 else 0.0


def _laid(piece: Piece, points: Sequence[Point]) -> Piece | None:
    """Returns a piece as it was drawn among a sheet's points, shifted or turned over; none if it wasn't drawn there.

    It lies where most of its corners and marks fall on points, at least three of them.
    """
    laid = [_shifted(way, points) for way in (piece, piece.moved(Transform.mirror_x()))]
    return max(laid, key=lambda found: found[0])[1]


def _shifted(piece: Piece, points: Sequence[Point]) -> tuple[int, Piece | None]:
    """Returns on how many points the best shift brings a piece's places, and the piece there if they are three."""
    places = [edge.path.start for edge in piece.edges] + [mark.at for mark in piece.marks]
    places += [edge.path.at(n.at) for n in piece.notches for edge in piece.edges if edge.name == n.edge]
    falls: dict[tuple[int, int], set[int]] = {}  # which points are met, by shift
    for number, (x, y) in enumerate({_rounded(point): (point.x, point.y) for point in points}.values()):
        for place in places:
            by = round((x - place.x) / _SAME_PLACE), round((y - place.y) / _SAME_PLACE)
            falls.setdefault(by, set()).add(number)
    most = max(falls, key=lambda by: (len(falls[by]), -abs(by[0]) - abs(by[1]), by), default=None)
    if most is None or len(falls[most]) < 3:
        return 0, None
    shift = next(shift for point in points for place in places if _rounded(shift := point - place) == most)
    return len(falls[most]), piece.moved(Transform.shift(shift.x, shift.y))


def _rounded(point: Point) -> tuple[int, int]:
    return round(point.x / _SAME_PLACE), round(point.y / _SAME_PLACE)


def _with_the_rest(figures: Sequence[Figure], telling: _Telling) -> Iterator[Figure]:
    """Yields the figures, each step not yet told beside the piece that it belongs to; what is left comes last."""
    record = telling.record
    rest: dict[str, list[Step]] = {}
    for index in range(len(record)):
        if index not in telling.told:
            rest.setdefault(record[index].of, []).append(record[index])
    pieces = [figure.piece.name for figure in figures if figure.piece is not None]
    hosts = {part: _host(part, steps, pieces) for part, steps in rest.items()}
    places = {id(step): number for number, figure in enumerate(figures) for step in figure.steps}

    def is_known(index: int, number: int) -> bool:
        """Whether a figure of the lesson comes late enough for all that a step needs."""
        needed = [i for name, _ in record[index].numbers if (i := telling.figure(name, index)) is not None]
        return all(places.get(id(record[i]), 0) <= number if i in telling.told else is_known(i, number) for i in needed)

    def told(mine: Iterable[int]) -> tuple[Step, ...]:
        wanted = {needed for i in mine for needed in telling.needed(i)}
        telling.told.update(wanted)
        return tuple(record[i] for i in sorted(wanted))

    def waiting(number: int, is_mine: Callable[[str], bool]) -> list[int]:
        return [
            i for i, step in enumerate(record) if i not in telling.told and is_mine(step.of) and is_known(i, number)
        ]

    for number, figure in enumerate(figures):
        piece = figure.piece
        if piece is None:
            yield figure
        else:
            yield replace(figure, steps=told(waiting(number, lambda of, name=piece.name: hosts.get(of) == name)))
    for part in rest:
        if steps := told(waiting(len(figures), lambda of, part=part: of == part)):
            yield Figure(_title(part), steps)


def _host(part: str, steps: Sequence[Step], pieces: Sequence[str]) -> str:
    """Returns the piece beside which the steps of a part are told: its own, or one whose name its words share."""
    if part in pieces:
        return part
    ours = _words(part)
    shared = [piece for piece in pieces if _words(piece) & ours]
    if shared:
        return max(shared, key=lambda piece: len(_words(piece) & ours))
    votes = Counter(piece for piece in pieces for step in steps if _words(piece) <= _words(step.name))
    return max(pieces, key=lambda piece: votes[piece]) if votes else part


def _words(name: str) -> set[str]:
    return set(re.findall(r"[a-z]+", name))
