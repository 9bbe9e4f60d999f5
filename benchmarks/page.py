"""The page in a real browser: how soon it opens, how light it is, how smoothly cloth slides, how fast a choice answers.

    python benchmarks/page.py [--quick] [--json FILE]

Debian's Chromium without a screen, drawing in software, before the real server with a book of its own. `--quick`
slides for a shorter time and changes fewer choices.
"""

from __future__ import annotations

import argparse
import os
import re
import shutil
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path
from typing import Any

from playwright.sync_api import Browser, Page, sync_playwright

from measure import RESULTS, Report

OPENS = 1.5  # s
FRAME = 1000 / 30  # ms: 30 frames a second where nothing but the processor draws
ANSWERS = 300  # ms
WHY = (
    "where pieces are drafted anew: drafting, the inside, walked seams and bars made ready on one core, the picture "
    "beside them; tried: cutting lines put off until asked for, stages, inside, walks and layouts kept by what they "
    "came from, bars sought near those before, the plan begun while the change is kept"
)
LIGHT = 400  # kB
CHOICES = (
    ("jacket.buttons", "2"),
    ("choices.hem_on_a_bar", "false"),
    ("jacket.lapel_width", "8.6"),
    ("skirt.length", "60"),
)

_FRAMES = """
() => {
  let last = performance.now();
  window.frames_seen = [];
  const tick = (now) => {
    window.frames_seen.push(now - last);
    last = now;
    window.ticking = requestAnimationFrame(tick);
  };
  window.ticking = requestAnimationFrame(tick);
}
"""
_STOP = "() => { cancelAnimationFrame(window.ticking); return window.frames_seen; }"
# the front thrice side by side, every piece's cloth another in each frame
_MANY = """
async ([plan, seconds]) => {
  const told = (path) => fetch(`/api/plans/${plan}${path}`).then((answer) => answer.json());
  const [report, front] = [await told(""), await told("/picture/front")];
  const [left, top, width, height] = front.box;
  const moved = (path, by) => path.replace(/([ML])([-\\d.]+)/g, (_, sign, x) => `${sign}${Number(x) + by}`);
  const thrice = (make) => [0, 1, 2].flatMap((k) => make(k * width, (name) => `${name} ${k}`));
  const named = (table) => Object.fromEntries(thrice((_, name) => Object.entries(table).map(([k, v]) => [name(k), v])));
  const picture = { view: "front", box: [left, top, 3 * width, height], seams: {}, layers: thrice((by, name) =>
    front.layers.map((layer) => ({ ...layer, buttons: [], lines: [],
      grounds: layer.grounds.map((path) => moved(path, by)),
      outlines: layer.outlines.map((path) => moved(path, by)),
      patches: layer.patches.map(({ piece, outline, grid }) => ({ piece: name(piece), outline: moved(outline, by),
        grid: { ...grid, places: grid.places.map((v, i) => (v === null || i % 2 ? v : v + by)) } })) }))) };
  const many = { ...report, pieces: named(report.pieces), phases: named(report.phases) };
  const element = document.createElement("garment-picture");
  element.style.cssText = "position: fixed; left: 0; top: 60px; width: 1600px; height: 900px; background: white";
  document.body.append(element);
  element.showing = { picture, report: many, phases: many.phases, seams: [], units: "cm", chalk: false, lit: null,
    slides: false, label: "many", canSlide: () => false };
  const shown = new Set(picture.layers.flatMap(({ patches }) => patches.map(({ piece }) => piece))).size;
  const frames = [];
  let [last, phases] = [0, many.phases];
  const began = performance.now();
  await new Promise((resolve) => {
    const tick = (now) => {
      if (last) frames.push(now - last);
      last = now;
      phases = Object.fromEntries(Object.entries(phases).map(([k, [u, v, a, b]]) => [k, [u + 0.7, v + 1.3, a, b]]));
      element.phases = phases;
      if (now - began < 1000 * seconds) requestAnimationFrame(tick);
      else resolve();
    };
    requestAnimationFrame(tick);
  });
  const dots = element.querySelector("canvas").width * element.querySelector("canvas").height;
  element.remove();
  return [shown, dots, frames.slice(3)];
}
"""  # fmt: skip
_CHANGE = """
async ([commission, field, to]) => {
  const state = await fetch(`/api/commissions/${commission}`).then((answer) => answer.json());
  const began = performance.now();
  const changed = await fetch(`/api/commissions/${commission}/changes`, {
    method: "POST",
    headers: { "Content-Type": "application/json" },
    body: JSON.stringify({ on: state.revision, changes: [{ set: field, to }] }),
  }).then((answer) => answer.json());
  const kept = performance.now();
  await fetch(`/api/plans/${changed.plan}`).then((answer) => answer.json());
  const reported = performance.now();
  await fetch(`/api/plans/${changed.plan}/picture/front`).then((answer) => answer.json());
  return [kept - began, reported - kept, performance.now() - reported];
}
"""  # fmt: skip


def opened(folder: Path) -> tuple[subprocess.Popen[str], str, float]:
    """Starts the program without an argument, as she does, its browser a command that does nothing; returns it, the
    address that opens the page, and when it was started.
    """
    environment = {**os.environ, "SETTWRIGHT_DATA": str(folder), "BROWSER": "true"}
    began = time.perf_counter()
    server = subprocess.Popen(
        [sys.executable, "-m", "settwright.cli"], stdout=subprocess.PIPE, text=True, env=environment
    )
    assert server.stdout is not None
    found = re.search(r"http://\S+", server.stdout.readline())
    if found is None:
        sys.exit("The page didn't open.")
    return server, found[0], began


def opening(report: Report, page: Page, address: str, began: float) -> None:
    """Times the first screen from the program's start, and weighs what it took."""
    page.goto(address)
    page.get_by_role("heading", name="A new commission").wait_for()
    report.note("opens, from the program's start", round(time.perf_counter() - began, 2), "s", at_most=OPENS)
    page.wait_for_load_state("networkidle")
    sizes = page.evaluate("() => performance.getEntries().map((entry) => entry.encodedBodySize ?? 0)")
    report.note("first screen, as sent", round(sum(sizes) / 1000), "kB", at_most=LIGHT)


def example(page: Page) -> str:
    """Begins from the plaid suit; returns its id when its picture is there and its cloths are laid."""
    page.locator(".example", has_text="Plaid suit for the autumn fair").click()
    page.locator("garment-picture canvas.cloth").wait_for()
    page.locator(".cell .big", has_text="buy").first.wait_for(timeout=180_000)
    return page.url.split("#/")[1].split("/")[0]


def sliding(report: Report, page: Page, seconds: float) -> None:
    """Slides the front's cloth by hand and times every frame meanwhile."""
    box = page.locator('path.touch[data-piece="front.right"]').first.bounding_box()
    assert box is not None
    x, y = box["x"] + 0.6 * box["width"], box["y"] + 0.5 * box["height"]
    page.mouse.move(x, y)
    page.mouse.down()
    page.evaluate(_FRAMES)
    ends, step = time.perf_counter() + seconds, 0
    while time.perf_counter() < ends:
        step += 1
        page.mouse.move(x, y + 40 * abs((step % 80) / 40 - 1))
    frames: list[float] = page.evaluate(_STOP)[2:]
    page.mouse.up()
    shown = page.evaluate(
        "() => new Set([...document.querySelectorAll('path.touch')].map((p) => p.dataset.piece)).size"
    )
    report.note("sliding: pieces in the picture", shown, "")
    report.note("sliding: a frame, median", round(statistics.median(frames), 1), "ms", at_most=FRAME)
    report.note("sliding: a frame, 95 %", round(sorted(frames)[int(0.95 * len(frames))], 1), "ms")


def many(report: Report, page: Page, commission: str, seconds: float) -> None:
    """Slides the cloth of some forty pieces at once, in a picture of 1600 by 900, and times every frame."""
    plan = page.evaluate("id => fetch(`/api/commissions/${id}`).then(a => a.json())", commission)["plan"]
    shown, _, frames = page.evaluate(_MANY, [plan, seconds])
    report.note("sliding all of many: pieces", shown, "")
    report.note("sliding all of many: a frame, median", round(statistics.median(frames), 1), "ms", at_most=FRAME)
    report.note("sliding all of many: a frame, 95 %", round(sorted(frames)[int(0.95 * len(frames))], 1), "ms")


def worked(server: int) -> float:
    """Returns the processor time, ms, of the server and of the bench at which bars are matched; 0 where the system
    doesn't tell it.
    """
    if not Path(f"/proc/{server}/task/{server}/children").exists():
        return 0.0
    children = Path(f"/proc/{server}/task/{server}/children").read_text().split()
    bench = [pid for pid in children if b"serve('bars')" in Path(f"/proc/{pid}/cmdline").read_bytes()]
    told = [Path(f"/proc/{pid}/stat").read_text().rsplit(")", 1)[1].split() for pid in (str(server), *bench)]
    return sum(int(words[11]) + int(words[12]) for words in told) * 1000 / os.sysconf("SC_CLK_TCK")


def choosing(report: Report, page: Page, server: int, commission: str, choices: Any) -> None:
    """Changes choices one after another; times until bars and picture are there."""
    for field, value in choices:
        before = worked(server)
        kept, reported, drawn = page.evaluate(_CHANGE, [commission, field, value])
        report.note(f"choice {field}: processor time", round(worked(server) - before), "ms")
        report.note(f"choice {field}: kept", round(kept), "ms")
        report.note(f"choice {field}: bars told", round(reported), "ms")
        report.note(f"choice {field}: picture told", round(drawn), "ms")
        whole = round(kept + reported + drawn)
        report.note(f"choice {field}: bars and picture", whole, "ms", at_most=ANSWERS, why=WHY)
        page.wait_for_timeout(6000)


def run(report: Report, browser: Browser, folder: Path, *, quick: bool) -> None:
    """Measures one sitting at the page."""
    server, address, began = opened(folder)
    try:
        page = browser.new_page(viewport={"width": 1600, "height": 1000})
        opening(report, page, address, began)
        commission = example(page)
        page.wait_for_timeout(2000)
        sliding(report, page, 2.0 if quick else 6.0)
        many(report, page, commission, 2.0 if quick else 6.0)
        page.wait_for_timeout(12_000)
        choosing(report, page, server.pid, commission, CHOICES[:2] if quick else CHOICES)
    finally:
        server.terminate()
        server.wait()


def main() -> None:
    """Runs and reports."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--quick", action="store_true")
    parser.add_argument("--json", type=Path)
    words = parser.parse_args()
    chromium = shutil.which("chromium") or shutil.which("google-chrome")
    if chromium is None:
        sys.exit("There is no Chromium on this machine.")
    report = Report("page")
    with tempfile.TemporaryDirectory() as folder, sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=chromium, args=["--no-sandbox"])
        run(report, browser, Path(folder), quick=words.quick)
        browser.close()
    report.write(words.json or (None if words.quick else RESULTS / "page.json"))


if __name__ == "__main__":
    main()
