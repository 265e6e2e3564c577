"""The same measurements judged once for each language: only the words may differ."""

from __future__ import annotations

import logging

from service.language.spoken import LANGUAGES, Language, speaking
from service.pdf.facts.measurements import Measurements
from service.rules.judge import judge
from service.rules.judgement import Judgement, Judgements, without_words
from service.sheets.model import SpecSheet

log = logging.getLogger(__name__)


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
