"""A pen that keeps what is drawn, so that one drawing, worked out once, goes into several files."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager

from settwright.geometry import Path, Point, Transform
from settwright.workbook.drawing.pen import Outline, Pen, Ring, Stroke


class Recording:
    """Takes the calls of a Pen; `draw` makes them again on another."""

    def __init__(self) -> None:
        self._calls: list[Callable[[Pen], None]] = []

    def draw(self, pen: Pen) -> None:
        """Draws everything that was recorded, in its order."""
        for call in self._calls:
            call(pen)

    def path(
        self, outline: Outline, *, stroke: Stroke | None = None, fill: str | None = None, closed: bool = False
    ) -> None:
        """See Pen."""
        kept = _kept(outline)
        self._calls.append(lambda pen: pen.path(kept, stroke=stroke, fill=fill, closed=closed))

    def polygons(self, rings: Iterable[Ring], *, fill: str) -> None:
        """See Pen."""
        kept = tuple(rings)
        self._calls.append(lambda pen: pen.polygons(kept, fill=fill))

    def polylines(self, lines: Iterable[Ring], *, stroke: Stroke, closed: bool = False) -> None:
        """See Pen."""
        kept = tuple(lines)
        self._calls.append(lambda pen: pen.polylines(kept, stroke=stroke, closed=closed))

    def text(
        self,
        at: Point,
        text: str,
        *,
        size: float = 3.5,
        weight: str = "regular",
        anchor: str = "start",
        angle: float = 0.0,
        colour: str = "#222222",
    ) -> None:
        """See Pen."""
        self._calls.append(
            lambda pen: pen.text(at, text, size=size, weight=weight, anchor=anchor, angle=angle, colour=colour)
        )

    @contextmanager
    def clipped(self, outline: Outline) -> Iterator[None]:
        """See Pen."""
        kept = _kept(outline)
        with self._inside() as within:
            yield

        def call(pen: Pen) -> None:
            with pen.clipped(kept):
                within.draw(pen)

        self._calls.append(call)

    @contextmanager
    def moved(self, by: Transform) -> Iterator[None]:
        """See Pen."""
        with self._inside() as within:
            yield

        def call(pen: Pen) -> None:
            with pen.moved(by):
                within.draw(pen)

        self._calls.append(call)

    @contextmanager
    def _inside(self) -> Iterator[Recording]:
        """Records apart what is drawn inside the `with` block."""
        outer, within = self._calls, Recording()
        self._calls = within._calls
        yield within
        self._calls = outer


def _kept(outline: Outline) -> Outline:
    return outline if isinstance(outline, Path) else tuple(outline)  # type: ignore[return-value]
