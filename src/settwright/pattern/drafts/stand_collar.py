"""The stand collar: a band that stands up from the neck and leans towards it.

A band that leans evenly is a strip of a cone. Unrolled, its neck edge is an arc of a circle: where the neck's radius is
r and the lean is a, the cone's slant radius is r / sin a, and the upper edge, at a height h along the slant, is shorter
than the neck edge in the proportion 1 − h sin a / r (geometry).
"""

from __future__ import annotations

import math

from settwright.commission.design import JacketDesign, StandEnds
from settwright.findings import refuse
from settwright.geometry import ORIGIN, Path, Point, Transform, hook_curve
from settwright.pattern.drafts.bending import bend_by
from settwright.pattern.drafts.collar_lines import TurnOfCloth
from settwright.pattern.drafts.record import Recorder
from settwright.pattern.piece import Cut, Edge, Notch, Piece

_ROUND = 0.75  # radius of a round end as a part of the height
_QUARTER = 0.5523 / math.sqrt(2)


def draw_stand_collar(
    r: Recorder, back_neck: float, front_neck: float, design: JacketDesign, turn: TurnOfCloth
) -> tuple[Piece, Piece]:
    """Returns outer and inner stand collar for a neck of these lengths: nape to neck point, neck point to centre front.

    Raises Refusal for a height or lean that no neck can wear.
    """
    height, lean = design.stand_height, design.stand_lean
    if not 15 <= height <= 90:
        raise refuse("design.stand_height", "a stand collar is 15 to 90 mm high.", "Choose about 4 cm.")
    if not math.radians(-15) <= lean <= math.radians(20):
        raise refuse("design.stand_lean", "a stand collar leans by 20° at most.", "Choose about 4°.")
    half = back_neck + front_neck
    radius = half / math.pi
    bend = math.sin(lean) / radius
    r.found("half neck", "stand collar", "back neck and front neck up to the centre front", half)
    r.found("neck's radius", "stand collar", "half neck / π", radius)
    r.found("stand collar's lean angle", "stand collar", "towards the neck, against a plumb line", lean)
    r.found(
        "stand collar's upper edge",
        "stand collar",
        "half neck × (1 − height × sine of the lean / neck's radius)",
        half * (1 - height * bend),
        source="geometry of a cone",
    )
    r.found("rise of the front end", "stand collar", "of an arc whose radius is neck's radius / sine of the lean",
            (1 - math.cos(half * bend)) / bend if bend else 0.0, source="geometry of a cone")  # fmt: skip
    turn.keep(r)
    outer = _piece("stand-collar", "Stand collar", design, back_neck=back_neck, half=half, bend=bend, height=height)
    shorter = 1 - turn.fold / half  # the inner layer lies on a circle smaller by the distance between the layers
    inner = _piece(
        "stand-collar-facing",
        "Stand collar, inner",
        design,
        back_neck=back_neck * shorter,
        half=half * shorter,
        bend=bend / shorter,
        height=height - turn.edge,
    )
    return outer, inner.moved(Transform.mirror_x())


def _piece(
    name: str, title: str, design: JacketDesign, *, back_neck: float, half: float, bend: float, height: float
) -> Piece:
    """The wearer's right half from its outer side, the centre back at the left; the inner one is mirrored after."""
    inner = name.endswith("facing")
    turn = half * bend
    neck = bend_by(ORIGIN, lambda part: turn * part, half, 4)
    top = bend_by(Point(0.0, height), lambda part: turn * part, half * (1 - height * bend), 4)
    up = neck.end_tangent.left
    end = Path.line(neck.end, top.end)
    if design.stand_ends is StandEnds.ROUND:
        radius = _ROUND * height
        low, rest = neck.end + up * (height - radius), top.length - radius
        end = Path.line(neck.end, low).then(hook_curve(low, up, top.at(rest), -top.tangent(rest), (_QUARTER, _QUARTER)))
        top = top.part(0.0, rest)
    path = Path.line(Point(0.0, height), ORIGIN)
    edges = (
        Edge("centre-back", path, "outer", "nape"),
        Edge("neck", neck, "nape", "centre-front"),
        Edge("end", end, "centre-front", "front-end"),
        Edge("outer", top.reversed(), "front-end", "centre-back"),
    )
    notches = (Notch("neck-point", "neck", back_neck),)
    if inner:  # mirrored after: walked the other way round, so that it still runs counter-clockwise
        edges = tuple(Edge(e.name, e.path.reversed(), e.end, e.start) for e in reversed(edges))
        notches = (Notch("neck-point", "neck", half - back_neck),)
    return Piece(
        name=name,
        title=title,
        cut=Cut.PAIR if design.stand_halves else Cut.WHOLE,
        edges=edges,
        notches=notches,
        grain_mark=Point(0.0, height / 2) if not design.stand_halves else Point(half / 3, height / 2),
        grain=math.pi / 2,
    )
