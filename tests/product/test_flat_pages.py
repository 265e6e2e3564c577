"""What a sheet alone says of its product as it lies flat; the sums are done here by hand."""

from __future__ import annotations

from dataclasses import replace

import pytest

from service.pdf.facts.geometry import Box
from service.pdf.facts.unknown import Unmeasured
from service.product.flat_pages import NO_HEIGHT, NO_SIZE, NO_SPINE, FlatPage, flat_pages, single_page
from service.sheets.catalogue import stored_sheets
from service.sheets.model import Fold, FoldingAsked, FoldType, KeepClearArea, PagesAsked, Part, SpecSheet, SpineAsked, TrimAsked
from service.sheets.order import for_order

A4_ACROSS = SpecSheet(trim=TrimAsked(width_mm=297, height_mm=210), pages=PagesAsked(allowed=(2,)))


def pages_of(sheet: SpecSheet) -> tuple[FlatPage, ...]:
    pages = flat_pages(sheet)
    assert not isinstance(pages, Unmeasured)
    return pages


def folded(kind: FoldType | None, *at: float) -> SpecSheet:
    folds = tuple(Fold(at_mm=one, axis="vertical") for one in at)
    return replace(A4_ACROSS, folds=folds, folding=FoldingAsked(type=kind) if kind else None)


def test_a_card_looks_the_same_on_both_sides() -> None:
    (card,) = pages_of(stored_sheets()["business-card-85x55"])
    assert (card.numbers, card.trim_mm, card.bleed_mm, card.folds, card.areas) == ((1, 2), Box(0, 0, 85, 55), 3, (), ())


def test_an_area_of_one_side_is_on_that_side_alone() -> None:
    stamp = KeepClearArea(name="stamp", box_mm=Box(200, 5, 290, 45), pages=(2,))
    front, back = pages_of(replace(A4_ACROSS, keep_clear=(stamp,)))
    assert (front.areas, back.areas) == ((), (stamp,))


def test_an_uneven_fold_lies_mirrored_on_the_back() -> None:
    outside, inside = pages_of(folded("roll", 97, 197))
    assert [fold.line_mm.x0 for fold in outside.folds] == [97, 197]
    assert [fold.line_mm.x0 for fold in inside.folds] == [200, 100]


@pytest.mark.parametrize(
    ("kind", "turns"), [("zigzag", ["away", "towards"]), ("roll", ["away", "away"]), ("gate", ["away", "away"])]
)
def test_a_fold_goes_away_outside_and_towards_you_inside(kind: FoldType, turns: list[str]) -> None:
    outside, inside = pages_of(folded(kind, 99, 198))
    assert [fold.turn for fold in outside.folds] == turns
    assert {one + other for one, other in zip(turns, [str(fold.turn) for fold in inside.folds], strict=True)} <= {
        "awaytowards", "towardsaway",
    }  # fmt: skip


def test_without_a_way_of_folding_no_direction_is_told() -> None:
    assert [fold.turn for fold in pages_of(folded(None, 148.5))[0].folds] == [None]


def test_pages_of_a_booklet_face_each_other() -> None:
    (spread,) = pages_of(stored_sheets()["booklet-a5-stapled"])
    assert (spread.numbers, spread.trim_mm, spread.gutter_mm) == ((2, 3), Box(0, 0, 296, 210), 148)


def test_a_cover_is_as_wide_as_the_order_makes_it() -> None:
    cover = SpecSheet(spine=SpineAsked(page_width_mm=148, page_height_mm=210, cover_caliper_mm=0.3))
    assert flat_pages(cover) == Unmeasured(NO_SPINE)
    (page,) = pages_of(for_order(cover, {"inner_pages": 96, "caliper_mm": 0.11}))
    assert page.trim_mm == pytest.approx(Box(0, 0, 301.88, 210))
    assert page.spine_mm == pytest.approx(Box(148, 0, 153.88, 210))
    assert [fold.turn for fold in page.folds] == ["away", "away"]


def test_a_sheet_that_lacks_a_size_says_which() -> None:
    assert flat_pages(SpecSheet()) == single_page(SpecSheet(), 1, 1) == Unmeasured(NO_SIZE)
    ordered = for_order(SpecSheet(spine=SpineAsked(page_width_mm=148)), {"inner_pages": 96, "caliper_mm": 0.11})
    assert flat_pages(ordered) == single_page(ordered, 1, 1) == Unmeasured(NO_HEIGHT)


def test_the_file_of_a_booklet_holds_each_page_alone() -> None:
    page = single_page(stored_sheets()["booklet-a5-stapled"], 5, 8)
    assert isinstance(page, FlatPage)
    assert (page.numbers, page.trim_mm, page.gutter_mm) == ((5,), Box(0, 0, 148, 210), None)


@pytest.mark.parametrize(("orientation", "expected"), [("portrait", Box(0, 0, 210, 297)), ("any", Box(0, 0, 297, 210))])
def test_a_page_stands_as_the_sheet_says(orientation: str, expected: Box) -> None:
    trim = TrimAsked(width_mm=297, height_mm=210, orientation=orientation)  # type: ignore[arg-type]
    assert pages_of(SpecSheet(trim=trim))[0].trim_mm == expected


def test_areas_that_count_from_another_corner_are_drawn_where_they_lie() -> None:
    """The post's zone for the stamp, 74 × 40 mm in the top right corner of the address side of a card of 148 × 105 mm."""
    pages = flat_pages(stored_sheets()["postcard-a6"])
    assert isinstance(pages, tuple)
    stamp = next(area for area in pages[1].areas if area.name == "postage")
    assert stamp.box_mm == (74, 0, 148, 40)


def test_a_cover_of_its_own_size_is_drawn_before_the_pages_that_face_each_other() -> None:
    cover, facing = pages_of(stored_sheets()["booklet-a4-stapled-flat-cover"])
    assert (cover.part, cover.numbers, cover.trim_mm) == ("cover", (1, 2), Box(0, 0, 420, 297))
    assert (facing.part, facing.numbers, facing.trim_mm.width) == (None, (4, 5), 420)


def test_areas_on_a_page_of_its_own_size_are_drawn_in_its_corner() -> None:
    stamp = KeepClearArea(name="stamp", box_mm=Box(0, 0, 74, 40), corner="top-right")
    inside = KeepClearArea(name="perforation", box_mm=Box(0, 0, 10, 210), pages=(3,))
    sheet = SpecSheet(
        trim=TrimAsked(width_mm=148, height_mm=210, parts=(Part(name="cover", first=2, width_mm=296, height_mm=214),)),
        pages=PagesAsked(minimum=6, maximum=16),
        keep_clear=(stamp, inside),
    )
    cover, facing = pages_of(sheet)
    assert [area.box_mm for area in cover.areas] == [(222, 0, 296, 40)]
    assert [area.box_mm for area in facing.areas] == [(74, 0, 148, 40)]


def test_in_a_file_each_page_of_a_part_has_its_size_wherever_the_part_stands() -> None:
    sheet = SpecSheet(
        trim=TrimAsked(width_mm=210, height_mm=297, parts=(Part(name="cover", first=1, last=2, width_mm=216, height_mm=303),)),
        pages=PagesAsked(minimum=4),
    )
    made = [single_page(sheet, number, 6) for number in range(1, 7)]
    assert [one.trim_mm.width for one in made if isinstance(one, FlatPage)] == [216, 210, 210, 210, 216, 216]
