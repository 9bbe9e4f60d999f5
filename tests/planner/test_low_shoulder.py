"""One low shoulder: shoulder and armhole are cut lower together, the sleeve stays, and the plan's geometry holds."""

from __future__ import annotations

import json
from functools import cache
from pathlib import Path as File

import pytest

from settwright.bars.model import Mode
from settwright.commission.reading import read_commission
from settwright.findings import Weight
from settwright.geometry import Path
from settwright.makeup.model import Hand
from settwright.plan.build import document_of
from settwright.plan.document import encode
from settwright.plan.plan import Plan
from settwright.planner.derive import body_of, derive, draft_garments, make_up_garments, shell_of
from settwright.verify.checks import check_all

EXAMPLES = File(__file__).parents[2] / "examples"
LOWERED = {"back", "side", "front", "front-facing"}


@cache
def planned(example: str, said: str) -> Plan:
    text = (EXAMPLES / f"{example}.toml").read_text()
    return derive(read_commission(text.replace("hip_girth =", f"{said}hip_girth =", 1), "suit"), effort=5)


CUT_APART = {
    "princess from the armhole": {"back", "side-back", "side-front", "front", "front-facing"},
    "raglan": {"back", "front", "front-facing", "front-sleeve", "back-sleeve"},
    "princess from the shoulder, kimono": {"back", "side-back", "side-front", "front", "front-facing"},
    "princess from the shoulder": {"back", "side-back", "side-front", "front", "front-facing"},
    "darted from the shoulder": {"back", "front", "front-facing"},
    "raglan, side panel": {"back", "side", "front", "front-facing", "front-sleeve", "back-sleeve"},
    "kimono": {"back", "front", "front-facing"},
}
CHOSEN = {
    "princess from the armhole": 'body_cut = "princess from the armhole"\n',
    "raglan": 'body_cut = "darted"\nsleeve_cut = "raglan"\n',
    "princess from the shoulder, kimono": 'body_cut = "princess from the shoulder"\nsleeve_cut = "kimono"\n',
    "princess from the shoulder": 'body_cut = "princess from the shoulder"\n',
    "darted from the shoulder": 'body_cut = "darted"\nbust_dart = "shoulder"\nback_shoulder = "dart"\n',
    "raglan, side panel": 'sleeve_cut = "raglan"\n',
    "kimono": 'body_cut = "darted"\nsleeve_cut = "kimono"\n',
}
QUICK = ("princess from the armhole", "raglan", "princess from the shoulder, kimono")


@pytest.mark.parametrize(
    "cut", [name if name in QUICK else pytest.param(name, marks=pytest.mark.slow) for name in CUT_APART]
)
def test_every_cut_is_cut_apart_and_its_plan_holds(cut: str) -> None:
    """Shell and lining of the low half have their own shape where it is lowered, and nowhere else."""
    text = (EXAMPLES / "plaid-suit.toml").read_text().replace("hip_girth =", "low_shoulder_left = 1.2\nhip_girth =", 1)
    plan = derive(read_commission(text.replace("[jacket]\n", f"[jacket]\n{CHOSEN[cut]}", 1), "suit"), effort=1)
    document = json.loads(encode(document_of(plan)))
    assert check_all(document)[0] == ()
    own = {piece["name"].rpartition(".")[0] for piece in document["pieces"] if not piece["mirrors"]}
    pairs = [piece for piece in plan.made_up.pieces if piece.cloth == "shell" and piece.hand is not Hand.WHOLE]
    assert {piece.name.rpartition(".")[0] for piece in pairs} & own == CUT_APART[cut]
    lined = CUT_APART[cut] - {"front-facing"}
    assert own >= {f"{name}-lining" for name in lined} | {"front-canvas"}
    assert not own & {"sleeve-hem-stay", "gusset", "under-collar", "upper-sleeve", "flap"}
    assert [f.weight for f in plan.findings if "low_shoulder" in f.where] == [Weight.NOTE]


@pytest.mark.parametrize("said", ["low_shoulder_left = 1.2\n", "low_shoulder_right = 1.2\nfull_hip_left = 3\n"])
def test_the_halves_are_cut_apart_and_the_plan_holds(said: str) -> None:
    even, uneven = planned("plaid-suit", ""), planned("plaid-suit", said)
    document = json.loads(encode(document_of(uneven)))
    assert check_all(document)[0] == ()
    own = {piece["name"].rpartition(".")[0] for piece in document["pieces"] if not piece["mirrors"]}
    assert own >= LOWERED
    assert not own & {"upper-sleeve", "under-sleeve", "under-collar", "flap"}
    sewn = {pair.name: pair for pair in even.made_up.sewn if pair.kind == "seam"}
    for pair in uneven.made_up.sewn:
        if pair.kind == "seam":
            assert pair.ease == pytest.approx(sewn[pair.name].ease, abs=0.2), pair.name
    assert [f.weight for f in uneven.findings if "low_shoulder" in f.where] == [Weight.NOTE]


def test_only_the_low_side_is_lowered() -> None:
    even, uneven = planned("plaid-suit", ""), planned("plaid-suit", "low_shoulder_left = 1.2\n")
    for name in LOWERED:
        assert uneven.made_up.piece(f"{name}.right").piece.area == pytest.approx(
            even.made_up.piece(f"{name}.right").piece.area, abs=1e-6
        )
    for name in ("back", "front"):
        before, after = (plan.made_up.piece(f"{name}.left").piece.edge("shoulder").path for plan in (even, uneven))
        assert after.length == pytest.approx(before.length, abs=0.01)
        turned = 1.0 if name == "front" else 0.01  # by the dart in its neck, which opens the shoulder
        assert fall(after) - fall(before) == pytest.approx(12.0, abs=turned)


def fall(shoulder: Path) -> float:
    """From its neck point down to its shoulder point."""
    return abs(shoulder.end.y - shoulder.start.y)


def test_a_very_low_shoulder_is_padded_by_the_rest() -> None:
    said = [f for f in planned("plaid-suit", "low_shoulder_left = 4\n").findings if "low_shoulder" in f.where]
    assert [f.weight for f in said] == [Weight.CAUTION]
    assert "pad" in said[0].remedy


FOLDED = """
format = 1
units = "inches"
[measurements]
height = 66
bust_girth = "36 1/2"
waist_girth = 29
hip_girth = 39
back_stoop = "3/4"
waist_height = 41
low_shoulder_right = "3/8"
full_hip_left = 1
[jacket]
body_cut = "darted"
centre_back = "fold"
[cloths.shell]
colours = { navy = "#243049" }
width = 60
[cloths.lining]
colours = { grey = "#888888" }
width = 55
"""


def test_a_back_and_its_lining_on_the_fold_hold_both_halves() -> None:
    """Their edges meet on the fold, each half of its own shape: geometry."""
    commission = read_commission(FOLDED, "suit")
    drafts = draft_garments(commission, body_of(commission), shell_of(commission).thickness)
    made_up = make_up_garments(commission, drafts, shell_of(commission))
    for name in ("back", "back-lining"):
        edges = made_up.piece(name).piece.edges
        assert {edge.name.rpartition(".")[2] for edge in edges} >= {"right", "left"}
        for before, after in zip(edges, (*edges[1:], edges[0]), strict=True):
            assert (before.path.end - after.path.start).length < 1e-6
        right, left = (made_up.piece(name).piece.edge(f"side.{hand}").path for hand in ("right", "left"))
        assert left.length != pytest.approx(right.length, abs=1.0)


@pytest.mark.parametrize(
    ("said", "is_unlike"), [("", False), ("low_shoulder_left = 1.2\n", True), ("full_hip_left = 3\n", False)]
)
def test_each_sleeve_follows_the_armhole_that_it_hangs_from(said: str, is_unlike: bool) -> None:
    """Right and left are held alike on the level where their armholes are; else each sleeve meets its own front."""
    match = planned("plaid-suit", said).match
    joins = {join.name: join for join in match.joins}
    for name in ("upper-sleeve-alike", "under-sleeve-alike"):
        assert (joins[name].level is Mode.NONE) == is_unlike
    missed = {drift.join: drift.worst_level for drift in match.drifts}
    for hand in ("right", "left"):
        assert missed[f"sleeve-front.{hand}"] < 1.0
