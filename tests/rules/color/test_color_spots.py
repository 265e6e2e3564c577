"""Spot inks: how many, which, and how they are spelled."""

from __future__ import annotations

import pytest

from service.pdf.facts.ink_names import same_ink
from service.pdf.facts.painted.colors import ColorUse
from service.sheets.model import ColorAsked, Finish, SpecSheet, SpotsAsked
from tests.rules.color.painted import painted
from tests.rules.measured import color, content, document, judged, only_finding, outcome, page, without_content


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


def test_one_spot_ink_under_two_names_is_told_as_one() -> None:
    twice = document(page(content=content(colors=(spot_named("Copper 1"), spot_named("COPPER 1")))))
    found = only_finding("color.spots", twice, SpecSheet(color=ColorAsked(spots=SpotsAsked(maximum=0)))).finding
    assert found.measured == {"inks": ["COPPER 1", "Copper 1"], "count": 1}
    assert "spelled in 2 ways" in found.message


def spot_named(name: str) -> ColorUse:
    return color("spot", "fill", inks=(name,))


def test_spots_that_are_not_asked_about_or_not_seen() -> None:
    for silent in (SpecSheet(), SpecSheet(color=ColorAsked())):
        assert outcome("color.spots", painted(spot("Copper 8")), silent) == "not_applicable"
    assert outcome("color.spots", document(without_content(page())), spots(1)) == "not_measured"


def test_too_many_and_strangers_are_two_musts_but_where_none_is_taken_one() -> None:
    two = painted(spot("Copper 8"), spot("Flour"))
    _, findings = judged("color.spots", two, spots(1, allowed=("Copper 8",)))
    assert [(one.level, one.finding.required) for one in findings] == [
        ("must", {"maximum": 1}), ("must", {"allowed": ["Copper 8"]}),
    ]  # fmt: skip
    assert len(judged("color.spots", two, spots(0, allowed=()))[1]) == 1


def test_inks_of_the_list_are_taken() -> None:
    assert outcome("color.spots", painted(spot("Copper 8")), spots(allowed=("Copper 8", "Flour"))) == "met"


def test_a_cut_line_is_never_told_to_become_cmyk() -> None:
    """Converted it prints, and the shape is lost."""
    alone = only_finding("color.spots", painted(spot("Cutting")), spots(0)).finding
    assert "do not convert it" in alone.remedy
    assert "CMYK" not in alone.remedy
    beside = only_finding("color.spots", painted(spot("Cutting"), spot("Flour")), spots(0)).finding
    assert "do not convert it" in beside.remedy
    assert "CMYK" in beside.remedy
    color = only_finding("color.spots", painted(spot("Flour")), spots(0)).finding
    assert "do not convert" not in color.remedy
    stranger = only_finding("color.spots", painted(spot("Gold foil")), spots(allowed=("Copper 8",))).finding
    assert "do not convert it" in stranger.remedy
