"""A preview whose first page shows at once."""

from __future__ import annotations

import pytest

from service.language.sentences import Sentence
from service.pdf.facts.document import Linearization
from service.pdf.facts.unknown import Unmeasured
from service.sheets.model import FileAsked, Need, SpecSheet
from tests.rules.measured import document, only_finding, outcome, page

SOUND, STALE = Linearization(()), Linearization((Sentence("It states a length of 900 bytes; the file has 1,200."),))


def asks(need: Need | None) -> SpecSheet:
    return SpecSheet(file=FileAsked(linearized=need))


@pytest.mark.parametrize(
    ("need", "found", "expected"),
    [
        ("required", SOUND, "met"),
        ("required", STALE, "not_met"),
        ("required", None, "not_met"),
        ("forbidden", None, "met"),
        ("forbidden", SOUND, "not_met"),
        ("required", Unmeasured("Damaged."), "not_measured"),
        ("allowed", None, "not_applicable"),
        (None, None, "not_applicable"),
    ],
)
def test_a_preview_is_arranged_for_fast_viewing(
    need: Need | None, found: Linearization | Unmeasured | None, expected: str
) -> None:
    assert outcome("file.linearized", document(page(), linearization=found), asks(need)) == expected


def test_a_file_that_was_changed_later_is_told_why() -> None:
    found = only_finding("file.linearized", document(page(), linearization=STALE), asks("required"))
    assert found.finding.measured == {"linearized": False, "faults": [one.english for one in STALE.faults]}
    assert found.finding.required == {"linearized": True}
    assert found.level == "should"
    assert "no longer is" in found.finding.message
    never = only_finding("file.linearized", document(page(), linearization=None), asks("required")).finding
    assert "no longer is" not in never.message


def test_a_file_that_must_not_be_arranged_so_is_told_that_whether_or_not_it_still_is() -> None:
    for arranged in (SOUND, STALE):
        finding = only_finding("file.linearized", document(page(), linearization=arranged), asks("forbidden")).finding
        assert "does not take such files" in finding.message
        assert finding.required == {"linearized": False}
