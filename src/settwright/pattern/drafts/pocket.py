"""The flap pocket: its place on the front, level with the waist, and the flap that covers it."""

from __future__ import annotations

from dataclasses import dataclass, replace

from settwright.commission.design import BodyCut, JacketDesign, LowerSection
from settwright.findings import refuse
from settwright.geometry import Path, Point, hook_curve
from settwright.pattern.drafts.frame import Frame
from settwright.pattern.drafts.parts import Parts
from settwright.pattern.drafts.record import Recorder
from settwright.pattern.piece import Cut, Edge, Layer, Line, LineKind, Meeting, Piece, Side, Touch

_CLEAR_OF_SEAM = 8.0
_CLEAR_OF_FRONT = 45.0  # the flap's front end stays behind the centre front by at least this
_BACK_RISE = 0.06  # the back end slants out by this part of the depth
_ROUND = 12.0  # corners


@dataclass(frozen=True)
class Pocket:
    """Where the pocket lies on the front, and its flap."""

    level: float
    place: Line
    flap: Piece
    lining: Piece

    def parts(self) -> Parts:
        """Returns flap and lining, and the flap's place on the front."""
        place = Touch("flap", Meeting.OVERLAY, Side("flap", "top"), Side("front", "flap-place"),
                      ("front-end", "back-end"))  # fmt: skip
        return Parts(pieces=(self.flap, self.lining), touches=(place,), lines=(("front", self.place),))


def has_flaps(design: JacketDesign) -> bool:
    """Returns whether the cut carries flap pockets: princess fronts are too narrow, and curved sections take none."""
    curved = design.waist_seam and design.lower_section is not LowerSection.STRAIGHT
    return design.flaps and not curved and design.body_cut in (BodyCut.DARTED, BodyCut.SIDE_PANEL)


def draw_pocket(r: Recorder, frame: Frame, side: Path) -> Pocket:
    """Returns the pocket on a front whose seam towards the back is `side`.

    Raises Refusal where the front is too small for it.
    """
    r.number(
        "pocket line",
        "pocket",
        "most of (hem line + flap depth + 35 mm; hip line × 0.33) + pocket moved up by",
    )
    level, depth = r["pocket line"], r["flap depth"]
    if level > -20:
        raise refuse(
            "design.flap_depth",
            f"a flap {depth:.0f} mm deep can't hang between waist and hem.",
            "Choose a shallower flap or a longer jacket.",
        )
    seam = side.at(side.where_y(level)[0]).x
    lowest = side.at(side.where_y(max(level - depth, frame.hem))[0]).x
    r.found("side seam at the pocket", "pocket", "where the pocket line meets the front's side seam", max(seam, lowest))
    r.number(
        "room for the flap",
        "pocket",
        f"centre front − {_CLEAR_OF_FRONT:g} mm − side seam at the pocket − {_CLEAR_OF_SEAM:g} mm",
    )
    r.number("flap width", "pocket", "least of (chosen flap width; room for the flap)")
    if r["flap width"] < 70:
        raise refuse(
            "design.flap_width",
            "the front has no room for a flap pocket.",
            "Measure across front and bust girth again.",
        )
    r.number(
        "flap's back end",
        "pocket",
        "most of (side seam at the pocket + 8 mm; least of (centre front − 45 mm − flap width;"
        " centre front − bust point from the centre + 15 mm − flap width × 0.55))",
    )
    back = Point(r["flap's back end"], level)
    front = back + Point(r["flap width"], 0.0)
    flap = _flap("flap", "Flap", front, back, depth)
    return Pocket(
        level=level,
        place=Line("flap-place", LineKind.PLACE, Path.line(front, back), "front-end", "back-end"),
        flap=flap,
        lining=replace(_flap("flap-lining", "Flap lining", front, back, depth), layer=Layer.LINING, follows="flap"),
    )


def _flap(name: str, title: str, front: Point, back: Point, depth: float) -> Piece:
    down = Point(0.0, -depth)
    front_corner, back_corner = front + down, back + down + Point(-_BACK_RISE * depth, 0.0)
    up_front, up_back = front_corner.towards(front, _ROUND), back_corner.towards(back, _ROUND)
    low_front, low_back = front_corner.towards(back_corner, _ROUND), back_corner.towards(front_corner, _ROUND)
    along_back = (back_corner - back).unit
    pull = (0.39, 0.39)
    right, up = Point(1.0, 0.0), Point(0.0, 1.0)
    bottom = (
        hook_curve(up_back, along_back, low_back, right, pull)
        .then(Path.line(low_back, low_front))
        .then(hook_curve(low_front, right, up_front, up, pull))
    )
    return Piece(
        name=name,
        title=title,
        cut=Cut.PAIR,
        edges=(
            Edge("top", Path.line(front, back), "front-end", "back-end"),
            Edge("back-end", Path.line(back, up_back), "top", "bottom"),
            Edge("bottom", bottom, "back-end", "front-end"),
            Edge("front-end", Path.line(up_front, front), "bottom", "top"),
        ),
        grain_mark=front.between(back) + down * 0.5,
    )
