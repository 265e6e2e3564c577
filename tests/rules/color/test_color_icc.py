"""Colours that carry an ICC profile."""

from __future__ import annotations

from dataclasses import replace

from service.sheets.model import ColorAsked, SpecSheet
from tests.rules.color.painted import painted
from tests.rules.measured import color, document, only_finding, outcome, page, without_content

BARE = SpecSheet(color=ColorAsked(icc_profiles="forbidden"))
TAGGED = replace(color("cmyk", "image", count=3), profile="12 0")


def test_a_picture_with_a_profile() -> None:
    assert only_finding("color.icc", painted(TAGGED), BARE).finding.measured == {"objects": 3}


def test_colours_without_one_and_what_lies_in_the_slug() -> None:
    assert outcome("color.icc", painted(color("cmyk", "fill")), BARE) == "met"
    assert outcome("color.icc", painted(replace(TAGGED, beyond_bleed=True)), BARE) == "met"
    assert outcome("color.icc", painted(TAGGED), SpecSheet(color=ColorAsked(icc_profiles="allowed"))) == "not_applicable"
    assert outcome("color.icc", document(without_content(page())), BARE) == "not_measured"
