"""A level has one set of words, whatever says it and in whichever language; `tests/web/test_levels.py` looks at the pages."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from service.language.levels import ASKED, FOUND, HEADED, NUMBERED
from service.language.spoken import LANGUAGES, Language, say, speaking
from service.web.script_texts import script_texts
from tests.language.messages import all_messages

SERVICE = Path(__file__).parents[2] / "service"
ELEMENT = SERVICE / "web" / "static" / "check-upload.js"
MARKED = "Finding {number}, {topic}, "
OTHER_NAMES = re.compile(
    r"[Ww]orth a look|\b[Oo]bservations?\b|\b[Nn]onconformit|^(?:[Mm]ust|[Ss]hould|[Ll]evel)$|not a must"
    r"|\ba must\b(?! (?:where|inside|\{))|\b(?:[Ww]ishe?s?|[Ss]uggestions?|[Rr]ecommendations?|[Ww]arnings?)\b"
)
"""What levels were called or might be; the words of `levels` are taken out first."""
MEANT_OTHERWISE = frozenset({"levels: bleed.declared is a wish"})
"""A source, in the words of whoever wrote that sheet."""


def others(text: str) -> list[str]:
    for words in (*ASKED.values(), *FOUND.values()):
        text = text.replace(words, "")
    return OTHER_NAMES.findall(text)


def test_no_text_calls_a_level_otherwise() -> None:
    found = {one.one for one in all_messages() if others(one.one) and one.one not in MEANT_OTHERWISE}
    assert found == set()


@pytest.mark.parametrize("text", ["Worth a look", "conforming with observations", "Should", "a wish, not a must", "3 warnings"])
def test_another_name_is_found(text: str) -> None:
    assert others(text)


@pytest.mark.parametrize("language", LANGUAGES)
def test_two_levels_are_never_called_the_same(language: Language) -> None:
    with speaking(language):
        for words in (ASKED, FOUND, HEADED, NUMBERED):
            assert len({say(one) for one in words.values()}) == len(words)
        for level, words in FOUND.items():  # one, many, and with a number: the same word
            assert say(HEADED[level]).casefold()[:6] == say(words).casefold()[:6] == say(NUMBERED[level]).casefold()[:6]


@pytest.mark.parametrize("language", LANGUAGES)
def test_marks_on_a_picture_and_the_element_of_a_shop_s_page_say_it_so_too(language: Language) -> None:
    table = script_texts(language)
    (block,) = re.findall(rf"^    {language}: {{\n(.*?)^    }},", ELEMENT.read_text(encoding="utf-8"), re.MULTILINE | re.DOTALL)
    with speaking(language):
        for level, words in FOUND.items():
            english = MARKED + words
            assert str(table.get(english, english)).endswith(f", {say(words)}")
            assert re.findall(rf'\b{level}: "([^"]+)"', block)[0].casefold() == say(words).casefold()


def test_every_script_says_levels_in_texts_that_are_held_here() -> None:
    marked = {one.one for one in all_messages() if one.one.startswith(MARKED)}
    assert marked == {MARKED + words for words in FOUND.values()}
