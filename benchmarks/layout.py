"""The cutting layout: density on open instances beside a general library, lattices, small cases, time and memory.

    python benchmarks/layout.py [--quick] [--json FILE]

Plain cloth: best published, the library (spyrrow, one worker) in as many seconds as ours took, ours. Lattices: places
in the repeat from data/nesting/phases.json. The library is no part of the program; it is the yardstick. `--quick`
measures two instances shortly and quotes the rest from the committed full run, which also writes the tables into
docs/layout.md.
"""

from __future__ import annotations

import argparse
import json
import math
import random
import time
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from measure import RESULTS, ROOT, Report, own_memory
from settwright.geometry import Point
from settwright.layout import Board, LatticeState, Layout, Shape, lay

DATA = Path(__file__).parent / "data" / "nesting"
GARMENT = ("shirts", "trousers", "albano", "marques")
OTHERS = ("shapes0", "shapes1", "blaz1", "jakobs1", "fu")
PARTS = (50, 25, 12.5)  # the strip's height to one repeat
WIDTH = 1500.0  # mm of cloth that every strip is scaled to
LONG, MIDDLE, SHORT = 15000, 3000, 600  # effort: about 30, 6 and 1 s of one core
GROWTH = (10, 20, 40, 80)
SEED = 1


@dataclass
class Tables:
    """Rows for the documentation."""

    plain: list[str] = field(default_factory=list)
    lattice: list[str] = field(default_factory=list)


def instance(name: str, part: float | None = None) -> tuple[tuple[Shape, ...], Board]:
    """Returns an instance's shapes and cloth, turned so that the strip runs along y; `part`: strip height ÷ repeat."""
    data = json.loads((DATA / f"{name}.json").read_text())
    phases = json.loads((DATA / "phases.json").read_text()).get(name)
    scale = WIDTH / data["strip_height"]
    repeat = None if part is None else WIDTH / part
    shapes: list[Shape] = []
    for number, item in enumerate(data["items"]):
        outline = tuple(Point(y * scale, -x * scale) for x, y in item["shape"]["data"][:-1])
        ways = (1, -1) if 180 in item["allowed_orientations"] else (1,)
        for copy in range(item["demand"]):
            places = (
                [(None, None)] * 2 if repeat is None else [(u * repeat, v * repeat) for u, v in phases[number][copy]]
            )
            states = tuple(LatticeState(t, 1, *places[i]) for i, t in enumerate(ways))
            shapes.append(Shape(f"{number}.{copy}", outline, states))
    return tuple(shapes), Board(WIDTH, 0.0, repeat, repeat, oy=0.0, gap=0.0)


def by_library(name: str, seconds: float) -> float:
    """Returns the density that the library reaches with one worker in so many seconds, turned by 180° at most."""
    import spyrrow  # noqa: PLC0415

    data = json.loads((DATA / f"{name}.json").read_text())
    items = [
        spyrrow.Item(
            str(number),
            [(x, y) for x, y in item["shape"]["data"]],
            item["demand"],
            [0.0, 180.0] if 180 in item["allowed_orientations"] else [0.0],
        )
        for number, item in enumerate(data["items"])
    ]
    strip = spyrrow.StripPackingInstance(name, data["strip_height"], items)
    config = spyrrow.StripPackingConfig(
        early_termination=False, total_computation_time=max(1, round(seconds)), num_workers=1, seed=SEED
    )
    return strip.solve(config).density


def timed(shapes: tuple[Shape, ...], board: Board, effort: int) -> tuple[Layout, float]:
    """Returns a layout and the seconds of processor time that it took."""
    began = time.process_time()
    layout = lay(shapes, board, effort=effort, seed=SEED)
    return layout, time.process_time() - began


def plain_cloth(report: Report, tables: Tables, name: str, effort: int, why: str) -> None:
    """Three columns for one instance."""
    published = json.loads((DATA / "published.json").read_text())[name]
    began = time.perf_counter()
    layout, seconds = timed(*instance(name), effort)
    # by the clock, for the library stops by it; on a busy machine both get the same share
    ours, library = 100 * layout.usage, 100 * by_library(name, time.perf_counter() - began)
    report.note(f"plain {name}: ours, density", round(ours, 2), "%")
    report.note(f"plain {name}: ours, processor time", round(seconds, 1), "s")
    report.note(f"plain {name}: library in that time, one worker", round(library, 2), "%")
    report.note(f"plain {name}: best published", published, "%")
    report.note(f"plain {name}: points below the library", round(library - ours, 2), "points", 1.0, why)
    tables.plain.append(
        f"| {name} | {published:.2f} | {library:.2f} | {ours:.2f} | {seconds:.0f} "
        f"| {published - ours:.2f} | {library - ours:+.2f} |"
    )


def lattices(report: Report, tables: Tables, names: tuple[str, ...], parts: tuple[float, ...], effort: int) -> None:
    """Ours, bottom-left on the lattice, unconstrained, and the sure bound."""
    gains: list[float] = []
    for name in names:
        free = timed(*instance(name), effort)[0]
        for part in parts:
            shapes, board = instance(name, part)
            ours, bottom_left = timed(shapes, board, effort)[0], timed(shapes, board, 0)[0]
            bound = ours.usage * ours.length
            gain, excess = 1 - ours.length / bottom_left.length, ours.length / free.length - 1
            gains.append(gain)
            at = f"lattice h/{part:g} {name}"
            report.note(f"{at}: shorter than bottom-left", round(100 * gain, 1), "%")
            report.note(f"{at}: over unconstrained", round(100 * excess, 1), "%")
            tables.lattice.append(
                f"| {name} | h/{part:g} | {ours.length:.0f} | {bottom_left.length:.0f} | {free.length:.0f} "
                f"| {bound:.0f} | {100 * gain:.1f} % | {100 * excess:+.1f} % |"
            )
    mean = 100 * sum(gains) / len(gains)
    report.note(
        "lattices: bottom-left longer than ours, shortfall to 8 % in the mean",
        round(max(0.0, 8 - mean), 2),
        "points",
        0.0,
    )
    report.note("lattices: shorter than bottom-left in the mean", round(mean, 2), "%")


def invented(count: int, seed: int = 7) -> tuple[Shape, ...]:
    """Returns so many invented pieces at drawn places in a repeat of 70 × 90 mm."""
    chance = random.Random(seed)
    shapes: list[Shape] = []
    for i in range(count):
        width, height = chance.uniform(80, 320), chance.uniform(120, 720)
        taper, bow = chance.uniform(0.6, 1.0), chance.uniform(0, 0.12) * width
        side = [
            (width * (1 - (1 - taper) * s) - bow * math.sin(math.pi * s), height * s)
            for s in (k / 12 for k in range(13))
        ]
        corners = [(0.0, 0.0), *side, (width * 0.2, height * 1.04), (0.0, height * 0.96)]
        state = LatticeState(1, 1, chance.uniform(0, 70), chance.uniform(0, 90))
        shapes.append(Shape(f"piece {i}", tuple(Point(x, y) for x, y in corners), (state,)))
    return tuple(shapes)


SUIT = Board(1500.0, 15.0, 70.0, 90.0, oy=0.0)


def suit(report: Report, *, quick: bool) -> None:
    """Thirty pieces on 70 × 90 mm: first layout, ten seconds, sixty seconds."""
    shapes = invented(30)
    began = time.process_time()
    lay(shapes, SUIT, effort=0)
    report.note("suit of 30 pieces: first whole layout", round(time.process_time() - began, 2), "s", 1.0)
    if quick:
        return
    short, seconds = timed(shapes, SUIT, 5000)
    long, _ = timed(shapes, SUIT, round(5000 * 60 / seconds))
    report.note("suit of 30 pieces: processor time of the short search", round(seconds, 1), "s", 10.0)
    report.note(
        "suit of 30 pieces: short search over the 60 s one", round(100 * (short.length / long.length - 1), 2), "%", 2.0
    )


def growth(report: Report) -> None:
    """How the time of one part of the search grows with the number of pieces; a plot."""
    from settwright.layout.search import Search  # noqa: PLC0415
    from settwright.layout.tables import grid_of  # noqa: PLC0415

    points: list[tuple[int, float]] = []
    for count in GROWTH:
        shapes = invented(count)
        began = time.process_time()
        grid = grid_of(shapes, SUIT, 0.0, 2_500_000)
        search = Search(grid, SUIT.width, False, SEED)
        fill = search.fills()[0]
        start = fill.place
        rounds = 30
        for _ in range(rounds):  # one separation of a shortened window each, from the same start
            search.window(0.0, 0.97 * fill.length)
            search.separated(search.pushed_inside(start), 1_000_000 * count)
        points.append((count, time.process_time() - began))
        report.note(f"growth: {count} pieces", round(points[-1][1], 3), "s")
    (a, s), (b, t) = points[0], points[-1]
    report.note("growth: exponent from 10 to 80 pieces", round(math.log(t / s) / math.log(b / a), 2), "", 2.2)
    (RESULTS / "layout-growth.svg").write_text(_plot(points))


def _plot(points: list[tuple[int, float]]) -> str:
    """Returns a log-log plot with a line of exponent 2 through the first point."""
    low, high = points[0], points[-1]
    top = max(points[-1][1], low[1] * (high[0] / low[0]) ** 2)

    def at(count: float, seconds: float) -> tuple[float, float]:
        x = 60 + 300 * math.log(count / low[0]) / math.log(high[0] / low[0])
        y = 230 - 190 * math.log(max(seconds, low[1]) / low[1]) / math.log(top / low[1])
        return round(x, 1), round(y, 1)

    line = " ".join(f"{x},{y}" for x, y in (at(*p) for p in points))
    (x1, y1), (x2, y2) = at(*low), at(high[0], low[1] * (high[0] / low[0]) ** 2)
    marks = "".join(
        f'<circle cx="{at(c, s)[0]}" cy="{at(c, s)[1]}" r="3"/>'
        f'<text x="{at(c, s)[0]}" y="{at(c, s)[1] + 18}">{s:.2f} s</text>'
        f'<text x="{at(c, s)[0]}" y="262">{c}</text>'
        for c, s in points
    )
    return (
        '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 420 290" font-family="sans-serif" font-size="11" '
        'text-anchor="middle"><rect width="420" height="290" fill="white"/>'
        f'<path d="M60 30V240H380" fill="none" stroke="#888"/>'
        f'<path d="M{x1} {y1}L{x2} {y2}" stroke="#bbb" stroke-dasharray="4 3"/>'
        f'<polyline points="{line}" fill="none" stroke="#1f2a44" stroke-width="1.5"/>{marks}'
        f'<text x="{x2 - 26}" y="{y2 - 6}">quadratic</text>'
        '<text x="220" y="282">pieces (both axes logarithmic)</text></svg>\n'
    )


def write_docs(tables: Tables) -> None:
    """Puts the tables between the marks in docs/layout.md."""
    path = ROOT / "docs" / "layout.md"
    text = path.read_text()
    made = "\n".join(
        [
            "| instance | best published | library, same seconds | ours | seconds | below published | below library |",
            "| --- | --- | --- | --- | --- | --- | --- |",
            *tables.plain,
            "",
            "| instance | repeat | ours, mm | bottom-left | unconstrained | area ÷ width | shorter than bottom-left "
            "| over unconstrained |",
            "| --- | --- | --- | --- | --- | --- | --- | --- |",
            *tables.lattice,
        ]
    )
    before, rest = text.split("<!-- figures -->", 1)
    after = rest.split("<!-- end of figures -->", 1)[1]
    path.write_text(f"{before}<!-- figures -->\n{made}\n<!-- end of figures -->{after}")


def main() -> None:
    """Runs and reports."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--quick", action="store_true")
    parser.add_argument("--json", type=Path)
    words: Any = parser.parse_args()
    report, tables = Report("layout"), Tables()
    RESULTS.mkdir(exist_ok=True)
    lay(invented(3), Board(1500.0, 15.0, 70.0, None), effort=1)  # compiles or loads
    if words.quick:
        suit(report, quick=True)
        for name in ("trousers", "shirts"):
            plain_cloth(report, tables, name, SHORT, "a short search; the full run's figure is quoted")
        lattices(report, tables, ("albano",), (25,), SHORT)
        report.quote(["plain", "lattice", "lattices", "growth", "suit"])
    else:
        for name in GARMENT:
            plain_cloth(report, tables, name, LONG, "one core; a fine grid and not yet a continuous search")
        lattices(report, tables, GARMENT, PARTS, LONG)
        growth(report)
        for name in OTHERS:
            plain_cloth(report, tables, name, LONG, "one core; a fine grid and not yet a continuous search")
        write_docs(tables)
        suit(report, quick=False)
    report.note("peak memory", round(own_memory()), "MB", 500)
    report.write(words.json or (None if words.quick else RESULTS / "layout.json"))


if __name__ == "__main__":
    main()
