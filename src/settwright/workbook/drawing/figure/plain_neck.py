"""Necks without a collar that turns down, the stand collar, and a shawl's collar as it lies on the back."""

from __future__ import annotations

import numpy as np
import shapely

from settwright.workbook.drawing.figure.body import Body, shoulder_of
from settwright.workbook.drawing.figure.form import Patch, View, by, mirrored, stacked
from settwright.workbook.drawing.figure.neck import Ruled, spaced
from settwright.workbook.drawing.plaid import Places

_COUNT = 40  # rulings of a strip
_LEANS = 0.12  # of its height, by which a stand collar comes in at its top
_DIP = 16.0  # of the back's neck below the neck points, seen from the front
_BESIDE = 0.35  # of that, seen from the side at the neck point
_ROLLS_OVER = 22.0  # a shawl's fold stands this far over the back's neck


def neck_opening(bodies: list[Body]) -> Places | None:
    """Returns what is seen of the inside through a neck without a collar: from neck point to neck point."""
    rims: list[Places] = []
    low = 0.0
    for body in bodies:
        half, front = body.half, body.panels[0]
        names = {edge.name for edge in (*front.piece.piece.edges, *front.piece.piece.lines)}
        if not names & {"neckline", "collar-neck"}:
            return None
        edge = half.edge(front.piece, "neckline" if "neckline" in names else "lapel")
        seen = body.place(
            0, np.concatenate((shoulder_of(body)[:1], edge[edge[:, 1] < shoulder_of(body)[0, 1]])), View.FRONT
        )
        highest = seen[int(np.argmax(seen[:, 1]))][None, :]
        low = min(low, float(seen[:, 1].min()))
        rims.append(highest * np.array([-half.sign, 1.0]))
    if len(rims) < 2:
        return None
    first, second = (rim[0] for rim in rims)
    middle = (first[1] + second[1]) / 2 - _DIP
    return np.array([first, [0.4 * first[0], middle], [0.4 * second[0], middle], second, [0.0, low - 30.0]])


def behind_the_neck(body: Body) -> Patch | None:
    """Returns one half of what stands up behind the neck, seen from the front through its opening: a stand collar's
    inner side, or a shawl's up to its fold; None where neither is.
    """
    half, last = body.half, len(body.panels) - 1
    stand, facing = half.find("stand-collar-facing"), half.find("front-facing")
    height = stand_height(body)
    if stand is not None:
        piece, neck, beyond = stand, half.edge(stand, "neck"), half.edge(stand, "outer")
    elif facing is not None and height > 0.0:
        piece, neck, beyond = facing, half.edge(facing, "collar-neck"), half.edge(facing, "lapel")
    else:
        return None
    back = half.edge(body.panels[last].piece, "neck")
    round_back = float(np.sqrt(np.square(np.diff(back, axis=0)).sum(axis=1)).sum())
    nape = half.edge(piece, "centre-back" if stand is not None else "collar-centre-back")
    at_nape = [float(np.square(neck[k] - nape).sum(axis=1).min()) for k in (0, -1)]
    neck = spaced(neck if at_nape[0] < at_nape[1] else neck[::-1], 6 * _COUNT)
    walked = np.linspace(0.0, 1.0, len(neck)) * float(np.sqrt(np.square(np.diff(neck, axis=0)).sum(axis=1)).sum())
    neck = spaced(neck[walked <= round_back + 1.0], _COUNT)
    tangents = np.gradient(neck, axis=0)
    across = np.column_stack((-tangents[:, 1], tangents[:, 0]))
    across = across / np.maximum(np.sqrt(np.square(across).sum(axis=1)), 1e-9)[:, None]
    towards = beyond[np.argmin(np.square(beyond[:, None, :] - neck[None, :, :]).sum(axis=2), axis=0)] - neck
    across = across * (np.sign((across * towards).sum(axis=1).mean()) or 1.0)
    rim = body.place(0, shoulder_of(body)[:1], View.FRONT)[0]
    out = np.linspace(0.0, 1.0, _COUNT)
    rises = height * (1.0 if stand is not None else 1.0 - np.square(out * out))  # down to the neck point
    leans = 1.0 - (_LEANS if stand is not None else 0.0)
    low = stacked(rim[0] * out, rim[1] - _DIP * (1.0 - out * out))
    strip = Ruled(neck, neck + across * height, low, stacked(low[:, 0] * leans, low[:, 1] + rises))
    return Patch(piece.name, mirrored(strip.region(), half.sign), half.seen(View.FRONT, strip.place))


def stand_height(body: Body) -> float:
    """Returns how high a stand collar is, 0 where there is none; of a shawl, how high its fold stands."""
    half = body.half
    collar = half.find("stand-collar")
    if collar is None:
        return _ROLLS_OVER if half.pairs("facing-centre-back") is not None else 0.0
    outer, neck = half.edge(collar, "outer"), half.edge(collar, "neck")
    return float(np.sqrt(np.square(outer - neck[len(neck) // 2]).sum(axis=1)).min())


def stand_patch(body: Body, view: View) -> Patch | None:
    """Returns one half of a stand collar as seen from one side, standing on the neck seam; None where there is none."""
    half = body.half
    collar = half.find("stand-collar")
    match view:
        case View.FRONT:
            parts = [("stand-collar-front", 0)]
        case View.BACK:
            parts = [("stand-collar-back", len(body.panels) - 1)]
        case View.LEFT | View.RIGHT:
            parts = [("stand-collar-front", 0), ("stand-collar-back", len(body.panels) - 1)]
    sewn = [(pairs, index) for seam, index in parts if (pairs := half.pairs(seam)) is not None]
    if collar is None or len(sewn) < len(parts):
        return None
    runs: list[tuple[Places, Places]] = []
    for (on_body, on_collar), index in sewn:
        if view not in (View.FRONT, View.BACK):  # what laps over the centre front is out of sight
            near = on_body[:, 0] <= body.panels[index].right(on_body[:, 1])
            on_body, on_collar = on_body[near], on_collar[near]
        runs.append((on_collar, body.place(index, on_body, view)))
    neck, outer = half.edge(collar, "neck"), half.edge(collar, "outer")
    line = shapely.linestrings(neck)
    order = [float(shapely.line_locate_point(line, shapely.points(on[len(on) // 2]))) for on, _ in runs]
    runs = [run for _, run in sorted(zip(order, runs, strict=True), key=lambda told: told[0])]
    runs = [run if _along(neck, run[0]) > 0 else (run[0][::-1], run[1][::-1]) for run in runs]
    on_collar, seen = (np.concatenate([run[k] for run in runs]) for k in (0, 1))
    height = stand_height(body)
    tangents = np.gradient(on_collar, axis=0)
    lengths = np.maximum(np.sqrt(np.square(tangents).sum(axis=1)), 1e-9)[:, None]
    across = np.column_stack((-tangents[:, 1], tangents[:, 0])) / lengths
    nearest = outer[np.argmin(np.square(outer[:, None, :] - on_collar[None, :, :]).sum(axis=2), axis=0)]
    turn = np.sign((across * (nearest - on_collar)).sum(axis=1).mean()) or 1.0
    middle = 0.0 if view in (View.FRONT, View.BACK) else float(seen[:, 0].min() + seen[:, 0].max()) / 2
    inwards = np.column_stack(((middle - seen[:, 0]) * _LEANS, np.full(len(seen), 0.0)))
    strip = Ruled(
        spaced(on_collar, _COUNT),
        spaced(on_collar + across * turn * height, _COUNT),
        spaced(seen, _COUNT),
        spaced(seen + by(0.0, height) + inwards, _COUNT),
    )
    return Patch(collar.name, mirrored(strip.region(), half.sign), half.seen(view, strip.place))


def _along(line: Places, places: Places) -> float:
    """Returns 1 where places run along a line, −1 where they run against it."""
    first, last = (shapely.line_locate_point(shapely.linestrings(line), shapely.points(places[k])) for k in (0, -1))
    return 1.0 if first <= last else -1.0


def shawl_back(body: Body, view: View = View.BACK) -> Patch | None:
    """Returns a shawl's collar as it lies on the back, in the facing's cloth; None where there is none."""
    half = body.half
    facing, pairs = half.find("front-facing"), half.pairs("collar-on-back")
    if facing is None or pairs is None or all(edge.name != "collar-neck" for edge in facing.piece.edges):
        return None
    on_facing, on_back = pairs
    neck = half.edge(facing, "collar-neck")
    last = len(body.panels) - 1
    lies = body.place(last, on_back, view)
    back_neck = half.edge(body.panels[last].piece, "neck")
    seen = body.place(last, back_neck, view)
    seen = seen if seen[0, 0] < seen[-1, 0] else seen[::-1]
    if lies[0, 0] > lies[-1, 0]:
        lies, on_facing = lies[::-1], on_facing[::-1]
    if np.square(neck[0] - on_facing[0]).sum() > np.square(neck[-1] - on_facing[0]).sum():
        neck = neck[::-1]
    stands = np.full(_COUNT, _ROLLS_OVER)
    if view is not View.BACK:  # beside the neck the fold goes down into the lapel's
        stands = _ROLLS_OVER * np.linspace(1.0, _BESIDE, _COUNT)
    strip = Ruled(
        spaced(neck, _COUNT),
        spaced(on_facing, _COUNT),
        spaced(seen, _COUNT) + np.column_stack((np.zeros(_COUNT), stands)),
        spaced(lies, _COUNT),
    )
    return Patch(facing.name, mirrored(strip.region(), half.sign), half.seen(view, strip.place))


__all__ = ["behind_the_neck", "neck_opening", "shawl_back", "stand_patch"]
