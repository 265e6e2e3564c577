"""Say a sentence in the language of whoever reads it. The source is English; catalogues translate it (gettext's model).

* `say("The page has {found}.", found=…)`: the sentence is looked up as it stands, then filled. `say_many` chooses between one and
  many by the rules of the language; `say_about` tells two uses of one word apart.
* `to_say` marks a sentence that is said later, by `say` with the same text, such as a reason that measuring gives.
* The language belongs to the running thread of work (`speaking`); it is English unless somebody says otherwise.
* A text that no catalogue has is said in English. `tests/language` fails on one.

A value is put in as it is and never looked up: what is itself words has been said before.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from contextvars import ContextVar
from functools import cache
from gettext import NullTranslations, c2py
from pathlib import Path
from typing import Literal, get_args

from service.language import typography
from service.language.po_file import texts_in
from service.language.typography import typeset

Language = Literal["en", "de", "fr", "es"]
LANGUAGES: tuple[Language, ...] = get_args(Language)
CATALOGUES = Path(__file__).parent / "catalogues"

Value = str | int | float

_PLURAL = re.compile(r"plural=(.*?);")

_spoken: ContextVar[Language] = ContextVar("language", default="en")


@contextmanager
def speaking(language: Language) -> Iterator[None]:
    before = _spoken.set(language)
    try:
        yield
    finally:
        _spoken.reset(before)


def spoken() -> Language:
    return _spoken.get()


def say(text: str, /, **values: Value) -> str:
    """The sentence in the spoken language, its `{names}` filled. Nothing is nothing: under '' a catalogue keeps its header."""
    return _filled(catalogue(spoken()).gettext(text), values) if text else ""


def say_many(one: str, many: str, count: int, /, **values: Value) -> str:
    """`one` or `many`, as the language counts; `{count}` is filled as well."""
    return _filled(catalogue(spoken()).ngettext(one, many, count), {"count": count, **values})


def say_about(subject: str, text: str, /, **values: Value) -> str:
    """As `say`, for a word that other languages translate differently by what it is about: ('side', 'left')."""
    return _filled(catalogue(spoken()).pgettext(subject, text), values)


def translated(text: str | None) -> str:
    """What a sheet says to people, as it stands where no catalogue has it: one's own sheets speak their writer's language."""
    said = catalogue(spoken()).gettext(text) if text else ""
    return text if text and said == typeset(text, spoken()) else said


def to_say(text: str) -> str:
    """Marks a sentence for the catalogues where it is written; it is said elsewhere."""
    return text


def decimal_mark() -> str:
    return typography.decimal_mark(spoken())


def _filled(text: str, values: Mapping[str, Value]) -> str:
    """A text without values stands as it is: its braces are its own."""
    return text.format_map({name: _shown(value) for name, value in values.items()}) if values else text


def _shown(value: Value) -> Value:
    """Long whole numbers are parted by thousands; up to 9,999 they may be a page or a year."""
    return typography.whole_number(value, spoken()) if isinstance(value, int) and abs(value) > 9_999 else value


class _English(NullTranslations):
    """The sources themselves, typeset."""

    def gettext(self, message: str) -> str:
        return typeset(message, "en")

    def ngettext(self, msgid1: str, msgid2: str, n: int) -> str:
        return typeset(msgid1 if n == 1 else msgid2, "en")

    def pgettext(self, context: str, message: str) -> str:  # noqa: ARG002
        return typeset(message, "en")


class _Translated(NullTranslations):
    def __init__(self, language: Language, written: str) -> None:
        super().__init__()
        self._language = language
        self._texts = texts_in(written)
        self.plural = c2py(_PLURAL.findall(self._texts[None, ""][0])[0])

    def gettext(self, message: str) -> str:
        return self._said(None, message)

    def ngettext(self, msgid1: str, msgid2: str, n: int) -> str:
        forms = self._texts.get((None, msgid1), ())
        return typeset(forms[self.plural(n)] if len(forms) > 1 else msgid1 if n == 1 else msgid2, self._language)

    def pgettext(self, context: str, message: str) -> str:
        return self._said(context, message)

    def _said(self, context: str | None, message: str) -> str:
        forms = self._texts.get((context, message), (message,))
        return typeset(forms[self.plural(1)] if len(forms) > 1 else forms[0], self._language)


@cache
def catalogue(language: Language) -> NullTranslations:
    """Read once. English needs none: nothing is loaded for it."""
    if language == "en":
        return _English()
    return _Translated(language, (CATALOGUES / f"{language}.po").read_text(encoding="utf-8"))


def language_named(text: str | None) -> Language | None:
    """'de', 'de-AT', 'DE_ch' → 'de'; None for a language that is not spoken here."""
    first = (text or "").strip().lower().replace("_", "-").partition("-")[0]
    return next((one for one in LANGUAGES if one == first), None)
