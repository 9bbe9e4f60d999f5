"""The record retold as a lesson: nothing left out, nothing used before it was told, all in the person's units."""

from __future__ import annotations

import re
from functools import cache
from pathlib import Path

import pytest

from settwright.body.estimate import complete
from settwright.commission.design import TrousersDesign
from settwright.commission.reading import read_commission
from settwright.pattern import Draft
from settwright.pattern.drafts.trousers import draft_trousers
from settwright.planner.derive import draft_garments
from settwright.units import Units
from settwright.workbook.drawing.lesson import draw_lesson_figure, sheet_box
from settwright.workbook.drawing.pen import SvgPen
from settwright.workbook.lesson import Drawn, Figure, lesson_of
from settwright.workbook.record import rule_said
from tools.cuts import CUTS, Cut

EXAMPLES = sorted((Path(__file__).parents[2] / "examples").glob("*.toml"))
PLAID_SUIT = next(path for path in EXAMPLES if path.stem == "plaid-suit")


@cache
def drafts(example: Path) -> tuple[Draft, ...]:
    commission = read_commission(example.read_text(), example.name)
    body = complete(dict(commission.measured))
    return (*draft_garments(commission, body, 1.0), draft_trousers(body, TrousersDesign()))


@cache
def lessons(example: Path) -> tuple[tuple[Draft, tuple[Figure, ...]], ...]:
    return tuple((draft, lesson_of(draft)) for draft in drafts(example))


def check_lesson(draft: Draft, figures: tuple[Figure, ...]) -> None:
    """Every step is told once, every piece traced once, and no rule uses a figure that wasn't told before it."""
    everything = [id(step) for figure in figures for step in figure.steps]
    assert sorted(everything) == sorted(id(step) for step in draft.record)
    traced = [figure.piece.name for figure in figures if figure.piece is not None]
    assert sorted(traced) == sorted(piece.name for piece in draft.pieces)
    worked_out = {step.name for step in draft.record if step.value is not None and step.line is None}
    told: set[str] = set()
    for figure in figures:
        for step in figure.steps:
            missing = {name for name, _ in step.numbers if name in worked_out} - told - {step.name}
            assert not missing, f"{draft.name}, {step.name} uses {missing}"
            told.add(step.name)


@pytest.mark.parametrize("example", EXAMPLES, ids=lambda path: path.stem)
def test_the_examples_are_told_whole_and_in_order(example: Path) -> None:
    for draft, figures in lessons(example):
        check_lesson(draft, figures)


@pytest.mark.parametrize("cut", CUTS, ids=lambda cut: cut.name)
def test_every_cut_is_told_whole_and_in_order(cut: Cut) -> None:
    draft = cut.draft(complete({"bust_girth": 920.0, "waist_girth": 740.0, "hip_girth": 980.0, "height": 1680.0}))
    check_lesson(draft, lesson_of(draft))


@pytest.mark.parametrize("example", EXAMPLES, ids=lambda path: path.stem)
def test_a_sheet_keeps_all_that_was_drawn_on_it(example: Path) -> None:
    for _, figures in lessons(example):
        stands = Drawn()
        for figure in figures:
            if figure.before == Drawn():
                stands = Drawn()
            assert figure.before == stands
            stands += figure.new


def test_pieces_drawn_on_a_sheet_are_traced_where_they_were_drawn() -> None:
    """The jacket's body is drawn in one frame, so that its pieces need no shift; the skirt's back is turned over."""
    (jacket, figures), (skirt, skirt_figures), _ = lessons(PLAID_SUIT)
    for figure in figures:
        if figure.piece is not None and figure.piece.name in ("back", "side", "front"):
            drawn = jacket.piece(figure.piece.name)
            assert (figure.piece.edges[0].path.start - drawn.edges[0].path.start).length < 0.5
    back = next(f.piece for f in skirt_figures if f.piece is not None and f.piece.name == "skirt-back")
    centre = next(s.point for s in skirt.record if s.of == "skirt-back" and s.name == "centre at the waist")
    assert centre is not None
    assert (back.edge("centre-back").path.start - centre).length < 0.5


def test_an_edge_is_drawn_as_soon_as_both_its_ends_are_known() -> None:
    jacket, figures = lessons(PLAID_SUIT)[0]
    shoulder = next(figure for figure in figures if "back shoulder point" in {name for name, _ in figure.new.points})
    assert jacket.piece("back").edge("shoulder").path in shoulder.new.lines


def test_rules_are_told_in_inches_to_one_who_measures_so() -> None:
    # 2 mm are 1.26 sixteenths of an inch
    assert rule_said("neck base girth / 5 − 2 mm", Units.INCHES) == "neck base girth / 5 − 1/16 in"
    assert rule_said("neck base girth / 5 − 2 mm", Units.CM) == "neck base girth / 5 − 2 mm"
    for draft in drafts(PLAID_SUIT):
        assert not any(re.search(r"\d mm\b", rule_said(step.rule, Units.INCHES)) for step in draft.record)


def test_a_figure_stays_in_its_room_and_names_what_is_new() -> None:
    _, figures = lessons(PLAID_SUIT)[0]
    figure = next(figure for figure in figures if len(figure.new.points) > 2)
    pen = SvgPen((0.0, 0.0, 56.0, 46.0), title="figure")
    scale = draw_lesson_figure(pen, figure, sheet_box([f.new for f in figures[:8]]), (56.0, 46.0))
    drawing = pen.finish()
    assert 0.03 < scale < 0.5
    for name, _ in figure.new.points:
        assert f">{name}</text>" in drawing
    numbers = [float(x) for x in re.findall(r'<text x="([-0-9.]+)"', drawing)]
    assert all(0 <= x <= 56 for x in numbers)
