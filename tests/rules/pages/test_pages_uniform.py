"""Pages of one document that differ in size."""

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
    assert outcome("pages.uniform", NO_PAGES, SpecSheet(trim=A5)) == "not_measured"


def test_one_page_of_another_size_is_an_observation() -> None:
    found = only_finding("pages.uniform", document(page(148, 210), page(148, 210), page(140, 210)), SpecSheet())
    assert found.level == "should"
    assert found.finding.pages == (3,)
    assert found.finding.required == {"width_mm": 148, "height_mm": 210, "tolerance_mm": 0.5}


@pytest.mark.parametrize(("width", "expected"), [(85.54, "met"), (85.56, "not_met")])
def test_pages_are_of_one_size_within_the_tolerance_and_the_slack(width: float, expected: str) -> None:
    sheet = SpecSheet(trim=CARD, levels={"trim.size": "off"})
    assert outcome("pages.uniform", document(page(85, 55), page(85, 55), page(width, 55)), sheet) == expected


def test_the_tolerance_is_the_sheets_own() -> None:
    sheet = SpecSheet(trim=replace(CARD, tolerance_mm=2), levels={"trim.size": "off"})
    assert outcome("pages.uniform", document(page(85, 55), page(86.5, 55)), sheet) == "met"
    finding = only_finding("pages.uniform", document(page(85, 55), page(85, 55), page(88, 55)), sheet).finding
    assert finding.required["tolerance_mm"] == 2


@pytest.mark.parametrize(("width", "height"), [(140, 210), (148, 200)])
def test_pages_of_a_product_that_stands_upright_differ_in_either_side(width: float, height: float) -> None:
    sheet = SpecSheet(trim=A5, levels={"trim.size": "off"})
    finding = only_finding("pages.uniform", document(page(148, 210), page(148, 210), page(width, height)), sheet).finding
    assert finding.measured == {"width_mm": width, "height_mm": height}


@pytest.mark.parametrize(
    ("width", "height", "remedy"),
    [(210, 148, "Turn page 3"), (210.54, 148, "Turn page 3"), (210, 140, "Set page 3"), (140, 210, "Set page 3")],
)
def test_a_page_is_turned_or_set_to_the_usual_size(width: float, height: float, remedy: str) -> None:
    pages = (page(148, 210), page(148, 210), page(width, height))
    assert remedy in only_finding("pages.uniform", document(*pages), SpecSheet()).finding.remedy


def test_a_page_of_another_size_than_the_product_is_told_once() -> None:
    """Two pages with the bleed drawn into the trim: 154 × 216 mm, and one of them turned."""
    judgement = judge(document(page(148, 210), page(148, 210), page(154, 216), page(216, 154)), SpecSheet(trim=A5))
    assert broken_rules(judgement) == {"trim.size"}
    either_way = SpecSheet(trim=replace(A5, orientation="any"))
    behind_it = document(page(154, 216), page(148, 210), page(148, 210), page(210, 148))
    assert only_finding("pages.uniform", behind_it, either_way).finding.pages == (4,)


@pytest.mark.parametrize(("others", "word"), [(1, "the other:"), (2, "the others:")])
def test_one_page_beside_one_other_is_no_crowd(others: int, word: str) -> None:
    pages = [page(148, 210) for _ in range(others)]
    assert word in only_finding("pages.uniform", document(*pages, page(140, 210)), SpecSheet()).finding.message


def test_several_pages_are_turned_and_not_one() -> None:
    upright = [page(148, 210) for _ in range(3)]
    found = only_finding("pages.uniform", document(*upright, page(210, 148), page(210, 148)), SpecSheet()).finding
    assert "pages 4–5" in found.remedy


def test_a_page_that_lies_crosswise_is_told_once() -> None:
    crosswise = document(page(148, 210), page(148, 210), page(210, 148))
    assert outcome("pages.uniform", crosswise, SpecSheet(trim=A5)) == "met"  # pages.orientation tells it
    assert outcome("pages.orientation", crosswise, SpecSheet(trim=A5)) == "not_met"
    assert outcome("pages.uniform", crosswise, SpecSheet(trim=replace(A5, orientation="any"))) == "not_met"


def test_spreads_do_not_differ_from_the_cover_that_stands_alone() -> None:
    assert outcome("pages.uniform", booklet_as_spreads(), SpecSheet(trim=A5, pages=PagesAsked())) == "met"
    assert outcome("pages.uniform", booklet_as_spreads(), SpecSheet(pages=PagesAsked())) == "met"
    assert outcome("pages.uniform", booklet_as_spreads(), SpecSheet()) == "not_met"
