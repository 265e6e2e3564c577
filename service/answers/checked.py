"""What came of a check, as its answers carry it: summary, findings, rules and measurements."""

from __future__ import annotations

from typing import Any

from service.answers.judgement import finding_answer, rule_answer, summary_answer
from service.answers.measurements import measurement_answer
from service.pdf.facts.measurements import Measurements
from service.rules.judgement import Judgement


def checked_answer(measurements: Measurements, judgement: Judgement) -> dict[str, Any]:
    return {
        "summary": summary_answer(judgement),
        "findings": [finding_answer(one) for one in judgement.findings],
        "rules": [rule_answer(one) for one in judgement.rules],
        "measurements": measurement_answer(measurements),
    }
