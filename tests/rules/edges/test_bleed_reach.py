"""Artwork that stops before the bleed edge, from what the plates say."""

from __future__ import annotations

from typing import Any

import pytest

from service.pdf.facts.geometry import Sides
from service.pdf.facts.measurements import Measurements
from service.pdf.facts.page import Page
from service.pdf.facts.plates import EdgeStop
from service.pdf.facts.unknown import Failure, Unmeasured
from service.sheets.model import BleedAsked, SpecSheet
from tests.facts import fact
from tests.rules.measured import document, judged, only_finding, outcome, page, plates

RULE = "bleed.reach"
THREE = SpecSheet(bleed=BleedAsked(minimum_mm=3))


def reaching(top: float | None, right: float | None, bottom: float | None, left: float | None, **changes: Any) -> Page:
    return page(bleed_reach_mm=Sides(top, right, bottom, left), **changes)


def test_artwork_that_stops_past_the_left_trim_is_told_and_marked_from_there_to_the_bleed() -> None:
    stop = fact(EdgeStop, "left", 10.0, 50.0, 1.2)
    stopping = reaching(3.0, 3.0, 3.0, 1.2, plates=plates(edge_stops=(stop,)))
    found = only_finding(RULE, document(stopping), THREE)
    assert (found.level, found.finding.pages) == ("must", (1,))
    assert (found.finding.measured, found.finding.required) == ({"left_mm": 1.2}, {"minimum_mm": 3})
    assert [place.box_mm for place in found.finding.places] == [(-3, 10, -1.2, 50)]
    assert found.finding.message == (
        "On page 1 the artwork stops 1.2 mm beyond the left trim edge; the printer asks for 3 mm."
    )


@pytest.mark.parametrize(("reach", "expected"), [(3.0, "met"), (2.81, "met"), (2.79, "not_met"), (0.0, "not_met"), (None, "met")])
def test_the_reach_counts_within_what_plates_can_tell(reach: float | None, expected: str) -> None:
    assert outcome(RULE, document(reaching(3.0, reach, 3.0, 3.0)), THREE) == expected


def test_white_paper_at_every_edge_is_asked_for_nothing() -> None:
    assert outcome(RULE, document(reaching(None, None, None, None)), THREE) == "met"


def test_artwork_that_ends_at_the_trim_on_every_side_is_one_finding_with_four_places() -> None:
    found = only_finding(RULE, document(reaching(0.0, 0.0, 0.0, 0.0)), THREE).finding
    assert found.measured == {"top_mm": 0, "right_mm": 0, "bottom_mm": 0, "left_mm": 0}
    assert [place.box_mm for place in found.places] == [(0, -3, 85, 0), (85, 0, 88, 55), (0, 55, 85, 58), (-3, 0, 0, 55)]
    assert "stops at every trim edge" in found.message


def test_pages_that_stop_alike_are_one_finding() -> None:
    one, other = reaching(3.0, 3.0, 3.0, 1.21), reaching(3.0, 3.0, 0.5, 1.9)
    _, findings = judged(RULE, document(one, page(), other, one), THREE)
    assert [(found.finding.pages, found.finding.measured) for found in findings] == [
        ((1, 4), {"left_mm": 1.2}),
        ((3,), {"bottom_mm": 0.5, "left_mm": 1.9}),
    ]


def test_only_stops_that_are_too_early_are_marked() -> None:
    stops = tuple(
        fact(EdgeStop, *one) for one in (("left", 0.0, 30.0, 1.0), ("left", 30.0, 55.0, 3.1), ("top", 0.0, 85.0, 3.5))
    )
    deep = page(bleed=5, bleed_reach_mm=Sides(3.5, 5.0, 5.0, 1.0), plates=plates(edge_stops=stops))
    found = only_finding(RULE, document(deep), THREE).finding
    assert [place.box_mm for place in found.places] == [(-3, 0, -1, 30)]


@pytest.mark.parametrize(
    ("side", "place"),
    [("top", (10, -3, 50, -1)), ("right", (86, 10, 88, 50)), ("bottom", (10, 56, 50, 58)), ("left", (-3, 10, -1, 50))],
)
def test_what_is_missing_lies_between_the_end_of_the_ink_and_the_bleed(side: str, place: tuple[int, ...]) -> None:
    stops = tuple(fact(EdgeStop, one, 10.0, 50.0, 1.0) for one in ("top", "right", "bottom", "left"))
    reach = {one: (1.0 if one == side else 3.0) for one in ("top", "right", "bottom", "left")}
    found = only_finding(RULE, document(reaching(**reach, plates=plates(edge_stops=stops))), THREE).finding
    assert [one.box_mm for one in found.places] == [place]


# --- Beside bleed.declared ---


def test_a_bleed_too_shallow_but_filled_is_a_matter_of_the_declared_bleed() -> None:
    shallow = page(bleed=2)
    assert outcome("bleed.declared", document(shallow), THREE) == "not_met"
    assert outcome(RULE, document(shallow), THREE) == "met"
    assert outcome(RULE, document(page(bleed=0)), THREE) == "met"


def test_a_bleed_that_is_deep_enough_but_for_the_slack_is_to_be_filled() -> None:
    """2.97 mm count as 3; ink to 2.79 mm is more than 0.2 mm short of 3, and not of 2.97."""
    almost = page(bleed=2.97, bleed_reach_mm=Sides(2.97, 2.97, 2.97, 2.79))
    assert outcome("bleed.declared", document(almost), THREE) == "met"
    assert outcome(RULE, document(almost), THREE) == "not_met"


def test_a_bleed_too_shallow_and_not_filled_breaks_both() -> None:
    both = page(bleed=2, bleed_reach_mm=Sides(2.0, 2.0, 2.0, 0.4))
    assert only_finding(RULE, document(both), THREE).finding.measured == {"left_mm": 0.4}


def test_where_the_declared_bleed_is_not_judged_the_reach_alone_decides() -> None:
    alone = SpecSheet(bleed=BleedAsked(minimum_mm=3), levels={"bleed.declared": "off"})
    assert only_finding(RULE, document(page(bleed=0)), alone).finding.measured == dict.fromkeys(
        ("top_mm", "right_mm", "bottom_mm", "left_mm"), 0
    )


# --- Not known, not asked, only wished for ---


def test_reach_that_is_not_known() -> None:
    unknown = Unmeasured("Separations were not made.")
    without = page(plates=unknown, bleed_reach_mm=unknown)
    rule, _ = judged(RULE, document(page(), without, without), THREE)
    assert (rule.outcome, rule.reason) == ("not_measured", "Pages 2–3: Separations were not made.")
    assert outcome(RULE, Measurements.unreadable(1, Failure("broken", "no trailer")), THREE) == "not_measured"
    assert outcome(RULE, document(page(bleed_reach_mm=unknown)), THREE) == "not_measured"
    assert outcome(RULE, document(page(bleed_reach_mm=unknown), reaching(0.0, 3.0, 3.0, 3.0)), THREE) == "not_met"


def test_reach_that_is_not_asked_for_or_only_wished_for() -> None:
    stopping = document(reaching(0.0, 0.0, 0.0, 0.0))
    assert outcome(RULE, stopping, SpecSheet()) == "not_applicable"
    assert outcome(RULE, stopping, SpecSheet(bleed=BleedAsked(minimum_mm=0))) == "met"
    assert only_finding(RULE, stopping, SpecSheet(bleed=BleedAsked(minimum_mm=3, level="should"))).level == "should"
