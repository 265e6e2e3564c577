"""The trimmed size, its scale, and the page boxes."""

from __future__ import annotations

import pytest

from service.pdf.facts.geometry import Box
from service.pdf.facts.measurements import Measurements
from service.pdf.facts.page import DeclaredBox, TrimSource
from service.pdf.facts.unknown import Failure
from service.rules.judge import judge
from service.sheets.model import BleedAsked, PagesAsked, SpecSheet, TrimAsked
from tests.facts import fact
from tests.rules.measured import booklet, broken_rules, document, judged, only_finding, outcome, page

CARD = SpecSheet(trim=TrimAsked(width_mm=85, height_mm=55, tolerance_mm=0.5))
A4 = SpecSheet(trim=TrimAsked(width_mm=210, height_mm=297))
NO_PAGES = Measurements.unreadable(10, Failure("broken", "no trailer"))


# --- trim.size --------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("width", "height", "expected"),
    [
        (85, 55, "met"),
        (85.54, 55, "met"),
        (85.56, 55, "not_met"),
        (84.46, 55, "met"),
        (84.44, 55, "not_met"),
        (85, 55.56, "not_met"),
    ],
)
def test_the_size_holds_within_tolerance_and_slack(width: float, height: float, expected: str) -> None:
    assert outcome("trim.size", document(page(width, height)), CARD) == expected


def test_pages_of_one_wrong_size_are_one_finding() -> None:
    finding = only_finding("trim.size", document(page(90, 50), page(), page(90, 50)), CARD).finding
    assert finding.pages == (1, 3)
    assert finding.measured == {"width_mm": 90, "height_mm": 50, "source": "trim_box"}
    assert finding.required == {"width_mm": 85, "height_mm": 55, "tolerance_mm": 0.5}
    assert [place.box_mm for place in finding.places] == [(0, 0, 90, 50), (0, 0, 90, 50)]


def test_two_wrong_sizes_are_two_findings() -> None:
    assert len(judged("trim.size", document(page(90, 50), page(91, 55)), CARD)[1]) == 2


def test_places_beyond_the_first_fifty_are_counted() -> None:
    finding = only_finding("trim.size", booklet(60, width=90, height=90), CARD).finding
    assert len(finding.places) == 50
    assert len(finding.pages) == 60
    assert finding.measured["places_left_out"] == 10


def test_a_card_of_another_country_is_another_size() -> None:
    """3.5 × 2 inches: 88.9 × 50.8 mm."""
    assert outcome("trim.size", document(page(88.9, 50.8)), CARD) == "not_met"


@pytest.mark.parametrize("rule_id", ["trim.size", "trim.scale", "trim.declared"])
def test_no_pages_are_no_pass(rule_id: str) -> None:
    assert outcome(rule_id, NO_PAGES, CARD) == "not_measured"


@pytest.mark.parametrize("rule_id", ["trim.size", "trim.scale"])
def test_a_preview_may_have_any_size(rule_id: str) -> None:
    assert outcome(rule_id, document(page()), SpecSheet(bleed=BleedAsked(minimum_mm=3))) == "not_applicable"


# --- trim.scale -------------------------------------------------------------------------------------------------------


def test_fit_to_page_is_told_with_its_percentage_beside_the_wrong_size() -> None:
    """A page of 210 × 297 mm at 94.3 % is 198.03 × 280.071 mm."""
    judgement = judge(document(page(198.03, 280.071)), A4)
    assert broken_rules(judgement) == {"trim.size", "trim.scale"}
    scale = next(one for one in judgement.findings if one.rule == "trim.scale").finding
    assert scale.measured["percent"] == 94.3
    assert scale.required["percent"] == 100
    assert "scale it to 106 %" in scale.remedy
    assert judgement.count("must") == 1


@pytest.mark.parametrize(("height", "expected"), [(0.9 * 297 * 1.0029, "not_met"), (0.9 * 297 * 1.0032, "met")])
def test_both_directions_must_be_off_by_the_same_share(height: float, expected: str) -> None:
    assert outcome("trim.scale", document(page(189, height)), A4) == expected


def test_a_page_without_height_has_no_scale() -> None:
    assert outcome("trim.scale", document(page(85, 0)), CARD) == "met"
    assert outcome("trim.size", document(page(85, 0)), CARD) == "not_met"


def test_a_page_within_tolerance_is_not_scaled() -> None:
    assert outcome("trim.scale", document(page(85.3, 55.2)), CARD) == "met"


def test_a_scaled_page_that_lies_crosswise_is_still_scaled() -> None:
    assert only_finding("trim.scale", document(page(148.5, 105)), A4).finding.measured["percent"] == 50


def test_a_page_that_lies_crosswise_has_not_the_shape_of_an_upright_product() -> None:
    """A4 upright is 70.7 % of A3 laid flat only if it is turned; it is one half of it."""
    flat = SpecSheet(trim=TrimAsked(width_mm=420, height_mm=297, orientation="landscape"))
    assert outcome("trim.scale", document(page(210, 297)), flat) == "met"
    assert "half of the product" in only_finding("trim.size", document(page(210, 297)), flat).finding.remedy


def test_a_product_of_another_size_is_no_half() -> None:
    assert "half" not in only_finding("trim.size", document(page(200, 297)), A4).finding.remedy
    assert "half" not in only_finding("trim.size", document(page(105, 297)), A4).finding.remedy


def test_a_size_set_in_inches_is_told_in_inches_too() -> None:
    postcard = SpecSheet(trim=TrimAsked(width_mm=152.4, height_mm=101.6))
    assert "152.4 × 101.6 mm (6 × 4 in)" in only_finding("trim.size", document(page()), postcard).finding.message


def test_a_spread_is_not_a_scaled_page() -> None:
    sheet = SpecSheet(trim=TrimAsked(width_mm=148, height_mm=210), pages=PagesAsked())
    assert outcome("trim.scale", document(page(296, 210)), sheet) == "met"
    assert outcome("trim.size", document(page(296, 210)), sheet) == "met"
    assert outcome("trim.size", document(page(296, 210)), SpecSheet(trim=sheet.trim)) == "not_met"


# --- trim.declared ----------------------------------------------------------------------------------------------------


def test_a_page_with_a_trim_box_says_where_to_cut() -> None:
    assert outcome("trim.declared", document(page()), SpecSheet()) == "met"


def test_a_preview_is_cut_by_nobody() -> None:
    unsaid = document(page(trim_source="media_box"))
    assert outcome("trim.declared", unsaid, SpecSheet(purpose="client-preview")) == "not_applicable"


@pytest.mark.parametrize("source", ["art_box", "crop_marks", "crop_box", "media_minus_bleed", "media_box"])
def test_a_trim_that_had_to_be_worked_out_is_an_observation(source: TrimSource) -> None:
    found = only_finding("trim.declared", document(page(), page(trim_source=source)), SpecSheet())
    assert found.level == "should"
    assert found.finding.pages == (2,)
    assert found.finding.measured["source"] == source


def test_a_view_that_shows_less_than_the_page_is_told_with_the_missing_trim() -> None:
    """A4, of which the CropBox shows 203 × 290 mm; one that shows all of it, or the bleed too, needs no word."""
    for view, told in ((Box(3.5, 3.5, 206.5, 293.5), True), (Box(0, 0, 210, 297), False), (Box(-3, -3, 213, 300), False)):
        shown = page(210, 297, trim_source="media_box", declared_boxes=(fact(DeclaredBox, "crop", view),))
        remedy = only_finding("trim.declared", document(shown), SpecSheet()).finding.remedy
        assert ("CropBox shows only 203 × 290 mm" in remedy) == told


# --- A page that holds its bleed --------------------------------------------------------------------------------------

STICKER = SpecSheet(trim=TrimAsked(width_mm=60, height_mm=60))


def test_a_square_with_its_bleed_is_not_told_to_be_scaled() -> None:
    """60 mm and 1 mm all round has the shape of the product at 103.3 %, and nothing would be right after scaling it."""
    assert outcome("trim.scale", document(page(62, 62)), STICKER) == "met"
    assert "do not scale" in only_finding("trim.size", document(page(62, 62)), STICKER).finding.remedy.casefold()
    assert outcome("trim.scale", document(page(84, 84)), STICKER) == "not_met"
    assert "scale" not in only_finding("trim.size", document(page(84, 84)), STICKER).finding.remedy.casefold()


def test_sizes_that_were_found_are_told_page_by_page_where_they_differ() -> None:
    alike = document(page(85, 55, trim_source="media_box"), page(85, 55, number=2, trim_source="media_box"))
    assert only_finding("trim.declared", alike, SpecSheet()).finding.message.endswith("85 × 55 mm.")
    unlike = document(page(102, 102, trim_source="media_box"), page(663, 444, number=2, trim_source="media_box"))
    assert only_finding("trim.declared", unlike, SpecSheet()).finding.message.endswith("102 × 102 mm (page 1).")
