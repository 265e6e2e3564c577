"""What goes wrong on the way is said where it belongs, and nothing that was filled in is lost."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import NamedTuple

import pytest
from playwright.sync_api import Page, expect

from tests.browser.conftest import Begin
from tests.browser.slowly import GO_ON
from tests.browser.test_story import picture_shown, send_card
from tests.running import Running, running

WRONG_SHEET = "trim: {width: 85 mm, height: 55 mm}\nbleed: {minimun: 3 mm}\n"
PUBLISHED = "Business cards: trimmed size 85 x 55 mm, 3 mm bleed on all sides.\nPictures need at least 300 dpi.\n"


class Slow(NamedTuple):
    """One check at a time, one more may wait; it takes small files and measures when it is told to."""

    service: Running
    data: Path

    def go_on(self) -> None:
        (self.data / GO_ON).touch()


@pytest.fixture
def slow(tmp_path: Path) -> Iterator[Slow]:
    data, measure = tmp_path / "data", "tests.browser.slowly:measure"
    few = {"WORKERS": "1", "QUEUE_LENGTH": "1", "MAXIMUM_UPLOAD": "900 kB", "STOP_SECONDS": "0", "CHECK_SECONDS": "240"}
    with running(data, measure, **few, FIRST_PASS_SECONDS="240") as service:
        slow = Slow(service, data)
        yield slow
        slow.go_on()


def press_check(page: Page) -> None:
    page.get_by_role("button", name="Check this file").click()


def test_an_empty_form_says_what_is_missing_one_after_the_other(begin: Begin) -> None:
    page = begin().open("/")
    press_check(page)
    expect(page.locator("#product")).to_be_focused()
    expect(page.locator("#product-problem")).to_contain_text("Choose a product")
    page.locator("#product").fill("postcard a6")
    page.keyboard.press("ArrowDown")
    page.keyboard.press("Enter")
    expect(page.locator("#product-problem")).to_be_empty()
    press_check(page)
    expect(page.locator("#file")).to_be_focused()
    expect(page.locator("#file-problem")).to_have_text("Choose the PDF that is to be checked.")
    expect(page.locator("#product")).to_have_value("Postcard, A6")


def test_a_picture_that_is_no_pdf_is_named_at_the_file(begin: Begin, tmp_path: Path) -> None:
    visit = begin()
    visit.may_be_refused = {415}
    (tmp_path / "card.pdf").write_bytes(b"\x89PNG\r\n\x1a\n" + bytes(2000))
    page = visit.open("/?spec=business-card-85x55")
    page.locator("#file").set_input_files(tmp_path / "card.pdf")
    press_check(page)
    expect(page.locator("#file-problem")).to_contain_text("a PNG picture")
    expect(page.locator("#file")).to_be_focused()
    expect(page.locator("#file")).to_have_attribute("aria-invalid", "true")
    expect(page.locator("#product")).to_have_value("Business card, 85 × 55 mm")
    assert page.locator("#file").evaluate("one => one.files.length") == 1
    visit.picture("upload-refused")


def test_a_sheet_with_a_misspelled_key_is_refused_at_the_sheet(begin: Begin, files: Path) -> None:
    visit = begin()
    visit.may_be_refused = {422}
    page = visit.open("/")
    page.get_by_text("My printer publishes a spec of its own").click()
    page.get_by_label("What the printer says about files").fill(WRONG_SHEET)
    page.get_by_role("button", name="Read it").click()
    page.get_by_role("button", name="Use this sheet").click()
    page.locator("#file").set_input_files(files / "card-no-bleed.pdf")
    press_check(page)
    sheet = page.get_by_label("The sheet that the file is checked against")
    expect(sheet).to_be_focused()
    expect(page.locator("#own-sheet-problem")).to_contain_text("minimum")
    assert sheet.input_value() == WRONG_SHEET


def test_a_printers_published_text_is_read_and_used(begin: Begin, files: Path) -> None:
    visit = begin()
    page = visit.open("/")
    page.get_by_text("My printer publishes a spec of its own").click()
    page.get_by_label("What the printer says about files").fill(PUBLISHED)
    page.get_by_role("button", name="Read it").click()
    expect(page.locator("#own-values")).to_contain_text("bleed.minimum: 3 mm")
    visit.picture("upload-own-spec")
    page.get_by_role("button", name="Use this sheet").click()
    page.locator("#file").set_input_files(files / "card-no-bleed.pdf")
    press_check(page)
    expect(page.locator("#finding-1")).to_contain_text("Bleed")
    page.get_by_role("link", name="Check another file").click()
    expect(page.get_by_text("The file is checked against your printer's own spec")).to_be_visible()
    page.locator("#file").set_input_files(files / "card-right.pdf")
    press_check(page)
    expect(page.locator("h1")).to_contain_text("Ready")


def test_a_file_finds_its_product(begin: Begin, files: Path) -> None:
    page = begin().open("/")
    page.get_by_role("button", name="I do not know: find it from my file").click()
    expect(page.locator("#file")).to_be_focused()
    page.locator("#file").set_input_files(files / "card-no-bleed.pdf")
    page.get_by_role("button", name="Take this: Business card, 85 × 55 mm").click()
    expect(page.locator("#product")).to_have_value("Business card, 85 × 55 mm")


def test_a_broken_file_has_a_result_without_pictures(begin: Begin, tmp_path: Path) -> None:
    (tmp_path / "cut.pdf").write_bytes(b"%PDF-1.4\n%\xe2\xe3\xcf\xd3\nnothing more")
    visit = begin()
    page = send_card(visit, tmp_path / "cut.pdf")
    expect(page.locator("#finding-1")).to_be_visible()
    expect(page.get_by_text("No page of this file can be shown.")).to_be_visible()
    expect(page.locator(".findings > ul > li")).to_have_count(1)  # one reason for all that was not measured
    visit.picture("result-broken-file")


def test_progress_is_shown_until_the_result_is_there_and_a_full_queue_is_said(begin: Begin, slow: Slow, files: Path) -> None:
    """Also what is larger than the service takes: this one takes little."""
    small, large = files / "card-rgb-low-resolution.pdf", files / "brochure-12-pages.pdf"
    visit = begin(at=slow.service)
    page = visit.open("/?spec=business-card-85x55")
    page.locator("#file").set_input_files(large)
    press_check(page)
    expect(page.locator("#file-problem")).to_contain_text("this service takes up to 900 kB")
    expect(page.locator("#file")).to_be_focused()
    page.locator("#file").set_input_files(small)
    press_check(page)
    expect(page.get_by_role("progressbar", name="Measuring: page 3 of 12")).to_have_attribute("value", "3")
    visit.picture("running")

    waiting = begin("phone", at=slow.service)
    second = waiting.open("/?spec=business-card-85x55")
    second.locator("#file").set_input_files(small)
    press_check(second)
    expect(second.get_by_text("Waiting for its turn").first).to_be_visible()
    refused = begin(at=slow.service)
    refused.may_be_refused = {429}
    third = refused.open("/?spec=business-card-85x55")
    third.locator("#file").set_input_files(small)
    press_check(third)
    expect(third.locator("#send-problem")).to_contain_text("Too many checks are waiting")
    expect(third.get_by_role("button", name="Check this file")).to_be_focused()

    slow.go_on()
    expect(page.locator("#headline")).to_have_text("Not ready: 2 things to put right")
    picture_shown(page)
    expect(second.locator("#headline")).to_be_visible()
    second.goto("about:blank")  # or it asks for its pictures while the service ends

