"""An invented suit for the drawing tests: a body of the size tables, its pieces, and bars that lie anyhow."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, field
from functools import cache

from settwright.bars.model import Match, Phase
from settwright.body.estimate import complete
from settwright.cloth.cloth import Bar, Cloth
from settwright.cloth.cloth import Sequence as Bars
from settwright.commission.design import FacingGrain, FrontEdge, FrontStyle, JacketDesign, SkirtCut, SkirtDesign
from settwright.geometry import Path, Point, Transform
from settwright.makeup.garment import make_up
from settwright.makeup.model import Hand, MadeUp, MakeUpCloths, Stage
from settwright.pattern import Draft
from settwright.pattern.drafts.jacket import draft_jacket
from settwright.pattern.drafts.skirt import draft_skirt
from settwright.workbook.drawing.pen import Outline, Ring, Stroke


def bars(*widths: tuple[str, float]) -> Bars:
    """A sequence from (colour, width)."""
    return Bars(tuple(Bar(f"{colour} {number}", colour, width) for number, (colour, width) in enumerate(widths, 1)))


UNEVEN = Cloth(
    name="shell",
    title="Invented uneven plaid",
    colours=(("ecru", "#d9cfb8"), ("navy", "#28344f"), ("rust", "#9b4a2e"), ("moss", "#5d6b45")),
    warp=bars(("ecru", 30), ("navy", 14), ("ecru", 6), ("navy", 3), ("ecru", 18), ("rust", 2.5), ("moss", 18.5)),
    weft=bars(("ecru", 36), ("navy", 16), ("ecru", 8), ("navy", 4), ("ecru", 22), ("rust", 3), ("moss", 23)),
    width=1500,
    selvedge=12,
    thickness=1.0,
)


def made_up_of(
    *drafts: Draft, front_edge: FrontEdge = FrontEdge.SEPARATE, facing_grain: FacingGrain = FacingGrain.AS_CUT
) -> MadeUp:
    """Drafts as they are cut before the fitting, the right front over the left."""
    return make_up(
        drafts,
        front_edge=front_edge,
        facing_grain=facing_grain,
        front_laps_over=Hand.RIGHT,
        stage=Stage.BEFORE_FITTING,
        cloths=MakeUpCloths(),
        thickness=1.0,
    )


@cache
def suit(front_edge: FrontEdge = FrontEdge.SEPARATE, bust: float = 920.0) -> MadeUp:
    """Jacket and skirt for an invented client."""
    body = complete({"bust_girth": bust, "waist_girth": bust - 180, "hip_girth": bust + 60, "height": 1680.0})
    style = FrontStyle.V_NECK if front_edge is FrontEdge.TO_NECK else FrontStyle.NOTCHED
    design = JacketDesign(front_edge=front_edge, front_style=style)
    drafts = draft_jacket(body, design, 1.0), draft_skirt(body, SkirtDesign(), design.length_below_waist)
    return made_up_of(*drafts, front_edge=front_edge)


@cache
def pleated_skirt() -> MadeUp:
    """A skirt alone, pleated, for an invented client."""
    body = complete({"bust_girth": 920.0, "waist_girth": 740.0, "hip_girth": 980.0, "height": 1680.0})
    return made_up_of(draft_skirt(body, SkirtDesign(cut=SkirtCut.PLEATED), 230.0))


def scattered(made_up: MadeUp) -> Match:
    """Phases that differ from piece to piece, so that a mix-up shows."""
    phases = tuple(
        Phase(piece.name, (17.0 * i) % 92.0, (29.0 * i + 5.0) % 112.0) for i, piece in enumerate(made_up.pieces)
    )
    return Match(phases, (), (), (), 0.0, (), ())


@dataclass
class Recorder:
    """A pen that keeps every filled area in the order of drawing: its rings and its colour."""

    areas: list[tuple[list[Ring], str]] = field(default_factory=list)
    strokes: list[Sequence[Point]] = field(default_factory=list)
    texts: list[str] = field(default_factory=list)
    boxes: list[list[tuple[float, float, float, float]]] = field(default_factory=list)

    def path(
        self,
        outline: Outline,
        *,
        stroke: Stroke | None = None,
        fill: str | None = None,
        closed: bool = False,
    ) -> None:
        points: list[Point] = []
        for item in (outline,) if isinstance(outline, Path) else outline:
            points += item.points(0.01) if isinstance(item, Path) else (item,) if isinstance(item, Point) else item
        if fill:
            self.areas.append(([[(p.x, p.y) for p in points]], fill))
        if stroke:
            self.strokes.append(points)

    def polygons(self, rings: Iterable[Ring], *, fill: str) -> None:
        self.areas.append(([list(ring) for ring in rings], fill))

    def polylines(self, lines: Iterable[Ring], *, stroke: Stroke, closed: bool = False) -> None:
        self.strokes += [[Point(x, y) for x, y in line] for line in lines]

    def text(self, at: Point, text: str, **_: object) -> None:
        self.texts.append(text)

    @contextmanager
    def clipped(self, outline: Outline) -> Iterator[None]:
        yield

    @contextmanager
    def moved(self, by: Transform) -> Iterator[None]:
        yield

    def colour_at(self, x: float, y: float) -> str | None:
        """The colour seen at a place: that of the last area that covers it (winding rule)."""
        while len(self.boxes) < len(self.areas):
            rings, _ = self.areas[len(self.boxes)]
            self.boxes.append([_box(ring) for ring in rings])
        for (rings, colour), boxes in zip(reversed(self.areas), reversed(self.boxes), strict=True):
            if sum(_winding(ring, x, y) for ring, box in zip(rings, boxes, strict=True) if _holds(box, x, y)):
                return colour
        return None


def _box(ring: Ring) -> tuple[float, float, float, float]:
    return min(x for x, _ in ring), min(y for _, y in ring), max(x for x, _ in ring), max(y for _, y in ring)


def _holds(box: tuple[float, float, float, float], x: float, y: float) -> bool:
    return box[0] <= x <= box[2] and box[1] <= y <= box[3]


def _winding(ring: Ring, x: float, y: float) -> int:
    turns = 0
    for (x0, y0), (x1, y1) in zip(ring, [*ring[1:], ring[0]], strict=True):
        side = (x1 - x0) * (y - y0) - (x - x0) * (y1 - y0)
        if y0 <= y < y1 and side > 0:
            turns += 1
        elif y1 <= y < y0 and side < 0:
            turns -= 1
    return turns
