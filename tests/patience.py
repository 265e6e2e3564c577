"""How long a test waits, which only a hang reaches, and what it may cost, which is counted in processor time."""

from __future__ import annotations

import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from threading import Thread
from typing import TypeVar

Found = TypeVar("Found")

PATIENCE_SECONDS = 60
"""For what comes within a second where nothing else runs."""


def until(look: Callable[[], Found], what: str) -> Found:
    """What `look` finds when it is truthy; fails, saying what was waited for, where it never is.

    It looks less often the longer it waits, as looking takes of the processor that what it waits for needs.
    """
    began = time.monotonic()
    while not (found := look()):
        waited = time.monotonic() - began
        assert waited < PATIENCE_SECONDS, f"in {PATIENCE_SECONDS} s: not {what}, but {found!r}"
        time.sleep(min(0.01 + waited / 20, 0.1))
    return found


def ended(thread: Thread) -> None:
    thread.join(PATIENCE_SECONDS)
    assert not thread.is_alive(), f"{thread.name} has not ended in {PATIENCE_SECONDS} s"


@contextmanager
def processor_seconds(at_most: float) -> Iterator[None]:
    """Of this process: what others do on the machine does not count."""
    began = time.process_time()
    yield
    spent = time.process_time() - began
    assert spent < at_most, f"{spent:.2f} seconds of processor time, {at_most} are allowed"
