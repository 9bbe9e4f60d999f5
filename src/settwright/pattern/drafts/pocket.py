"""The front's pocket: its place, level with the waist, and what of it is cut from the shell.

Jettings bind the mouth, and a flap hangs out between them; a welt stands up over it; a patch is set on. Behind every
mouth lies a facing. The bags are the inside's. Widths are common practice, no source.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from settwright.commission.design import BodyCut, FrontPocket, JacketDesign, LowerSection
from settwright.findings import refuse
from settwright.geometry import Path, Point, hook_curve
from settwright.pattern.drafts.frame import Frame
from settwright.pattern.drafts.parts import Parts
from settwright.pattern.drafts.record import Recorder
from settwright.pattern.piece import Cut, Edge, Layer, Line, LineKind, Meeting, Piece, Side, Touch

_CLEAR_OF_SEAM = 8.0
_CLEAR_OF_FRONT = 45.0  # the pocket's front end stays behind the centre front by at least this
_CLEAR_OF_BUTTONS = 26.0  # behind the middle of a second column
_LEAST_BESIDE_BUTTONS = 85.0
_CLEAR_OF_HEM = 35.0
_BACK_RISE = 0.06  # the back end slants out by this part of the depth
_ROUND = 12.0  # corners of a flap
_PATCH_ROUND = 24.0  # corners of a patch
_PATCH_WIDER = 4.0  # below than above, at each end
_BESIDE_MOUTH = 15.0  # the facing is longer than the mouth at each end
_DOWN, _RIGHT = Point(0.0, -1.0), Point(1.0, 0.0)

PLACES = {
    FrontPocket.FLAP: "flap-place",
    FrontPocket.JETTED: "pocket-place",
    FrontPocket.WELT: "pocket-place",
    FrontPocket.PATCH: "patch-place",
}
"""The line on the front, by the kind of pocket."""


@dataclass(frozen=True)
class Pocket:
    """Where the pocket lies on the front, and its pieces."""

    level: float
    place: Line
    pieces: tuple[Piece, ...]
    lies_on: tuple[str, str] | None = None  # the piece, and its edge, that lies on the place

    def parts(self) -> Parts:
        """Returns the pieces and the pocket's place on the front."""
        if self.lies_on is None:
            return Parts(pieces=self.pieces, lines=(("front", self.place),))
        piece, edge = self.lies_on
        on = Touch(piece, Meeting.OVERLAY, Side(piece, edge), Side("front", self.place.name),
                   ("front-end", "back-end"))  # fmt: skip
        return Parts(pieces=self.pieces, touches=(on,), lines=(("front", self.place),))


def has_pockets(design: JacketDesign) -> bool:
    """Returns whether the cut carries pockets: princess fronts are too narrow, and curved sections take none."""
    curved = design.waist_seam and design.lower_section is not LowerSection.STRAIGHT
    return design.pocket is not None and not curved and design.body_cut in (BodyCut.DARTED, BodyCut.SIDE_PANEL)


def draw_pocket(r: Recorder, frame: Frame, side: Path, kind: FrontPocket, columns: float = 0.0) -> Pocket:
    """Returns the pocket on a front whose seam towards the back is `side`; `columns` is how far a second column of
    buttons stands behind the centre front, 0 where there is none.

    Raises Refusal where the front is too small for it.
    """
    has_flap = kind is FrontPocket.FLAP
    below = "flap depth" if has_flap else "depth of the patch" if kind is FrontPocket.PATCH else ""
    if kind is FrontPocket.PATCH:
        r.number("depth of the patch", "pocket", "least of (chosen flap width × 1.15; −hem line − 65 mm)")
    clear = f"hem line + {below} + {_CLEAR_OF_HEM:g} mm" if below else f"hem line + {2 * _CLEAR_OF_HEM:g} mm"
    r.number("pocket line", "pocket", f"most of ({clear}; hip line × 0.33) + pocket moved up by")
    level, depth = r["pocket line"], r[below] if below else 0.0
    if level > -20 or (kind is FrontPocket.PATCH and depth < 70):
        raise refuse(
            "design.flap_depth" if has_flap else "design.length_below_waist",
            f"a {kind} {depth:.0f} mm deep can't hang between waist and hem."
            if below
            else f"a {kind} pocket finds no place between waist and hem.",
            "Choose a shallower flap or a longer jacket." if has_flap else "Choose a longer jacket.",
        )
    seam = side.at(side.where_y(level)[0]).x
    lowest = side.at(side.where_y(max(level - depth, frame.hem))[0]).x
    r.found("side seam at the pocket", "pocket", "where the pocket line meets the front's side seam", max(seam, lowest))
    room = frame.centre_front - max(seam, lowest) - _CLEAR_OF_SEAM
    beside = min(columns + _CLEAR_OF_BUTTONS, room - _LEAST_BESIDE_BUTTONS) if columns else 0.0
    r.found(
        "pocket behind the centre front",
        "pocket",
        f"{_CLEAR_OF_FRONT:g} mm; {_CLEAR_OF_BUTTONS:g} mm behind a second column of buttons, as far as that leaves it"
        f" {_LEAST_BESIDE_BUTTONS:g} mm of width",
        max(_CLEAR_OF_FRONT, beside),
    )
    r.number(
        "room for the pocket",
        "pocket",
        f"centre front − pocket behind the centre front − side seam at the pocket − {_CLEAR_OF_SEAM:g} mm",
    )
    r.number("pocket width", "pocket", "least of (chosen flap width; room for the pocket)")
    if r["pocket width"] < 70:
        raise refuse(
            "design.flap_width",
            f"the front has no room for a {kind} pocket.",
            "Measure across front and bust girth again.",
        )
    r.number(
        "pocket's back end",
        "pocket",
        "most of (side seam at the pocket + 8 mm; least of (centre front − pocket behind the centre front"
        " − pocket width; centre front − bust point from the centre + 15 mm − pocket width × 0.55))",
    )
    back = Point(r["pocket's back end"], level)
    front = back + Point(r["pocket width"], 0.0)
    place = Line(PLACES[kind], LineKind.PLACE, Path.line(front, back), "front-end", "back-end")
    match kind:
        case FrontPocket.FLAP:
            flap = _flap("flap", "Flap", front, back, depth)
            lining = replace(_flap("flap-lining", "Flap lining", front, back, depth), layer=Layer.LINING,
                             follows="flap")  # fmt: skip
            return Pocket(level, place, (flap, lining, *_jetted_mouth(r, front, back)), ("flap", "top"))
        case FrontPocket.JETTED:
            return Pocket(level, place, _jetted_mouth(r, front, back))
        case FrontPocket.WELT:
            return Pocket(level, place, (_welt(r, front, back), _facing(r, front, back)), ("welt", "mouth"))
        case FrontPocket.PATCH:
            return Pocket(level, place, _patch(r, front, back, depth), ("patch-pocket", "top"))


def _jetted_mouth(r: Recorder, front: Point, back: Point) -> tuple[Piece, Piece, Piece]:
    """Returns the two strips that bind the mouth, each with its fold in the middle and the lengthwise grain along it,
    and the facing behind them."""
    deep = r.number("width of a jetting", "pocket", "5 mm")

    def strip(name: str, title: str, up: Point) -> Piece:
        piece = _folded(name, title, front, back, up * deep)
        return replace(piece, grain=math.pi)

    return (
        strip("jetting-upper", "Upper jetting", -_DOWN),
        strip("jetting-lower", "Lower jetting", _DOWN),
        _facing(r, front, back),
    )


def _welt(r: Recorder, front: Point, back: Point) -> Piece:
    """Returns the welt, sewn on along the mouth and folded at its top."""
    return _folded("welt", "Welt", front, back, -_DOWN * r.number("height of the welt", "pocket", "25 mm"))


def _folded(name: str, title: str, front: Point, back: Point, deep: Point) -> Piece:
    """Returns a strip as long as the mouth and twice as deep as it shows, its edge `mouth` sewn on there."""
    ends = (back, front, front + deep * 2, back + deep * 2)
    names = ("mouth", "front-end", "inner", "back-end")
    stops = ("back-end", "front-end", "front-inner", "back-inner", "back-end")
    edges = tuple(
        Edge(edge, Path.line(ends[i], ends[(i + 1) % 4]), stops[i], stops[i + 1]) for i, edge in enumerate(names)
    )
    if deep.y < 0:
        edges = tuple(Edge(e.name, e.path.reversed(), e.end, e.start) for e in reversed(edges))
    fold = Line("fold", LineKind.FOLD, Path.line(front + deep, back + deep), "front-end", "back-end")
    return Piece(name=name, title=title, cut=Cut.PAIR, edges=edges, lines=(fold,),
                 grain_mark=front.between(back) + deep)  # fmt: skip


def _facing(r: Recorder, front: Point, back: Point) -> Piece:
    """Returns what is sewn on the inner bag behind the mouth, so that no bag is seen there."""
    deep = r.number("depth of the mouth's facing", "pocket", "60 mm")
    right, left = front + _RIGHT * _BESIDE_MOUTH, back - _RIGHT * _BESIDE_MOUTH
    low_left, low_right = left + _DOWN * deep, right + _DOWN * deep
    return Piece(
        name="pocket-mouth-facing",
        title="Mouth facing",
        cut=Cut.PAIR,
        edges=(
            Edge("top", Path.line(right, left), "front-side", "back-side"),
            Edge("back-side", Path.line(left, low_left), "top", "lower"),
            Edge("lower", Path.line(low_left, low_right), "back-side", "front-side"),
            Edge("front-side", Path.line(low_right, right), "lower", "top"),
        ),
        grain_mark=front.between(back) + _DOWN * (deep / 2),
    )


def _patch(r: Recorder, front: Point, back: Point, depth: float) -> tuple[Piece, Piece]:
    """Returns the patch and its lining, which ends below the patch's turned top."""
    turned = r.number("top of the patch turned in", "pocket", "30 mm")
    wide, rest = (_PATCH_WIDER, _PATCH_WIDER), _PATCH_WIDER * (depth - turned) / depth
    patch = _set_on("patch-pocket", "Patch pocket", front, back, depth=depth, wider=wide, corner=_PATCH_ROUND)
    down, out = _DOWN * turned, _RIGHT * (_PATCH_WIDER - rest)
    lining = _set_on("patch-pocket-lining", "Patch pocket lining", front + down + out, back + down - out,
                     depth=depth - turned, wider=(rest, rest), corner=_PATCH_ROUND)  # fmt: skip
    return patch, replace(lining, layer=Layer.LINING, follows="patch-pocket")


def _flap(name: str, title: str, front: Point, back: Point, depth: float) -> Piece:
    return _set_on(name, title, front, back, depth=depth, wider=(0.0, _BACK_RISE * depth), corner=_ROUND)


def _set_on(
    name: str, title: str, front: Point, back: Point, *, depth: float, wider: tuple[float, float], corner: float
) -> Piece:
    """Returns a shape that hangs from its top edge, its lower corners rounded; `wider` below at its front and back."""
    down = _DOWN * depth
    front_corner, back_corner = front + down + _RIGHT * wider[0], back + down - _RIGHT * wider[1]
    up_front, up_back = front_corner.towards(front, corner), back_corner.towards(back, corner)
    low_front, low_back = front_corner.towards(back_corner, corner), back_corner.towards(front_corner, corner)
    pull = (0.39, 0.39)
    bottom = (
        hook_curve(up_back, (back_corner - back).unit, low_back, _RIGHT, pull)
        .then(Path.line(low_back, low_front))
        .then(hook_curve(low_front, _RIGHT, up_front, (front - front_corner).unit, pull))
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
