"""What the client gives back: a check and its findings as records; `answer` keeps the JSON as it came."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

Answer = dict[str, Any]
"""A JSON answer as /openapi.json describes it."""


@dataclass(frozen=True)
class Place:
    page: int
    box_mm: tuple[float, float, float, float]
    """From the top-left corner of the trimmed page, y downwards; the bleed is negative."""


@dataclass(frozen=True)
class Finding:
    rule: str
    level: str
    """must or should."""
    message: str
    remedy: str
    pages: tuple[int, ...]
    places: tuple[Place, ...]
    measured: Mapping[str, Any]
    required: Mapping[str, Any]
    note: str | None
    """The printer's own words."""


@dataclass(frozen=True)
class Check:
    id: str
    state: str
    """queued, running, finished or failed."""
    verdict: str | None
    """conforming, conforming_with_observations, nonconforming or inconclusive; None until it is finished."""
    headline: str | None
    findings: tuple[Finding, ...]
    answer: Answer = field(repr=False)

    @property
    def is_done(self) -> bool:
        return self.state in ("finished", "failed")


def check_of(answer: Answer) -> Check:
    return Check(
        id=answer["id"],
        state=answer["state"],
        verdict=answer.get("verdict"),
        headline=(answer.get("summary") or {}).get("headline"),
        findings=tuple(_finding(one) for one in answer.get("findings") or ()),
        answer=answer,
    )


def _finding(answer: Mapping[str, Any]) -> Finding:
    return Finding(
        rule=answer["rule"],
        level=answer["level"],
        message=answer["message"],
        remedy=answer["remedy"],
        pages=tuple(answer["pages"]),
        places=tuple(Place(one["page"], tuple(one["box_mm"])) for one in answer["places"]),
        measured=answer["measured"],
        required=answer["required"],
        note=answer.get("note"),
    )
