"""What German and French sentences ask of the file, before any sign of doubt is looked for: all of it, and nothing else."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
import yaml

from tests.sheets.prose.grammar import extracted
from tests.sheets.readings_score import _normal, same

SENTENCES = yaml.safe_load(Path(__file__).with_name("extracted_de_fr.yaml").read_text(encoding="utf-8"))


@pytest.mark.parametrize("sentence", SENTENCES, ids=lambda sentence: sentence["text"][:60])
def test_a_sentence_asks_what_it_says_and_no_more(sentence: dict[str, Any]) -> None:
    given = extracted(sentence["text"])
    for path, value in sentence["asks"].items():
        assert path in given, f"nothing is read of {path}: {given}"
        assert same(path, given[path], _normal(path, value)), f"{path}: {given[path]}"
    if not sentence.get("more"):
        assert given.keys() == sentence["asks"].keys()
    for beginning in sentence.get("not", ()):
        assert not [path for path in given if path.startswith(beginning)]


def test_the_sentences_are_of_both_kinds() -> None:
    assert len(SENTENCES) >= 400
    assert sum(not sentence["asks"] for sentence in SENTENCES) >= 40
