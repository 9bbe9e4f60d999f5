"""Where the bars fall: the solver against the trade's orders, against trying every place, and against the clock.

    python benchmarks/bars.py [--quick] [--json FILE]

One objective judges all. *Unseeded* is the solver that never looks at the trade's orders; *as shipped* starts from
them too. `--quick` takes a sample of the random cloths and the small sub-cases and quotes the rest from the committed
full run, which also writes its table into docs/bars.md. Times are of the processor: everything here runs on one core,
so that they are what a clock shows on a machine that does nothing else.
"""

from __future__ import annotations

import argparse
import os
import random
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from typing import Any

from measure import RESULTS, ROOT, Report
from settwright.bars import solver
from settwright.bars.match import Prepared, match, prepare
from settwright.bars.model import Axis, Match, Pin
from settwright.bars.objective import SCALE, Problem
from settwright.bars.ranking import centre_of, rank_fronts
from settwright.bars.report import Laid, cycles_of, drift_of, reasons_of
from settwright.bars.solver import solve
from settwright.body import Body
from settwright.body.estimate import complete
from settwright.cloth import Bar, Cloth
from settwright.cloth import Sequence as Bars
from settwright.commission.design import BodyCut, TrousersDesign
from settwright.commission.model import Commission
from settwright.commission.reading import read_commission
from settwright.findings import Refusal
from settwright.makeup.model import MadeUp
from settwright.pattern.drafts.trousers import draft_trousers
from settwright.planner.derive import draft_garments, make_up_garments, pins_of, prepare_bars, shell_of

sys.path.insert(0, str(ROOT))

from tests.bars.rings import best_on_grid, ring
from tests.bodies import bodies

EXAMPLES = ("plaid-suit", "even-plaid-suit")
ENSEMBLE = "ensemble of 30 pieces"  # the first example's suit, its jacket in many pieces, and trousers
COLOURS = (
    ("navy", "#1c2445"), ("cream", "#e8e0cc"), ("rust", "#8c3b1f"), ("moss", "#55603a"), ("grey", "#8b8a86"),
)  # fmt: skip
DOCS = ROOT / "docs" / "bars.md"
BEGIN, END = "<!-- measured: begin -->", "<!-- measured: end -->"


def made_up(commission: Commission, body: Body) -> tuple[MadeUp, Cloth]:
    """Returns what is cut for a commission on a body, and its outer cloth."""
    shell = shell_of(commission)
    return make_up_garments(commission, draft_garments(commission, body, shell.thickness), shell), shell


def ensemble() -> tuple[Commission, MadeUp, Cloth]:
    """Returns jacket, skirt and trousers in one cloth, at least 30 of their pieces matched.

    The jacket has panels from the shoulder and a seam at the waist, so that its body alone has sixteen pieces.
    """
    commission = example(EXAMPLES[0])
    assert commission.jacket is not None
    jacket = replace(commission.jacket, body_cut=BodyCut.PRINCESS_SHOULDER, waist_seam=True)
    commission = replace(commission, jacket=jacket)
    body, shell = own_body(commission), shell_of(commission)
    drafts = (*draft_garments(commission, body, shell.thickness), draft_trousers(body, TrousersDesign()))
    return commission, make_up_garments(commission, drafts, shell), shell


def cases() -> Iterator[tuple[str, Commission, MadeUp, Cloth]]:
    """Yields the examples and the ensemble."""
    for name in EXAMPLES:
        commission = example(name)
        yield name, commission, *made_up(commission, own_body(commission))
    yield ENSEMBLE, *ensemble()


def example(name: str) -> Commission:

    return read_commission((ROOT / "examples" / f"{name}.toml").read_text(), name)


def own_body(commission: Commission) -> Body:

    return complete(dict(commission.measured), commission.units)


def random_cloth(seed: int) -> Cloth:
    """Returns a cloth of a random sett: 3 to 8 bars of 2 to 30 mm in each direction, every other one even."""

    chance = random.Random(seed)

    def sequence() -> Bars:
        count = chance.randint(3, 6)
        names = [name for name, _ in COLOURS]
        bars: list[tuple[str, float]] = []
        for _ in range(count):
            colour = chance.choice([name for name in names if not bars or name != bars[-1][0]])
            bars.append((colour, float(chance.randint(2, 30))))
        if chance.random() < 0.5:
            bars += list(reversed(bars[1:-1]))
        counts: dict[str, int] = {}
        named: list[Bar] = []
        for colour, width in bars:
            counts[colour] = counts.get(colour, 0) + 1
            named.append(Bar(f"{colour} {counts[colour]}", colour, width))
        return Bars(tuple(named))

    return Cloth("shell", "the shell", COLOURS, sequence(), sequence(), 1500.0, 10.0, 0.8)


def random_bodies(count: int) -> Iterator[MadeUp]:
    """Yields what is cut for the first example's design on bodies of the open survey."""

    commission, everyone = example(EXAMPLES[0]), bodies()
    for measured in everyone[:: max(1, len(everyone) // count)]:
        try:
            yield made_up(commission, complete(dict(measured), commission.units))[0]
        except Refusal:
            continue


def judged(problem: Problem) -> tuple[int, int, tuple[tuple[str, int], ...]]:
    """Returns the cost as shipped, unseeded, and the trade's."""

    found = solve(problem, dict.fromkeys(Axis, ()))
    return found.cost, found.unseeded, tuple((order.name, order.cost) for order in found.baselines)


def on_random_cloths(report: Report, count: int, women: int) -> None:
    """Compares on random cloths × bodies."""

    never_worse = unseeded_better = done = 0
    gains: list[float] = []
    each = -(-count // women)
    for number, made in enumerate(random_bodies(women)):
        for k in range(each):
            if done == count:
                break
            problem = prepare(made, random_cloth(1000 * number + k)).problem
            cost, unseeded, orders = judged(problem)
            best = min(theirs for _, theirs in orders)
            done += 1
            never_worse += cost <= best
            unseeded_better += unseeded <= best
            if 0 < best < 10**6 * SCALE:
                gains.append(1 - cost / best)
    gains.sort()
    report.note("random cloths × bodies", done, "")
    report.note("random: as shipped worse than a trade's order", done - never_worse, "", at_most=0)
    report.note(
        "random: unseeded no better than the trade", round(100 * (1 - unseeded_better / done), 1), "%", at_most=5
    )
    report.note("random: median gain over the better order", round(100 * gains[len(gains) // 2], 1), "%")


def on_examples(report: Report) -> None:
    """Compares on the examples and on each place of their centre front; times every part."""

    for name, commission, made, shell in cases():
        pins = pins_of(commission, made)
        clock = time.process_time()
        prepared = prepare(made, shell, importance=commission.importance, units=commission.units)
        report.note(f"{name}: problem made ready", round(1000 * (time.process_time() - clock)), "ms")
        report.note(f"{name}: matched pieces", len(prepared.matched), "")
        if name == ENSEMBLE:
            report.note(f"{name}: pieces short of 30", max(0, 30 - len(prepared.matched)), "", at_most=0)
        now = match(prepared, pins)
        clock = time.process_time()
        now = match(prepared, pins)
        report.note(f"{name}: match, warm process", round(time.process_time() - clock, 3), "s", at_most=5)
        for order in now.orders:
            report.note(f"{name}: {order.name}", round(order.cost, 1), "ΔE × weight")
        cost, unseeded, _ = judged(prepared.problem)
        report.note(f"{name}: unseeded, no pins", round(unseeded / SCALE, 1), "ΔE × weight")
        report.note(f"{name}: as shipped, no pins", round(cost / SCALE, 1), "ΔE × weight")
        report.note(
            f"{name}: as shipped", round(now.cost, 1), "ΔE × weight", at_most=round(min(c for _, c in now.baselines), 1)
        )
        clock = time.process_time()
        ranking = rank_fronts(prepared, pins, now)
        seconds = (time.process_time() - clock) / len(ranking.choices) * 12
        report.note(f"{name}: twelve places of the centre front", round(seconds, 2), "s", at_most=5)
        worse = sum(choice.cost > min(c for _, c in choice.match.baselines) for choice in ranking.choices)
        report.note(f"{name}: places of the centre front worse than the trade", worse, "", at_most=0)
        centre = centre_of(prepared.matched)
        assert centre is not None
        piece, _, at = centre
        times: list[float] = []
        above: list[float] = []
        for place in range(3, int(shell.warp.repeat), 7):
            pin = Pin(piece.name, at, Axis.UPRIGHT, float(place), "centre front")
            clock = time.process_time()
            tried = match(prepared, [pin], now)
            times.append(time.process_time() - clock)
            above.append(tried.cost / match(prepared, [pin]).cost - 1)
        times.sort()
        above.sort()
        report.note(f"{name}: one changed pin, median", round(1000 * times[len(times) // 2]), "ms", at_most=50)
        report.note(f"{name}: one changed pin, over the whole search", round(100 * above[len(above) // 2], 2), "%")
        report.note(f"{name}: report", round(1000 * _reported(prepared, now)), "ms", at_most=50)


def _reported(prepared: Prepared, now: Match) -> float:
    """Returns how many seconds of the processor the report of a match takes."""
    turns = {piece.name: piece.grain_turn for piece in prepared.pieces}
    clock = time.process_time()
    laid = Laid(prepared.cloth, {phase.piece: phase for phase in now.phases}, turns)
    for join, whole in zip(prepared.joins, prepared.wholes, strict=True):
        drift_of(join, whole, 0.0, laid, prepared.units)
    cycles_of(prepared.problem)
    reasons_of(prepared.problem, {axis: {} for axis in Axis})
    return time.process_time() - clock


def match_once() -> None:
    """Matches the ensemble and prints the seconds from the ready pieces to a placing better than the trade's orders,
    and to the last. For a new process."""
    commission, made, shell = ensemble()
    told: list[tuple[int, float]] = []
    searches = solver._Searches  # pyright: ignore[reportPrivateUsage]
    refined = searches.refined

    def watched(self: Any, u: Any, v: Any) -> solver.Found:
        found = refined(self, u, v)
        told.append((found[0], time.process_time()))
        return found

    searches.refined = watched
    clock = time.process_time()
    found = match(prepare_bars(commission, made, shell), pins_of(commission, made))
    ended = time.process_time()
    trade = min(cost for _, cost in found.baselines) * SCALE
    print(min(at for cost, at in told if cost < trade) - clock, ended - clock)


def in_a_new_process(report: Report) -> None:
    """Times the match of the ensemble in a new process, loading the compiled code included.

    Bytecode is cached as everywhere; a first run, not counted, fills the caches.
    """
    script = "import sys; sys.path[:0] = ['benchmarks', '.']; from bars import match_once; match_once()"
    runs: list[tuple[float, float]] = []
    with tempfile.TemporaryDirectory() as cache:
        cached = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}
        cached["PYTHONPYCACHEPREFIX"] = cache
        for _ in range(4):
            done = subprocess.run(
                (sys.executable, "-c", script), check=True, capture_output=True, text=True, cwd=ROOT, env=cached
            )
            better, final = (float(part) for part in done.stdout.split())
            runs.append((final, better))
    final, better = sorted(runs[1:])[1]
    report.note(f"{ENSEMBLE}: new process, better than the trade", round(better, 2), "s", at_most=1)
    report.note(f"{ENSEMBLE}: new process, final", round(final, 2), "s", at_most=5)


def against_every_place(report: Report, kind: str, seeds: range, *, pieces: int, repeat: int, step: int) -> None:
    """Compares with exhaustive search on rings of few pieces."""

    exact = beyond = 0
    for seed in seeds:
        problem = ring(seed, repeat, pieces)
        found = solve(problem, dict.fromkeys(Axis, ()), seeded=False).cost
        best = best_on_grid(problem, step)
        weights = sum(join.weight for join in problem.joins) / 10
        exact += found <= best
        beyond += found > 1.01 * best + 0.01 * SCALE * weights
    report.note(f"every place, {kind}: cases", len(seeds), "")
    report.note(f"every place, {kind}: beyond 1.01 × optimum + 0.01 ΔE", beyond, "", at_most=0)
    report.note(f"every place, {kind}: not at the optimum", round(100 * (1 - exact / len(seeds)), 1), "%", at_most=10)


def table_of(report: Report) -> str:
    """Returns the figures as a table for the docs."""
    rows = ["| figure | measured | mark |", "| --- | --- | --- |"]
    for name, figure in report.figures.items():
        mark = f"at most {figure['at_most']}" if "at_most" in figure else ""
        rows.append(f"| {name} | {figure['value']} {figure['unit']} | {mark} |")
    short = [f"- {s['figure']}: {s['value']}, mark {s['at_most']}. {s['why']}".rstrip() for s in report.falls_short]
    return "\n".join([*rows, "", "Falls short of its mark:" if short else "Nothing falls short of its mark.", *short])


def main() -> None:
    """Runs and reports."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--quick", action="store_true")
    parser.add_argument("--json", type=Path)
    words = parser.parse_args()
    report = Report("bars")
    quick = words.quick
    on_examples(report)
    in_a_new_process(report)
    against_every_place(
        report, "three pieces, repeat 12 mm", range(10 if quick else 40), pieces=3, repeat=12, step=1000
    )
    against_every_place(report, "three pieces, repeat 24 mm", range(2 if quick else 20), pieces=3, repeat=24, step=1000)
    against_every_place(
        report, "four pieces, repeat 24 mm in 2 mm", range(4 if quick else 20), pieces=4, repeat=24, step=2000
    )
    on_random_cloths(report, 8 if quick else 200, 2 if quick else 20)
    if quick:
        report.quote(["random", "every place"])
    else:
        text = DOCS.read_text()
        before, rest = text.split(BEGIN)
        after = rest.split(END)[1]
        DOCS.write_text(f"{before}{BEGIN}\n{table_of(report)}\n{END}{after}")
    report.write(words.json or (None if quick else RESULTS / "bars.json"))


if __name__ == "__main__":
    main()
