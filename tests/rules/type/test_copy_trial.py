"""What trial programs leave on pages."""

from __future__ import annotations

import pytest

from service.sheets.model import SpecSheet
from tests.rules.measured import content, document, only_finding, outcome, page, run


@pytest.mark.parametrize(("words", "size_pt", "pages", "expected"), [
    ("Trial version", 40, 1, "not_met"), ("Trial version", 10, 1, "met"), ("Made with an evaluation copy", 10, 2, "not_met"),
    ("Testversion", 40, 1, "not_met"), ("Version d'essai", 40, 1, "not_met"), ("Our demo kitchen", 40, 2, "met"),
    ("Trial version", 24, 1, "not_met"), ("Trial version", 23, 1, "met"),
])
def test_words_of_a_trial_program_across_the_page(words: str, size_pt: float, pages: int, expected: str) -> None:
    one = page(210, 297, content=content(text=[run(words, size_pt=size_pt)]))
    assert outcome("copy.trial", document(*[one] * pages), SpecSheet()) == expected


def test_words_of_a_trial_program_on_one_page_of_several_are_somebodys_text() -> None:
    told = page(210, 297, content=content(text=[run("Try the trial version", size_pt=10)]))
    assert outcome("copy.trial", document(told, page(210, 297)), SpecSheet()) == "met"


@pytest.mark.parametrize(
    ("creator", "producer", "expected"),
    [
        ("Demo order of print-spec", None, "met"),
        ("Layout (trial)", None, "not_met"),
        ("Evaluation of answers 2.1", None, "met"),
        ("Page Setter 4 (Evaluation)", None, "not_met"),
        (None, "PDF Writer 9 [unregistered]", "not_met"),
        ("Page Setter 4", "PDF Writer - Testversion", "not_met"),
        ("Page Setter 4", "PDF Writer 9", "met"),
        ("Demographics Pro", "Industrial PDF", "met"),
        (None, None, "met"),
    ],
)
def test_a_program_that_calls_itself_a_trial(creator: str | None, producer: str | None, expected: str) -> None:
    """It may have set a picture across the pages, which nobody reads but people."""
    assert outcome("copy.trial", document(page(), creator=creator, producer=producer), SpecSheet()) == expected


def test_words_on_the_page_are_told_before_the_program_that_wrote_them() -> None:
    one = page(210, 297, content=content(text=[run("Trial version", size_pt=40)]))
    found = only_finding("copy.trial", document(one, producer="PDF Writer (trial)"), SpecSheet())
    assert (found.level, found.finding.measured) == ("should", {"texts": ["Trial version"], "lines": 1})


def test_words_in_the_slug_or_that_nobody_sees_are_not_printed() -> None:
    for unseen in (run("Trial version", size_pt=40, y=-30), run("Trial version", size_pt=40, visible=False)):
        assert outcome("copy.trial", document(page(210, 297, content=content(text=[unseen]))), SpecSheet()) == "met"


def test_of_many_words_the_first_twenty_are_quoted() -> None:
    words = [run(f"Trial version {at}", size_pt=40, y=10 * at) for at in range(25)]
    found = only_finding("copy.trial", document(page(210, 297, content=content(text=words))), SpecSheet()).finding
    assert (len(found.measured["texts"]), found.measured["lines"], len(found.places)) == (20, 25, 25)  # type: ignore[arg-type]
