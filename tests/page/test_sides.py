"""The garment looked at from its sides: what is there, how it slides, and a piece pointed at is marked as one."""

from __future__ import annotations

import pytest
from playwright.sync_api import Page, expect

from tests.page.test_page import open_example, state_of


def pieces_touched(page: Page) -> list[str]:
    return page.locator("path.touch").evaluate_all("paths => paths.map(path => path.dataset.piece)")


def test_a_side_shows_its_own_half_and_its_cloth_slides(page: Page) -> None:
    commission = open_example(page)
    for side, other in (("Left", ".right"), ("Right", ".left")):
        page.get_by_role("button", name=side, exact=True).click()
        expect(page.locator(f'path.touch[data-piece="upper-sleeve{other}"]')).to_have_count(0)
        own = f".{side.lower()}"
        expect(page.locator(f'path.touch[data-piece="upper-sleeve{own}"]')).to_have_count(1)
        found = pieces_touched(page)
        assert not [piece for piece in found if piece.endswith(other)]
        assert {f"front{own}", f"back{own}", f"side{own}", "top-collar"} <= set(found)
    page.locator('path.touch[data-piece="skirt-back.right"][tabindex="0"]').focus()
    before = state_of(page, commission)
    page.keyboard.press("ArrowDown")
    expect(page.locator(".caption.live")).to_contain_text("Skirt back, right")
    page.keyboard.press("Escape")
    expect(page.locator(".caption.live")).to_have_count(0)
    assert state_of(page, commission)["revision"] == before["revision"]


@pytest.mark.parametrize(("piece", "seen"), [("skirt-front", 1), ("top-collar", 4)])
def test_a_piece_pointed_at_is_marked_wherever_it_is_seen_and_as_one(page: Page, piece: str, seen: int) -> None:
    """In front a skirt cut whole is one outline; of the collar its stand and both its falls are seen."""
    open_example(page)
    page.mouse.move(2, 2)
    parts = page.locator(f'path.touch[data-piece="{piece}"]')
    expect(parts.first).to_be_attached()
    parts.last.dispatch_event("pointerenter")
    marked = page.locator("path.touch[data-over]")
    assert marked.evaluate_all("paths => [...new Set(paths.map(path => path.dataset.piece))]") == [piece]
    assert marked.count() == parts.count() <= seen
    parts.last.dispatch_event("pointerleave")
    expect(marked).to_have_count(0)


def test_chalk_figures_lie_clear_of_each_other_and_beside_their_marks(page: Page) -> None:
    """On a garment that is even left and right, what misses on both sides is told at the same height on both."""
    open_example(page)
    for side in ("Front", "Back"):
        page.get_by_role("button", name=side, exact=True).click()
        expect(page.locator(".chalk rect").first).to_be_attached()
        tags = page.locator(".chalk rect").evaluate_all(
            "rects => rects.map(rect => { const { left, right, top, bottom } = rect.getBoundingClientRect();"
            " return [left, right, top, bottom]; })"
        )
        assert len(tags) >= 2
        for index, (left, right, top, bottom) in enumerate(tags):
            for other in tags[:index]:
                assert right <= other[0] or other[1] <= left or bottom <= other[2] or other[3] <= top
        heights = sorted(tag[2] for tag in tags)
        assert heights[::2] == pytest.approx(heights[1::2], abs=3.0)
