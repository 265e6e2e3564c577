"""A sheet of one's own written in a browser: from a pasted text to a kept sheet and a tried file, and without script."""

from __future__ import annotations

import re
from pathlib import Path

from playwright.sync_api import Page, Route, expect

from tests.browser.conftest import Begin
from tests.browser.test_accessibility import BOTH, hold
from tests.patience import until

PUBLISHED = """Copperbeck Press. Business cards are trimmed to 85 x 55 mm, with 3 mm bleed on all sides.
Keep text 4 mm from the edge. Pictures need 300 dpi, never less than 200. CMYK only, fonts embedded. One or two pages."""


def field(page: Page, name: str) -> str:
    return page.locator(f'[id="{name}"]').input_value()


def test_a_clerk_pastes_a_text_answers_what_is_open_tries_a_file_and_keeps_the_sheet(begin: Begin, files: Path) -> None:
    visit = begin()
    visit.may_be_refused = {422}
    page = visit.open("/specs/new")
    page.get_by_label("A text that you have published").fill(PUBLISHED)
    page.get_by_role("button", name="Read it", exact=True).click()
    expect(page.get_by_role("heading", name="What was read")).to_be_visible()
    assert field(page, "/bleed/minimum") == "3 mm"

    height = page.locator('[id="/trim/height"]')
    refusal = page.locator('[id="problem:/trim/height"]')
    height.fill("5 fathoms")
    expect(page.locator("#part-state")).to_contain_text("1 answer does not fit yet")
    expect(refusal).to_have_text("")
    height.press("Tab")
    expect(refusal).to_contain_text("has a unit that is not known here")
    height.fill("50 mm")
    expect(refusal).to_have_text("")
    drawing = page.locator("#part-drawing img")
    expect(drawing).to_have_attribute("alt", re.compile(r"85 × 50 mm"))
    assert drawing.evaluate("one => one.decode().then(() => one.naturalWidth > 100)"), "the policy lets the drawing in"

    visit.tab_to(page.locator("summary", has_text="Areas that stay clear"), most=90)
    page.keyboard.press("Enter")
    visit.tab_to(page.locator('[id="/keep_clear"]').get_by_role("button", name="Add one"))
    page.keyboard.press("Enter")
    expect(page.locator('[id="/keep_clear/0/name"]')).to_be_focused()
    page.keyboard.type("Loyalty stamp")
    for side, text in enumerate(("60 mm", "35 mm", "80 mm", "48 mm")):
        page.locator(f'[id="/keep_clear/0/box/{side}"]').fill(text)
    page.get_by_text("The same as YAML").click()
    expect(page.locator("#yaml")).to_have_value(re.compile("Loyalty stamp"))
    page.get_by_text("What will be checked").click()
    page.locator('[id="/bleed/minimum"]').fill("deep")
    page.locator('[id="/bleed/minimum"]').press("Tab")
    expect(page.locator('[id="problem:/bleed/minimum"]')).not_to_be_empty()
    hold(page, "writing", visit, BOTH)
    page.locator('[id="/bleed/minimum"]').fill("3 mm")
    expect(page.locator("#part-state")).to_contain_text("All answers fit together")

    page.locator("#yaml").fill(page.locator("#yaml").input_value().replace("50 mm", "55 mm"))
    page.get_by_role("button", name="Take it over").click()
    expect(page.locator('[id="/trim/height"]')).to_have_value("55 mm")

    page.get_by_label("A PDF").set_input_files(files / "card-no-bleed.pdf")
    page.get_by_role("button", name="Check this file").click()
    with page.expect_popup() as tab:
        page.get_by_role("link", name="Read the result").click()
    expect(tab.value.get_by_role("article", name="Bleed")).to_contain_text("3 mm")

    page.get_by_role("button", name="Keep this sheet").click()
    expect(page.locator('[id="/title"]')).to_be_focused()
    expect(page.locator('[id="problem:/title"]')).to_contain_text("is missing")
    page.get_by_label("Name of the product").fill("Copperbeck card")
    page.get_by_label("Kind of product").select_option("business-card")
    page.get_by_role("button", name="Keep this sheet").click()
    expect(page.get_by_role("heading", level=1)).to_have_text("Copperbeck card")
    expect(page.locator("dl")).to_contain_text("Loyalty stamp")


MAYBE = """Our machine cuts text that is nearer than 4 mm to the edge.
Our machine may cut a finished size of 225 x 300 mm."""


def test_what_may_be_meant_stands_below_its_sentence_and_is_taken_over_at_once(begin: Begin) -> None:
    visit = begin()
    page = visit.open("/specs/new")
    page.get_by_label("A text that you have published").fill(MAYBE)
    page.get_by_role("button", name="Read it", exact=True).click()
    read = page.get_by_role("region", name="What was read")
    size = read.locator(".sentences > li", has_text="225 x 300 mm")
    expect(size.locator("q")).to_have_count(1)
    expect(size.get_by_role("button")).to_have_count(3)
    silent = read.locator("details")
    expect(silent.get_by_role("link").first).to_be_hidden()
    hold(page, "left-open", visit, BOTH)
    silent.locator("summary").click()
    visit.tab_to(size.get_by_role("button", name="Take over all 2"), most=90)
    page.keyboard.press("Enter")
    expect(page.locator('[id="/trim/width"]')).to_be_focused()
    assert (field(page, "/trim/width"), field(page, "/trim/height")) == ("225 mm", "300 mm")
    expect(size).to_have_count(0)
    expect(silent.get_by_role("link").first).to_be_visible()
    read.get_by_role("button", name=re.compile("^Take over.*Safety margin")).click()
    expect(page.locator('[id="/margin/minimum"]')).to_have_value("4 mm")
    assert field(page, "/trim/width") == "225 mm"


def test_what_may_be_meant_is_taken_over_without_script_on_a_phone_in_french(begin: Begin) -> None:
    visit = begin("phone", language="fr-FR", script=False)
    page = visit.open("/specs/new")
    page.locator('textarea[name="text"]').fill(MAYBE)
    page.locator('button[value="read"]').click()
    visit.picture("left-open-phone-french")
    assert page.evaluate("document.documentElement.scrollWidth") <= 390
    page.get_by_role("button", name="Reprendre les 2").first.click()
    assert (field(page, "/trim/width"), field(page, "/trim/height")) == ("225 mm", "300 mm")


def test_without_script_on_a_phone_in_german_the_main_parts_work(begin: Begin) -> None:
    visit = begin("phone", language="de-DE", script=False)
    page = visit.open("/specs/new?from=flyer-a5")
    page.get_by_label("Mindestens, an jeder Kante").first.fill("4,5 mm")
    page.get_by_role("button", name="Noch einmal ansehen").last.click()
    assert field(page, "/bleed/minimum") == "4.5 mm"
    expect(page.locator("#part-drawing img")).to_have_attribute("alt", re.compile("4,5"))
    visit.picture("writing-phone-german")
    assert page.evaluate("document.documentElement.scrollWidth") <= 390
    page.get_by_label("Name des Produkts").fill("Handzettel")
    page.get_by_role("button", name="Dieses Datenblatt speichern").click()
    expect(page.get_by_role("heading", level=1)).to_have_text("Handzettel")
    assert page.url.endswith("/specs/handzettel")


def test_what_was_written_before_the_script_was_there_is_looked_at_too(begin: Begin) -> None:
    """On a slow line the questions stand there before the script does."""
    visit = begin()
    page, held = visit.page, list[Route]()
    page.route(re.compile(r"/sheet_form\.js"), lambda route: held.append(route))
    page.goto(f"{visit.address}/specs/new?from=flyer-a5", wait_until="commit")
    page.locator('[id="/trim/height"]').fill("5 fathoms")
    expect(page.locator("html")).not_to_have_class("scripted")
    until(lambda: page.wait_for_timeout(20) or held, "the script asked for")
    held[0].continue_()
    expect(page.locator("#part-state")).to_contain_text("1 answer does not fit yet")
