"""The height of a cover: that of the book."""

from __future__ import annotations

import pytest

from service.sheets.model import SpecSheet, SpineAsked
from tests.rules.measured import document, only_finding, outcome, page

BOOK = SpecSheet(spine=SpineAsked(page_width_mm=148, page_height_mm=210))


@pytest.mark.parametrize(
    ("height", "expected"), [(210, "met"), (210.5, "met"), (210.7, "not_met"), (209.5, "met"), (209.3, "not_met")]
)
def test_the_cover_is_as_high_as_its_book(height: float, expected: str) -> None:
    assert outcome("spine.height", document(page(302, height)), BOOK) == expected


def test_a_cover_that_is_too_high_says_by_what() -> None:
    finding = only_finding("spine.height", document(page(302, 214)), BOOK).finding
    assert finding.message == "Page 1 is 214 mm high; the book is 210 mm high."
    assert "210 mm" in finding.remedy
    assert (finding.measured, finding.required) == ({"height_mm": 214}, {"height_mm": 210, "tolerance_mm": 0.5})


def test_inside_and_outside_of_one_wrong_height_are_one_finding() -> None:
    assert only_finding("spine.height", document(page(302, 214), page(302, 214)), BOOK).finding.pages == (1, 2)


def test_a_sheet_without_the_height_asks_nothing() -> None:
    assert outcome("spine.height", document(page(302, 214)), SpecSheet(spine=SpineAsked(page_width_mm=148))) == "not_applicable"
