"""What runs inside the sandbox: limits first, then measuring and judging one file, and lines of JSON over a pipe.

* Own session and process group, so that it can be killed as a whole; no core dumps, no files written, no terminal.
* `RLIMIT_AS` bounds memory, `RLIMIT_CPU` the processor; an alarm ends even an orphan whose parent died.
* Each line is one letter and JSON: `R` ready, `P` progress, `M` measurements, `J` judgements, `E` an error of Python.
* What is drawn from a file (`service.jobs.children.drawing_child`) runs under the same limits.

Not protected against: a file that takes over the measuring process can still read what the service's user can read.
Run the service as a user of its own, without network access to what it does not need (DEVELOPERS.md).
"""

from __future__ import annotations

import json
import os
import resource
import signal
import traceback
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from importlib import import_module
from math import ceil
from multiprocessing.connection import Connection
from pathlib import Path
from typing import cast

from service.jobs.judgement_codec import judgements_to_json
from service.jobs.judging import judge_in_every_language
from service.pdf.codec import measurements_from_json, measurements_to_json
from service.pdf.facts.measurements import Measurements, Question
from service.sheets.model import SpecSheet

Measure = Callable[[Path, Question, Callable[[str, int, int], None]], Measurements]


@dataclass(frozen=True, kw_only=True)
class Task:
    """One check: a file to measure, or earlier measurements to judge again."""

    sheet: SpecSheet
    question: Question = field(default_factory=Question)
    pdf: Path | None = None
    measurements: str | None = None
    measure: str = "service.pdf.measure:measure"
    """Module and function that measures; tests put faults here."""


@dataclass(frozen=True)
class Limits:
    seconds: float
    memory_bytes: int


def main(task: Task, limits: Limits, pipe: Connection) -> None:
    out = pipe.fileno()
    confine(limits, out)
    measure = cast(Measure, function_named(task.measure))
    send(out, b"R", "{}")
    with errors_told(out):
        if task.measurements is not None:
            measurements, text = measurements_from_json(task.measurements), task.measurements
        else:
            assert task.pdf is not None, "a task has a file or measurements"
            measurements = measure(task.pdf, task.question, lambda *step: send(out, b"P", json.dumps(step)))
            text = measurements_to_json(measurements)
        send(out, b"M", text)
        send(out, b"J", judgements_to_json(judge_in_every_language(measurements, task.sheet)))


def function_named(name: str) -> Callable[..., object]:
    """'module:function'."""
    module, _, function = name.partition(":")
    return cast(Callable[..., object], getattr(import_module(module), function))


@contextmanager
def errors_told(out: int) -> Iterator[None]:
    """An error inside becomes the last line that is sent."""
    try:
        yield
    except MemoryError:
        send(out, b"E", '{"memory": true, "trace": ""}')
    except Exception:  # around a worker: one of the places where everything is caught; the parent logs the trace
        send(out, b"E", json.dumps({"memory": False, "trace": traceback.format_exc()[-8000:]}))


def confine(limits: Limits, out: int) -> None:
    """Give up what a measuring process does not need. Nothing here can be undone by it. `out` is its end of the pipe."""
    os.setsid()
    # Among the open files are a pipe of the fork server and one of its resource tracker; a byte into them ends either.
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
    seconds = ceil(limits.seconds) + 1
    resource.setrlimit(resource.RLIMIT_CPU, (seconds, seconds))
    resource.setrlimit(resource.RLIMIT_AS, (limits.memory_bytes, limits.memory_bytes))
    resource.setrlimit(resource.RLIMIT_FSIZE, (0, 0))
    resource.setrlimit(resource.RLIMIT_CORE, (0, 0))


def send(out: int, kind: bytes, text: str) -> None:
    """One line."""
    send_bytes(out, kind + text.encode("utf-8", "backslashreplace") + b"\n")


def send_bytes(out: int, data: bytes) -> None:
    rest = memoryview(data)
    while rest:
        rest = rest[os.write(out, rest) :]
