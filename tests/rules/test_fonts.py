"""Fonts in the file."""

from __future__ import annotations

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
    assert outcome("font.embedded", missing, SpecSheet()) == "not_applicable"


def test_a_name_from_the_file_cannot_break_the_message() -> None:
    odd = font("Bad\x00\x1b[31m\nName" + "x" * 500, embedded=False)
    message = only_finding("font.embedded", document(page(content=content(fonts=(odd,)))), EMBEDDED).finding.message
    assert "\x1b" not in message
    assert "\n" not in message
    assert len(message) < 250
