"""Checks are accepted, waited for and called off here; where they run is another matter (`service.jobs.workers`)."""

from __future__ import annotations

import logging
import threading
import time
from collections import defaultdict
from datetime import timedelta
from math import ceil

from service.jobs.bell import Bell
from service.jobs.queue_full import QueueFull
from service.store.checks import Checks
from service.store.database import DatabaseError
from service.store.line import Line, LineFull, Pace
from service.store.models import CheckRow
from service.store.notices import DONE, STOP, WAITS

log = logging.getLogger(__name__)

LONGEST_RETRY_SECONDS = 3600
SILENT_AFTER = timedelta(seconds=20)
"""A process beats every few seconds; one that was silent for this long is gone."""
_SENDERS_WITH_FULL_LINES = 10
"""So many senders may have all their places; after that even the next one's first check is refused."""
_NOBODY_WORKS = Pace(places=1, first_pass_seconds=5.0, long_seconds=10.0)
"""What to expect where no worker has said yet that it lives."""


class Queue:
    def __init__(
        self, checks: Checks, line: Line, bell: Bell, *, length: int, look_every_seconds: float, most_waiting_callers: int = 4
    ) -> None:
        """`length`: of the checks of one sender that may wait; `look_every_seconds`: at a check, should nobody tell of it."""
        self._checks, self._line, self._bell = checks, line, bell
        self._length, self._look_every_seconds = length, look_every_seconds
        self._closing, self._closed = threading.Event(), threading.Event()
        self._callers = threading.BoundedSemaphore(most_waiting_callers)
        self._waiting: defaultdict[str, list[threading.Event]] = defaultdict(list)
        self._changing = threading.Lock()
        bell.hear(self._hear)

    def submit(self, row: CheckRow, sender: str = "", token_id: str | None = None) -> None:
        """Store the check and have it run. `sender`: who shares places with nobody else; `token_id`: of the upload token.

        Raises `QueueFull`, `KeyTaken`, `TokenSpent`.
        """
        if self._closing.is_set():
            raise QueueFull(1, closing=True)
        try:
            self._line.join(row, sender, self._length, _SENDERS_WITH_FULL_LINES * self._length, token_id)
        except LineFull as full:
            raise QueueFull(self._retry_after_seconds(sender)) from full
        self._bell.ring(WAITS)

    def submit_again(self, check_id: str, question: str) -> CheckRow | None:
        """An outdated check, to be measured anew; None where somebody else was quicker. Raises `QueueFull`."""
        try:
            row = self._line.join_again(check_id, question, self._length)
        except LineFull as full:
            raise QueueFull(self._retry_after_seconds("")) from full
        self._bell.ring(WAITS)
        return row

    def wait(self, check_id: str, seconds: float) -> bool:
        """Until the check is done with, at most so long; at once where enough callers wait, or the service ends.

        Whether it is done with.
        """
        if not self._callers.acquire(blocking=False):
            return False
        told = threading.Event()
        with self._changing:
            self._waiting[check_id].append(told)
        try:
            until = time.monotonic() + seconds
            while is_open := self._checks.is_open(check_id):
                left = until - time.monotonic()
                if left <= 0 or self._closed.is_set():
                    break
                told.wait(min(left, self._look_every_seconds))
                told.clear()
            return not is_open
        finally:
            with self._changing:
                self._waiting[check_id].remove(told)
                if not self._waiting[check_id]:
                    del self._waiting[check_id]
            self._callers.release()

    def _hear(self, word: str, check_id: str) -> None:
        if word in (DONE, STOP):
            with self._changing:
                some = self._waiting.get(check_id, []) if check_id else [one for those in self._waiting.values() for one in those]
                for told in some:
                    told.set()

    def cancel(self, check_id: str) -> None:
        """Nobody wants the result any longer."""
        self._bell.ring(STOP, check_id)

    def close_soon(self) -> None:
        """No check is accepted from now on; may be called from a signal handler."""
        self._closing.set()

    def close(self) -> None:
        """Who still waits is told how far the check is."""
        self._closing.set()
        self._closed.set()
        self._hear(DONE, "")

    def _retry_after_seconds(self, sender: str) -> int:
        """When one more of the sender's checks may be expected to have begun."""
        try:
            pace = self._line.pace(SILENT_AFTER) or _NOBODY_WORKS
            begun = self._begun_a_second(sender, pace.places, pace.long_seconds, is_long=True)
            if not begun:  # where long ones wait, a first pass that ends makes no room: its check stands in line again
                begun = self._begun_a_second(sender, max(1, pace.places // 2), pace.first_pass_seconds, is_long=False)
        except DatabaseError:
            log.exception("the database does not say how many wait")
            return 5
        return min(LONGEST_RETRY_SECONDS, max(1, ceil(1 / begun))) if begun else 1

    def _begun_a_second(self, sender: str, places: int, usual_seconds: float, *, is_long: bool) -> float:
        """How many of the sender's waiting checks may be expected to begin in a second."""
        lengths = self._line.lengths(sender, is_long=is_long)
        return places / (max(usual_seconds, 0.05) * lengths.senders) if lengths.of_sender else 0.0
