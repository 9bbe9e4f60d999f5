"""The whole job by keyboard alone: no mouse, every step seen to have the focus, nothing that holds it fast."""

from __future__ import annotations

import itertools
import re
from pathlib import Path

import pytest
from playwright.sync_api import Locator, Page, expect

from tests.page.conftest import LAYING
from tests.page.test_page import kept, open_example, report_of, state_of

pytestmark = pytest.mark.slow

# whether the element with the focus shows it (WCAG 2.2, 2.4.7) and lies in the window (2.4.11)
_SHOWN = """
() => {
  const element = document.activeElement;
  if (!element || element === document.body) return null;
  const marked = [element, element.labels?.[0], element.parentElement].filter(Boolean).some((one) => {
    const style = getComputedStyle(one);
    return (style.outlineStyle !== "none" && parseFloat(style.outlineWidth) > 0) || style.boxShadow !== "none" ||
      (one instanceof SVGElement && style.stroke !== "none" && !/, 0\\)$|transparent/.test(style.stroke));
  });
  const box = element.getBoundingClientRect();
  const seen = box.bottom > 0 && box.top < innerHeight && box.right > 0 && box.left < innerWidth;
  return [element.outerHTML.slice(0, 120), marked, seen];
}
"""  # fmt: skip


class Keys:
    """Ten fingers and no mouse."""

    def __init__(self, page: Page):
        self.page = page
        self.unmarked: set[str] = set()

    def to(self, target: Locator, key: str = "Tab", most: int = 160) -> None:
        """Goes on, key by key, until something has the focus."""
        expect(target).to_be_attached()
        for _ in range(most):
            if target.evaluate("element => element === document.activeElement"):
                return
            self.page.keyboard.press(key)
            shown = self.page.evaluate(_SHOWN)
            if shown is not None and not (shown[1] and shown[2]):
                self.unmarked.add(shown[0])
        raise AssertionError(f"{target} can't be reached by {key}")

    def press(self, *keys: str) -> None:
        for key in keys:
            self.page.keyboard.press(key)

    def write(self, target: Locator, text: str) -> None:
        self.to(target)
        self.press("ControlOrMeta+a")
        self.page.keyboard.type(text)
        self.press("Enter")


def test_the_whole_job_by_keyboard_alone(page: Page, tmp_path: Path) -> None:
    keys = Keys(page)
    keys.to(page.get_by_label("Title"))
    page.keyboard.type("Skirt by keyboard")
    keys.to(page.get_by_label("jacket", exact=True))
    keys.press("Space")
    keys.to(page.get_by_role("button", name="Begin"))
    keys.press("Enter")
    expect(page.get_by_role("heading", name="Measurements")).to_be_visible()

    for name, figure in (("Height", "168"), ("Bust girth", "92"), ("Waist girth", "74,5"), ("Hip girth", "38 1/2 in")):
        keys.write(page.get_by_role("textbox", name=re.compile(f"^{name}")), figure)
    kept(page)
    commission = page.url.split("#/")[1].split("/")[0]
    assert set(state_of(page, commission)["values"]["measurements"]) >= {"height", "waist_girth", "hip_girth"}

    keys.to(page.get_by_role("link", name="Cloth", exact=True), "Shift+Tab")
    keys.press("Enter")
    keys.write(page.get_by_role("textbox", name="Width of bar 1"), "26")
    kept(page)
    bars = len(state_of(page, commission)["values"]["cloths"]["shell"]["warp"]["bars"])
    keys.to(page.get_by_role("button", name="Add a bar").first)
    keys.press("Enter")
    kept(page)
    assert len(state_of(page, commission)["values"]["cloths"]["shell"]["warp"]["bars"]) == bars + 1

    keys.to(page.get_by_role("link", name="Plan", exact=True), "Shift+Tab")
    keys.press("Enter")
    expect(page.locator("garment-picture")).to_be_visible(timeout=LAYING)
    choice = page.locator('.ticket [data-field="skirt.waist_finish"]')
    keys.to(choice)
    keys.press("Enter")
    expect(page.locator("#choices .take").first).to_be_focused()
    said = choice.inner_text()
    keys.press("ArrowDown", "ArrowRight", "Enter")
    expect(page.locator(".both garment-picture")).to_have_count(2)
    keys.to(page.get_by_role("button", name="Take it"))
    keys.press("Enter")
    expect(page.locator(".both")).to_have_count(0)
    expect(choice).not_to_have_text(said)

    report_of(page, commission)
    piece = page.locator('path.touch[data-piece^="skirt-front"][tabindex="0"]').first
    keys.to(piece)
    keys.press("ArrowRight")
    expect(page.locator(".pin-tag")).to_have_count(1)
    expect(page.locator("#spoken")).to_contain_text("Pinned on")
    keys.to(piece)
    keys.press("p")
    expect(page.locator(".pin-tag")).to_have_count(0)

    for view, shown in (
        ("Pieces", "piece-board .flat"),
        ("On the cloth", "laid-cloth .flat"),
        ("Facings", ".facings, .waiting-note:not([role])"),
        ("Drafting", ".lesson .step-now"),
        ("Garment", "garment-picture"),
    ):
        keys.to(page.get_by_role("link", name=view, exact=True), "Shift+Tab")
        keys.press("Enter")
        expect(page.locator(shown).first).to_be_visible(timeout=LAYING)
    keys.to(page.locator(".cell", has_text="Hours"))
    keys.press("Enter")
    keys.write(page.get_by_label(re.compile("^Baste: minutes")), "3")
    expect(page.locator(".cell", has_text="Hours")).to_contain_text("so far")

    keys.to(page.get_by_role("link", name="Sheets to print"))
    keys.press("Enter")
    everything = page.get_by_role("link", name="All of them in one file")
    expect(everything).to_be_visible(timeout=LAYING)
    keys.to(everything)
    with page.expect_download(timeout=LAYING) as download:
        keys.press("Enter")
    assert download.value.path().stat().st_size > 50_000
    assert not keys.unmarked, "what has the focus shows it"


def test_nothing_holds_the_focus_fast_and_it_goes_in_the_order_of_reading(page: Page) -> None:
    open_example(page)
    page.wait_for_timeout(1000)
    page.evaluate("() => document.activeElement.blur()")
    places: list[tuple[str, float, float]] = []
    for _ in range(220):
        page.keyboard.press("Tab")
        place = page.evaluate(
            "() => { const e = document.activeElement, b = e.getBoundingClientRect();"
            " return [e.closest('header, .ticket, .picture, .reckoning')?.className ?? '', b.left, b.top]; }"
        )
        if not place[0] and places:
            break
        places.append(tuple(place))
    parts = list(dict.fromkeys(part for part, _, _ in places if part))
    assert parts == ["head", "ticket", "picture", "reckoning"]
    changes = sum(a[0] != b[0] for a, b in itertools.pairwise(places))
    assert changes <= len(parts), "no part is left and come back to"
