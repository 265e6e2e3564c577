"""A bleed that is deeper than the printer takes."""

from __future__ import annotations

import pytest

from service.pdf.facts.geometry import Sides
from service.pdf.facts.measurements import Measurements
from service.pdf.facts.unknown import Failure
from service.sheets.model import BleedAsked, SpecSheet
from tests.rules.measured import document, only_finding, outcome, page

THREE = SpecSheet(bleed=BleedAsked(minimum_mm=3))
AT_MOST_FIVE = SpecSheet(bleed=BleedAsked(minimum_mm=3, maximum_mm=5))


@pytest.mark.parametrize(("bleed", "expected"), [(5, "met"), (5.04, "met"), (5.06, "not_met"), (10, "not_met")])
def test_bleed_is_no_deeper_than_the_printer_takes(bleed: float, expected: str) -> None:
    assert outcome("bleed.excess", document(page(bleed=bleed)), AT_MOST_FIVE) == expected


def test_one_deep_side_is_marked_where_it_is_too_much() -> None:
    deep = page(bleed=8, bleed_mm=Sides(top=3.0, right=8.0, bottom=3.0, left=3.0))
    found = only_finding("bleed.excess", document(deep), AT_MOST_FIVE)
    finding = found.finding
    assert found.level == "must"
    assert (finding.measured, finding.required) == ({"right_mm": 8}, {"maximum_mm": 5})
    assert [place.box_mm for place in finding.places] == [(90, -8, 93, 63)]


def test_room_for_marks_is_not_bleed() -> None:
    assert outcome("bleed.excess", document(page(bleed=12, bleed_declared=False)), AT_MOST_FIVE) == "met"


def test_excess_bleed_that_is_not_asked_about_or_not_known() -> None:
    assert outcome("bleed.excess", document(page(bleed=20)), THREE) == "not_applicable"
    unreadable = Measurements.unreadable(1, Failure("broken", "no trailer"))
    assert outcome("bleed.excess", unreadable, AT_MOST_FIVE) == "not_measured"
