"""SVG out, read as XML and measured: one unit is one millimetre."""

from __future__ import annotations

import re
from dataclasses import replace
from xml.etree import ElementTree

import pytest
import shapely

from settwright.exchange.svg import pieces_svg
from settwright.findings import Refusal
from settwright.geometry import Path, Point, Segment
from tests.cut_pieces import suit

PIECES = suit()
SVG = "{http://www.w3.org/2000/svg}"


@pytest.fixture(scope="module")
def root() -> ElementTree.Element:
    return ElementTree.fromstring(pieces_svg(PIECES))


def paths(group: ElementTree.Element, kind: str) -> list[ElementTree.Element]:
    return [path for path in group.iter(f"{SVG}path") if path.get("class") == kind]


def read(data: str) -> Path:
    """Returns path data with the commands M, L, C and Z, all absolute, as SVG 1.1 section 8.3 defines them."""
    segments: list[Segment] = []
    at = start = Point(0.0, 0.0)
    for command, rest in re.findall(r"([MLCZ])([^MLCZ]*)", data):
        numbers = [float(n) for n in re.findall(r"-?[\d.]+", rest)]
        points = [Point(x, y) for x, y in zip(numbers[::2], numbers[1::2], strict=True)]
        if command == "M":
            (start,) = points
            at = start
        elif command == "L":
            segments.append(Segment.line(at, points[-1]))
            at = points[-1]
        elif command == "C":
            segments.append(Segment(at, *points))
            at = points[-1]
        elif (start - at).length > 0:
            segments.append(Segment.line(at, start))
    return Path(tuple(segments))


def test_true_scale(root: ElementTree.Element):
    """Width and height in mm equal those of the view box: one user unit is one millimetre."""
    _, _, width, height = (float(n) for n in (root.get("viewBox") or "").split())
    for told, units in (("width", width), ("height", height)):
        length = root.get(told) or ""
        assert length.endswith("mm")
        assert float(length.removesuffix("mm")) == units


def test_pieces_measure_as_they_are_cut(root: ElementTree.Element):
    groups = {group.get("id"): group for group in root.iter(f"{SVG}g")}
    assert list(groups) == [piece.name for piece in PIECES]
    for piece in PIECES:
        group = groups[piece.name]
        (cutting,) = paths(group, "cutting")
        drawn = shapely.Polygon([(p.x, p.y) for p in read(cutting.get("d") or "").points()])
        meant = shapely.Polygon([(p.x, p.y) for p in piece.cutting_line])
        assert drawn.area == pytest.approx(meant.area, abs=0.1)
        assert drawn.bounds == pytest.approx(
            (meant.bounds[0], -meant.bounds[3], meant.bounds[2], -meant.bounds[1]), abs=0.001
        )
        seam = read(next(p.get("d") or "" for p in paths(group, "seam")))
        assert seam.length == pytest.approx(sum(edge.path.length for edge in piece.piece.edges), abs=0.02)


def test_curves_stay_curves(root: ElementTree.Element):
    front = next(group for group in root.iter(f"{SVG}g") if group.get("id") == "front.right")
    assert "C" in next(p.get("d") or "" for p in paths(front, "seam"))


def test_pieces_keep_apart_and_inside_the_page(root: ElementTree.Element):
    left, top, width, height = (float(n) for n in (root.get("viewBox") or "").split())
    page = shapely.box(left, top, left + width, top + height)
    shapes: list[shapely.Polygon] = []
    for group in root.iter(f"{SVG}g"):
        dx, dy = (float(n) for n in re.findall(r"-?[\d.]+", group.get("transform") or ""))
        (cutting,) = paths(group, "cutting")
        points = read(cutting.get("d") or "").points()
        shapes.append(shapely.Polygon([(p.x + dx, p.y + dy) for p in points]))
    for index, shape in enumerate(shapes):
        assert page.contains(shape)
        assert all(not shape.intersects(other) for other in shapes[index + 1 :])


def test_names_are_escaped():
    piece = replace(PIECES[0], piece=replace(PIECES[0].piece, title='front & "facing" <one>'))
    root = ElementTree.fromstring(pieces_svg([piece]))
    text = next(root.iter(f"{SVG}text")).text
    assert text == 'front & "facing" <one>, right; cut one; shell'


def test_same_text_twice():
    assert pieces_svg(PIECES) == pieces_svg(suit())


def test_nothing_to_draw():
    with pytest.raises(Refusal, match="no piece"):
        pieces_svg([])
