"""Children that hear of pages and do not judge them as they should. They run in the child process."""

from __future__ import annotations

import os
import time
from pathlib import Path

from service.jobs.children.child import confine, judge
from service.jobs.children.lines import READY, lines_told, send, send_error
from service.jobs.children.tasks import Limits, Task
from tests.jobs.drawing_faults import lists_open_files


def ends_at_the_third_page(_: Task, __: Limits, ___: int, heard: int) -> None:
    for at, _line in enumerate(lines_told(heard), start=1):
        if at == 3:
            os.abort()


def hears_nothing(*_: object) -> None:
    time.sleep(3600)


def has_no_room(_: Task, __: Limits, out: int, ___: int) -> None:
    send_error(out, memory=True, trace="")


def judges_slowly(task: Task, limits: Limits, out: int, heard: int) -> None:
    time.sleep(0.5)  # what is said meanwhile does not fit into a pipe
    judge(task, limits, out, heard)


def tells_what_is_open(_: Task, limits: Limits, out: int, heard: int) -> None:
    confine(limits, out, [], heard)
    send(out, READY, repr(lists_open_files(Path(), None)))
