"""How a file came out: plain records, which can be read, told and sent on without the rules that made them."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, fields, replace
from typing import Literal

from service.language.spoken import Language
from service.rules.base import Finding
from service.sheets.model import Level

RuleOutcome = Literal["met", "not_met", "not_applicable", "not_measured"]
Verdict = Literal["conforming", "conforming_with_observations", "nonconforming", "inconclusive"]


@dataclass(frozen=True)
class JudgedFinding:
    rule: str
    level: Level
    finding: Finding
    note: str | None
    """The printer's own words on the block that asks."""


@dataclass(frozen=True)
class JudgedRule:
    rule: str
    outcome: RuleOutcome
    level: Level
    reason: str | None = None
    """Why it was not measured, or not in full."""


@dataclass(frozen=True)
class Judgement:
    verdict: Verdict
    findings: tuple[JudgedFinding, ...]
    """Nonconformities first, then in the order of the catalogue."""
    rules: tuple[JudgedRule, ...]

    def count(self, level: Level) -> int:
        return sum(one.level == level for one in self.findings)


Judgements = Mapping[Language, Judgement]
"""The same in every language."""


@dataclass(frozen=True)
class Words:
    """Of one finding."""

    message: str
    remedy: str
    finding_note: str | None
    note: str | None


@dataclass(frozen=True)
class InWords:
    """What a judgement says; all else is the same in every language."""

    findings: tuple[Words, ...]
    reasons: tuple[str, ...]
    """Of the rules that give one, in their order."""


def words_of(judgement: Judgement) -> InWords:
    return InWords(
        tuple(Words(one.finding.message, one.finding.remedy, one.finding.note, one.note) for one in judgement.findings),
        tuple(one.reason for one in judgement.rules if one.reason is not None),
    )


def told_in(words: InWords, judgement: Judgement) -> Judgement:
    """The judgement in these words. Raises ValueError where it has others to say."""
    if len(words.reasons) != len(words_of(judgement).reasons):
        raise ValueError("not as many reasons as this judgement has")
    reasons = iter(words.reasons)
    findings = (_told_in(one, finding) for one, finding in zip(words.findings, judgement.findings, strict=True))
    rules = (one if one.reason is None else replace(one, reason=next(reasons)) for one in judgement.rules)
    return Judgement(judgement.verdict, tuple(findings), tuple(rules))


def _told_in(words: Words, judged: JudgedFinding) -> JudgedFinding:
    if (words.note is None, words.finding_note is None) != (judged.note is None, judged.finding.note is None):
        raise ValueError("not the words of this finding")
    finding = replace(judged.finding, message=words.message, remedy=words.remedy, note=words.finding_note)
    return replace(judged, finding=finding, note=words.note)


def differ_in_words_alone(one: Judgement, other: Judgement) -> bool:
    """Whether all that is the same in every language is. That there is a text counts, what it says does not."""
    return (
        one.verdict == other.verdict
        and len(one.rules) == len(other.rules)
        and all(a is b or _mute(a) == _mute(b) for a, b in zip(one.rules, other.rules, strict=True))
        and [_without_words(a) for a in one.findings] == [_without_words(b) for b in other.findings]
    )


def _all_but(record: type[JudgedFinding | JudgedRule | Finding], *words: str) -> Callable[[object], object]:
    names = [one.name for one in fields(record) if one.name not in words]
    return lambda one: [getattr(one, name) for name in names]


_OF_FINDING = _all_but(Finding, "message", "remedy", "note")
_OF_JUDGED_FINDING = _all_but(JudgedFinding, "finding", "note")
_OF_RULE = _all_but(JudgedRule, "reason")


def _without_words(one: JudgedFinding) -> tuple[object, ...]:
    return _OF_JUDGED_FINDING(one), _OF_FINDING(one.finding), one.note is None, one.finding.note is None


def _mute(one: JudgedRule) -> tuple[object, ...]:
    return _OF_RULE(one), one.reason is None
