"""A longer search on plain cloth by a general packing library, where one is installed.

It knows neither repeat nor faults, and the clock decides what it finds, so it serves only where pieces may lie
anywhere, and its result is kept in the commission as found. What it returns is looked at again here: a layout in which
two cutting lines come nearer than the gap is thrown away.
"""

from __future__ import annotations

from collections.abc import Sequence
from importlib.util import find_spec
from typing import cast

from shapely import Polygon, STRtree

from settwright.layout.engine import length_findings
from settwright.layout.model import Board, Layout, Placement, Shape

SECONDS = 20
_GROWN = 0.02  # mm by which every outline is grown besides half the gap, so that rounding doesn't eat it
_SIMPLER = 0.1  # mm by which an outline may be simplified, outwards


def can_search(shapes: Sequence[Shape], board: Board) -> bool:
    """Tells whether the library is installed and every shape may lie anywhere on a flawless cloth."""
    is_free = all(state.u is None and state.v is None for shape in shapes for state in shape.states)
    return bool(shapes) and is_free and not board.faults and not board.blemishes and find_spec("spyrrow") is not None


def lay_by_library(shapes: Sequence[Shape], board: Board, seconds: int = SECONDS, seed: int = 1) -> Layout | None:
    """Returns the shortest layout that the library finds in so many seconds; None where it isn't sound.

    The strip runs along the cloth: a shape's point (x, y) stands at (y, −x) in it.
    """
    import spyrrow  # noqa: PLC0415  loaded only by who searches longer

    margin = board.gap / 2 + _GROWN + _SIMPLER
    height = board.width - 2 * board.selvedge + 2 * margin
    items: list[spyrrow.Item] = []
    for number, shape in enumerate(shapes):
        corners = Polygon([(p.y, -p.x) for p in shape.outline])
        grown = cast(Polygon, corners.buffer(margin, join_style="mitre").simplify(_SIMPLER))
        turns = [0.0, 180.0] if any(state.t < 0 and state.f > 0 for state in shape.states) else [0.0]
        items.append(spyrrow.Item(str(number), [(x, y) for x, y in grown.exterior.coords], 1, turns))
    config = spyrrow.StripPackingConfig(
        early_termination=True, total_computation_time=seconds, num_workers=1, seed=seed
    )
    found = spyrrow.StripPackingInstance("cloth", height, items).solve(config)
    placements: list[Placement] = []
    for item in sorted(found.placed_items, key=lambda item: int(item.id)):
        along, across = item.translation
        t = -1 if abs(abs(item.rotation) - 180.0) < 1.0 else 1
        x = board.width - board.selvedge + margin - across
        placements.append(Placement(shapes[int(item.id)].name, round(x, 3), round(along - margin, 3), t))
    return _checked(shapes, board, placements)


def _checked(shapes: Sequence[Shape], board: Board, placements: Sequence[Placement]) -> Layout | None:
    """Returns the layout, slid to the squared end; None where a shape overlaps another or a selvedge."""
    laid = [
        Polygon([(at.x + at.t * p.x, at.y + at.t * p.y) for p in shape.outline])
        for shape, at in zip(shapes, placements, strict=True)
    ]
    bounds = [polygon.bounds for polygon in laid]
    left, bottom = min(b[0] for b in bounds), min(b[1] for b in bounds)
    right, top = max(b[2] for b in bounds), max(b[3] for b in bounds)
    if left < board.selvedge - 0.001 or right > board.width - board.selvedge + 0.001:
        return None
    tree = STRtree(laid)
    for i, polygon in enumerate(laid):
        for j in tree.query(polygon, predicate="dwithin", distance=board.gap - 0.005):
            if i < j:
                return None
    length = top - bottom
    usage = sum(polygon.area for polygon in laid) / ((board.width - 2 * board.selvedge) * length)
    lowered = tuple(Placement(at.name, at.x, round(at.y - bottom, 3), at.t) for at in placements)
    return Layout(lowered, length, board.oy or 0.0, usage, length_findings(board, length))
