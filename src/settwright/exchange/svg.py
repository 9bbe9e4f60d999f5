"""The cut pieces as an SVG drawing at full size: one user unit is one millimetre."""

from __future__ import annotations

from collections.abc import Sequence
from xml.sax.saxutils import escape, quoteattr

from settwright.exchange.pieces import grain_line, notch_line, side_by_side, title_of
from settwright.findings import refuse
from settwright.geometry import Path, Point
from settwright.makeup.model import CutPiece

_RIM = 10.0
_STYLE = (
    ".cutting{stroke:#222;stroke-width:.6;fill:none}.seam{stroke:#222;stroke-width:.25;fill:none}"
    ".line{stroke:#666;stroke-width:.2;fill:none;stroke-dasharray:3 1.5}.notch{stroke:#222;stroke-width:.4}"
    ".grain{stroke:#222;stroke-width:.35}text{font:5px serif}"
)


def pieces_svg(pieces: Sequence[CutPiece]) -> str:
    """Returns an SVG of all pieces side by side at full size, curves kept as curves.

    Each piece is a group with the instance's name as its id; inside it the y axis points down, as SVG's does.
    Raises Refusal when there is no piece.
    """
    if not pieces:
        raise refuse("exchange.svg", "There is no piece to draw.", "Plan the commission first.")
    laid = list(zip(pieces, side_by_side(pieces), strict=True))
    width = max(place.x + p.x for piece, place in laid for p in piece.cutting_line) + 2 * _RIM
    height = max(-place.y - p.y for piece, place in laid for p in piece.cutting_line) + 2 * _RIM
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{_number(width)}mm" height="{_number(height)}mm"'
        f' viewBox="{_number(-_RIM)} {_number(-_RIM)} {_number(width)} {_number(height)}">\n'
        f"<title>Cut pieces at full size</title>\n<style>{_STYLE}</style>\n"
        + "\n".join(_group(piece, place) for piece, place in laid)
        + "\n</svg>\n"
    )


def _group(piece: CutPiece, place: Point) -> str:
    shape = piece.piece
    body = [
        f'<path class="cutting" d="{_polygon(piece.cutting_line)}"/>',
        f'<path class="seam" d="{_data(shape.outline)}Z"/>',
        *(f'<path class="line" data-name={quoteattr(line.name)} d="{_data(line.path)}"/>' for line in shape.lines),
    ]
    for notch in shape.notches:
        line = _data(notch_line(piece, notch))
        body.append(f'<path class="notch" data-name={quoteattr(notch.name)} d="{line}"/>')
    for mark in shape.marks:
        x, y = _flipped(mark.at)
        body.append(f'<circle class="seam" data-name={quoteattr(mark.name)} cx="{x}" cy="{y}" r="1.5"/>')
    body.append(f'<path class="grain" d="{_data(grain_line(piece))}"/>')
    body.append(f'<text x="5" y="0">{escape(title_of(piece))}</text>')
    x, y = _flipped(place)
    return f'<g id={quoteattr(piece.name)} transform="translate({x} {y})">\n' + "\n".join(body) + "\n</g>"


def _data(path: Path) -> str:
    words = ["M" + " ".join(_flipped(path.start))]
    for s in path.segments:
        points = (s.d,) if s.is_straight else (s.b, s.c, s.d)
        words.append(("L" if s.is_straight else "C") + " ".join(number for p in points for number in _flipped(p)))
    return "".join(words)


def _polygon(points: Sequence[Point]) -> str:
    return "M" + "L".join(" ".join(_flipped(p)) for p in points) + "Z"


def _flipped(p: Point) -> tuple[str, str]:
    return _number(p.x), _number(-p.y)


def _number(value: float) -> str:
    text = f"{value:.3f}".rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text
