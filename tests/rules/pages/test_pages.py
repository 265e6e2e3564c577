"""The pages: count, multiple, arrangement."""

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
        (PagesAsked(allowed=(4, 8, 16, 32)), 10, "8 or 16"),
        (PagesAsked(allowed=(1, 2)), 3, "Make it 2 pages"),
        (PagesAsked(allowed=(2,)), 1, "Make it 2 pages."),
        (PagesAsked(minimum=8, multiple_of=4), 6, "Make it 8 pages"),
        (PagesAsked(minimum=10, multiple_of=4), 6, "Make it 12 pages"),
        (PagesAsked(maximum=30, multiple_of=4), 31, "Make it 28 pages"),
        (PagesAsked(maximum=1), 3, "Make it 1 page, the nearest"),
        (PagesAsked(minimum=10, maximum=40, multiple_of=4), 50, "Make it 40 pages"),
        (PagesAsked(minimum=10, maximum=40, multiple_of=4), 5, "Make it 12 pages"),
        (PagesAsked(minimum=12, maximum=12, multiple_of=4), 5, "Make it 12 pages"),
        (PagesAsked(maximum=2, multiple_of=4), 3, "No count fits"),
        (PagesAsked(minimum=10, maximum=11, multiple_of=4), 9, "No count fits"),
    ],
)
def test_the_remedy_names_the_nearest_counts_that_work(asked: PagesAsked, count: int, nearest: str) -> None:
    assert nearest in only_finding("pages.count", booklet(count), SpecSheet(pages=asked)).finding.remedy


def test_spreads_are_counted_as_readers_pages() -> None:
    sheet = SpecSheet(trim=A5, pages=PagesAsked(minimum=16))
    assert only_finding("pages.count", booklet_as_spreads(), sheet).finding.measured == {"pages": 12}
    assert outcome("pages.count", booklet_as_spreads(), replace(sheet, pages=PagesAsked(allowed=(12,)))) == "met"


@pytest.mark.parametrize("rule_id", ["pages.count", "pages.multiple", "pages.arrangement"])
def test_a_sheet_that_speaks_of_pages_without_limits_asks_nothing(rule_id: str) -> None:
    assert outcome(rule_id, booklet(7), SpecSheet(pages=PagesAsked())) == "not_applicable"


def test_a_count_on_which_two_readers_disagree_is_not_measured() -> None:
    odd = document(page(), page_count=Unmeasured("pikepdf and PDFium disagree: 12 and 11"))
    rule, findings = judged("pages.count", odd, SpecSheet(pages=PagesAsked(allowed=(1,))))
    assert (rule.outcome, findings) == ("not_measured", ())


@pytest.mark.parametrize("rule_id", ["pages.count", "pages.multiple", "pages.arrangement"])
def test_a_file_without_readable_pages_passes_no_rule_on_pages(rule_id: str) -> None:
    sheet = SpecSheet(trim=A5, pages=PagesAsked(minimum=8, multiple_of=4, arrangement="single-pages"))
    assert outcome(rule_id, NO_PAGES, sheet) == "not_measured"


@pytest.mark.parametrize(
    ("pages", "count"),
    [
        (PagesAsked(minimum=8, multiple_of=4), 1),
        (PagesAsked(minimum=8, maximum=64, multiple_of=4), 2),
        (PagesAsked(minimum=8, maximum=30, multiple_of=4), 31),
    ],
)
def test_count_and_multiple_never_ask_for_different_things(pages: PagesAsked, count: int) -> None:
    sheet = SpecSheet(pages=pages)
    both = [only_finding(one, booklet(count), sheet).finding.remedy for one in ("pages.count", "pages.multiple")]
    assert both[0] == both[1]


def test_pages_are_taken_off_only_where_enough_are_left() -> None:
    least_8, least_9 = (SpecSheet(pages=PagesAsked(minimum=least, multiple_of=4)) for least in (8, 9))
    assert "off" in only_finding("pages.multiple", booklet(9), least_8).finding.remedy
    assert "off" not in only_finding("pages.multiple", booklet(9), least_9).finding.remedy


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
    assert finding.required == {"arrangement": "single-pages"}
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
    assert finding.required == {"arrangement": "reader-spreads"}
    assert finding.pages == (2, 3, 4, 5, 6, 7)
    assert outcome("pages.arrangement", booklet_as_spreads(), sheet) == "met"
    assert outcome("pages.arrangement", booklet(2), sheet) == "met"  # a front and a back stand alone


def test_a_page_of_another_size_is_no_single_page_among_spreads() -> None:
    sheet = SpecSheet(trim=A5, pages=PagesAsked(arrangement="reader-spreads"))
    assert outcome("pages.arrangement", document(page(148, 210), page(100, 100), page(148, 210)), sheet) == "met"


def test_a_single_page_among_spreads_is_seen_without_a_trimmed_size_in_the_sheet() -> None:
    sheet = SpecSheet(pages=PagesAsked(arrangement="reader-spreads"))
    single, spread = page(148, 210), page(296, 210)
    assert outcome("pages.arrangement", booklet_as_spreads(), sheet) == "met"
    assert only_finding("pages.arrangement", document(single, spread, single, spread, single), sheet).finding.pages == (3,)


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
    assert outcome("pages.arrangement", document(page(148, 210), page(260, 210)), sheet) == "not_measured"
    assert outcome("pages.arrangement", booklet(4), sheet) == "met"
    assert outcome("pages.arrangement", booklet(4, width=210, height=210), sheet) == "met"
    assert outcome("pages.arrangement", document(page(85, 55)), replace(sheet, trim=CARD)) == "met"


def test_a_square_page_twice_as_wide_as_asked_is_a_spread() -> None:
    flyer = TrimAsked(width_mm=105, height_mm=210, orientation="portrait")
    sheet = SpecSheet(trim=flyer, pages=PagesAsked(arrangement="single-pages"))
    assert broken_rules(judge(document(page(210, 210)), sheet)) == {"pages.arrangement"}
