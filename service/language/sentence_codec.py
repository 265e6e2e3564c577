"""Sentences with values as JSON data and back: `"text"`, or `["text with {name}", {"name": value}]`; so are those inside another.

Reading trusts nothing, as in `service.pdf.codec`: lengths are bounded, and the names of the text are exactly those of the values.
"""

from __future__ import annotations

import re
from math import isfinite
from typing import Any

from service.language.sentences import Sentence, names_in

LONGEST_TEXT = 2000
"""Characters of a text, and of a value that is one."""
DEEPEST = 3
"""Sentences inside sentences. Both ours, no source."""

_SURROGATES = re.compile("[\ud800-\udfff]")


def sentence_to_data(sentence: Sentence) -> Any:
    return _with_values(sentence) if sentence.values else sentence.text


def sentence_from_data(data: Any) -> Sentence:
    """Raises ValueError where the data are no sentence."""
    return _read(data, DEEPEST) if type(data) is list else Sentence(_text(data))


def _with_values(sentence: Sentence) -> list[Any]:
    values = {name: _with_values(one) if isinstance(one, Sentence) else one for name, one in sentence.values}
    return [sentence.text, values]


def _read(data: list[Any], deep: int) -> Sentence:
    if deep == 0 or len(data) != 2 or type(data[1]) is not dict:
        raise ValueError("a sentence with its values is missing")
    text, values = _text(data[0]), data[1]
    if values and sorted(names_in(text)) != sorted(values):
        raise ValueError("the values of a sentence are not those that it names")
    return Sentence(text, tuple((name, _value(one, deep)) for name, one in values.items()))


def _value(value: Any, deep: int) -> str | int | float | Sentence:
    if type(value) is list:
        return _read(value, deep - 1)
    if type(value) is int and abs(value) < 10**18:
        return value
    if type(value) is float and isfinite(value):
        return value
    return _text(value)


def _text(value: Any) -> str:
    if type(value) is not str or len(value) > LONGEST_TEXT or (not value.isascii() and _SURROGATES.search(value)):
        raise ValueError("a text is missing")
    return value
