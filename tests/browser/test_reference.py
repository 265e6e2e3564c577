"""The reference in its viewer: what it shows, a call tried out with a file, on a phone, without a breach of the policy."""

from __future__ import annotations

from pathlib import Path

from playwright.sync_api import expect

from service.api.description.operations import BY_CALL
from tests.browser.conftest import Begin
from tests.browser.test_accessibility import hold


def test_a_caller_reads_a_call_takes_its_code_and_tries_it_with_a_file(begin: Begin, files: Path) -> None:
    visit = begin()
    page = visit.open("/docs")
    expect(page.locator(".opblock")).to_have_count(len(BY_CALL))
    call = page.locator("#operations-Check_a_file-checkFile")
    call.locator(".opblock-summary-control").click()
    expect(call.get_by_text("curl -sS")).to_be_visible()
    call.get_by_role("button", name="JavaScript").click()
    expect(call.get_by_text("const form = new FormData()")).to_contain_text(f"{visit.address}/v1/checks")
    call.get_by_text("not-a-pdf", exact=False).first.click()
    expect(call.get_by_text('"type": "/problems/not-a-pdf"')).to_be_visible()
    page.emulate_media(color_scheme="dark")
    expect(page.locator("html.dark-mode")).to_be_attached()
    hold(page, "reference", visit, (("phone", "dark"),))
    call.get_by_role("button", name="Try it out").click()
    call.locator("input[type=file]").set_input_files(files / "card-no-bleed.pdf")
    call.locator("[data-property-name=spec] input[type=text]").fill("business-card-85x55")
    call.get_by_role("button", name="Execute").click()
    expect(call.locator(".live-responses-table")).to_contain_text('"verdict": "nonconforming"')


def test_guides_and_tables_are_for_everybody(begin: Begin) -> None:
    visit = begin(language="de-DE")
    for name, look in (("script", ("phone", "light")), ("settings", ("phone", "dark"))):
        hold(visit.open(f"/docs/{name}"), f"docs-{name}", visit, (look,))
        assert visit.page.evaluate("document.documentElement.scrollWidth <= innerWidth"), f"/docs/{name} is wider than a phone"
