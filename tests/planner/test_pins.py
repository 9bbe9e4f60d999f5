"""Pins of the commission on the drafted ensemble: pieces and seams held, and pins that contradict one another."""

from __future__ import annotations

from functools import lru_cache
from pathlib import Path

import pytest

from settwright.bars import Match, match, wrap
from settwright.commission.model import Commission
from settwright.commission.reading import read_commission
from settwright.findings import Refusal, Weight
from settwright.makeup.model import MadeUp
from settwright.planner.derive import body_of, draft_garments, make_up_garments, pins_of, prepare_bars, shell_of

SUIT = (Path(__file__).parents[2] / "examples" / "plaid-suit.toml").read_text()
SIDE_FRONT = '[[pins]]\nseam = "side-front.right"\nstop = "{}"\naxis = "level"\nbar = "rust 1"\n'
HEM = '[[pins]]\npiece = "{}"\nedge = "{}"\nstop = "{}"\naxis = "level"\nbar = "rust 1"\nat = {}\n'


@lru_cache
def made() -> MadeUp:
    commission = read_commission(SUIT, "suit")
    shell = shell_of(commission)
    return make_up_garments(commission, draft_garments(commission, body_of(commission), shell.thickness), shell)


def matched(pins: str) -> tuple[Commission, Match]:
    commission = read_commission(f"{SUIT}\n{pins}", "suit")
    prepared = prepare_bars(commission, made(), shell_of(commission))
    return commission, match(prepared, pins_of(commission, made()))


def test_a_pinned_seam_lies_on_its_bar_on_both_edges() -> None:
    commission, found = matched(SIDE_FRONT.format("waist"))
    weft, place = shell_of(commission).weft, commission.pins[-1].place
    seam = next(pair for pair in made().sewn if pair.name == "side-front.right")
    drift = next(drift for drift in found.drifts if drift.join == seam.name)
    at_a, at_b = seam.pairs[dict(seam.stops)["waist"]]
    assert abs(wrap(found.phase(seam.a.piece).v + at_a.y - place, weft.repeat)) <= 0.002
    # the other edge as nearly as the seam can be matched
    assert abs(wrap(found.phase(seam.b.piece).v + at_b.y - place, weft.repeat)) <= drift.floor + 1.0


@pytest.mark.parametrize(
    ("pin", "what", "remedy"),
    [
        (SIDE_FRONT.format("knee"), "no stop “knee”", "waist"),
        (SIDE_FRONT.format("waist").replace("side-front", "princess-front"), "no such seam", "side-front.right"),
    ],
)
def test_a_seam_or_stop_that_this_cut_lacks_is_refused_with_those_there(pin: str, what: str, remedy: str) -> None:
    with pytest.raises(Refusal) as refused:
        matched(pin)
    (finding,) = refused.value.findings
    assert what in finding.what
    assert remedy in finding.remedy


def test_two_pins_that_pull_one_piece_apart_are_both_named() -> None:
    pins = SIDE_FRONT.format("waist") + HEM.format("side.right", "hem", "side-back", '"3 mm"')
    pins += HEM.format("front.right", "hem", "side-front", '"3 mm"')
    with pytest.raises(Refusal) as refused:
        matched(pins)
    (finding,) = refused.value.findings
    assert "the seam side front, right, at waist" in finding.what
    assert "hem, side" in finding.what
    assert "apart by" in finding.what


def test_pins_on_both_sides_of_a_seam_name_the_seam_and_both_pins() -> None:
    pins = HEM.format("front.right", "hem", "side-front", '"middle"')
    pins += HEM.format("side.right", "hem", "side-front", '"middle"').replace("rust 1", "rust 2")
    _, found = matched(pins)
    told = [f for f in found.findings if f.weight is Weight.CAUTION and f.where == "side-front.right"]
    assert told
    assert all("front, right: hem, side front" in f.what and "side, right: hem, side front" in f.what for f in told)
    assert all(f.remedy for f in told)
