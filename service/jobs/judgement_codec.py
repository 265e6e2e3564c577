"""Judgements of one file, one for each language, as JSON text and back, exactly.

Reading checks every type, and that the languages differ in words alone: the text may come from a compromised child.
"""

from __future__ import annotations

import json
from dataclasses import asdict
from typing import Any, TypeVar, cast, get_args

from service.jobs.judging import Judgements, without_words
from service.language.spoken import LANGUAGES, Language, spoken
from service.pdf.facts.geometry import Box
from service.rules.base import Finding, Place
from service.rules.judge import JudgedFinding, JudgedRule, Judgement, RuleOutcome, Verdict
from service.sheets.model import Level

T = TypeVar("T")


def judgements_to_json(judgements: Judgements) -> str:
    return json.dumps({language: asdict(one) for language, one in judgements.items()}, default=dict, allow_nan=False)


def judgements_from_json(text: str | bytes) -> Judgements:
    """Raises ValueError where the text is no judgement in every language."""
    whole = _whole(text)
    judgements = {language: _judgement(whole, language) for language in LANGUAGES}
    plain = without_words(judgements["en"])
    if len(whole) != len(LANGUAGES) or any(without_words(one) != plain for one in judgements.values()):
        raise ValueError("the judgements differ in more than their words")
    return judgements


def judgement_from_json(text: str | bytes) -> Judgement:
    """That in the spoken language. Raises ValueError where there is none."""
    return _judgement(_whole(text), spoken())


def _whole(text: str | bytes) -> dict[str, Any]:
    try:
        return _is(json.loads(text), dict)
    except RecursionError as error:
        raise ValueError("this is no judgement: it is nested without end") from error


def _judgement(whole: dict[str, Any], language: Language) -> Judgement:
    try:
        judgement = _is(whole[language], dict)
        return Judgement(
            verdict=cast(Verdict, _one_of(Verdict, judgement["verdict"])),
            findings=tuple(_finding(one) for one in _is(judgement["findings"], list)),
            rules=tuple(_rule(one) for one in _is(judgement["rules"], list)),
        )
    except (KeyError, TypeError, RecursionError) as error:
        raise ValueError(f"this is no judgement: {error!r}") from error


def _finding(value: Any) -> JudgedFinding:
    finding = _is(value["finding"], dict)
    return JudgedFinding(
        rule=_is(value["rule"], str),
        level=_level(value["level"]),
        note=_or_none(value["note"]),
        finding=Finding(
            message=_is(finding["message"], str),
            remedy=_is(finding["remedy"], str),
            measured=_is(finding["measured"], dict),
            required=_is(finding["required"], dict),
            pages=tuple(_is(one, int) for one in _is(finding["pages"], list)),
            places=tuple(Place(_is(one["page"], int), _box(one["box_mm"])) for one in _is(finding["places"], list)),
            preferred=_is(finding["preferred"], bool),
            level=None if finding["level"] is None else _level(finding["level"]),
            note=_or_none(finding["note"]),
        ),
    )


def _rule(value: Any) -> JudgedRule:
    outcome = cast(RuleOutcome, _one_of(RuleOutcome, value["outcome"]))
    return JudgedRule(_is(value["rule"], str), outcome, _level(value["level"]), _or_none(value["reason"]))


def _box(value: Any) -> Box:
    return Box(*(float(_is(one, (int, float))) for one in _is(value, list)))


def _level(value: Any) -> Level:
    return cast(Level, _one_of(Level, value))


def _one_of(names: object, value: Any) -> str:
    if value not in get_args(names):
        raise ValueError(f"{value!r} is none of {get_args(names)}")
    return cast(str, value)


def _or_none(value: Any) -> str | None:
    return None if value is None else _is(value, str)


def _is(value: Any, kind: type[T] | tuple[type, ...]) -> T:
    if not isinstance(value, kind):
        raise ValueError(f"{value!r:.80} is not of the type that stands here")
    return cast(T, value)
