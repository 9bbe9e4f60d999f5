"""The cut pieces as a DXF file, for a plotter, a cutting table or another program.

The file is metric ($INSUNITS 4, millimetres), one block for each instance in its own frame: origin at the grain
mark, +y along the grain, seen from the cloth's right side. The blocks are inserted side by side in model space.

Layer numbers follow what is known *from memory* of the withdrawn standard ASTM D6673 for pattern interchange
(ANSI/AAMA-292 lineage); its tables were not at hand. No conformance with it is claimed, and the file differs from it
knowingly: it is DXF release 2000, since the library at hand can't write release 13.
"""

from __future__ import annotations

import io
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from typing import TYPE_CHECKING

import shapely
from shapely.geometry import LinearRing

from settwright.exchange.pieces import grain_line, notch_line, side_by_side, title_of
from settwright.findings import refuse
from settwright.geometry import Path, Point
from settwright.makeup.model import CutPiece
from settwright.units import Units, format_length

if TYPE_CHECKING:
    from ezdxf.layouts.blocklayout import BlockLayout

# from memory, see above
BOUNDARY = "1"  # the cutting line
NOTCHES = "4"
GRAIN = "7"
INTERNAL = "8"
DRILLS = "13"
SEWING = "14"  # the seam line
TEXT = "15"

_FINEST = 4  # decimals of a millimetre that are written
_CURVE = 0.02  # internal lines stray from their curves by less
_TYPE = 5.0


def write_dxf(pieces: Sequence[CutPiece], *, units: Units) -> bytes:
    """Returns the pieces as a DXF file in millimetres; the same pieces give the same bytes.

    `units` are those in which the texts tell allowances. Raises Refusal when there is no piece.
    """
    from ezdxf import filemanagement  # noqa: PLC0415  takes a second: only when asked for
    from ezdxf import units as drawing_units  # noqa: PLC0415

    if not pieces:
        raise refuse("exchange.dxf", "There is no piece to write.", "Plan the commission first.")
    with _fixed_dates():
        document = filemanagement.new("R2000", units=drawing_units.MM)
        document.header["$MEASUREMENT"] = 1
        for layer in (BOUNDARY, NOTCHES, GRAIN, INTERNAL, DRILLS, SEWING, TEXT):
            document.layers.add(layer)
        for piece, place in zip(pieces, side_by_side(pieces), strict=True):
            _draw(document.blocks.new(piece.name), piece, units)
            document.modelspace().add_blockref(piece.name, _xy(place))
        text = io.StringIO()
        document.write(text)
    return document.encode(text.getvalue())


@contextmanager
def _fixed_dates() -> Iterator[None]:
    """Keeps clock and random ids out of the file while it is made."""
    from ezdxf._options import options  # noqa: PLC0415

    before = options.write_fixed_meta_data_for_testing
    options.write_fixed_meta_data_for_testing = True
    try:
        yield
    finally:
        options.write_fixed_meta_data_for_testing = before


def _draw(block: BlockLayout, piece: CutPiece, units: Units) -> None:
    block.add_lwpolyline([_xy(p) for p in piece.cutting_line], close=True, dxfattribs={"layer": BOUNDARY})
    block.add_lwpolyline([_xy(p) for p in piece.seam_line], close=True, dxfattribs={"layer": SEWING})
    _line(block, grain_line(piece), GRAIN)
    for line in piece.piece.lines:
        block.add_lwpolyline([_xy(p) for p in line.path.points(_CURVE)], dxfattribs={"layer": INTERNAL})
    for notch in piece.piece.notches:
        _line(block, notch_line(piece, notch), NOTCHES)
    for mark in piece.piece.marks:
        block.add_point(_xy(mark.at), dxfattribs={"layer": DRILLS})
    _write(block, Point(5.0, 0.0), title_of(piece))
    cutting = LinearRing([(p.x, p.y) for p in piece.cutting_line])
    for edge in piece.piece.edges:
        _write(block, edge.path.at(edge.path.length / 2), _edge_text(piece, edge.name, edge.path, cutting, units))


def _edge_text(piece: CutPiece, name: str, path: Path, cutting: LinearRing, units: Units) -> str:
    """Returns an edge's name and how far the cutting line lies outside its middle."""
    allowance = next((a for a in piece.allowances if a.edge == name), None)
    if allowance and allowance.is_fold:
        return f"{name}: fold"
    middle = path.at(path.length / 2)
    width = float(shapely.distance(cutting, shapely.points(middle.x, middle.y)))
    return f"{name}, {format_length(width, units)}" if width > 0.5 else name


def _line(block: BlockLayout, line: Path, layer: str) -> None:
    block.add_line(_xy(line.start), _xy(line.end), dxfattribs={"layer": layer})


def _write(block: BlockLayout, at: Point, text: str) -> None:
    block.add_text(text, height=_TYPE, dxfattribs={"layer": TEXT, "insert": _xy(at)})


def _xy(p: Point) -> tuple[float, float]:
    return round(p.x, _FINEST) + 0.0, round(p.y, _FINEST) + 0.0
