"""A bleed that the printer takes, and a deeper one that he would rather have."""

from __future__ import annotations

import pytest

from service.pdf.facts.geometry import Sides
from service.pdf.facts.measurements import Measurements
from service.rules.judge import judge
from service.sheets.format.refusals import SheetRefused
from service.sheets.format.validation import read_sheet
from service.sheets.format.writing import sheet_to_document
from service.sheets.variants import variants
from tests.rules.measured import document, judged, only_finding, outcome, page

CARD = read_sheet({"trim": {"width": 85, "height": 55}, "bleed": {"minimum": 2, "preferred": 3}})
BOOKLET = read_sheet({
    "trim": {"width": 148, "height": 210}, "pages": {"minimum": 4}, "bleed": {"minimum": 2, "preferred": 3, "binding": 0},
})


def card(bleed: float, reach: float | None = None) -> Measurements:
    return document(page(bleed=bleed, bleed_reach_mm=Sides(*[bleed if reach is None else reach] * 4)))


@pytest.mark.parametrize(
    ("bleed", "verdict"),
    [
        (3, "conforming"),
        (2.96, "conforming"),
        (2.9, "conforming_with_observations"),
        (2, "conforming_with_observations"),
        (1.96, "conforming_with_observations"),
        (1.9, "nonconforming"),
    ],
)
def test_less_than_the_preferred_bleed_is_an_observation_and_less_than_the_least_a_nonconformity(
    bleed: float, verdict: str
) -> None:
    assert judge(card(bleed), CARD).verdict == verdict


def test_the_observation_says_what_was_found_and_what_the_printer_would_rather_have() -> None:
    finding = only_finding("bleed.declared", card(2), CARD)
    assert (finding.level, finding.finding.required) == ("should", {"preferred_mm": 3})
    assert finding.finding.measured == {"top_mm": 2, "right_mm": 2, "bottom_mm": 2, "left_mm": 2}
    assert finding.finding.message == "Page 1 has 2 mm of bleed; the printer would rather have 3 mm."
    assert len(finding.finding.places) == 4


def test_white_paper_at_the_edge_needs_no_deeper_bleed() -> None:
    assert outcome("bleed.declared", document(page(bleed=2, bleed_reach_mm=Sides(None, None, None, None))), CARD) == "met"


def test_what_fills_two_of_three_millimetres_is_not_told_twice() -> None:
    assert outcome("bleed.reach", card(3, 2), CARD) == "met"
    assert outcome("bleed.reach", card(3, 1.7), CARD) == "not_met"


def test_facing_pages_are_told_together_and_not_of_the_edge_where_they_are_bound() -> None:
    right_hand, left_hand = Sides(2.0, 2.0, 2.0, 0.0), Sides(2.0, 0.0, 2.0, 2.0)
    made = [page(148, 210, bleed_mm=one, bleed_reach_mm=one) for one in (right_hand, left_hand) * 2]
    finding = only_finding("bleed.declared", document(*made), BOOKLET).finding
    assert (finding.pages, finding.measured) == ((1, 2, 3, 4), {"top_mm": 2, "right_mm": 2, "bottom_mm": 2})


def test_pages_that_lack_the_least_bleed_are_told_of_that_alone() -> None:
    made = document(*(page(148, 210, bleed=one) for one in (1, 2, 3)))
    _, findings = judged("bleed.declared", made, read_sheet({"trim": {"width": 148, "height": 210}, **_BLEED}))
    assert [(one.level, one.finding.pages) for one in findings] == [("must", (1,)), ("should", (2,))]


def test_who_has_to_set_a_new_bleed_is_told_the_better_one() -> None:
    finding = only_finding("bleed.declared", card(1), CARD).finding
    assert finding.required == {"minimum_mm": 2}
    assert finding.message == "Page 1 has only 1 mm of bleed on every side; the printer asks for 3 mm on every side."
    assert finding.remedy.startswith("Set the document’s bleed to 3 mm")
    bound = only_finding("bleed.declared", document(page(148, 210, bleed=0)), BOOKLET).finding
    assert bound.required == {"top_mm": 2, "right_mm": 2, "bottom_mm": 2}
    assert "asks for 3 mm" in bound.message


_BLEED = {"bleed": {"minimum": 2, "preferred": 3}}


def test_it_is_drawn_to_scale_and_comes_back_as_written() -> None:
    sheet = read_sheet({"trim": {"width": 850, "height": 2000, "scales": [10]}, **_BLEED})
    bleed = variants(sheet)[0].bleed
    assert bleed
    assert (bleed.minimum_mm, bleed.preferred_mm, bleed.advised_mm) == (0.2, 0.3, 0.3)
    assert sheet_to_document(sheet)["bleed"] == {"minimum": "2 mm", "preferred": "3 mm"}


@pytest.mark.parametrize("bleed", [{"minimum": 3, "preferred": 2}, {"minimum": 2, "preferred": 6, "maximum": 5}])
def test_it_lies_between_the_least_and_the_most(bleed: dict[str, float]) -> None:
    with pytest.raises(SheetRefused) as refused:
        read_sheet({"trim": {"width": 85, "height": 55}, "bleed": bleed})
    assert [where for where, _ in refused.value.errors] == ["/bleed/preferred"]
