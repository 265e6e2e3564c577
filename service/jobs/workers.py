"""The part of a process that runs checks: threads that take them from the line in the database. Each running check is a child
process of its own.

Which check is next says `service.store.line`; of which kind, and how long it may run, `service.jobs.places`.
"""

from __future__ import annotations

import gc
import logging
import threading
import time
from collections.abc import Callable
from functools import partial

from service.jobs.bell import Bell
from service.jobs.places import Job, Places
from service.store.database import DatabaseError
from service.store.line import Line
from service.store.models import CheckRow
from service.store.notices import DONE, STOP, WAITS

log = logging.getLogger(__name__)

Run = Callable[[CheckRow, Callable[[], bool]], bool]
"""Runs the check until it is settled, or until the function that it gets says that it is to stop; False: it was stopped."""

GARBAGE = 20_000, 10, 10
"""How often Python looks for garbage in a process that runs checks: measurements are many objects that all live, and looking
through them again and again is a quarter of reading them (measured).
"""
_ASK_AGAIN_SECONDS = 0.25
"""Whether somebody waits, while a check runs."""
_AWAY_SECONDS = 1.0
_JOIN_SECONDS = 10


class Workers:
    def __init__(
        self, owner: str, line: Line, run: Run, bell: Bell, *, places: int, stop_seconds: float, first_pass_seconds: float,
        look_every_seconds: float,
    ) -> None:
        """`look_every_seconds`: at the line, should nobody have told that a check waits."""
        self._owner, self._line, self._run, self._bell = owner, line, run, bell
        self._most_threads, self._stop_seconds, self._look_every_seconds = places + 1, stop_seconds, look_every_seconds
        self._places = Places(places, time.monotonic, first_pass_seconds)  # one thread more, for first passes
        self._changed = threading.Condition()
        self._closing = threading.Event()
        self._jobs: dict[str, Job] = {}
        self._threads: list[threading.Thread] = []
        self._close_once = threading.Lock()
        self._idle, self._taking, self._look_at = 0, False, 0.0
        self._asked_at, self._somebody_waits = 0.0, False
        bell.hear(self._hear)

    def beat(self) -> None:
        """Say that this process lives, and which checks it runs. Raises DatabaseError."""
        with self._changed:
            running = list(self._jobs)
        self._line.beat(self._owner, running, self._places.pace)

    def start(self) -> None:
        """Begin to look for checks. In the process that is to run them: threads do not live on in one that is forked from it."""
        with self._changed:
            if not self._threads:
                gc.set_threshold(*GARBAGE)
                self._one_more()

    def _one_more(self) -> None:
        thread = threading.Thread(target=self._work, name=f"check worker {len(self._threads) + 1}", daemon=True)
        self._threads.append(thread)
        thread.start()

    def _hear(self, word: str, check_id: str) -> None:
        with self._changed:
            if word == WAITS:
                self._look_at = 0.0
                self._changed.notify_all()
            elif word == STOP and check_id in self._jobs:
                self._jobs[check_id].stop.set()

    def _work(self) -> None:
        while (job := self._next()) is not None:
            settled = False
            try:
                settled = self._run(job.row, partial(self._is_to_stop, job))
            finally:
                if not settled:
                    self._put_back(job)
                with self._changed:
                    self._jobs.pop(job.row.id, None)
                    self._places.ended(job)
                    self._look_at = 0.0
                    self._changed.notify_all()
                self._bell.ring(DONE, job.row.id)

    def _next(self) -> Job | None:
        """The next check, once there is one and a place for it; None where no more are begun."""
        while True:
            with self._changed:
                self._idle += 1
                while not self._closing.is_set() and (wait := self._seconds_until_a_look()):
                    self._changed.wait(wait)
                self._idle -= 1
                if self._closing.is_set():
                    return None
                kinds, self._taking, self._look_at = self._places.may_begin(), True, time.monotonic() + self._look_every_seconds
            job = self._taken(kinds)
            if job is not None:
                return job

    def _seconds_until_a_look(self) -> float:
        """None at all where this thread is to look now."""
        if self._taking or not self._places.may_begin():
            return self._look_every_seconds
        return max(0.0, min(self._look_at - time.monotonic(), self._look_every_seconds))

    def _taken(self, kinds: tuple[bool, ...]) -> Job | None:
        taken, look_again_in = None, None
        try:
            taken = self._line.take(self._owner, kinds)
        except DatabaseError as error:
            log.warning("no check can be taken from the database (%s); trying again", type(error).__name__)
            look_again_in = _AWAY_SECONDS
        with self._changed:
            self._taking = False
            if look_again_in:
                self._look_at = time.monotonic() + look_again_in
            if taken is None:
                return None
            job = self._jobs[taken.row.id] = self._places.begin(taken)
            if self._closing.is_set():
                job.stop.set()  # `close` has looked for those that run already
            self._look_at = 0.0  # where one waited, another may
            if self._idle:
                self._changed.notify()
            elif len(self._threads) < self._most_threads:
                self._one_more()
            return job

    def _is_to_stop(self, job: Job) -> bool:
        somebody_waits = self._places.is_over(job) and self._does_somebody_wait()
        with self._changed:
            was_long = job.is_long
            goes_on = self._places.may_go_on(job, somebody_waits=somebody_waits)
            if job.is_long != was_long:  # there is a place for a first pass now
                self._look_at = 0.0
                self._changed.notify()
        return not goes_on

    def _does_somebody_wait(self) -> bool:
        """For a first pass; as of a moment ago."""
        if time.monotonic() > self._asked_at + _ASK_AGAIN_SECONDS:
            self._asked_at = time.monotonic()
            try:
                self._somebody_waits = self._line.any_waits(is_long=False)
            except DatabaseError:
                self._somebody_waits = False
        return self._somebody_waits

    def _put_back(self, job: Job) -> None:
        """What was forgotten meanwhile stays so."""
        try:
            self._line.put_back(job.row.id, self._owner, is_long=job.row.is_long or job.comes_again)
        except DatabaseError:
            log.exception("a check that was stopped cannot be put back; it waits again once its process seems dead")

    def close(self) -> None:
        """Begin no more; let those that run finish for a while, and let go of the rest."""
        with self._close_once:
            self._close()

    def _close(self) -> None:
        with self._changed:
            self._closing.set()
            self._changed.notify_all()
            until = time.monotonic() + self._stop_seconds
            while self._jobs and (left := until - time.monotonic()) > 0:
                self._changed.wait(left)
            for job in self._jobs.values():
                job.stop.set()
        for thread in self._threads:
            thread.join(_JOIN_SECONDS)
        if self._threads:
            try:
                self._line.leave(self._owner)
            except DatabaseError:
                log.warning("the database does not hear that this process ends")
