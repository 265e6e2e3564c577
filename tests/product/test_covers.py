"""A cover laid out flat: back 148 mm, spine, front 148 mm."""

from __future__ import annotations

from dataclasses import replace

import pytest

from service.product.covers import laid_flat, spine_area, spine_asked_mm, spine_folds
from service.sheets.model import SpineAsked
from tests.rules.measured import Box, page

SPINE = SpineAsked(page_width_mm=148, caliper_mm=0.1, cover_caliper_mm=0.3, inner_pages=96)


@pytest.mark.parametrize(("width", "flat"), [(148, False), (222, False), (222.1, True), (301, True)])
def test_a_cover_is_flat_from_one_and_a_half_pages_on(width: float, flat: bool) -> None:
    assert bool(laid_flat([page(width, 210)], SPINE)) is flat


def test_the_spine_lies_between_two_pages() -> None:
    assert spine_area(page(302, 210), SPINE) == Box(148, 0, 154, 210)
    assert spine_area(page(296, 210), SPINE) == Box(148, 0, 148, 210)
    assert spine_area(page(295, 210), SPINE) is None
    assert spine_folds(Box(148, 0, 154, 210)) == (Box(148, 0, 148, 210), Box(154, 0, 154, 210))


def test_the_spine_is_as_thick_as_the_leaves_and_the_cover_twice() -> None:
    """48 leaves of 0.1 mm and 2 × 0.3 mm; 97 pages need a leaf more."""
    assert spine_asked_mm(SPINE) == pytest.approx(5.4)
    assert spine_asked_mm(replace(SPINE, inner_pages=97)) == pytest.approx(5.5)
    assert spine_asked_mm(replace(SPINE, inner_pages=None)) is None
    assert spine_asked_mm(replace(SPINE, caliper_mm=None)) is None
