"""Lengths at the edge of the program: inches in fractions and centimetres, read and printed.

Everywhere else a bare float is a length in millimetres or an angle in radians.
"""

from __future__ import annotations

import re
from enum import StrEnum
from fractions import Fraction

MM = 1.0
CM = 10.0 * MM
INCH = 25.4 * MM  # exact since 1959 (international yard)
METRE = 1000.0 * MM
YARD = 36.0 * INCH


class Units(StrEnum):
    """The units that a person measures in."""

    CM = "cm"
    INCHES = "inches"

    @property
    def size(self) -> float:
        """One unit, in millimetres."""
        return CM if self is Units.CM else INCH

    @property
    def sign(self) -> str:
        """The unit as printed after a figure."""
        return "cm" if self is Units.CM else "in"


_SUFFIXES = {
    "mm": MM,
    "cm": CM,
    "m": METRE,
    "in": INCH,
    "inch": INCH,
    "inches": INCH,
    '"': INCH,
    "″": INCH,
    "yd": YARD,
    "yard": YARD,
    "yards": YARD,
}
_VULGAR = {"¼": "1/4", "½": "1/2", "¾": "3/4", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8"}
_LENGTH = re.compile(
    r"""^\s*(?P<sign>[+-]?)\s*
        (?P<whole>\d{1,9}(?:[.,]\d{1,12})?)?
        (?:(?:(?<=\d)[\s-]+|^\s*|(?<=[+-]))(?P<top>\d{1,4})\s*/\s*(?P<bottom>\d{1,4}))?
        \s*(?P<suffix>mm|cm|m|inches|inch|in|yards|yard|yd|"|″)?\s*$""",
    re.VERBOSE,
)


class NotALength(ValueError):
    """A text that can't be read as a length; its message tells a tailor how to write one."""


def parse_length(written: str | float | int, units: Units) -> float:
    """Returns a written length in millimetres; a figure without a unit is in `units`.

    >>> parse_length("38 1/2", Units.INCHES)
    977.9
    >>> parse_length("97,5", Units.CM)
    975.0
    >>> parse_length("12 mm", Units.INCHES)
    12.0

    Raises NotALength for anything else.
    """
    if isinstance(written, bool):
        raise NotALength(f"{written!r} is not a length; write a figure such as 38 1/2 or 97,5.")
    if isinstance(written, int | float):
        if not abs(written) < 1e9:  # also false for a figure that isn't one (nan)
            raise NotALength(f"{written!r} is not a length that cloth can have.")
        return _rounded(written * units.size)
    text = written.strip()
    for sign, fraction in _VULGAR.items():
        text = text.replace(sign, f" {fraction}")
    found = _LENGTH.match(text)
    if not found or (found["whole"] is None and found["top"] is None):
        raise NotALength(f"{written!r} is not a length; write a figure such as 38 1/2, 97,5 or 12 mm.")
    if found["bottom"] is not None and int(found["bottom"]) == 0:
        raise NotALength(f"{written!r} divides by nothing; write a fraction such as 1/2.")
    value = Fraction((found["whole"] or "0").replace(",", "."))
    if found["top"] is not None:
        if value.denominator != 1:
            raise NotALength(f"{written!r} mixes a decimal with a fraction; write one or the other.")
        value += Fraction(int(found["top"]), int(found["bottom"]))
    size = _SUFFIXES[found["suffix"]] if found["suffix"] else units.size
    return _rounded((-1.0 if found["sign"] == "-" else 1.0) * float(value) * size)


def _rounded(length: float) -> float:
    return round(length, 6)


def format_length(length: float, units: Units, *, with_sign: bool = True) -> str:
    """Returns a length for the hand: whole millimetres told in cm, or sixteenths of an inch.

    >>> format_length(977.9, Units.INCHES)
    '38 1/2 in'
    >>> format_length(975.2, Units.CM)
    '97.5 cm'
    """
    if units is Units.CM:
        text = f"{round(length) / 10:.1f}"
        text = "0.0" if text == "-0.0" else text
    else:
        sixteenths = round(length / INCH * 16)
        whole, rest = divmod(abs(sixteenths), 16)
        part = str(Fraction(rest, 16)) if rest else ""
        text = ("-" if sixteenths < 0 else "") + (" ".join(t for t in (str(whole) if whole else "", part) if t) or "0")
    return f"{text} {units.sign}" if with_sign else text


def format_fine(length: float, units: Units) -> str:
    """Returns a small length such as a miss, in tenths of a millimetre or in 32nds of an inch.

    >>> format_fine(0.84, Units.CM)
    '0.8 mm'
    >>> format_fine(0.84, Units.INCHES)
    '1/32 in'
    """
    if units is Units.CM:
        return f"{abs(length):.1f} mm"
    parts = round(abs(length) / INCH * 32)
    if parts == 0:
        return "under 1/64 in" if length else "0 in"
    whole, rest = divmod(parts, 32)
    return " ".join(t for t in (str(whole) if whole else "", str(Fraction(rest, 32)) if rest else "") if t) + " in"


_METRIC = re.compile(r"(?<![\w.,“])(?:(\d+(?:\.\d+)?) to )?(\d+(?:\.\d+)?) (mm|cm)\b(?![^“]*”)")


def in_units(text: str, units: Units) -> str:
    """Returns a text whose lengths are metric as one reads it who measures in these units.

    In inches every one of them is told in inches; in centimetres, millimetres from 10 cm on. What stands in quotation
    marks “ ” is the person's own and stays.

    >>> in_units("a peak is 25 to 110 mm long", Units.INCHES)
    'a peak is 1 to 4 5/16 in long'
    >>> in_units("The pieces take 2843 mm", Units.CM)
    'The pieces take 284.3 cm'
    """

    def said(found: re.Match[str]) -> str:
        first, second, sign = found.groups()
        size = CM if sign == "cm" else MM
        lengths = [float(figure) * size for figure in (first, second) if figure]
        if units is Units.CM and (sign == "cm" or max(lengths) < 10 * CM):
            return found[0]
        fine = units is Units.INCHES and sign == "mm" and "." in second and lengths[-1] < CM
        told = [format_fine(length, units) if fine else format_length(length, units) for length in lengths]
        return " to ".join([*(one.removesuffix(f" {units.sign}") for one in told[:-1]), told[-1]])

    return _METRIC.sub(said, text)


def format_cloth(length: float, units: Units) -> str:
    """Returns a length of cloth: metres to the centimetre, or yards to the eighth, both rounded up.

    >>> format_cloth(2843.0, Units.CM)
    '2.85 m'
    >>> format_cloth(2843.0, Units.INCHES)
    '3 1/8 yd'
    """
    if units is Units.CM:
        return f"{-(-round(length, 3) // 10) / 100:.2f} m"
    eighths = int(-(-round(length, 3) // (YARD / 8)))
    whole, rest = divmod(eighths, 8)
    return " ".join(t for t in (str(whole) if whole else "", str(Fraction(rest, 8)) if rest else "") if t) + " yd"
