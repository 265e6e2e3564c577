"""The rule reference: every declaration as plain data, for `print-spec rules --json` and GET /v1/rules."""

from __future__ import annotations

from typing import Any

from service.rules.base import Rule
from service.rules.catalogue import RULES


def reference() -> list[dict[str, Any]]:
    """One dictionary a rule, ready for JSON, in the order of a result."""
    return [_entry(rule) for rule in RULES.values()]


def _entry(rule: Rule) -> dict[str, Any]:
    return {
        "id": rule.id,
        "title": rule.title,
        "why": rule.why,
        "remedy": rule.remedy,
        "knows": rule.knows,
        "cannot_know": rule.cannot_know,
        "source": rule.source,
        "level": rule.level,
        "asked_by": rule.asked_by,
        "measured": dict(rule.measured),
        "required": dict(rule.required),
    }
