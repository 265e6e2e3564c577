"""Times as the answers carry them."""

from __future__ import annotations

from datetime import UTC, datetime


def time_answer(time: datetime) -> str:
    """RFC 3339 in UTC, to the millisecond."""
    return time.astimezone(UTC).isoformat(timespec="milliseconds").replace("+00:00", "Z")
