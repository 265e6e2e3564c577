"""A judgement as JSON text and back, exactly. Reading checks every type: the text may come from a compromised child."""

from __future__ import annotations

import json
from dataclasses import asdict
from typing import Any, TypeVar, cast, get_args

from service.pdf.geometry import Box
from service.rules.base import Finding, Place
from service.rules.judge import JudgedFinding, JudgedRule, Judgement, RuleOutcome, Verdict
from service.sheets.model import Level

T = TypeVar("T")


def judgement_to_json(judgement: Judgement) -> str:
    return json.dumps(asdict(judgement), default=dict, allow_nan=False)


def judgement_from_json(text: str | bytes) -> Judgement:
    """Raises ValueError where the text is no judgement."""
    try:
        whole = _is(json.loads(text), dict)
        return Judgement(
            verdict=cast(Verdict, _one_of(Verdict, whole["verdict"])),
            findings=tuple(_finding(one) for one in _is(whole["findings"], list)),
            rules=tuple(_rule(one) for one in _is(whole["rules"], list)),
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
