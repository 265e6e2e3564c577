"""Bleed and safety margin by edge: where a booklet is bound, outside, at head and foot; and what is preferred."""

from __future__ import annotations

from dataclasses import replace

import pytest

from service.pdf.facts.geometry import Box, Sides
from service.pdf.facts.measurements import Measurements
from service.pdf.facts.page import Page
from service.pdf.facts.painted.text import TextRun
from service.sheets.format.refusals import SheetRefused
from service.sheets.format.validation import read_sheet
from service.sheets.format.writing import sheet_to_document
from service.sheets.model import BleedAsked, MarginAsked, MarginStep, PagesAsked, SpecSheet, TrimAsked
from service.sheets.variants import variants
from tests.rules.measured import content, document, judged, only_finding, outcome, page, run, shape

A5 = TrimAsked(width_mm=148, height_mm=210)
BOOKLET = SpecSheet(trim=A5, pages=PagesAsked(minimum=4), bleed=BleedAsked(minimum_mm=3, binding_mm=0))


def pages(*bleeds: tuple[float, float, float, float]) -> list[Page]:
    """Of A5, numbered from 1; bleed at the top, right, bottom, left, and ink that goes as far as that."""
    return [
        page(148, 210, number=at, bleed_mm=Sides(*one), bleed_reach_mm=Sides(*one)) for at, one in enumerate(bleeds, start=1)
    ]


RIGHT_HAND, LEFT_HAND = (3.0, 3.0, 3.0, 0.0), (3.0, 0.0, 3.0, 3.0)


def test_a_stapled_booklet_on_facing_pages_needs_no_bleed_where_it_is_bound() -> None:
    made = document(*pages(RIGHT_HAND, LEFT_HAND, RIGHT_HAND, LEFT_HAND))
    assert outcome("bleed.declared", made, BOOKLET) == "met"
    assert outcome("bleed.reach", made, BOOKLET) == "met"


def test_the_bound_edge_is_left_on_odd_pages_and_right_on_even_ones() -> None:
    made = document(*pages(LEFT_HAND, RIGHT_HAND))
    _, findings = judged("bleed.declared", made, BOOKLET)
    assert [(one.finding.pages, one.finding.measured, one.finding.required) for one in findings] == [
        ((1,), {"right_mm": 0}, {"right_mm": 3}),
        ((2,), {"left_mm": 0}, {"left_mm": 3}),
    ]


@pytest.mark.parametrize(("depth", "expected"), [(2.96, "met"), (2.94, "not_met")])
def test_the_outer_edge_still_needs_its_bleed(depth: float, expected: str) -> None:
    assert outcome("bleed.declared", document(*pages((3, depth, 3, 0))), BOOKLET) == expected


def test_a_booklet_without_any_bleed_is_one_finding_though_its_edges_change_places() -> None:
    finding = only_finding("bleed.declared", document(*pages(*[(0, 0, 0, 0)] * 4)), BOOKLET).finding
    assert finding.pages == (1, 2, 3, 4)
    assert len(finding.places) == 4 * 3
    assert finding.message == "Pages 1–4 have no bleed; the printer asks for 3 mm."


def test_artwork_that_stops_at_the_fold_is_right_and_at_the_outer_edge_is_not() -> None:
    right, left = (page(148, 210, bleed_reach_mm=Sides(*one)) for one in (RIGHT_HAND, LEFT_HAND))
    assert outcome("bleed.reach", document(right), BOOKLET) == "met"
    found = only_finding("bleed.reach", document(left), BOOKLET).finding
    assert (found.measured, found.required) == ({"right_mm": 0}, {"minimum_mm": 3})


def test_a_spread_is_bound_in_its_middle_and_bleeds_on_both_sides() -> None:
    spread = page(296, 210, bleed_mm=Sides(3.0, 3.0, 3.0, 0.0))
    found = only_finding("bleed.declared", document(page(148, 210), spread, spread), BOOKLET).finding
    assert found.measured == {"left_mm": 0}


def test_reader_spreads_without_bleed_are_told_with_the_covers_that_stand_alone() -> None:
    """1, 2|3, 4: the back cover is the third page of the file, and a left-hand one."""
    cover, spread = page(148, 210, bleed=0), page(296, 210, bleed=0)
    finding = only_finding("bleed.declared", document(cover, spread, cover), BOOKLET).finding
    assert (finding.pages, len(finding.places)) == ((1, 2, 3), 3 + 4 + 3)
    upright = [(place.page, place.box_mm.x0) for place in finding.places if place.box_mm.width == 3]
    assert upright == [(1, 148), (2, 296), (2, -3), (3, -3)]
    right, left = page(148, 210, bleed_mm=Sides(*RIGHT_HAND)), page(148, 210, bleed_mm=Sides(*LEFT_HAND))
    assert outcome("bleed.declared", document(right, page(296, 210), left), BOOKLET) == "met"


def test_a_sheet_that_names_no_edge_asks_alike_on_every_side() -> None:
    alike = replace(BOOKLET, bleed=BleedAsked(minimum_mm=3))
    assert outcome("bleed.declared", document(*pages(RIGHT_HAND)), alike) == "not_met"


def test_a_wall_calendar_asks_for_more_room_at_its_head() -> None:
    calendar = SpecSheet(margin=MarginAsked(minimum_mm=3, head_mm=13))
    assert outcome("margin.text", document(with_text(5, 13)), calendar) == "met"
    found = only_finding("margin.text", document(with_text(5, 12.9)), calendar).finding
    assert (found.measured["side"], found.required) == ("top", {"minimum_mm": 13})
    art = replace(content(), artwork=(shape(20, 10, 40, 30),))
    assert only_finding("margin.artwork", document(page(content=art)), calendar).finding.required == {"minimum_mm": 13}


# --- Preferred ----------------------------------------------------------------------------------------------------------

WISHING = SpecSheet(margin=MarginAsked(minimum_mm=3, preferred_mm=5))


def with_text(x0: float, y0: float) -> Page:
    text: TextRun = replace(run("Open"), box_mm=Box(x0, y0, x0 + 20, y0 + 4), ink_mm=Box(x0, y0, x0 + 20, y0 + 4))
    return page(content=content(text=(text,)))


@pytest.mark.parametrize(("x0", "expected"), [(5, None), (4.96, None), (4.94, "should"), (3, "should"), (2.94, "must")])
def test_text_nearer_than_preferred_is_an_observation(x0: float, expected: str | None) -> None:
    _, findings = judged("margin.text", document(with_text(x0, 20)), WISHING)
    assert [one.level for one in findings] == ([expected] if expected else [])


def test_what_breaks_the_minimum_is_told_once_and_the_wish_apart() -> None:
    _, findings = judged("margin.text", document(with_text(1, 20), with_text(4, 20)), WISHING)
    assert [(one.level, one.finding.pages, one.finding.required) for one in findings] == [
        ("must", (1,), {"minimum_mm": 3}),
        ("should", (2,), {"preferred_mm": 5}),
    ]


@pytest.mark.parametrize(("x0", "expected"), [(5.5, None), (4, "should"), (2, "must")])
def test_artwork_nearer_than_preferred_is_an_observation(x0: float, expected: str | None) -> None:
    art = replace(content(), artwork=(shape(x0, 20, 40, 30),))
    _, findings = judged("margin.artwork", document(page(content=art)), WISHING)
    assert [one.level for one in findings] == ([expected] if expected else [])


# --- Margins that grow with the number of pages ---------------------------------------------------------------------------


def book(count: int, inside_mm: float) -> Measurements:
    """The first page has text so far from its left edge, where it is bound; the last page but one, too."""
    text = content(text=(run("Halyard", x=inside_mm, y=50),))
    return document(*(page(148, 210, content=text if at % 2 == 0 else content()) for at in range(count)))


GROWING = SpecSheet(
    trim=A5,
    pages=PagesAsked(minimum=4),
    margin=MarginAsked(minimum_mm=3, by_pages=(MarginStep(from_pages=40, binding_mm=12), MarginStep(from_pages=8, binding_mm=9))),
)


@pytest.mark.parametrize(
    ("count", "inside", "expected"),
    [
        (6, 3, "met"), (8, 8.9, "not_met"), (8, 9, "met"), (38, 9, "met"), (40, 11.9, "not_met"), (40, 12, "met"),
        (60, 11, "not_met"),
    ],
)
def test_a_margin_grows_with_the_number_of_pages(count: int, inside: float, expected: str) -> None:
    """The step that is reached last counts, in whatever order they are written."""
    assert outcome("margin.text", book(count, inside), GROWING) == expected


def test_the_depth_that_is_asked_is_that_of_the_step() -> None:
    found = only_finding("margin.text", book(8, 5), GROWING).finding
    assert found.required == {"minimum_mm": 9}


def test_a_spread_counts_as_two_pages() -> None:
    single, spread = page(148, 210), page(296, 210)
    near = replace(single, content=content(text=(run("Halyard", x=5, y=50),)))
    assert outcome("margin.text", document(near, *[spread] * 3), GROWING) == "met"
    assert outcome("margin.text", document(near, *[spread] * 4), GROWING) == "not_met"


# --- A live area in the middle of the page --------------------------------------------------------------------------------


def test_a_live_area_is_a_margin_said_as_a_size() -> None:
    sheet = read_sheet({"trim": {"width": 148, "height": 210}, "margin": {"live_area": {"width": 128, "height": 180}}})
    assert sheet.margin
    edges = (sheet.margin.minimum_mm, sheet.margin.binding_mm, sheet.margin.outer_mm, sheet.margin.head_mm, sheet.margin.foot_mm)
    assert edges == (10, 10, 10, 15, 15)
    for x, y, expected in ((10, 15, "met"), (9.9, 15, "not_met"), (10, 14.9, "not_met")):
        made = document(page(148, 210, content=content(text=(run("Halyard", x=x, y=y),))))
        assert outcome("margin.text", made, sheet) == expected
    assert sheet_to_document(sheet)["margin"] == {"live_area": {"width": "128 mm", "height": "180 mm"}}


def test_another_size_that_is_taken_has_a_margin_of_its_own() -> None:
    margin = {"live_area": {"width": "128 mm", "height": "190 mm"}}
    sheet = read_sheet({"trim": {"width": 148, "height": 210, "alternatives": [{"width": 138, "height": 200}]}, "margin": margin})
    assert [way.margin and way.margin.minimum_mm for way in variants(sheet)] == [10, 5]


@pytest.mark.parametrize(
    ("document", "pointer"),
    [
        ({"margin": {"live_area": {"width": 128, "height": 190}}}, "/margin/live_area"),
        ({"trim": {"width": 100, "height": 200}, "margin": {"live_area": {"width": 128, "height": 19}}}, "/margin/live_area"),
        (
            {"trim": {"width": 18, "height": 9}, "margin": {"minimum": 1, "live_area": {"width": 9, "height": 8}}},
            "/margin/minimum",
        ),
        ({"trim": {"width": 148, "height": 210}, "margin": {"preferred": 3}}, "/margin/minimum"),
        ({"margin": {"minimum": 3, "by_pages": [{"from": 8}]}}, "/margin/by_pages/0"),
    ],
)
def test_a_live_area_needs_a_page_and_stands_alone(document: dict[str, object], pointer: str) -> None:
    with pytest.raises(SheetRefused) as refused:
        read_sheet(document)
    assert [one for one, _ in refused.value.errors] == [pointer]
