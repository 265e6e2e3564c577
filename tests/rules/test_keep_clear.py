"""Areas that must stay clear: nothing inked in them."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from service.pdf.geometry import Box
from service.pdf.measurements import Page, TextRun, Unmeasured
from service.rules.judge import judge
from service.sheets.model import KeepClearArea, SpecSheet
from tests.rules.measured import content, document, judged, only_finding, outcome, page, picture, run, shape, without_content

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
