"""Fonts that a printer does not take: none at all, or not of this kind."""

from __future__ import annotations

from dataclasses import replace

import pytest

from service.pdf.facts.painted.text import FontType
from service.sheets.model import FontFormat, FontsAsked, SpecSheet
from tests.rules.measured import content, document, font, only_finding, outcome, page, without_content

OUTLINES = SpecSheet(fonts=FontsAsked(outlines="required"))


def test_text_in_a_font_where_outlines_are_asked_for() -> None:
    written = document(page(), page(content=content(fonts=(font("Bakery Sans"),))))
    found = only_finding("font.outlined", written, OUTLINES)
    assert (found.level, found.finding.pages, found.finding.measured) == ("must", (2,), {"fonts": ["Bakery Sans"]})


def test_a_file_without_fonts_is_right_and_one_that_is_not_asked_too() -> None:
    assert outcome("font.outlined", document(page()), OUTLINES) == "met"
    written = document(page(content=content(fonts=(font(),))))
    assert outcome("font.outlined", written, SpecSheet(fonts=FontsAsked())) == "not_applicable"
    assert outcome("font.outlined", document(without_content(page())), OUTLINES) == "not_measured"


@pytest.mark.parametrize(
    ("kind", "taken", "expected"),
    [
        ("TrueType", ("truetype",), "met"), ("CIDFontType2", ("truetype",), "met"), ("Type1", ("truetype",), "not_met"),
        ("CIDFontType0", ("type-1",), "met"), ("MMType1", ("type-1", "truetype"), "met"),
        ("Type3", ("type-1", "truetype"), "not_met"),
        ("Type3", ("type-3",), "met"), ("unknown", ("truetype",), "met"),
    ],
)
def test_fonts_are_of_a_kind_that_is_taken(kind: FontType, taken: tuple[FontFormat, ...], expected: str) -> None:
    written = document(page(content=content(fonts=(replace(font(), type=kind),))))
    assert outcome("font.format", written, SpecSheet(fonts=FontsAsked(formats=taken))) == expected
