"""A process that runs checks and answers nobody: what `print-spec work` runs."""

from __future__ import annotations

import logging
import os
import signal
import threading
from typing import Any

from service import tracing
from service.jobs.children import sandbox
from service.jobs.children.confinement.privileges import hide_memory
from service.jobs.children.confinement.walls import offered, told
from service.log_lines import log_to_the_console
from service.settings import Settings, near_misses
from service.wiring import make_parts

log = logging.getLogger(__name__)

_LOOK_EVERY_SECONDS = 60.0


def say_what_is_odd() -> None:
    """To whoever reads the log: settings that look misspelled, and what this machine's kernel does not offer."""
    for sentence in near_misses(os.environ):
        log.warning(sentence)
    if lacking := told(offered().lacks):
        log.warning(lacking)


def work(settings: Settings, measure: str | None = None) -> None:
    """Until a signal ends it: SIGTERM lets running checks finish for `stop_seconds`. Raises OSError for a bad folder."""
    log_to_the_console(settings.log)
    say_what_is_odd()
    hide_memory()
    stop = threading.Event()

    def end(number: int, _: Any) -> None:
        log.info("told to end (signal %d)", number)
        stop.set()

    for number in (signal.SIGTERM, signal.SIGINT):
        signal.signal(number, end)
    parts = make_parts(settings, measure)
    try:
        sandbox.warm()
        tracing.begin(settings.telemetry)
        parts.begin()
        log.info("running checks, %d at a time", settings.workers)
        while not stop.wait(_LOOK_EVERY_SECONDS):
            pass
    finally:
        parts.close()
        tracing.end()
