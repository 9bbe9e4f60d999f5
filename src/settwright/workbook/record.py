"""The drafting record as a lesson: a small figure for every few steps, its rules and figures under it.

Told in the person's units, so that a student can draw the same draft with pencil, square and tape.
"""

from __future__ import annotations

import itertools
import math
import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from reportlab.lib.colors import HexColor
from reportlab.lib.styles import ParagraphStyle
from reportlab.platypus import Flowable, Paragraph, Spacer

from settwright.pattern import Draft, Piece, Step
from settwright.units import Units, format_length, in_units
from settwright.workbook.drawing.lesson import Box, draw_lesson_figure, sheet_box
from settwright.workbook.drawing.pen import POINT, PdfPen
from settwright.workbook.lesson import Drawn, Figure, lesson_of
from settwright.workbook.style import HEAD, ITALIC, LEAD, QUIET, SEMIBOLD, SUBHEAD, Drawing, escape, paragraph, style

_COLUMNS, _GUTTER, _HIGH = 3, 6.0, 46.0  # of a page; a figure's height, millimetres of the page
_RULES = style("rules", size=7.3, leading=1.24)
_PART = style("part", SEMIBOLD, 8.5, 1.3)
_FIRST = style("first", ITALIC, 7.8, 1.3, textColor=HexColor(QUIET))


def record_section(drafts: Iterable[Draft], units: Units, room: tuple[float, float]) -> list[Flowable]:
    """Returns the lesson of every draft on pages of a size (millimetres), figures numbered through."""
    head: list[Flowable] = [
        paragraph("The drafting record", HEAD),
        paragraph("Why each point lies where it does, to be drawn again with pencil, square and tape.", LEAD),
        paragraph(
            "Red is new in a figure; the rest stands already. Places are told across and up from the dashed lines "
            "(centre back and waist of a body, centre and waist of a skirt); a minus is to the left or below. What has "
            "no formula was constructed as its rule says. Columns are read downwards.",
            _RULES,
        ),
        Spacer(1, 6),
    ]
    wide = (room[0] - (_COLUMNS - 1) * _GUTTER) / _COLUMNS
    return [*head, *_set_in_columns(_items(drafts, wide, units), wide, room, _HEAD_HIGH)]


_HEAD_HIGH = 34.5  # what the section's head takes of its first page


@dataclass(frozen=True)
class _Item:
    """What stays together in a column, with its height in points."""

    parts: tuple[tuple[Flowable, float], ...]

    @property
    def height(self) -> float:
        """Of all parts and the space after them."""
        return sum(height for _, height in self.parts)

    def under(self, title: _Item) -> _Item:
        """Returns it kept together with a title above it."""
        return _Item((*title.parts, *self.parts))

    def cut_to(self, height: float) -> Iterator[_Item]:
        """Yields the item whole if it is no higher than that, else in runs of parts that each fit."""
        run: tuple[tuple[Flowable, float], ...] = ()
        for part in self.parts:
            if run and _Item((*run, part)).height > height:
                yield _Item(run)
                run = ()
            run = (*run, part)
        yield _Item(run)


class _Page(Flowable):
    """Columns of items, each part already measured and placed: (flowable, from the left, from the top), in points."""

    def __init__(self, placed: Sequence[tuple[Flowable, float, float]], width: float, height: float):
        super().__init__()
        self._placed = placed
        self.width, self.height = width, height

    def wrap(self, aW: float, aH: float) -> tuple[float, float]:  # noqa: N803
        """Returns the size in points."""
        return self.width, self.height

    def draw(self) -> None:
        """Draws every part at its place."""
        for flowable, left, down in self._placed:
            flowable.drawOn(self.canv, left, self.height - down)


def _set_in_columns(items: Iterable[_Item], wide: float, room: tuple[float, float], head: float) -> Iterator[_Page]:
    """Yields pages filled column by column; what is higher than a column goes on in the next. The first page is
    shorter by its head.
    """
    full = [(room[1] - head) / POINT, room[1] / POINT - 12]
    column, down, height = 0, 0.0, full[0]
    placed: list[tuple[Flowable, float, float]] = []
    for item in itertools.chain.from_iterable(item.cut_to(full[0]) for item in items):
        if down and down + item.height > height:
            column, down = column + 1, 0.0
            if column == _COLUMNS:
                yield _Page(placed, room[0] / POINT, height)
                placed, column, height = [], 0, full[1]
        for flowable, part in item.parts:
            down += part
            placed.append((flowable, column * (wide + _GUTTER) / POINT, down))
    if placed:
        yield _Page(placed, room[0] / POINT, max(down for _, _, down in placed))


def _items(drafts: Iterable[Draft], wide: float, units: Units) -> Iterator[_Item]:
    number = 1
    for draft in drafts:
        items: list[_Item] = []
        figures = lesson_of(draft)
        reckoning = False
        last = max((i for i, figure in enumerate(figures) if figure.new != Drawn()), default=-1)
        for index, (figure, box) in enumerate(zip(figures, boxes_of(figures), strict=True)):
            if figure.new == Drawn():
                lines = [_written(line, _RULES, wide, 1.5) for line in _told(figure.steps, units)]
                if not reckoning:
                    title = "Work out first" if index < last else "Worked out besides"
                    lines[0] = lines[0].under(_written(title, _FIRST, wide, 1.0))
                items += lines
                reckoning = True
                continue
            items.append(_figure_item(figure, box, number, wide, units, before=7.0 if reckoning else 0.0))
            number, reckoning = number + 1, False
        yield items[0].under(_written(draft.name.capitalize(), SUBHEAD, wide, 3.0))
        yield from items[1:]


def boxes_of(figures: Sequence[Figure]) -> list[Box]:
    """Returns the box of each figure's whole sheet: a figure that nothing stood before begins one."""
    boxes: list[Box] = []
    starts = [i for i, figure in enumerate(figures) if figure.before == Drawn()]
    for start, end in itertools.pairwise([*starts, len(figures)]):
        box = sheet_box([figure.new for figure in figures[start:end]])
        boxes += [box] * (end - start)
    return boxes


def _written(text: str, how: ParagraphStyle, wide: float, after: float) -> _Item:
    written = Paragraph(text, how)
    _, height = written.wrap(wide / POINT, 1e6)
    return _Item(((written, height), (Spacer(1, after), after)))


def _figure_item(figure: Figure, sheet: Box, number: int, wide: float, units: Units, *, before: float) -> _Item:
    def draw(pen: PdfPen) -> None:
        draw_lesson_figure(pen, figure, sheet, (wide, _HIGH))

    title = _written(f"{number}. {escape(figure.title)}", _PART, wide, 0.5)
    lines = list(_told(figure.steps, units))
    if figure.piece is not None:
        lines.append(_edges_told(figure.piece, units))
    told = [_written(line, _RULES, wide, 1.5) for line in lines]
    picture = Drawing((0.0, 0.0, wide, _HIGH), 1.0, draw)
    picture.wrap(0, 0)
    return _Item(
        (
            (Spacer(1, before), before),
            (picture, picture.height),
            (Spacer(1, 3), 3.0),
            *(part for item in (title, *told) for part in item.parts),
            (Spacer(1, 7), 7.0),
        )
    )


def _told(steps: Sequence[Step], units: Units) -> Iterator[str]:
    """Yields a line for every step; steps in a row that share a rule share the line."""
    for _, run in itertools.groupby(steps, key=lambda step: (step.rule, step.numbers)):
        same = list(run)
        if len(same) == 1:
            yield _one_told(same[0], units)
        else:
            rule = escape(rule_said(same[0].rule, units))
            values = ", ".join(f"<b>{_name(step)}</b> {value_said(step, units)}" for step in same)
            yield f"{values}: {rule}"


def _one_told(step: Step, units: Units) -> str:
    rule, value = escape(rule_said(bare_rule(step), units)), value_said(step, units)
    inputs = ", ".join(f"{escape(name)} {figure_said(name, number, units)}" for name, number in step.numbers)
    inputs = f' <font color="{QUIET}">({inputs})</font>' if inputs else ""
    name = f"<b>{_name(step)}</b>"
    if step.point is not None and (places := _PLACES.fullmatch(step.rule)):
        across, up = (escape(rule_said(places[part], units)) for part in ("across", "up"))
        x, y = (_length(length, units) for length in (step.point.x, step.point.y))
        return f"{name}, across {_worked(across)}<b>{x}</b>, up {_worked(up)}<b>{y}</b>{inputs}"
    if step.point is None and step.rule != bare_rule(step):
        return f"{name} = {_worked(rule, inputs)}<b>{value}</b>"
    return f"{name}, <b>{value}</b>: {rule}{inputs}"


_PLACES = re.compile(r"across from the centre back: (?P<across>.*); up from the waist: (?P<up>.*)")


def _worked(rule: str, inputs: str = "") -> str:
    """Returns a rule as the left side of its result; nothing for a plain figure."""
    return "" if re.fullmatch(r"−?[0-9./ ]+( mm| in)?", rule) else f"{rule}{inputs} = "


def _name(step: Step) -> str:
    return escape(step.name.replace("-", " "))


def bare_rule(step: Step) -> str:
    """Returns a rule without the name that it begins with."""
    return step.rule.removeprefix(f"{step.name} = ")


def rule_said(rule: str, units: Units) -> str:
    """Returns a rule, its millimetres told in inches for one who measures so."""
    return rule if units is Units.CM else in_units(rule, units)


def figure_said(name: str, value: float, units: Units) -> str:
    """Returns a figure as its name asks: an angle in degrees, a count or a part as a plain number, else a length."""
    if name.endswith(("angle", "slope")):
        return f"{math.degrees(value):.1f}°"
    if name.startswith("number of"):
        return f"{value:.0f}"
    if name.startswith(("part of", "height in the", "opening of")):
        return f"{value:.2f}"
    return _length(value, units)


def _length(length: float, units: Units) -> str:
    return format_length(length, units).replace("-", "−")


def value_said(step: Step, units: Units) -> str:
    """Returns what a step came to, in the person's units."""
    if step.point is not None:
        return f"{_length(step.point.x, units)} across, {_length(step.point.y, units)} up"
    return figure_said(step.name, step.value, units) if step.value is not None else ""


def _edges_told(piece: Piece, units: Units) -> str:
    edges = {edge.name.removesuffix(".right"): edge for edge in piece.edges if not edge.name.endswith(".left")}
    lengths = ", ".join(
        f"{name.replace('-', ' ')} {format_length(edge.path.length, units, with_sign=False)}"
        for name, edge in edges.items()
    )
    return f"Traced off. Its edges in {units.value}: {lengths}."


__all__ = ["bare_rule", "boxes_of", "figure_said", "record_section", "rule_said", "value_said"]
