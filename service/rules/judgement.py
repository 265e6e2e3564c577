"""How a file came out: plain records, which can be read, told and sent on without the rules that made them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
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


def without_words(judgement: Judgement) -> Judgement:
    """What is the same in every language. That there is a text is kept, what it says is not."""
    findings = tuple(
        replace(one, note=_there(one.note), finding=replace(one.finding, message="", remedy="", note=_there(one.finding.note)))
        for one in judgement.findings
    )
    return replace(judgement, findings=findings, rules=tuple(replace(one, reason=_there(one.reason)) for one in judgement.rules))


def _there(text: str | None) -> str | None:
    return None if text is None else ""
