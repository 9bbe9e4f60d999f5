"""Reads what was decided piece by piece: pins, importance of seams, pieces already cut, layouts found."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence

from settwright.cloth import Cloth
from settwright.commission.desk import Desk, offer, short
from settwright.commission.document import CutForm, FoundForm, PinForm, PlacedForm
from settwright.commission.lines import Path
from settwright.commission.model import Axis, CutAlready, Found, Importance, Pin, Placed
from settwright.commission.names import (
    ACROSS,
    HANDED,
    OF_MAKE_UP,
    Garments,
    PieceName,
    instances,
    is_among,
    joins,
    piece_of,
    stops_of,
)
from settwright.commission.setts import read_place

_BUTTON = re.compile(r"^button-(\d+)$")
_HASH = re.compile(r"^sha256:[0-9a-f]{64}$")

_FACINGS = ("front-facing", "back-neck-facing")  # what is cut from a cloth of its own where one is named


def read_pins(desk: Desk, forms: Sequence[PinForm], cloths: Sequence[Cloth], garments: Garments) -> tuple[Pin, ...]:
    """Returns every pin that can be read; the rest is noted at the desk."""
    by_name = {cloth.name: cloth for cloth in cloths}
    pins: list[Pin] = []
    for i, form in enumerate(forms):
        path: Path = ("pins", i)
        piece = _piece(desk, path, form.piece, garments) if form.seam is None else None
        is_facing = piece is not None and piece.name.startswith(_FACINGS) and "facing" in by_name
        cloth = by_name.get("facing" if is_facing else "shell")
        seam = _seam(desk, path, form) if form.seam is not None else None
        axis = None
        if form.axis is None:
            desk.refuse((*path, "axis"), "it isn't said which bars are pinned.", 'Write axis = "upright" or "level".')
        else:
            axis = desk.word((*path, "axis"), form.axis, Axis, "direction of bars")
        spot = _spot(desk, path, form, piece, garments) if piece else None
        if cloth is None or axis is None:
            continue
        direction = "warp" if axis is Axis.UPRIGHT else "weft"
        if not (cloth.has_upright_bars if axis is Axis.UPRIGHT else cloth.has_level_bars):
            desk.refuse((*path, "axis"), f"the cloth has no {axis} bars to pin.", "Take this pin out.")
            continue
        sequence = cloth.warp if axis is Axis.UPRIGHT else cloth.weft
        place = read_place(desk, path, sequence, direction, (form.bar, form.at), usual="middle")
        if place is None:
            continue
        if seam is not None:
            stop = form.stop.strip() if form.stop is not None else None
            pin = Pin("", axis, round(place[0], 6), place[1], stop=stop, seam=seam)
        elif piece is not None and spot is not None and form.piece is not None:
            mark, edge, stop = spot
            pin = Pin(form.piece.strip(), axis, round(place[0], 6), place[1], mark, edge, stop)
        else:
            continue
        if any((other.piece, other.seam, other.axis) == (pin.piece, pin.seam, axis) for other in pins):
            what = "seam" if seam is not None else "piece"
            desk.refuse(
                path,
                f"the {axis} bars of {seam or pin.piece} are pinned twice, and a {what} can lie in one place only.",
                "Keep one of the two pins.",
            )
            continue
        pins.append(pin)
    return tuple(pins)


def _seam(desk: Desk, path: Path, form: PinForm) -> str | None:
    """Returns the seam that is pinned; None (and findings) if there is none of that name, or a piece is named too.

    Whether this cut has the seam, and the seam that stop, is known when it is made up.
    """
    name = (form.seam or "").strip()
    if [field for field in ("piece", "mark", "edge", "line") if getattr(form, field) is not None]:
        desk.refuse(
            path,
            f"both the seam {short(name)} and a piece are named.",
            "Keep `seam` (with a `stop` on it), or the piece and where on it.",
        )
        return None
    base, _, hand = name.partition(".")
    if is_among(base, HANDED) and hand not in ("right", "left"):
        remedy = f'There are two: write seam = "{base}.right" or "{base}.left" (the wearer\'s sides).'
        desk.refuse((*path, "seam"), f"it isn't said which {short(base)}.", remedy)
        return None
    if is_among(base, ACROSS) and hand:
        desk.refuse((*path, "seam"), f"no seam is called {short(name)}.", f'There is one: write seam = "{base}".')
        return None
    if not is_among(name, joins()):
        remedy = f"{offer(name, joins(), few=0)} docs/names.md lists them all.".strip()
        desk.refuse((*path, "seam"), f"no seam is called {short(name)}.", remedy)
        return None
    return name


def _piece(desk: Desk, path: Path, name: str | None, garments: Garments) -> PieceName | None:
    if name is None:
        remedy = 'Write piece = "back.right", or a seam: seam = "side-front.right", for instance.'
        desk.refuse((*path, "piece"), "it isn't said which piece or seam.", remedy)
        return None
    name = name.strip()
    piece = piece_of(name)
    is_cut = piece is not None and name in garments.instances_of(piece)
    if piece is None or not (is_cut or piece.garment not in garments.names):
        base = name.removesuffix(".right").removesuffix(".left")
        hands = (f"{base}.right", f"{base}.left")
        if piece is not None and base != name:
            remedy = f'It is cut whole: write piece = "{base}".'
        elif piece is not None or piece_of(hands[0]):
            remedy = f'There are two: write piece = "{hands[0]}" or "{hands[1]}" (the wearer\'s sides).'
        else:
            remedy = f"{offer(name, instances(), few=0)} docs/names.md lists them all.".strip()
        desk.refuse((*path, "piece"), f"no piece is called {short(name)}.", remedy)
        return None
    if garments.names and piece.garment not in garments.names:
        desk.refuse(
            (*path, "piece"),
            f"{name} belongs to a {piece.garment}, and none is commissioned.",
            f"Begin a section [{piece.garment}], or take this out.",
        )
        return None
    return piece


Spot = tuple[str | None, str | None, str | None]
"""Mark, edge, stop."""


def _spot(desk: Desk, path: Path, form: PinForm, piece: PieceName, garments: Garments) -> Spot | None:
    """Returns the place on the piece; None (and findings) if it can't be told."""
    given = [field for field in ("mark", "edge", "line") if getattr(form, field) is not None]
    if len(given) != 1:
        what = "it is given more than once where" if given else "it isn't said where"
        marks = f" or a mark ({piece.marks[0].replace('#', '1')}, …)" if piece.marks else ""
        edges = ", ".join(name for name, _ in piece.edges)
        desk.refuse(path, f"{what} on {piece.name} the bar falls.", f"Name one edge or line ({edges}){marks}.")
        return None
    if form.mark is not None:
        return _mark(desk, path, form, piece, garments)
    is_whole = len(garments.instances_of(piece)) == 1
    edge, stops = _edge(desk, (*path, given[0]), (form.edge or form.line or "").strip(), piece, is_whole)
    stop = form.stop.strip() if form.stop is not None else None
    if stops is None:
        return None
    if stop is not None and not is_among(stop, stops):
        remedy = offer(stop, stops, 12) if stops else "Leave `stop` out: the middle is meant."
        desk.refuse((*path, "stop"), f"{edge} of {piece.name} has no stop {short(stop)}.", remedy)
        return None
    return None, edge, stop


def _edge(desk: Desk, path: Path, edge: str, piece: PieceName, is_whole: bool) -> tuple[str, tuple[str, ...] | None]:
    """Returns the edge and its stops; None (and findings) for stops if there is no such edge."""
    stops = stops_of(piece, edge)
    if stops is None:
        remedy = offer(edge, [name for name, _ in piece.edges], 20)
        desk.refuse(path, f"{piece.name} has no edge or line {short(edge)}.", remedy)
    elif is_whole and piece.fold is not None and edge != piece.fold and not edge.endswith((".right", ".left")):
        remedy = f'Say which half, by the wearer\'s sides: "{edge}.right" or "{edge}.left".'
        desk.refuse(path, f"{piece.name} is cut whole, and {edge} is there twice.", remedy)
        stops = None
    return edge, stops


def _mark(desk: Desk, path: Path, form: PinForm, piece: PieceName, garments: Garments) -> Spot | None:
    mark = (form.mark or "").strip()
    button = _BUTTON.match(mark)
    if not is_among(mark, piece.marks):
        edges = ", ".join(name for name, _ in piece.edges)
        remedy = offer(mark, piece.marks) if piece.marks else f"Name an edge or line: {edges}."
        desk.refuse((*path, "mark"), f"{piece.name} has no mark {short(mark)}.", remedy)
    elif button and garments.jacket and not 1 <= int(button[1]) <= garments.jacket.buttons:
        count = garments.jacket.buttons
        desk.refuse(
            (*path, "mark"),
            f"the jacket has no more than {count} buttons.",
            f"Choose from button-1 (the top one) to button-{count}.",
        )
    elif form.stop is not None:
        desk.refuse((*path, "stop"), "a mark is a point and has no stops.", "Take `stop` out.")
    else:
        return mark, None, None
    return None


def read_importance(desk: Desk, given: Mapping[str, str | dict[str, str]]) -> tuple[tuple[str, Importance], ...]:
    """Returns how much each named seam matters; `side-front.left = …` unquoted is understood too."""
    known = frozenset(joins())
    said: dict[str, Importance] = {}
    for seam, entry in given.items():
        entries = {seam: entry} if isinstance(entry, str) else {f"{seam}.{hand}": word for hand, word in entry.items()}
        for name, word in entries.items():
            path: Path = ("importance", seam) if isinstance(entry, str) else ("importance", *name.rsplit(".", 1))
            if not is_among(name, known):
                remedy = f"{offer(name, joins(), few=0)} docs/names.md lists them all.".strip()
                desk.refuse(path, f"no seam is called {short(name)}.", remedy)
                continue
            importance = desk.word(path, word, Importance, "weight of a seam")
            if importance is not None:
                said[name] = importance
    return tuple(sorted(said.items()))


def read_cut(desk: Desk, forms: Sequence[CutForm], cloths: Sequence[str], garments: Garments) -> tuple[CutAlready, ...]:
    """Returns the pieces already cut: the layout leaves them in their place and lays the rest around them."""
    cut: list[CutAlready] = []
    for i, form in enumerate(forms):
        path: Path = ("cut", i)
        cloth = form.cloth or "shell"
        if cloths and cloth not in cloths:
            desk.refuse((*path, "cloth"), f"there is no cloth {short(cloth)}.", offer(cloth, cloths))
        if form.plan is not None and not _HASH.match(form.plan):
            desk.refuse(
                (*path, "plan"), f"{short(form.plan)} is no plan's name.", "Copy it from the plan, or leave it out."
            )
        placed = _placed(
            desk,
            path,
            PlacedForm(form.piece, form.from_left, form.from_end, form.turned, form.wrong_side_up),
            garments,
        )
        outline = _outline(desk, (*path, "outline"), form.outline) if form.outline is not None else ()
        if placed and outline is not None:
            cut.append(CutAlready(cloth, placed, form.plan or "", outline))
    return tuple(cut)


def _outline(desk: Desk, path: Path, given: str) -> tuple[tuple[float, float], ...] | None:
    """Returns an outline written as "x y, x y, …" in millimetres; None (and a finding) if it isn't one."""
    try:
        corners = [tuple(float(figure) for figure in pair.split()) for pair in given.split(",")]
    except ValueError:
        corners = []
    if len(corners) < 3 or any(len(corner) != 2 or not all(abs(f) < 100_000.0 for f in corner) for corner in corners):
        desk.refuse(
            path,
            "it doesn't read as an outline.",
            "The program writes it (settwright cut); take it out, and the piece counts as cut to the draft of today.",
        )
        return None
    return tuple((corner[0], corner[1]) for corner in corners)


def read_found(desk: Desk, forms: Sequence[FoundForm], cloths: Sequence[str], garments: Garments) -> tuple[Found, ...]:
    """Returns layouts that a longer search found; whether they still hold is for the layout to say."""
    found: list[Found] = []
    for i, form in enumerate(forms):
        path: Path = ("found", i)
        if form.cloth is None or form.inputs is None or form.length is None or not _HASH.match(form.inputs):
            desk.refuse(
                path,
                "a layout that was found needs its cloth, its length and the hash of its inputs.",
                "The program writes this section; take it out, and it will be found again.",
            )
            continue
        if cloths and form.cloth not in cloths:
            desk.refuse((*path, "cloth"), f"there is no cloth {short(form.cloth)}.", offer(form.cloth, cloths))
        length = desk.length((*path, "length"), form.length, "length of the layout", 0.0, 100_000.0)
        at_end = None
        if form.sett_at_end is not None:
            at_end = desk.length((*path, "sett_at_end"), form.sett_at_end, "start of the sett", 0.0, 100_000.0)
        placed = [_placed(desk, (*path, "placements", j), entry, None) for j, entry in enumerate(form.placements or [])]
        if length is not None:
            found.append(Found(form.cloth, form.inputs, length, at_end, tuple(p for p in placed if p)))
    return tuple(found)


def _placed(desk: Desk, path: Path, form: PlacedForm, garments: Garments | None) -> Placed | None:
    """Returns a place; with `garments` None the program wrote it, and the layout looks at the piece's name."""
    is_made_up = form.piece is not None and is_among(form.piece.strip(), OF_MAKE_UP)
    piece = form.piece if garments is None or is_made_up else _piece(desk, path, form.piece, garments)
    places: list[float] = []
    for field, given in (("from_left", form.from_left), ("from_end", form.from_end)):
        if given is None:
            desk.refuse((*path, field), "the place on the cloth is missing.", f"Write {field} = … to the grain mark.")
            continue
        value = desk.length((*path, field), given, f"place {field.replace('_', ' ')}", 0.0, 100_000.0)
        if value is not None:
            places.append(value)
    if piece is None or form.piece is None or len(places) < 2:
        return None
    return Placed(form.piece.strip(), places[0], places[1], bool(form.turned), bool(form.wrong_side_up))
