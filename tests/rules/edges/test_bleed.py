"""Bleed as declared."""

from __future__ import annotations

from dataclasses import replace

import pytest

from service.pdf.facts.geometry import Box, Sides
from service.pdf.facts.measurements import Measurements
from service.pdf.facts.unknown import Failure, unmeasured
from service.rules.edges.bleed import sides_told_to_lack_bleed
from service.rules.edges.by_edge import depths_asked
from service.sheets.model import BleedAsked, SpecSheet
from tests.rules.measured import content, document, judged, only_finding, outcome, page, without_content

THREE = SpecSheet(bleed=BleedAsked(minimum_mm=3))
EIGHTH_INCH = SpecSheet(bleed=BleedAsked(minimum_mm=25.4 / 8))


@pytest.mark.parametrize(("bleed", "expected"), [(3, "met"), (2.96, "met"), (2.94, "not_met"), (0, "not_met"), (9, "met")])
def test_bleed_is_deep_enough_within_the_slack(bleed: float, expected: str) -> None:
    assert outcome("bleed.declared", document(page(bleed=bleed)), THREE) == expected


def test_eight_and_a_half_points_are_a_bleed_of_three_millimetres_but_not_of_an_eighth_of_an_inch() -> None:
    """8.5 pt are 2.9986 mm, an eighth of an inch is 3.175 mm."""
    bleed = 8.5 * 25.4 / 72
    assert outcome("bleed.declared", document(page(bleed=bleed)), THREE) == "met"
    assert outcome("bleed.declared", document(page(bleed=bleed)), EIGHTH_INCH) == "not_met"


def test_one_shallow_side_is_named_and_marked_along_the_whole_edge() -> None:
    shallow = page(bleed_mm=Sides(top=3.0, right=3.0, bottom=3.0, left=1.2))
    finding = only_finding("bleed.declared", document(shallow), THREE).finding
    assert finding.measured == {"left_mm": 1.2}
    assert finding.required == {"minimum_mm": 3}
    assert [place.box_mm for place in finding.places] == [(-3, -3, 0, 58)]


def test_each_missing_side_is_marked() -> None:
    finding = only_finding("bleed.declared", document(page(bleed=0)), THREE).finding
    assert finding.measured == {"top_mm": 0, "right_mm": 0, "bottom_mm": 0, "left_mm": 0}
    assert {place.box_mm for place in finding.places} == {(-3, -3, 88, 0), (85, -3, 88, 58), (-3, 55, 88, 58), (-3, -3, 0, 58)}


def test_facing_pages_without_bleed_at_the_spine_are_one_finding() -> None:
    left_page, right_page = page(bleed_mm=Sides(3.0, 0.0, 3.0, 3.0)), page(bleed_mm=Sides(3.0, 3.0, 3.0, 0.0))
    found = only_finding("bleed.declared", document(right_page, left_page, right_page, left_page), THREE)
    assert (found.level, found.finding.pages) == ("must", (1, 2, 3, 4))
    assert found.finding.measured == {"left_mm": 0, "right_mm": 0}
    assert [place.box_mm.x0 for place in found.finding.places] == [-3, 85, -3, 85]


def test_sides_that_are_not_the_spine_are_not_taken_for_it() -> None:
    left_page, right_page = page(bleed_mm=Sides(3.0, 0.0, 3.0, 3.0)), page(bleed_mm=Sides(3.0, 3.0, 3.0, 0.0))
    _, findings = judged("bleed.declared", document(left_page, right_page), THREE)
    assert [one.finding.pages for one in findings] == [(1,), (2,)]


SHORT_LEFT, SHORT_RIGHT = Sides(3.0, 3.0, 3.0, 0.0), Sides(3.0, 0.0, 3.0, 3.0)
SHORT_TOP = Sides(0.0, 3.0, 3.0, 3.0)


@pytest.mark.parametrize(
    ("sides", "told"),
    [
        ((SHORT_LEFT, SHORT_RIGHT), [(1, 2)]),
        ((SHORT_TOP, SHORT_RIGHT), [(1,), (2,)]),
        ((SHORT_TOP, SHORT_RIGHT, SHORT_LEFT), [(2, 3), (1,)]),
        ((SHORT_LEFT, SHORT_LEFT, SHORT_TOP, SHORT_RIGHT), [(1, 2), (3,), (4,)]),
        ((SHORT_LEFT, SHORT_RIGHT, SHORT_RIGHT), [(1,), (2, 3)]),
        ((SHORT_LEFT, SHORT_LEFT), [(1, 2)]),
    ],
)
def test_the_spine_lies_left_of_odd_pages_and_right_of_even_ones_alone(
    sides: tuple[Sides[float], ...], told: list[tuple[int, ...]]
) -> None:
    _, findings = judged("bleed.declared", document(*(page(bleed_mm=one) for one in sides)), THREE)
    assert [one.finding.pages for one in findings] == told


def test_a_side_without_any_bleed_is_told_without_a_nought() -> None:
    found = only_finding("bleed.declared", document(page(bleed_mm=Sides(3.0, 0.0, 3.0, 3.0))), THREE).finding
    assert "no bleed at the right" in found.message


WHITE_EDGES = Sides[float | None](None, None, None, None)
NO_PLATES = unmeasured("The plates were not made.")


@pytest.mark.parametrize("bleed", [0, 1])
def test_paper_that_stays_white_along_the_edges_loses_nothing(bleed: float) -> None:
    """Whatever the boxes of its objects say: a type box, a picture's frame, a group may touch the edge without any ink."""
    assert outcome("bleed.declared", document(page(bleed=bleed, bleed_reach_mm=WHITE_EDGES)), THREE) == "met"


def test_ink_at_one_edge_without_bleed_is_lost() -> None:
    inked = page(bleed=0, bleed_reach_mm=Sides[float | None](None, None, None, 0.0))
    assert only_finding("bleed.declared", document(inked), THREE).level == "must"


def test_white_paper_along_the_shallow_side_alone_loses_nothing() -> None:
    shallow = Sides(top=3.0, right=3.0, bottom=3.0, left=1.2)
    white_there = page(bleed_mm=shallow, bleed_reach_mm=Sides[float | None](3.0, 3.0, 3.0, None))
    inked_there = page(bleed_mm=shallow, bleed_reach_mm=Sides[float | None](None, None, None, 1.2))
    assert outcome("bleed.declared", document(white_there), THREE) == "met"
    assert outcome("bleed.declared", document(inked_there), THREE) == "not_met"


def test_without_plates_an_object_at_the_edge_is_a_suspicion_and_no_finding() -> None:
    suspected = page(bleed=0, bleed_reach_mm=NO_PLATES, content=content(meets=True))
    assert outcome("bleed.declared", document(suspected), THREE) == "not_measured"
    clear = page(bleed=0, bleed_reach_mm=NO_PLATES, content=content(meets=False))
    assert outcome("bleed.declared", document(clear), THREE) == "met"


def test_a_page_that_nobody_could_follow_is_not_taken_to_touch_its_edges() -> None:
    unseen = without_content(page(bleed=0, bleed_reach_mm=NO_PLATES))
    assert outcome("bleed.declared", document(unseen), THREE) == "not_measured"
    assert outcome("bleed.declared", document(without_content(page(bleed=3, bleed_reach_mm=NO_PLATES))), THREE) == "met"


def test_bleed_that_is_not_asked_for_or_not_known() -> None:
    assert outcome("bleed.declared", document(page(bleed=0)), SpecSheet()) == "not_applicable"
    assert outcome("bleed.declared", Measurements.unreadable(1, Failure("broken", "no trailer")), THREE) == "not_measured"


def test_a_block_that_only_wishes_lowers_the_level() -> None:
    sheet = SpecSheet(bleed=BleedAsked(minimum_mm=3, level="should"))
    assert only_finding("bleed.declared", document(page(bleed=0)), sheet).level == "should"


def test_bleed_inside_a_trim_that_the_crop_marks_contradict_counts() -> None:
    """2 mm beyond a TrimBox that lies 1 mm outside the marks are 3 mm of bleed."""
    assert outcome("bleed.declared", document(page(62, 62, bleed=2, crop_marks_mm=Box(1, 1, 61, 61))), THREE) == "met"
    assert outcome("bleed.declared", document(page(62, 62, bleed=2, crop_marks_mm=Box(0, 0, 62, 62))), THREE) == "not_met"


@pytest.mark.parametrize(
    ("left_mm", "minimum_mm", "told"),
    [(2.94, 3, {"left"}), (2.96, 3, set()), (0, None, set())],
    ids=["short", "slack", "not asked"],
)
def test_other_rules_leave_sides_alone_that_are_told_to_lack_bleed(
    left_mm: float, minimum_mm: float | None, told: set[str]
) -> None:
    one = page(bleed_mm=Sides(3.0, 3.0, 3.0, left_mm))
    sheet = SpecSheet(bleed=None if minimum_mm is None else BleedAsked(minimum_mm=minimum_mm))
    asked = depths_asked(sheet, sheet.bleed)
    assert sides_told_to_lack_bleed(one, asked, frozenset()) == told
    white_there = replace(one, bleed_reach_mm=Sides[float | None](3.0, 3.0, 3.0, None))
    assert sides_told_to_lack_bleed(white_there, asked, frozenset()) == set()
