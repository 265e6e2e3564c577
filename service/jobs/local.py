"""The queue of one process: worker threads and a bounded line. Each running check is a child process of its own.

Which check is next, and how long it may run, says `service.jobs.places`.
"""

from __future__ import annotations

import secrets
import threading
import time
from collections.abc import Callable, Iterable
from functools import partial

from service.jobs.places import Job, Places
from service.jobs.queue import QueueFull

Run = Callable[[str, Callable[[], bool]], None]
"""Runs the check of that id until it is settled or stopped; the function that it gets says whether to stop early."""

_SENDERS_WITH_FULL_LINES = 10
"""So many senders may have all their places; after that even the next one's first check is refused."""
TAKEN_UP = ""
"""The sender of checks that another process left."""


class LocalQueue:
    def __init__(
        self,
        run: Run,
        give_up: Callable[[str], None],
        *,
        workers: int,
        length: int,
        stop_seconds: float,
        first_pass_seconds: float,
        most_waiting_callers: int = 4,
    ) -> None:
        """`give_up` lets go of a check that is not settled here; `length`: of the checks of one sender that may wait."""
        self.owner = secrets.token_urlsafe(12)
        self._run, self._give_up = run, give_up
        self._workers, self._length, self._stop_seconds = workers, length, stop_seconds
        self._places = Places(workers, time.monotonic, first_pass_seconds)
        self._changed = threading.Condition()
        self._closing = threading.Event()
        self._close_once = threading.Lock()
        self._callers = threading.BoundedSemaphore(most_waiting_callers)
        self._threads: list[threading.Thread] = []

    def submit(self, check_id: str, sender: str = "") -> None:
        with self._changed:
            full = self._places.waiting() >= _SENDERS_WITH_FULL_LINES * self._length
            if self._closing.is_set() or full or self._places.waiting(sender) >= self._length:
                raise QueueFull(self._places.retry_after_seconds(sender), closing=self._closing.is_set())
            self._add(check_id, sender)

    def take_up(self, check_ids: Iterable[str]) -> None:
        with self._changed:
            for check_id in check_ids:
                if not self._closing.is_set() and self._places.find(check_id) is None:
                    self._add(check_id, TAKEN_UP)

    def _add(self, check_id: str, sender: str) -> None:
        self._places.add(check_id, sender)
        # Threads begin with the first check: those of a process that was forked later would not exist in it.
        if len(self._threads) < self._workers + 1:  # one more for first passes
            thread = threading.Thread(target=self._work, name=f"check worker {len(self._threads) + 1}", daemon=True)
            self._threads.append(thread)
            thread.start()
        self._changed.notify()

    def wait(self, check_id: str, seconds: float) -> None:
        with self._changed:
            job = self._places.find(check_id)
        if job and self._callers.acquire(blocking=False):
            try:
                job.done.wait(seconds)
            finally:
                self._callers.release()

    def cancel(self, check_id: str) -> None:
        with self._changed:
            self._places.cancel(check_id)

    def _work(self) -> None:
        while (job := self._next()) is not None:
            try:
                self._run(job.check_id, partial(self._is_to_stop, job))
            finally:
                with self._changed:
                    done = self._places.ended(job)
                    self._changed.notify_all()
                if done:
                    job.done.set()

    def _next(self) -> Job | None:
        """None where no more are begun."""
        with self._changed:
            while not self._closing.is_set():
                job = self._places.next()
                if job is not None:
                    return job
                self._changed.wait(0.5)
        return None

    def _is_to_stop(self, job: Job) -> bool:
        with self._changed:
            was_long = job.is_long
            goes_on = self._places.may_go_on(job)
            if job.is_long != was_long:
                self._changed.notify()  # there is a place for a first pass now
            return not goes_on

    def stop_soon(self) -> None:
        # In a thread: a signal handler must not wait for a lock that the interrupted code may hold.
        threading.Thread(target=self.close, name="closing", daemon=True).start()

    def close(self) -> None:
        with self._close_once:
            self._close()

    def _close(self) -> None:
        self._closing.set()
        with self._changed:
            running = self._places.running()
            left = self._places.leave()
            self._changed.notify_all()
        for job in left:
            self._give_up(job.check_id)
            job.done.set()
        until = time.monotonic() + self._stop_seconds
        for job in running:
            job.done.wait(max(0.0, until - time.monotonic()))
        stopped = [job for job in running if not job.done.is_set()]
        for job in stopped:
            job.stop.set()
        for thread in self._threads:
            thread.join(10)
        for job in stopped:
            self._give_up(job.check_id)
            job.done.set()
