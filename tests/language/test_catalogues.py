"""The catalogues have every message, whole, with the same placeholders; and nothing else."""

from __future__ import annotations

from io import BytesIO

import pytest
from babel.messages.catalog import Catalog, Message
from babel.messages.pofile import read_po

from service.language.sentences import names_in
from service.language.spoken import CATALOGUES, LANGUAGES, catalogue
from tests.language.collect import TRANSLATED, updated
from tests.language.messages import Text, all_messages


@pytest.fixture(scope="module")
def messages() -> tuple[Text, ...]:
    return all_messages()


def read(language: str) -> Catalog:
    return read_po(BytesIO((CATALOGUES / f"{language}.po").read_bytes()), locale=language)


def forms(message: Message) -> list[tuple[str, str]]:
    """(English, translation) of the message, or of each of its plural forms."""
    if isinstance(message.id, tuple | list):
        one, many = message.id
        return [(one if at == 0 else many, string) for at, string in enumerate(message.string)]
    return [(message.id, str(message.string))]


def test_every_spoken_language_has_a_catalogue() -> None:
    assert {"en", *TRANSLATED} == set(LANGUAGES)


@pytest.mark.parametrize("language", TRANSLATED)
def test_a_catalogue_is_up_to_date(language: str, messages: tuple[Text, ...]) -> None:
    path = CATALOGUES / f"{language}.po"
    assert updated(path, language, messages) == path.read_bytes(), "run `python -m tests.language.collect`"


@pytest.mark.parametrize("language", TRANSLATED)
def test_every_message_is_translated(language: str, messages: tuple[Text, ...]) -> None:
    found = read(language)
    missing = []
    for text in messages:
        message = found.get(text.one, context=text.subject)
        if message is None or message.fuzzy or not all(string.strip() for _, string in forms(message)):
            missing.append(text.one)
    assert not missing, f"{len(missing)} of {len(messages)}, such as {missing[:5]}"


@pytest.mark.parametrize("language", TRANSLATED)
def test_a_plural_has_as_many_forms_as_the_language(language: str) -> None:
    found = read(language)
    counted = [one for one in found if isinstance(one.id, tuple | list)]
    assert counted
    assert {len(one.string) for one in counted} == {found.num_plurals} == {2}


def test_languages_count_in_their_own_way() -> None:
    german, french, spanish = catalogue("de"), catalogue("fr"), catalogue("es")
    assert [german.plural(count) for count in (0, 1, 2)] == [1, 0, 1]  # type: ignore[attr-defined]
    assert [french.plural(count) for count in (0, 1, 2)] == [0, 0, 1]  # type: ignore[attr-defined]
    assert [spanish.plural(count) for count in (0, 1, 2)] == [1, 0, 1]  # type: ignore[attr-defined]


@pytest.mark.parametrize("language", TRANSLATED)
def test_a_translation_has_the_placeholders_of_its_text(language: str) -> None:
    wrong = [
        (english, string)
        for message in read(language)
        if message.id
        for english, string in forms(message)
        if string and set(names_in(english)) != set(names_in(string))
    ]
    assert wrong == []


@pytest.mark.parametrize("language", TRANSLATED)
def test_a_translation_begins_and_ends_as_its_text(language: str) -> None:
    """A space or a line end at an edge joins it to what comes beside it; braces are only those of placeholders."""
    wrong = []
    for message in read(language):
        for english, string in forms(message) if message.id else ():
            edges = [one[: len(one) - len(one.lstrip())] + "|" + one[len(one.rstrip()) :] for one in (english, string)]
            if string and (edges[0] != edges[1] or string.count("{") != len(names_in(string)) != string.count("}")):
                wrong.append((english, string))
    assert wrong == []


@pytest.mark.parametrize("language", TRANSLATED)
def test_a_catalogue_is_written_plainly(language: str) -> None:
    """Spaces that do not break are put in by rule (`service.language.typography`), so that nobody types them, or forgets one."""
    text = (CATALOGUES / f"{language}.po").read_text(encoding="utf-8")
    assert [one for one in text.splitlines() if "\u00a0" in one or "\u202f" in one] == []
