"""Every view, looked at and read aloud: pictures for a person, axe-core for what keeps people out (WCAG 2.2 A, AA)."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from playwright.sync_api import BrowserContext, Page, expect

from tests.page.conftest import LAYING, Workroom

AXE = Path(__file__).with_name("axe") / "axe.min.js"
RULES = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]
EXAMPLE = "Plaid suit for the autumn fair"


def violations(page: Page) -> list[str]:
    """Returns what axe-core finds on the page as it stands."""
    if not page.evaluate("() => typeof axe !== 'undefined'"):
        page.evaluate(AXE.read_text(encoding="utf-8") + "; 0")
    found = page.evaluate("rules => axe.run(document, { runOnly: rules })", RULES)
    assert len(found["passes"]) > 15, "axe looked at the page"
    return [f"{one['impact']}: {one['id']}: {one['nodes'][0]['html'][:160]}" for one in found["violations"]]


def views(page: Page) -> Iterator[str]:
    """Goes through the page view by view and names each when it is there."""
    yield "start"
    page.locator(".example", has_text=EXAMPLE).click()
    expect(page.locator("garment-picture")).to_be_visible(timeout=LAYING)
    expect(page.locator(".cells")).to_have_attribute("aria-busy", "false", timeout=LAYING)
    yield "plan"
    page.get_by_role("button", name="Worst seam").click()
    yield "plan-seams"
    page.get_by_role("button", name="Close", exact=True).click()
    page.locator('.ticket [data-field="jacket.front_edge"]').click()
    expect(page.locator("#choices .try").first).to_be_visible()
    yield "plan-choice"
    page.locator("#choices .try").first.click()
    expect(page.locator(".both garment-picture")).to_have_count(2)
    differences = page.locator(".tried-bar table tbody tr, .tried-bar p.small:not(.soft)")
    expect(differences.first).to_be_visible(timeout=LAYING)
    yield "plan-tried"
    page.get_by_role("button", name="Leave it").click()
    for side in ("Back", "Left", "Right"):
        page.get_by_role("button", name=side, exact=True).click()
        page.wait_for_timeout(400)
        yield f"plan-{side.lower()}"
    for part, shown in (
        ("Pieces", "piece-board .flat"),
        ("On the cloth", "laid-cloth .flat"),
        ("Facings", ".facings, .waiting-note:not([role])"),
        ("Drafting", ".lesson-drawing svg"),
    ):
        page.get_by_role("link", name=part, exact=True).click()
        expect(page.locator(shown).first).to_be_visible(timeout=LAYING)
        yield f"plan-{part.lower().replace(' ', '-')}"
    page.get_by_role("link", name="Measurements", exact=True).click()
    page.locator("#measure-field-bust_girth").focus()
    expect(page.locator(".measure-drawing svg")).to_be_visible()
    yield "measurements"
    page.get_by_role("link", name="Cloth", exact=True).click()
    expect(page.locator(".swatch")).to_be_visible()
    yield "cloth"
    page.get_by_role("link", name="Sheets", exact=True).click()
    expect(page.get_by_role("link", name="All of them in one file")).to_be_visible(timeout=LAYING)
    yield "sheets"
    page.get_by_role("button", name="Versions").click()
    expect(page.locator(".history li").first).to_be_visible()
    yield "versions"


@pytest.mark.slow
@pytest.mark.parametrize(
    ("size", "light"),
    [((1600, 1000), "light"), ((1024, 768), "light"), ((1600, 1000), "dark")],
    ids=["large", "small", "dark"],
)
def test_every_view_can_be_used_by_everybody(
    context: BrowserContext,
    workroom: Workroom,
    pictures: Callable[[Page, str], None],
    size: tuple[int, int],
    light: str,
) -> None:
    page = context.new_page()
    page.set_viewport_size({"width": size[0], "height": size[1]})
    page.emulate_media(color_scheme=light, reduced_motion="reduce")  # type: ignore[arg-type]
    page.goto(f"http://127.0.0.1:{workroom.port}/")
    expect(page.get_by_role("heading", name="A new commission")).to_be_visible()
    found: dict[str, list[str]] = {}
    sideways: list[str] = []
    for number, name in enumerate(views(page)):
        page.wait_for_timeout(200)
        pictures(page, f"{number:02}-{name}-{size[0]}x{size[1]}-{light}")
        wrong = violations(page)
        if wrong:
            found[name] = wrong
        if page.evaluate("() => document.documentElement.scrollWidth > innerWidth"):
            sideways.append(name)
    page.close()
    assert not found
    assert not sideways, "no view is wider than the window"


def test_the_first_views_can_be_used_by_everybody(page: Page) -> None:
    assert not violations(page)
    page.locator(".example", has_text=EXAMPLE).click()
    expect(page.locator("garment-picture")).to_be_visible(timeout=LAYING)
    assert not violations(page)
