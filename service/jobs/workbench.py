"""What is made while the caller waits: measuring and drawing in the same sandbox as a check, without row and queue."""

from __future__ import annotations

import threading
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

from service.jobs.children.drawing import draw
from service.jobs.children.measuring.check import run
from service.jobs.children.tasks import DrawingTask, Limits, Task
from service.jobs.queue_full import QueueFull
from service.pdf.facts.unknown import Unmeasured
from service.pdf.question import Question
from service.sheets.model import SpecSheet

if TYPE_CHECKING:
    from service.pdf.facts.measurements import Measurements

SIZES = "service.pdf.sizes:measure_sizes"
"""Measures the pages' boxes alone."""
_NOTHING_MORE = Question()


class Workbench:
    def __init__(
        self, limits: Limits, *, at_once: int, wait_seconds: float, most_callers: int = 1, measure: str | None = None
    ) -> None:
        """`most_callers`, those whose turn it is and those who wait: each holds one of the threads that answer requests."""
        self._limits, self._wait_seconds, self._measure = limits, wait_seconds, measure
        self._free = threading.BoundedSemaphore(at_once)
        self._callers = threading.BoundedSemaphore(max(most_callers, at_once))

    def sizes(self, pdf: Path) -> Measurements:
        """The pages' sizes. Raises `QueueFull` where too many are waiting, `SandboxBroken` or OSError for our own faults."""
        return self._measured(pdf, self._measure or SIZES)

    def everything(self, pdf: Path, question: Question = _NOTHING_MORE) -> Measurements:
        """As a check measures. Raises as `sizes`."""
        return self._measured(pdf, self._measure, question)

    def drawn(self, task: DrawingTask, most_seconds: float | None = None) -> bytes | Unmeasured:
        """What the task has drawn, or why it cannot be had of this file. Raises as `sizes`."""
        limits = self._limits if most_seconds is None else replace(self._limits, seconds=min(most_seconds, self._limits.seconds))
        with self.turn():
            return draw(task, limits)

    def _measured(self, pdf: Path, measure: str | None, question: Question = _NOTHING_MORE) -> Measurements:
        with self.turn():
            return run(Task(sheet=SpecSheet(), question=question, pdf=pdf, measure=measure), self._limits).measurements

    @contextmanager
    def turn(self) -> Iterator[None]:
        """For what takes long: only so many callers at once. Raises `QueueFull`."""
        if not self._callers.acquire(blocking=False):
            raise QueueFull(retry_after_seconds=2)
        try:
            if not self._free.acquire(timeout=self._wait_seconds):
                raise QueueFull(retry_after_seconds=5)
            try:
                yield
            finally:
                self._free.release()
        finally:
            self._callers.release()
