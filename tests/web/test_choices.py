"""The list of products: what a line says, and by which words and sizes it is found."""

from __future__ import annotations

import re

import pytest

from service.language.spoken import speaking
from service.sheets.catalogue import stored_sheets
from service.web.choices import product_named, region_named
from service.web.script_texts import SCRIPTS, texts_of
from tests.api.contract import Caller


@pytest.mark.parametrize(
    ("codes", "said"),
    [
        ((), ""),
        (("GB", "IE", "DE"), "western Europe"),
        (("US", "CA"), "North America"),
        (("GB", "IE"), "United Kingdom, Ireland"),
        (("PL", "CZ", "SK", "HU"), "Poland, Czechia and 2 more"),
        (("XX",), "XX"),
    ],
)
def test_a_region_is_named_in_a_few_words(codes: tuple[str, ...], said: str) -> None:
    assert region_named(codes) == said


def test_countries_have_their_names_in_the_spoken_language() -> None:
    with speaking("fr"):
        assert region_named(("GB", "IE")) == "Royaume-Uni, Irlande"


def test_every_stored_product_has_a_name() -> None:
    """'folded-leaflet' is no word for people."""
    assert [one.product for one in stored_sheets().values() if product_named(one.product) == one.product] == []
    assert product_named("tin-box") == "tin box"


def test_a_product_is_found_by_its_paper_size(caller: Caller) -> None:
    text = caller.get("/").get_data(as_text=True)
    line = next(one for one in text.splitlines() if 'value="booklet-a5-stapled"' in one)
    assert 'data-size="148.0 210.0"' in line
    assert " a5" in line
    dl = next(one for one in text.splitlines() if 'value="leaflet-dl"' in one)
    assert 'data-size="99.0 210.0 105.0 210.0 100.0 210.0 98.0 210.0"' in dl, "every size that is taken"
    assert "data-asks-order" not in line
    assert "data-asks-order" in next(one for one in text.splitlines() if 'value="book-a5-cover"' in one)


def test_the_texts_of_the_scripts_are_found() -> None:
    texts = list(texts_of(sorted(SCRIPTS.glob("*.js"))))
    assert "Choose the PDF that is to be checked." in texts
    assert ("{count} product", "{count} products") in texts


@pytest.mark.parametrize(("accepted", "country"), [("en-GB", "GB"), ("en-US,en;q=0.9", "US"), ("de-PL", "PL")])
def test_cards_of_the_readers_country_come_first(accepted: str, country: str, caller: Caller) -> None:
    page = caller.get("/", headers={"Accept-Language": accepted}).get_data(as_text=True)
    cards = [one for one in re.findall(r'<option value="([^"]+)"', page) if one.startswith("business-card-")]
    at_home = [country in stored_sheets()[one].regions or not stored_sheets()[one].regions for one in cards]
    assert at_home[0]
    assert at_home == sorted(at_home, reverse=True)
    assert sorted(cards) == sorted(one for one in stored_sheets() if one.startswith("business-card-"))
