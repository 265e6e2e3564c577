"""Every view of the pages against WCAG 2.2 A and AA, as far as axe-core can see it: light and dark, on a phone and on a desk."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache
from importlib.resources import files as files_of
from pathlib import Path
from typing import Any

from playwright.sync_api import Page, expect

from tests.browser.conftest import SIZES, Begin, Visit
from tests.browser.test_refusals import PUBLISHED, Slow, slow  # noqa: F401  (a fixture)
from tests.browser.test_story import picture_shown, send_card
from tests.sweeps import WHOLE

LEVELS = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"]
EVERY_LOOK = (("desktop", "light"), ("desktop", "dark"), ("phone", "light"), ("phone", "dark"))
BOTH = (("desktop", "light"), ("phone", "dark"))
"""Both sizes and both schemes: for states of a page that was held in every look before."""
MOST = EVERY_LOOK if WHOLE else BOTH
"""For a page of the same style as one that was held in every look."""


@cache
def axe() -> str:
    return (files_of("axe_playwright_python") / "axe.min.js").read_text(encoding="utf-8")


def hold(page: Page, view: str, visit: Visit, looks: tuple[tuple[str, str], ...] = EVERY_LOOK) -> None:
    """No violation in any of these looks. The script comes in by the debugger: the page's policy stays in force."""
    if not page.evaluate("'axe' in window"):
        page.evaluate(axe())
    for size, scheme in looks:
        width, height = SIZES[size]
        page.set_viewport_size({"width": width, "height": height})
        page.emulate_media(color_scheme="dark" if scheme == "dark" else "light")
        visit.picture(f"axe-{view}-{size}-{scheme}")
        found: dict[str, Any] = page.evaluate(
            "levels => axe.run(document, {runOnly: {type: 'tag', values: levels}, resultTypes: ['violations']})", LEVELS
        )
        assert list(_told(found)) == [], f"{view}, {size}, {scheme}"


def _told(found: dict[str, Any]) -> Iterator[str]:
    for violation in found["violations"]:
        for node in violation["nodes"]:
            yield f"{violation['id']}: {node['html'][:200]} ({node['failureSummary']})"


def test_the_upload_page_in_every_state(begin: Begin, tmp_path: Path) -> None:
    visit = begin()
    visit.may_be_refused = {415}
    page = visit.open("/")
    hold(page, "upload-empty", visit)
    page.locator("#product").fill("a5")
    hold(page, "upload-list", visit, BOTH)
    page.keyboard.press("ArrowDown")
    page.keyboard.press("Enter")
    page.get_by_text("My printer publishes a spec of its own").click()
    page.get_by_label("What the printer says about files").fill(PUBLISHED)
    page.get_by_role("button", name="Read it").click()
    expect(page.locator("#own-values li")).not_to_have_count(0)
    (tmp_path / "card.pdf").write_bytes(b"no PDF")
    page.locator("#file").set_input_files(tmp_path / "card.pdf")
    page.get_by_role("button", name="Check this file").click()
    expect(page.locator("#file-problem")).not_to_be_empty()
    hold(page, "upload-error", visit, MOST)


def test_the_page_of_a_running_check(slow: Slow, begin: Begin, files: Path) -> None:  # noqa: F811
    visit = begin(at=slow.service)
    page = visit.open("/?spec=business-card-85x55")
    page.locator("#file").set_input_files(files / "card-rgb-low-resolution.pdf")
    page.get_by_role("button", name="Check this file").click()
    expect(page.get_by_role("progressbar", name="Measuring: page 3 of 12")).to_be_visible()
    hold(page, "running", visit, MOST)


def test_the_result_in_every_view(begin: Begin, files: Path) -> None:
    visit = begin()
    page = send_card(visit, files / "card-wrong-size.pdf")
    picture_shown(page)
    hold(page, "result", visit)
    page.get_by_role("button", name="Show it on page 1").first.click()
    hold(page, "result-place", visit, BOTH)
    page.get_by_text("Inks one by one").click()
    page.get_by_role("checkbox", name="Black").uncheck()
    expect(page.locator("#layers.inks")).to_be_visible()
    page.get_by_text("More from this file").click()
    hold(page, "result-inks", visit, BOTH)
    page.get_by_role("radio", name="Total ink").check()
    expect(page.locator("#scale")).to_be_visible()
    hold(page, "result-total", visit, MOST)
    page.get_by_role("button", name="Delete this check and its file now").click()
    hold(page, "result-forget", visit, BOTH)


def test_a_result_with_remarks_and_one_without_findings(begin: Begin, files: Path) -> None:
    visit = begin()
    page = send_card(visit, files / "brochure-email-preview.pdf", "booklet-a5-stapled")
    picture_shown(page)
    hold(page, "result-brochure", visit, MOST)
    page = send_card(visit, files / "card-right.pdf")
    picture_shown(page)
    hold(page, "result-right", visit, BOTH)


def test_the_products_and_one_of_them(begin: Begin) -> None:
    visit = begin()
    hold(visit.open("/specs?q=a5"), "products", visit, MOST)
    page = visit.open("/specs/book-a5-cover")
    page.get_by_label("Inner pages").fill("96")
    page.get_by_label("Thickness of one leaf in mm").fill("0.11")
    page.get_by_role("button", name="Draw it").click()
    drawing = page.locator("img.drawing")
    expect(drawing).to_be_visible()
    assert drawing.evaluate("one => one.complete && one.naturalWidth > 100"), "the policy lets the drawing in"
    hold(page, "product", visit, MOST)
