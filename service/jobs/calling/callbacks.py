"""Threads that deliver callbacks as they fall due; one that cannot be delivered is tried again for a day, more and more rarely.

A host that is slow to answer has one thread of a process at most.
"""

from __future__ import annotations

import logging
import random
import threading
import time
from datetime import timedelta

from service.jobs.bell import Bell
from service.jobs.calling.addresses import Allowed, Refused, target_of
from service.jobs.calling.message import body_of, headers_of
from service.jobs.calling.sending import MOST_SECONDS, NotDelivered, deliver
from service.store.calls import Call, Calls
from service.store.database import DatabaseError
from service.store.notices import CALL

log = logging.getLogger(__name__)

AGAIN_AFTER_SECONDS = (5, 30, 120, 600, 1800, 3600, 7200, 10800, 14400, 14400, 14400, 14400)
"""Between attempts: the schedule that the specification suggests, drawn out over a day."""
FOR_AT_MOST = timedelta(hours=24)
THREADS = 3
_SPREAD = 0.2
"""Of a wait, at random: those that failed together do not come back together."""
_HELD_FOR = timedelta(seconds=MOST_SECONDS + 40)
"""By whoever delivers it; then he is taken for dead, and another delivers it."""
_AWAY_SECONDS = 1.0
_LEFT_AFTER_SECONDS = 5.0
"""By a process that ends: what is being delivered then is delivered again by another, under its id."""


class Callbacks:
    def __init__(self, calls: Calls, bell: Bell, allowed: Allowed, secrets: tuple[bytes, ...], look_every_seconds: float) -> None:
        self._calls, self._allowed, self._secrets, self._look_every_seconds = calls, allowed, secrets, look_every_seconds
        self._changed, self._taking = threading.Condition(), threading.Lock()
        self._closing = False
        self._told = True
        self._hosts: set[str] = set()
        """That are being called."""
        self._threads = [threading.Thread(target=self._work, name=f"callbacks {n + 1}", daemon=True) for n in range(THREADS)]
        bell.hear(self._hear)

    def start(self) -> None:
        for thread in self._threads:
            thread.start()

    def _hear(self, word: str, _: str) -> None:
        if word == CALL:
            with self._changed:
                self._told = True
                self._changed.notify()

    def close_soon(self) -> None:
        """No further one is begun."""
        with self._changed:
            self._closing = True
            self._changed.notify_all()

    def close(self) -> None:
        """What is being delivered has a moment to be; what is due is left to others."""
        self.close_soon()
        until = time.monotonic() + _LEFT_AFTER_SECONDS
        for thread in self._threads:
            if thread.is_alive():
                thread.join(max(0.0, until - time.monotonic()))

    def _work(self) -> None:
        while not self._closing:
            call = self._next()
            if call is None:
                with self._changed:
                    if not self._told and not self._closing:
                        self._changed.wait(self._look_every_seconds)
                    self._told = False
                continue
            try:
                self._deliver(call)
            except DatabaseError as error:
                log.warning("what became of a callback cannot be kept (%s): it may come twice", type(error).__name__)
            finally:
                with self._changed:
                    self._hosts.discard(call.host)
                    self._told = True

    def _next(self) -> Call | None:
        with self._taking:  # one at a time, so that no host is called twice at once
            try:
                call = self._calls.take(_HELD_FOR, sorted(self._hosts))
            except DatabaseError as error:
                log.warning("no callback can be taken from the database (%s)", type(error).__name__)
                time.sleep(_AWAY_SECONDS)
                return None
            with self._changed:
                if call:
                    self._hosts.add(call.host)
                    self._changed.notify()  # where one is due, another may be
            return call

    def _deliver(self, call: Call) -> None:
        try:
            allowed = self._allowed.of_account(call.hosts)
            target = target_of(call.url, allowed)
            body = body_of(call.check)
            deliver(target, allowed, headers_of(call.id, int(time.time()), body, self._secrets), body)
        except Refused as refused:
            log.warning("a callback is given up: %s", refused)
            self._calls.settle(call.id)
        except NotDelivered as failed:
            wait = again_after(call.attempts)
            if failed.for_good or wait is None or call.age > FOR_AT_MOST:
                log.warning("a callback is given up after %d attempts: %s", call.attempts, failed)
                self._calls.settle(call.id)
            else:
                log.info("a callback is tried again in %d s: %s", wait.total_seconds(), failed)
                self._calls.again(call.id, wait)
        else:
            self._calls.settle(call.id)


def again_after(attempts: int) -> timedelta | None:
    """How long to wait after so many; None where that was the last."""
    if attempts > len(AGAIN_AFTER_SECONDS):
        return None
    seconds = AGAIN_AFTER_SECONDS[attempts - 1]
    return timedelta(seconds=seconds * random.uniform(1, 1 + _SPREAD))
