"""A thread that says 'alive' for the queue's checks and sweeps what has expired."""

from __future__ import annotations

import logging
import threading

from service.jobs.checking import now
from service.store.blobs import Blobs
from service.store.checks import Checks
from service.store.database import DatabaseError
from service.store.retention import sweep

log = logging.getLogger(__name__)

BEAT_SECONDS = 5.0
SWEEP_EVERY_BEATS = 6


class Housekeeping:
    def __init__(self, checks: Checks, blobs: Blobs, owner: str) -> None:
        self._checks, self._blobs, self._owner = checks, blobs, owner
        self._stop = threading.Event()
        self._begin = threading.Lock()
        self._thread: threading.Thread | None = None

    def start(self) -> None:
        """Sweep once and begin; a second call does nothing."""
        with self._begin:
            if self._thread or self._stop.is_set():
                return
            self._sweep()
            self._thread = threading.Thread(target=self._work, name="housekeeping", daemon=True)
            self._thread.start()

    def _work(self) -> None:
        beats = 0
        while not self._stop.wait(BEAT_SECONDS):
            beats += 1
            try:
                self._checks.beat(self._owner, now())
            except DatabaseError:
                log.exception("the database does not answer; trying again in %g seconds", BEAT_SECONDS)
            if beats % SWEEP_EVERY_BEATS == 0:
                self._sweep()

    def _sweep(self) -> None:
        try:
            sweep(self._checks, self._blobs, now())
        except (DatabaseError, OSError):
            log.exception("sweeping failed; it is tried again later")

    def close(self) -> None:
        self._stop.set()
        if self._thread:
            self._thread.join(BEAT_SECONDS)
