"""Sheets of a catalogue are found by what was noted of them: those nearest to a page, however the page may be read."""

from __future__ import annotations

import pytest

from service.pdf.facts.page import Page
from service.sheets.printers.looking import found_by, is_found, nearest
from service.sheets.searching import sizes_meant
from tests.rules.measured import page
from tests.sheets.test_matching import bare

CARD = {"product": "business-card", "trim": {"width": "85 mm", "height": "55 mm"}, "bleed": {"minimum": "4.5 mm"}}
BANNER = {"product": "banner", "regions": ["DE"], "trim": {"width": "2 m", "height": "1 m", "scales": [1, 10]}}
BOOKLET = {"product": "booklet", "trim": {"width": "148 mm", "height": "210 mm"}}
NO_SIZE = {"product": "anything", "bleed": {"minimum": "3 mm"}}
SHEETS = [(str(one["product"]), found_by(one)) for one in (CARD, BANNER, BOOKLET, NO_SIZE)]


@pytest.mark.parametrize(
    ("seen", "product"),
    [
        (page(85, 55), "business-card"),
        (page(55, 85), "business-card"),
        (page(296, 210), "booklet"),
        (bare(94, 64), "business-card"),
        (page(200, 100), "banner"),
    ],
    ids=["as it is", "turned", "a pair of pages", "with the sheet's own bleed around it", "drawn at 1 : 10"],
)
def test_the_nearest_comes_first(seen: Page, product: str) -> None:
    assert nearest(seen, SHEETS)[0] == product


def test_what_asks_for_no_size_is_nothing_to_compare_with() -> None:
    assert set(nearest(page(85, 55), SHEETS)) == {"business-card", "banner", "booklet"}


def test_size_product_and_region_each_narrow_what_is_found() -> None:
    def found(trim: str | None = None, **filters: str) -> list[str]:
        return [one for one, facts in SHEETS if is_found(facts, filters, sizes_meant(trim) if trim else None)]

    assert found("5.5 x 8.5 cm") == ["business-card"]
    assert found("A5") == ["booklet"]
    assert found("A5", product="banner") == []
    assert found(region="FR") == ["business-card", "booklet", "anything"]
