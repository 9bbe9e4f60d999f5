"""The drafts: how long each cut takes, how long the contact sheets take, and which real bodies are refused a cut.

    python benchmarks/drafting.py [--quick] [--json FILE]

Bodies: 500 women of an open survey (tests/data/open-bodies.md, more-open-bodies.md). `--quick` drafts every twentieth
of them and quotes the rest from the committed full run. A time is the quickest of nine in this process, after one that
warms it up; the whole of it is spent in this thread, so other work of the machine is left out (processor time).
"""

from __future__ import annotations

import argparse
import sys
import time
from collections import Counter
from collections.abc import Mapping, Sequence
from pathlib import Path

from measure import RESULTS, ROOT, Report, timed_process
from settwright.body import Body
from settwright.body.estimate import complete
from settwright.findings import Refusal
from settwright.pattern.asymmetry import Half, in_halves, with_own_hips
from settwright.pattern.drafts.jacket import draft_jacket

sys.path.insert(0, str(ROOT))

from tests.bodies import five_hundred, is_usual
from tools.cuts import CUTS, Cut

MIDDLE = {"bust_girth": 920.0, "waist_girth": 740.0, "hip_girth": 980.0, "height": 1680.0}


def times(report: Report) -> None:
    """Times each cut for one body."""
    body = complete(MIDDLE)
    for cut in CUTS:
        cut.draft(body)
        took: list[float] = []
        for _ in range(9):
            began = time.process_time()
            cut.draft(body)
            took.append(time.process_time() - began)
        report.note(f"draft: {cut.name}", round(1000 * min(took), 1), "ms", at_most=50)


UNEVEN = ("side-panel", "princess-armhole", "sleeve-raglan")
_WHY = (
    "two drafts, one for each half, and every side seam bent for its hip; halved already by keeping what both ask for;"
    " an even figure pays none of it"
)


def uneven(report: Report) -> None:
    """Times both halves of a figure with one low shoulder and one full hip; the hip differs each time."""
    body = complete(MIDDLE)
    for name, design in ((cut.name, cut.jacket) for cut in CUTS if cut.name in UNEVEN):
        assert design
        took: list[float] = []
        for turn in range(9):
            right, left = Half(0.0, -10.0 - turn / 10), Half(12.0, 10.0 + turn / 10)
            began = time.process_time()
            drafts = (draft_jacket(body, design, 1.0, half.shoulder_drop) for half in (right, left))
            with_own_hips(in_halves(*drafts), right, left, body["waist_to_hip"])
            took.append(time.process_time() - began)
        report.note(f"both halves, uneven: {name}", round(1000 * min(took), 1), "ms", at_most=50, why=_WHY)


def sheets(report: Report) -> None:
    """Times the contact sheets in a new process."""
    seconds, _ = timed_process((sys.executable, str(ROOT / "tools" / "contact_sheets.py")))
    report.note("contact sheets of every cut, new process", round(seconds, 1), "s", at_most=20)


def refusals(report: Report, women: Sequence[Mapping[str, float]]) -> None:
    """Drafts every cut for every body; counts what is refused, and what fails otherwise."""
    bodies = [complete(woman) for woman in women]
    usual = sum(is_usual(body) for body in bodies)
    reasons: Counter[str] = Counter()
    refused_usual = failed = 0
    most: tuple[int, str] = (0, "")
    for cut in CUTS:
        refused = 0
        for body in bodies:
            findings, sound = _tried(cut, body)
            failed += not sound
            if findings:
                refused += 1
                refused_usual += is_usual(body)
                reasons.update((f"{cut.name}: {findings[0]}",))
        report.note(f"refused: {cut.name}", round(100 * refused / len(bodies), 2), "%")
        most = max(most, (refused, cut.name))
    drafts = len(bodies) * len(CUTS)
    refused = sum(reasons.values())
    report.note("bodies", len(bodies), "")
    report.note("of them with bust, waist and hip from the 5th to the 95th percentile", usual, "")
    report.note("drafts tried", drafts, "")
    report.note("failures that aren't a clear refusal", failed, "", at_most=0)
    report.note("refused in all", round(100 * refused / drafts, 2), "%", at_most=2)
    report.note("refused most", round(100 * most[0] / len(bodies), 2), f"% ({most[1]})" if most[0] else "%", at_most=2)
    report.note("refused from the 5th to the 95th percentile", refused_usual, "", at_most=0)
    for reason, count in sorted(reasons.items(), key=lambda pair: (-pair[1], pair[0]))[:10]:
        print(f"  {count} × {reason}")


def _tried(cut: Cut, body: Body) -> tuple[tuple[str, ...], bool]:
    """Returns what stands in the way of a draft, and whether all is well: drafted, or refused with every remedy."""
    try:
        cut.draft(body)
    except Refusal as refusal:
        clear = all(f.remedy and f.where.partition(".")[0] in ("measurements", "design") for f in refusal.findings)
        return tuple(f.where for f in refusal.findings), clear
    except Exception as error:
        print(f"FAILS  {cut.name}: {type(error).__name__} {error}")
        return (), False
    return (), True


def main() -> None:
    """Runs and reports."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--quick", action="store_true")
    parser.add_argument("--json", type=Path)
    words = parser.parse_args()
    report = Report("drafting")
    times(report)
    uneven(report)
    sheets(report)
    women = five_hundred()
    refusals(report, women[::20] if words.quick else women)
    if words.quick:
        report.quote(["bodies", "of them", "drafts tried", "failures", "refused"])
    report.write(words.json or (None if words.quick else RESULTS / "drafting.json"))


if __name__ == "__main__":
    main()
