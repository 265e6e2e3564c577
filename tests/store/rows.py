"""A check's row for tests, with what a test does not care about filled in."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from typing import Any

from service.accounts.callers import LOCAL
from service.pdf.codec import question_to_json
from service.pdf.question import Question
from service.store.checks import STORED_AS
from service.store.models import CheckRow

NOON = datetime(2026, 3, 2, 12, 0, tzinfo=UTC)


def row(check_id: str = "one", **changes: Any) -> CheckRow:
    values = {
        "id": check_id, "state": "queued", "created_at": NOON, "expires_at": NOON + timedelta(hours=24), "owner": "here",
        "heartbeat_at": NOON, "file_name": "card.pdf", "size_bytes": 10, "sha256": "a" * 64, "spec_digest": "d", "sheet": "{}",
        "question": question_to_json(Question()), "fingerprint": "f", "stored_as": STORED_AS, "account": LOCAL,
    }
    return CheckRow(**{**values, **changes})
