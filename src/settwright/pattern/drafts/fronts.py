"""The front's line by its style, from the hem to the neck point."""

from __future__ import annotations

from settwright.commission.design import Closing, CollarStyle, FrontStyle, JacketDesign
from settwright.findings import refuse
from settwright.geometry import Path, Point
from settwright.pattern.drafts.buttons import Buttons
from settwright.pattern.drafts.collar_lines import third_of
from settwright.pattern.drafts.frame import Frame
from settwright.pattern.drafts.lapel import Lapel, draw_lapel
from settwright.pattern.drafts.neckline import Neckline, draw_neckline
from settwright.pattern.drafts.parts import Front
from settwright.pattern.drafts.record import Recorder
from settwright.pattern.drafts.shawl import Shawl, draw_shawl
from settwright.pattern.piece import Edge, Line, LineKind, Mark, Notch

_LAPELS = (FrontStyle.NOTCHED, FrontStyle.PEAKED)


def draw_front(r: Recorder, frame: Frame, design: JacketDesign) -> Front:
    """Returns the front's line. Raises Refusal where the front asked for can't be drawn."""
    _check(design)
    r.found(
        "reach of the front", "front", "from the centre front to the front edge, by how the fronts close", design.reach
    )
    if design.front_style in _LAPELS:
        return _lapelled(frame, draw_lapel(r, frame, design), design)
    if design.front_style is FrontStyle.SHAWL:
        return _shawled(frame, draw_shawl(r, frame, design), design)
    return _plain(frame, draw_neckline(r, frame, design), design)


def _check(design: JacketDesign) -> None:
    if design.closing is Closing.DOUBLE and not 50 <= design.double_wrap <= 110:
        raise refuse(
            "design.double_wrap", "a double-breasted front can't button with that wrap.", "Choose 60 to 90 mm."
        )
    if design.collar_style is CollarStyle.STAND and design.front_style is not FrontStyle.ROUND_NECK:
        raise refuse(
            "design.collar_style",
            "a stand collar is sewn to a round neck.",
            'Choose front_style = "round neck" with it.',
        )


def _lapelled(frame: Frame, lapel: Lapel, design: JacketDesign) -> Front:
    return Front(
        edges=(
            Edge("front-edge", lapel.front_edge, "hem", "break-point"),
            Edge("lapel", lapel.edge, "break-point", "lapel-point"),
            Edge("lapel-top", lapel.top, "lapel-point", "notch"),
            Edge("gorge", lapel.gorge, "notch", "neck-point"),
        ),
        heading=lapel.heading,
        centre_top=_last_on_centre(frame, lapel.edge.then(lapel.top, lapel.gorge), lapel.break_point),
        buttons=_fastened(lapel.buttons, design),
        lines=(Line("roll-line", LineKind.ROLL, lapel.roll_line, "break-point", "neck"),),
        marks=_marks(lapel.buttons, design),
        dart_mouth=lapel.gorge.segments[0].length + lapel.gorge.segments[1].length / 2,
        break_level=lapel.break_point.y,
        line=lapel,
    )


def _shawled(frame: Frame, shawl: Shawl, design: JacketDesign) -> Front:
    edge, to_shoulder = shawl.edge, shawl.worn.on_back.length
    return Front(
        edges=(
            Edge("front-edge", shawl.front_edge, "hem", "break-point"),
            Edge("lapel", edge, "break-point", "centre-back"),
            Edge("collar-centre-back", Path.line(shawl.back.centre, shawl.back.nape), "outer", "nape"),
            Edge("collar-neck", shawl.back.arc.reversed(), "nape", "neck-point"),
        ),
        heading=shawl.heading,
        centre_top=_last_on_centre(frame, edge, shawl.roll.break_point),
        buttons=_fastened(shawl.buttons, design),
        notches=(
            Notch("shoulder", "lapel", edge.length - to_shoulder),
            Notch("collar-third", "lapel", edge.length - third_of(to_shoulder)),
        ),
        lines=(Line("roll-line", LineKind.ROLL, shawl.roll_line, "break-point", "centre-back"),),
        marks=_marks(shawl.buttons, design),
        break_level=shawl.roll.break_point.y,
        line=shawl,
    )


def _plain(frame: Frame, neckline: Neckline, design: JacketDesign) -> Front:
    edges = neckline.edges
    top = edges.edge.at(edges.at_centre)
    return Front(
        edges=(
            Edge("front-edge", edges.front_edge, "hem", "break-point"),
            Edge("neckline", edges.edge, "break-point", "neck-point"),
        ),
        heading=neckline.heading,
        centre_top=top,
        buttons=_fastened(neckline.buttons, design),
        notches=(Notch("centre-front", "neckline", edges.at_centre),),
        marks=_marks(neckline.buttons, design, edges.front_edge),
        break_level=top.y,
        line=neckline,
    )


def _last_on_centre(frame: Frame, edge: Path, break_point: Point) -> Point:
    """Returns where the centre front ends: at the last edge that it crosses."""
    at = edge.where_x(frame.centre_front)
    return edge.at(at[-1]) if at else break_point


def _fastened(buttons: Buttons, design: JacketDesign) -> tuple[Point, ...]:
    return () if design.closing is Closing.EDGE_TO_EDGE else buttons.fastening


def _marks(buttons: Buttons, design: JacketDesign, edge: Path | None = None) -> tuple[Mark, ...]:
    """Returns the places of what isn't buttoned: the hooks of fronts that meet, on their edge where it has turned away
    from the centre front, or the second column."""
    if design.closing is Closing.EDGE_TO_EDGE:
        places = [_on_edge(at, edge) if edge else at for at in buttons.fastening]
        return tuple(Mark(f"hook-{number}", at) for number, at in enumerate(places, 1))
    return tuple(Mark(f"twin-button-{number}", at) for number, at in enumerate(buttons.twins, 1))


def _on_edge(place: Point, edge: Path) -> Point:
    met = edge.where_y(place.y)
    return Point(min(place.x, edge.at(met[0]).x), place.y) if met else place
