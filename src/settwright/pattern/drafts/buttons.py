"""Where the buttons stand: one column on the centre front, or two, one to each side of it."""

from __future__ import annotations

from dataclasses import dataclass

from settwright.commission.design import Closing, CollarStyle, FrontStyle, JacketDesign
from settwright.findings import refuse
from settwright.geometry import Point
from settwright.pattern.drafts.frame import Frame
from settwright.pattern.drafts.record import Recorder

_TOP_BUTTON = {2: 0.15, 3: 1.0, 4: 1.4}  # over the waist, in spacings, by the number of buttons
_CROSSED_TOP = 0.3  # likewise where the fronts cross over: the edges part just above the waist


@dataclass(frozen=True)
class Buttons:
    """The buttons of a front, top one first.

    `column` is how far the fastening column lies beyond the centre front; where it isn't 0, a twin column lies as far
    behind it.
    """

    centre_front: float
    levels: tuple[float, ...]
    column: float = 0.0

    @property
    def fastening(self) -> tuple[Point, ...]:
        """The column near the front edge, or on the centre front."""
        return tuple(Point(self.centre_front + self.column, level) for level in self.levels)

    @property
    def twins(self) -> tuple[Point, ...]:
        """The second column of a double-breasted front; empty otherwise."""
        if self.column == 0.0:
            return ()
        return tuple(Point(self.centre_front - self.column, level) for level in self.levels)


def place_buttons(r: Recorder, frame: Frame, design: JacketDesign, reach: float, neck: float | None = None) -> Buttons:
    """Returns the buttons: evenly spaced, of three the middle one at the waist.

    `reach` is the way from the centre front to the edge; `neck` the level of a front that closes up to the neck. An
    edge-to-edge front has places for hooks instead. Raises Refusal for a number of buttons that finds no room.
    """
    r.number("button spacing by the body", "buttons", "88 mm × back waist length / 415 mm")
    r.number("lowest button", "buttons", "most of (101.6 mm − length below the waist; −button spacing by the body)",
             "4 in over the hem: a published sewing lesson of 1999")  # fmt: skip
    count = design.buttons
    if count < 1:
        raise refuse("design.buttons", "a front closes with at least one button or hook.", "Choose 1 to 5.")
    if neck is not None:
        top = neck - 0.5 * design.button_diameter - 12.0
    elif count == 1:
        top = max(0.0, r["lowest button"])
    else:
        part = _TOP_BUTTON.get(count, 1.7)
        part = min(part, _CROSSED_TOP) if design.front_style is FrontStyle.CROSSED else part
        top = r.number("top button by the body", "buttons", f"button spacing by the body × {part:g}")
        top = min(top, frame.bust - 45.0)
    lowest = r["lowest button"]
    if design.lowest_button_above_hem is not None:
        r.found("lowest button as chosen", "buttons", "over the hem, as the commission says",
                lowest := frame.hem + design.lowest_button_above_hem)  # fmt: skip
    if design.top_button_above_waist is not None and neck is None:
        r.found("top button as chosen", "buttons", "over the waist, as the commission says",
                top := design.top_button_above_waist)  # fmt: skip
    lowest = top if count == 1 else lowest
    spacing = (top - lowest) / max(count - 1, 1)
    if count > 1 and spacing < 1.5 * design.button_diameter:
        raise refuse("design.buttons", f"{count} buttons stand too close on this front.", "Choose fewer.")
    levels = tuple(top + r["buttons moved up by"] - spacing * number for number in range(count))
    column = _column(r, design, reach)
    where = "beyond the centre front, with its twin as far behind it," if column else "on the centre front,"
    for number, level in enumerate(levels, 1):
        place = Point(frame.centre_front + column, level)
        r.found(f"button {number}", "buttons", f"{where} evenly spaced", place)
    return Buttons(frame.centre_front, levels, column)


def _column(r: Recorder, design: JacketDesign, reach: float) -> float:
    doubled = design.closing is Closing.DOUBLE or design.front_style is FrontStyle.CROSSED
    if not doubled:
        return 0.0
    column = reach - max(22.0, 0.5 * design.button_diameter + 12.0)
    r.found(
        "button column",
        "buttons",
        "from the centre front: the button's half and 12 mm in from the edge, 22 mm at least",
        column,
    )
    return column


def closes_to_the_neck(design: JacketDesign) -> bool:
    """Whether the fronts meet all the way up."""
    return design.front_style is FrontStyle.ROUND_NECK or design.collar_style is CollarStyle.STAND
