"""Which size and scale of a product a file has, and that it is judged by them."""

from __future__ import annotations

import pytest

from service.product.fitting import fitted
from service.rules.judge import judge
from service.sheets.format.validation import read_sheet_text
from service.sheets.model import OtherSize, PagesAsked, SpecSheet, TrimAsked
from tests.rules.measured import booklet_as_spreads, document, judged, only_finding, outcome, page, picture
from tests.rules.measured import content as painted

DL = read_sheet_text("""
trim: {width: 99 mm, height: 210 mm, alternatives: [{width: 105 mm, height: 210 mm}, {width: 100 mm, height: 210 mm}]}
""")
ROLL_UP = read_sheet_text("""
trim: {width: 850 mm, height: 2000 mm, tolerance: 5 mm, scales: [1, 5, 10]}
bleed: {minimum: 10 mm}
images: {contone_ppi: {minimum: 72}}
""")


@pytest.mark.parametrize(("width", "expected"), [(99, "met"), (100, "met"), (105, "met"), (210, "not_met"), (102, "not_met")])
def test_a_file_may_have_any_of_the_sizes_that_are_taken(width: float, expected: str) -> None:
    assert outcome("trim.size", document(page(width, 210)), DL) == expected


def test_the_nearest_size_is_the_one_that_is_missed() -> None:
    finding = only_finding("trim.size", document(page(104, 210)), DL).finding
    assert finding.required["width_mm"] == 105


@pytest.mark.parametrize(
    ("width", "height", "asked"),
    [
        (664.6, 940, 707),  # 707 × 1000 mm at 94 %, nearer to 680 × 980 mm
        (664.6, 943, 680),  # another shape
        (700, 990, 707),  # at 99 %: nobody shrinks so little
        (565.6, 800, 680),  # at 80 %: nor so much
        (749.4, 1060, 707),
    ],
)
def test_a_page_that_was_shrunk_is_told_of_the_size_whose_shape_it_has(width: float, height: float, asked: float) -> None:
    b1 = SpecSheet(trim=TrimAsked(width_mm=707, height_mm=1000, alternatives=(OtherSize(680, 980),)))
    assert only_finding("trim.size", document(page(width, height)), b1).finding.required["width_mm"] == asked
    scaled = [one.finding.measured["percent"] for one in judged("trim.scale", document(page(width, height)), b1)[1]]
    assert scaled == ([] if asked == 680 else [round(height / 10, 1)])


def test_pages_of_two_sizes_are_not_one_product() -> None:
    """Most pages decide."""
    measured = document(page(105, 210, number=1), page(105, 210, number=2), page(99, 210, number=3))
    finding = only_finding("trim.size", measured, DL).finding
    assert (finding.pages, finding.required["width_mm"]) == ((3,), 105)


@pytest.mark.parametrize(("scale", "bleed", "ppi"), [(1, 10, 72), (5, 2, 360), (10, 1, 720)])
def test_a_roll_up_may_be_drawn_at_full_size_or_to_scale(scale: int, bleed: float, ppi: float) -> None:
    made = page(850 / scale, 2000 / scale, bleed=bleed, content=painted(images=(picture(ppi),)))
    assert [outcome(rule, document(made), ROLL_UP) for rule in ("trim.size", "bleed.declared", "image.resolution")] == ["met"] * 3
    coarse = page(850 / scale, 2000 / scale, bleed=bleed * 0.8, content=painted(images=(picture(ppi * 0.9),)))
    assert [outcome(rule, document(coarse), ROLL_UP) for rule in ("bleed.declared", "image.resolution")] == ["not_met"] * 2


def test_another_scale_is_not_taken() -> None:
    assert outcome("trim.size", document(page(425, 1000)), ROLL_UP) == "not_met"


def test_spreads_count_for_the_size_of_their_pages() -> None:
    sheet = SpecSheet(trim=TrimAsked(width_mm=74, height_mm=210, scales=(1,)), pages=PagesAsked(minimum=4))
    spreads = booklet_as_spreads().pages
    assert isinstance(spreads, tuple)
    assert fitted(sheet, spreads) == sheet


def test_the_sheet_that_is_told_stays_whole() -> None:
    assert judge(document(page(105, 210)), DL).verdict.startswith("conforming")
    assert judged("trim.size", document(page(105, 210)), DL)[0].outcome == "met"


DL_BOOKLET = SpecSheet(
    trim=TrimAsked(width_mm=99, height_mm=210, orientation="portrait", alternatives=(OtherSize(105, 210), OtherSize(100, 210))),
    pages=PagesAsked(minimum=4, arrangement="single-pages"),
)


@pytest.mark.parametrize("single", [99, 100, 105])
def test_spreads_of_any_size_that_is_taken_are_told_as_spreads_and_not_as_a_wrong_size(single: float) -> None:
    """99 mm and 100 mm are so near that a spread of one is nearly one of the other."""
    made = document(*(page(2 * single, 210, number=at) for at in range(1, 5)))
    broken = [one.rule for one in judge(made, DL_BOOKLET).findings if one.level == "must"]
    assert broken == ["pages.arrangement"]


@pytest.mark.parametrize("single", [99, 100, 105])
def test_a_cover_alone_and_spreads_behind_it_too(single: float) -> None:
    spreads = (page(2 * single, 210, number=at) for at in (2, 3))
    made = document(page(single, 210, number=1), *spreads, page(single, 210, number=4))
    broken = [one.rule for one in judge(made, DL_BOOKLET).findings if one.level == "must"]
    assert broken == ["pages.arrangement"]


def test_spreads_of_a_size_that_is_not_taken_are_told_of_their_size() -> None:
    made = document(*(page(2 * 102, 210, number=at) for at in range(1, 5)))
    assert outcome("trim.size", made, DL_BOOKLET) == "not_met"
