"""Run one check (or another task) in a child process and read its answer as that of a stranger.

The child comes from a fork server with the measuring modules loaded (10–14 ms a child, measured; see DEVELOPERS.md). What it
sends is bytes, bounded in size and read as JSON, never unpickled. A child that crashes, hangs, asks for too much or lies
leaves the file unmeasured, which is a result. What fails on our own side of the pipe is raised.
What is drawn from a file runs here as well (`service.jobs.children.drawing`).
"""

from __future__ import annotations

import logging
import os
import select
import time
from collections.abc import Callable
from dataclasses import dataclass
from typing import TYPE_CHECKING

from service.jobs.children.failures import NOT_TRUSTED, SAID_TOO_MUCH, TOOK_TOO_LONG, crash, failure_of
from service.jobs.children.fork_server import ForkServer
from service.jobs.children.lines import JUDGEMENTS, MEASUREMENTS, PROGRESS, Heard, TooMuchSaid, progress_told
from service.jobs.children.tasks import Limits, Task
from service.language.spoken import spoken
from service.pdf.facts.unknown import Failure
from service.settings import SettingsRefused

if TYPE_CHECKING:
    from service.pdf.facts.measurements import Measurements
    from service.rules.judgement import Judgement, Judgements

log = logging.getLogger(__name__)

MOST_BYTES = 64 * 2**20
"""All that a child may say of a check. 300 pages of 45 lines of text make 6 MB of measurements (measured)."""
_LOOK_EVERY_SECONDS = 0.2
_MAIN = "service.jobs.children.child:main"

SERVER = ForkServer()

Progress = Callable[[str, int, int], None]


class Interrupted(Exception):
    """The check was stopped from outside: the service stops, or nobody wants the result any longer."""


class SandboxBroken(RuntimeError):
    """The child did not even begin: a fault of the service, not of the file."""


@dataclass(frozen=True)
class Result:
    measurements: Measurements
    judgements: Judgements

    @property
    def judgement(self) -> Judgement:
        """In the spoken language."""
        return self.judgements[spoken()]


class _HeardOfCheck(Heard):
    def __init__(self, progress: Progress) -> None:
        super().__init__(MOST_BYTES)
        self._progress = progress
        self.measurements: Measurements | None = None
        self.judgements: Judgements | None = None

    @property
    def complete(self) -> bool:
        return bool(self.judgements or self.error)

    def understand(self, letter: bytes, text: str) -> None:
        # The records and their forms are loaded while the child works already, so that a command begins to measure at once.
        from service.jobs.judgement_codec import judgements_from_json
        from service.pdf.codec import measurements_from_json

        if letter == PROGRESS:
            self._progress(*progress_told(text))
        elif letter == MEASUREMENTS:
            self.measurements = measurements_from_json(text)
        elif letter == JUDGEMENTS and self.measurements:
            self.judgements = judgements_from_json(text)
        else:
            raise ValueError(f"no line of ours, or not now: {letter!r} {text[:80]!r}")


def warm() -> None:
    """Start the fork server now, so that the first check need not wait for it."""
    SERVER.begin()


def demand(sandbox: str) -> None:
    """`sandbox`: as the setting says. Raises `SettingsRefused` where all walls are required and this kernel lacks one."""
    if sandbox != "required":
        return
    from service.jobs.children.confinement.walls import offered, told

    if said := told(offered().lacks):
        raise SettingsRefused([f"PRINT_SPEC_SANDBOX is 'required', and cannot be had here. {said}"])


def run(task: Task, limits: Limits, progress: Progress = lambda *_: None, stopped: Callable[[], bool] = lambda: False) -> Result:
    """Measure and judge. Raises `Interrupted` where `stopped()` says so, `SandboxBroken` or OSError for our own faults."""
    size_bytes = _size_bytes(task)  # now: the file may be forgotten while the check runs
    heard = _HeardOfCheck(progress)
    failure = listen_to(_MAIN, task, limits, heard, stopped)
    if failure is None and heard.measurements and heard.judgements:
        return Result(heard.measurements, heard.judgements)
    assert failure is not None, "a check without a judgement has a reason"
    from service.jobs.judging import judge_in_every_language  # all rules, which only a child needs otherwise
    from service.pdf.facts.measurements import Measurements

    unreadable = Measurements.unreadable(size_bytes, failure)
    return Result(unreadable, judge_in_every_language(unreadable, task.sheet))


def listen_to(
    main: str,
    task: object,
    limits: Limits,
    heard: Heard,
    stopped: Callable[[], bool],
) -> Failure | None:
    """Run `main` ('module:function') with (task, limits, pipe) in a child until it has said all; why it has not, where not.

    Raises as `run`.
    """
    with SERVER.child(main, task, limits) as child:
        why = _listen(child.pipe, heard, time.monotonic() + limits.seconds, stopped)
        # A child that has said all is ended without waiting for it to tidy up.
        exit_code = None if heard.complete else child.exit_code(0.5)
    if not heard.ready and why is None:
        raise SandboxBroken(f"the measuring process ended with {exit_code} before it began")
    if why or heard.complete:
        return why or (failure_of(heard.error) if heard.error else None)
    return crash(exit_code, limits)


def _size_bytes(task: Task) -> int:
    if task.pdf is not None:
        return task.pdf.stat().st_size
    from service.pdf.codec import measurements_from_json

    return measurements_from_json(task.measurements or "").document.size_bytes


def _listen(pipe: int, heard: Heard, deadline: float, stopped: Callable[[], bool]) -> Failure | None:
    """Take in what the child says until it is done; why it had to be stopped, where it had to."""
    poll = select.poll()
    poll.register(pipe, select.POLLIN)
    while not heard.complete:
        if stopped():
            raise Interrupted
        left = deadline - time.monotonic()
        if left <= 0:
            return TOOK_TOO_LONG
        if not poll.poll(min(left, _LOOK_EVERY_SECONDS) * 1000):
            continue
        chunk = os.read(pipe, 2**18)
        if not chunk:
            return None
        try:
            heard.hear(chunk)
        except TooMuchSaid:
            return SAID_TOO_MUCH
        except (ValueError, RecursionError) as error:
            log.warning("a measuring process said what cannot be read: %.300s", error)
            return NOT_TRUSTED
    return None
