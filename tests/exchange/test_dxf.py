"""DXF out, read back by ezdxf: units, blocks, areas, lengths, layers, the same bytes."""

from __future__ import annotations

import hashlib
import io
import subprocess
import sys
from pathlib import Path as FilePath

import ezdxf
import pytest
from ezdxf.document import Drawing
from ezdxf.math import Vec2, area

from settwright.exchange.dxf import BOUNDARY, DRILLS, GRAIN, INTERNAL, NOTCHES, SEWING, TEXT, write_dxf
from settwright.findings import Refusal
from settwright.geometry import Point
from settwright.makeup.model import CutPiece
from settwright.units import Units
from tests.cut_pieces import suit

PIECES = suit()


@pytest.fixture(scope="module")
def written() -> bytes:
    return write_dxf(PIECES, units=Units.CM)


@pytest.fixture(scope="module")
def document(written: bytes) -> Drawing:
    return ezdxf.read(io.StringIO(written.decode("cp1252")))


def closed_outline(document: Drawing, block: str, layer: str) -> list[Vec2]:
    (line,) = document.blocks.get(block).query(f'LWPOLYLINE[layer=="{layer}"]')
    assert line.closed
    return [Vec2(x, y) for x, y in line.get_points("xy")]


def measured(points: tuple[Point, ...]) -> tuple[float, float]:
    pairs = list(zip(points, (*points[1:], points[0]), strict=True))
    return abs(sum(p.cross(q) for p, q in pairs)) / 2, sum((q - p).length for p, q in pairs)


def test_a_reader_finds_nothing_wrong(document: Drawing):
    auditor = document.audit()
    assert not auditor.errors
    assert not auditor.fixes


def test_millimetres(document: Drawing):
    assert document.header["$INSUNITS"] == 4  # 4 = millimetres, 1 = inches (DXF reference, header variables)
    assert document.header["$MEASUREMENT"] == 1  # metric


def test_one_block_for_each_instance_shown_once(document: Drawing):
    blocks = [block.name for block in document.blocks if not block.name.startswith("*")]
    assert blocks == [piece.name for piece in PIECES]
    assert [insert.dxf.name for insert in document.modelspace().query("INSERT")] == blocks


@pytest.mark.parametrize("piece", PIECES, ids=lambda piece: piece.name)
def test_areas_and_lengths_are_the_pieces_own(document: Drawing, piece: CutPiece):
    """Area as ezdxf computes it, to 0.1 mm²; the way round to 0.01 mm."""
    for layer, polygon in ((BOUNDARY, piece.cutting_line), (SEWING, piece.seam_line)):
        points = closed_outline(document, piece.name, layer)
        expected_area, expected_length = measured(polygon)
        assert area(points) == pytest.approx(expected_area, abs=0.1)
        round_it = sum(p.distance(q) for p, q in zip(points, [*points[1:], points[0]], strict=True))
        assert round_it == pytest.approx(expected_length, abs=0.01)


def test_marks_are_on_their_layers(document: Drawing):
    block, piece = document.blocks.get("front.left"), PIECES[1].piece
    assert len(block.query(f'LINE[layer=="{NOTCHES}"]')) == len(piece.notches)
    assert len(block.query(f'LWPOLYLINE[layer=="{INTERNAL}"]')) == len(piece.lines)
    drills = [Vec2(point.dxf.location) for point in block.query(f'POINT[layer=="{DRILLS}"]')]
    assert drills == [Vec2(mark.at.x, mark.at.y) for mark in piece.marks]
    texts = {text.dxf.text for text in block.query(f'TEXT[layer=="{TEXT}"]')}
    assert "front, left; cut one; shell" in texts
    assert "side-front, 2.5 cm" in texts
    for notch, line in zip(piece.notches, block.query(f'LINE[layer=="{NOTCHES}"]'), strict=True):
        at = piece.edge(notch.edge).path.at(notch.at)
        assert Vec2(line.dxf.start).isclose(Vec2(at.x, at.y), abs_tol=0.001)


def test_grain_follows_the_warp(document: Drawing):
    (upright,) = document.blocks.get("front.right").query(f'LINE[layer=="{GRAIN}"]')
    assert upright.dxf.start.x == upright.dxf.end.x == 0
    (slanted,) = document.blocks.get("under-collar.right").query(f'LINE[layer=="{GRAIN}"]')
    run = slanted.dxf.end - slanted.dxf.start
    assert run.x == pytest.approx(run.y, abs=0.001)  # R(π/4) takes it to the warp


def test_inches_only_in_the_words(document: Drawing):
    other = ezdxf.read(io.StringIO(write_dxf(PIECES[:1], units=Units.INCHES).decode("cp1252")))
    assert other.header["$INSUNITS"] == 4
    assert area(closed_outline(other, "front.right", BOUNDARY)) == area(
        closed_outline(document, "front.right", BOUNDARY)
    )
    texts = {text.dxf.text for text in other.blocks.get("front.right").query("TEXT")}
    assert "side-front, 1 in" in texts


def test_same_bytes_twice_and_in_another_process(written: bytes):
    assert write_dxf(PIECES, units=Units.CM) == written
    program = (
        "import hashlib, sys; sys.path[:0] = sys.argv[1:]; from cut_pieces import suit; "
        "from settwright.exchange.dxf import write_dxf; from settwright.units import Units; "
        "print(hashlib.sha256(write_dxf(suit(), units=Units.CM)).hexdigest())"
    )
    result = subprocess.run(
        [sys.executable, "-c", program, str(FilePath(__file__).parents[1])],
        capture_output=True,
        text=True,
        check=True,
        env={"PYTHONHASHSEED": "7", "PATH": ""},
    )
    assert result.stdout.strip() == hashlib.sha256(written).hexdigest()


def test_the_librarys_settings_are_left_as_they_were(written: bytes):
    assert ezdxf.options.write_fixed_meta_data_for_testing is False


def test_nothing_to_write():
    with pytest.raises(Refusal, match="no piece"):
        write_dxf([], units=Units.CM)
