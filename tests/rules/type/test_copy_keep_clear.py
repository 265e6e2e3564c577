"""Areas that must stay clear: nothing inked in them."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from service.pdf.facts.geometry import Box
from service.pdf.facts.page import Page
from service.pdf.facts.painted.text import TextRun
from service.pdf.facts.plates import FinishingPlate
from service.pdf.facts.unknown import Unmeasured
from service.rules.judge import judge
from service.sheets.model import KeepClearArea, SpecSheet, TrimAsked
from tests.facts import fact
from tests.rules.measured import (
    content,
    document,
    ink_map,
    judged,
    only_finding,
    outcome,
    page,
    picture,
    plates,
    run,
    shape,
    without_content,
)

WRITING = KeepClearArea(name="writing area", box_mm=Box(20, 45, 190, 277))
LETTER = SpecSheet(keep_clear=(WRITING,))


def letter(*text: TextRun, **changes: Any) -> Page:
    return page(210, 297, content=replace(content(text=text), **changes))


@pytest.mark.parametrize(("y1", "expected"), [(40, "met"), (45, "met"), (45.04, "met"), (45.1, "not_met"), (290, "not_met")])
def test_a_head_that_reaches_into_the_writing_area(y1: float, expected: str) -> None:
    assert outcome("copy.keep-clear", document(letter(artwork=(shape(0, 0, 210, y1),))), LETTER) == expected


def test_text_pictures_and_shapes_are_counted_apart_and_shown_where_they_are_in_the_way() -> None:
    address = run("14 Halyard Lane", x=60, y=60)
    loaf = replace(picture(), visible_box_mm=Box(150, 20, 180, 60))
    hairline = shape(30, 100, 180, 100, kind="stroke")
    found = only_finding("copy.keep-clear", document(letter(address, images=(loaf,), artwork=(hairline,))), LETTER).finding
    assert found.measured == {"texts": ["14 Halyard Lane"], "lines": 1, "pictures": 1, "shapes": 1}
    assert found.required == {"keep_clear": "writing area", "box_mm": [20, 45, 190, 277]}
    assert [place.box_mm for place in found.places][1:] == [(150, 45, 180, 60), (30, 100, 180, 100)]


@pytest.mark.parametrize(("ink_y1", "expected"), [(44, "met"), (46, "not_met")])
def test_a_line_is_in_the_way_with_its_ink(ink_y1: float, expected: str) -> None:
    above = replace(run("Halyard Lane", x=60, y=40), box_mm=Box(60, 40, 100, 47), ink_mm=Box(60, 41, 100, ink_y1))
    assert outcome("copy.keep-clear", document(letter(above)), LETTER) == expected


def test_guide_copy_in_the_area_belongs_to_another_rule() -> None:
    specimen = document(letter(run("Dear Sir or Madam,", x=25, y=105)))
    assert outcome("copy.keep-clear", specimen, LETTER) == "met"
    assert outcome("copy.placeholder", specimen, LETTER) == "not_met"


def test_what_leaves_no_ink_is_not_in_the_way() -> None:
    unseen, white = run("14 Halyard Lane", x=60, y=60, visible=False), replace(run("Bread", x=60, y=80), white=True)
    assert outcome("copy.keep-clear", document(letter(unseen, white)), LETTER) == "met"


def test_an_area_holds_for_the_pages_that_it_names() -> None:
    second = SpecSheet(keep_clear=(replace(WRITING, pages=(2,)),))
    full = letter(artwork=(shape(-3, -3, 213, 300),))
    assert outcome("copy.keep-clear", document(full), second) == "met"
    assert only_finding("copy.keep-clear", document(full, full, full), second).finding.pages == (2,)


def test_each_area_has_its_own_level_and_words() -> None:
    stamp = KeepClearArea(name="stamp", box_mm=Box(150, 5, 200, 30))
    soft = replace(WRITING, level="should", note="The letters are printed here.")
    full = document(letter(artwork=(shape(-3, -3, 213, 300),)))
    _, findings = judged("copy.keep-clear", full, SpecSheet(keep_clear=(soft, stamp)))
    assert {one.finding.required["keep_clear"]: (one.level, one.note) for one in findings} == {
        "writing area": ("should", "The letters are printed here."),
        "stamp": ("must", None),
    }


def test_the_strictest_area_decides_whether_the_verdict_stays_open() -> None:
    crowded = document(letter(artwork=Unmeasured("too many objects")))
    soft = replace(WRITING, level="should")
    assert judge(crowded, SpecSheet(keep_clear=(soft,))).verdict == "conforming"
    assert judge(crowded, SpecSheet(keep_clear=(soft, WRITING))).verdict == "inconclusive"


def test_areas_that_are_not_asked_for_or_not_seen() -> None:
    assert outcome("copy.keep-clear", document(letter()), SpecSheet()) == "not_applicable"
    assert outcome("copy.keep-clear", document(without_content(letter())), LETTER) == "not_measured"
    elsewhere = SpecSheet(keep_clear=(replace(WRITING, pages=(2,)),))
    assert outcome("copy.keep-clear", document(letter(artwork=Unmeasured("too many objects"))), elsewhere) == "met"


# --- What the plates say of it ---

SHEET = Box(-3, -3, 213, 300)
FRAME_ARMS = ((-3, -3, 213, 44), (-3, -3, 19, 300))


def plated(one: Page, *inked: tuple[float, float, float, float]) -> Page:
    return replace(one, plates=plates(ink_map=ink_map(SHEET, *inked)))


def test_artwork_that_goes_around_the_area_is_not_in_the_way() -> None:
    """One path along the head and the left side: its bounds cover the sheet."""
    around = letter(artwork=(shape(-3, -3, 213, 300),))
    assert outcome("copy.keep-clear", document(plated(around, *FRAME_ARMS)), LETTER) == "met"
    found = only_finding("copy.keep-clear", document(plated(around, *FRAME_ARMS, (100, 150, 102, 151))), LETTER).finding
    assert found.measured == {"texts": [], "lines": 0, "pictures": 0, "shapes": 1}
    assert outcome("copy.keep-clear", document(around), LETTER) == "not_met"


def test_copy_in_the_area_does_not_count_for_the_artwork_around_it() -> None:
    guide, address = run("Dear Sir or Madam,", x=25, y=105), run("14 Halyard Lane", x=60, y=60)
    around = letter(guide, artwork=(shape(-3, -3, 213, 300),))
    assert outcome("copy.keep-clear", document(plated(around, *FRAME_ARMS, (25, 105, 57, 109))), LETTER) == "met"
    both = letter(guide, address, artwork=(shape(-3, -3, 213, 300), shape(60, 63.5, 86, 63.5, kind="stroke")))
    inked = ((25, 105, 57, 109), (60, 60, 86, 64))
    found = only_finding("copy.keep-clear", document(plated(both, *FRAME_ARMS, *inked)), LETTER).finding
    assert found.measured == {"texts": ["14 Halyard Lane"], "lines": 1, "pictures": 0, "shapes": 1}


@pytest.mark.parametrize(("ends_at", "expected"), [(85.58, []), (85.42, [1])])
def test_letters_stand_out_of_their_line_by_half_a_millimetre(ends_at: float, expected: list[int]) -> None:
    """The square at 86 mm holds ink: a swash of the last letter, or a shape that begins there."""
    guide = run("Dear Sir or Madam,", x=60, y=60)
    line = replace(guide, box_mm=Box(60, 60, ends_at, 64), ink_mm=Box(60, 60, ends_at, 64))
    around = plated(letter(line, artwork=(shape(-3, -3, 213, 300),)), *FRAME_ARMS, (60, 60, 87, 64))
    _, findings = judged("copy.keep-clear", document(around), LETTER)
    assert [one.finding.measured["shapes"] for one in findings] == expected


def test_only_what_leaves_ink_in_its_own_part_is_told() -> None:
    loaf = replace(picture(), visible_box_mm=Box(30, 100, 60, 130))
    covered = letter(run("14 Halyard Lane", x=60, y=60), images=(loaf,), artwork=(shape(100, 200, 140, 220),))
    found = only_finding("copy.keep-clear", document(plated(covered, (110, 205, 112, 207))), LETTER).finding
    assert found.measured == {"texts": [], "lines": 0, "pictures": 0, "shapes": 1}
    assert outcome("copy.keep-clear", document(plated(covered)), LETTER) == "met"


@pytest.mark.parametrize(("y1", "expected"), [(45.04, "met"), (45.1, "not_met"), (45.9, "not_met"), (60, "not_met")])
def test_a_head_that_reaches_a_little_into_the_area_is_found_by_its_bounds(y1: float, expected: str) -> None:
    head = letter(artwork=(shape(0, 0, 210, y1),))
    assert outcome("copy.keep-clear", document(plated(head, (0, 0, 210, y1))), LETTER) == expected


@pytest.mark.parametrize("y", [100, 100.02, 99.98, 100.5])
def test_a_hairline_is_found_wherever_it_lies_on_the_squares(y: float) -> None:
    line = letter(artwork=(shape(30, y, 180, y, kind="stroke"),))
    assert outcome("copy.keep-clear", document(plated(line, (30, y - 0.03, 180, y + 0.03))), LETTER) == "not_met"
    assert outcome("copy.keep-clear", document(plated(line)), LETTER) == "met"


def test_with_too_many_objects_the_plates_alone_decide() -> None:
    crowded = letter(run("14 Halyard Lane", x=60, y=60), run("Dear Sir or Madam,", x=25, y=105), artwork=Unmeasured("too many"))
    written = ((60, 60, 86, 64), (25, 105, 57, 109))
    found = only_finding("copy.keep-clear", document(plated(crowded, *written, (100, 200, 110, 205))), LETTER).finding
    assert found.measured == {"texts": ["14 Halyard Lane"], "lines": 1, "pictures": 0, "shapes": 0, "inked_mm2": 50}
    assert [place.box_mm for place in found.places][1:] == [(100, 200, 110, 205)]
    only_guides = letter(run("Dear Sir or Madam,", x=25, y=105), artwork=Unmeasured("too many"))
    assert outcome("copy.keep-clear", document(plated(only_guides, (25, 105, 57, 109))), LETTER) == "met"
    assert outcome("copy.keep-clear", document(plated(letter(artwork=Unmeasured("too many")))), LETTER) == "met"


def test_varnish_is_in_the_way_too() -> None:
    coated = plated(letter(artwork=(shape(30, 60, 90, 90, inks=("Varnish",)),)))
    assert outcome("copy.keep-clear", document(coated), LETTER) == "met"
    varnish = fact(FinishingPlate, "Varnish", ink_map(SHEET, (30, 60, 90, 90)), None, ())
    assert not isinstance(coated.plates, Unmeasured)
    coated = replace(coated, plates=replace(coated.plates, finishing=(varnish,)))
    assert outcome("copy.keep-clear", document(coated), LETTER) == "not_met"


def test_without_plates_the_bounds_decide() -> None:
    full = replace(letter(artwork=(shape(-3, -3, 213, 300),)), plates=Unmeasured("too large"))
    assert outcome("copy.keep-clear", document(full), LETTER) == "not_met"
    crowded = replace(letter(artwork=Unmeasured("too many")), plates=Unmeasured("too large"))
    assert outcome("copy.keep-clear", document(crowded), LETTER) == "not_measured"


# --- Free of text alone, and pages on their side --------------------------------------------------------------------------

CASSETTE = SpecSheet(keep_clear=(replace(WRITING, free_of="text"),))


def test_pictures_may_stand_where_only_text_is_kept_out() -> None:
    loaf = replace(picture(), visible_box_mm=Box(20, 45, 190, 277))
    assert outcome("copy.keep-clear", document(letter(images=(loaf,), artwork=(shape(0, 0, 210, 297),))), CASSETTE) == "met"
    found = only_finding("copy.keep-clear", document(letter(run("Call us", x=60, y=60), images=(loaf,))), CASSETTE).finding
    assert (found.measured["texts"], found.measured["pictures"]) == (["Call us"], 0)


def test_where_areas_lie_on_a_page_that_lies_across_is_not_known() -> None:
    """A postcard that was laid out upright: its address side may be turned either way."""
    sheet = replace(LETTER, trim=TrimAsked(width_mm=210, height_mm=297))
    address = content(text=(run("14 Halyard Lane", x=60, y=60),))
    assert outcome("copy.keep-clear", document(page(210, 297, content=address)), sheet) == "not_met"
    assert outcome("copy.keep-clear", document(page(297, 210, content=address)), sheet) == "not_measured"
    square = replace(LETTER, trim=TrimAsked(width_mm=210, height_mm=210))
    assert outcome("copy.keep-clear", document(page(210, 210, content=address)), square) == "not_met"


def test_guide_copy_on_a_page_that_lies_across_stands_in_no_area() -> None:
    sheet = replace(LETTER, trim=TrimAsked(width_mm=210, height_mm=297))
    specimen = content(text=(run("Your name here", x=60, y=60),))
    assert only_finding("copy.placeholder", document(page(210, 297, content=specimen)), sheet).level == "must"
    assert only_finding("copy.placeholder", document(page(297, 210, content=specimen)), sheet).level == "should"
