"""From the first page to an understood finding: with the mouse, with the keys alone, on a phone, without script."""

from __future__ import annotations

import re
from pathlib import Path

from playwright.sync_api import Page, expect

from tests.browser.conftest import Begin, Visit


def send_card(visit: Visit, file: Path, spec: str = "business-card-85x55") -> Page:
    """To the result, by the short way."""
    page = visit.open(f"/?spec={spec}")
    page.locator("#file").set_input_files(file)
    page.get_by_role("button", name="Check this file").click()
    expect(page.locator("#headline")).to_be_visible()
    return page


def picture_shown(page: Page) -> None:
    expect(page.locator("#layers img").first).to_be_visible()
    expect(page.locator("#stage")).not_to_have_attribute("aria-busy", "true")


def test_a_wrong_card_is_sent_and_its_finding_followed_to_its_place(begin: Begin, files: Path) -> None:
    visit = begin()
    page = visit.open("/")
    page.get_by_role("combobox", name="Product or size").fill("85 x 55")
    page.get_by_role("option", name="Business card, 85 × 55 mm").click()
    expect(page.locator("#product-chosen")).to_contain_text("western Europe")
    with page.expect_file_chooser() as chooser:
        page.get_by_label("The PDF as you would send it to the printer").click()
    chooser.value.set_files(files / "card-no-bleed.pdf")
    visit.picture("upload-filled")
    page.get_by_role("button", name="Check this file").click()

    expect(page.get_by_role("heading", level=1)).to_have_text("Not ready: 1 thing to put right")
    finding = page.get_by_role("article", name="Bleed")
    expect(finding).to_contain_text("the printer asks for 3 mm")
    expect(finding).to_contain_text("What to do:")
    picture_shown(page)
    visit.picture("result-card-no-bleed")

    finding.get_by_role("button", name="Show it on page 2").click()
    expect(page.get_by_role("heading", name="Page 2 of 2")).to_be_visible()
    expect(finding).to_have_attribute("aria-current", "true")
    place = page.locator("#lines .place.must.marked").first
    expect(place).to_be_in_viewport()
    mark = page.locator(".place-mark:focus")
    expect(mark).to_have_accessible_name("Finding 1, Bleed, to put right")
    mark.click()
    expect(finding).to_be_focused()


def test_a_picture_is_enlarged_and_becomes_sharper(begin: Begin, files: Path) -> None:
    visit = begin()
    page = send_card(visit, files / "card-rgb-low-resolution.pdf")
    picture_shown(page)
    before = page.locator("#layers img").first.evaluate("one => [one.getBoundingClientRect().width, one.naturalWidth]")
    page.get_by_role("button", name="Larger").click()
    with page.expect_response(lambda one: "picture?show=none&ppi=300" in one.url):
        page.get_by_role("button", name="Larger").click()
    page.wait_for_function("one => document.querySelector('#layers img').naturalWidth > one", arg=before[1])
    assert page.locator("#layers img").first.evaluate("one => one.getBoundingClientRect().width") > before[0] * 2
    visit.picture("result-enlarged", whole=False)

    stage = page.locator("#stage")
    box = stage.bounding_box()
    assert box
    at = stage.evaluate("one => one.scrollLeft")
    page.mouse.move(box["x"] + 300, box["y"] + 200)
    page.mouse.down()
    page.mouse.move(box["x"] + 200, box["y"] + 150, steps=4)
    page.mouse.up()
    assert stage.evaluate("one => one.scrollLeft") == at + 100
    stage.press("0")
    page.wait_for_function("one => Math.abs(document.querySelector('#paper').clientWidth - one) < 2", arg=before[0])


def test_plates_are_switched_off_and_total_ink_is_shown(begin: Begin, files: Path) -> None:
    visit = begin()
    page = send_card(visit, files / "card-wrong-size.pdf")
    picture_shown(page)
    page.get_by_text("Inks one by one").click()
    copper = page.get_by_role("checkbox", name="Halyard Copper")
    expect(copper).to_be_checked()
    swatch = page.locator("#ink-list label", has_text="Halyard Copper").locator(".swatch")
    assert swatch.evaluate("one => getComputedStyle(one).backgroundColor").startswith("rgb(")
    copper.uncheck()
    expect(page.locator("#layers.inks img")).to_have_count(page.locator("#ink-list input:checked").count())
    picture = page.locator("#layers img").first
    expect(picture).to_have_attribute("alt", "Page 1 in the inks Cyan, Magenta, Yellow, Black, Halyard Foil")
    visit.picture("result-without-copper")
    copper.check()
    expect(page.locator("#layers:not(.inks) img")).to_have_count(1)
    page.get_by_role("radio", name="Total ink").check()
    expect(picture).to_have_attribute("alt", "Page 1: how much ink lies in each place, all inks together")
    visit.picture("result-total-ink")


def test_the_report_is_downloaded_and_the_check_forgotten(begin: Begin, files: Path) -> None:
    visit = begin()
    page = send_card(visit, files / "card-no-bleed.pdf")
    picture_shown(page)
    with page.expect_download() as download:
        page.get_by_role("link", name="Report as PDF").click()
    assert Path(download.value.path()).read_bytes().startswith(b"%PDF-")
    result = page.url
    page.get_by_text("More from this file").click()
    page.get_by_role("button", name="Delete this check and its file now").click()
    dialog = page.get_by_role("dialog", name="Delete this check and its file?")
    expect(dialog.get_by_role("button", name="Keep it")).to_be_focused()
    dialog.get_by_role("button", name="Delete both").click()
    expect(page.get_by_role("heading", level=1)).to_have_text("Check a PDF before it is printed")
    visit.may_be_refused = {404}
    page.goto(result)
    expect(page.get_by_role("heading", level=1)).to_have_text("There is no such check")


def test_keys_alone_lead_to_the_place_and_back(begin: Begin, files: Path) -> None:
    visit = begin()
    page = visit.open("/")
    page.on("filechooser", lambda chooser: chooser.set_files(files / "letterhead-guide-copy.pdf"))
    page.keyboard.press("Tab")
    expect(page.get_by_role("link", name="Skip to the content")).to_be_focused()
    page.keyboard.press("Enter")
    visit.tab_to(page.locator("#product"), most=3)
    page.keyboard.type("letterhead a4")
    page.keyboard.press("ArrowDown")
    expect(page.get_by_role("option", name="Letterhead, A4", exact=False).first).to_have_class("at")
    page.keyboard.press("Enter")
    expect(page.locator("#product")).to_have_value("Letterhead, A4")
    visit.tab_to(page.locator("#file"))
    page.keyboard.press("Space")
    expect(page.locator("#file")).to_have_value(re.compile("letterhead-guide-copy"))
    visit.tab_to(page.get_by_role("button", name="Check this file"))
    page.keyboard.press("Enter")

    expect(page.locator("#headline")).to_be_visible()
    first = page.get_by_role("button", name="Show it on page 1").first
    expect(first).to_be_visible()
    visit.tab_to(first)
    page.keyboard.press("Enter")
    expect(page.locator(".place-mark:focus")).to_have_accessible_name("Finding 1, Placeholder text, to put right")
    expect(page.locator("#lines .place.must.marked").first).to_be_in_viewport()
    page.keyboard.press("ArrowRight")
    page.keyboard.press("ArrowLeft")
    expect(page.locator(".place-mark:focus")).to_have_attribute("data-number", "1")
    page.keyboard.press("Enter")
    expect(page.locator("#finding-1")).to_be_focused()
    visit.tab_to(page.locator("#stage"))
    page.keyboard.press("+")
    expect(page.get_by_role("button", name="Smaller")).to_be_enabled()
    page.keyboard.press("0")
    expect(page.get_by_role("button", name="Smaller")).to_be_disabled()


def test_pages_are_turned_by_strip_buttons_and_keys(begin: Begin, files: Path) -> None:
    visit = begin()
    page = send_card(visit, files / "brochure-12-pages.pdf", "booklet-a5-stapled")
    picture_shown(page)
    page.get_by_role("button", name="Page 5", exact=True).click()
    expect(page.get_by_role("heading", name="Page 5 of 12")).to_be_visible()
    page.get_by_role("button", name="Next page").click()
    page.locator("#stage").press("PageDown")
    expect(page.get_by_role("heading", name="Page 7 of 12")).to_be_visible()
    expect(page.locator(".strip button[aria-current]")).to_have_accessible_name("Page 7")
    expect(page.locator(".strip button[aria-current] img")).to_be_visible()
    visit.picture("result-brochure")


def test_a_phone_leads_from_the_finding_to_the_picture_and_back(begin: Begin, files: Path) -> None:
    visit = begin("phone")
    page = send_card(visit, files / "card-rgb-low-resolution.pdf")
    visit.picture("phone-result")
    page.get_by_role("button", name="Show it on page 1").nth(1).tap()
    expect(page.locator("#lines .place.must.marked").last).to_be_in_viewport()
    picture_shown(page)
    visit.picture("phone-place", whole=False)
    page.get_by_role("link", name="Colour: read the finding").tap()
    expect(page.locator("#finding-2")).to_be_focused()
    expect(page.locator("#finding-2")).to_be_in_viewport()


def test_nothing_needs_to_be_scrolled_sideways_at_320_pixels(begin: Begin, files: Path) -> None:
    visit = begin("phone")
    page = visit.open("/")
    for width in (320, 390):
        page.set_viewport_size({"width": width, "height": 640})
        assert page.evaluate("document.documentElement.scrollWidth") <= width
    page = send_card(visit, files / "brochure-as-spreads.pdf", "booklet-a5-stapled")
    picture_shown(page)
    page.set_viewport_size({"width": 320, "height": 640})
    assert page.evaluate("document.documentElement.scrollWidth") <= 320
    visit.picture("phone-320")


def test_without_script_a_plain_form_leads_to_the_report(begin: Begin, files: Path) -> None:
    visit = begin(script=False)
    page = visit.open("/")
    page.get_by_label("Product", exact=True).select_option(label="Business card, 85 × 55 mm")
    page.locator("#file").set_input_files(files / "card-no-bleed.pdf")
    visit.picture("upload-without-script")
    page.get_by_role("button", name="Check this file").click()
    page.wait_for_url("**/report*")
    expect(page.get_by_role("heading", level=1)).to_be_visible()

    page.goto(page.url.split("/report")[0].replace("/v1/", "/"))
    expect(page.locator("#headline")).to_have_text("Not ready: 1 thing to put right")
    picture = page.get_by_role("img", name="Page 1 with its findings marked by their numbers")
    picture.scroll_into_view_if_needed()
    assert picture.evaluate("one => one.decode().then(() => one.naturalWidth)") > 300
    visit.picture("result-without-script")


def test_the_pages_speak_german_where_it_is_asked_for(begin: Begin, files: Path) -> None:
    visit = begin(language="de-DE")
    page = visit.open("/")
    expect(page.locator("html")).to_have_attribute("lang", "de")
    page.get_by_role("link", name="English").click()
    expect(page.locator("html")).to_have_attribute("lang", "en")
    page.locator("#product").fill("3.5 x 2 in")
    page.keyboard.press("ArrowDown")
    page.keyboard.press("Enter")
    page.locator("#file").set_input_files(files / "card-right.pdf")
    page.get_by_role("button", name="Check this file").click()
    expect(page.locator("#headline")).to_be_visible()
    expect(page.locator("html")).to_have_attribute("lang", "en")  # the choice made by hand goes along
    page.get_by_role("link", name="Deutsch").click()
    expect(page.locator("html")).to_have_attribute("lang", "de")
    picture_shown(page)
    visit.picture("result-german")
