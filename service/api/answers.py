"""A check as the answers carry it (design: the contract). Every key is always there; null where there is nothing yet."""

from __future__ import annotations

from datetime import UTC, datetime
from typing import Any

from service.api.measurement_answers import box_mm, measurement_answer
from service.api.problems import PROBLEMS, body
from service.jobs.judgement_codec import judgement_from_json
from service.language.spoken import say, translated
from service.pdf.codec import measurements_from_json
from service.rules.headline import headline
from service.rules.judge import JudgedFinding, JudgedRule, Judgement
from service.store.models import CheckRow


def check_answer(row: CheckRow) -> dict[str, Any]:
    judgement = judgement_from_json(row.judgement) if row.judgement else None
    finished = row.state == "finished" and row.measurements
    return {
        "id": row.id,
        "state": row.state,
        "verdict": row.verdict,
        "created_at": time_answer(row.created_at),
        "finished_at": time_answer(row.finished_at) if row.finished_at else None,
        "expires_at": time_answer(row.expires_at),
        "file": {"name": row.file_name, "size_bytes": row.size_bytes, "sha256": row.sha256},
        "spec": {"id": row.spec_id, "revision": row.spec_revision, "title": row.spec_title, "digest": row.spec_digest},
        "progress": {"stage": row.stage, "page": row.page, "pages": row.pages} if row.stage else None,
        "problem": body(row.problem, say(PROBLEMS[row.problem].what_to_do)) if row.problem else None,
        "summary": summary_answer(judgement) if judgement else None,
        "findings": [finding_answer(one) for one in judgement.findings] if judgement else [],
        "rules": [rule_answer(one) for one in judgement.rules] if judgement else [],
        "measurements": measurement_answer(measurements_from_json(row.measurements)) if finished and row.measurements else None,
        "links": {
            "self": f"/v1/checks/{row.id}",
            "report": f"/v1/checks/{row.id}/report",
            "picture": f"/v1/checks/{row.id}/pages/{{page}}/picture" if finished else None,
            "plates": f"/v1/checks/{row.id}/pages/{{page}}/plates" if finished else None,
            "preview": f"/v1/checks/{row.id}/preview" if finished else None,
            "dummy": f"/v1/checks/{row.id}/dummy" if finished else None,
            "single_pages": f"/v1/checks/{row.id}/single-pages" if finished else None,
        },
    }


def time_answer(time: datetime) -> str:
    """RFC 3339 in UTC, to the millisecond."""
    return time.astimezone(UTC).isoformat(timespec="milliseconds").replace("+00:00", "Z")


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
