"""Reads the cloths: what lies on the table, made into `Cloth` values."""

from __future__ import annotations

import re
from collections.abc import Mapping
from enum import StrEnum

from settwright.cloth import Cloth, Fault, Nap, Sequence
from settwright.commission.desk import Desk, offer, short
from settwright.commission.document import BarPlaceForm, ClothForm, FaultForm, Length
from settwright.commission.give import read_give
from settwright.commission.lines import Path
from settwright.commission.setts import read_place, read_sequence
from settwright.findings import Weight
from settwright.units import YARD, format_fine, format_length

_USUAL = {  # width, thickness
    "shell": (1500.0, 0.8),
    "lining": (1400.0, 0.15),
    "interlining": (900.0, 0.5),
    "haircloth": (700.0, 0.6),
    "underlining": (1400.0, 0.15),
    "pocketing": (1400.0, 0.25),
    "wadding": (900.0, 4.0),
    "facing": (1500.0, 0.8),
    "stay": (1400.0, 0.15),
    "toile": (1500.0, 0.3),
}
CLOTHS = tuple(_USUAL)
"""Cloths that a garment can be cut from."""

_USUAL_SELVEDGE = 15.0
_LIMITS = {"width": (300.0, 3300.0), "selvedge": (0.0, 150.0), "thickness": (0.02, 12.0)}
_USUAL_SHRINKAGE = (0.02, 0.01)
_WARP_WAYS = 'Write them from left to right: warp = ["navy 12 mm", "ivory 3 mm"].'
_WEFT_WAYS = 'Write its bars, or weft = "as warp", or the one colour: weft = "navy".'
_HEX = re.compile(r"^#[0-9a-fA-F]{6}$")


class Weave(StrEnum):
    """How warp and weft cross."""

    PLAIN = "plain"
    TWILL = "twill"
    SATIN = "satin"


def read_cloths(desk: Desk, forms: Mapping[str, ClothForm] | None) -> tuple[Cloth, ...]:
    """Returns every cloth that can be read, in the order of CLOTHS."""
    forms = forms or {}
    for name in forms:
        if name not in CLOTHS:
            desk.refuse(("cloths", name), f"no part of a garment is cut from {short(name)}.", offer(name, CLOTHS))
    if "shell" not in forms:
        desk.refuse(
            ("cloths",) if forms else (),
            "the outer cloth is missing.",
            "Begin a section [cloths.shell] with its colours, bars and width.",
        )
    read = (read_cloth(desk, name, forms[name]) for name in CLOTHS if name in forms)
    return tuple(cloth for cloth in read if cloth is not None)


def read_cloth(desk: Desk, name: str, form: ClothForm) -> Cloth | None:
    """Returns one cloth; None (and findings) if its sett can't be read."""
    path: Path = ("cloths", name)
    colours = _colours(desk, path, form)
    sequences = _sequences(desk, path, form, colours)
    width = _measure(desk, (*path, "width"), form.width, _USUAL[name][0])
    selvedge = _measure(desk, (*path, "selvedge"), form.selvedge, _USUAL_SELVEDGE)
    thickness = _measure(desk, (*path, "thickness"), form.thickness, _USUAL[name][1])
    in_hand = None
    if form.length_in_hand is not None:
        in_hand = desk.length((*path, "length_in_hand"), form.length_in_hand, "length in hand", 100.0, 100_000.0)
    nap, weave = Nap.NONE, Weave.TWILL if name == "shell" else Weave.PLAIN
    if form.nap is not None:
        nap = desk.word((*path, "nap"), form.nap, Nap, "way of lying") or nap
    elif name == "shell":
        desk.say(Weight.DEFAULT, (*path, "nap"), "not said; the cloth is taken to have no nap.", "Stroke it and look.")
    if form.weave is not None:
        weave = desk.word((*path, "weave"), form.weave, Weave, "weave") or weave
    give = read_give(desk, path, form, name)
    shrinkage = tuple(
        _shrinkage(desk, (*path, field), given, usual)
        for field, given, usual in (
            ("shrinks_in_length", form.shrinks_in_length, _USUAL_SHRINKAGE[0]),
            ("shrinks_in_width", form.shrinks_in_width, _USUAL_SHRINKAGE[1]),
        )
    )
    price = _price(desk, path, form)
    faults = tuple(
        fault
        for i, given in enumerate(form.faults or [])
        if (fault := _fault(desk, (*path, "faults", i), given, width)) is not None
    )
    if sequences is None:
        return None
    warp, weft = sequences
    cloth = Cloth(
        name=name,
        title=form.title or name,
        colours=tuple(colours.items()),
        warp=warp,
        weft=weft,
        width=width,
        selvedge=selvedge,
        thickness=thickness,
        nap=nap,
        weave=weave.value,
        faces_alike=bool(form.faces_alike),
        sett_at_left=_at_left(desk, path, form.at_left_selvedge, warp, selvedge),
        sett_at_end=_at_end(desk, path, form, weft, in_hand),
        price_per_metre=price,
        length_in_hand=in_hand,
        shrinkage_warp=shrinkage[0],
        shrinkage_weft=shrinkage[1],
        faults=faults,
        give=give,
        dominant_warp=_dominant(desk, (*path, "dominant_warp"), form.dominant_warp, warp),
        dominant_weft=_dominant(desk, (*path, "dominant_weft"), form.dominant_weft, weft),
    )
    if cloth.has_upright_bars and warp.repeat > width - 2 * selvedge:
        desk.refuse(
            (*path, "width"),
            f"one repeat ({format_length(warp.repeat, desk.units)}) is wider than the cloth between its selvedges "
            f"({format_length(width - 2 * selvedge, desk.units)}).",
            "Check the widths of the bars and of the cloth.",
        )
    return cloth


def _colours(desk: Desk, path: Path, form: ClothForm) -> dict[str, str]:
    colours = form.colours or {}
    if not colours:
        desk.refuse((*path, "colours"), "its colours aren't named.", 'Add: colours = { navy = "#1f2a44" }.')
    for name, value in colours.items():
        if not _HEX.match(value):
            desk.refuse(
                (*path, "colours", name),
                f"{short(value)} is no colour.",
                "Write # and six signs from 0 to f, two each for red, green and blue: #1f2a44.",
            )
    return {" ".join(name.split()): value.lower() for name, value in colours.items()}


def _sequences(desk: Desk, path: Path, form: ClothForm, colours: Mapping[str, str]) -> tuple[Sequence, Sequence] | None:
    if not colours:
        return None
    if form.warp is None and form.weft is None:
        return _plain(desk, path, colours)
    for field, given, remedy in (("warp", form.warp, _WARP_WAYS), ("weft", form.weft, _WEFT_WAYS)):
        if given is None:
            desk.refuse((*path, field), f"the bars of the {field} are missing.", remedy)
    warp = None if form.warp is None else read_sequence(desk, (*path, "warp"), form.warp, colours)
    if isinstance(form.weft, str) and form.weft.strip().lower() == "as warp":
        weft = warp
    else:
        weft = None if form.weft is None else read_sequence(desk, (*path, "weft"), form.weft, colours)
    return (warp, weft) if warp and weft else None


def _plain(desk: Desk, path: Path, colours: Mapping[str, str]) -> tuple[Sequence, Sequence] | None:
    if len(colours) > 1:
        desk.refuse(
            (*path, "warp"),
            f"{len(colours)} colours are named, but no bars.",
            f"{_WARP_WAYS} Or leave one colour only.",
        )
        return None
    plain = read_sequence(desk, path, next(iter(colours)), colours)
    return (plain, plain) if plain else None


def _measure(desk: Desk, path: Path, given: Length | None, usual: float) -> float:
    field = str(path[-1])
    if given is None:
        desk.say(
            Weight.DEFAULT,
            path,
            f"not said; {_fine(usual, desk)} was taken.",
            "Measure it before buying." if field == "width" else "",
        )
        return usual
    read = desk.length(path, given, f"{field} of the cloth", *_LIMITS[field])
    return usual if read is None else read


def _fine(length: float, desk: Desk) -> str:
    return format_fine(length, desk.units) if length < 5 else format_length(length, desk.units)


def _shrinkage(desk: Desk, path: Path, given: float | str | None, usual: float) -> float:
    if given is None:
        return usual
    value = desk.number(path, given, "shrinkage in percent", least=0, most=25)
    return usual if value is None else value / 100


def _price(desk: Desk, path: Path, form: ClothForm) -> float | None:
    if form.price_per_metre is not None and form.price_per_yard is not None:
        desk.refuse((*path, "price_per_yard"), "the price is given twice.", "Keep the one by the metre or by the yard.")
        return None
    if form.price_per_metre is not None:
        return desk.number((*path, "price_per_metre"), form.price_per_metre, "price", least=0, most=1e6)
    if form.price_per_yard is not None:
        price = desk.number((*path, "price_per_yard"), form.price_per_yard, "price", least=0, most=1e6)
        return None if price is None else price * 1000.0 / YARD
    return None


def _fault(desk: Desk, path: Path, form: FaultForm, width: float) -> Fault | None:
    name, may_be_hidden = form.name or "fault", bool(form.may_be_hidden)
    if form.corners is not None:
        corners = _corners(desk, path, form)
        return Fault(name, corners, may_be_hidden) if corners else None
    given = {
        "from_left": form.from_left,
        "from_end": form.from_end,
        "width": form.width,
        "length": form.length,
    }
    missing = [field for field, value in given.items() if value is None]
    if missing:
        desk.refuse(
            path,
            f"the fault's {' and '.join(missing)} {'is' if len(missing) == 1 else 'are'} missing.",
            "Give where it begins (from_left, from_end) and how large it is (width, length), or its corners.",
        )
        return None
    read = {
        field: desk.length((*path, field), value, f"{field.replace('_', ' ')} of a fault", 0.0, 100_000.0)
        for field, value in given.items()
        if value is not None
    }
    x, y, wide, long = (read[field] for field in given)
    if x is None or y is None or wide is None or long is None:
        return None
    if x >= width:
        desk.refuse((*path, "from_left"), "the fault lies beyond the cloth's width.", "Measure from the left selvedge.")
    return Fault(name, ((x, y), (x + wide, y), (x + wide, y + long), (x, y + long)), may_be_hidden)


def _corners(desk: Desk, path: Path, form: FaultForm) -> tuple[tuple[float, float], ...] | None:
    """Returns the corners of a fault of any shape, counter-clockwise; None (and findings) if they enclose nothing."""
    path = (*path, "corners")
    twice = [field for field in ("from_left", "from_end", "width", "length") if getattr(form, field) is not None]
    if twice:
        desk.refuse(path, f"the fault has corners and {' and '.join(twice)} too.", "Keep one of the two ways.")
        return None
    pairs = form.corners or []
    if len(pairs) < 3 or any(len(pair) != 2 for pair in pairs):
        desk.refuse(
            path, "a fault has three corners or more, each with two figures.", "Write [from left, from end] for each."
        )
        return None
    read = [tuple(desk.length(path, figure, "place of a corner", 0.0, 100_000.0) for figure in pair) for pair in pairs]
    corners = [(x, y) for x, y in read if x is not None and y is not None]
    if len(corners) < len(pairs):
        return None
    twice_area = sum(ax * by - bx * ay for (ax, ay), (bx, by) in zip(corners, (*corners[1:], corners[0]), strict=True))
    if abs(twice_area) < 1.0:
        desk.refuse(path, "its corners enclose nothing.", "Go round the fault, corner by corner.")
        return None
    return tuple(corners if twice_area > 0 else reversed(corners))


def _at_left(desk: Desk, path: Path, form: BarPlaceForm | None, warp: Sequence, selvedge: float) -> float:
    """Returns ox: the place named stands where the left selvedge ends."""
    if form is None:
        if len(warp.bars) > 1:
            desk.say(
                Weight.DEFAULT,
                (*path, "at_left_selvedge"),
                f"not said; {warp.bars[0].name} is taken to begin where the left selvedge ends.",
                "Look at the cloth: the layout counts its bars from there.",
            )
        return round(selvedge % warp.repeat, 6)
    place = read_place(desk, (*path, "at_left_selvedge"), warp, "warp", (form.bar, form.at), usual="left edge")
    return 0.0 if place is None else round((selvedge - place[0]) % warp.repeat, 6)


def _at_end(desk: Desk, path: Path, form: ClothForm, weft: Sequence, in_hand: float | None) -> float | None:
    """Returns oy: the place named stands at the squared end; None where it may be chosen when buying."""
    if form.at_squared_end is not None:
        place = read_place(
            desk,
            (*path, "at_squared_end"),
            weft,
            "weft",
            (form.at_squared_end.bar, form.at_squared_end.at),
            usual="lower edge",
        )
        return None if place is None else round(-place[0] % weft.repeat, 6)
    if in_hand is not None and len(weft.bars) > 1:
        desk.say(
            Weight.CAUTION,
            (*path, "at_squared_end"),
            "the length is in hand, but not which bar lies at its squared end.",
            "Square the end, look, and add: at_squared_end = "
            f'{{ bar = "{weft.bars[0].name}", at = "lower edge" }}. Until then the plan chooses.',
        )
    return None


def _dominant(desk: Desk, path: Path, name: str | None, sequence: Sequence) -> str | None:
    if name is None:
        return None
    name = " ".join(name.split())
    if any(bar.name == name for bar in sequence.bars):
        return name
    desk.refuse(path, f"the sett has no bar {short(name)}.", offer(name, [bar.name for bar in sequence.bars], 12))
    return None
