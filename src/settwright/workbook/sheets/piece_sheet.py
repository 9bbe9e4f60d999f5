"""One piece as it stands on a full-size sheet: every line, mark and name that the tailor cuts and chalks from."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

import shapely

from settwright.bars.crossings import Crossing
from settwright.geometry import ORIGIN, Path, Point, direction
from settwright.makeup.model import Allowance, CutPiece
from settwright.pattern import LineKind
from settwright.units import Units, format_length
from settwright.workbook.drawing.marks import caption
from settwright.workbook.drawing.pen import Pen, Ring, Stroke, text_width
from settwright.workbook.sheets.lettering import Box, Lettering, Room, lettered
from settwright.workbook.style import INK, QUIET, THREAD

SEAM = Stroke(0.25, INK)
CUTTING = Stroke(0.6, INK)
GRAIN = Stroke(0.35, INK)
NOTCH = Stroke(0.45, INK)
TICK = Stroke(0.2, QUIET)
DOMINANT_TICK = Stroke(0.35, THREAD)
LINES = {
    LineKind.LEVEL: Stroke(0.15, QUIET, (0.8, 1.6)),
    LineKind.CENTRE: Stroke(0.25, INK, (9.0, 2.0, 1.5, 2.0)),
    LineKind.ROLL: Stroke(0.3, INK, (5.0, 1.5, 1.0, 1.5, 1.0, 1.5)),
    LineKind.FOLD: Stroke(0.3, INK, (6.0, 3.0)),
    LineKind.DART: Stroke(0.25, INK),
    LineKind.PLACE: Stroke(0.2, INK, (2.0, 1.5)),
}
NAME_SIZE = 2.6  # names of notches, edges, lines and marks
TICK_SIZE = 2.1  # names of bars

_RIGHT = Point(1.0, 0.0)
_CLEAR = 20.0  # the grain arrow goes on so far beyond the grain mark
_SHALLOW = 0.4  # sine of the angle under which a bar runs too close along the seam for a tick along the bar
_TITLES = ((1.0, 4), (0.75, 4), (0.55, 4), (0.4, 4), (0.4, 3), (0.4, 2), (0.4, 1))  # scale and how many lines
_TITLE_SHARE = 0.1  # the title takes no more than this part of a piece, so that the bars' names keep their room
_SMALLEST = 2.2  # no type is smaller than this, save the names of bars


def draw_piece(
    pen: Pen, piece: CutPiece, crossings: Sequence[Crossing], *, units: Units, note: str, for_both: bool = False
) -> None:
    """Draws a piece at full size in its own frame, right side of the cloth upwards.

    `note` is printed small under its name: the commission and the state of the allowances. Whatever matters most
    is written first, and a name for which no room is left is left out; its mark stays. `for_both` says that the other
    of the pair is cut by it too, turned over.
    """
    sheet = _sheet(pen, piece)
    sheet.draw_outlines()
    sheet.draw_grain()
    sheet.draw_notches()
    sheet.draw_marks()
    count = "cut two, one turned over" if for_both else "cut one"
    about = f"{count}; {piece.cloth}" + ("; on the bias" if piece.on_bias else "")
    sheet.draw_title(about, "this side is the right side of the cloth", note)
    sheet.draw_crossings(crossings)
    sheet.name_lines()
    sheet.name_edges(units)


def draw_template(pen: Pen, piece: CutPiece, *, units: Units, note: str) -> None:
    """Draws at full size the shape that a strip of cloth is shaped to: nothing is cut by it until that is done."""
    sheet = _sheet(pen, piece)
    sheet.draw_outlines()
    sheet.draw_notches()
    sheet.draw_title("a shape to steam on, not to cut by", "turn it over for the left", note)
    sheet.name_lines()
    sheet.name_edges(units)


def _sheet(pen: Pen, piece: CutPiece) -> _Sheet:
    drawn = [shapely.LineString([_xy(p) for p in line.path.points(0.2)]) for line in piece.piece.lines]
    return _Sheet(
        pen=pen,
        piece=piece,
        inside=_polygon(piece.seam_line),
        room=Room(_polygon(piece.cutting_line), shapely.MultiLineString(drawn)),
        right_is_out=piece.piece.area > 0,
    )


@dataclass(frozen=True)
class _Sheet:
    """One piece being drawn: what is being drawn on, and what room is taken."""

    pen: Pen
    piece: CutPiece
    inside: shapely.Polygon  # the seam line
    room: Room  # within the cutting line
    right_is_out: bool  # whether an edge has the allowance to the right of its direction

    def draw_outlines(self) -> None:
        """Draws cutting line, seam line and all that is drawn inside."""
        self.pen.polylines([[_xy(p) for p in self.piece.cutting_line]], stroke=CUTTING, closed=True)
        self.pen.path([edge.path for edge in self.piece.piece.edges], stroke=SEAM)
        for line in self.piece.piece.lines:
            self.pen.path(line.path, stroke=LINES[line.kind])

    def outward(self, tangent: Point) -> Point:
        """Returns the direction out of the piece, across an edge."""
        return tangent.right if self.right_is_out else tangent.left

    # --- grain ---------------------------------------------------------------------------------------------------

    def draw_grain(self) -> None:
        """Draws the arrow and the grain mark, from which the layout tells the piece's place on the cloth."""
        foot, head = self._grain_line()
        along = (head - foot).unit
        barbs = (along.left * 1.6 - along * 6.0, along.right * 1.6 - along * 6.0)
        self.pen.path([head, *(head + barb for barb in barbs)], fill=INK, closed=True)
        self.room.take(_box_along(foot, head, 1.6))
        ring = [_xy(direction(math.tau * step / 24) * 2.5) for step in range(25)]
        self.pen.polylines(
            [_straight(foot, head), ring, ((-4.0, 0.0), (4.0, 0.0)), ((0.0, -4.0), (0.0, 4.0))], stroke=GRAIN
        )
        self.room.take(Box(ORIGIN, _RIGHT, 3.0, 3.0))
        self._claim([lettered("grain mark", side * 5.0, side, NAME_SIZE, "italic") for side in (_RIGHT, -_RIGHT)], INK)

    def _grain_line(self) -> tuple[Point, Point]:
        """Returns foot and head of the arrow along the warp, as near to the grain mark as it has room to stand.

        It keeps off a line that runs the same way, such as a centre front on the grain.
        """
        g = self.piece.grain_turn
        along = Point(math.sin(g), math.cos(g))  # R(−g) (0, 1)
        left, bottom, right, top = self.inside.bounds
        reach = math.hypot(right - left, top - bottom)
        roomy = self.inside.buffer(-6.0)
        foot, head = along * -20.0, along * 20.0
        longest = 0.0
        for step in range(13):
            for side in (1.0, -1.0) if step else (1.0,):
                middle = along.right * (side * step * 5.0)
                line = shapely.LineString([_xy(middle - along * reach), _xy(middle + along * reach)])
                if self.room.shared(line.buffer(0.5)) > _CLEAR:
                    continue
                chords = [part for part in shapely.get_parts(roomy.intersection(line)) if part.length > 0]
                for chord in chords:
                    if chord.length > longest * 1.25:
                        longest = chord.length
                        foot, head = sorted((Point(x, y) for x, y in chord.coords), key=along.dot)
        low, high = along.dot(foot), along.dot(head)
        cut = (high - low) * 0.2
        # clear of the grain mark at the origin, where the chord has the room
        starts, ends = max(low, min(low + cut, -_CLEAR)), min(high, max(high - cut, _CLEAR))
        return foot + along * (starts - low), foot + along * (ends - low)

    # --- notches, marks, names -----------------------------------------------------------------------------------

    def draw_notches(self) -> None:
        """Draws each notch from the seam line into the allowance, its name beside it outside the seam."""
        strokes: list[Ring] = []
        for notch in self.piece.piece.notches:
            path = self.piece.piece.edge(notch.edge).path
            at, tangent = path.at(notch.at), path.tangent(notch.at)
            out = self.outward(tangent)
            foot, head = at - out * 2.0, at + out * 6.0
            strokes.append(_straight(foot, head))
            self.room.take(_box_along(foot, head, 0.5))
            choices = (
                lettered(
                    _spoken(notch.name), at + out * lift + tangent * (side * 1.2), tangent * side, NAME_SIZE, "italic"
                )
                for lift in (3.5, 7.0, -4.0)
                for side in (1.0, -1.0)
            )
            self._claim(choices, INK)
        if strokes:
            self.pen.polylines(strokes, stroke=NOTCH)

    def draw_marks(self) -> None:
        """Draws a cross at each marked point, its name beside it."""
        for mark in self.piece.piece.marks:
            arms = (Point(3.0, 0.0), Point(0.0, 3.0))
            self.pen.polylines([_straight(mark.at - arm, mark.at + arm) for arm in arms], stroke=NOTCH)
            self.room.take(Box(mark.at, _RIGHT, 3.2, 3.2))
            choices = (
                lettered(_spoken(mark.name), mark.at + Point(x, y) * 4.0, _RIGHT * x, NAME_SIZE, "italic")
                for y in (0.0, 1.0, -1.0)
                for x in (1.0, -1.0)
            )
            self._claim(choices, INK)

    def name_lines(self) -> None:
        """Writes the name of each inner line along it."""
        for line in self.piece.piece.lines:
            self._claim(self._along(line.path, _spoken(line.name), (2.0, -2.0), "italic"), QUIET)

    def name_edges(self, units: Units) -> None:
        """Writes each edge's name and what lies beyond it: the width of its allowance, or that it is a fold."""
        ring = shapely.LinearRing([_xy(p) for p in self.piece.cutting_line])
        for allowance in self.piece.allowances:
            path = self._stretch(allowance)
            text = _spoken(allowance.edge)
            middle = path.at(path.length / 2)
            width = float(ring.distance(shapely.Point(middle.x, middle.y)))
            if allowance.is_fold:
                text = f"{text}: fold"
            elif width > 0.5:
                text = f"{text}, {format_length(width, units)}"
            lifts = (min(width / 2, 6.0), 3.0) if width > 5 else (-2.5,)
            self._claim(self._along(path, text, lifts, "regular"), QUIET)

    def _along(self, path: Path, text: str, lifts: Sequence[float], weight: str) -> Iterator[Lettering]:
        """Yields places for a text along a path, from the middle outwards; a lift is out of the piece."""
        half = text_width(text, NAME_SIZE, weight) / 2
        for part in (0.5, 0.35, 0.65, 0.2, 0.8):
            at, tangent = path.at(path.length * part), path.tangent(path.length * part)
            for lift in lifts:
                start = at - tangent * half + self.outward(tangent) * lift
                yield lettered(text, start, tangent, NAME_SIZE, weight)

    def _stretch(self, allowance: Allowance) -> Path:
        """Returns the part of an edge that an allowance covers."""
        path = self.piece.piece.edge(allowance.edge).path
        if allowance.stretch is None:
            return path
        start, end = (self.piece.piece.stop(allowance.edge, stop) for stop in allowance.stretch)
        return path.part(min(start, end), max(start, end))

    # --- bars ----------------------------------------------------------------------------------------------------

    def draw_crossings(self, crossings: Sequence[Crossing]) -> None:
        """Draws a tick along each bar where it crosses the seam line, its name running into the piece, else out.

        Where the bar runs nearly along the seam the tick stands square to the seam instead.
        """
        ticks: dict[bool, list[Ring]] = {True: [], False: []}
        named: list[tuple[Crossing, Point]] = []
        for crossing in crossings:
            inward = -self.outward(crossing.tangent)
            lean = crossing.along.dot(inward)
            way = inward if abs(lean) < _SHALLOW else crossing.along * math.copysign(1.0, lean)
            out, into = (2.5, 4.0) if crossing.is_dominant else (1.5, 2.5)
            foot, head = crossing.point - way * out, crossing.point + way * into
            ticks[crossing.is_dominant].append(_straight(foot, head))
            self.room.take(_box_along(crossing.point, head, 0.25))
            named.append((crossing, way))
        for is_dominant, stroke in ((False, TICK), (True, DOMINANT_TICK)):
            if ticks[is_dominant]:
                self.pen.polylines(ticks[is_dominant], stroke=stroke)
        within = self.room.narrowed(self.inside)
        for crossing, way in sorted(named, key=lambda entry: not entry[0].is_dominant):
            out, into = (3.3, 4.8) if crossing.is_dominant else (2.3, 3.3)
            weight, colour = ("semibold", THREAD) if crossing.is_dominant else ("regular", QUIET)
            for room, start, away in (
                (within, crossing.point + way * into, way),
                (self.room, crossing.point - way * out, -way),
            ):
                choices = (
                    lettered(crossing.label, start + way.left * aside, away, TICK_SIZE, weight)
                    for aside in (0.0, 1.5, -1.5)
                )
                if self._claim(choices, colour, room):
                    break

    # --- title ---------------------------------------------------------------------------------------------------

    def draw_title(self, about: str, side: str, note: str) -> None:
        """Writes what the piece is, large, where it has room off the lines, as near to the middle as may be."""
        lines = [
            (caption(self.piece), 7.0, "semibold"),
            (about, 4.2, "regular"),
            (side, 3.2, "italic"),
            (note, 2.8, "regular"),
        ]
        within = self.room.narrowed(self.inside.buffer(-2.0))
        places = tuple(self._places())
        for scale, count in _TITLES:
            sized = [(text, max(size * scale, _SMALLEST), weight) for text, size, weight in lines[:count]]
            high = sum(size * 1.35 for _, size, _ in sized)
            wide = max(text_width(text, size, weight) for text, size, weight in sized)
            if wide * high > _TITLE_SHARE * self.inside.area and count == len(lines):
                continue
            for along in (_RIGHT, _RIGHT.left):
                for middle in places:
                    box = Box(middle, along, wide / 2 + 2, high / 2 + 2)
                    if within.holds(box) and within.is_clear(box):
                        within.take(box)
                        self._write_block(sized, middle + along.left * (high / 2), along)
                        return
        # a piece without room is named all the same: small, over a drawn line, at worst over its middle
        name = (lines[0][0], _SMALLEST, "semibold")
        heart = self.inside.representative_point()
        boxes = [
            Box(p, _RIGHT, text_width(*name) / 2 + 0.5, _SMALLEST * 0.8) for p in (*places, Point(heart.x, heart.y))
        ]
        held = [box for box in boxes if within.holds(box)]
        box = next((box for box in held if within.is_clear(box)), (*held, boxes[-1])[0])
        within.take(box)
        self._write_block([name], box.middle + Point(0.0, box.half_height), _RIGHT)

    def _places(self) -> Iterator[Point]:
        """Yields places for the name, nearest to the middle of the piece first."""
        left, bottom, right, top = self.inside.bounds
        heart = self.inside.representative_point()
        spots = [
            Point(left + (right - left) * i / 16, bottom + (top - bottom) * j / 24)
            for i in range(1, 16)
            for j in range(1, 24)
        ]
        yield from sorted(spots, key=lambda p: (round(math.hypot(p.x - heart.x, p.y - heart.y), 3), p.x, p.y))

    def _write_block(self, lines: Sequence[tuple[str, float, str]], top: Point, along: Point) -> None:
        for text, size, weight in lines:
            top = top - along.left * (size * 1.05)
            self._write(Lettering(text, top - along * (text_width(text, size, weight) / 2), along, size, weight), INK)
            top = top - along.left * (size * 0.3)

    # --- writing -------------------------------------------------------------------------------------------------

    def _claim(self, choices: Iterable[Lettering], colour: str, room: Room | None = None) -> bool:
        """Writes the first of the choices that there is room for; returns whether there was."""
        claimed = (room or self.room).claim(choices)
        if claimed:
            self._write(claimed, colour)
        return claimed is not None

    def _write(self, lettering: Lettering, colour: str) -> None:
        self.pen.text(
            lettering.at,
            lettering.text,
            size=lettering.size,
            weight=lettering.weight,
            angle=lettering.along.angle,
            colour=colour,
        )


def _spoken(name: str) -> str:
    """Returns an id as one says it: "side-front.left" is "side front, left"."""
    return name.replace("-", " ").replace(".", ", ")


def _box_along(a: Point, b: Point, half_height: float) -> Box:
    return Box(a.between(b), (b - a).unit, (b - a).length / 2, half_height)


def _straight(a: Point, b: Point) -> Ring:
    return _xy(a), _xy(b)


def _xy(p: Point) -> tuple[float, float]:
    return p.x, p.y


def _polygon(points: Sequence[Point]) -> shapely.Polygon:
    return shapely.Polygon([_xy(p) for p in points])
