"""What a file looks like: sizes, count and bleed against sheets; measurements by hand."""

from __future__ import annotations

from dataclasses import replace

import pytest

from service.language.spoken import Language, speaking
from service.pdf.facts.geometry import Box, Sides
from service.pdf.facts.measurements import Measurements
from service.pdf.facts.page import Page, PageBoxes
from service.pdf.facts.unknown import Failure
from service.sheets.catalogue import stored_sheets
from service.sheets.matching import Match, rank
from service.sheets.model import BleedAsked, OtherSize, PagesAsked, SpecSheet, TrimAsked
from tests.language.mirror import mirrored, not_said
from tests.rules.measured import booklet, booklet_as_spreads, document, page

DL = SpecSheet(
    id="dl", trim=TrimAsked(width_mm=99, height_mm=210), bleed=BleedAsked(minimum_mm=3), pages=PagesAsked(allowed=(1, 2))
)
A5 = replace(DL, id="a5", trim=TrimAsked(width_mm=148, height_mm=210))
BOOKLET = replace(A5, id="a5-booklet", pages=PagesAsked(minimum=8, maximum=64, multiple_of=4, arrangement="single-pages"))
PREVIEW = SpecSheet(id="preview")
ALL = (A5, BOOKLET, DL, PREVIEW)


def bare(width: float, height: float) -> Page:
    """A page with nothing but a MediaBox."""
    sheet = Box(0, 0, width, height)
    return replace(
        page(width, height, bleed=0),
        declared_boxes=(),
        boxes_mm=PageBoxes(sheet, sheet, sheet, sheet, sheet),
        trim_source="media_box",
        bleed_declared=False,
        bleed_mm=Sides(0.0, 0.0, 0.0, 0.0),
    )


def best(measured: Measurements, *sheets: SpecSheet) -> Match:
    return rank(measured, sheets or ALL)[0]


def about(match: Match) -> tuple[set[str], set[str]]:
    return {one.about for one in match.speaks_for}, {one.about for one in match.speaks_against}


def test_a_dl_flyer_is_no_a5_one() -> None:
    ranked = rank(document(page(99, 210)), ALL)
    assert (ranked[0].sheet.id, ranked[0].fits) == ("dl", True)
    assert [one.sheet.id for one in ranked if one.fits] == ["dl"]
    assert about(ranked[0])[1] == set()


def test_a_sheet_that_asks_for_no_size_says_nothing() -> None:
    assert rank(document(page(99, 210)), [PREVIEW]) == []


@pytest.mark.parametrize(("width", "fits"), [(99.5, True), (98.46, True), (99.6, False), (98.4, False)])
def test_a_size_fits_within_the_tolerance_and_the_slack(width: float, fits: bool) -> None:
    assert best(document(page(width, 210)), DL).fits == fits


def test_the_difference_is_found_less_asked() -> None:
    match = best(document(page(101, 209)), DL)
    assert (match.width_off_mm, match.height_off_mm, match.off_mm) == (2, -1, 2)
    turned = best(document(page(209, 101)), DL)
    assert (turned.width_off_mm, turned.height_off_mm, turned.turned) == (-1, 2, True)


def test_bleed_that_is_missing_speaks_against_and_rules_nothing_out() -> None:
    match = best(document(page(99, 210, bleed=0)))
    assert (match.sheet.id, match.fits) == ("dl", True)
    assert about(match)[1] == {"bleed"}
    without_bleed = replace(DL, id="no-bleed", bleed=None)
    assert best(document(page(99, 210, bleed=0)), DL, without_bleed).sheet.id == "no-bleed"


def test_the_count_of_pages_tells_a_flyer_from_a_booklet() -> None:
    assert best(booklet(12)).sheet.id == "a5-booklet"
    assert best(document(page(148, 210))).sheet.id == "a5"
    ten = rank(booklet(10), [BOOKLET])[0]
    assert (ten.fits, about(ten)[1]) == (False, {"pages"})


def test_reader_spreads_count_double_and_speak_against_single_pages() -> None:
    match = rank(booklet_as_spreads(), [BOOKLET])[0]
    assert about(match) == ({"size", "bleed", "pages", "orientation"}, {"arrangement"})
    any_way = replace(BOOKLET, pages=PagesAsked(minimum=8, maximum=64))
    assert rank(booklet_as_spreads(), [any_way])[0].fits


def test_two_cards_side_by_side_are_no_spread() -> None:
    card = replace(DL, trim=TrimAsked(width_mm=85, height_mm=55))
    assert not rank(document(page(170, 55)), [card])[0].fits


def test_a_turned_page_fits_only_a_product_that_takes_it() -> None:
    upright = replace(DL, trim=TrimAsked(width_mm=99, height_mm=210, orientation="portrait"))
    assert best(document(page(210, 99)), DL).fits
    match = best(document(page(210, 99)), upright)
    assert (match.fits, about(match)[1]) == (False, {"orientation"})
    landscape = replace(DL, id="z", trim=TrimAsked(width_mm=210, height_mm=99))
    assert best(document(page(210, 99)), DL, landscape).sheet.id == "z"


def test_a_bare_page_is_taken_as_the_trim_or_as_the_trim_with_bleed() -> None:
    plain = best(document(bare(99, 210)))
    assert (plain.sheet.id, about(plain)[1]) == ("dl", {"bleed"})
    with_bleed = best(document(bare(105, 216)))
    assert (with_bleed.sheet.id, about(with_bleed)[1]) == ("dl", set())
    odd = replace(DL, bleed=BleedAsked(minimum_mm=7))
    assert best(document(bare(113, 224)), odd).speaks_against == ()


def test_a_trim_that_the_file_declares_is_no_guess() -> None:
    assert not best(document(page(105, 216, bleed=0)), DL).fits


def test_one_page_of_another_size_is_no_fit() -> None:
    match = best(document(page(99, 210), page(105, 210)), DL)
    assert (match.fits, match.width_off_mm) == (False, 6)


def test_the_nearest_come_first_where_nothing_fits() -> None:
    assert [one.sheet.id for one in rank(document(page(103, 210)), ALL)] == ["dl", "a5", "a5-booklet"]


def test_what_could_not_be_measured_fits_nothing() -> None:
    assert rank(Measurements.unreadable(9, Failure("broken", "No pages.")), ALL) == []


# --- In words -----------------------------------------------------------------------------------------------------------


def said(match: Match) -> list[str]:
    return [one.says for one in (*match.speaks_for, *match.speaks_against)]


def test_a_fit_is_told_in_sentences() -> None:
    assert said(best(document(page(99, 210, bleed=1.2)), DL)) == [
        "99 × 210 mm: a trimmed size that this product takes, 99 × 210 mm.",
        "1 page; the product takes 1 or 2.",
        "The pages stand as the product does.",
        "1.2 mm of bleed; the product asks for 3 mm.",
    ]
    assert said(best(document(bare(105, 216)), DL))[0].endswith("the trimmed size with 3 mm of bleed around it.")


@pytest.mark.parametrize(
    ("pages", "words"),
    [
        (PagesAsked(allowed=(1, 2, 4)), "1 or 2 or 4"),
        (PagesAsked(minimum=4), "at least 4"),
        (PagesAsked(maximum=8), "at most 8"),
        (PagesAsked(minimum=4, maximum=8), "4 to 8"),
        (PagesAsked(minimum=8, multiple_of=4), "at least 8, in multiples of 4"),
        (PagesAsked(multiple_of=4), "any number, in multiples of 4"),
    ],
)
def test_the_counts_that_a_product_takes_are_told(pages: PagesAsked, words: str) -> None:
    told = said(best(document(page(99, 210)), replace(DL, pages=pages)))
    assert f"1 page; the product takes {words}." in told


@pytest.mark.parametrize("language", ["de", "fr"])
def test_numbers_have_the_decimal_mark_of_the_language(language: Language) -> None:
    with speaking(language):
        told = said(best(document(page(85.4, 55.25, bleed=1.2)), replace(DL, trim=TrimAsked(width_mm=85, height_mm=55))))
    assert told[0].startswith("85,4\u00a0×\u00a055,2\u00a0mm")
    assert "85\u00a0×\u00a055\u00a0mm" in told[0]
    assert told[-1].startswith("1,2\u00a0mm")
    assert "85.4" not in "".join(told)


def test_every_reason_is_said_in_the_language() -> None:
    spreads = replace(BOOKLET, id="spreads", pages=PagesAsked(minimum=4, arrangement="reader-spreads"))
    either = replace(BOOKLET, id="either", pages=PagesAsked(maximum=8, multiple_of=2))
    dl_any = replace(DL, id="any", bleed=None, trim=TrimAsked(width_mm=99, height_mm=210, orientation="any"))
    sheets = [*ALL, spreads, either, dl_any]
    files = (
        document(page(99, 210)),
        document(page(210, 99, bleed=0)),
        document(bare(99, 210)),
        document(bare(105.5, 216)),
        booklet(12),
        booklet_as_spreads(),
    )
    with mirrored():
        told = [one for file in files for match in rank(file, sheets) for one in said(match)]
    assert len(set(told)) > 20
    assert [one for one in told if not_said(one)] == []


# --- Several sizes and scales -------------------------------------------------------------------------------------------

EITHER_DL = replace(DL, id="either-dl", trim=TrimAsked(width_mm=99, height_mm=210, alternatives=(OtherSize(105, 210),)))
BANNER = SpecSheet(id="banner", trim=TrimAsked(width_mm=990, height_mm=2100, tolerance_mm=5, scales=(1, 10)))


def test_a_file_fits_a_product_by_any_of_its_sizes() -> None:
    wide = best(document(page(105, 210)), EITHER_DL)
    assert (wide.sheet, wide.fits, wide.off_mm) == (EITHER_DL, True, 0)
    assert not best(document(page(102, 210)), EITHER_DL).fits


def test_a_file_that_is_drawn_to_scale_fits_and_says_so() -> None:
    small = best(document(page(99, 210, bleed=0)), BANNER)
    assert (small.fits, small.scale) == (True, 10)
    assert "at 1 : 10." in said(small)[0]
    full = best(document(page(990, 2100, bleed=0)), BANNER)
    assert (full.fits, full.scale) == (True, 1)
    assert best(document(page(99, 210)), BANNER, DL).sheet.id == "dl", "what has its size in the file comes first"


@pytest.mark.parametrize(
    ("width", "height", "sheet_id", "bleed"), [(214, 301, "flyer-a4", 2), (91, 61, "business-card-85x55", 3)]
)
def test_a_bare_page_is_a_product_with_its_bleed(width: float, height: float, sheet_id: str, bleed: float) -> None:
    """214 × 301 mm is A4 with 2 mm of bleed, and not 208 × 295 mm with 3 mm."""
    fitting = [one for one in rank(document(bare(width, height)), stored_sheets().values()) if one.fits]
    match = next(one for one in fitting if one.sheet.id == sheet_id)
    assert match.off_mm == 0
    assert f"{bleed} mm of bleed around it" in said(match)[0]
