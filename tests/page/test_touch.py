"""By finger and pen: cloth slides, two fingers zoom and move, and every target is large enough (WCAG 2.2, 2.5.8)."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, BrowserContext, CDPSession, Page, expect

from tests.page.conftest import PATIENCE, Workroom
from tests.page.test_every_view import views
from tests.page.test_page import open_example, report_of

LEAST = 24  # CSS pixels

# targets smaller than LEAST, but for those in a line of text, those that stand alone within a circle of that width, and
# the pieces on the picture, whose size is the garment's and which zooming makes larger
_SMALL = """
(least) => {
  const kinds = "a[href], button, input, select, textarea, summary, label, [role=button]";
  const targets = [...document.querySelectorAll(kinds)]
    .filter((one) => one.checkVisibility?.({ visibilityProperty: true }) && !one.disabled)
    .filter((one) => !one.matches("path.touch"))
    .map((one) => ({ one, box: one.getBoundingClientRect() }))
    .filter(({ box }) => box.width > 1 && box.height > 1 && box.bottom > 0 && box.top < innerHeight);
  const isInline = (one) => one.tagName === "A" && getComputedStyle(one).display === "inline";
  const isNear = (box, other) => {
    const [x, y] = [box.left + box.width / 2, box.top + box.height / 2];
    const dx = Math.max(other.left - x, 0, x - other.right), dy = Math.max(other.top - y, 0, y - other.bottom);
    return Math.hypot(dx, dy) < least / 2;
  };
  return targets
    .filter(({ one, box }) => Math.min(box.width, box.height) < least - 0.5 && !isInline(one) && !one.closest("label"))
    .filter(({ one, box }) => targets.some(({ one: other, box: near }) => other !== one && !one.contains(other) &&
      !other.contains(one) && !(other.labels && [...other.labels].includes(one)) && isNear(box, near)))
    .map(({ one, box }) => `${Math.round(box.width)}x${Math.round(box.height)} ${one.outerHTML.slice(0, 110)}`);
}
"""  # fmt: skip


@pytest.fixture
def finger(browser: Browser, workroom: Workroom, context: BrowserContext) -> Iterator[Page]:
    """A tab on a screen that is touched."""
    touched = browser.new_context(
        viewport={"width": 1024, "height": 768}, has_touch=True, storage_state=context.storage_state(), locale="en-GB"
    )
    touched.set_default_timeout(PATIENCE)
    page = touched.new_page()
    page.goto(f"http://127.0.0.1:{workroom.port}/")
    yield page
    touched.close()


def touch(line: CDPSession, kind: str, *points: tuple[float, float]) -> None:
    told = [{"x": x, "y": y, "id": number} for number, (x, y) in enumerate(points)]
    line.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": told})


def middle_of(page: Page, piece: str) -> tuple[float, float]:
    box = page.locator(f'path.touch[data-piece="{piece}"]').first.bounding_box()
    assert box is not None
    return box["x"] + 0.6 * box["width"], box["y"] + 0.5 * box["height"]


def test_cloth_slides_under_a_finger(finger: Page) -> None:
    commission = open_example(finger)
    before = report_of(finger, commission)
    line = finger.context.new_cdp_session(finger)
    x, y = middle_of(finger, "front.right")
    touch(line, "touchStart", (x, y))
    for step in range(1, 9):
        touch(line, "touchMove", (x, y + 3 * step))
    expect(finger.locator(".caption.live")).to_contain_text("level bars")
    touch(line, "touchEnd")
    expect(finger.locator(".pin-tag", has_text="Front, right, level")).to_be_visible()
    after = report_of(finger, commission)
    assert after["phases"]["front.right"][1] != pytest.approx(before["phases"]["front.right"][1], abs=0.5)


@pytest.mark.slow
def test_two_fingers_zoom_and_move_and_take_nothing(finger: Page) -> None:
    open_example(finger)
    line = finger.context.new_cdp_session(finger)
    piece = finger.locator('path.touch[data-piece="front.right"]').first
    before = piece.bounding_box()
    assert before is not None
    x, y = middle_of(finger, "front.right")
    touch(line, "touchStart", (x - 20, y), (x + 20, y))
    for step in range(1, 11):
        touch(line, "touchMove", (x - 20 - 4 * step, y), (x + 20 + 4 * step, y))
    touch(line, "touchEnd")
    finger.wait_for_timeout(300)
    apart = piece.bounding_box()
    assert apart is not None
    assert apart["width"] == pytest.approx(3 * before["width"], rel=0.1), "from 40 to 120 pixels apart"
    touch(line, "touchStart", (x - 60, y), (x + 60, y))
    for step in range(1, 11):
        touch(line, "touchMove", (x - 60 + 5 * step, y + 3 * step), (x + 60 + 5 * step, y + 3 * step))
    touch(line, "touchEnd")
    finger.wait_for_timeout(300)
    moved = piece.bounding_box()
    assert moved is not None
    assert moved["x"] - apart["x"] == pytest.approx(50, abs=6)
    assert moved["y"] - apart["y"] == pytest.approx(30, abs=6)
    expect(finger.locator(".pin-tag", has_text="Front, right")).to_have_count(0)


@pytest.mark.slow
def test_every_target_is_large_enough_for_a_finger(finger: Page) -> None:
    small: dict[str, list[str]] = {}
    for name in views(finger):
        finger.wait_for_timeout(200)
        found = finger.evaluate(_SMALL, LEAST)
        if found:
            small[name] = found
    assert not small
