"""Where a sheet folds, and which panels fold together; the sums are done here by hand."""

from __future__ import annotations

import pytest

from service.product.folds import fold_line, fold_lines, fold_together, is_off, panels_between
from service.sheets.model import Fold, FoldType
from tests.rules.measured import Box, page

UPRIGHT, LEVEL = Fold(at_mm=97, axis="vertical"), Fold(at_mm=60, axis="horizontal")


def test_an_upright_fold_counts_from_the_left_on_the_front_and_from_the_right_on_the_back() -> None:
    front, back = page(297, 210), page(297, 210, number=2)
    assert fold_line(UPRIGHT, front) == Box(97, 0, 97, 210)
    assert fold_line(UPRIGHT, back) == Box(200, 0, 200, 210)


def test_a_level_fold_counts_from_the_top_on_both_sides() -> None:
    for number in (1, 2):
        assert fold_line(LEVEL, page(297, 210, number=number)) == Box(0, 60, 297, 60)


def test_a_fold_beyond_the_page_is_not_on_it() -> None:
    card = page(85, 55)
    assert fold_line(UPRIGHT, card) is None
    assert fold_lines([UPRIGHT, LEVEL, Fold(at_mm=40, axis="vertical")], card) == [Box(40, 0, 40, 55)]


def test_panels_are_what_lies_between_the_folds_in_whatever_order_they_come() -> None:
    assert panels_between([197, 97], 297) == [97, 100, 100]
    assert panels_between([], 210) == [210]


@pytest.mark.parametrize(("panels", "off"), [([97, 0, 200], True), ([310, -13], True), ([0.05, 210], True), ([0.06, 210], False)])
def test_a_panel_without_width_means_a_fold_off_the_page_or_two_in_one(panels: list[float], off: bool) -> None:
    assert is_off(panels) is off
    if off:
        assert not fold_together(panels, None)


@pytest.mark.parametrize(
    ("wanted", "panels", "folds"),
    [
        ("half", [105, 105], True), ("half", [105.5, 104.45], True), ("half", [105.6, 104.5], False),
        ("zigzag", [99, 99, 99], True), ("zigzag", [99, 98, 100.1], False), ("zigzag", [99, 98.95, 100], True),
        ("zigzag", [74, 74, 74, 74], True), ("zigzag", [99, 100, 98, 99], False),
        ("roll", [97, 100, 100], True), ("roll", [100, 100, 97], True), ("roll", [99, 100, 100], True),
        ("roll", [99.1, 100, 100], False), ("roll", [97, 100, 99], True), ("roll", [97, 100, 98.9], False),
        ("roll", [95, 97, 98], True), ("roll", [95, 95.9, 98, 98], False), ("roll", [95, 96, 98, 98], True),
        ("gate", [99.5, 200, 99.5], True), ("gate", [100, 200, 99.1], False), ("gate", [100, 200, 99], True),
        ("gate", [98, 100, 100, 98], True), ("gate", [99.03, 100, 100, 98], True),
        ("gate", [99.2, 100, 100, 98], False), ("gate", [98, 100, 101, 98], True),
        ("gate", [98, 100, 101.2, 98], False), ("gate", [98, 100, 100, 99.2], False), ("gate", [98, 100, 100, 98, 50], False),
    ],
)
def test_panels_suit_a_type_of_fold(wanted: FoldType, panels: list[float], folds: bool) -> None:
    assert fold_together(panels, wanted) is folds


def test_without_a_type_any_that_suits_will_do() -> None:
    assert fold_together([90, 120], None)
    assert fold_together([97, 100, 100], None)
    assert not fold_together([100, 90, 100], None)
    assert not fold_together([60, 70, 80, 70, 60], None)


def test_a_type_that_the_number_of_panels_cannot_have_is_not_held_against_them() -> None:
    """A sheet that speaks of a roll and folds this page once, across."""
    assert fold_together([100, 110], "roll")
    assert fold_together([97, 100, 100], "half")
    assert not fold_together([100, 90, 100], "half")
