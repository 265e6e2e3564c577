"""Fonts in the file."""

from __future__ import annotations

from dataclasses import replace

import pytest

from service.pdf.facts.unknown import Unmeasured
from service.sheets.model import FontsAsked, SpecSheet
from tests.rules.measured import content, document, font, only_finding, outcome, page, without_content

EMBEDDED = SpecSheet(fonts=FontsAsked())


def test_fonts_in_the_file_are_right() -> None:
    assert outcome("font.embedded", document(page(content=content(fonts=(font(),)))), EMBEDDED) == "met"


def test_missing_fonts_are_one_finding_with_names_pages_and_places() -> None:
    missing = font("Crumb Serif", embedded=False)
    pages = (
        page(content=content(fonts=(missing, font("Bakery Sans")))),
        page(),
        page(content=content(fonts=(missing, font("Oven Script", embedded=False)))),
    )
    finding = only_finding("font.embedded", document(*pages), EMBEDDED).finding
    assert finding.measured == {"fonts": ["Crumb Serif", "Oven Script"]}
    assert finding.required == {"embedded": True}
    assert finding.pages == (1, 3)
    assert sorted(place.page for place in finding.places) == [1, 3, 3]


def test_fonts_not_seen_and_not_asked_for() -> None:
    assert outcome("font.embedded", document(without_content(page())), EMBEDDED) == "not_measured"
    missing = document(page(content=content(fonts=(font(embedded=False),))))
    assert outcome("font.embedded", missing, SpecSheet(fonts=FontsAsked(embedded="allowed"))) == "not_applicable"
    assert outcome("font.embedded", missing, SpecSheet(purpose="client-preview")) == "not_applicable"


def test_a_sheet_for_print_that_is_silent_on_fonts_is_told_as_an_observation() -> None:
    """The reference says `required` where the key is absent; what the printer did not ask for is no must."""
    missing = document(page(content=content(fonts=(font("Crumb Serif", embedded=False),))))
    found = only_finding("font.embedded", missing, SpecSheet())
    assert (found.level, found.finding.measured) == ("should", {"fonts": ["Crumb Serif"]})
    assert "asks" not in found.finding.message
    assert only_finding("font.embedded", missing, EMBEDDED).level == "must"
    assert outcome("font.embedded", document(page()), SpecSheet()) == "met"


def test_a_name_from_the_file_cannot_break_the_message() -> None:
    odd = font("Bad\x00\x1b[31m\nName" + "x" * 500, embedded=False)
    message = only_finding("font.embedded", document(page(content=content(fonts=(odd,)))), EMBEDDED).finding.message
    assert "\x1b" not in message
    assert "\n" not in message
    assert len(message) < 250


# --- font.type3 and font.damaged --------------------------------------------------------------------------------------

SHEET = SpecSheet()


def test_type_3_fonts_are_an_observation_with_names() -> None:
    drawn = replace(font("Crumb Bitmap"), type="Type3", has_pictures=True)
    found = only_finding("font.type3", document(page(content=content(fonts=(drawn, font())))), SHEET)
    assert (found.level, found.finding.measured, len(found.finding.places)) == ("should", {"fonts": ["Crumb Bitmap"]}, 1)
    assert outcome("font.type3", document(page(content=content(fonts=(font(),)))), SHEET) == "met"
    outlines = replace(drawn, has_pictures=False)
    assert outcome("font.type3", document(page(content=content(fonts=(outlines,)))), SHEET) == "met"


def test_a_damaged_font_is_told_with_what_is_wrong() -> None:
    broken = replace(font("Crumb Serif"), damage="its outlines are cut off")
    found = only_finding("font.damaged", document(page(content=content(fonts=(broken, font()))), page()), SHEET)
    assert found.level == "must"
    assert found.finding.measured == {"fonts": ["Crumb Serif"], "damage": ["its outlines are cut off"]}


def test_a_font_that_was_not_read_is_not_passed() -> None:
    large = replace(font(), damage=Unmeasured("its program is larger than 30 MB and was not read"))
    assert outcome("font.damaged", document(page(content=content(fonts=(large,)))), SHEET) == "not_measured"
    assert outcome("font.damaged", document(page(content=content(fonts=(font(),)))), SHEET) == "met"


@pytest.mark.parametrize("rule_id", ["font.type3", "font.damaged"])
def test_font_types_not_seen_and_turned_off(rule_id: str) -> None:
    assert outcome(rule_id, document(without_content(page())), SHEET) == "not_measured"
    bad = document(page(content=content(fonts=(replace(font(), type="Type3", damage="cut off"),))))
    assert outcome(rule_id, bad, SpecSheet(levels={rule_id: "off"})) == "not_applicable"


@pytest.mark.parametrize(("damage", "expected"), [((), False), (("The end of the file is missing.",), True)])
def test_in_a_damaged_file_the_damage_is_mended_first(damage: tuple[str, ...], expected: bool) -> None:
    lacking = document(page(content=content(fonts=(font(embedded=False),))), damage=damage)
    assert only_finding("font.embedded", lacking, EMBEDDED).finding.remedy.startswith("The file is damaged") is expected
