"""Calls that were really made, with their answers: `python -m tests.examples` records them from the demo's order.

Ids and times in them are made up, so that a recording is the same each time; long lists are cut.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

FOLDER = Path(__file__).parent / "exchanged"
PROBLEMS_FILE = "problems"
ADDRESS = "http://127.0.0.1:8000"
"""Where the service was, as far as the recording says; whoever reads it hears the address that he has called."""


@dataclass(frozen=True)
class Request:
    method: str
    path: str
    """With its query."""
    headers: Mapping[str, str]
    form: Mapping[str, str]
    files: Mapping[str, str]
    """Field of the form → name of the file."""
    body: Any
    """As JSON or as text; None for a form and for a call without a body."""
    type: str | None
    """Of the body."""


@dataclass(frozen=True)
class Answer:
    status: int
    headers: Mapping[str, str]
    type: str | None
    body: Any
    """As JSON or as text; None where it is a picture, a PDF or nothing."""
    is_shortened: bool


@dataclass(frozen=True)
class Exchange:
    says: str
    request: Request
    answer: Answer


@cache
def exchanges_of(operation: str) -> tuple[Exchange, ...]:
    """Of the call of this name, the most usual one first; none where it was not recorded."""
    file = FOLDER / f"{operation}.json"
    if not file.is_file():
        return ()
    return tuple(map(_exchange, json.loads(file.read_text(encoding="utf-8"))))


@cache
def problems_met() -> Mapping[str, Exchange]:
    """By the code of the problem."""
    file = FOLDER / f"{PROBLEMS_FILE}.json"
    found = json.loads(file.read_text(encoding="utf-8")) if file.is_file() else {}
    return {code: _exchange(one) for code, one in found.items()}


def _exchange(kept: Mapping[str, Any]) -> Exchange:
    asked, told = kept["request"], kept["answer"]
    return Exchange(
        says=kept["says"],
        request=Request(
            asked["method"], asked["path"], asked.get("headers", {}), asked.get("form", {}), asked.get("files", {}),
            asked.get("body"), asked.get("type"),
        ),
        answer=Answer(
            told["status"], told.get("headers", {}), told.get("type"), told.get("body"),
            told.get("shortened", False),
        ),
    )
