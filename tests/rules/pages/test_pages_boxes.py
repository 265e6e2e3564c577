"""Boxes that the printer wants to find."""

from __future__ import annotations

from dataclasses import replace

from service.sheets.model import PagesAsked, SpecSheet
from tests.rules.measured import document, only_finding, outcome, page

BOTH = SpecSheet(pages=PagesAsked(boxes=("trim", "bleed")))


def test_a_box_that_is_not_declared_is_missed_whatever_it_defaults_to() -> None:
    bare = replace(page(), declared_boxes=tuple(one for one in page().declared_boxes if one.name != "bleed"))
    found = only_finding("pages.boxes", document(page(), bare, bare), BOTH)
    assert (found.level, found.finding.pages, found.finding.measured) == ("must", (2, 3), {"missing": ["BleedBox"]})


def test_pages_with_their_boxes_and_a_silent_sheet() -> None:
    assert outcome("pages.boxes", document(page()), BOTH) == "met"
    assert outcome("pages.boxes", document(page()), SpecSheet(pages=PagesAsked(boxes=("art",)))) == "not_met"
    assert outcome("pages.boxes", document(page()), SpecSheet(pages=PagesAsked(allowed=(1,)))) == "not_applicable"
