"""Necks without a collar that turns down, the stand collar, and a shawl's collar as it lies on the back."""

from __future__ import annotations

import numpy as np

from settwright.workbook.drawing.figure.body import Body
from settwright.workbook.drawing.figure.form import Patch, View, by, mirrored
from settwright.workbook.drawing.figure.neck import Ruled, shoulder_of, spaced
from settwright.workbook.drawing.plaid import Places

_COUNT = 40  # rulings of a strip
_LEANS = 0.12  # of its height, by which a stand collar comes in at its top
_DIP = 16.0  # of the back's neck below the neck points, seen from the front
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
    stand = stand_height(bodies[0])
    first, second = (rim[0] + np.array([0.0, stand]) for rim in rims)
    middle = (first[1] + second[1]) / 2 - _DIP
    return np.array([first, [0.4 * first[0], middle], [0.4 * second[0], middle], second, [0.0, low - 30.0]])


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
    pairs = half.pairs("stand-collar-front" if view is View.FRONT else "stand-collar-back")
    if collar is None or pairs is None:
        return None
    on_body, on_collar = pairs
    index = 0 if view is View.FRONT else len(body.panels) - 1
    seen = body.place(index, on_body, view)
    outer = half.edge(collar, "outer")
    neck = half.edge(collar, "neck")
    height = stand_height(body)
    way = 1.0 if np.square(on_collar[0] - neck[0]).sum() < np.square(on_collar[-1] - neck[0]).sum() else -1.0
    tangents = np.gradient(on_collar, axis=0) * way
    lengths = np.maximum(np.sqrt(np.square(tangents).sum(axis=1)), 1e-9)[:, None]
    across = np.column_stack((-tangents[:, 1], tangents[:, 0])) / lengths
    nearest = outer[np.argmin(np.square(outer[:, None, :] - on_collar[None, :, :]).sum(axis=2), axis=0)]
    turn = np.sign((across * (nearest - on_collar)).sum(axis=1).mean()) or 1.0
    inwards = np.column_stack((-seen[:, 0] * _LEANS, np.full(len(seen), 0.0)))
    strip = Ruled(
        spaced(on_collar, _COUNT),
        spaced(on_collar + across * turn * height, _COUNT),
        spaced(seen, _COUNT),
        spaced(seen + by(0.0, height) + inwards, _COUNT),
    )
    return Patch(collar.name, mirrored(strip.region(), half.sign), half.seen(view, strip.place))


def shawl_back(body: Body) -> Patch | None:
    """Returns a shawl's collar as it lies on the back, in the facing's cloth; None where there is none."""
    half = body.half
    facing, pairs = half.find("front-facing"), half.pairs("collar-on-back")
    if facing is None or pairs is None or all(edge.name != "collar-neck" for edge in facing.piece.edges):
        return None
    on_facing, on_back = pairs
    neck = half.edge(facing, "collar-neck")
    if np.square(neck[0] - on_facing[0]).sum() > np.square(neck[-1] - on_facing[0]).sum():
        neck = neck[::-1]
    last = len(body.panels) - 1
    lies = body.place(last, on_back, View.BACK)
    back_neck = half.edge(body.panels[last].piece, "neck")
    seen = body.place(last, back_neck, View.BACK)
    seen = seen if seen[0, 0] < seen[-1, 0] else seen[::-1]
    if lies[0, 0] > lies[-1, 0]:
        lies, on_facing = lies[::-1], on_facing[::-1]
    strip = Ruled(
        spaced(neck, _COUNT),
        spaced(on_facing, _COUNT),
        spaced(seen, _COUNT) + by(0.0, _ROLLS_OVER),
        spaced(lies, _COUNT),
    )
    return Patch(facing.name, mirrored(strip.region(), half.sign), half.seen(View.BACK, strip.place))


__all__ = ["neck_opening", "shawl_back", "stand_patch"]
