"""Judgements of one file, one for each language, as JSON text and back, exactly (`service.pdf.exact_records`).

Reading also sees to it that the languages differ in words alone. Whoever changes a record raises
`service.store.checks.STORED_AS`.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from math import isfinite
from typing import Any

import cattrs

from service.language.spoken import LANGUAGES, Language, spoken
from service.pdf.exact_records import RecordRefused, data_of, exact_converter, from_data, made_of, read_text, text_of
from service.rules.judgement import Judgement, Judgements, differ_in_words_alone

DEEPEST_VALUE = 8
"""Lists and objects inside each other in what a finding has measured. Ours, no source."""


def judgements_to_json(judgements: Judgements) -> str:
    """What several languages share is put into its form once."""
    forms: dict[int, Any] = {}
    for rule in (rule for one in judgements.values() for rule in one.rules):
        if id(rule) not in forms:
            forms[id(rule)] = _CONVERTER.unstructure(rule)
    return text_of(
        {
            language: {**_CONVERTER.unstructure(replace(one, rules=())), "rules": [forms[id(rule)] for rule in one.rules]}
            for language, one in judgements.items()
        }
    )


def judgements_from_json(text: str | bytes) -> Judgements:
    """Raises RecordRefused where the text is no judgement in every language."""
    whole = _whole(text)
    english = _judgement(whole, "en")
    judgements = {language: _in_other_words(whole, language, english) for language in LANGUAGES}
    if not all(differ_in_words_alone(one, english) for one in judgements.values()):
        raise RecordRefused("the judgements differ in more than their words")
    return judgements


def judgement_from_json(text: str | bytes) -> Judgement:
    """That in the spoken language; in English where it was judged before that language was spoken here.

    Raises RecordRefused where there is neither.
    """
    whole = data_of(text)
    if type(whole) is not dict or "en" not in whole:
        raise RecordRefused("this is no judgement")
    return _judgement(whole, spoken() if spoken() in whole else "en")


def _whole(text: str | bytes) -> Any:
    whole = data_of(text)
    if type(whole) is not dict or whole.keys() != set(LANGUAGES):
        raise RecordRefused("these are no judgements in every language")
    return whole


def _judgement(whole: Any, language: Language) -> Judgement:
    return from_data(_CONVERTER, whole[language], Judgement)


def _in_other_words(whole: Any, language: Language, english: Judgement) -> Judgement:
    """What rules say in all languages alike, most of them nothing, is read once."""
    data, known = whole[language], whole["en"]["rules"]
    if type(data) is not dict or type(data.get("rules")) is not list or len(data["rules"]) != len(known):
        return _judgement(whole, language)
    own = [at for at, rule in enumerate(data["rules"]) if rule != known[at]]
    read = from_data(_CONVERTER, {**data, "rules": [data["rules"][at] for at in own]}, Judgement)
    rules = dict(enumerate(english.rules)) | dict(zip(own, read.rules, strict=True))
    return replace(read, rules=tuple(rules.values()))


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
