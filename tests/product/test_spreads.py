"""Which pages hold two pages of the reader."""

from __future__ import annotations

import pytest

from service.product.spreads import accepts, double_pages, readers_pages, single_size
from service.sheets.model import Orientation, TrimAsked
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
    ]


@pytest.mark.parametrize(
    ("width", "height", "double"),
    [(299, 210, True), (299.2, 210, False), (293, 210, True), (292.8, 210, False), (296, 212, True), (296, 212.3, False)],
)
def test_the_halves_of_a_spread_may_be_off_by_a_hundredth_in_both_directions(width: float, height: float, double: bool) -> None:
    """A hundredth of 148 × 210 mm and 0.05 mm of slack: 146.47 to 149.53 × 207.85 to 212.15 mm."""
    assert (double_pages((page(width, height),), A5) == {1}) is double


@pytest.mark.parametrize(
    ("width", "height", "accepted"),
    [
        (148, 210, True), (210, 148, True), (148.54, 209.46, True), (148.56, 210, False), (148, 209.44, False),
        (148, 148, False), (210, 210, False), (210, 150, False),
    ],
)
def test_the_size_of_the_product_is_accepted_either_way_up(width: float, height: float, accepted: bool) -> None:
    assert accepts(A5, width, height) is accepted


def test_a_page_of_the_single_size_is_no_spread_however_much_it_may_differ() -> None:
    assert double_pages((page(200, 100),), TrimAsked(width_mm=100, height_mm=100, tolerance_mm=100)) == frozenset()


@pytest.mark.parametrize("orientation", ["portrait", "landscape", "any"])
def test_two_square_pages_side_by_side_are_a_spread(orientation: Orientation) -> None:
    assert double_pages((page(200, 100),), TrimAsked(width_mm=100, height_mm=100, orientation=orientation)) == {1}


def test_without_a_size_the_smallest_page_is_the_single_one_and_not_the_narrowest() -> None:
    pages = (page(148, 210), page(296, 210, number=2), page(120, 400, number=3))
    assert double_pages(pages, None) == {2}
