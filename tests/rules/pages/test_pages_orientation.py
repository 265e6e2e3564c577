"""Pages that lie on their side."""

from __future__ import annotations

from dataclasses import replace

import pytest

from service.pdf.facts.measurements import Measurements
from service.pdf.facts.unknown import Failure
from service.rules.judge import judge
from service.sheets.model import PagesAsked, SpecSheet, TrimAsked
from tests.rules.measured import booklet_as_spreads, broken_rules, document, only_finding, outcome, page

A5 = TrimAsked(width_mm=148, height_mm=210, orientation="portrait")
CARD = TrimAsked(width_mm=85, height_mm=55)
NO_PAGES = Measurements.unreadable(10, Failure("broken", "no trailer"))


def test_a_file_without_readable_pages_is_no_pass() -> None:
    assert outcome("pages.orientation", NO_PAGES, SpecSheet(trim=A5)) == "not_measured"


def test_a_landscape_page_of_a_portrait_product_is_not_also_a_wrong_size() -> None:
    judgement = judge(document(page(210, 148)), SpecSheet(trim=A5))
    assert broken_rules(judgement) == {"pages.orientation"}
    assert judgement.findings[0].finding.measured == {
        "orientation": "landscape",
        "rotation": 0,
        "width_mm": 210,
        "height_mm": 148,
    }


def test_a_page_that_was_turned_in_a_viewer_is_told_so() -> None:
    finding = only_finding("pages.orientation", document(page(210, 148, rotation=90)), SpecSheet(trim=A5)).finding
    assert finding.measured["rotation"] == 90
    assert "rotation" in finding.remedy


@pytest.mark.parametrize(
    ("orientation", "width", "expected"),
    [("portrait", 100.04, "met"), ("portrait", 100.06, "not_met"), ("landscape", 99.96, "met"), ("landscape", 99.94, "not_met")],
)
def test_a_square_page_has_either_orientation(orientation: str, width: float, expected: str) -> None:
    square = TrimAsked(width_mm=100, height_mm=100, orientation=orientation)  # type: ignore[arg-type]
    assert outcome("pages.orientation", document(page(width, 100)), SpecSheet(trim=square)) == expected


def test_a_portrait_page_of_a_landscape_product() -> None:
    card = SpecSheet(trim=TrimAsked(width_mm=85, height_mm=55, orientation="landscape"))
    finding = only_finding("pages.orientation", document(page(55, 85)), card).finding
    assert finding.measured == {"orientation": "portrait", "rotation": 0, "width_mm": 55, "height_mm": 85}
    assert finding.required == {"orientation": "landscape"}


def test_a_page_of_another_size_is_told_by_its_size_where_that_is_judged() -> None:
    wrong = document(page(216, 154), page(210, 148))
    assert only_finding("pages.orientation", wrong, SpecSheet(trim=A5)).finding.pages == (2,)
    size_off = SpecSheet(trim=A5, levels={"trim.size": "off"})
    assert only_finding("pages.orientation", wrong, size_off).finding.pages == (1, 2)


def test_a_double_page_is_two_where_the_sheet_speaks_of_pages() -> None:
    spread, size_off = document(page(296, 210)), SpecSheet(trim=A5, levels={"trim.size": "off"})
    assert outcome("pages.orientation", spread, size_off) == "not_met"
    assert outcome("pages.orientation", spread, replace(size_off, pages=PagesAsked())) == "met"


def test_any_orientation_is_not_asked_about() -> None:
    assert outcome("pages.orientation", document(page(55, 85)), SpecSheet(trim=CARD)) == "not_applicable"
    assert outcome("trim.size", document(page(55, 85)), SpecSheet(trim=CARD)) == "met"


def test_the_halves_of_a_spread_have_the_orientation() -> None:
    assert outcome("pages.orientation", booklet_as_spreads(), SpecSheet(trim=A5, pages=PagesAsked())) == "met"
