"""The grammar against the texts that it was made with: how well it reads them, and that every value shows its words."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from service.sheets.format.validation import read_sheet
from service.sheets.prose.drafts import Reading
from service.sheets.prose.reading import read_prose
from tests.sheets.readings_score import FOLDERS, leaves, read_yaml, score, texts_in

TEXTS = texts_in(FOLDERS["seen"])


def read(path: Path) -> Reading:
    case = read_yaml(path)
    return read_prose(case["text"], case["media_type"])


def test_the_texts_seen_are_read_nearly_without_mistake() -> None:
    total = score(FOLDERS["seen"])
    assert total.texts >= 90
    assert total.precision >= 0.99, total.differences
    assert total.recall >= 0.79, total.differences  # what is not surely meant is asked about


@pytest.mark.parametrize("path", TEXTS, ids=lambda path: path.stem)
def test_a_key_is_a_valid_sheet(path: Path) -> None:
    """A mistake in a key would teach the grammar a mistake."""
    expect = read_yaml(path)["expect"]
    if expect:
        read_sheet(expect)


def _leaf(path: str) -> str:
    """A list is one leaf: 'papers.0.name' is of 'papers'."""
    return re.split(r"\.[0-9]+\.", path)[0]


@pytest.mark.parametrize("path", TEXTS, ids=lambda path: path.stem)
def test_every_value_of_a_draft_shows_the_words_that_it_was_read_from(path: Path) -> None:
    reading = read(path)
    assert {_leaf(value.path) for value in reading.values} == {where for where, _ in leaves(reading.draft)}
    for value in reading.values:
        assert reading.text[value.start : value.end] == value.quote
        assert value.quote.strip()
    for passage in reading.not_understood:
        assert reading.text[passage.start : passage.end] == passage.quote


@pytest.mark.parametrize("path", TEXTS, ids=lambda path: path.stem)
def test_a_draft_that_asks_anything_is_a_valid_inline_sheet(path: Path) -> None:
    draft = read(path).draft
    if draft:
        read_sheet(draft)
