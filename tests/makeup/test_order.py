from dataclasses import replace

import pytest
from tests.makeup.toy_drafts import jacket, skirt, straight_piece

from settwright.makeup import Hand, MakeUpCloths, Stage, Step, make_up
from settwright.makeup.order import in_order
from settwright.pattern import Draft, Piece
from settwright.pattern.design import FrontEdge


def order(drafts: tuple[Draft, ...], edge: FrontEdge) -> tuple[tuple[Step, ...], set[str]]:
    made = make_up(
        drafts,
        front_edge=edge,
        front_laps_over=Hand.RIGHT,
        stage=Stage.BEFORE_FITTING,
        cloths=MakeUpCloths(),
        thickness=0.6,
    )
    return made.order, {piece.name for piece in made.pieces}


@pytest.mark.parametrize("edge", FrontEdge)
@pytest.mark.parametrize("drafts", [(jacket(), skirt()), (jacket(),), (skirt(),)], ids=["suit", "jacket", "skirt"])
def test_every_step_follows_what_it_waits_for_and_every_piece_occurs(drafts: tuple[Draft, ...], edge: FrontEdge):
    steps, pieces = order(drafts, edge)
    done: set[str] = set()
    for step in steps:
        assert done.issuperset(step.after), step.name
        assert step.name not in done
        done.add(step.name)
    assert {piece for step in steps for piece in step.pieces} == pieces
    assert steps[0].name == "make the toile"
    assert steps[-1].name == "keep the record"


@pytest.mark.parametrize("edge", FrontEdge)
def test_nothing_is_left_hanging(edge: FrontEdge):
    # every step but the last is waited for by another, so none can be forgotten before the last press
    steps, _ = order((jacket(), skirt()), edge)
    waited_for = {name for step in steps for name in step.after}
    assert {step.name for step in steps} - waited_for == {"keep the record"}


def test_the_cloth_is_ready_before_it_is_cut():
    steps, _ = order((jacket(), skirt()), FrontEdge.SEPARATE)
    names = [step.name for step in steps]
    for early, late in (
        ("make the toile", "cut the body"),
        ("shrink the cloth", "square the end"),
        ("square the end", "measure the repeat"),
        ("measure the repeat", "cut the body"),
        ("thread-trace the body", "baste the body"),
        ("first fitting", "cut the facings"),
        ("set the collar", "line the jacket"),
    ):
        assert names.index(early) < names.index(late)


def test_steps_with_iron_blade_needle_or_cleaner_carry_a_caution():
    steps, _ = order((jacket(), skirt()), FrontEdge.SEPARATE)
    for words, caution in ((("press", "iron", "steam"), "Iron and steam"), (("brush out chalk",), "Cleaning agents")):
        told = [step for step in steps if any(word in step.text for word in words)]
        assert told
        assert any(caution in step.caution for step in told)
    for step in steps:
        if step.name.startswith("cut "):
            assert "Shears" in step.caution
            assert "Local rules" in step.caution


def test_a_piece_that_no_step_names_is_not_forgotten():
    draft = skirt()
    steps, pieces = order((replace(draft, pieces=(*draft.pieces, panel_of("godet"))),), FrontEdge.SEPARATE)
    assert next(step for step in steps if step.name == "cut the other pieces").pieces == ("godet.right", "godet.left")
    assert {piece for step in steps for piece in step.pieces} == pieces
    assert "cut the other pieces" in next(step for step in steps if step.name == "last press").after


def panel_of(name: str) -> Piece:
    return straight_piece(name, (("a", "ab", 0, 0), ("b", "bc", 80, 0), ("c", "ca", 40, 300)))


def test_a_ring_is_refused():
    with pytest.raises(ValueError, match="wait for each other"):
        in_order((Step("a", "", ("b",)), Step("b", "", ("a",))))
