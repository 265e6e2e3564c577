"""A long file is judged by a child that is told each page as it comes: it has read the others when the last one is measured.

Where that fails, whoever asks has the whole judged by another child.
"""

from __future__ import annotations

import os
import select
import time
from collections import deque
from collections.abc import Callable
from contextlib import ExitStack
from dataclasses import replace
from typing import TYPE_CHECKING

from service.jobs.children import sandbox
from service.jobs.children.lines import DOCUMENT, PAGE, Heard
from service.jobs.children.sandbox import LOOK_EVERY_SECONDS, Interrupted, listen_once
from service.jobs.children.tasks import JUDGING, MOST_PAGES_JUDGED_AT_ONCE, Limits, Task

if TYPE_CHECKING:
    from service.jobs.children.fork_server import Child


class JudgedAlong:
    def __init__(self, task: Task, limits: Limits, endings: ExitStack) -> None:
        """`endings`: closing it ends the child."""
        self._task = replace(task, pdf=None)
        self._limits, self._endings = limits, endings
        self._child: Child | None = None
        self._unsaid: deque[tuple[bytes, str]] = deque()
        """It takes in what it can, and nobody waits for it."""
        self._begun = bytearray()
        """Of what is said, the rest of a line."""
        self._is_gone = False

    def tell(self, page_count: int, page: str) -> None:
        """One page of so many, as JSON. Raises OSError where no child can be started."""
        if page_count <= MOST_PAGES_JUDGED_AT_ONCE:
            return
        if self._child is None:
            lives = replace(self._limits, seconds=2 * self._limits.seconds)  # while others measure, and while it judges
            self._child = self._endings.enter_context(sandbox.SERVER.child(JUDGING, self._task, lives, hears=True))
            os.set_blocking(_ear_of(self._child), False)
        self._say(PAGE, page)

    def judged(self, document: str, heard: Heard, stopped: Callable[[], bool]) -> bool:
        """Once all pages are told. Whether `heard` has heard all. Raises `Interrupted`."""
        if self._child is None:
            return False
        self._say(DOCUMENT, document)
        deadline, pipe, ear = time.monotonic() + self._limits.seconds, self._child.pipe, _ear_of(self._child)
        while not heard.complete and not self._is_gone and (left := deadline - time.monotonic()) > 0:
            if stopped():
                raise Interrupted
            poll = select.poll()
            poll.register(pipe, select.POLLIN)
            if self._begun:
                poll.register(ear, select.POLLOUT)
            ready = {descriptor for descriptor, _ in poll.poll(min(left, LOOK_EVERY_SECONDS) * 1000)}
            if ear in ready:
                self._push(ear)
            if pipe in ready and listen_once(pipe, heard)[0]:
                return False
        self._child.hang_up()
        return heard.complete and not heard.error

    def _say(self, letter: bytes, text: str) -> None:
        if self._child is not None:
            self._unsaid.append((letter, text))
            self._push(_ear_of(self._child))

    def _push(self, ear: int) -> None:
        try:
            while (self._begun or self._unsaid) and not self._is_gone:
                if not self._begun:
                    letter, text = self._unsaid.popleft()
                    self._begun += letter + text.encode() + b"\n"
                del self._begun[: os.write(ear, self._begun)]
        except BlockingIOError:
            return
        except OSError:  # it has ended
            self._is_gone = True


def _ear_of(child: Child) -> int:
    assert child.ear is not None, "it was started to hear"
    return child.ear
