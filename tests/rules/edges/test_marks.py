"""Crop marks: there or not, in line with the trim, out of the bleed."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import replace
from typing import Any

import pytest

from service.pdf.facts.geometry import Box
from service.pdf.facts.page import Page
from service.pdf.facts.painted.vectors import MarkLine
from service.sheets.model import BleedAsked, MarksAsked, SpecSheet
from tests.facts import fact
from tests.rules.measured import content, crop_marks, document, judged, only_finding, outcome, page, without_content

REQUIRED = SpecSheet(marks=MarksAsked(crop_marks="required"))
FORBIDDEN = SpecSheet(marks=MarksAsked(crop_marks="forbidden"))
THREE_AWAY = SpecSheet(marks=MarksAsked(offset_minimum_mm=3))
TRIM = Box(0, 0, 85, 55)


def with_marks(lines: Iterable[MarkLine], marked: Box | None = TRIM) -> Page:
    return page(content=replace(content(), mark_lines=tuple(lines)), crop_marks_mm=marked)


def moved(lines: Iterable[MarkLine], x: float, y: float) -> list[MarkLine]:
    boxes = ((line, line.box_mm) for line in lines)
    return [replace(line, box_mm=Box(box.x0 + x, box.y0 + y, box.x1 + x, box.y1 + y)) for line, box in boxes]


# --- Crop marks ---


def test_eight_marks_in_line_with_the_trim_are_crop_marks() -> None:
    assert outcome("marks.crop", document(with_marks(crop_marks())), REQUIRED) == "met"
    finding = only_finding("marks.crop", document(with_marks(crop_marks())), FORBIDDEN).finding
    assert finding.measured == {"corners": 4}
    assert finding.required == {"crop_marks": "forbidden", "corners": 0}
    assert len(finding.places) == 4


def test_a_page_without_marks() -> None:
    assert outcome("marks.crop", document(with_marks((), None)), FORBIDDEN) == "met"
    finding = only_finding("marks.crop", document(with_marks((), None)), REQUIRED).finding
    assert finding.measured == {"corners": 0}
    assert finding.required == {"crop_marks": "required", "corners": 4}
    assert len(finding.places) == 4


RIGHT_CORNERS = {(85, -10, 95, 0), (85, 55, 95, 65)}
LEFT_CORNERS = {(-10, -10, 0, 0), (-10, 55, 0, 65)}


@pytest.mark.parametrize(("lost", "corners"), [(85, RIGHT_CORNERS), (88, RIGHT_CORNERS), (0, LEFT_CORNERS), (-8, LEFT_CORNERS)])
def test_a_corner_needs_both_its_marks(lost: float, corners: set[tuple[float, ...]]) -> None:
    """Uprights stand at x = 0 and 85, level marks begin at -8 and 88."""
    others = with_marks([line for line in crop_marks() if line.box_mm.x0 != lost], None)
    finding = only_finding("marks.crop", document(others), REQUIRED).finding
    assert finding.measured == {"corners": 2}
    assert {place.box_mm for place in finding.places} == corners
    assert {place.box_mm for place in only_finding("marks.crop", document(others), FORBIDDEN).finding.places} == (
        (RIGHT_CORNERS | LEFT_CORNERS) - corners
    )


def level(line: MarkLine) -> bool:
    return line.box_mm.width > line.box_mm.height


def across(line: MarkLine) -> MarkLine:
    """A tick at the middle of the mark, turned by a quarter."""
    x, y = (line.box_mm.x0 + line.box_mm.x1) / 2, (line.box_mm.y0 + line.box_mm.y1) / 2
    half_width, half_height = line.box_mm.height / 2, line.box_mm.width / 2
    return replace(line, box_mm=Box(x - half_width, y - half_height, x + half_width, y + half_height))


@pytest.mark.parametrize("turned", [level, lambda line: not level(line)], ids=["level marks", "uprights"])
def test_ticks_across_the_line_of_an_edge_are_no_crop_marks(turned: Callable[[MarkLine], bool]) -> None:
    ticks = [across(line) if turned(line) else line for line in crop_marks()]
    assert only_finding("marks.crop", document(with_marks(ticks, None)), REQUIRED).finding.measured == {"corners": 0}


@pytest.mark.parametrize("shifted", [level, lambda line: not level(line)], ids=["level marks", "uprights"])
def test_marks_of_one_direction_out_of_line_make_no_corner(shifted: Callable[[MarkLine], bool]) -> None:
    lines = [moved([line], 2, 2)[0] if shifted(line) else line for line in crop_marks()]
    assert only_finding("marks.crop", document(with_marks(lines, None)), REQUIRED).finding.measured == {"corners": 0}


@pytest.mark.parametrize(("offset", "expected"), [(24.9, "met"), (25.1, "not_met"), (0, "met"), (-0.04, "met"), (-1, "not_met")])
def test_crop_marks_start_outside_the_trim_and_not_far_from_it(offset: float, expected: str) -> None:
    assert outcome("marks.crop", document(with_marks(crop_marks(offset=offset), None)), REQUIRED) == expected


@pytest.mark.parametrize(("off", "expected"), [(0.25, "met"), (0.26, "not_met")])
def test_marks_beside_the_trim_are_not_in_line_with_it(off: float, expected: str) -> None:
    assert outcome("marks.crop", document(with_marks(moved(crop_marks(), off, 0), None)), REQUIRED) == expected


def test_marks_that_point_at_another_size_are_said_to() -> None:
    """Marks of a US card beside the trim of a European one."""
    elsewhere = with_marks(moved(crop_marks(89, 51), -2, 2), Box(-2, 2, 87, 53))
    finding = only_finding("marks.crop", document(elsewhere), REQUIRED).finding
    assert finding.measured == {"corners": 0, "width_mm": 89, "height_mm": 51}
    unwanted = only_finding("marks.crop", document(elsewhere), FORBIDDEN).finding
    assert (unwanted.measured, len(unwanted.places)) == ({"corners": 0}, 4)


@pytest.mark.parametrize(
    ("marked", "told"),
    [
        (Box(0, 0, 85.25, 55), {"corners": 2}),
        (Box(0, 0, 85.26, 55), {"corners": 2, "width_mm": 85.3, "height_mm": 55}),
        (Box(0, 0, 89, 55), {"corners": 2, "width_mm": 89, "height_mm": 55}),
    ],
)
def test_marks_point_elsewhere_where_one_edge_does(marked: Box, told: dict[str, float]) -> None:
    of_the_left = [line for line in crop_marks() if line.box_mm.x0 <= 0]
    assert only_finding("marks.crop", document(with_marks(of_the_left, marked)), REQUIRED).finding.measured == told


def test_lines_beside_one_corner_are_artwork() -> None:
    one_corner = [line for line in crop_marks() if line.box_mm.x1 <= 0 and line.box_mm.y1 <= 0]
    assert len(one_corner) == 2
    assert outcome("marks.crop", document(with_marks(one_corner, None)), FORBIDDEN) == "met"


def test_pages_with_the_same_fault_are_one_finding() -> None:
    finding = only_finding("marks.crop", document(*[with_marks((), None)] * 3), REQUIRED).finding
    assert finding.pages == (1, 2, 3)


@pytest.mark.parametrize("rule_id", ["marks.crop", "marks.offset"])
def test_marks_that_nobody_saw_or_asked_for(rule_id: str) -> None:
    both = SpecSheet(marks=MarksAsked(crop_marks="required", offset_minimum_mm=3))
    assert outcome(rule_id, document(page(), without_content(page())), both) != "met"
    assert judged(rule_id, document(without_content(page())), both)[0].outcome == "not_measured"
    for silent in (SpecSheet(), SpecSheet(marks=MarksAsked(crop_marks="allowed"))):
        assert outcome(rule_id, document(page()), silent) == "not_applicable"


# --- Their distance ---


@pytest.mark.parametrize(
    ("marks", "bleed_mm", "expected"),
    [("allowed", 0.5, "met"), ("required", 3, "met"), ("forbidden", 3, "not_applicable"), ("allowed", 0, "not_applicable")],
)
def test_marks_keep_out_of_the_bleed_only_where_there_may_be_both(marks: Any, bleed_mm: float, expected: str) -> None:
    sheet = SpecSheet(marks=MarksAsked(crop_marks=marks), bleed=BleedAsked(minimum_mm=bleed_mm))
    assert outcome("marks.offset", document(with_marks(crop_marks())), sheet) == expected


@pytest.mark.parametrize(("offset", "expected"), [(3, "met"), (2.96, "met"), (2.94, "not_met"), (2.12, "not_met")])
def test_marks_keep_the_distance_that_the_printer_asks_for(offset: float, expected: str) -> None:
    assert outcome("marks.offset", document(with_marks(crop_marks(offset=offset))), THREE_AWAY) == expected


def test_marks_six_points_away_lie_in_a_bleed_of_three_millimetres() -> None:
    """6 pt are 2.12 mm. Where the sheet only takes marks and asks for a bleed, that is a remark."""
    near = document(with_marks(crop_marks(offset=6 * 25.4 / 72)))
    taken = SpecSheet(marks=MarksAsked(crop_marks="allowed"), bleed=BleedAsked(minimum_mm=3))
    found = only_finding("marks.offset", near, taken)
    assert (found.level, found.finding.measured) == ("should", {"offset_mm": 2.12, "marks": 8})
    assert found.finding.required == {"bleed_mm": 3}
    asked = SpecSheet(marks=MarksAsked(offset_minimum_mm=3), bleed=BleedAsked(minimum_mm=3))
    assert only_finding("marks.offset", near, asked).level == "must"
    two = SpecSheet(marks=MarksAsked(offset_minimum_mm=2), bleed=BleedAsked(minimum_mm=3))
    assert only_finding("marks.offset", near, two).level == "should"
    at_two = only_finding("marks.offset", document(with_marks(crop_marks(offset=2))), two)
    assert at_two.level == "should"
    assert "to 3 mm or more" in at_two.finding.remedy


def test_bleed_marks_further_out_do_not_count() -> None:
    lines = [*crop_marks(offset=3.5), *crop_marks(offset=3.5, at=3)]
    assert outcome("marks.offset", document(with_marks(lines)), THREE_AWAY) == "met"


def test_a_registration_mark_in_the_bleed_is_too_near() -> None:
    target = fact(MarkLine, Box(40, -2, 45, -2), 0.25, (), registration=True)
    rule = replace(target, registration=False, inks=("Black",))
    finding = only_finding("marks.offset", document(with_marks([target])), THREE_AWAY).finding
    assert finding.measured == {"offset_mm": 2, "marks": 1}
    assert "to 3 mm or more" in finding.remedy
    assert outcome("marks.offset", document(with_marks([rule])), THREE_AWAY) == "met"


@pytest.mark.parametrize(("offset", "words"), [(2.1, "stand only 2.1 mm from the trim"), (0.0, "stand right at the trim")])
def test_how_near_the_marks_stand_is_told(offset: float, words: str) -> None:
    near = page(content=replace(content(), mark_lines=tuple(crop_marks(offset=offset))))
    assert words in only_finding("marks.offset", document(near), THREE_AWAY).finding.message


def test_the_nearest_mark_is_told_and_one_across_the_trim_is_right_at_it() -> None:
    near, nearer = crop_marks(offset=2), crop_marks(offset=1)
    assert only_finding("marks.offset", document(with_marks([*near, *nearer])), THREE_AWAY).finding.measured == {
        "offset_mm": 1,
        "marks": 16,
    }
    target = fact(MarkLine, Box(40, -2, 40, 2), 0.25, (), registration=True)
    assert only_finding("marks.offset", document(with_marks([target])), THREE_AWAY).finding.measured["offset_mm"] == 0
