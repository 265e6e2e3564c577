"""Pages without ink."""

from __future__ import annotations

from service.pdf.facts.unknown import Unmeasured
from service.sheets.model import SpecSheet
from tests.rules.measured import document, judged, only_finding, outcome, page, plates

BLANK = page(plates=plates(blank=True, inks=()))


def test_blank_pages_are_one_observation_that_may_be_meant() -> None:
    found = only_finding("pages.blank", document(page(), BLANK, page(), BLANK), SpecSheet())
    assert (found.level, found.finding.pages, found.finding.measured) == ("should", (2, 4), {"blank_pages": 2})
    assert [place.box_mm for place in found.finding.places] == [(0, 0, 85, 55)] * 2


def test_pages_with_ink_are_not_blank() -> None:
    assert outcome("pages.blank", document(page(), page()), SpecSheet()) == "met"


def test_a_page_without_plates_may_be_blank() -> None:
    rule, findings = judged("pages.blank", document(BLANK, page(plates=Unmeasured("Too large."))), SpecSheet())
    assert (rule.outcome, rule.reason, len(findings)) == ("not_met", "Page 2: Too large.", 1)
    assert outcome("pages.blank", document(BLANK), SpecSheet(levels={"pages.blank": "off"})) == "not_applicable"
