"""A judgement as the answers carry it: what was found of each rule, and the line that a person reads first."""

from __future__ import annotations

from typing import Any

from service.answers.measurements import box_mm
from service.language.spoken import translated
from service.rules.headline import headline
from service.rules.judgement import JudgedFinding, JudgedRule, Judgement


def summary_answer(judgement: Judgement) -> dict[str, Any]:
    return {
        "nonconformities": judgement.count("must"),
        "observations": judgement.count("should"),
        "headline": headline(judgement),
    }


def finding_answer(judged: JudgedFinding) -> dict[str, Any]:
    finding = judged.finding
    return {
        "rule": judged.rule,
        "level": judged.level,
        "pages": list(finding.pages),
        "places": [{"page": place.page, "box_mm": box_mm(place.box_mm)} for place in finding.places],
        "measured": _rounded(finding.measured),
        "required": _rounded(finding.required),
        "message": finding.message,
        "remedy": finding.remedy,
        "note": translated(judged.note) or None,
    }


def rule_answer(judged: JudgedRule) -> dict[str, Any]:
    return {"rule": judged.rule, "outcome": judged.outcome, "level": judged.level, "reason": judged.reason}


def _rounded(value: Any) -> Any:
    """Numbers to three decimals, however deep they lie."""
    if isinstance(value, float):
        return round(value, 3) + 0.0
    if isinstance(value, dict):
        return {key: _rounded(inner) for key, inner in value.items()}
    if isinstance(value, list | tuple):
        return [_rounded(inner) for inner in value]
    return value
