"""The edges: how long a shaped facing takes, and all edges of an ensemble together; how near the solution is to true.

    python benchmarks/edges.py [--quick] [--json FILE]

Times are processor time, the middle one of several runs in this process, on this machine. `--quick` takes fewer
fronts and runs.
"""

from __future__ import annotations

import argparse
import itertools
import math
import statistics
import time
from collections.abc import Callable
from pathlib import Path

from measure import RESULTS, ROOT, Report

FRONTS = ("notched lapel", "peaked lapel", "shawl", "V neck", "crossed over")


def milliseconds(work: Callable[[], object], runs: int) -> float:
    """Returns the middle processor time of several runs, after one that loads."""
    work()
    times: list[float] = []
    for _ in range(runs):
        began = time.process_time()
        work()
        times.append((time.process_time() - began) * 1000)
    return statistics.median(times)


def facings(report: Report, *, quick: bool) -> None:
    """Times one facing shaped, piece and all, on every front; where it can't be, the search for a remedy included."""
    from settwright.body.estimate import complete  # noqa: PLC0415
    from settwright.cloth.give import WOOL  # noqa: PLC0415
    from settwright.commission.design import FacingGrain, FrontStyle, JacketDesign  # noqa: PLC0415
    from settwright.makeup.edges.shaped import laid_facing, shaped_facing  # noqa: PLC0415
    from settwright.pattern.drafts.jacket import draft_jacket  # noqa: PLC0415

    body = complete({"bust_girth": 920.0, "waist_girth": 740.0, "hip_girth": 980.0, "height": 1680.0})
    for style in FRONTS[:3] if quick else FRONTS:
        design = JacketDesign(front_style=FrontStyle(style), buttons=2)
        piece = draft_jacket(body, design, 0.8).piece("front-facing")
        runs = 9 if quick else 31
        taken = milliseconds(lambda piece=piece: laid_facing(piece, FacingGrain.ALONG, WOOL), runs)
        report.note(f"facing of a {style}: shaped and judged", round(taken, 2), "ms", at_most=20)
        taken = milliseconds(lambda piece=piece: shaped_facing(piece, FacingGrain.ALONG, WOOL), runs)
        report.note(f"facing of a {style}: with strip and template drawn", round(taken, 2), "ms")
        shaped = shaped_facing(piece, FacingGrain.ALONG, WOOL)
        assert shaped is not None
        report.note(f"facing of a {style}: shrunk at the inner edge", round(shaped.shaping.shrunk, 1), "mm")


def ensemble(report: Report, *, quick: bool) -> None:
    """Times everything about the edges of the example suit: both grains, kinds, stays, their cutting, the waist."""
    from settwright.cloth.give import Fibre, usual  # noqa: PLC0415
    from settwright.commission.design import FacingGrain  # noqa: PLC0415
    from settwright.commission.reading import read_commission  # noqa: PLC0415
    from settwright.makeup.edges.kinds import edge_kinds  # noqa: PLC0415
    from settwright.makeup.edges.shaped import shaped_facing  # noqa: PLC0415
    from settwright.makeup.edges.stay_plan import stay_plan  # noqa: PLC0415
    from settwright.makeup.edges.stays import stays_of  # noqa: PLC0415
    from settwright.makeup.edges.waist import reserves_of, waist_plan  # noqa: PLC0415
    from settwright.planner.derive import body_of, draft_garments, make_up_garments, shell_of  # noqa: PLC0415

    commission = read_commission((ROOT / "examples" / "plaid-suit.toml").read_text(), "plaid-suit")
    shell = shell_of(commission)
    drafts = draft_garments(commission, body_of(commission), shell.thickness)
    made_up = make_up_garments(commission, drafts, shell)
    jacket, skirt = drafts[0], drafts[1]
    facing, front = jacket.piece("front-facing"), jacket.piece("front")
    assert commission.jacket is not None
    design = commission.jacket

    def edges() -> None:
        for grain in (FacingGrain.ALONG, FacingGrain.ACROSS):
            shaped_facing(facing, grain, shell.give)
        edge_kinds(front, design, thickness=(shell.thickness, shell.thickness), room=shell.width)
        stay_plan(stays_of(made_up.pieces, usual(Fibre.SILK)), 1370.0)
        waist_plan(skirt, shell.give, 25.0)
        reserves_of(made_up)

    report.note("all edges of the example suit", round(milliseconds(edges, 5 if quick else 15), 1), "ms", at_most=300)


def truth(report: Report) -> None:
    """Compares an arc's solution with its closed form: R 400, L 300, w 80, λ 150 mm."""
    from settwright.makeup.edges.bending import slipped  # noqa: PLC0415

    radius, length, depth, reach = 400.0, 300.0, 80.0, 150.0
    ratio = depth**2 / (3 * reach**2)
    errors: list[float] = []
    for steps in (19, 38, 76):
        found = slipped([length / radius / steps] * steps, [depth] * (steps + 1), length / steps, ratio)
        exact = reach / radius * math.tanh(length / 2 / reach)
        errors.append(abs(found[-1] - exact))
    report.note("arc: error of the end angle, step 8 mm", round(math.degrees(errors[1]), 5), "°", at_most=0.05)
    orders = [math.log2(coarse / fine) for coarse, fine in itertools.pairwise(errors)]
    report.note("arc: order of convergence, short of 2 by", round(max(0.0, 2 - min(orders)), 3), "", at_most=0.1)


def main() -> None:
    """Runs and reports."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--quick", action="store_true")
    parser.add_argument("--json", type=Path)
    words = parser.parse_args()
    report = Report("edges")
    truth(report)
    facings(report, quick=words.quick)
    ensemble(report, quick=words.quick)
    report.write(words.json or (None if words.quick else RESULTS / "edges.json"))


if __name__ == "__main__":
    main()
