"""The order of work over every cut: no ring, nothing twice, nothing closed before what it closes is done.

What goes before what is practice of the trade, from memory, unless a source stands beside it.
"""

from dataclasses import replace
from graphlib import TopologicalSorter

import pytest

from settwright.commission.design import FrontEdge
from settwright.makeup import Hand, MakeUpCloths, Stage, Step, make_up
from settwright.makeup.handwork.graph import in_order
from settwright.makeup.handwork.order import corners, order_of_work, works_of
from settwright.makeup.handwork.roles import Joint, Part, part_of
from settwright.pattern import Draft, Piece
from tests.makeup.handwork.every_cut import EDGES, FOLDED, NAMES, SUIT, TROUSERS, drafted, made
from tests.makeup.toy_drafts import jacket, skirt, straight_piece


def order(drafts: tuple[Draft, ...], edge: FrontEdge = FrontEdge.SEPARATE) -> tuple[tuple[Step, ...], set[str]]:
    found = make_up(
        drafts,
        front_edge=edge,
        front_laps_over=Hand.RIGHT,
        stage=Stage.BEFORE_FITTING,
        cloths=MakeUpCloths(),
        thickness=0.6,
    )
    return found.order, {piece.name for piece in found.pieces}


def names_of(name: str) -> list[str]:
    return [step.name for step in made(name).order]


def reach(steps: tuple[Step, ...]) -> dict[str, set[str]]:
    """Returns everything that each step waits for, in the order of the standard library's own sorter."""
    after = {step.name: step.after for step in steps}
    before: dict[str, set[str]] = {}
    for name in TopologicalSorter(after).static_order():  # raises CycleError where there is a ring
        before[name] = {earlier for first in after[name] for earlier in (first, *before[first])}
    return before


# --- over every cut ------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("name", NAMES)
def test_steps_have_no_ring_and_follow_what_they_wait_for(name: str):
    steps = made(name).order
    before = reach(steps)
    done: set[str] = set()
    for step in steps:
        assert done.issuperset(step.after), step.name
        assert step.name not in done
        done.add(step.name)
    # one end: every step but the record is waited for, so none can be forgotten
    assert before[steps[-1].name] == {step.name for step in steps[:-1]}
    assert steps[-1].name == "keep the record"


@pytest.mark.parametrize("name", NAMES)
def test_every_piece_occurs_and_is_cut_once(name: str):
    found = made(name)
    pieces = {piece.name for piece in found.pieces}
    assert {piece for step in found.order for piece in step.pieces} == pieces
    cut = [piece for step in found.order if step.name.startswith("cut ") for piece in step.pieces]
    assert sorted(cut) == sorted(pieces)


@pytest.mark.parametrize("name", NAMES)
def test_every_seam_and_dart_is_sewn_once(name: str):
    found = made(name)
    sewn = [seam for step in found.order for seam in step.seams]
    assert sorted(sewn) == sorted(work.name for work in works_of(found.pieces, found.sewn))
    seams = sorted(pair.name for pair in found.sewn if pair.kind == "seam")
    assert [name for name in sorted(sewn) if name in set(seams)] == seams


@pytest.mark.parametrize("name", NAMES)
def test_a_seam_is_sewn_before_the_one_it_runs_into(name: str):
    found = made(name)
    works = works_of(found.pieces, found.sewn)
    before = reach(found.order)
    step_of = {seam: step.name for step in found.order for seam in step.seams}
    turn = {seam: number for step in found.order for number, seam in enumerate(step.seams)}
    met = list(corners(found.pieces, works))
    assert met or name == "skirt-pleated"  # its seams lie where a pleat turns back, off the corners
    for first, then in met:
        early, late = step_of[first.name], step_of[then.name]
        assert early in before[late] or (early == late and turn[first.name] < turn[then.name]), (first.name, then.name)
    assert not order_of_work(found.pieces, found.sewn, FrontEdge.SEPARATE).findings


@pytest.mark.parametrize("name", NAMES)
def test_nothing_is_closed_before_what_it_closes_is_done(name: str):
    found = made(name)
    before = reach(found.order)
    step_of: dict[str, str] = {}
    joints: dict[tuple[str, Joint], set[str]] = {}
    for step in found.order:
        for seam in step.seams:
            step_of[seam] = step.name
    for work in works_of(found.pieces, found.sewn):
        joints.setdefault((work.garment, work.joint), set()).add(step_of[work.name])
    standing = {step.name for step in found.order}

    def is_before(early: str, late: str) -> None:
        if {early, late} <= standing:
            assert early in before[late], (early, late)

    # a lining hides the whole inside; facings hide tapes and padding; a top collar hides the under collar's work
    for early in ("make the pockets", "set the interlining", "turn up the hems", "set the sleeves", "set the collar",
                  "join the facings", "make the vents", "set the gussets"):  # fmt: skip
        is_before(early, "line the jacket")
    for late in ("face the fronts", "turn the front on its fold"):
        is_before("tape the roll line and pad the lapels", late)
        is_before("set the interlining", late)
    is_before("tape the front edges", "face the fronts")
    is_before("make the under collar", "set the collar")
    for early in ("set the zip", "lay the pleats", "sew the skirt"):
        is_before(early, "finish the waist")
        is_before(early, "line and hem the skirt")
    is_before("hem the skirt flat", "lay the pleats")
    # the opening is finished before there is a zip, and the shield hides the zip's tape
    is_before("make the fly", "set the zip in the fly")
    is_before("make the fly", "set the band")
    is_before("set the zip in the fly", "stitch the fly and hang the shield")
    is_before("make the trousers' pockets", "sew the sides and inseams")
    # every armhole is closed at shoulder and side before a sleeve goes in
    for late in joints.get(("jacket", Joint.ARMHOLE), ()):
        for joint in (Joint.SHOULDER, Joint.SIDE):
            assert joints.get(("jacket", joint), set()) <= before[late]


@pytest.mark.parametrize("name", NAMES)
def test_cloth_is_cut_in_stages_each_after_its_fitting(name: str):
    found = made(name)
    before = reach(found.order)
    shell = {Part.BODY, Part.TOP}
    for step in found.order:
        if step.name.startswith("cut ") and not {part_of(found.piece(piece).piece) for piece in step.pieces} & shell:
            assert any(early.startswith("correct the ") for early in before[step.name]), step.name
    fittings = [step for step in found.order if step.checks]
    assert len(fittings) >= 3  # toile, the garment's own, the last
    assert fittings[0].name == "make the toile"
    for step in fittings:
        assert "needles" in step.caution


# --- cuts that turn the order round --------------------------------------------------------------------------------


def test_a_lapel_is_faced_before_the_shoulders_and_a_neckline_after_them():
    lapel, neckline = names_of("side-panel"), names_of("v-neck")
    assert lapel.index("face the fronts") < lapel.index("sew the shoulders")
    assert neckline.index("sew the shoulders") < neckline.index("join the facings") < neckline.index("face the fronts")


def test_a_shawl_is_closed_at_the_back_before_it_is_faced():
    steps = names_of("shawl")
    order = ("sew the shoulders", "close the shawl at the back", "join the facings", "face the fronts")
    assert [step for step in steps if step in order] == list(order)
    assert "set the collar" not in steps


def test_a_raglan_sleeve_goes_in_before_the_collar_and_a_set_in_one_after_it():
    raglan, set_in = names_of("sleeve-raglan"), names_of("side-panel")
    assert raglan.index("set the sleeves") < raglan.index("set the collar")
    assert set_in.index("set the collar") < set_in.index("set the sleeves")


def test_a_gusset_goes_into_closed_seams():
    steps = names_of("sleeve-kimono")
    assert max(steps.index("sew the shoulders"), steps.index("sew back and side seams")) < steps.index(
        "set the gussets"
    )
    assert "set the sleeves" not in steps


def test_side_seams_run_through_a_waist_seam():
    # so that they can be let out: the waist is joined in front and back first
    sewn = [seam for step in made("waist-seam").order for seam in step.seams]
    for early in ("waist-front.right", "waist-side.right", "waist-back.right"):
        assert sewn.index(early) < sewn.index("side-back.right")
    assert sewn.index("side-front-lower.right") < sewn.index("waist-side.right")


def test_a_band_in_halves_is_on_before_the_seat_is_closed_and_a_whole_one_after():
    halves, whole = names_of("trousers"), names_of("trousers, whole band")
    assert halves.index("set the band") < halves.index("sew the seat with the band")
    assert whole.index("sew the seat") < whole.index("set the band")


def test_a_fly_is_faced_on_one_hand_only():
    sewn = [seam for step in made("trousers").order for seam in step.seams]
    assert [seam for seam in sewn if seam.startswith("fly-")] == [
        "fly-facing.right",
        "fly-placket.left",
        "fly-shield.left",
    ]


def test_a_fold_is_stayed_where_an_edge_is_taped():
    assert "stay the fold of the front" in names_of(FOLDED)
    assert "tape the front edges" not in names_of(FOLDED)
    assert "tape the front edges" in names_of("side-panel")


@pytest.mark.parametrize("name", EDGES)
def test_a_front_with_a_fold_is_stayed_there_and_turned_on_it(name: str):
    steps, before = names_of(name), reach(made(name).order)
    assert "stay the fold of the front" in before["turn the front on its fold"]
    for late in ("second fitting", "turn up the hems", "line the jacket"):
        assert steps.index("turn the front on its fold") < steps.index(late)
    # a split front has both: its lapel or neck is taped and faced, below the join it is folded
    assert ("tape the front edges" in steps) == ("face the fronts" in steps) == name.startswith("split")


@pytest.mark.parametrize("name", [name for name in EDGES if name.startswith("split")])
def test_the_parts_of_a_split_facing_are_joined_before_the_front_is_faced(name: str):
    found = made(name)
    before = reach(found.order)
    assert "join the parts of the facing" in before["face the fronts"]
    sewn = {seam: step.name for step in found.order for seam in step.seams}
    assert sewn["facing-split.right"] == "join the parts of the facing"
    # the join runs from the edge to the facing's inner edge: the lapel's side of it is sewn on at the edge above it
    assert sewn["facing-front-edge.right"] in ("face the fronts", "turn the front on its fold")


@pytest.mark.parametrize("name", [name for name in EDGES if name.startswith("to the neck")])
def test_a_facing_is_folded_at_the_top_button_before_it_is_turned(name: str):
    found = made(name)
    before = reach(found.order)
    folding = next(step for step in found.order if step.name == "fold the facing at the top button")
    assert folding.seams == ("front.right: facing-top-fold", "front.left: facing-top-fold")
    assert "stay the fold of the front" in before[folding.name]
    assert folding.name in before["turn the front on its fold"]


def test_the_cloth_is_ready_before_it_is_cut():
    before = reach(made(SUIT).order)
    for early, late in (
        ("make the toile", "cut the body"),
        ("shrink the cloth", "square the end"),
        ("square the end", "measure the repeat"),
        ("measure the repeat", "cut the skirt"),
        ("thread-trace the body", "baste the body"),
        ("first fitting", "cut the facings"),
        ("set the collar", "line the jacket"),
    ):
        assert early in before[late]


# --- what no custom is known for -----------------------------------------------------------------------------------


def test_a_piece_that_no_step_names_is_not_forgotten():
    draft = skirt()
    steps, pieces = order((replace(draft, pieces=(*draft.pieces, panel_of("godet"))),))
    assert next(step for step in steps if step.name == "cut the other pieces").pieces == ("godet.right", "godet.left")
    assert {piece for step in steps for piece in step.pieces} == pieces
    assert "cut the other pieces" in reach(steps)["last press"]


def test_a_garment_of_a_kind_unknown_gets_what_holds_of_any():
    draft = drafted("skirt-straight")[0]
    steps, pieces = order((replace(draft, name="apron"),))
    assert {piece for step in steps for piece in step.pieces} == pieces
    assert [step.name for step in steps if "apron" in step.name] == [
        "cut the apron",
        "thread-trace and baste the apron",
        "fit the apron",
        "sew the apron",
        "finish the apron",
    ]
    as_skirt, _ = order((draft,))
    assert sum(len(step.seams) for step in steps) == sum(len(step.seams) for step in as_skirt)


def panel_of(name: str) -> Piece:
    return straight_piece(name, (("a", "ab", 0, 0), ("b", "bc", 80, 0), ("c", "ca", 40, 300)))


def test_a_ring_is_refused():
    with pytest.raises(ValueError, match="wait for each other"):
        in_order((Step("a", "", ("b",)), Step("b", "", ("a",))))


# --- what can hurt -------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("drafts", [(jacket(), skirt()), drafted("trousers")], ids=["suit", *TROUSERS][:2])
def test_steps_with_iron_blade_needle_or_cleaner_carry_a_caution(drafts: tuple[Draft, ...]):
    steps, _ = order(drafts)
    iron = [step for step in steps if any(word in step.text.split() for word in ("press", "steam", "iron"))]
    assert iron
    assert [step.name for step in iron if "Iron and steam" not in step.caution and "press" in step.text.split()] == []
    assert "Cleaning agents" in next(step for step in steps if step.name == "last press").caution
    for step in steps:
        if step.name.startswith("cut "):
            assert "Shears" in step.caution
            assert "Local rules" in step.caution
