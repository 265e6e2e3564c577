"""The rectangle that crop marks point at: from lines by hand, and on built pages that do not say where they are trimmed."""

from __future__ import annotations

from pathlib import Path

import pytest

from service.pdf.facts.geometry import Box
from service.pdf.facts.page import Page
from service.pdf.facts.painted.vectors import MarkLine
from service.pdf.facts.unknown import Unmeasured
from service.pdf.measure import measure
from service.pdf.pages.crop_marks import marked_box
from tests.build import PageBuilder, document, page
from tests.facts import fact
from tests.patience import processor_seconds

MARK = 0.25


def marks(x0: float, y0: float, x1: float, y1: float, offset: float = 3, length: float = 5) -> list[MarkLine]:
    lines = []
    for x, out_x in ((x0, -1), (x1, 1)):
        for y, out_y in ((y0, -1), (y1, 1)):
            lines.append(Box.of_corners(x + out_x * offset, y, x + out_x * (offset + length), y))
            lines.append(Box.of_corners(x, y + out_y * offset, x, y + out_y * (offset + length)))
    return [fact(MarkLine, line, MARK, (), True) for line in lines]


def line(x0: float, y0: float, x1: float, y1: float) -> MarkLine:
    return fact(MarkLine, Box.of_corners(x0, y0, x1, y1), MARK, (), False)


CARD = (0, 0, 85, 55)


@pytest.mark.parametrize("offset", [0.6, 2.12, 3, 10, 20])
def test_eight_marks_make_a_trim(offset: float) -> None:
    assert marked_box(marks(*CARD, offset=offset)) == CARD


@pytest.mark.parametrize("missing", range(8))
def test_seven_marks_make_none(missing: int) -> None:
    lines = marks(*CARD)
    del lines[missing]
    assert marked_box(lines) is None


def test_of_crop_and_bleed_marks_the_inner_ones_are_the_trim() -> None:
    assert marked_box([*marks(-3, -3, 88, 58, offset=5), *marks(*CARD, offset=5)]) == CARD


def test_fold_marks_and_centre_marks_beside_them_change_nothing() -> None:
    folds = [line(42.5, -8, 42.5, -3), line(42.5, 58, 42.5, 63)]
    cross = [line(-8, 27.5, -3, 27.5), line(88, 27.5, 93, 27.5), line(-5.5, 25, -5.5, 30), line(90.5, 25, 90.5, 30)]
    assert marked_box([*marks(*CARD), *folds, *cross]) == CARD


def test_the_spine_of_a_cover_is_no_trim_of_its_own() -> None:
    spine = [line(x, y, x, y + 5) for x in (148, 156) for y in (-8, 213)]
    assert marked_box([*marks(0, 0, 304, 210), *spine]) == (0, 0, 304, 210)


def test_cards_made_up_side_by_side_are_not_one_trim() -> None:
    """Two cards on one sheet, each with its marks."""
    assert marked_box([*marks(*CARD, offset=2, length=3), *marks(100, 0, 185, 55, offset=2, length=3)]) is None


def test_a_table_of_short_rules_is_no_trim() -> None:
    """Three rows and columns, each cell's edge a line of its own."""
    steps = (0.0, 20.0, 40.0, 60.0)
    level = [line(x, y, x + 20, y) for y in steps for x in steps[:-1]]
    upright = [line(x, y, x, y + 20) for x in steps for y in steps[:-1]]
    assert marked_box([*level, *upright]) is None


def test_uneven_offsets_are_no_crop_marks() -> None:
    lines = [*marks(*CARD)[:7], line(85, 55 + 12, 85, 55 + 17)]
    assert marked_box(lines) is None


@pytest.mark.parametrize(("off", "found"), [(0.1, True), (0.3, False)])
def test_marks_of_one_edge_are_in_line(off: float, found: bool) -> None:
    first, *others = marks(*CARD)
    moved = fact(MarkLine, Box(first.box_mm.x0, off, first.box_mm.x1, off), MARK, (), True)
    assert (marked_box([moved, *others]) is not None) == found


def test_a_page_of_nothing_but_short_lines_costs_a_bounded_time() -> None:
    lines = [line(x, y, x + 2, y) for x in range(0, 130, 4) for y in range(0, 120, 4)]
    lines += [line(x + 3, y + 1, x + 3, y + 3) for x in range(0, 130, 4) for y in range(0, 120, 4)]
    with processor_seconds(at_most=4):
        assert marked_box(lines) is None


# --- On pages ---


def measured(built: PageBuilder, folder: Path) -> Page:
    pages = measure(document(built).save(folder / "file.pdf")).pages
    assert not isinstance(pages, Unmeasured)
    return pages[0]


def without_boxes(built: PageBuilder) -> PageBuilder:
    built.boxes = {}
    return built


def test_a_page_that_says_nothing_is_trimmed_at_its_marks(tmp_path: Path) -> None:
    found = measured(without_boxes(page(85, 55, slug=6).fill((-3, -3, 88, 58), cyan=1).crop_marks()), tmp_path)
    assert found.trim_source == "crop_marks"
    assert (found.trim_width_mm, found.trim_height_mm) == pytest.approx((85, 55), abs=0.01)
    assert found.boxes_mm.media == pytest.approx((-9, -9, 94, 64), abs=0.01)


@pytest.mark.parametrize("rotation", [0, 90, 180, 270])
def test_marks_are_found_however_the_page_is_turned_and_scaled(tmp_path: Path, rotation: int) -> None:
    built = without_boxes(page(85, 55, slug=6).crop_marks().text("Open", size=8, at=(12, 45)))
    found = measured(built.rotated(rotation).user_unit(2).origin(-40, 70), tmp_path)
    assert found.trim_source == "crop_marks"
    assert (found.trim_width_mm, found.trim_height_mm) == pytest.approx((85, 55), abs=0.01)


def test_a_declared_trim_is_the_trim_and_the_marks_are_told_beside_it(tmp_path: Path) -> None:
    built = page(85, 55, slug=8).crop_marks()
    built.boxes["TrimBox"] = (1, 1, 86, 56)
    found = measured(built, tmp_path)
    assert found.trim_source == "trim_box"
    assert isinstance(found.crop_marks_mm, Box)
    assert found.crop_marks_mm == pytest.approx((-1, -1, 84, 54), abs=0.01)


def test_white_marks_and_marks_that_do_not_print_show_no_trim(tmp_path: Path) -> None:
    white = without_boxes(page(85, 55, slug=6))
    for x, away_x in ((0, -1), (85, 1)):
        for y, away_y in ((0, -1), (55, 1)):
            white.line((x + away_x * 3, y), (x + away_x * 8, y), 0.25, gray=1)
            white.line((x, y + away_y * 3), (x, y + away_y * 8), 0.25, gray=1)
    assert measured(white, tmp_path).trim_source == "media_box"


def test_a_page_without_marks_has_none(tmp_path: Path) -> None:
    assert measured(page(85, 55).fill(cyan=1), tmp_path).crop_marks_mm is None
