"""Which pages hold two pages of the reader."""

from __future__ import annotations

import pytest

from service.product.spreads import double_pages, readers_pages, single_size
from service.sheets.model import TrimAsked
from tests.rules.measured import Box, document, page

A5 = TrimAsked(width_mm=148, height_mm=210)


@pytest.mark.parametrize(
    ("width", "height", "double"), [(296, 210, True), (297, 210, True), (300, 210, False), (148, 210, False), (148, 420, False)]
)
def test_twice_across_is_double_within_one_percent(width: float, height: float, double: bool) -> None:
    assert (double_pages((page(width, height),), A5) == {1}) is double


@pytest.mark.parametrize(("orientation", "double"), [("any", True), ("portrait", False), ("landscape", True)])
def test_the_single_page_has_an_orientation_that_the_sheet_takes(orientation: str, double: bool) -> None:
    landscape_pair = page(420, 148)
    asked = TrimAsked(width_mm=148, height_mm=210, orientation=orientation)  # type: ignore[arg-type]
    assert (double_pages((landscape_pair,), asked) == {1}) is double


def test_the_smallest_page_stands_for_the_single_page_where_the_sheet_has_none() -> None:
    pages = document(page(148, 210), page(296, 210), page(148, 210)).pages
    assert double_pages(pages, None) == {2}  # type: ignore[arg-type]
    assert double_pages((page(296, 210),), None) == frozenset()
    assert double_pages((), None) == frozenset()


def test_half_of_a_double_page_is_compared() -> None:
    assert single_size(page(296, 210), frozenset({1})) == (148, 210)
    assert single_size(page(296, 210), frozenset()) == (296, 210)


def test_the_reader_meets_the_left_half_of_a_spread_before_its_right_one() -> None:
    pages = (page(148, 210), page(296, 210, number=2))
    read = readers_pages(pages, A5)
    assert [(one.page.number, one.area_mm) for one in read] == [
        (1, Box(0, 0, 148, 210)), (2, Box(0, 0, 148, 210)), (2, Box(148, 0, 296, 210)),
    ]  # fmt: skip
