"""What stands in a report of a check: plain frozen records whose words have been said, so that a page only has to set them.

`service.proofs.report.telling` fills them; the HTML page and the PDF set the same ones, in this order.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from service.language.spoken import Language
from service.rules.judgement import Verdict
from service.sheets.model import Level

ReportPaper = Literal["a4", "us-letter"]


@dataclass(frozen=True)
class Fact:
    name: str
    value: str
    note: str | None = None
    """More about it, in somebody else's words."""


@dataclass(frozen=True)
class FactTable:
    title: str
    columns: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    remark: str | None = None
    """What the rows leave out, or why there are none."""


@dataclass(frozen=True)
class Comparison:
    """What was measured beside what is asked."""

    what: str
    measured: str
    asked: str


@dataclass(frozen=True)
class Crop:
    """A picture of the place on its page."""

    png: bytes
    alternative: str
    caption: str


@dataclass(frozen=True)
class ReportedFinding:
    number: int
    """From 1, as in the check's list of findings."""
    level: Level
    marked: str
    """The marker in words: 'To put right, 3'."""
    where: str
    message: str
    comparisons: tuple[Comparison, ...]
    remedy: str
    note: str | None
    """The printer's own words."""
    rule: str
    """What the rule claims of a right file."""
    crop: Crop | None


@dataclass(frozen=True)
class FindingGroup:
    level: Level
    title: str
    introduction: str
    findings: tuple[ReportedFinding, ...]
    remark: str | None = None
    """What is left out."""


@dataclass(frozen=True)
class RuleLine:
    claim: str
    reason: str | None = None


@dataclass(frozen=True)
class RuleGroup:
    kind: Literal["met", "not_measured", "not_asked"]
    title: str
    introduction: str
    rules: tuple[RuleLine, ...]


@dataclass(frozen=True)
class SheetPart:
    """What the sheet asks, and the words that it brings along."""

    title: str
    name: str
    summary: str | None
    note: str | None
    asks: tuple[Fact, ...]
    references_title: str
    references: tuple[str, ...]


@dataclass(frozen=True)
class Labels:
    """Small words that stand beside others, the same in every finding."""

    measured: str
    asked: str
    remedy: str
    sheet_says: str
    rule: str
    file_facts: str
    page: str
    """'Page {page} of {pages}', to be filled where pages are made."""


@dataclass(frozen=True)
class Report:
    language: Language
    paper: ReportPaper
    title: str
    """Of the document."""
    kind: str
    verdict: Verdict
    verdict_word: str
    headline: str
    meaning: str
    heading_facts: tuple[Fact, ...]
    remarks: tuple[str, ...]
    """What is to be known of this report, such as that it has no pictures."""
    findings: tuple[FindingGroup, ...]
    checked_title: str
    rules: tuple[RuleGroup, ...]
    facts: tuple[Fact, ...]
    tables: tuple[FactTable, ...]
    sheet: SheetPart
    cautions_title: str
    cautions: tuple[str, ...]
    labels: Labels
