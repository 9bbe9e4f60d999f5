"""One cloth of a plan laid out: what may lie how, what is cut already, what a longer search found earlier."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import replace

from settwright.bars.model import Axis, Match, Orientation, Pin
from settwright.cloth import Cloth, Fault, Nap, Sequence
from settwright.commission.hashing import canonical_hash
from settwright.commission.model import Commission, CutAlready, Cutting, Found, Placed
from settwright.findings import Finding, Weight, refuse, refusing_in, told_in
from settwright.geometry import ORIGIN, Point
from settwright.layout.engine import EFFORT, lay, length_findings
from settwright.layout.model import Board, Laid, LatticeState, Layout, Placement, Shape
from settwright.layout.rules import reckon
from settwright.makeup.model import CutPiece, MadeUp
from settwright.plan.plan import ClothPlan

LONGER = 12 * EFFORT
"""Effort of the search that is asked for by name: about half a minute a cloth."""

_LAID = 1  # counted up when the engine changes what a layout found earlier may rely on
_NEAR = 0.1  # mm by which a cut piece may lie off its place in the repeat

OnLength = Callable[[str, float, float], bool | None]
"""Told the cloth's name, the part of the search done, and the shortest length so far; True stops the search."""


KeepLayout = Callable[[str, Callable[[], Layout]], Layout]
"""Keeps layouts by the hash of what they were searched for: returns what it has, or searches."""


def search_anew(inputs: str, search: Callable[[], Layout]) -> Layout:
    """Keeps nothing: every layout is searched."""
    return search()


def lay_out(
    commission: Commission,
    cloth: Cloth,
    made_up: MadeUp,
    match: Match,
    *,
    effort: int = EFFORT,
    anew: bool = False,
    on_length: OnLength | None = None,
    keep: KeepLayout = search_anew,
) -> ClothPlan:
    """Returns one cloth with its pieces' places.

    A layout that the commission holds as found is taken while its inputs are still these; with `anew` it is searched
    again, and the shorter one is taken. Pieces that are cut stay where they are. `keep` may keep layouts by the hash of
    what they were searched for.

    Raises Refusal when a piece can't lie on the cloth, or a cut one lies where its bars can't be.
    """
    pieces = [piece for piece in made_up.pieces if piece.cloth == cloth.name]
    board = board_of(cloth)
    moving, stays = to_lay(commission, cloth, pieces, match)
    inputs = canonical_hash(_LAID, moving, stays, board)
    entry = next((found for found in commission.found if found.cloth == cloth.name), None)
    kept = _layout_found(entry, (*moving, *(laid.shape for laid in stays)), board) if entry else None
    findings: list[Finding] = []
    if entry and (entry.inputs != inputs or kept is None):
        kept = None
        findings.append(
            Finding(
                Weight.NOTE,
                f"found.{cloth.name}",
                "the layout kept in the commission was found for other pieces or other cloth; it was not used.",
                "Search again (--search-longer), or take the section out.",
            )
        )
    if kept is None or anew:
        told = None if on_length is None else lambda part, length: on_length(cloth.name, part, length)
        with refusing_in(commission.units):
            layout = keep(inputs, lambda: lay(moving, board, stays=stays, effort=effort, on_progress=told))
        if kept is None or layout.length < kept.length:
            kept = layout
    layout = replace(kept, findings=(*told_in(commission.units, kept.findings), *findings))
    reckoning = reckon(layout, pieces, cloth, is_toile=commission.choices.cutting is Cutting.TOILE)
    return ClothPlan(cloth, layout, reckoning, inputs)


def to_lay(
    commission: Commission, cloth: Cloth, pieces: Iterable[CutPiece], match: Match
) -> tuple[tuple[Shape, ...], tuple[Laid, ...]]:
    """Returns the shapes of a cloth that are still to be laid, and those that are cut and stay.

    Raises Refusal where a cut piece lies where its bars can't be.
    """
    board = board_of(cloth)
    cut = {entry.placed.piece: entry.placed for entry in commission.cut if entry.cloth == cloth.name}
    shapes = {shape.name: shape for shape in shapes_of(pieces, match, cloth)}
    stays = tuple(Laid(shapes[name], _checked(shapes[name], cut[name], board)) for name in shapes if name in cut)
    return tuple(shape for name, shape in shapes.items() if name not in cut), stays


def found_of(plan: ClothPlan) -> Found:
    """Returns a layout as the commission keeps it."""
    layout = plan.layout
    return Found(
        cloth=plan.cloth.name,
        inputs=plan.inputs,
        length=layout.length,
        sett_at_end=layout.oy,
        placements=tuple(Placed(p.name, p.x, p.y, p.t < 0, p.f < 0) for p in layout.placements),
    )


def pins_of_cut(commission: Commission, made_up: MadeUp, cloth: Cloth) -> tuple[Pin, ...]:
    """Returns a pin for each matched piece of a cloth that is cut already and each axis: its bars are where they are.

    Raises Refusal where a piece is cut that this plan hasn't, or one that was turned on an uneven sett.
    """
    pins: list[Pin] = []
    pieces = {piece.name: piece for piece in made_up.pieces}
    for entry in commission.cut:
        piece = pieces.get(entry.placed.piece)
        if piece is None or piece.cloth != entry.cloth:
            raise refuse(
                f"cut.{entry.placed.piece}",
                f"is marked as cut from the {entry.cloth}, but this plan cuts no such piece from it.",
                "Take the mark out, or bring the design back to what was cut.",
            )
        if entry.cloth == cloth.name and piece.is_matched:
            pins += _pins(entry, cloth)
    return tuple(pins)


def _pins(entry: CutAlready, cloth: Cloth) -> list[Pin]:
    placed, pins = entry.placed, list[Pin]()
    lies = Orientation(-1 if placed.turned else 1, -1 if placed.wrong_side_up else 1)
    if cloth.has_level_bars and cloth.sett_at_end is None:
        raise refuse(
            f"cut.{placed.piece}",
            "pieces are cut already, but it isn't said which bar lies at the cloth's squared end.",
            "Look at the cloth and add at_squared_end to its section.",
        )
    for axis, sequence, place, matters in (
        (Axis.UPRIGHT, cloth.warp, placed.x - cloth.sett_at_left, cloth.has_upright_bars),
        (Axis.LEVEL, cloth.weft, placed.y - (cloth.sett_at_end or 0.0), cloth.has_level_bars),
    ):
        if not matters:
            continue
        if lies.reading(axis) != Orientation().reading(axis):
            if not sequence.is_even:
                continue  # the way of lying decides; the layout checks the place
            place = 2 * sequence.pivots[0] - place
        pins.append(Pin(placed.piece, ORIGIN, axis, round(place % sequence.repeat, 6), "where it was cut"))
    return pins


def _checked(shape: Shape, placed: Placed, board: Board) -> Placement:
    """Returns where a cut piece lies; raises Refusal where it can't lie like that and show its bars."""
    at = Placement(shape.name, placed.x, placed.y, -1 if placed.turned else 1, -1 if placed.wrong_side_up else 1)

    def off(place: float, phase: float | None, repeat: float | None) -> float:
        return 0.0 if phase is None or repeat is None else abs((place - phase + repeat / 2) % repeat - repeat / 2)

    misses = [
        max(off(at.x - board.ox, s.u, board.repeat_x), off(at.y - (board.oy or 0.0), s.v, board.repeat_y))
        for s in shape.states
        if (s.t, s.f) == (at.t, at.f)
    ]
    if not misses or min(misses) > _NEAR:
        what = (
            "lies as the cloth doesn't allow" if not misses else f"lies {min(misses):.1f} mm off the bars of this plan"
        )
        raise refuse(f"cut.{shape.name}", f"{what}.", "Measure its place on the cloth again, or let its match go.")
    return at


def _layout_found(found: Found, shapes: tuple[Shape, ...], board: Board) -> Layout | None:
    """Returns a kept layout as the engine would; None where it doesn't hold every piece once."""
    if sorted(p.piece for p in found.placements) != sorted(shape.name for shape in shapes) or found.length <= 0:
        return None
    area = sum(
        abs(sum(a.cross(b) for a, b in zip(s.outline, (*s.outline[1:], s.outline[0]), strict=True))) / 2 for s in shapes
    )
    return Layout(
        tuple(
            Placement(p.piece, p.x, p.y, -1 if p.turned else 1, -1 if p.wrong_side_up else 1) for p in found.placements
        ),
        found.length,
        found.sett_at_end or 0.0,
        area / ((board.width - 2 * board.selvedge) * found.length),
        length_findings(board, found.length),
    )


def shapes_of(pieces: Iterable[CutPiece], match: Match, cloth: Cloth) -> tuple[Shape, ...]:
    """Returns the pieces as the layout sees them: cutting lines turned to the warp, and every way they may lie."""
    upright = Orientation()
    return tuple(
        Shape(
            piece.name,
            tuple(upright.place(p, piece.grain_turn) for p in piece.cutting_line),
            states_of(piece, match, cloth),
            piece.is_visible,
        )
        for piece in pieces
    )


def states_of(piece: CutPiece, match: Match, cloth: Cloth) -> tuple[LatticeState, ...]:
    """Returns every way in which a piece may lie and show the bars that the match chose.

    A reversed axis needs an even sequence about a pivot c (u goes to 2c − u); a nap forbids turning; the wrong side
    needs faces that are alike.
    """
    phase = None if not piece.is_matched else next((p for p in match.phases if p.piece == piece.name), None)
    u = None if phase is None or phase.free_u else phase.u
    v = None if phase is None or phase.free_v else phase.v
    matched = phase.orientation if phase else Orientation()
    states: list[LatticeState] = []
    for t, f in ((1, 1), (-1, 1), (1, -1), (-1, -1)):
        lying = Orientation(t, f)
        if t != 1 and cloth.nap is not Nap.NONE:
            continue
        if f != 1 and not cloth.faces_alike:
            continue
        u_back = lying.reading(Axis.UPRIGHT) != matched.reading(Axis.UPRIGHT)
        v_back = lying.reading(Axis.LEVEL) != matched.reading(Axis.LEVEL)
        if (u is None or not u_back or cloth.warp.is_even) and (v is None or not v_back or cloth.weft.is_even):
            states.append(
                LatticeState(t, f, _turned(u, cloth.warp) if u_back else u, _turned(v, cloth.weft) if v_back else v)
            )
    return tuple(states)


def _turned(place: float | None, sequence: Sequence) -> float | None:
    return None if place is None else (2 * sequence.pivots[0] - place) % sequence.repeat


def board_of(cloth: Cloth) -> Board:
    """Returns the cloth as the layout sees it."""
    return Board(
        width=cloth.width,
        selvedge=cloth.selvedge,
        repeat_x=cloth.warp.repeat if cloth.has_upright_bars else None,
        repeat_y=cloth.weft.repeat if cloth.has_level_bars else None,
        ox=cloth.sett_at_left,
        oy=cloth.sett_at_end,
        faults=_outlines(fault for fault in cloth.faults if not fault.may_be_hidden),
        blemishes=_outlines(fault for fault in cloth.faults if fault.may_be_hidden),
        length_in_hand=cloth.length_in_hand,
    )


def _outlines(faults: Iterable[Fault]) -> tuple[tuple[Point, ...], ...]:
    return tuple(tuple(Point(x, y) for x, y in fault.outline) for fault in faults)
