"""Plates of spot inks on which nothing prints."""

from __future__ import annotations

from dataclasses import replace

from service.pdf.facts.geometry import Box
from service.pdf.facts.page import Page
from service.pdf.facts.painted.colors import SpotUse
from service.pdf.facts.plates import InkCoverage
from service.pdf.facts.unknown import Unmeasured
from service.sheets.model import SpecSheet
from tests.facts import fact
from tests.rules.measured import content, document, only_finding, outcome, page, plates

NO_PLATES = Unmeasured("Separations were not made.")
MIDDLE = Box(30, 20, 50, 40)


def spots(**empty: bool) -> Page:
    inks = tuple(fact(InkCoverage, ink, 0.0 if one else 5.0, empty=one) for ink, one in empty.items())
    uses = tuple(fact(SpotUse, ink, "fill", 1, 1, True, False, 1, (MIDDLE,)) for ink in empty)
    return page(content=replace(content(), spots=uses), plates=plates(inks=inks))


def test_a_spot_ink_of_which_nothing_prints_is_an_observation() -> None:
    found = only_finding("ink.empty-plate", document(page(), spots(Copper=True, Gold=False)), SpecSheet())
    assert (found.level, found.finding.pages) == ("should", (2,))
    assert found.finding.measured == {"inks": ["Copper"]}
    assert [place.box_mm for place in found.finding.places] == [MIDDLE]


def test_an_ink_that_prints_on_another_page_makes_its_plate() -> None:
    assert outcome("ink.empty-plate", document(spots(Copper=True), spots(Copper=False)), SpecSheet()) == "met"


def test_an_empty_process_plate_is_usual() -> None:
    assert outcome("ink.empty-plate", document(spots(Cyan=True, Black=False)), SpecSheet()) == "met"


def test_a_page_without_plates_may_be_where_the_ink_prints() -> None:
    assert outcome("ink.empty-plate", document(spots(Copper=True), page(plates=NO_PLATES)), SpecSheet()) == "not_measured"
    off = SpecSheet(levels={"ink.empty-plate": "off"})
    assert outcome("ink.empty-plate", document(spots(Copper=True)), off) == "not_applicable"
