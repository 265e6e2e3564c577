"""What a child is told to do, and within which limits: plain records."""

from __future__ import annotations

from dataclasses import dataclass, field
from pathlib import Path

from service.pdf.question import Question
from service.sheets.model import SpecSheet


@dataclass(frozen=True, kw_only=True)
class Task:
    """One check: a file to measure, or earlier measurements to judge again."""

    sheet: SpecSheet
    question: Question = field(default_factory=Question)
    pdf: Path | None = None
    measurements: str | None = None
    measure: str = "service.pdf.measure:measure"
    """Module and function that measures; tests put faults here."""


@dataclass(frozen=True, kw_only=True)
class DrawingTask:
    pdf: Path | None
    """None where it is made of the brief alone."""
    brief: object
    """A frozen record that the drawing function knows."""
    draw: str
    """Module and function that draws."""


@dataclass(frozen=True)
class Limits:
    seconds: float
    memory_bytes: int
