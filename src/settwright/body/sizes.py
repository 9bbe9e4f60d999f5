"""Size tables: the bodies that a range of sizes is cut for, where a pattern is made for nobody in particular.

European: the steps of EN 13402-3 for women of 168 cm, from memory; bust, waist and hip are paired row by row as its
figure has them on the whole, hip 8 cm more than bust. American: ASTM D5585-11e1, the public first rows of its table 1
(neck base, bust, waist of the curvy figure); its hips and heights weren't seen, so the hip is what women of an open
survey have with that waist (ANSUR II, 1,986 women, their navel's girth brought to the natural waist by 0.855:
496.0 mm + 0.7136 × waist), the height 65 in, from memory.

Both: shoulder, back and chest grow with the bust as the trade grades them, by 2.5, 10 and 12 mm for each 4 cm of it
(common practice, no source that was seen itself). The survey's own shoulders don't grow with the bust at all; a pattern
graded so would be too narrow for its arm.

What a table doesn't tell is estimated for each size as for a client.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from settwright.body.estimate import complete
from settwright.body.model import Body
from settwright.findings import refuse
from settwright.units import CM, INCH, Units


@dataclass(frozen=True)
class Size:
    """A size of a table: its name and what the table tells of its body, in millimetres."""

    name: str
    measures: tuple[tuple[str, float], ...]

    def body(self, units: Units = Units.CM) -> Body:
        """Returns its body, the rest estimated; `units` only words the findings."""
        return complete(dict(self.measures), units)


@dataclass(frozen=True)
class SizeTable:
    """Sizes from the smallest to the largest, and where they were taken from."""

    name: str
    title: str
    sizes: tuple[Size, ...]

    def between(self, smallest: str | None, largest: str | None) -> tuple[Size, ...]:
        """Returns the sizes from one to another, both included; None: to the table's end.

        Raises Refusal for a size that the table hasn't, or for two in the wrong order.
        """
        names = [size.name for size in self.sizes]
        for where, name in (("from", smallest), ("to", largest)):
            if name is not None and name not in names:
                raise refuse(
                    f"sizes, {where}",
                    f"the {self.title} have no size “{name}”.",
                    f"Choose from: {', '.join(names)}.",
                )
        first = names.index(smallest) if smallest is not None else 0
        last = names.index(largest) if largest is not None else len(names) - 1
        if last < first:
            raise refuse("sizes", f"size {largest} is smaller than size {smallest}.", "Name the smaller one first.")
        return self.sizes[first : last + 1]


def _rows(names: Sequence[str], columns: Mapping[str, Sequence[float]], unit: float) -> tuple[Size, ...]:
    return tuple(
        Size(name, tuple((measure, round(figures[i] * unit, 1)) for measure, figures in columns.items()))
        for i, name in enumerate(names)
    )


def _graded(bust: Sequence[float], unit: float) -> dict[str, list[float]]:
    """Returns the columns that follow the bust, given in a unit of so many millimetres, in that unit."""
    return {
        name: [at_zero / unit + factor * girth for girth in bust]
        for name, at_zero, factor in (
            ("shoulder_length", 67.5, 0.0625),
            ("across_back_width", 124.0, 0.25),
            ("across_front_width", 60.0, 0.3),
        )
    }


_BUST = (76, 80, 84, 88, 92, 96, 100, 104, 110, 116, 122, 128)
EUROPEAN = SizeTable(
    "european",
    "European sizes, named by the bust in centimetres",
    _rows(
        [str(bust) for bust in _BUST],
        {
            "bust_girth": _BUST,
            "waist_girth": (60, 64, 68, 72, 76, 80, 84, 88, 94, 100, 106, 112),
            "hip_girth": (84, 88, 92, 96, 100, 104, 108, 112, 117, 122, 127, 132),
            "height": (168,) * 12,
            **_graded(_BUST, CM),
        },
        CM,
    ),
)

_BUST_IN = (31.125, 31.75, 33, 34.125, 35.25, 36.25, 37.25, 38.75, 40.375, 42.125, 44, 46)
_WAIST_IN = (23.875, 24.625, 25.375, 26.125, 27, 28, 29, 30.75, 32.5, 34.5, 36.75, 39)
AMERICAN = SizeTable(
    "american",
    "American sizes, 00 to 20",
    _rows(
        ["00", "0", "2", "4", "6", "8", "10", "12", "14", "16", "18", "20"],
        {
            "bust_girth": _BUST_IN,
            "waist_girth": _WAIST_IN,
            "hip_girth": tuple(496.0 / INCH + 0.7136 * waist for waist in _WAIST_IN),
            "neck_base_girth": (13.25, 13.5, 13.75, 14, 14.25, 14.625, 14.875, 15.125, 15.5, 15.75, 16, 16.375),
            "height": (65,) * 12,
            **_graded(_BUST_IN, INCH),
        },
        INCH,
    ),
)

SIZE_TABLES: dict[str, SizeTable] = {table.name: table for table in (EUROPEAN, AMERICAN)}


def table_of(name: str) -> SizeTable:
    """Returns a size table by name. Raises Refusal with the names that exist."""
    if name not in SIZE_TABLES:
        raise refuse("sizes, table", f"no size table is called “{name}”.", f"Choose from: {', '.join(SIZE_TABLES)}.")
    return SIZE_TABLES[name]
