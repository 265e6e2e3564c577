"""One row a finding: what the desk shows, and what judgements kept from an earlier run are found again by."""

from __future__ import annotations

import json
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from service.answers.judgement import finding_answer
from service.jobs.children.measuring.check import Result, run
from service.jobs.children.tasks import Limits, Task
from service.jobs.question import question_for
from service.pdf.facts.page import Page
from service.pdf.facts.unknown import Unmeasured
from service.rules.base import Finding
from service.sheets.model import SpecSheet


@dataclass(frozen=True)
class Row:
    id: str
    """'card.pdf | margin.text | pages 1': the file, the rule, the cause. It holds no number that measuring may refine."""
    file: str
    rule: str
    level: str
    sheet: str
    pages: tuple[int, ...]
    message: str
    remedy: str
    measured: str
    """JSON; so `required` and `places`."""
    required: str
    places: str


@dataclass(frozen=True)
class CheckedFile:
    path: Path
    sheet: SpecSheet
    verdict: str
    rows: tuple[Row, ...]
    findings: tuple[Finding, ...]
    """One for each row."""
    pages: Mapping[int, Page]
    unmeasured: tuple[str, ...]
    """'rule: why' for what could not be measured."""


def checked_file(path: Path, sheet: SpecSheet, limits: Limits) -> CheckedFile:
    """Measured and judged in the sandbox, as `print-spec check` does it."""
    result: Result = run(Task(sheet=sheet, question=question_for(sheet), pdf=path.absolute()), limits)
    judgement, pages = result.judgement, result.measurements.pages
    return CheckedFile(
        path,
        sheet,
        judgement.verdict,
        tuple(rows_of(path.name, sheet, [finding_answer(one) for one in judgement.findings])),
        tuple(one.finding for one in judgement.findings),
        {} if isinstance(pages, Unmeasured) else {page.number: page for page in pages},
        tuple(f"{one.rule}: {one.reason}" for one in judgement.rules if one.outcome == "not_measured"),
    )


def rows_of(file: str, sheet: SpecSheet, answers: Sequence[Mapping[str, Any]]) -> Iterator[Row]:
    """Causes that read alike are numbered in their order."""
    seen: Counter[str] = Counter()
    for answer in answers:
        cause = f"{file} | {answer['rule']} | {cause_of(answer)}"
        seen[cause] += 1
        yield Row(
            cause if seen[cause] == 1 else f"{cause} #{seen[cause]}",
            file,
            answer["rule"],
            answer["level"],
            sheet.id or sheet.title or "",
            tuple(answer["pages"]),
            answer["message"],
            answer["remedy"],
            _json(answer["measured"]),
            _json(answer["required"]),
            _json(answer["places"]),
        )


def cause_of(answer: Mapping[str, Any]) -> str:
    """The pages, and every word (no number) of what was measured: an ink, a font, a side."""
    pages = ",".join(str(one) for one in answer["pages"]) or "document"
    words = [f"{key} {value}" for key, value in answer["measured"].items() if isinstance(value, str)]
    return "; ".join([f"pages {pages}", *words])[:160]


def _json(value: Any) -> str:
    return json.dumps(value, ensure_ascii=False)
