"""The queue of one process: worker threads and a bounded line. Each running check is a child process of its own."""

from __future__ import annotations

import secrets
import threading
import time
from collections import OrderedDict
from collections.abc import Callable
from math import ceil

from service.jobs.queue import QueueFull

Run = Callable[[str, Callable[[], bool]], None]
"""Runs the check of that id until it is settled; the function that it gets says whether to stop early."""


class _Job:
    def __init__(self) -> None:
        self.done = threading.Event()
        self.stop = threading.Event()


class LocalQueue:
    def __init__(self, run: Run, give_up: Callable[[str], None], *, workers: int, length: int, stop_seconds: float) -> None:
        """`give_up` settles a check that will never run here."""
        self.owner = secrets.token_urlsafe(12)
        self._run, self._give_up = run, give_up
        self._workers, self._length, self._stop_seconds = workers, length, stop_seconds
        self._waiting: OrderedDict[str, _Job] = OrderedDict()
        self._running: dict[str, _Job] = {}
        self._changed = threading.Condition()
        self._closing = threading.Event()
        self._close_once = threading.Lock()
        self._threads: list[threading.Thread] = []
        self._usual_seconds = 1.0

    def submit(self, check_id: str) -> None:
        with self._changed:
            if len(self._waiting) >= self._length or self._closing.is_set():
                raise QueueFull(min(60, ceil(self._usual_seconds * len(self._waiting) / self._workers) or 1))
            self._waiting[check_id] = _Job()
            # Threads begin with the first check: those of a process that was forked later would not exist in it.
            if len(self._threads) < self._workers:
                thread = threading.Thread(target=self._work, name=f"check worker {len(self._threads) + 1}", daemon=True)
                self._threads.append(thread)
                thread.start()
            self._changed.notify()

    def wait(self, check_id: str, seconds: float) -> None:
        with self._changed:
            job = self._waiting.get(check_id) or self._running.get(check_id)
        if job:
            job.done.wait(seconds)

    def cancel(self, check_id: str) -> None:
        with self._changed:
            waiting, running = self._waiting.pop(check_id, None), self._running.get(check_id)
        if waiting:
            waiting.done.set()
        if running:
            running.stop.set()

    def _work(self) -> None:
        while True:
            with self._changed:
                while not self._waiting:
                    if self._closing.is_set():
                        return
                    self._changed.wait(0.5)
                if self._closing.is_set():
                    return
                check_id, job = self._waiting.popitem(last=False)
                self._running[check_id] = job
            started = time.monotonic()
            try:
                self._run(check_id, job.stop.is_set)
            finally:
                self._usual_seconds += 0.2 * (time.monotonic() - started - self._usual_seconds)
                with self._changed:
                    del self._running[check_id]
                job.done.set()

    def stop_soon(self) -> None:
        # In a thread: a signal handler must not wait for a lock that the interrupted code may hold.
        threading.Thread(target=self.close, name="closing", daemon=True).start()

    def close(self) -> None:
        with self._close_once:
            self._close()

    def _close(self) -> None:
        self._closing.set()
        with self._changed:
            left, self._waiting = self._waiting, OrderedDict()
            self._changed.notify_all()
        for check_id, job in left.items():
            self._give_up(check_id)
            job.done.set()
        until = time.monotonic() + self._stop_seconds
        for job in self._jobs():
            job.done.wait(max(0.0, until - time.monotonic()))
        for job in self._jobs():
            job.stop.set()
        for thread in self._threads:
            thread.join(10)

    def _jobs(self) -> list[_Job]:
        with self._changed:
            return list(self._running.values())
