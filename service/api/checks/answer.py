"""A check as the answers carry it (design: the contract). Every key is always there; null where there is nothing yet."""

from __future__ import annotations

import json
from typing import Any

from service.answers.judgement import finding_answer, rule_answer, summary_answer
from service.answers.problems import PROBLEMS, problem_answer
from service.answers.times import time_answer
from service.api.checks.links import links_answer
from service.api.checks.measured import in_a_check
from service.api.http.blueprint import parts
from service.jobs.judgement_codec import judgement_from_json
from service.language.spoken import say, spoken
from service.rules.judgement import Judgement
from service.store.models import CheckRow


def judgement_of(row: CheckRow) -> Judgement | None:
    """In the language that is spoken; None where there is none."""
    if row.judgement is None:
        return None
    known = parts().judged.get(row.id, row.judgement)
    return known[spoken()] if known else judgement_from_json(row.judgement)


def check_answer(row: CheckRow) -> dict[str, Any]:
    judgement = judgement_of(row)
    finished = row.state == "finished" and row.measured is not None
    measurements = in_a_check(row) if finished else None
    return {
        "id": row.id,
        "state": row.state,
        "verdict": row.verdict,
        "created_at": time_answer(row.created_at),
        "finished_at": time_answer(row.finished_at) if row.finished_at else None,
        "expires_at": time_answer(row.expires_at),
        "file": {"name": row.file_name, "size_bytes": row.size_bytes, "sha256": row.sha256},
        "spec": {"id": row.spec_id, "revision": row.spec_revision, "title": row.spec_title, "digest": row.spec_digest},
        "order": json.loads(row.order) if row.order else None,
        "progress": {"stage": row.stage, "page": row.page, "pages": row.pages} if row.stage else None,
        "problem": problem_answer(row.problem, say(PROBLEMS[row.problem].what_to_do)) if row.problem else None,
        "summary": summary_answer(judgement) if judgement else None,
        "findings": [finding_answer(one) for one in judgement.findings] if judgement else [],
        "rules": [rule_answer(one) for one in judgement.rules] if judgement else [],
        "measurements": measurements,
        "links": links_answer(row.id, finished=finished),
    }
