"""A sentence that is made in one place and said in another: its English text, and the values of its `{names}` kept apart.

Measuring gives its reasons in this form, and they are said when somebody reads them. A value may be a sentence itself; it is said
with the one around it. Filling never raises and reads no format: the sentence may come from a process that a file has taken over.
"""

from __future__ import annotations

import re
from dataclasses import dataclass

from service.language.first_words import begun_after_colon
from service.language.spoken import say, speaking, spoken
from service.language.typography import MINUS, decimal_mark, whole_number

_NAME = re.compile(r"\{(\w+)\}")


@dataclass(frozen=True)
class Sentence:
    text: str
    """English, with `{names}`; the catalogues' key."""
    values: tuple[tuple[str, str | int | float | Sentence], ...] = ()
    """Each name once."""

    @property
    def english(self) -> str:
        with speaking("en"):
            return self._filled(self.text)

    def said(self) -> str:
        """In the spoken language; in English where the translation has other names than the text."""
        translated = say(self.text) if self.text else ""
        if self.values and set(names_in(translated)) != {name for name, _ in self.values}:
            return self.english
        return self._filled(translated)

    def _filled(self, text: str) -> str:
        """A text without values stands as it is: its braces are its own."""
        shown = {name: _shown(value) for name, value in self.values}
        for name, value in self.values:
            if isinstance(value, Sentence) and f": {{{name}}}" in text:
                shown[name] = begun_after_colon(shown[name])
        return _NAME.sub(lambda found: shown.get(found[1], found[0]), text) if shown else text


def sentence(text: str, /, **values: str | int | float | Sentence) -> Sentence:
    return Sentence(text, tuple(values.items()))


def names_in(text: str) -> list[str]:
    """'{count} pages of {size}' → ['count', 'size'], as often as they stand there."""
    return _NAME.findall(text)


def _shown(value: str | int | float | Sentence) -> str:
    """12000 → '12,000', 2.5 → '2.5', each as the spoken language writes it."""
    if isinstance(value, Sentence):
        return value.said()
    if isinstance(value, int):
        return whole_number(value, spoken())
    if isinstance(value, float):
        return f"{value:g}".replace("-", MINUS).replace(".", decimal_mark(spoken()))
    return value
