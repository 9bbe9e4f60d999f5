"""Reads bars as a weaver would write them down: "navy 12", "ivory 3", "rust 6"."""

from __future__ import annotations

import re
from collections.abc import Mapping

from settwright.cloth import Bar, Sequence
from settwright.commission.desk import Desk, offer, short
from settwright.commission.document import BarsForm, Length
from settwright.commission.lines import Path
from settwright.findings import Weight
from settwright.units import CM, INCH, MM, format_length, parse_length

_BAR = re.compile(r"^\s*(?P<colour>[^\d¼½¾⅛⅜⅝⅞]*?)[\s:=]*(?P<width>[-+]?[\d¼½¾⅛⅜⅝⅞].*)$")
_BARS_IN = {"mm": MM, "cm": CM, "inches": INCH}

WIDEST_BAR = 400.0
LARGEST_REPEAT = 600.0  # no suiting repeats at more; from memory
LARGEST_BORDER = 1600.0  # but a border may come back so rarely, or its ground be so wide, where the unit is said
PLAIN_BAR = 10.0  # a cloth of one colour has one bar, of any width

_SAY_UNIT = 'If the widths are in millimetres, say so: bars_in = "mm".'
_WIDTH_WAYS = 'Write each bar as colour and width: "navy 12", "ivory 3".'


def read_sequence(
    desk: Desk, path: Path, form: BarsForm | list[str] | str, colours: Mapping[str, str]
) -> Sequence | None:
    """Returns the bars of one direction over one whole repeat; None (and findings) if they can't be read."""
    if isinstance(form, str):
        return _one_colour(desk, path, form, colours)
    if isinstance(form, list):
        form = BarsForm(bars=form)
    else:
        path = (*path, "bars")
    section = path[:-1] if path[-1] == "bars" else path
    size = _thread_or_unit(desk, section, form)
    if form.bars is None or not form.bars:
        desk.refuse(path, "the sett has no bars, so it sums to nothing.", _WIDTH_WAYS)
        return None
    read = [_read_bar(desk, (*path, i), text, colours, size) for i, text in enumerate(form.bars)]
    bars = [bar for bar in read if bar is not None]
    if size is None or len(bars) < len(read):
        return None
    if form.mirrored:
        bars = [*bars, *reversed(bars[1:-1])]
    sequence = _numbered(bars)
    _look_for_twins(desk, path, sequence)
    if sequence.repeat > (LARGEST_BORDER if size else LARGEST_REPEAT):
        which = "no cloth has" if size else "no suiting has"
        desk.refuse(
            path,
            f"the bars sum to a repeat of {format_length(sequence.repeat, desk.units)}, which {which}.",
            "Read the figures again." if size else _SAY_UNIT,
        )
        return None
    if sequence.repeat > LARGEST_REPEAT:
        desk.say(
            Weight.CAUTION,
            path,
            f"the repeat comes to {format_length(sequence.repeat, desk.units)}: a border, not a sett.",
            "Measure from one border to the next with the tape.",
        )
    elif sequence.repeat > 300:
        desk.say(
            Weight.CAUTION,
            path,
            f"the repeat comes to {format_length(sequence.repeat, desk.units)}, larger than most.",
            "Measure five repeats with the tape and divide by five.",
        )
    return sequence


def _look_for_twins(desk: Desk, path: Path, sequence: Sequence) -> None:
    """Says where two bars of one colour lie side by side, which the eye sees as one."""
    bars = sequence.bars
    for bar, after in zip(bars, (*bars[1:], bars[0]), strict=True):
        if len(bars) > 1 and bar.colour == after.colour:
            desk.say(
                Weight.CAUTION,
                path,
                f"{bar.name} and {after.name} lie side by side and look like one bar.",
                "If they are one, write it once with its whole width.",
            )


def _one_colour(desk: Desk, path: Path, colour: str, colours: Mapping[str, str]) -> Sequence | None:
    name = _colour(desk, path, colour, colours)
    return _numbered([(name, PLAIN_BAR)]) if name else None


def _thread_or_unit(desk: Desk, path: Path, form: BarsForm) -> float | None:
    """Returns the size of one unit of width in mm, 0 for the commission's units; None if it can't be told."""
    threads: float | None = None
    for given, per, name in (
        (form.threads_per_cm, CM, "threads_per_cm"),
        (form.threads_per_inch, INCH, "threads_per_inch"),
    ):
        if given is not None:
            count = desk.number((*path, name), given, "count of threads", least=0.5, most=400)
            if count is None:
                return None
            threads = per / count
    if form.bars_in is None:
        return threads if threads is not None else 0.0
    unit = form.bars_in.strip().lower()
    if unit == "threads":
        if threads is None:
            desk.refuse(
                (*path, "bars_in"),
                "the bars are counted in threads, but not how many threads lie in a length.",
                "Lay a ruler on the cloth, count, and add threads_per_cm = … or threads_per_inch = … beside them.",
            )
        return threads
    if unit in _BARS_IN:
        return _BARS_IN[unit]
    desk.refuse((*path, "bars_in"), f"{short(form.bars_in)} is no unit for bars.", offer(unit, [*_BARS_IN, "threads"]))
    return None


def _read_bar(
    desk: Desk, path: Path, text: str, colours: Mapping[str, str], size: float | None
) -> tuple[str, float] | None:
    found = _BAR.match(text)
    if not found or not found["colour"].strip():
        desk.refuse(path, f"{short(text)} is not a bar.", _WIDTH_WAYS)
        return None
    colour = _colour(desk, path, found["colour"], colours)
    written = found["width"].strip()
    try:
        if size and re.fullmatch(r"[-+]?\d+(?:[.,]\d+)?", written):
            width = float(written.replace(",", ".")) * size
        else:
            width = parse_length(written, desk.units)
    except (ValueError, OverflowError):
        desk.refuse(path, f"{short(written)} is not the width of a bar.", _WIDTH_WAYS)
        return None
    if width <= 0:
        desk.refuse(
            path, f"{short(text)} has no width.", "Measure the bar, or leave it out if the cloth doesn't have it."
        )
        return None
    widest = LARGEST_BORDER if size else WIDEST_BAR
    if not width <= widest:
        remedy = "Read the figure again." if size else _SAY_UNIT
        desk.refuse(path, f"{short(text)} gives a bar wider than {format_length(widest, desk.units)}.", remedy)
        return None
    return (colour, round(width, 6)) if colour else None


def _colour(desk: Desk, path: Path, name: str, colours: Mapping[str, str]) -> str | None:
    name = " ".join(name.split())
    if name in colours:
        return name
    desk.refuse(
        path,
        f"the colour {short(name)} isn't among this cloth's colours.",
        offer(name, colours) if colours else 'Name them in its section: colours = { navy = "#1f2a44" }.',
    )
    return None


def _numbered(bars: list[tuple[str, float]]) -> Sequence:
    """Returns the sequence with each bar's id: its colour and its count from the sett's start."""
    counts: dict[str, int] = {}
    numbered: list[Bar] = []
    for colour, width in bars:
        counts[colour] = counts.get(colour, 0) + 1
        numbered.append(Bar(f"{colour} {counts[colour]}", colour, width))
    return Sequence(tuple(numbered))


_PLACES = {
    "warp": {"left edge": 0.0, "middle": 0.5, "right edge": 1.0},
    "weft": {"lower edge": 0.0, "middle": 0.5, "upper edge": 1.0},
}


def read_place(
    desk: Desk, path: Path, sequence: Sequence, direction: str, said: tuple[str | None, Length | None], *, usual: str
) -> tuple[float, str] | None:
    """Returns a place in a sequence from its origin, and how it was said; None (and findings) if it can't be read.

    `direction` is "warp" or "weft"; `said` names the bar and the place in it, or a place in the sett alone; `usual` is
    the place meant when only a bar is named.
    """
    bar, at = said
    if bar is None:
        if at is None or str(at).strip() in _PLACES["warp"] | _PLACES["weft"]:
            desk.refuse((*path, "bar"), "it isn't said which bar.", offer("", [b.name for b in sequence.bars], 12))
            return None
        place = desk.length((*path, "at"), at, "place in the sett, from its first bar's edge", 0.0)
        return None if place is None else (place % sequence.repeat, f"{at} into the sett")
    wanted = " ".join(bar.split())
    index = next((i for i, b in enumerate(sequence.bars) if b.name == wanted), None)
    if index is None:
        names = [b.name for b in sequence.bars]
        same = [n for n in names if n.rsplit(" ", 1)[0] == wanted]
        which = "upright" if direction == "warp" else "level"
        remedy = f"Say which: {', '.join(same)}." if same else offer(wanted, names, 12)
        desk.refuse((*path, "bar"), f"the sett has no {which} bar {short(bar)}.", remedy)
        return None
    width, start = sequence.bars[index].width, sequence.starts[index]
    words = usual if at is None else " ".join(str(at).split())
    places = _PLACES[direction]
    if words in places:
        return ((start + places[words] * width) % sequence.repeat, f"{words} of {wanted}")
    if isinstance(at, str) and not any(sign.isdigit() or sign in "¼½¾⅛⅜⅝⅞" for sign in at):
        desk.refuse((*path, "at"), f"{short(at)} is no place in a bar.", offer(at, places) + " Or a length into it.")
        return None
    into = desk.length((*path, "at"), at if at is not None else 0, f"place in the bar {wanted}", 0.0, width)
    return None if into is None else ((start + into) % sequence.repeat, f"{words} into {wanted}")
