"""Plates of spot inks on which nothing prints."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from service.pdf.facts.geometry import Box
from service.pdf.facts.page import Page
from service.pdf.facts.painted.colors import SpotUse
from service.pdf.facts.plates import InkCoverage
from service.pdf.facts.unknown import Unmeasured
from service.sheets.model import Finish, SpecSheet
from tests.facts import fact
from tests.rules.measured import content, document, only_finding, outcome, page, plates

NO_PLATES = Unmeasured("Separations were not made.")
MIDDLE, BELOW = Box(30, 20, 50, 25), Box(30, 30, 50, 35)


def spots(**empty: bool) -> Page:
    """The first ink in the middle, the next below."""
    inks = tuple(fact(InkCoverage, ink, 0.0 if one else 5.0, empty=one) for ink, one in empty.items())
    places = zip(empty, (MIDDLE, BELOW), strict=False)
    uses = tuple(fact(SpotUse, ink, "fill", 1, 1, True, False, 1, (box,)) for ink, box in places)
    return page(content=replace(content(), spots=uses), plates=plates(inks=inks))


def test_a_spot_ink_of_which_nothing_prints_is_an_observation() -> None:
    found = only_finding("ink.empty-plate", document(page(), spots(Copper=True, Gold=False)), SpecSheet())
    assert (found.level, found.finding.pages) == ("should", (2,))
    assert found.finding.measured == {"inks": ["Copper"]}
    assert [place.box_mm for place in found.finding.places] == [MIDDLE]


def test_an_empty_plate_of_a_page_that_could_not_be_followed_has_no_place() -> None:
    unseen = replace(spots(Copper=True), content=Unmeasured("its content stops early"))
    finding = only_finding("ink.empty-plate", document(unseen), SpecSheet()).finding
    assert (finding.pages, finding.places) == ((1,), ())


@pytest.mark.parametrize(
    ("finish", "levels", "expected"),
    [
        (Finish(ink="COPPER", required=True), {}, "met"),
        (Finish(ink="Copper"), {}, "not_met"),
        (Finish(ink="Gold", required=True), {}, "not_met"),
        (Finish(ink="Copper", required=True), {"finish.plate": "off"}, "not_met"),
    ],
    ids=["told by finish.plate", "may be missing", "another", "finish.plate is off"],
)
def test_the_empty_plate_of_a_required_finish_is_told_by_its_own_rule(finish: Finish, levels: Any, expected: str) -> None:
    sheet = SpecSheet(finishes=(finish,), levels=levels)
    assert outcome("ink.empty-plate", document(spots(Copper=True)), sheet) == expected


def test_an_ink_that_prints_on_another_page_makes_its_plate() -> None:
    assert outcome("ink.empty-plate", document(spots(Copper=True), spots(Copper=False)), SpecSheet()) == "met"


def test_an_empty_process_plate_is_usual() -> None:
    assert outcome("ink.empty-plate", document(spots(Cyan=True, Black=False)), SpecSheet()) == "met"


def test_a_page_without_plates_may_be_where_the_ink_prints() -> None:
    assert outcome("ink.empty-plate", document(spots(Copper=True), page(plates=NO_PLATES)), SpecSheet()) == "not_measured"
    off = SpecSheet(levels={"ink.empty-plate": "off"})
    assert outcome("ink.empty-plate", document(spots(Copper=True)), off) == "not_applicable"
