"""Colour spaces that the printer takes, and spot inks."""

from __future__ import annotations

from dataclasses import replace

import pytest

from service.pdf.facts.geometry import Box
from service.sheets.model import ColorAsked, SpecSheet, SpotsAsked
from tests.rules.color.painted import painted
from tests.rules.measured import color, content, document, judged, only_finding, outcome, page, without_content

CMYK = SpecSheet(color=ColorAsked(allowed=("cmyk", "gray")))


# --- color.space ------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("family", ["cmyk", "gray", "spot", "registration"])
def test_printing_colours_are_taken_and_spots_judged_elsewhere(family: str) -> None:
    assert outcome("color.space", painted(color(family, "fill")), CMYK) == "met"


@pytest.mark.parametrize("family", ["rgb", "lab", "multicolor"])
def test_other_colours_are_not_taken(family: str) -> None:
    finding = only_finding("color.space", painted(color(family, "image")), CMYK).finding
    assert finding.measured["family"] == family
    assert finding.required == {"allowed": ["cmyk", "gray"]}


def test_marks_and_slug_may_have_any_colour() -> None:
    assert outcome("color.space", painted(replace(color("rgb", "stroke"), beyond_bleed=True)), CMYK) == "met"


def test_white_stays_paper_in_whatever_space_it_is_set() -> None:
    """A white panel of a program that knows RGB alone; a yellow one beside it is told by itself."""
    white, yellow = replace(color("rgb", "fill", count=4), white=True), color("rgb", "fill", box=Box(20, 20, 30, 30))
    assert outcome("color.space", painted(white), CMYK) == "met"
    assert outcome("color.space", painted(replace(color("lab", "text"), white=True)), CMYK) == "met"
    finding = only_finding("color.space", painted(white, yellow), CMYK).finding
    assert finding.measured["objects"] == {"fill": 1}
    assert [one.box_mm for one in finding.places] == [(20, 20, 30, 30)]


def test_a_group_that_blends_in_rgb_has_no_colours_to_convert() -> None:
    """The remedy is the document's blend space; with a picture in RGB the picture has to be converted, too."""
    group = only_finding("color.space", painted(color("rgb", "group")), CMYK)
    assert group.level == "must"
    assert "blend space" in group.finding.remedy
    assert "CMYK" in group.finding.remedy
    with_picture = only_finding("color.space", painted(color("rgb", "group"), color("rgb", "image")), CMYK).finding
    assert "pictures in the image editor" in with_picture.remedy


def test_one_finding_names_all_kinds_of_objects() -> None:
    pages = (
        page(content=content(colors=(color("rgb", "image", count=3), color("rgb", "text", count=40)))),
        page(),
        page(content=content(colors=(color("rgb", "image", count=1), color("lab", "shading")))),
    )
    _, findings = judged("color.space", document(*pages), CMYK)
    assert [one.finding.measured["family"] for one in findings] == ["rgb", "lab"]
    assert findings[0].finding.measured["objects"] == {"image": 4, "text": 40}
    assert findings[0].finding.pages == (1, 3)
    assert "4 pictures and text" in findings[0].finding.message


def test_rgb_only_inside_a_soft_mask_is_an_observation() -> None:
    found = only_finding(
        "color.space", painted(color("rgb", "soft mask")), SpecSheet(color=ColorAsked(allowed=("cmyk",), rgb_level="must"))
    )
    assert found.level == "should"


@pytest.mark.parametrize(("rgb_level", "level"), [(None, "must"), ("should", "should"), ("must", "must")])
def test_the_sheet_sets_the_level_of_rgb(rgb_level: str | None, level: str) -> None:
    sheet = SpecSheet(color=ColorAsked(allowed=("cmyk",), rgb_level=rgb_level))  # type: ignore[arg-type]
    assert only_finding("color.space", painted(color("rgb", "image")), sheet).level == level
    assert only_finding("color.space", painted(color("lab", "image")), sheet).level == "must"


def test_a_sheet_that_takes_everything_is_met_but_for_unknown_channels() -> None:
    sheet = SpecSheet(color=ColorAsked(allowed=("cmyk", "gray", "rgb", "lab")))
    assert outcome("color.space", painted(color("rgb", "fill"), color("lab", "fill")), sheet) == "met"
    assert outcome("color.space", painted(color("multicolor", "image")), sheet) == "not_met"


@pytest.mark.parametrize("rule_id", ["color.space", "color.spots"])
def test_colour_not_seen_and_not_asked_for(rule_id: str) -> None:
    sheet = SpecSheet(color=ColorAsked(allowed=("cmyk",), spots=SpotsAsked(maximum=0)))
    assert outcome(rule_id, document(without_content(page())), sheet) == "not_measured"
    assert outcome(rule_id, painted(color("rgb", "fill")), SpecSheet(color=ColorAsked())) == "not_applicable"
