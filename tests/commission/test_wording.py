"""A field is told by its name and its sentence on the page and in the book: nothing there speaks of a file."""

from __future__ import annotations

import ast
import re
from pathlib import Path

import pytest

import settwright
from settwright.commission.reading import read_commission
from settwright.commission.wording import SAYS, in_words
from settwright.planner import derive
from settwright.web.changes import Wish, finding_data, make
from settwright.web.commissions import FileRefused, blank, brought_in, example

FIELD_OF_A_FILE = re.compile(r"\b[a-z]+_[a-z_]+ = |\[[a-z.]+\]|the file\b")


def remedies() -> set[str]:
    """Every sentence of the core that names a field with one of its words, as it stands in the source."""
    found: set[str] = set()
    for folder in ("commission", "makeup", "pattern", "planner"):
        for path in (Path(settwright.__file__).parent / folder).rglob("*.py"):
            for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
                if isinstance(node, ast.Constant) and isinstance(node.value, str):
                    found |= set(re.findall(r'[^.(]*\b[a-z_]+ = "[a-z -]+"[^.]*\.', node.value))
    return found


def test_every_choice_that_a_remedy_names_is_told_in_the_words_of_the_ticket():
    choices = {field.rpartition(".")[2] for field, value in SAYS if isinstance(value, str)}
    told = [text for text in remedies() if set(re.findall(r'([a-z_]+) = "', text)) <= choices]
    assert len(told) > 10
    for text in told:
        assert " = " not in in_words(text, "jacket"), text


@pytest.mark.parametrize(
    ("said", "told"),
    [
        ('Write waist_seam = true, or take it out.', "Choose waist seam: “there is a seam”, or take it out."),
        ('or write vent = "sides".', "or choose vent: “two side vents”."),
        ('Choose front_edge = "extended" or "split".',
         "Choose front edge: “a fold, its facing cut in one” or “part fold, part seam, its facing split”."),
        ('look, and add: at_squared_end = { bar = "navy 1", at = "lower edge" }.',
         "look, and add: at squared end, the lower edge of navy 1."),
        ("add threads_per_cm = … beside them.", "add threads per cm beside them."),
        ("There is one. docs/names.md lists them all.", "There is one."),
        ("A point = 3 of nothing known.", "A point = 3 of nothing known."),
    ],
)  # fmt: skip
def test_a_field_becomes_its_name_and_its_words(said: str, told: str):
    assert in_words(said, "jacket.vent") == told


def test_a_missing_lining_is_told_without_the_file():
    text = make(example("plaid-suit"), [Wish(take_out="cloths.lining"), Wish(take_out="cloths.interlining")]).text
    plan = derive(read_commission(text, "commission"), lambda stage: None)
    told = [finding_data(finding) for finding in plan.findings if finding.where.endswith(".inside")]
    assert any("“no lining”" in finding["remedy"] for finding in told)
    assert not [finding for finding in told if FIELD_OF_A_FILE.search(f"{finding['what']} {finding['remedy']}")]


def test_a_file_that_was_brought_in_is_told_in_the_file_s_own_words():
    text = blank("A coat", "cm", ["jacket"]) + '\n[jacket.ease]\nbust = "much"\n'
    with pytest.raises(FileRefused) as refused:
        brought_in(text)
    found = finding_data(refused.value.findings[0], of_file=True)
    assert found["where"].startswith("line ")
