"""The same measurements judged, and told in each language: only the words may differ."""

from __future__ import annotations

import logging

from service.language.spoken import LANGUAGES, Language, speaking
from service.pdf.facts.measurements import Measurements
from service.rules.judge import in_other_words, judge
from service.rules.judgement import Judgement, Judgements, differ_in_words_alone
from service.sheets.model import SpecSheet

log = logging.getLogger(__name__)


def judge_in_every_language(measurements: Measurements, sheet: SpecSheet) -> Judgements:
    """Where a language comes out otherwise than English in more than its words, its judgement is the English one."""
    with speaking("en"):
        english = judge(measurements, sheet)
    judgements: dict[Language, Judgement] = {}
    for language in LANGUAGES:
        with speaking(language):
            told = english if language == "en" else in_other_words(english, measurements, sheet)
        if not differ_in_words_alone(told, english):
            log.error("judged otherwise in %r than in English", language)
            told = english
        judgements[language] = told
    return judgements
