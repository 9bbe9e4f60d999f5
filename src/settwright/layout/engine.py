"""Laying all shapes of one cloth on the least length of it."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace

from settwright.findings import Finding, Refusal, Weight, refuse
from settwright.layout.grid import lying_of, ways_of
from settwright.layout.model import Board, Laid, Layout, Placement, Shape

EFFORT = 600  # million table entries added up; about 1.5 s on one core
MANY = 25  # shapes; fewer get less of the effort
CELLS = 10_000  # table entries (2 bytes each) to a million additions: a longer search pays for a finer grid,
FEWEST_CELLS, MOST_CELLS = 1_000_000, 90_000_000  # within these
MILLION = 1_000_000

OnProgress = Callable[[float, float], bool | None]
"""Told the part of the work done and the shortest length so far; True stops the search."""

FAULTY_STARTS = 4  # starts of the repeat tried where faults lie at measured places


def lay(
    shapes: tuple[Shape, ...],
    board: Board,
    *,
    stays: tuple[Laid, ...] = (),
    effort: int = EFFORT,
    seed: int = 1,
    on_progress: OnProgress | None = None,
) -> Layout:
    """Returns the shortest layout found of all shapes in one layer.

    Each shape lies in one of its states, its grain mark at the state's phase on every axis that has one. Any two
    cutting lines keep `board.gap` between them, all lie between the selvedges and from 0 upwards, none touches a
    fault, no visible one a blemish. What `stays` keeps its place, and the layout counts it in. `effort` bounds the
    work, not the time (for MANY shapes or more; fewer get their share), so the same input gives the same layout.
    `on_progress` is told the part of the work done, 0 to 1, and the shortest length so far; True from it ends it.

    Raises Refusal when a shape can't lie on this cloth at all, or when something stays on a cloth with level bars
    whose start isn't known.
    """
    told = on_progress or _untold
    if not shapes:
        return _with_stays((), 0.0, board.oy or 0.0, stays, board)
    _check(shapes, board)
    is_level = board.repeat_y is not None and any(s.v is not None for shape in shapes for s in shape.states)
    if not is_level or board.oy is not None:
        return _laid(shapes, board, stays, start_is_free=False, effort=effort, seed=seed, told=told)
    if stays:
        raise refuse(
            "cloth",
            "pieces are cut from it already, but it isn't said which bar lies at its squared end.",
            "Look at the cloth and add at_squared_end to its section.",
        )
    if not (board.faults or board.blemishes):
        return _laid(shapes, board, (), start_is_free=True, effort=effort, seed=seed, told=told)
    return _at_best_start(shapes, board, effort, seed, told)


def _untold(part: float, length: float) -> None:
    pass


def _at_best_start(shapes: tuple[Shape, ...], board: Board, effort: int, seed: int, told: OnProgress) -> Layout:
    """Returns a layout on faulty cloth whose sett may begin anywhere: several starts are tried, the best searched on.

    Faults lie at measured places from the end, so that each start is a cloth of its own.
    """
    assert board.repeat_y is not None
    lowest = {
        math.floor((min(s.t * p.y for p in shape.outline) + s.v) % board.repeat_y * 1000) / 1000
        for shape in shapes
        for s in shape.states
        if s.v is not None
    }
    few = sorted(lowest)[:: max(1, len(lowest) // FAULTY_STARTS)]
    tried = [
        _laid(
            shapes,
            replace(board, oy=-start % board.repeat_y),
            (),
            start_is_free=False,
            effort=effort // (2 * len(few)),
            seed=seed,
            told=_untold,
        )
        for start in few
    ]
    best = min(tried, key=lambda layout: round(layout.length, 3))
    told(0.5, best.length)
    longer = _laid(
        shapes, replace(board, oy=best.oy), (), start_is_free=False, effort=effort // 2, seed=seed, told=told
    )
    return min(best, longer, key=lambda layout: round(layout.length, 3))


def _laid(
    shapes: tuple[Shape, ...],
    board: Board,
    stays: tuple[Laid, ...],
    *,
    start_is_free: bool,
    effort: int,
    seed: int,
    told: OnProgress,
) -> Layout:
    # numba takes a second to import: only who lays pays for it
    from settwright.layout.search import Search  # noqa: PLC0415
    from settwright.layout.tables import grid_of  # noqa: PLC0415

    oy = board.oy or 0.0
    cells = min(max(effort * CELLS, FEWEST_CELLS), MOST_CELLS)
    grid = grid_of(shapes, board, oy, cells, stays)
    least_top = max((p.y for laid in stays for p in laid.corners), default=0.0)
    search = Search(grid, board.width, start_is_free, seed, least_top)
    area = sum(_area(shape) for shape in (*shapes, *(laid.shape for laid in stays)))
    usable = board.width - 2 * board.selvedge
    tallest = max(
        min(way.top - way.bottom for way in grid.ways if way.piece == piece and way.x.count > 0)
        for piece in range(len(shapes))
    )
    bound = max(area / usable, tallest, least_top)
    found = search.run(effort * MILLION * min(len(shapes), MANY) // MANY, bound, told)
    places, bottom, top = search.settled(found)
    placements = tuple(
        Placement(shape.name, x, y - bottom, grid.ways[way].state.t, grid.ways[way].state.f)
        for shape, (way, _, _), (x, y) in zip(shapes, found.rows, places, strict=False)
    )
    if start_is_free:
        assert board.repeat_y is not None
        oy = -bottom % board.repeat_y
    told(1.0, top - bottom)
    return _with_stays(placements, top - bottom, oy, stays, board, area=area)


def _with_stays(
    placements: tuple[Placement, ...],
    length: float,
    oy: float,
    stays: tuple[Laid, ...],
    board: Board,
    *,
    area: float | None = None,
) -> Layout:
    """Returns the layout with what stays counted in."""
    length = max([length, *(p.y for laid in stays for p in laid.corners)])
    whole = sum(_area(laid.shape) for laid in stays) if area is None else area
    usage = whole / ((board.width - 2 * board.selvedge) * length) if length else 0.0
    kept = tuple(laid.placement for laid in stays)
    return Layout((*placements, *kept), length, oy, usage, length_findings(board, length))


def _check(shapes: tuple[Shape, ...], board: Board) -> None:
    """Raises Refusal for every shape that has no place between the selvedges."""
    usable = board.width - 2 * board.selvedge
    refused: list[Finding] = []
    ways = ways_of(lying_of(shapes, board.gap), board, 0.0, (1.0, 1.0))
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
                    "Take a wider cloth, or a cut of narrower pieces: a pleated skirt is the widest.",
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


def length_findings(board: Board, length: float) -> tuple[Finding, ...]:
    """Returns what is to be said where a layout is longer than the length in hand."""
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
