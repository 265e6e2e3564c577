"""The sheets as pages for people: all products, and one product with what is asked of it."""

from __future__ import annotations

import re
from html import unescape

import pytest

from service.language.alphabet import by_letters
from service.web.pages import POLICY
from tests.api.contract import Caller


def text_of(caller: Caller, address: str) -> str:
    answer = caller.get(address)
    assert answer.headers["Content-Security-Policy"] == POLICY
    return unescape(answer.get_data(as_text=True))


def listed(page: str) -> set[str]:
    return set(re.findall(r'href="/specs/([a-z0-9-]+)', page)) - {"new"}


def test_every_sheet_is_listed_once_under_its_family(caller: Caller) -> None:
    page = text_of(caller, "/specs")
    assert len(listed(page)) == caller.get("/v1/specs").get_json()["total"]
    assert page.index("<h2>Booklet</h2>") < page.index("/specs/booklet-a5-stapled") < page.index("<h2>Flyer</h2>")


def test_products_are_found_by_word_kind_and_country(caller: Caller) -> None:
    assert "flyer-a5" in listed(text_of(caller, "/specs?q=A5+flyer"))
    assert "flyer-a4" not in listed(text_of(caller, "/specs?q=A5+flyer"))
    assert all("booklet" in one for one in listed(text_of(caller, "/specs?product=booklet")))
    american = listed(text_of(caller, "/specs?product=business-card&region=US"))
    assert "business-card-us" in american
    nothing = text_of(caller, "/specs?q=zeppelin")
    assert (listed(nothing), "No product fits." in nothing) == (set(), True)


def test_countries_and_kinds_stand_by_their_letters(caller: Caller) -> None:
    german = text_of(caller, "/specs?lang=de")
    countries = re.findall(r'<option value="[A-Z]{2}">([^<]+)', german)
    assert countries.index("Dänemark") < countries.index("Deutschland")
    assert countries.index("Norwegen") < countries.index("Österreich") < countries.index("Polen")
    kinds = re.findall(r'<option value="[a-z-]+">([^<]+)', text_of(caller, "/specs?lang=fr"))
    assert kinds == sorted(kinds, key=by_letters)


def test_a_product_shows_its_drawing_and_what_is_asked(caller: Caller) -> None:
    page = text_of(caller, "/specs/letterhead-a4-din-5008-a")
    (drawing,) = re.findall(r'<img class="drawing" src="([^"]+)"', page)
    assert caller.get(drawing).mimetype == "image/svg+xml"
    for said in ("Trimmed size", "210 × 297 mm", "DIN 5008 form A", "Embed all fonts."):
        assert said in page
    for kind in ("application/pdf", "image/svg+xml"):
        (template,) = re.findall(rf'href="([^"]+/template\?format={kind[-3:] if kind.endswith("pdf") else "svg"}[^"]*)"', page)
        assert caller.get(template).mimetype == kind


def test_a_cover_asks_for_the_order_and_draws_by_it(caller: Caller) -> None:
    bare = text_of(caller, "/specs/book-a5-cover")
    assert "<img" not in bare
    assert 'name="inner_pages"' in bare
    page = text_of(caller, "/specs/book-a5-cover?inner_pages=96&caliper_mm=0,11")
    (drawing,) = re.findall(r'<img class="drawing" src="([^"]+)"', page)
    assert caller.get(drawing).status_code == 200
    (template,) = re.findall(r'href="([^"]+/template\?format=pdf[^"]*)"', page)
    assert caller.get(template).status_code == 200


@pytest.mark.parametrize("order", ["inner_pages=many", "inner_pages=0", "caliper_mm=thick", "caliper_mm=99"])
def test_an_order_that_makes_no_sense_is_told_at_the_form(caller: Caller, order: str) -> None:
    assert 'role="alert"' in text_of(caller, f"/specs/book-a5-cover?{order}")


def test_a_product_is_told_in_each_language(caller: Caller) -> None:
    assert "Was das Datenblatt verlangt" in text_of(caller, "/specs/flyer-a5?lang=de")
    assert "lang=fr" in text_of(caller, "/specs/flyer-a5?lang=fr")


def test_a_sheet_of_ones_own_has_a_page_for_each_revision(caller: Caller) -> None:
    caller.post("/v1/specs", json={"id": "halyard-card", "extends": "business-card-85x55", "title": "Halyard <card>"})
    assert "Halyard <card>" in text_of(caller, "/specs/halyard-card")
    assert "Halyard &lt;card&gt;" in caller.get("/specs/halyard-card").get_data(as_text=True)
    assert "revision=1" in text_of(caller, "/specs/halyard-card?revision=1")
    assert "halyard-card" in listed(text_of(caller, "/specs"))
