"""Laying all shapes of one cloth on the least length of it."""

from __future__ import annotations

from collections.abc import Callable

from settwright.findings import Finding, Refusal, Weight
from settwright.layout.grid import ways_of
from settwright.layout.model import Board, Layout, Placement, Shape

EFFORT = 1500  # million table entries added up; about 2 s on one core
MANY = 25  # shapes; fewer get less of the effort
CELLS = 2_500_000  # about so many table entries at most, 2 bytes each
MILLION = 1_000_000


def lay(
    shapes: tuple[Shape, ...],
    board: Board,
    *,
    effort: int = EFFORT,
    seed: int = 1,
    on_progress: Callable[[float], None] | None = None,
) -> Layout:
    """Returns the shortest layout found of all shapes in one layer.

    Each shape lies in one of its states, its grain mark at the state's phase on every axis that has one. Any two
    cutting lines keep `board.gap` between them, all lie between the selvedges and from 0 upwards, none touches a
    fault. `effort` bounds the work, not the time (for MANY shapes or more; fewer get their share), so the same input
    gives the same layout. `on_progress` is told the part of the work done, 0 to 1.

    Raises Refusal when a shape can't lie on this cloth at all.
    """
    # numba takes a second to import: only who lays pays for it
    from settwright.layout.search import Search, settled  # noqa: PLC0415
    from settwright.layout.tables import grid_of  # noqa: PLC0415

    if not shapes:
        return Layout((), 0.0, board.oy or 0.0, 0.0)
    _check(shapes, board)
    is_level = board.repeat_y is not None and any(s.v is not None for shape in shapes for s in shape.states)
    start_is_free = is_level and board.oy is None and not board.faults
    oy = board.oy or 0.0
    grid = grid_of(shapes, board, oy, CELLS)
    search = Search(grid, board.width, start_is_free, seed)
    area = sum(_area(shape) for shape in shapes)
    usable = board.width - 2 * board.selvedge
    tallest = max(
        min(way.top - way.bottom for way in grid.ways if way.piece == piece and way.x.count > 0)
        for piece in range(len(shapes))
    )
    found = search.run(effort * MILLION * min(len(shapes), MANY) // MANY, max(area / usable, tallest), on_progress)
    places, bottom, top = settled(grid, found)
    length = top - bottom
    placements = tuple(
        Placement(shape.name, x, y - bottom, grid.ways[way].state.t, grid.ways[way].state.f)
        for shape, (way, _, _), (x, y) in zip(shapes, found.rows, places, strict=False)
    )
    if start_is_free:
        assert board.repeat_y is not None
        oy = -bottom % board.repeat_y
    if on_progress is not None:
        on_progress(1.0)
    return Layout(placements, length, oy, area / (usable * length), _length_findings(board, length))


def _check(shapes: tuple[Shape, ...], board: Board) -> None:
    """Raises Refusal for every shape that has no place between the selvedges."""
    usable = board.width - 2 * board.selvedge
    refused: list[Finding] = []
    ways = ways_of(shapes, board, 0.0, (1.0, 1.0))
    for piece, shape in enumerate(shapes):
        own = [way for way in ways if way.piece == piece]
        if any(way.x.count > 0 for way in own):
            continue
        width = min(way.outline.right - way.outline.left for way in own) / 1000
        if width > usable:
            refused.append(
                Finding(
                    Weight.REFUSED,
                    shape.name,
                    f"is {width:.0f} mm wide, {width - usable:.0f} mm wider than the cloth between its selvedges "
                    f"({usable:.0f} mm).",
                    "Take a wider cloth, or give the piece a seam.",
                )
            )
            continue
        over = min(_sticks_out(way.x.first, way.outline.left / 1000, way.outline.right / 1000, board) for way in own)
        refused.append(
            Finding(
                Weight.REFUSED,
                shape.name,
                f"is {width:.0f} mm wide and would lie {over:.0f} mm over the selvedge wherever its bars match "
                f"(the cloth is {usable:.0f} mm wide between the selvedges).",
                "Let another bar fall at its grain mark, let its upright bars go, or take a wider cloth.",
            )
        )
    if refused:
        raise Refusal(refused)


def _sticks_out(first: float, left: float, right: float, board: Board) -> float:
    """Returns by how much a shape must lie over one selvedge: at its first place, or one repeat further left."""
    repeat = board.repeat_x or 0.0
    over_right = first + right - (board.width - board.selvedge)
    over_left = board.selvedge - (first - repeat + left)
    return min(over_right, over_left)


def _area(shape: Shape) -> float:
    corners = shape.outline
    return abs(sum(a.cross(b) for a, b in zip(corners, (*corners[1:], corners[0]), strict=True))) / 2


def _length_findings(board: Board, length: float) -> tuple[Finding, ...]:
    if board.length_in_hand is None or length <= board.length_in_hand:
        return ()
    short = length - board.length_in_hand
    return (
        Finding(
            Weight.CAUTION,
            "cloth",
            f"The pieces take {length:.0f} mm; the length in hand is {board.length_in_hand:.0f} mm, "
            f"{short:.0f} mm too short.",
            "Let a match go, choose another bar at the hem, or cut a hidden piece from other cloth.",
        ),
    )
