"""Judgements of one file as JSON text and back, exactly (`service.pdf.exact_records`): the English one, and of each other
language the words alone.

Whoever changes a record raises `service.store.checks.STORED_AS`.
"""

from __future__ import annotations

from collections.abc import Mapping
from math import isfinite
from typing import Any

import cattrs

from service.language.spoken import LANGUAGES, spoken
from service.pdf.exact_records import RecordRefused, data_of, exact_converter, from_data, made_of, read_text, text_of
from service.rules.judgement import InWords, Judgement, Judgements, told_in, words_of

DEEPEST_VALUE = 8
"""Lists and objects inside each other in what a finding has measured. Ours, no source."""


def judgements_to_json(judgements: Judgements) -> str:
    others = {language: words_of(one) for language, one in judgements.items() if language != "en"}
    return text_of({"en": _CONVERTER.unstructure(judgements["en"])} | _CONVERTER.unstructure(others))


def judgements_from_json(text: str | bytes) -> Judgements:
    """Raises RecordRefused where the text is no judgement in every language."""
    whole = data_of(text)
    if type(whole) is not dict or whole.keys() != set(LANGUAGES):
        raise RecordRefused("these are no judgements in every language")
    english = _english(whole)
    return {language: english if language == "en" else _told(whole[language], english) for language in LANGUAGES}


def judgement_from_json(text: str | bytes) -> Judgement:
    """That in the spoken language; in English where it was judged before that language was spoken here.

    Raises RecordRefused where there is neither.
    """
    whole = data_of(text)
    if type(whole) is not dict or "en" not in whole:
        raise RecordRefused("this is no judgement")
    own = whole.get(spoken())
    if spoken() == "en" or own is None:
        return _english(whole)
    if type(own) is dict and "verdict" in own:  # form 10 and before: each language has a whole judgement
        return from_data(_CONVERTER, own, Judgement)
    return _told(own, _english(whole))


def _english(whole: Any) -> Judgement:
    return from_data(_CONVERTER, whole["en"], Judgement)


def _told(words: Any, english: Judgement) -> Judgement:
    try:
        return told_in(from_data(_CONVERTER, words, InWords), english)
    except ValueError as error:
        raise RecordRefused(f"a language has other words than English: {error}") from error


def _values(value: Any, _: Any) -> dict[str, Any]:
    if type(value) is not dict:
        raise ValueError("an object of values is missing")
    return {read_text(key, str): _value(one, DEEPEST_VALUE) for key, one in value.items()}


def _value(value: Any, deep: int) -> Any:
    """Any JSON, its numbers finite, its texts whole."""
    if type(value) is str:
        return read_text(value, str)
    if type(value) is list and deep:
        return [_value(one, deep - 1) for one in value]
    if type(value) is dict and deep:
        return {read_text(key, str): _value(one, deep - 1) for key, one in value.items()}
    if value is None or type(value) in (bool, int) or (type(value) is float and isfinite(value)):
        return value
    raise ValueError("a value is missing")


def _converter() -> cattrs.Converter:
    converter = exact_converter()
    converter.register_structure_hook_func(made_of(Mapping), _values)
    converter.register_unstructure_hook_func(made_of(Mapping), lambda one: one)
    return converter


_CONVERTER = _converter()
