"""What the trade asks of the bars, tried on whole commissions: pleats, a waist seam beside a skirt, a wish."""

from __future__ import annotations

import re
from pathlib import Path

from settwright.bars import Match, Prepared, match
from settwright.bars.frames import place_under, wrap
from settwright.bars.joins import base_name
from settwright.bars.model import Importance
from settwright.commission.reading import read_commission
from settwright.planner.derive import body_of, draft_garments, make_up_garments, pins_of, prepare_bars, shell_of

SUIT = (Path(__file__).parents[2] / "examples" / "plaid-suit.toml").read_text()


def matched(text: str) -> tuple[Prepared, Match]:
    commission = read_commission(text, "suit")
    shell = shell_of(commission)
    made_up = make_up_garments(commission, draft_garments(commission, body_of(commission), shell.thickness), shell)
    prepared = prepare_bars(commission, made_up, shell)
    return prepared, match(prepared, pins_of(commission, made_up))


def test_every_fold_of_a_pleated_half_lies_on_the_same_bar_and_the_hidden_seam_pays() -> None:
    # common practice, no source: pleats laid on the stripe show the same bar at every fold
    text = re.sub(r"zip_length = 18\nvent_length = 18", "zip_length = 18", SUIT).replace(
        "[skirt]", '[skirt]\ncut = "pleated"'
    )
    prepared, found = matched(text)
    repeat = prepared.cloth.warp.repeat
    for hand in ("right", "left"):
        places = [
            place_under(found.phase(piece.name), line.path.start, piece.grain_turn).x
            for piece in prepared.matched
            for line in piece.piece.lines
            if base_name(line.name).endswith("-fold") and hand in (piece.hand, line.name.rpartition(".")[2])
        ]
        assert len(places) >= 10
        assert max(abs(wrap(place - places[0], repeat)) for place in places) <= 1.0
    joins = {join.name for join in found.joins}
    assert {"pleats-at-side.right", "pleats-at-side.left", "pleats-behind"} <= joins


def test_a_seam_is_told_over_its_own_length_where_another_garments_has_its_name() -> None:
    # jacket and skirt both have a seam "waist-front-2"
    prepared, _ = matched(SUIT.replace("buttons = 3", "buttons = 3\nwaist_seam = true"))
    for join, whole in zip(prepared.joins, prepared.wholes, strict=True):
        if whole is not None:
            ends = {sample.a for sample in whole.samples}
            assert {sample.a for sample in join.samples} <= ends, join.name


def test_a_bar_kept_off_the_fullest_is_told_as_asked_and_a_custom_as_one() -> None:
    _, found = matched(SUIT.replace("[choices]", "[choices]\nbar_off_the_fullest = true"))
    told = [finding.what for finding in found.findings]
    assert any("keeps clear of the fullest part of the bust, as you asked." in what for what in told)
    assert any("lies on the centre back, as custom has it." in what or "hem lies on" in what for what in told)


def test_an_upright_seam_with_intake_says_what_was_chosen_and_what_happens_above_and_below() -> None:
    prepared, found = matched(SUIT)
    joins = {join.name: join for join in prepared.joins}
    both = 0
    for drift in found.drifts:
        join = joins[drift.join]
        if drift.upright is None or not join.named or join.kind != "seam":
            continue
        sizes = [abs(miss) for miss in drift.upright]
        meets = [k for k, size in enumerate(sizes) if size <= 1.0]
        if not meets:
            continue
        upright = drift.summary.split("pright bars", 1)[1]
        if max(sizes[: meets[0]], default=0.0) > 1.0 and max(sizes[meets[-1] + 1 :], default=0.0) > 1.0:
            both += 1
            assert "above by up to" in upright, drift.summary
            assert "below by up to" in upright, drift.summary
    assert both


def test_ease_that_parts_the_bars_beyond_a_stretch_is_named_and_shape_alone_where_there_is_none() -> None:
    prepared, found = matched(SUIT)
    told = {drift.join: drift.summary for drift in found.drifts}
    # the sleeve's cap is held in above the front notch; a skirt's side seam has no ease
    assert "beyond that, shape and ease take them apart" in told["sleeve-front.right"]
    joins = {join.name: join for join in prepared.joins}
    assert joins["skirt-side.right"].ease == 0.0
    assert "ease" not in told["skirt-side.right"]


def test_above_a_princess_seam_the_cap_is_let_go_and_what_must_meet_lies_at_the_pitch() -> None:
    """Common practice, no source: a sleeve's bars are matched at the front pitch; towards the shoulder the cap rounds
    away from them."""
    prepared, found = matched(SUIT.replace("[jacket]\n", '[jacket]\nbody_cut = "princess from the armhole"\n', 1))
    joins = {join.name: join for join in prepared.joins}
    assert joins["sleeve-front.right"].importance is Importance.LET_GO
    pitch = joins["sleeve-side-front.right"]
    assert (pitch.importance, pitch.named) == (Importance.ALWAYS, "front-pitch")
    drift = next(drift for drift in found.drifts if drift.join == pitch.name)
    assert max(abs(miss) for miss in drift.level or ()) < 1.0
