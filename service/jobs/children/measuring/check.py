"""Run one check in child processes: measured part by part, put together, judged.

Nothing that a child does, or that a limit of ours ends, is the file's defect: what was measured stays, the rest says why not.
What fails on our own side of the pipe is raised.
"""

from __future__ import annotations

from collections.abc import Callable
from contextlib import ExitStack
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from service.jobs.children.lines import JUDGEMENTS, MEASUREMENTS, PROGRESS, Heard, progress_told
from service.jobs.children.measuring.cores import CORES
from service.jobs.children.measuring.judged_along import JudgedAlong
from service.jobs.children.measuring.side_by_side import Progress, SideBySide, Unfinished
from service.jobs.children.sandbox import Interrupted, listen_to
from service.jobs.children.tasks import MEASURING, Limits, Task
from service.language.spoken import spoken
from service.pdf.facts.unknown import Failure

if TYPE_CHECKING:
    from service.pdf.facts.measurements import Measurements
    from service.rules.judgement import Judgement, Judgements

MOST_BYTES = 64 * 2**20
"""All that a child may say where it measures or judges in one piece."""


__all__ = ["Progress", "Result", "Unfinished", "run"]


@dataclass(frozen=True)
class Result:
    measurements: Measurements
    judgements: Judgements
    text: str | None = None
    """The measurements as JSON, where they were written already."""
    judgements_told: str | None = None
    """So the judgements: as a child wrote them, in a form that was read from end to end."""

    @property
    def judgement(self) -> Judgement:
        """In the spoken language."""
        return self.judgements[spoken()]


def run(
    task: Task,
    limits: Limits,
    progress: Progress = lambda *_: None,
    stopped: Callable[[], bool] = lambda: False,
    before: Unfinished | None = None,
    endings: ExitStack | None = None,
) -> Result:
    """Measure and judge. Raises `Interrupted` where `stopped()` says so, `SandboxBroken` or OSError for our own faults.

    `before`: what an interrupted run of the same task had measured. `endings`: closing it waits until the last child is gone,
    which is told to end at once; None: that is waited for here. The kernel takes 5 ms to put away a child's memory (measured):
    meanwhile a card is stored.
    """
    size_bytes = _size_bytes(task)  # now: the file may be forgotten while the check runs
    if task.measure or task.measurements is not None:
        return _in_one_piece(task, limits, size_bytes, progress, stopped)
    with ExitStack() as own_endings:
        along = JudgedAlong(task, limits, endings or own_endings)
        parts = SideBySide(task, limits, progress, stopped, before, endings, along.tell)
        try:
            return _in_parts(parts, along, task, limits, size_bytes, progress, stopped)
        except Interrupted as interrupted:
            raise Interrupted(parts.unfinished()) from interrupted


def _in_parts(
    parts: SideBySide,
    along: JudgedAlong,
    task: Task,
    limits: Limits,
    size_bytes: int,
    progress: Progress,
    stopped: Callable[[], bool],
) -> Result:
    with CORES.check():
        found = parts.measured()
    if isinstance(found, Failure):
        return _unreadable(size_bytes, found, task)
    if found.judgements:
        return Result(found.measurements, found.judgements, found.text, found.judgements_told)
    from service.pdf.codec import document_to_json, measurements_to_json

    heard = _HeardInOnePiece(progress, found.measurements)
    if found.text and along.judged(document_to_json(found.measurements.document), heard, stopped) and heard.judgements:
        return Result(found.measurements, heard.judgements, found.text, heard.judgements_told)
    judging = replace(task, pdf=None, measurements=found.text or measurements_to_json(found.measurements))
    return _in_one_piece(judging, limits, size_bytes, progress, stopped, found.measurements)


def _in_one_piece(
    task: Task,
    limits: Limits,
    size_bytes: int,
    progress: Progress,
    stopped: Callable[[], bool],
    measurements: Measurements | None = None,
) -> Result:
    if measurements is None and task.measurements is not None:
        from service.pdf.codec import measurements_from_json

        measurements = measurements_from_json(task.measurements)
    heard = _HeardInOnePiece(progress, measurements)
    failure = listen_to(MEASURING, task, limits, heard, stopped)
    if failure is None and heard.measurements and heard.judgements:
        return Result(heard.measurements, heard.judgements, task.measurements, heard.judgements_told)
    assert failure is not None, "a check without a judgement has a reason"
    return _unreadable(size_bytes, failure, task)


def _unreadable(size_bytes: int, failure: Failure, task: Task) -> Result:
    from service.jobs.judging import judge_in_every_language  # all rules, which only a child needs otherwise
    from service.pdf.facts.measurements import Measurements

    unreadable = Measurements.unreadable(size_bytes, failure)
    return Result(unreadable, judge_in_every_language(unreadable, task.sheet))


class _HeardInOnePiece(Heard):
    def __init__(self, progress: Progress, measurements: Measurements | None) -> None:
        super().__init__(MOST_BYTES)
        self._progress = progress
        self.measurements = measurements
        self.judgements: Judgements | None = None
        self.judgements_told = ""

    @property
    def complete(self) -> bool:
        return bool(self.judgements or self.error)

    def understand(self, letter: bytes, text: str) -> None:
        # The records and their forms are loaded while the child works already, so that a command begins to measure at once.
        from service.jobs.judgement_codec import judgements_from_json
        from service.pdf.codec import measurements_from_json

        if letter == PROGRESS:
            self._progress(*progress_told(text))
        elif letter == MEASUREMENTS and self.measurements is None:
            self.measurements = measurements_from_json(text)
        elif letter == JUDGEMENTS and self.measurements:
            self.judgements, self.judgements_told = judgements_from_json(text), text
        else:
            raise ValueError(f"no line of ours, or not now: {letter!r} {text[:80]!r}")


def _size_bytes(task: Task) -> int:
    if task.pdf is not None:
        return task.pdf.stat().st_size
    from service.pdf.codec import measurements_from_json

    return measurements_from_json(task.measurements or "").document.size_bytes
