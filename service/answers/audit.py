"""An entry of the audit trail."""

from __future__ import annotations

from datetime import datetime
from typing import Any

from service.answers.times import time_answer


def audit_entry(number: int, at: datetime, by: str, did: str, about: str) -> dict[str, Any]:
    return {"number": number, "at": time_answer(at), "by": by, "did": did, "about": about}
