"""Comments, form fields and links on the printed page."""

from __future__ import annotations

from dataclasses import replace

import pytest

from service.pdf.facts.geometry import Box
from service.pdf.facts.measurements import Measurements
from service.pdf.facts.page import Annotation
from service.pdf.facts.unknown import Unmeasured
from service.sheets.model import SpecSheet
from tests.facts import fact
from tests.rules.measured import document, judged, only_finding, outcome, page

SHEET = SpecSheet()
INSIDE, SLUG = Box(10, 10, 40, 14), Box(10, -9, 40, -5)
NOTE = fact(Annotation, "Text", "note", INSIDE, prints=True, shows=True, has_appearance=True)
FIELD = fact(Annotation, "Widget", "form field", INSIDE, prints=False, shows=True, has_appearance=True)
LINK = fact(Annotation, "Link", "link", INSIDE, prints=True, shows=True, draws_frame=True)


def noted(*annotations: Annotation) -> Measurements:
    return document(page(annotations=annotations))


def test_a_comment_that_prints_is_an_observation() -> None:
    found = only_finding("page.annotation", noted(NOTE, NOTE), SHEET)
    assert (found.level, found.finding.measured) == ("should", {"kinds": {"note": 2}, "prints": True, "shows": True})
    assert found.finding.pages == (1,)


def test_a_comment_that_prints_and_does_not_show_is_a_surprise() -> None:
    found = only_finding("page.annotation", noted(replace(NOTE, shows=False)), SHEET)
    assert found.finding.measured == {"kinds": {"note": 1}, "prints": True, "shows": False}


def test_a_field_of_which_the_file_does_not_say_how_it_looks_may_print() -> None:
    """An empty form field has no appearance: one program draws its frame, another leaves nothing."""
    filled, empty = replace(FIELD, prints=True), replace(FIELD, prints=True, has_appearance=False)
    for notes, words in (((filled,), "will print"), ((empty,), "may print"), ((filled, empty), "may print")):
        finding = only_finding("page.annotation", noted(*notes), SHEET).finding
        assert words in finding.message
        assert finding.measured == {"kinds": {"form field": len(notes)}, "prints": True, "shows": True}


def test_what_prints_what_does_not_and_links_are_causes_of_their_own() -> None:
    _, findings = judged("page.annotation", noted(NOTE, FIELD, LINK, replace(NOTE, subtype="Stamp", label="stamp")), SHEET)
    assert [one.finding.measured["kinds"] for one in findings] == [{"note": 1, "stamp": 1}, {"form field": 1}, {"link": 1}]


@pytest.mark.parametrize(
    "left_out",
    [
        replace(NOTE, box_mm=SLUG),
        replace(NOTE, prints=False, shows=False),
        replace(NOTE, subtype="PrinterMark"),
        replace(NOTE, subtype="TrapNet"),
        replace(NOTE, subtype="Popup"),
    ],
    ids=["in the slug", "hidden", "printer's mark", "traps", "pop-up"],
)
def test_what_is_no_matter_of_the_designer(left_out: Annotation) -> None:
    assert outcome("page.annotation", noted(left_out), SHEET) == "met"


def test_an_annotation_that_reaches_into_the_bleed_counts() -> None:
    assert outcome("page.annotation", noted(replace(NOTE, box_mm=Box(-10, 5, -2, 9))), SHEET) == "not_met"


def test_links_belong_in_a_preview_and_comments_are_told_there_too() -> None:
    preview = SpecSheet(purpose="client-preview")
    assert outcome("page.annotation", noted(LINK), preview) == "met"
    assert outcome("page.annotation", noted(NOTE), preview) == "not_met"


def test_a_list_of_annotations_that_cannot_be_read() -> None:
    assert outcome("page.annotation", document(page(annotations=Unmeasured("damaged"))), SHEET) == "not_measured"
    assert outcome("page.annotation", noted(NOTE), SpecSheet(levels={"page.annotation": "off"})) == "not_applicable"


@pytest.mark.parametrize(
    ("link", "expected"),
    [
        (LINK, "not_met"),
        (replace(LINK, draws_frame=False), "met"),
        (replace(LINK, draws_frame=False, has_appearance=True), "not_met"),
        (replace(LINK, prints=False), "met"),
    ],
)
def test_links_are_told_where_they_leave_ink(link: Annotation, expected: str) -> None:
    assert outcome("page.annotation", noted(link), SHEET) == expected


@pytest.mark.parametrize(("count", "words"), [(1, "whose frame may"), (2, "whose frames may")])
def test_one_link_has_a_frame_and_two_have_frames(count: int, words: str) -> None:
    assert words in only_finding("page.annotation", document(page(annotations=(LINK,) * count)), SHEET).finding.message
