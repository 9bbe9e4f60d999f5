"""Answers of the draft: what moves onto which bar, on a toy; and taken on the example, the draft made anew."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path

import pytest

from settwright.bars import Axis, Match, Orientation, Phase, match, match_bars
from settwright.bars.answers import Answer, Movable, answers, way_to_part
from settwright.bars.frames import place_under, wrap
from settwright.body.estimate import complete
from settwright.commission.model import Commission
from settwright.commission.reading import read_commission
from settwright.commission.writing import SetValue, write_back
from settwright.findings import Refusal, refuse
from settwright.makeup.model import CutPiece, MadeUp
from settwright.pattern import Draft
from settwright.plan.plan import Plan
from settwright.planner.comparing import compared, hems_of, moves_of, with_field
from settwright.planner.derive import draft_garments, make_up_garments, pins_of, prepare_bars, shell_of
from tests.bars.toys import jacket
from tests.cloth.toy_setts import UNEVEN, cloth
from tests.pattern.sound import check_girths

ROOT = Path(__file__).parents[2]
HEM = Movable(
    "jacket.length_below_waist", "the jacket's hem", 250.0, 0.0, 500.0, "back.right", Axis.LEVEL,
    edge="centre-back", stop="hem", sense=-1, parts=("lower edge",), words=("longer", "shorter"),
)  # fmt: skip


def test_the_way_to_a_part_of_a_bar_is_as_worn() -> None:
    made, shell = jacket(), replace(cloth(UNEVEN, UNEVEN), dominant_weft="rust 1")  # from 30 to 48 mm
    back, bar = made.piece("back.right"), shell.weft.bars[2]
    foot = back.piece.edge("centre-back").path.end
    assert foot.y == 0.0

    def way(v: float, part: str, turned: int = 1) -> float:
        lies = Phase("back.right", 0.0, v, Orientation(t=turned))
        return way_to_part(back, lies, foot, Axis.LEVEL, shell, bar, part)

    assert way(40.0, "lower edge") == pytest.approx(-10.0)  # ten down, from 40 to 30
    assert way(25.0, "lower edge") == pytest.approx(5.0)
    assert way(40.0, "upper edge") == pytest.approx(8.0)
    assert way(40.0, "middle") == pytest.approx(-1.0)
    # turned end for end the sett reads backwards: the bar's lower edge as worn is at 48, and lies below
    assert way(40.0, "lower edge", -1) == pytest.approx(-8.0)


def test_a_hem_is_offered_the_bar_that_lies_near() -> None:
    made, shell = jacket(), replace(cloth(UNEVEN, UNEVEN), dominant_weft="rust 1")
    now = match_bars(made, shell)
    there = replace(now, phases=tuple(replace(phase, v=40.0) for phase in now.phases))
    better = replace(now, phases=tuple(replace(phase, v=30.0) for phase in now.phases), cost=now.cost - 5)

    def again(field: str, value: float) -> tuple[Sequence[CutPiece], Match]:
        return made.pieces, better

    (offered,) = answers([HEM], made.pieces, shell, there, again)
    assert (offered.then, offered.by, offered.way) == (260.0, 10.0, "longer")
    assert offered.lies_on == "the lower edge of rust 1"
    assert offered.cost_then == offered.cost_now - 5
    assert answers([HEM], made.pieces, shell, there, again, limit=8.0) == ()
    # placed anew it doesn't come to lie there: not offered
    assert answers([HEM], made.pieces, shell, there, lambda field, value: (made.pieces, there)) == ()

    def refused(field: str, value: float) -> tuple[Sequence[CutPiece], Match]:
        raise refuse(field, "too long.", "")

    assert answers([HEM], made.pieces, shell, there, refused) == ()


# ------------------------------------------------------------------------------------ on the example


@pytest.fixture(scope="module")
def text() -> str:
    return (ROOT / "examples" / "plaid-suit.toml").read_text()


def made_of(commission: Commission) -> tuple[MadeUp, Match]:
    shell, body = shell_of(commission), complete(dict(commission.measured), commission.units)
    made = make_up_garments(commission, draft_garments(commission, body, shell.thickness), shell)
    return made, match(prepare_bars(commission, made, shell), pins_of(commission, made))


@pytest.fixture(scope="module")
def offered(text: str) -> tuple[Answer, ...]:
    commission = read_commission(text, "plaid-suit.toml")
    made, found = made_of(commission)
    body = complete(dict(commission.measured), commission.units)
    plan = compared(Plan(commission, body, made, found, (), ()))
    assert plan.compared is not None
    return plan.compared.answers


def test_the_example_is_offered_a_straighter_centre_back_and_what_it_gains(offered: tuple[Answer, ...]) -> None:
    by_field = {answer.field: answer for answer in offered}
    straight = by_field["jacket.moved.centre_back"]
    assert straight.way == "straighter"
    assert straight.gains[0].join == "centre-back"
    # both halves come in by the hollow: straight, the bars that parted by twice that meet (geometry)
    assert straight.gains[0].now == pytest.approx(2 * straight.by, abs=0.5)
    assert straight.gains[0].then <= 1.0
    assert straight.cost_then < straight.cost_now
    assert len(by_field) >= 3


def test_an_answer_taken_is_drafted_anew_and_lies_on_its_bar(text: str, offered: tuple[Answer, ...]) -> None:
    answer = next(answer for answer in offered if answer.field == "jacket.moved.pocket")
    assert answer.lies_on
    written = write_back(text, [SetValue(tuple(answer.field.split(".")), f"{answer.then} mm")])
    commission = read_commission(written, "plaid-suit.toml")
    assert commission == with_field(read_commission(text, "plaid-suit.toml"), answer.field, answer.then)
    made, found = made_of(commission)
    piece, shell = made.piece("front.right"), shell_of(commission)
    at = piece.piece.edge("flap-place").path.start
    place = place_under(found.phase("front.right"), at, 0.0).y
    bar = next(bar for bar in shell.weft.bars if answer.lies_on.endswith(bar.name))
    start = shell.weft.starts[shell.weft.bars.index(bar)]
    assert min(abs(wrap(place - edge, shell.weft.repeat)) for edge in (start, start + bar.width)) <= 1.0


MOVES = (
    ("jacket.moved.centre_back", 8.0),
    ("jacket.moved.side_back", 12.0),
    ("jacket.moved.side_back", -9.0),
    ("jacket.moved.side_front", -8.0),
    ("jacket.moved.side_front", 7.0),
    ("jacket.moved.front_dart", 10.0),
    ("jacket.moved.pocket", -6.0),
    ("jacket.moved.buttons", 9.0),
)


@pytest.mark.parametrize(("field", "by"), MOVES)
def test_girths_stay_whatever_moves(text: str, field: str, by: float) -> None:
    commission = read_commission(text, "plaid-suit.toml")
    changed = with_field(commission, field, by)
    assert changed.jacket is not None
    assert commission.jacket is not None
    body = complete(dict(commission.measured), commission.units)
    before, after = (draft_garments(c, body, shell_of(c).thickness)[0] for c in (commission, changed))
    check_girths(after, body, changed.jacket)
    assert after != before
    # each point moves by what was asked; the frame's x runs from the centre back, its y from the waist
    moved = {move.field: move for move in moves_of(changed, ())}[field]
    piece = moved.piece.removesuffix(".right")
    if moved.mark:
        shift = after.piece(piece).mark(moved.mark) - before.piece(piece).mark(moved.mark)
        assert (shift.y if moved.axis is Axis.LEVEL else shift.x) == pytest.approx(by, abs=0.01)
    if moved.edge:
        old, new = (d.piece(piece).edge(moved.edge).path for d in (before, after))
        a, b = (
            path.at(d.piece(piece).stop(moved.edge, moved.stop)) if moved.stop else path.start
            for path, d in ((old, before), (new, after))
        )
        assert ((b - a).y if moved.axis is Axis.LEVEL else (b - a).x) == pytest.approx(by, abs=0.05)


@pytest.mark.parametrize(("field", "by"), [("skirt.moved.front_dart", 9.0), ("skirt.moved.back_darts", -9.0)])
def test_a_skirts_waist_stays_when_its_darts_move(text: str, field: str, by: float) -> None:
    commission = read_commission(text, "plaid-suit.toml")
    body = complete(dict(commission.measured), commission.units)
    waists: list[float] = []
    for c in (commission, with_field(commission, field, by)):
        skirt = draft_garments(c, body, shell_of(c).thickness)[1]
        waists.append(_waist_with_darts_closed(skirt))
    assert waists[1] == pytest.approx(waists[0], abs=0.5)


def _waist_with_darts_closed(skirt: Draft) -> float:
    length = 0.0
    for name in ("skirt-front", "skirt-back"):
        piece = skirt.piece(name)
        for edge in piece.edges:
            if edge.name.startswith("waist"):
                stops = sorted(notch.at for notch in piece.notches if notch.edge == edge.name and "dart" in notch.name)
                mouths = sum(b - a for a, b in zip(stops[::2], stops[1::2], strict=True))
                length += (edge.path.length - mouths) * (2 if name == "skirt-back" else 1)
    return length


def test_a_move_beyond_its_limit_is_refused(text: str) -> None:
    written = text + '\n[jacket.moved]\npocket = "35 mm"\n'
    with pytest.raises(Refusal, match="move of the pocket"):
        read_commission(written, "plaid-suit.toml")


def test_hems_are_lengths_of_the_design(text: str) -> None:
    commission = read_commission(text, "plaid-suit.toml")
    assert [hem.field for hem in hems_of(commission)] == ["jacket.length_below_waist", "skirt.length"]
