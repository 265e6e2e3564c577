"""A sheet in inches: 1 in = 25.4 mm by definition."""

from __future__ import annotations

import re

import pytest

from service.sheets.catalogue import stored_sheets
from service.sheets.format.parsing import parse_sheet_text
from service.sheets.format.validation import read_sheet
from service.sheets.format.writing import sheet_to_document
from service.sheets.units import in_inches, inches_text
from tests.sheets.complete import COMPLETE


@pytest.mark.parametrize(
    ("mm", "text"),
    [
        (25.4, "1 in"),
        (88.9, "3.5 in"),
        (3.175, "0.125 in"),
        (3, "0.1181 in"),
        (297, "11.6929 in"),
        (0.11, "0.004331 in"),
        (0, "0 in"),
    ],
)
def test_a_length_in_inches(mm: float, text: str) -> None:
    assert inches_text(mm) == text


def test_every_length_is_turned_and_nothing_else() -> None:
    document = sheet_to_document(read_sheet(parse_sheet_text(COMPLETE)))
    inches = in_inches(document)
    assert inches["trim"]["width"] == "5.5 in"
    assert inches["keep_clear"][0]["box"] == ["0.7874 in", "1.7717 in", "4.7244 in", "7.874 in"]
    assert inches["folds"][0]["at"] == "3.8189 in"
    assert (inches["text"], inches["lines"], inches["color"], inches["note"]) == tuple(
        document[key] for key in ("text", "lines", "color", "note")
    )
    assert re.findall(r"\d mm\b", str(inches)) == []


def test_the_sheet_in_inches_asks_the_same_within_the_rounding() -> None:
    for sheet in stored_sheets().values():
        again = read_sheet(in_inches(sheet_to_document(sheet)))
        if sheet.trim and again.trim:
            assert again.trim.width_mm == pytest.approx(sheet.trim.width_mm, abs=0.0013)


def test_what_is_no_length_yet_stays() -> None:
    assert in_inches({"extends": "a", "bleed": None, "trim": {"width": None, "height": "x"}}) == {
        "extends": "a",
        "bleed": None,
        "trim": {"width": None, "height": "x"},
    }
