"""Where a spread is cut, what is told of it, and how a person names the spreads."""

from __future__ import annotations

from dataclasses import replace

import pytest

from service.pdf.facts.geometry import Box, Sides
from service.pdf.facts.page import Page, PageBoxes, TrimSource
from service.proofs.single_pages.brief import cut_apart
from service.proofs.single_pages.wishes import spreads_named
from service.proofs.wishes import NotUnderstood
from tests.rules.measured import page as measured_page


def built(
    width: float, bleed: float, source: TrimSource = "trim_box", bleed_declared: bool = True, slug: float = 0, number: int = 1
) -> Page:
    trim = Box(0, 0, width, 210)
    media = trim.grown(bleed + slug)
    boxes = PageBoxes(media=media, crop=media, bleed=trim.grown(bleed), trim=trim, art=media)
    depth = bleed if bleed_declared else bleed + slug
    return replace(
        measured_page(), number=number, boxes_mm=boxes, trim_source=source, bleed_declared=bleed_declared,
        bleed_mm=Sides(depth, depth, depth, depth), declared_boxes=(),
    )


def test_a_spread_of_a5_is_cut_at_148_mm_with_bleed_from_the_neighbour() -> None:
    (page,) = cut_apart([built(296, 3)], {1}, 3).pages
    left, right = page.cuts
    assert (left.trim_mm, left.bleed_mm, left.media_mm) == (Box(0, 0, 148, 210), Box(-3, -3, 151, 213), Box(-3, -3, 151, 213))
    assert (right.trim_mm, right.bleed_mm) == (Box(148, 0, 296, 210), Box(145, -3, 299, 213))


def test_without_a_sheet_the_inner_bleed_is_as_deep_as_the_outer() -> None:
    (page,) = cut_apart([built(296, 5)], {1}, None).pages
    assert page.cuts[0].bleed_mm == Box(-5, -5, 153, 215)


def test_no_bleed_reaches_beyond_the_neighbour() -> None:
    (page,) = cut_apart([built(8, 3)], {1}, 6).pages
    assert page.cuts[0].bleed_mm == Box(-3, -3, 8, 213)


def test_a_page_with_its_boxes_is_left_alone_and_that_is_said() -> None:
    brief = cut_apart([built(148, 3)], (), 3)
    assert not brief.pages[0].cuts[0].changes
    assert len(brief.changes) == 1


@pytest.mark.parametrize(
    ("source", "bleed_mm", "depth"),
    [("trim_box", 3.0, 3), ("crop_marks", None, 3), ("crop_marks", 5.0, 5), ("media_minus_bleed", 3.0, 11)],
)
def test_paper_beyond_the_trim_counts_as_bleed_only_as_deep_as_the_printer_asks(
    source: TrimSource, bleed_mm: float | None, depth: float
) -> None:
    (page,) = cut_apart([built(148, 3, source, bleed_declared=False, slug=8)], (), bleed_mm).pages
    assert page.cuts[0].bleed_mm == Box(-depth, -depth, 148 + depth, 210 + depth)


def test_what_was_cut_and_written_is_told_with_its_pages() -> None:
    told = " ".join(cut_apart([built(296, 3), built(148, 3, "crop_marks", bleed_declared=False, number=2)], {1}, 3).changes)
    assert "Page 1 was cut" in told
    assert "3 pages in all" in told
    assert "crop marks" in told
    assert "BleedBox" in told


@pytest.mark.parametrize(
    ("text", "numbers"), [("all", {1, 2, 3, 4, 5, 6, 7}), ("none", set()), ("2-6", {2, 3, 4, 5, 6}), ("2, 4-5", {2, 4, 5})]
)
def test_spreads_are_named_by_their_pages(text: str, numbers: set[int]) -> None:
    assert spreads_named(text, 7) == numbers


@pytest.mark.parametrize("text", ["", " ", "8", "0", "3-2", "two", "1-", "1;2", "²"])
def test_spreads_that_cannot_be_are_refused(text: str) -> None:
    with pytest.raises(NotUnderstood):
        spreads_named(text, 7)
