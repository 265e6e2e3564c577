"""What saying does with the edges of a text."""

from __future__ import annotations

import pytest

from service.language.spoken import LANGUAGES, Language, say, speaking


@pytest.mark.parametrize("language", LANGUAGES)
def test_nothing_is_said_as_nothing(language: Language) -> None:
    """Under the empty text gettext keeps the header of a catalogue."""
    with speaking(language):
        assert say("") == say("", count=1) == ""


def test_braces_of_a_text_without_values_are_its_own() -> None:
    assert say("a set {x}") == "a set {x}"
