"""A thread that says 'alive' for the queue's checks, takes up those of processes that died, and sweeps what has expired.

After a jump of the clock, forwards, back or through a sleep of the machine, others seem dead and files old that are not: it first
says 'alive' for a while and only then looks again.
"""

from __future__ import annotations

import logging
import threading
import time
from collections.abc import Callable, Sequence
from datetime import datetime, timedelta

from service.jobs.checking import now
from service.jobs.queue import Queue
from service.store.blobs import Blobs
from service.store.checks import Checks
from service.store.database import DatabaseError
from service.store.retention import sweep

log = logging.getLogger(__name__)

BEAT_SECONDS = 5.0
SWEEP_EVERY_BEATS = 6
SILENT_AFTER = timedelta(seconds=20)
"""A process beats every few seconds; one that was silent for this long is gone."""
JUMP_SECONDS = 10.0
"""The clock went so much otherwise than the time that passed."""


class Housekeeping:
    def __init__(
        self, checks: Checks, blobs: Blobs, queue: Queue, also_forget: Sequence[Callable[[datetime], None]] = ()
    ) -> None:
        """`also_forget`: what else is swept, each given the time."""
        self._checks, self._blobs, self._queue, self._also_forget = checks, blobs, queue, also_forget
        self._stop = threading.Event()
        self._begin = threading.Lock()
        self._thread: threading.Thread | None = None
        self._looked_at = self._clocks()
        self._hold_until = time.monotonic()

    def start(self) -> None:
        """Sweep once and begin; a second call does nothing."""
        with self._begin:
            if self._thread or self._stop.is_set():
                return
            self._take_up()
            self._sweep()
            self._thread = threading.Thread(target=self._work, name="housekeeping", daemon=True)
            self._thread.start()

    def _work(self) -> None:
        beats = 0
        while not self._stop.wait(BEAT_SECONDS):
            beats += 1
            self._beat()
            if self._clock_jumped():
                log.warning("the clock jumped: nothing is swept or taken up for %g seconds", 2 * SILENT_AFTER.total_seconds())
                self._hold_until = time.monotonic() + 2 * SILENT_AFTER.total_seconds()
            if time.monotonic() < self._hold_until:
                continue
            self._take_up()
            if beats % SWEEP_EVERY_BEATS == 0:
                self._sweep()

    def _beat(self) -> None:
        try:
            self._checks.beat(self._queue.owner, now())
        except DatabaseError:
            log.exception("the database does not answer; trying again in %g seconds", BEAT_SECONDS)

    def _clock_jumped(self) -> bool:
        before, self._looked_at = self._looked_at, self._clocks()
        return abs(self._looked_at - before) > JUMP_SECONDS

    def _clocks(self) -> float:
        """The same at any time, as long as the clock goes as time passes."""
        return now().timestamp() - time.monotonic()

    def _take_up(self) -> None:
        try:
            self._queue.take_up(self._checks.take_up(self._queue.owner, now(), SILENT_AFTER, "interrupted"))
        except DatabaseError:
            log.exception("the checks of processes that died cannot be taken up; it is tried again later")

    def _sweep(self) -> None:
        try:
            sweep(self._checks, self._blobs, now())
            for forget in self._also_forget:
                forget(now())
        except (DatabaseError, OSError):
            log.exception("sweeping failed; it is tried again later")

    def close(self) -> None:
        self._stop.set()
        if self._thread:
            self._thread.join(BEAT_SECONDS)
