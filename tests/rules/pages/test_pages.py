"""The pages: count, multiple, arrangement, one size, orientation."""

from __future__ import annotations

from dataclasses import replace

import pytest

from service.pdf.facts.measurements import Measurements
from service.pdf.facts.unknown import Failure, Unmeasured
from service.rules.judge import judge
from service.sheets.model import PagesAsked, SpecSheet, TrimAsked
from tests.rules.measured import booklet, booklet_as_spreads, broken_rules, document, judged, only_finding, outcome, page

A5 = TrimAsked(width_mm=148, height_mm=210, orientation="portrait")
CARD = TrimAsked(width_mm=85, height_mm=55)
NO_PAGES = Measurements.unreadable(10, Failure("broken", "no trailer"))


# --- pages.count ------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(("count", "expected"), [(1, "met"), (2, "met"), (3, "not_met")])
def test_a_card_has_one_or_two_sides(count: int, expected: str) -> None:
    assert outcome("pages.count", booklet(count), SpecSheet(pages=PagesAsked(allowed=(1, 2)))) == expected


@pytest.mark.parametrize(("count", "expected"), [(7, "not_met"), (8, "met"), (64, "met"), (65, "not_met")])
def test_a_booklet_has_a_fewest_and_a_most(count: int, expected: str) -> None:
    assert outcome("pages.count", booklet(count), SpecSheet(pages=PagesAsked(minimum=8, maximum=64))) == expected


@pytest.mark.parametrize(
    ("asked", "count", "nearest"),
    [
        (PagesAsked(allowed=(4, 8, 16)), 10, "8 or 16"),
        (PagesAsked(allowed=(1, 2)), 3, "Make it 2 pages"),
        (PagesAsked(allowed=(2,)), 1, "Make it 2 pages."),
        (PagesAsked(minimum=8, multiple_of=4), 6, "Make it 8 pages"),
        (PagesAsked(minimum=10, multiple_of=4), 6, "Make it 12 pages"),
        (PagesAsked(maximum=30, multiple_of=4), 31, "Make it 28 pages"),
        (PagesAsked(maximum=1), 3, "Make it 1 page, the nearest"),
    ],
)
def test_the_remedy_names_the_nearest_counts_that_work(asked: PagesAsked, count: int, nearest: str) -> None:
    assert nearest in only_finding("pages.count", booklet(count), SpecSheet(pages=asked)).finding.remedy


def test_spreads_are_counted_as_readers_pages() -> None:
    sheet = SpecSheet(trim=A5, pages=PagesAsked(minimum=16))
    assert only_finding("pages.count", booklet_as_spreads(), sheet).finding.measured == {"pages": 12}
    assert outcome("pages.count", booklet_as_spreads(), replace(sheet, pages=PagesAsked(allowed=(12,)))) == "met"


def test_a_count_on_which_two_readers_disagree_is_not_measured() -> None:
    odd = document(page(), page_count=Unmeasured("pikepdf and PDFium disagree: 12 and 11"))
    rule, findings = judged("pages.count", odd, SpecSheet(pages=PagesAsked(allowed=(1,))))
    assert (rule.outcome, findings) == ("not_measured", ())


@pytest.mark.parametrize("rule_id", ["pages.count", "pages.multiple", "pages.arrangement", "pages.uniform", "pages.orientation"])
def test_a_file_without_readable_pages_passes_no_rule_on_pages(rule_id: str) -> None:
    sheet = SpecSheet(trim=A5, pages=PagesAsked(minimum=8, multiple_of=4, arrangement="single-pages"))
    assert outcome(rule_id, NO_PAGES, sheet) == "not_measured"


# --- pages.multiple ---------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(("count", "expected"), [(8, "met"), (9, "not_met"), (11, "not_met"), (12, "met")])
def test_a_stapled_booklet_is_made_of_fours(count: int, expected: str) -> None:
    assert outcome("pages.multiple", booklet(count), SpecSheet(pages=PagesAsked(multiple_of=4))) == expected


def test_the_remedy_says_how_many_blanks_or_pages_off() -> None:
    remedy = only_finding("pages.multiple", booklet(10), SpecSheet(pages=PagesAsked(multiple_of=4))).finding.remedy
    assert "Add 2 blank pages" in remedy
    assert "take 2 pages off" in remedy
    assert "off" not in only_finding("pages.multiple", booklet(3), SpecSheet(pages=PagesAsked(multiple_of=4))).finding.remedy


def test_a_list_of_counts_says_it_all() -> None:
    sheet = SpecSheet(pages=PagesAsked(allowed=(8, 12), multiple_of=4))
    assert broken_rules(judge(booklet(10), sheet)) == {"pages.count"}


def test_spreads_make_the_multiple_too() -> None:
    assert outcome("pages.multiple", booklet_as_spreads(), SpecSheet(trim=A5, pages=PagesAsked(multiple_of=4))) == "met"


# --- pages.arrangement ------------------------------------------------------------------------------------------------


def test_spreads_where_single_pages_are_asked_for_are_told_once() -> None:
    sheet = SpecSheet(trim=A5, pages=PagesAsked(minimum=8, maximum=64, multiple_of=4, arrangement="single-pages"))
    judgement = judge(booklet_as_spreads(), sheet)
    assert broken_rules(judgement) == {"pages.arrangement"}
    finding = judgement.findings[0].finding
    assert finding.pages == (2, 3, 4, 5, 6)
    assert finding.measured == {"arrangement": "reader-spreads", "pages_of_the_file": 5, "width_mm": 296, "height_mm": 210}
    assert finding.places[0].box_mm == (0, 0, 296, 210)


def test_an_a4_sheet_is_a_spread_of_a5_though_its_half_is_half_a_millimetre_wider() -> None:
    sheet = SpecSheet(trim=replace(A5, tolerance_mm=0.2), pages=PagesAsked(arrangement="single-pages"))
    judgement = judge(document(page(297, 210), page(297, 210)), sheet)
    assert broken_rules(judgement) == {"pages.arrangement", "trim.size"}  # 148.5 is not 148 within 0.2
    size = next(one for one in judgement.findings if one.rule == "trim.size")
    assert size.finding.measured["width_mm"] == 148.5


def test_single_pages_are_single_pages() -> None:
    assert outcome("pages.arrangement", booklet(), SpecSheet(trim=A5, pages=PagesAsked(arrangement="single-pages"))) == "met"


def test_single_pages_where_spreads_are_asked_for() -> None:
    sheet = SpecSheet(trim=A5, pages=PagesAsked(arrangement="reader-spreads"))
    finding = only_finding("pages.arrangement", booklet(8), sheet).finding
    assert finding.measured["arrangement"] == "single-pages"
    assert finding.pages == (2, 3, 4, 5, 6, 7)
    assert outcome("pages.arrangement", booklet_as_spreads(), sheet) == "met"
    assert outcome("pages.arrangement", booklet(2), sheet) == "met"  # a front and a back stand alone


def test_a_page_of_another_size_is_no_single_page_among_spreads() -> None:
    sheet = SpecSheet(trim=A5, pages=PagesAsked(arrangement="reader-spreads"))
    assert outcome("pages.arrangement", document(page(148, 210), page(100, 100), page(148, 210)), sheet) == "met"


def test_both_arrangements_are_fine_where_the_sheet_takes_any() -> None:
    sheet = SpecSheet(trim=A5, pages=PagesAsked(allowed=(12,)))
    assert judge(booklet_as_spreads(), sheet).verdict == "conforming"
    assert judge(booklet(12), sheet).verdict == "conforming"


def test_a_double_page_is_a_wrong_size_for_a_sheet_that_does_not_speak_of_pages() -> None:
    assert "trim.size" in broken_rules(judge(document(page(170, 55)), SpecSheet(trim=CARD)))


def test_a_double_card_is_not_two_sides_when_single_pages_are_asked_for() -> None:
    sheet = SpecSheet(trim=CARD, pages=PagesAsked(allowed=(1, 2), arrangement="single-pages"))
    assert broken_rules(judge(document(page(170, 55)), sheet)) == {"pages.arrangement"}


def test_a_mixed_document_shows_its_spreads_without_a_trimmed_size_in_the_sheet() -> None:
    sheet = SpecSheet(pages=PagesAsked(arrangement="single-pages"))
    assert only_finding("pages.arrangement", booklet_as_spreads(), sheet).finding.pages == (2, 3, 4, 5, 6)


def test_landscape_pages_without_a_size_to_compare_are_not_measured() -> None:
    sheet = SpecSheet(pages=PagesAsked(arrangement="single-pages"))
    assert outcome("pages.arrangement", booklet(4, width=296, height=210), sheet) == "not_measured"
    assert outcome("pages.arrangement", booklet(4), sheet) == "met"


def test_a_square_page_twice_as_wide_as_asked_is_a_spread() -> None:
    flyer = TrimAsked(width_mm=105, height_mm=210, orientation="portrait")
    sheet = SpecSheet(trim=flyer, pages=PagesAsked(arrangement="single-pages"))
    assert broken_rules(judge(document(page(210, 210)), sheet)) == {"pages.arrangement"}


# --- pages.uniform ----------------------------------------------------------------------------------------------------


def test_one_page_of_another_size_is_an_observation() -> None:
    found = only_finding("pages.uniform", document(page(148, 210), page(148, 210), page(140, 210)), SpecSheet())
    assert found.level == "should"
    assert found.finding.pages == (3,)
    assert found.finding.required == {"width_mm": 148, "height_mm": 210, "tolerance_mm": 0.5}


@pytest.mark.parametrize(("width", "expected"), [(85.54, "met"), (85.56, "not_met")])
def test_pages_are_of_one_size_within_the_tolerance_and_the_slack(width: float, expected: str) -> None:
    sheet = SpecSheet(trim=CARD, levels={"trim.size": "off"})
    assert outcome("pages.uniform", document(page(85, 55), page(85, 55), page(width, 55)), sheet) == expected


def test_a_page_of_another_size_than_the_product_is_told_once() -> None:
    """Two pages with the bleed drawn into the trim: 154 × 216 mm, and one of them turned."""
    judgement = judge(document(page(148, 210), page(148, 210), page(154, 216), page(216, 154)), SpecSheet(trim=A5))
    assert broken_rules(judgement) == {"trim.size"}


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


# --- pages.orientation ------------------------------------------------------------------------------------------------


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


def test_any_orientation_is_not_asked_about() -> None:
    assert outcome("pages.orientation", document(page(55, 85)), SpecSheet(trim=CARD)) == "not_applicable"
    assert outcome("trim.size", document(page(55, 85)), SpecSheet(trim=CARD)) == "met"


def test_the_halves_of_a_spread_have_the_orientation() -> None:
    assert outcome("pages.orientation", booklet_as_spreads(), SpecSheet(trim=A5, pages=PagesAsked())) == "met"
