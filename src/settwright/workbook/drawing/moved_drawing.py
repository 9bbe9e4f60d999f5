"""What moved, drawn: every piece that changed, its old outline quiet, its new one strong, arrows where points went."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from settwright.geometry import Path, Point, Transform
from settwright.geometry.shelves import lay_on_strip
from settwright.pattern import Draft, Piece
from settwright.pattern.moved import FOLLOW, Kind, Moved, compared, moved, places_of, whole_shift
from settwright.units import Units
from settwright.workbook.drawing.marks import INK, QUIET, THREAD, arrow, scaled
from settwright.workbook.drawing.pen import Pen, Stroke, text_width

Box = tuple[float, float, float, float]  # left, bottom, right, top

_OLD, _NEW, _INSIDE = Stroke(0.2, QUIET, (0.9, 0.7)), Stroke(0.38, INK), Stroke(0.2, INK)
_DRAWN = (Kind.EDGE, Kind.LINE)
_SHOWN = 0.5  # millimetres of the draft; a point that moved less gets no arrow
_SHORTEST = 3.2  # of an arrow on the page: what moved little is drawn larger than it is
_GAP, _CAPTION = 7.0, 7.5  # between pieces and under each, millimetres of the page
_TITLE, _NOTE = 2.6, 2.1  # height of their type
_FLAT = 0.3  # millimetres of the draft by which outlines are simplified


@dataclass(frozen=True)
class _Changed:
    """One piece before and after, the later one laid back by what it moved as a whole."""

    title: str
    before: Piece
    after: Piece
    shift: Point

    def note(self, units: Units) -> str:
        """Returns what it moved by as a whole, or nothing."""
        name = self.after.name
        whole = Moved(Kind.PIECE, name, name, self.shift.length, self.shift)
        return whole.told(units).split(": ", 1)[1].rstrip(".") if whole.distance else ""

    def box(self) -> Box:
        """Returns the box round both, with what lies beyond their outlines."""
        points = [p for piece in (self.before, self.after) for path in _paths(piece) for p in path.points(_FLAT)]
        xs, ys = [p.x for p in points], [p.y for p in points]
        return min(xs), min(ys), max(xs), max(ys)


def moved_size(before: Draft, after: Draft, width: float, scale: float) -> tuple[float, float]:
    """Returns width and height on the page of `draw_moved` for a page that is `width` wide."""
    return width, max((-corner.y + high for _, corner, (_, high) in _places(before, after, width, scale)), default=0.0)


def draw_moved(pen: Pen, before: Draft, after: Draft, *, width: float, scale: float, units: Units) -> None:
    """Draws the pieces whose shape changed between two drafts in rows, hanging down from (0, 0).

    `scale` is millimetres of the page to one of the draft. Arrows too short to be seen are drawn longer.
    """
    for changed, corner, (wide, _) in _places(before, after, width, scale):
        left, bottom, right, top = changed.box()
        middle, foot = corner.x + wide / 2, corner.y - (top - bottom) * scale
        page = scaled(scale, Point(middle, corner.y), Point((left + right) / 2, top))
        pen.path([page(p) for p in changed.after.outline.points(_FLAT)], stroke=_NEW, closed=True)
        pen.path([page(p) for p in changed.before.outline.points(_FLAT)], stroke=_OLD, closed=True)
        for piece, stroke in ((changed.before, _OLD), (changed.after, _INSIDE)):
            for path in _inside(piece):
                pen.path([page(p) for p in path.points(_FLAT)], stroke=stroke)
        for start, end in _went(changed):
            way = page(end) - page(start)
            tip = page(start) + way.unit * max(way.length, _SHORTEST)
            arrow(pen, page(start), tip, both=False, colour=THREAD, size=1.3)
        pen.text(Point(middle, foot - 4.0), changed.title, size=_TITLE, weight="semibold", anchor="middle")
        note = changed.note(units)
        if note:
            pen.text(Point(middle, foot - 7.0), note, size=_NOTE, weight="italic", anchor="middle", colour=QUIET)


def _places(
    before: Draft, after: Draft, width: float, scale: float
) -> list[tuple[_Changed, Point, tuple[float, float]]]:
    """Returns each changed piece with its upper left corner on the page and its size there."""
    pieces = list(_changed(before, after))
    sizes: list[tuple[float, float]] = []
    for changed in pieces:
        left, bottom, right, top = changed.box()
        title = text_width(changed.title, _TITLE, "semibold")
        note = max(text_width(changed.note(units), _NOTE, "italic") for units in Units)
        sizes.append((max((right - left) * scale, title, note), (top - bottom) * scale + _CAPTION))
    return list(zip(pieces, lay_on_strip(sizes, width, _GAP), sizes, strict=True)) if sizes else []


def _changed(before: Draft, after: Draft) -> Iterator[_Changed]:
    """Yields the pieces of both drafts of which an edge or a line moved or grew by more than half a millimetre, or a
    line is new or gone."""
    names = {m.of for m in moved(before, after) if m.kind in _DRAWN and _is_seen(m)}
    for name, (old, new) in compared(before, after).items():
        if name in names and old is not None and new is not None:
            shift = whole_shift(old, new)
            hand = name.removeprefix(new.name).removeprefix(".")
            title = f"{new.title}, {hand}" if hand else new.title
            yield _Changed(title, old, new.moved(Transform.shift(-shift.x, -shift.y)), shift)


def _is_seen(one: Moved) -> bool:
    return max(one.distance, abs(one.longer)) > _SHOWN or (one.kind is Kind.LINE and (one.is_new or one.is_gone))


def _inside(piece: Piece) -> Iterator[Path]:
    return (line.path for line in piece.lines if line.kind not in FOLLOW)


def _paths(piece: Piece) -> tuple[Path, ...]:
    return (piece.outline, *_inside(piece))


def _went(changed: _Changed) -> Iterator[tuple[Point, Point]]:
    """Yields from where to where every corner, notch and mark of a piece went, if by more than half a millimetre."""
    old = dict(places_of(changed.before))
    for name, point in places_of(changed.after):
        if name in old and (point - old[name]).length > _SHOWN:
            yield old[name], point


__all__ = ["draw_moved", "moved_size"]
