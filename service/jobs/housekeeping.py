"""A thread that says 'alive' for the checks that run here, has those of dead processes wait again, and sweeps what has expired.

After a jump of the clock, forwards, back or through a sleep of the machine, and after the database was away, others seem dead and
files old that are not: it first says 'alive' for a while and only then looks again.
"""

from __future__ import annotations

import logging
import threading
import time
from collections.abc import Callable, Sequence
from datetime import datetime

from service.jobs.bell import Bell
from service.jobs.checking import now
from service.jobs.queue import SILENT_AFTER
from service.jobs.workers import Workers
from service.store.checks import Checks
from service.store.database import DatabaseError
from service.store.files.blobs import Blobs
from service.store.files.uploads import Uploads
from service.store.line import Line
from service.store.notices import WAITS
from service.store.retention import sweep

log = logging.getLogger(__name__)

BEAT_SECONDS = 5.0
SWEEP_EVERY_BEATS = 6
JUMP_SECONDS = 10.0
"""The clock went so much otherwise than the time that passed."""


class Housekeeping:
    def __init__(
        self,
        checks: Checks,
        line: Line,
        blobs: Blobs,
        uploads: Uploads,
        bell: Bell,
        workers: Workers | None,
        look_after_seconds: float = 0.0,
        also_forget: Sequence[Callable[[datetime], None]] = (),
    ) -> None:
        """`look_after_seconds`: for dead ones; where all have just lost the same database, all seem so.

        `also_forget`: what else is swept, each given the time.
        """
        self._checks, self._line, self._blobs, self._uploads = checks, line, blobs, uploads
        self._bell, self._workers = bell, workers
        self._also_forget = also_forget
        self._stop = threading.Event()
        self._begin = threading.Lock()
        self._thread: threading.Thread | None = None
        self._looked_at = self._clocks()
        self._hold_until = time.monotonic() + look_after_seconds

    def start(self) -> bool:
        """Sweep once and begin; False: that has been done."""
        if self._thread:
            return False
        with self._begin:
            if self._thread or self._stop.is_set():
                return False
            if time.monotonic() >= self._hold_until:
                self._take_up()
                self._sweep()
            self._beat()
            self._thread = threading.Thread(target=self._work, name="housekeeping", daemon=True)
            self._thread.start()
            return True

    def _work(self) -> None:
        beats = 0
        while not self._stop.wait(BEAT_SECONDS):
            beats += 1
            self._beat()
            if self._clock_jumped():
                log.warning("the clock jumped")
                self._hold()
            if time.monotonic() < self._hold_until:
                continue
            self._take_up()
            if beats % SWEEP_EVERY_BEATS == 0:
                self._sweep()

    def _hold(self) -> None:
        seconds = 2 * SILENT_AFTER.total_seconds()
        log.warning("nothing is swept or taken up for %g seconds", seconds)
        self._hold_until = time.monotonic() + seconds

    def _beat(self) -> None:
        try:
            if self._workers:
                self._workers.beat()
            else:
                self._checks.answers()
        except DatabaseError:
            log.exception("the database does not answer; trying again in %g seconds", BEAT_SECONDS)
            self._hold()

    def _clock_jumped(self) -> bool:
        before, self._looked_at = self._looked_at, self._clocks()
        return abs(self._looked_at - before) > JUMP_SECONDS

    def _clocks(self) -> float:
        """The same at any time, as long as the clock goes as time passes."""
        return now().timestamp() - time.monotonic()

    def _take_up(self) -> None:
        try:
            if self._line.take_up(SILENT_AFTER, "interrupted"):
                self._bell.ring(WAITS)
        except DatabaseError:
            log.exception("the checks of processes that died cannot be taken up; it is tried again later")

    def _sweep(self) -> None:
        try:
            sweep(self._checks, self._blobs, now())
            self._uploads.sweep(now())
            for forget in self._also_forget:
                forget(now())
        except (DatabaseError, OSError):
            log.exception("sweeping failed; it is tried again later")

    def close(self) -> None:
        self._stop.set()
        if self._thread:
            self._thread.join(BEAT_SECONDS)
