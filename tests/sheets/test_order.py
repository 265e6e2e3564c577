"""What one order knows, filled into the sheet."""

from __future__ import annotations

from dataclasses import replace

import pytest

from service.language.spoken import speaking
from service.sheets.model import BleedAsked, ColorAsked, PagesAsked, Paper, SpecSheet, SpineAsked
from service.sheets.order import OrderRefused, for_order

COVER = SpecSheet(spine=SpineAsked(page_width_mm=148))


def test_pages_and_caliper_of_the_order_fill_the_spine() -> None:
    spine = for_order(COVER, {"inner_pages": 96, "caliper_mm": 0.11}).spine
    assert spine is not None
    assert (spine.inner_pages, spine.caliper_mm, spine.page_width_mm) == (96, 0.11, 148)


def test_what_the_order_does_not_say_stays_as_the_sheet_has_it() -> None:
    spine = for_order(SpecSheet(spine=SpineAsked(page_width_mm=148, caliper_mm=0.1)), {"inner_pages": 8}).spine
    assert spine is not None
    assert (spine.inner_pages, spine.caliper_mm) == (8, 0.1)


def test_a_sheet_without_a_spine_stays_as_it_is() -> None:
    sheet = SpecSheet(bleed=BleedAsked(minimum_mm=3))
    assert for_order(sheet, {"inner_pages": 96}) == sheet


@pytest.mark.parametrize(
    ("order", "pointer"),
    [
        ({"inner_page": 96}, "/inner_page"),
        ({"inner_pages": 0}, "/inner_pages"),
        ({"inner_pages": True}, "/inner_pages"),
        ({"inner_pages": 96.0}, "/inner_pages"),
        ({"caliper_mm": 0}, "/caliper_mm"),
        ({"caliper_mm": "0.11"}, "/caliper_mm"),
        ({"caliper_mm": float("nan")}, "/caliper_mm"),
        ([96], ""),
        ("96", ""),
    ],
)
def test_an_order_that_says_something_else_is_refused(order: object, pointer: str) -> None:
    with pytest.raises(OrderRefused) as refused:
        for_order(COVER, order)
    assert [place for place, _ in refused.value.errors] == [pointer]


def test_an_unknown_key_is_told_the_nearest_one() -> None:
    with pytest.raises(OrderRefused, match="caliper_mm"):
        for_order(COVER, {"calliper_mm": 0.11})


# --- Paper --------------------------------------------------------------------------------------------------------------

ON_PAPER = SpecSheet(
    pages=PagesAsked(minimum=8, maximum=64),
    color=ColorAsked(ink_limit_percent=300, ink_preferred_percent=290),
    papers=(Paper(name="Uncoated", ink_limit_percent=280), Paper(name="170 g/m²", maximum_pages=32)),
)


def test_the_paper_of_the_order_brings_its_limits() -> None:
    uncoated = for_order(ON_PAPER, {"paper": "uncoated"})
    assert uncoated.color == ColorAsked(ink_limit_percent=280, ink_preferred_percent=280)
    assert uncoated.pages == ON_PAPER.pages
    heavy = for_order(ON_PAPER, {"paper": "170 g/m²"})
    assert heavy.pages == PagesAsked(minimum=8, maximum=32)
    assert heavy.color == ON_PAPER.color


def test_of_counts_that_are_listed_a_paper_takes_the_lower_ones() -> None:
    listed = replace(ON_PAPER, pages=PagesAsked(allowed=(28, 32, 36)))
    assert for_order(listed, {"paper": "170 g/m²"}).pages == PagesAsked(allowed=(28, 32))


def test_without_a_paper_the_sheet_stays_as_it_is() -> None:
    assert for_order(ON_PAPER, {}) == ON_PAPER
    assert for_order(COVER, {"paper": "coated"}) == COVER


@pytest.mark.parametrize("paper", ["bible paper", 90, ["Uncoated"]])
def test_a_paper_that_the_sheet_does_not_name_is_refused(paper: object) -> None:
    with pytest.raises(OrderRefused) as refused:
        for_order(ON_PAPER, {"paper": paper})
    assert [pointer for pointer, _ in refused.value.errors] == ["/paper"]
    assert "Uncoated, 170 g/m²" in str(refused.value)


def test_an_order_is_refused_in_the_readers_language() -> None:
    with speaking("de"), pytest.raises(OrderRefused) as refused:
        for_order(COVER, {"pages": 96, "caliper_mm": 0})
    assert [pointer for pointer, _ in refused.value.errors] == ["/pages", "/caliper_mm"]
    assert "meinten Sie" in refused.value.errors[0][1]
    assert "Millimetern" in refused.value.errors[1][1]
