"""What runs inside the sandbox: limits first, then measuring and judging one file.

* Own session and process group, so that it can be killed as a whole; no terminal; nothing open but its end of a pipe.
* `RLIMIT_AS` bounds memory, `RLIMIT_CPU` the processor; an alarm ends even an orphan whose parent died.
* It may read its own file, libraries and fonts, write nothing, and make few calls (`service.jobs.children.confinement`).
* What it says are the lines of `service.jobs.children.lines`.
* What is drawn from a file (`service.jobs.children.drawing_child`) runs under the same limits.

What remains where the kernel offers less: DEVELOPERS.md, 'A child that is taken over'.
"""

from __future__ import annotations

import os
import signal
import traceback
from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager
from functools import partial
from math import ceil
from pathlib import Path
from typing import cast

from service.jobs.children.confinement.walls import confine_child
from service.jobs.children.entry import function_named
from service.jobs.children.lines import JUDGEMENTS, MEASUREMENTS, READY, send, send_error, send_progress
from service.jobs.children.tasks import Limits, Task
from service.jobs.judgement_codec import judgements_to_json
from service.jobs.judging import judge_in_every_language
from service.pdf.codec import measurements_from_json, measurements_to_json
from service.pdf.facts.measurements import Measurements
from service.pdf.question import Question

Measure = Callable[[Path, Question, Callable[[str, int, int], None]], Measurements]


def main(task: Task, limits: Limits, out: int) -> None:
    measure = cast(Measure, function_named(task.measure))
    confine(limits, out, [] if task.pdf is None else [task.pdf])
    send(out, READY)
    with errors_told(out):
        if task.measurements is not None:
            measurements, text = measurements_from_json(task.measurements), task.measurements
        else:
            assert task.pdf is not None, "a task has a file or measurements"
            measurements = measure(task.pdf, task.question, partial(send_progress, out))
            text = measurements_to_json(measurements)
        send(out, MEASUREMENTS, text)
        send(out, JUDGEMENTS, judgements_to_json(judge_in_every_language(measurements, task.sheet)))


@contextmanager
def errors_told(out: int) -> Iterator[None]:
    """An error inside becomes the last line that is sent."""
    try:
        yield
    except MemoryError:
        send_error(out, memory=True, trace="")
    except Exception:  # around a worker: one of the places where everything is caught; the parent logs the trace
        send_error(out, memory=False, trace=traceback.format_exc())


def confine(limits: Limits, out: int, reads: Iterable[Path]) -> None:
    """Give up what a child does not need. Nothing here can be undone by it. `out` is its end of the pipe, `reads` its files."""
    os.setsid()
    # Open as well are the fork server's socket, the lines of other children, and what its worlds are known by.
    os.closerange(3, out)
    os.closerange(out + 1, os.sysconf("SC_OPEN_MAX"))
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    signal.signal(signal.SIGALRM, signal.SIG_DFL)
    signal.alarm(ceil(limits.seconds) + 10)
    null = os.open(os.devnull, os.O_RDWR)
    for stream in (0, 1, 2):
        os.dup2(null, stream)
    if null > 2:
        os.close(null)
    confine_child(limits, reads)
