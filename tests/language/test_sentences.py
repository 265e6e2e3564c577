"""Sentences whose values are kept apart: said later, in any language, whatever they hold."""

from __future__ import annotations

from gettext import NullTranslations

import pytest

from service.language.sentences import Sentence, sentence
from service.language.spoken import Language, speaking
from service.language.wording import reason
from service.pdf.facts.unknown import Failure, unmeasured
from tests.language.mirror import mirrored


class _Translated(NullTranslations):
    """A catalogue of one message."""

    def __init__(self, text: str) -> None:
        super().__init__()
        self.text = text

    def gettext(self, message: str) -> str:  # noqa: ARG002
        return self.text


def said_as(translation: str, one: Sentence, monkeypatch: pytest.MonkeyPatch) -> str:
    monkeypatch.setattr("service.language.spoken.catalogue", lambda _: _Translated(translation))
    with speaking("fr"):
        return one.said()


def test_a_sentence_inside_another_is_said_with_it() -> None:
    limit = sentence("it has more than {count} drawing instructions", count=12_000)
    why = unmeasured("The page was not followed to its end: {limit}.", limit=limit)
    assert why.why == "The page was not followed to its end: it has more than 12,000 drawing instructions."
    with mirrored():
        assert (
            reason(why)
            == "⟦The page was not followed to its end: ⟧⟦it has more than ⟧12.000⟦ drawing instructions⟧⟦.⟧"
        )


def test_numbers_are_written_as_the_language_does() -> None:
    one = sentence("{count} of {size}", count=1_234_567, size=2.5)
    written = {}
    for language in ("en", "de", "fr", "es"):
        with speaking(language):  # type: ignore[arg-type]
            written[language] = one.said()
    assert written["en"] == "1,234,567 of 2.5"
    assert written["de"].split() == ["1.234.567", "of", "2,5"]
    assert written["fr"].replace("\u202f", "_").split() == ["1_234_567", "of", "2,5"]
    assert written["es"].replace("\u202f", "_").split() == ["1_234_567", "of", "2,5"]


def test_a_translation_with_other_names_is_not_used(monkeypatch: pytest.MonkeyPatch) -> None:
    one = sentence("It has {count} pages.", count=3)
    assert said_as("Il a {count} pages.", one, monkeypatch) == "Il a 3 pages."
    assert said_as("Il a {nombre} pages.", one, monkeypatch) == "It has 3 pages."


@pytest.mark.parametrize(
    "text", ["{", "}", "{}", "{0}", "{count", "{count!r}", "{count.__class__}", "{count:>9999999999}", "{other}", "", "%(count)s"]
)
def test_a_text_that_does_not_fit_its_values_never_raises(text: str) -> None:
    one = Sentence(text, (("count", 7),))
    assert one.english == one.said() == text
    assert reason(Failure("broken", text, (("count", 7),))) == text


def test_braces_of_a_text_without_values_are_its_own() -> None:
    assert Sentence("The name {count} is taken.").said() == "The name {count} is taken."


@pytest.mark.parametrize(
    ("language", "said"),
    [
        ("en", "Page 3: The page is damaged and cannot be read."),
        ("de", "Seite 3: Die Seite ist beschädigt"),
        ("fr", "Page 3\u00a0: la page est endommagée"),
        ("es", "Página 3: la página está dañada"),
    ],
)
def test_a_reason_after_a_colon_begins_as_its_language_has_it(language: Language, said: str) -> None:
    why = unmeasured("Page {page}: {reason}", page="3", reason=unmeasured("The page is damaged and cannot be read."))
    with speaking(language):
        assert reason(why).startswith(said)
