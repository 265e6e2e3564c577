"""Black text in black ink and no other."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from service.pdf.facts.measurements import Measurements
from service.sheets.model import SpecSheet, TextAsked
from tests.rules.measured import content, document, only_finding, outcome, page, run, without_content

ALONE = SpecSheet(text=TextAsked(black_alone=True))


def saying(**changes: Any) -> Measurements:
    text = replace(run("Open from seven"), **{"inks": ("Black",), "black_tint": 1.0, **changes})
    return document(page(content=content(text=(text,))))


@pytest.mark.parametrize(
    ("inks", "black", "expected"),
    [
        (("Black",), 1.0, "met"), (("Cyan", "Black"), 1.0, "not_met"), (("Cyan", "Black"), 0.8, "not_met"),
        (("Cyan", "Black"), 0.79, "met"), (("Cyan", "Magenta"), 0.0, "met"), (("All",), 1.0, "not_met"), ((), 0.0, "met"),
    ],
)
def test_black_text_has_no_other_ink_beside_black(inks: tuple[str, ...], black: float, expected: str) -> None:
    assert outcome("text.black-alone", saying(inks=inks, black_tint=black), ALONE) == expected


def test_the_text_is_quoted_and_large_type_counts_too() -> None:
    found = only_finding("text.black-alone", saying(inks=("Cyan", "Black"), size_pt=72.0), ALONE)
    assert (found.level, found.finding.measured) == ("must", {"texts": ["Open from seven"], "pieces": 1})


def test_what_nobody_sees_or_the_sheet_does_not_ask_for_is_passed_over() -> None:
    assert outcome("text.black-alone", saying(inks=("Cyan", "Black"), visible=False), ALONE) == "met"
    assert outcome("text.black-alone", saying(inks=("Cyan", "Black")), SpecSheet(text=TextAsked())) == "not_applicable"
    assert outcome("text.black-alone", document(without_content(page())), ALONE) == "not_measured"
