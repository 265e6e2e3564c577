"""Text and pictures across folds, and in the spine of a cover."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from service.pdf.facts.geometry import Box
from service.pdf.facts.page import Page
from service.pdf.facts.painted.images import Image
from service.pdf.facts.painted.text import TextRun
from service.pdf.facts.unknown import Unmeasured
from service.sheets.model import Fold, MarginAsked, SpecSheet, SpineAsked
from tests.rules.measured import content, document, judged, only_finding, outcome, page, picture, run, without_content

ROLL = (Fold(at_mm=97, axis="vertical"), Fold(at_mm=197, axis="vertical"))
LEAFLET = SpecSheet(folds=ROLL)
LEAFLET_WITH_MARGIN = SpecSheet(folds=ROLL, margin=MarginAsked(minimum_mm=3))


def side(*runs: TextRun, images: tuple[Image, ...] = ()) -> Page:
    """One side of an A4 sheet on its side."""
    return page(297, 210, content=content(text=runs, images=images))


def words(x0: float, x1: float, y0: float = 50) -> TextRun:
    return replace(run("Fresh every morning"), box_mm=Box(x0, y0, x1, y0 + 4), ink_mm=Box(x0, y0, x1, y0 + 4))


def photo(x0: float, x1: float) -> Image:
    return replace(picture(), visible_box_mm=Box(x0, 20, x1, 80))


@pytest.mark.parametrize(
    ("x0", "x1", "expected"), [(60, 120, "not_met"), (60, 97, "met"), (97, 150, "met"), (60, 97.2, "not_met"), (200, 280, "met")]
)
def test_text_stays_in_its_panel(x0: float, x1: float, expected: str) -> None:
    assert outcome("margin.fold", document(side(words(x0, x1))), LEAFLET) == expected


@pytest.mark.parametrize(("x1", "expected"), [(94, "met"), (94.04, "met"), (95, "not_met")])
def test_text_keeps_the_margin_from_the_fold(x1: float, expected: str) -> None:
    assert outcome("margin.fold", document(side(words(60, x1))), LEAFLET_WITH_MARGIN) == expected


@pytest.mark.parametrize(("ink_x1", "expected"), [(96.9, "met"), (97.2, "not_met")])
def test_text_crosses_a_fold_with_its_ink(ink_x1: float, expected: str) -> None:
    trailing_blank = replace(words(60, 99), ink_mm=Box(60, 50, ink_x1, 54))
    assert outcome("margin.fold", document(side(trailing_blank)), LEAFLET) == expected


@pytest.mark.parametrize(("x1", "expected"), [(96, "met"), (99, "not_measured")])
def test_text_whose_outlines_are_not_known_may_cross_a_fold(x1: float, expected: str) -> None:
    unknown = replace(words(60, x1), ink_mm=Unmeasured("no outlines"))
    assert outcome("margin.fold", document(side(unknown)), LEAFLET) == expected


def test_on_the_back_folds_count_from_the_other_edge() -> None:
    """Folds at 97 and 197 mm of the front are at 200 and 100 mm of the back, seen from its left."""
    inside = words(98.5, 99.5)
    assert outcome("margin.fold", document(side(), side(words(96, 98))), LEAFLET) == "met"
    finding = only_finding("margin.fold", document(side(inside), side(words(99, 101))), LEAFLET).finding
    assert (finding.pages, finding.required["at_mm"]) == ((2,), 197)


def test_a_horizontal_fold_runs_across_the_page() -> None:
    letter = SpecSheet(folds=(Fold(at_mm=105, axis="horizontal"),))
    finding = only_finding("margin.fold", document(side(words(20, 90, y0=103))), letter).finding
    assert finding.measured == {"runs": 1, "texts": ["Fresh every morning"]}
    assert finding.required == {"at_mm": 105, "axis": "horizontal", "free_mm": 0}
    for clear_of_it in (105, 101, 101.04, 90):
        assert outcome("margin.fold", document(side(words(20, 90, y0=clear_of_it))), letter) == "met"


def test_a_fold_beyond_the_page_meets_no_text() -> None:
    assert outcome("margin.fold", document(side(words(20, 280))), SpecSheet(folds=(Fold(at_mm=400, axis="vertical"),))) == "met"


@pytest.mark.parametrize(
    ("levels", "expected"),
    [(("should", "should"), "should"), (("should", None), "must"), ((None, None), "must"), (("must", "must"), "must")],
)
def test_folds_that_are_all_only_wished_for_leave_no_verdict_open(levels: tuple[Any, Any], expected: str) -> None:
    folds = tuple(replace(fold, level=level) for fold, level in zip(ROLL, levels, strict=True))
    assert judged("margin.fold", document(without_content(side())), SpecSheet(folds=folds))[0].level == expected


def test_a_picture_across_a_fold_is_a_remark_and_one_that_ends_there_is_none() -> None:
    assert only_finding("margin.fold", document(side(images=(photo(60, 150),))), LEAFLET_WITH_MARGIN).level == "should"
    assert outcome("margin.fold", document(side(images=(photo(0, 97), photo(97, 197)))), LEAFLET_WITH_MARGIN) == "met"


def test_each_fold_speaks_with_its_own_level_and_words() -> None:
    soft = SpecSheet(folds=(replace(ROLL[0], level="should", note="Keep 2 mm free."), ROLL[1]))
    _, findings = judged("margin.fold", document(side(words(90, 110), words(190, 210))), soft)
    assert [(one.level, one.note) for one in findings] == [("must", None), ("should", "Keep 2 mm free.")]


def test_folds_that_are_not_asked_for_or_not_seen() -> None:
    assert outcome("margin.fold", document(side()), SpecSheet()) == "not_applicable"
    assert outcome("margin.fold", document(without_content(side())), LEAFLET) == "not_measured"


# --- The spine: A5 pages, a spine of 10 mm from 148 to 158 mm ---

BOOK = SpecSheet(spine=SpineAsked(page_width_mm=148))


def cover(*runs: TextRun, spine: float = 10, images: tuple[Image, ...] = ()) -> Page:
    return page(296 + spine, 210, content=content(text=runs, images=images))


@pytest.mark.parametrize(
    ("x0", "x1", "expected"),
    [
        (20, 130, "met"),
        (20, 146.5, "met"),
        (20, 147, "not_met"),
        (140, 170, "not_met"),
        (149.6, 156.4, "met"),
        (149, 156, "not_met"),
        (160, 280, "met"),
    ],
)
def test_text_keeps_away_from_the_folds_of_the_spine(x0: float, x1: float, expected: str) -> None:
    assert outcome("margin.spine", document(cover(words(x0, x1))), BOOK) == expected


@pytest.mark.parametrize(("ink_x1", "expected"), [(146.4, "met"), (146.7, "not_met")])
def test_text_reaches_the_spine_with_its_ink(ink_x1: float, expected: str) -> None:
    trailing_blank = replace(words(20, 149), ink_mm=Box(20, 50, ink_x1, 54))
    assert outcome("margin.spine", document(cover(trailing_blank)), BOOK) == expected


def test_text_whose_outlines_are_not_known_may_reach_the_spine() -> None:
    unknown = replace(words(20, 149), ink_mm=Unmeasured("no outlines"))
    assert outcome("margin.spine", document(cover(unknown)), BOOK) == "not_measured"
    assert outcome("margin.spine", document(cover(replace(unknown, box_mm=Box(20, 50, 140, 54)))), BOOK) == "met"


def test_a_thin_spine_takes_no_text() -> None:
    """A spine of 4.5 mm from 148 to 152.5 mm: half a millimetre of text in its middle clears both folds by 1.5 mm."""
    finding = only_finding("margin.spine", document(cover(words(149.7, 150.8), spine=4.5)), BOOK).finding
    assert finding.measured["spine_mm"] == 4.5
    assert finding.required == {"narrowest_mm": 5}
    assert outcome("margin.spine", document(cover(words(20, 100), spine=4.5)), BOOK) == "met"
    assert outcome("margin.spine", document(cover(words(150, 151), spine=5)), BOOK) == "met"


def test_text_at_the_fold_of_a_spine_that_takes_text_is_told_what_it_keeps() -> None:
    finding = only_finding("margin.spine", document(cover(words(20, 100), words(20, 147))), BOOK).finding
    assert (finding.measured["runs"], finding.required) == (1, {"free_mm": 1.5})


def test_a_cover_behind_inner_pages_is_looked_at() -> None:
    inner = page(148, 210, content=content(text=(words(20, 140),)))
    assert only_finding("margin.spine", document(inner, cover(words(20, 147))), BOOK).finding.pages == (2,)


def test_a_picture_wraps_round_the_spine_or_ends_at_its_fold() -> None:
    right = (photo(-3, 309), photo(0, 148), photo(158, 300), photo(149, 157))
    assert outcome("margin.spine", document(cover(images=right)), BOOK) == "met"
    assert only_finding("margin.spine", document(cover(images=(photo(153, 300),))), BOOK).level == "should"


def test_without_a_cover_nobody_knows_where_the_spine_lies() -> None:
    assert outcome("margin.spine", document(page(148, 210)), BOOK) == "not_measured"
    assert outcome("margin.spine", document(without_content(cover())), BOOK) == "not_measured"
    rule, _ = judged("margin.spine", document(page(148, 210), without_content(cover())), BOOK)
    assert (rule.outcome, rule.reason) == ("not_measured", "Page 2: its content stops in the middle of a picture")
    assert outcome("margin.spine", document(cover()), SpecSheet()) == "not_applicable"


@pytest.mark.parametrize(("number", "x", "words"), [(1, 96, "97 mm from the left"), (2, 200, "97 mm from the right")])
def test_a_fold_is_told_from_the_edge_that_it_is_measured_from(number: int, x: float, words: str) -> None:
    """A4 sideways: 297 - 97 = 200 mm from the left on the back."""
    pages = [page(297, 210, content=content(text=(run("Open", x=x, y=50),) if at == number else ())) for at in (1, 2)]
    assert words in only_finding("margin.fold", document(*pages), LEAFLET_WITH_MARGIN).finding.message


@pytest.mark.parametrize(
    ("free", "x0", "expected"), [(3.0, 151, "met"), (3.0, 150.9, "not_met"), (0.0, 148.1, "met"), (None, 149.4, "not_met")]
)
def test_how_far_text_keeps_from_the_spine_is_the_printers(free: float | None, x0: float, expected: str) -> None:
    asked = SpecSheet(spine=SpineAsked(page_width_mm=148, text_free_mm=free))
    assert outcome("margin.spine", document(cover(words(x0, 154))), asked) == expected
    if expected == "not_met":
        found = only_finding("margin.spine", document(cover(words(x0, 154))), asked).finding
        assert found.required == {"free_mm": 1.5 if free is None else free}
