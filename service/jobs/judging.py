"""The same measurements judged once for each language: only the words may differ."""

from __future__ import annotations

import logging
from collections.abc import Mapping
from dataclasses import replace

from service.language.spoken import LANGUAGES, Language, speaking
from service.pdf.facts.measurements import Measurements
from service.rules.judge import Judgement, judge
from service.sheets.model import SpecSheet

log = logging.getLogger(__name__)

Judgements = Mapping[Language, Judgement]


def judge_in_every_language(measurements: Measurements, sheet: SpecSheet) -> Judgements:
    """Where a language comes out otherwise than English in more than its words, its judgement is the English one."""
    judgements: dict[Language, Judgement] = {}
    for language in LANGUAGES:
        with speaking(language):
            judgements[language] = judge(measurements, sheet)
    plain = without_words(judgements["en"])
    for language, judgement in judgements.items():
        if without_words(judgement) != plain:
            log.error("judged otherwise in %r than in English", language)
            judgements[language] = judgements["en"]
    return judgements


def without_words(judgement: Judgement) -> Judgement:
    """What is the same in every language. That there is a text is kept, what it says is not."""
    findings = tuple(
        replace(one, note=_there(one.note), finding=replace(one.finding, message="", remedy="", note=_there(one.finding.note)))
        for one in judgement.findings
    )
    return replace(judgement, findings=findings, rules=tuple(replace(one, reason=_there(one.reason)) for one in judgement.rules))


def _there(text: str | None) -> str | None:
    return None if text is None else ""
