"""A product of North America whose size is said in inches has notes in inches too, whatever family it is built on.

Millimetres may stand beside them: a printer's own words are given back with a finding, and a reader with a ruler in inches has to
find his measure in them.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from typing import Any

import pytest

from service.sheets.catalogue import base_document, laid_over_its_base, stored_sheets
from service.sheets.extending import EXTENDS
from service.sheets.format.lengths import parse_length_mm

SAID_TO_PEOPLE = ("note", "summary", "title")
METRIC = re.compile(r"\b\d+(?:\.\d+)? ?(?:mm|cm|m)\b|\b(?:milli|centi)?metres?\b|\bg/m²")
INCHES = re.compile(r"\b(?:\d+ )?\d+(?:\.\d+|/\d+)? (?:in|ft)\b|\bfoot\b|\byards?\b")
BESIDE = re.compile(rf"((?:{INCHES.pattern})[^()]*)\([^()]*\)")
BOTH = re.compile(r"((?:\d+ )?\d+(?:\.\d+|/\d+)? in) \((\d+(?:\.\d+)?) mm\)")


def complete(sheet_id: str) -> Mapping[str, Any]:
    document = laid_over_its_base({EXTENDS: sheet_id})
    assert isinstance(document, Mapping)
    return document


def is_said_in_inches(document: Mapping[str, Any]) -> bool:
    width = document.get("trim", {}).get("width")
    return "US" in document.get("regions", ()) and isinstance(width, str) and width.endswith(" in")


AMERICAN = {one: document for one in stored_sheets() if is_said_in_inches(document := complete(one))}


def texts(node: Any) -> Iterator[str]:
    if isinstance(node, Mapping):
        for key, value in node.items():
            if key in SAID_TO_PEOPLE and isinstance(value, str):
                yield value
            elif key != "references":
                yield from texts(value)
    elif isinstance(node, list):
        for one in node:
            yield from texts(one)


def metric_alone(text: str) -> bool:
    """Whether a metric measure stands anywhere but in brackets behind one in inches, or in a sentence that calls it metric."""
    sentences = [one for one in re.split(r"(?<=[.;]) ", text) if not re.search(r"\bmetric\b", one)]
    return any(METRIC.search(BESIDE.sub(r"\1", one)) for one in sentences)


def pairs_apart(text: str) -> list[tuple[str, str]]:
    """Inches with millimetres beside them that say less than these, or a tenth more."""
    pairs = [(inches, millimetres, parse_length_mm(inches)) for inches, millimetres in BOTH.findall(text)]
    return [(inches, mm) for inches, mm, length in pairs if not float(mm) <= length <= 1.1 * float(mm)]


@pytest.mark.parametrize("sheet_id", AMERICAN)
def test_a_sheet_in_inches_says_no_measure_in_millimetres_alone(sheet_id: str) -> None:
    assert [one for one in texts(AMERICAN[sheet_id]) if metric_alone(one) or pairs_apart(one)] == []


def test_there_are_such_sheets_of_every_kind_and_of_metric_families_too() -> None:
    assert len(AMERICAN) > 50
    assert {"desk-pad-us-22x17", "banner-us-6x3ft", "booklet-us-letter-wire", "calendar-us-letter-stapled"} <= AMERICAN.keys()
    assert base_document("desk-pad") is not None


@pytest.mark.parametrize(
    "text",
    [
        "Keep text 3 mm away from the edge.", "They lose a millimetre or two.", "Seen from some metres away.",
        "Keep 50 mm (2 in) free.", "Paper of 300 g/m².", "We cut to within 1/16 in, so keep text 3 mm away.",
    ],
)
def test_a_note_that_a_reader_of_inches_cannot_measure_is_found(text: str) -> None:
    assert metric_alone(text)


@pytest.mark.parametrize(
    "text", ["Keep 1/8 in (3 mm) free. A metric bleed of 3 mm will do.", "6 × 3 ft (1.8 × 0.9 m)", "One page in reading order."]
)
def test_inches_with_millimetres_beside_them_are_not(text: str) -> None:
    assert not metric_alone(text)
    assert pairs_apart(text) == []


def test_inches_that_ask_for_less_than_the_millimetres_beside_them_are_found() -> None:
    assert pairs_apart("Keep 3/16 in (5 mm) free, better 1/2 in (10 mm).") == [("3/16 in", "5"), ("1/2 in", "10")]
