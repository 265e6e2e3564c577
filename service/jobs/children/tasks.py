"""What a child is told to do, and within which limits: plain records."""

from __future__ import annotations

from dataclasses import dataclass, field
from pathlib import Path

from service.language.spoken import Language, spoken
from service.pdf.question import WHOLE_FILE, Question, Stretch
from service.sheets.model import SpecSheet

MEASURING = "service.jobs.children.child:main"
"""What runs in a child that measures or judges."""
JUDGING = "service.jobs.children.child:judge"
"""In one that judges what others measure just now."""
DRAWING = "service.jobs.children.drawing_child:main"
"""And in one that draws."""
MOST_PAGES_JUDGED_AT_ONCE = 32
"""A longer file is judged in a process of its own, so that one that measures holds no more than a page. Ours, no source."""


@dataclass(frozen=True, kw_only=True)
class Task:
    """One check: a file to measure, or earlier measurements to judge again."""

    sheet: SpecSheet
    question: Question = field(default_factory=Question)
    pdf: Path | None = None
    measurements: str | None = None
    stretch: Stretch = WHOLE_FILE
    """Of the file, where its parts are measured one by one."""
    parts: str = "service.pdf.measure:parts_of"
    """Module and function that measures so; tests put faults here."""
    measure: str | None = None
    """Module and function that measures the file in one piece instead."""


@dataclass(frozen=True, kw_only=True)
class DrawingTask:
    pdf: Path | None
    """None where it is made of the brief alone."""
    brief: object
    """A frozen record that the drawing function knows."""
    draw: str
    """Module and function that draws."""
    language: Language = field(default_factory=spoken)
    """Of the words that are put into the drawing."""


@dataclass(frozen=True)
class Limits:
    seconds: float
    memory_bytes: int
