"""The catalogues keep to the glossary: a term of the trade is said by its word, and never by one that says something else."""

from __future__ import annotations

import re

import pytest

from service.language.glossary import GLOSSARY, Term
from service.language.spoken import LANGUAGES
from tests.language.collect import TRANSLATED
from tests.language.test_catalogues import forms, read

MEANINGS = {term.meaning for term in GLOSSARY}


def said(language: str) -> list[tuple[str, str]]:
    """(English, translation) of every text but the meanings, which explain a term without its word."""
    return [pair for message in read(language) if message.id for pair in forms(message) if pair[0] not in MEANINGS]


def by_english(term: Term) -> str:
    return term.words["en"].said


def test_each_term_has_a_word_in_each_language_and_no_two_share_one() -> None:
    for language in LANGUAGES:
        words = [term.words[language].said for term in GLOSSARY]
        assert len(set(words)) == len(words)
    for term in GLOSSARY:
        for word in term.words.values():
            assert re.search(word.forms, word.said), word
    assert all(term.source for term in GLOSSARY)


@pytest.mark.parametrize("language", TRANSLATED)
@pytest.mark.parametrize("term", GLOSSARY, ids=by_english)
def test_a_term_is_said_by_its_word(term: Term, language: str) -> None:
    english, word = term.words["en"], term.words[language]
    other = [pair for pair in said(language) if re.search(english.forms, pair[0]) and not re.search(word.forms, pair[1])]
    assert other == []


@pytest.mark.parametrize("language", TRANSLATED)
def test_no_text_uses_a_word_that_says_something_else(language: str) -> None:
    for term in GLOSSARY:
        never = term.words[language].never
        if never:
            assert [text for _, text in said(language) if re.search(never, text)] == [], never


def test_the_glossary_is_about_what_is_said() -> None:
    """Each term stands in some text; but for those that a reader meets in the printer's own words alone."""
    english = [pair[0] for pair in said("de")]
    unused = {by_english(term) for term in GLOSSARY if not any(re.search(term.words["en"].forms, one) for one in english)}
    assert unused <= {"signature", "rasterise"}
