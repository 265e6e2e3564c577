"""The width of a cover: two pages and the spine between them."""

from __future__ import annotations

import pytest

from service.pdf.facts.measurements import Measurements
from service.pdf.facts.unknown import Failure
from service.sheets.model import SpecSheet, SpineAsked
from service.sheets.order import for_order
from tests.rules.measured import document, only_finding, outcome, page

BOOK = SpecSheet(spine=SpineAsked(page_width_mm=148, cover_caliper_mm=0.3))
ORDERED = for_order(BOOK, {"inner_pages": 96, "caliper_mm": 0.11})
"""48 leaves of 0.11 mm and twice 0.3 mm: a spine of 5.88 mm, a cover of 301.88 mm."""


@pytest.mark.parametrize(
    ("width", "expected"),
    [(301.88, "met"), (302.9, "met"), (303, "not_met"), (300.9, "met"), (300.8, "not_met"), (296, "not_met")],
)
def test_the_cover_is_as_wide_as_its_book(width: float, expected: str) -> None:
    assert outcome("spine.width", document(page(width, 210)), ORDERED) == expected


def test_a_cover_without_a_spine() -> None:
    finding = only_finding("spine.width", document(page(296, 210)), ORDERED).finding
    assert finding.measured == {"width_mm": 296, "spine_mm": 0}
    assert finding.required == {"width_mm": 301.88, "spine_mm": 5.88, "tolerance_mm": 1}
    assert "5.9 mm wider" in finding.remedy


def test_an_odd_page_takes_a_whole_leaf() -> None:
    odd = for_order(BOOK, {"inner_pages": 95, "caliper_mm": 0.11})
    assert only_finding("spine.width", document(page(296, 210)), odd).finding.required["spine_mm"] == 5.88


def test_inner_pages_in_the_same_file_are_left_alone() -> None:
    assert outcome("spine.width", document(page(301.9, 210), page(148, 210), page(148, 210)), ORDERED) == "met"


def test_a_front_cover_alone_is_not_laid_flat() -> None:
    assert only_finding("spine.width", document(page(148, 210)), ORDERED).finding.measured == {"width_mm": 148}


def test_a_file_without_pages_has_no_cover_that_could_be_wrong() -> None:
    assert outcome("spine.width", document(), ORDERED) == "met"


def test_without_the_order_the_spine_is_not_known() -> None:
    assert outcome("spine.width", document(page(301.88, 210)), BOOK) == "not_measured"
    assert outcome("spine.width", Measurements.unreadable(1, Failure("broken", "no trailer")), ORDERED) == "not_measured"
    assert outcome("spine.width", document(page(301.88, 210)), SpecSheet()) == "not_applicable"
