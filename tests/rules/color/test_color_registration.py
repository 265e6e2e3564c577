"""Registration colour in the artwork."""

from __future__ import annotations

from dataclasses import replace

import pytest

from service.pdf.facts.geometry import Box
from service.pdf.facts.painted.colors import ColorUse
from service.sheets.model import SpecSheet
from tests.rules.color.painted import painted
from tests.rules.measured import color, document, only_finding, outcome, page, without_content

SHEET = SpecSheet()
TEXT_IN_ALL = color("registration", "text", inks=("All",), count=4)


def test_registration_colour_in_artwork() -> None:
    found = only_finding("color.registration", painted(TEXT_IN_ALL), SHEET)
    assert (found.level, found.finding.pages) == ("must", (1,))
    assert found.finding.measured == {"objects": {"text": 4}}


@pytest.mark.parametrize(
    "marks",
    [
        replace(TEXT_IN_ALL, beyond_bleed=True),
        color("registration", "stroke", inks=("All",), box=Box(-8, -0.1, -2, 0)),
        color("cmyk", "text"),
    ],
    ids=["beyond the bleed", "between bleed and trim", "four inks"],
)
def test_marks_outside_the_trim_are_what_it_is_for(marks: ColorUse) -> None:
    assert outcome("color.registration", painted(marks), SHEET) == "met"


def test_marks_too_many_to_be_told_apart_are_not_passed() -> None:
    marks = color("registration", "stroke", inks=("All",), count=40, box=Box(-8, -0.1, -2, 0))
    assert outcome("color.registration", painted(marks), SHEET) == "not_measured"


def test_registration_colour_not_seen_and_turned_off() -> None:
    assert outcome("color.registration", document(without_content(page())), SHEET) == "not_measured"
    off = SpecSheet(levels={"color.registration": "off"})
    assert outcome("color.registration", painted(TEXT_IN_ALL), off) == "not_applicable"


def test_objects_beside_others_and_those_that_are_not_listed_count() -> None:
    for count in (2, 6):
        many = color("registration", "text", inks=("All",), count=count)
        found = only_finding("color.registration", painted(color("cmyk", "fill"), many), SHEET).finding
        assert found.measured == {"objects": {"text": count}}
