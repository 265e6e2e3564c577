"""Colour spaces that the printer takes, and spot inks."""

from __future__ import annotations

from dataclasses import replace

import pytest

from service.pdf.facts.colors import ColorUse
from service.pdf.facts.geometry import Box
from service.pdf.facts.ink_names import same_ink
from service.pdf.facts.measurements import Measurements
from service.sheets.model import ColorAsked, Finish, SpecSheet, SpotsAsked
from tests.rules.measured import color, content, document, judged, only_finding, outcome, page, without_content

CMYK = SpecSheet(color=ColorAsked(allowed=("cmyk", "gray")))


def painted(*uses: ColorUse) -> Measurements:
    return document(page(content=content(colors=uses)))


# --- color.space ------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("family", ["cmyk", "gray", "spot", "registration"])
def test_printing_colours_are_taken_and_spots_judged_elsewhere(family: str) -> None:
    assert outcome("color.space", painted(color(family, "fill")), CMYK) == "met"


@pytest.mark.parametrize("family", ["rgb", "lab", "multicolor"])
def test_other_colours_are_not_taken(family: str) -> None:
    finding = only_finding("color.space", painted(color(family, "image")), CMYK).finding
    assert finding.measured["family"] == family
    assert finding.required == {"allowed": ["cmyk", "gray"]}


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


# --- color.spots ------------------------------------------------------------------------------------------------------


def spot(*inks: str) -> ColorUse:
    return color("spot", "fill", inks=inks)


def spots(maximum: int | None = None, allowed: tuple[str, ...] | None = None) -> SpecSheet:
    return SpecSheet(color=ColorAsked(spots=SpotsAsked(maximum=maximum, allowed=allowed)))


@pytest.mark.parametrize(("maximum", "expected"), [(0, "not_met"), (1, "not_met"), (2, "met")])
def test_no_more_spots_than_ordered(maximum: int, expected: str) -> None:
    assert outcome("color.spots", painted(spot("Copper 8"), spot("Flour")), spots(maximum)) == expected


def test_too_many_spots_are_named_and_counted() -> None:
    finding = only_finding("color.spots", painted(spot("Copper 8"), spot("Flour")), spots(1)).finding
    assert finding.measured == {"inks": ["Copper 8", "Flour"], "count": 2}
    assert finding.required == {"maximum": 1}


def test_process_inks_registration_and_no_ink_are_not_spots() -> None:
    uses = (spot("Cyan", "Black", "Copper 8"), color("registration", "stroke", inks=("All",)), spot("None"))
    assert outcome("color.spots", painted(*uses), spots(1)) == "met"


def test_an_ink_that_is_not_on_the_list() -> None:
    finding = only_finding("color.spots", painted(spot("Copper 8"), spot("Flour")), spots(allowed=("Copper 8",))).finding
    assert finding.measured["inks"] == ["Flour"]


def test_one_ink_spelled_twice_makes_two_plates_but_is_one_ink() -> None:
    finding = only_finding("color.spots", painted(spot("Copper 8"), spot("copper-8 C")), spots(1)).finding
    assert finding.measured == {"inks": ["Copper 8", "copper-8 C"], "count": 1}
    assert finding.required == {"one_name_an_ink": True}


@pytest.mark.parametrize(
    "other", ["COPPER 8", " Copper  8", "copper_8", "Copper-8 C", "Copper 8 U", "Copper 8 CVC", "Copper 8CVU"]
)
def test_spellings_of_one_ink(other: str) -> None:
    assert same_ink(other) == same_ink("Copper 8")


@pytest.mark.parametrize("other", ["Copper 88", "Copper", "Copper 8 Varnish", "Copper 9 C"])
def test_other_inks_stay_other_inks(other: str) -> None:
    assert same_ink(other) != same_ink("Copper 8")


def test_a_word_that_ends_like_a_paper_suffix_keeps_its_end() -> None:
    assert same_ink("Music") != same_ink("Musi")


def test_finishing_inks_are_asked_for_apart() -> None:
    sheet = SpecSheet(color=ColorAsked(spots=SpotsAsked(maximum=0)), finishes=(Finish(ink="Gold Foil"),))
    assert outcome("color.spots", painted(spot("gold foil")), sheet) == "met"


def test_names_with_braces_are_shown_as_they_are() -> None:
    assert "{0} %s" in only_finding("color.spots", painted(spot("{0} %s")), spots(0)).finding.message


# --- color.registration -----------------------------------------------------------------------------------------------

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


def test_one_spot_ink_under_two_names_is_told_as_one() -> None:
    twice = document(page(content=content(colors=(spot_named("Copper 1"), spot_named("COPPER 1")))))
    found = only_finding("color.spots", twice, SpecSheet(color=ColorAsked(spots=SpotsAsked(maximum=0)))).finding
    assert found.measured == {"inks": ["COPPER 1", "Copper 1"], "count": 1}
    assert "spelled in 2 ways" in found.message


def spot_named(name: str) -> ColorUse:
    return color("spot", "fill", inks=(name,))
