"""Every kind of facing on every front with every grain: planned whole, each plan verified from its geometry alone."""

from __future__ import annotations

import itertools
import math
import re
from pathlib import Path

import pytest

from settwright.commission.reading import read_commission
from settwright.findings import Refusal
from settwright.makeup.edges.templates import templates_of
from settwright.plan.build import document_of
from settwright.plan.document import encode
from settwright.plan.plan import Plan
from settwright.planner import derive
from settwright.planner.derive import derive_bars
from settwright.verify import verify

EXAMPLE = (Path(__file__).parents[2] / "examples" / "plaid-suit.toml").read_text()
KINDS = {
    "separate": 'front_edge = "separate"',
    "joined": 'front_edge = "separate"\nfacing_split = 7',
    "joined twice": 'front_edge = "separate"\nfacing_split = 7\nsecond_split = 8',
    "split": 'front_edge = "split"',
    "extended": 'front_edge = "extended"',
    "to the neck": 'front_edge = "extended to the neck"',
}
FRONTS = {
    "notched": 'front_style = "notched lapel"',
    "peaked": 'front_style = "peaked lapel"\nlapel_width = 9.2\nbuttons = 2',
    "shawl": 'front_style = "shawl"\nbuttons = 2',
    "V": 'front_style = "V neck"',
    "crossed": 'front_style = "crossed over"\nbuttons = 2',
}
GRAINS = ("as the front", "along the edge", "across the edge")
# by rule: a shawl's edge is no fold; what is cut in one with the front has its grain; a fold up to the neck wants an
# edge that turns inwards at the top button, and its grain is given by its two folds
IMPOSSIBLE = {
    *(("extended", "shawl", grain) for grain in GRAINS),
    *(("extended", front, GRAINS[2]) for front in FRONTS),
    *(("to the neck", front, grain) for front in FRONTS for grain in GRAINS[1:]),
    *(("to the neck", front, GRAINS[0]) for front in ("notched", "peaked", "shawl")),
}
QUICK = (
    ("separate", "V", GRAINS[1]),
    ("split", "notched", GRAINS[1]),
    ("extended", "crossed", GRAINS[1]),
    ("to the neck", "V", GRAINS[0]),
    ("to the neck", "notched", GRAINS[0]),
)


def commission(kind: str, front: str, grain: str) -> str:
    """Returns the example with another front, without its pins and what it says of single seams."""
    jacket = f'{KINDS[kind]}\n{FRONTS[front]}\nfacing_grain = "{grain}"'
    text = EXAMPLE
    for line in jacket.splitlines():
        text = re.sub(rf"(?m)^{line.split(' = ')[0]} = .*\n", "", text)
    return re.sub(r"(?m)^(\[jacket\].*\n)", lambda found: f"{found[1]}{jacket}\n", text)


def planned(kind: str, front: str, grain: str) -> Plan:
    plan = derive(read_commission(commission(kind, front, grain), "edges"), effort=1)
    report = verify(encode(document_of(plan)))
    assert report.is_sound, "\n".join(str(fault) for fault in report.faults)
    return plan


def check(kind: str, front: str, grain: str) -> None:
    if (kind, front, grain) in IMPOSSIBLE:
        with pytest.raises(Refusal, match=r"fold|grain"):
            read_commission(commission(kind, front, grain), "edges")
        return
    plan = planned(kind, front, grain)
    names = {piece.name.removesuffix(".right").removesuffix(".left") for piece in plan.made_up.pieces}
    parts = {name for name in names if name.startswith("front-facing")}
    assert (
        parts
        == {
            "separate": {"front-facing"},
            "joined": {"front-facing", "front-facing-lower"},
            "joined twice": {"front-facing", "front-facing-lower", "front-facing-lowest"},
            "split": {"front-facing"},
            "extended": set(),
            "to the neck": set(),
        }[kind]
    )
    whole = plan.made_up.piece("front.right").piece
    edges, lines = {edge.name for edge in whole.edges}, {line.name for line in whole.lines}
    assert ("facing-hem" in edges) == (kind in ("split", "extended", "to the neck"))
    assert ("facing-top-fold" in lines) == (kind == "to the neck")
    steps = {step.name for step in plan.made_up.order}
    assert ("turn the front on its fold" in steps) == ("facing-hem" in edges)
    assert ("fold the facing at the top button" in steps) == (kind == "to the neck")
    shaping = "shape the facings beyond the fold" if kind == "extended" else "shape the facings"
    assert {step for step in steps if step.startswith("shape")} == ({shaping} if plan.made_up.shaped else set())
    assert ("join the parts of the facing" in steps) == (kind in ("joined", "joined twice", "split"))
    assert len(templates_of(plan.made_up)) == len(plan.made_up.shaped)
    if grain == GRAINS[0]:
        assert not plan.made_up.shaped
    elif kind not in ("extended", "to the neck"):
        assert {facing.cut.name for facing in plan.made_up.shaped} <= parts
        assert plan.made_up.shaped, "every one of these edges leaves the grain somewhere"
        facing = plan.made_up.piece(f"{plan.made_up.shaped[0].cut.name}.right")
        assert facing.is_crosswise == (grain == GRAINS[2])
        corners = {(p.x, p.y) for p in facing.cutting_line}
        assert len(corners) == len({x for x, _ in corners}) * len({y for _, y in corners}) == 4, "cut as a rectangle"


@pytest.mark.parametrize(("kind", "front", "grain"), QUICK)
def test_a_few_edges(kind: str, front: str, grain: str) -> None:
    check(kind, front, grain)


@pytest.mark.slow
@pytest.mark.parametrize(("kind", "front", "grain"), sorted(set(itertools.product(KINDS, FRONTS, GRAINS)) - set(QUICK)))
def test_every_edge(kind: str, front: str, grain: str) -> None:
    check(kind, front, grain)


def test_the_facing_may_be_of_another_cloth() -> None:
    text = commission("separate", "notched", GRAINS[1]) + (
        '\n[cloths.facing]\ncolours = { black = "#111111" }\nwidth = 140\nthickness = "0.4 mm"\nfibre = "silk"\n'
    )
    plan = derive(read_commission(text, "edges"), effort=1)
    assert verify(encode(document_of(plan))).is_sound
    of_facing = {piece.name for piece in plan.made_up.pieces if piece.cloth == "facing"}
    assert of_facing == {"front-facing.right", "front-facing.left", "back-neck-facing"}
    assert "silk" in plan.made_up.shaped[0].shaping.give.said


def test_covered_buttons_are_all_alike_and_follow_the_pin_on_the_first() -> None:
    """By custom the leading bars cross on them: "rust 1", 6 mm from 35 mm on in the warp, "rust 2", 7 from 73."""
    covered = EXAMPLE + "\n[closures]\ncovered_buttons = true\n"
    pin = '\n[[pins]]\npiece = "button-cover-1"\nline = "level"\naxis = "upright"\nbar = "ivory 1"\nat = "middle"\n'
    for text, upright in ((covered, 38.0), (covered + pin, 22.0 + 3.0 / 2)):
        plan = derive_bars(read_commission(text, "covered")).plan
        covers = [piece.name for piece in plan.made_up.pieces if piece.name.startswith("button-cover-")]
        places = {(round(phase.u, 2), round(phase.v, 2)) for phase in map(plan.phase, covers) if phase is not None}
        assert len(covers) == 3
        assert places == {(upright, 76.5)}


STRIPES = """
[cloths.facing]
colours = { black = "#111111", white = "#eeeeee", red = "#aa2222" }
width = 140
thickness = "0.4 mm"
fibre = "silk"
warp = ["black 20 mm", "white 4 mm", "red 6 mm", "white 4 mm"]
weft = ["black 20 mm", "white 4 mm", "red 6 mm", "white 4 mm"]
"""


@pytest.mark.parametrize(
    ("kind", "front", "grain"),
    [("separate", "notched", GRAINS[1]), ("joined", "V", GRAINS[0]), ("split", "shawl", GRAINS[2])],
)
def test_facings_of_a_cloth_with_a_sett_of_its_own_are_a_mirrored_pair_on_its_bars(
    kind: str, front: str, grain: str
) -> None:
    plan = derive(read_commission(commission(kind, front, grain) + STRIPES, "edges"), effort=1)
    report = verify(encode(document_of(plan)))
    assert report.is_sound, "\n".join(str(fault) for fault in report.faults)
    pieces = [piece for piece in plan.made_up.pieces if piece.cloth == "facing"]
    assert {piece.name for piece in pieces} >= {"front-facing.right", "front-facing.left", "back-neck-facing"}
    assert all(piece.is_matched for piece in pieces)
    right, left = plan.match.phase("front-facing.right"), plan.match.phase("front-facing.left")
    # the stripe mirrors about the middle of its red bar, at 27 mm of 34: what one half shows, the other shows mirrored
    assert (right.u + left.u) % 34 == pytest.approx(2 * 27.0 % 34, abs=0.01)
    assert right.v == pytest.approx(left.v, abs=0.01)
    # the red bar runs beside the edge: 8 mm inside the break point, by the frames of the plan worked out afresh
    facing = plan.made_up.piece("front-facing.right")
    top = facing.piece.edge("front-edge").path.start
    turn, x, y = facing.grain_turn, top.x + 8.0, top.y
    along = right.v + math.sin(turn) * x + math.cos(turn) * y if facing.is_crosswise else right.u + x
    assert along % 34 == pytest.approx(27.0, abs=0.1)
    told = " ".join(str(finding) for finding in plan.findings)
    assert "The middle of red 1 lies inside the edge of the facing" in told
    placed = {place.name for place in plan.cloth_plan("facing").layout.placements}
    assert placed == {piece.name for piece in pieces}


def test_a_bar_is_pinned_on_a_facing_of_another_cloth_and_what_is_cut_in_one_is_told() -> None:
    pin = (
        '\n[[pins]]\npiece = "front-facing.right"\nedge = "front-edge"\nstop = "break-point"\naxis = "upright"\n'
        'bar = "white 1"\nat = "middle"\n'
    )
    text = commission("split", "notched", GRAINS[0]) + STRIPES + pin
    plan = derive_bars(read_commission(text, "edges")).plan
    facing, phase = plan.made_up.piece("front-facing.right"), plan.match.phase("front-facing.right")
    at = facing.piece.edge("front-edge")
    x = (at.path.start if at.start == "break-point" else at.path.end).x
    assert (phase.u + x) % 34 == pytest.approx(20.0 + 4.0 / 2, abs=0.01)
    told = " ".join(str(finding) for finding in plan.findings)
    assert "below its join the front's facing is cut in one with the front" in told
