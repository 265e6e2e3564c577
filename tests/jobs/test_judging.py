"""Judging once, and telling it in every language."""

from __future__ import annotations

from dataclasses import replace

import pytest

from service.jobs import judging
from service.jobs.judging import judge_in_every_language
from service.language.spoken import LANGUAGES, speaking, spoken
from service.pdf.facts.measurements import Measurements
from service.rules.judge import in_other_words, judge
from service.rules.judgement import Judgement
from service.sheets.model import BleedAsked, SpecSheet, TrimAsked
from tests.rules.measured import document, page

SHEET = SpecSheet(trim=TrimAsked(width_mm=85, height_mm=55), bleed=BleedAsked(minimum_mm=3), levels={"no.such": "must"})


@pytest.fixture
def card() -> Measurements:
    """Too small, and without bleed."""
    return document(page(80, 50, bleed=0))


def test_a_language_tells_what_judging_in_it_would_have_told(card: Measurements) -> None:
    judgements = judge_in_every_language(card, SHEET)
    assert judgements["en"].verdict == "nonconforming"
    for language in LANGUAGES:
        with speaking(language):
            assert judgements[language] == judge(card, SHEET)
    assert judgements["de"].findings[0].finding.message != judgements["en"].findings[0].finding.message


def test_what_said_nothing_is_the_same_record_in_every_language(card: Measurements) -> None:
    silent = [one for one in judge(card, SHEET).rules if one.reason is None and one.outcome != "not_met"]
    assert len(silent) > 50
    judgements = judge_in_every_language(card, SHEET)
    shared = [a for a, b in zip(judgements["en"].rules, judgements["de"].rules, strict=True) if a is b]
    assert shared == silent


def test_what_comes_out_otherwise_in_a_language_is_told_in_english(
    card: Measurements, monkeypatch: pytest.MonkeyPatch, caplog: pytest.LogCaptureFixture
) -> None:
    def lenient_in_german(judgement: Judgement, measurements: Measurements, sheet: SpecSheet) -> Judgement:
        told = in_other_words(judgement, measurements, sheet)
        return replace(told, verdict="conforming", findings=()) if spoken() == "de" else told

    monkeypatch.setattr(judging, "in_other_words", lenient_in_german)
    judgements = judge_in_every_language(card, SHEET)
    assert judgements["de"] is judgements["en"]
    assert judgements["fr"] is not judgements["en"]
    assert "judged otherwise in 'de'" in caplog.text
