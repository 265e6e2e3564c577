"""What runs inside the sandbox: limits first, then measuring and judging one file.

* Own session and process group, so that it can be killed as a whole; no terminal; nothing open but its end of a pipe.
* `RLIMIT_AS` bounds memory, `RLIMIT_CPU` the processor; an alarm ends even an orphan whose parent died.
* It may read its own file, libraries and fonts, write nothing, and make few calls (`service.jobs.children.confinement`).
* What it says are the lines of `service.jobs.children.lines`.
* What is drawn from a file (`service.jobs.children.drawing_child`) runs under the same limits.

What remains where the kernel offers less: DEVELOPERS.md, 'A child that is taken over'.
"""

from __future__ import annotations

import gc
import os
import signal
import traceback
from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager
from functools import partial
from itertools import pairwise
from math import ceil
from pathlib import Path
from typing import cast

from service.jobs.children.confinement.walls import confine_child
from service.jobs.children.entry import function_named
from service.jobs.children.lines import (
    DOCUMENT,
    JUDGEMENTS,
    MEASUREMENTS,
    PAGE,
    READY,
    lines_told,
    send,
    send_error,
    send_progress,
)
from service.jobs.children.tasks import MOST_PAGES_JUDGED_AT_ONCE, Limits, Task
from service.jobs.judgement_codec import judgements_to_json
from service.jobs.judging import judge_in_every_language
from service.pdf.codec import (
    document_from_json,
    measurements_from_json,
    measurements_to_json,
    page_from_json,
    part_to_text,
)
from service.pdf.facts.measurements import Measurements
from service.pdf.facts.page import Page
from service.pdf.facts.parts import DocumentPart, PagePart, Part, put_together
from service.pdf.question import Question, Stretch

GARBAGE = (200_000, 20, 100)
"""Python looks for garbage a tenth as often as usual: a child lives shortly, and a page makes many objects and few circles of
them. It is a quarter of the walk of a heavy page (measured)."""

Parts = Callable[[Path, Question, Stretch], Iterator[Part]]
Measure = Callable[[Path, Question, Callable[[str, int, int], None]], Measurements]


def main(task: Task, limits: Limits, out: int) -> None:
    gc.set_threshold(*GARBAGE)
    measure = function_named(task.measure or task.parts)
    confine(limits, out, [] if task.pdf is None else [task.pdf])
    send(out, READY)
    with errors_told(out):
        found: Measurements | None
        if task.measurements is not None:
            found = measurements_from_json(task.measurements)
        elif task.measure:
            assert task.pdf is not None, "a task has a file or measurements"
            found = cast(Measure, measure)(task.pdf, task.question, partial(send_progress, out))
            send(out, MEASUREMENTS, measurements_to_json(found))
        else:
            assert task.pdf is not None, "a task has a file or measurements"
            found = _in_parts(cast(Parts, measure)(task.pdf, task.question, task.stretch), task.stretch, out)
        if found is not None:
            send(out, JUDGEMENTS, judgements_to_json(judge_in_every_language(found, task.sheet)))


def judge(task: Task, limits: Limits, out: int, heard: int) -> None:
    """What others measure, and what is heard of page by page."""
    gc.set_threshold(*GARBAGE)
    confine(limits, out, [], heard)
    send(out, READY)
    pages: list[Page] = []
    with errors_told(out):
        for letter, text in lines_told(heard):
            if letter == PAGE:
                pages.append(page_from_json(text))
                continue
            found = Measurements(document_from_json(text), tuple(sorted(pages, key=lambda page: page.number)))
            send(out, JUDGEMENTS, judgements_to_json(judge_in_every_language(found, task.sheet)))


def _in_parts(parts: Iterator[Part], stretch: Stretch, out: int) -> Measurements | None:
    """Send each part at once. The whole, where it was all measured here and is small enough to be kept."""
    whole: DocumentPart | None = None
    kept: list[PagePart] = []
    for part in parts:
        if isinstance(part, Measurements):
            send(out, MEASUREMENTS, measurements_to_json(part))
            return part
        send(out, DOCUMENT if isinstance(part, DocumentPart) else PAGE, part_to_text(part))
        if isinstance(part, DocumentPart):
            whole = part
        elif whole and whole.page_count <= MOST_PAGES_JUDGED_AT_ONCE:
            kept.append(part)
    if whole is None or stretch.numbers is not None or len(kept) < whole.page_count:
        return None
    return put_together(whole.document, kept)


@contextmanager
def errors_told(out: int) -> Iterator[None]:
    """An error inside becomes the last line that is sent."""
    try:
        yield
    except MemoryError:
        send_error(out, memory=True, trace="")
    except Exception:  # around a worker: one of the places where everything is caught; the parent logs the trace
        send_error(out, memory=False, trace=traceback.format_exc())


def confine(limits: Limits, out: int, reads: Iterable[Path], *heard: int) -> None:
    """Give up what a child does not need. Nothing here can be undone by it. `out` and `heard` are its ends of pipes, `reads` its
    files.
    """
    os.setsid()
    # Open as well are the fork server's socket, the lines of other children, and what its worlds are known by.
    kept = sorted((2, out, *heard, os.sysconf("SC_OPEN_MAX")))
    for one, next_one in pairwise(kept):
        os.closerange(one + 1, next_one)
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    signal.signal(signal.SIGALRM, signal.SIG_DFL)
    signal.alarm(ceil(limits.seconds) + 10)
    null = os.open(os.devnull, os.O_RDWR)
    for stream in (0, 1, 2):
        os.dup2(null, stream)
    if null > 2:
        os.close(null)
    confine_child(limits, reads)
