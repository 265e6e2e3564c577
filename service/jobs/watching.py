"""How far checks are, asked of the database once for all who watch: whoever looks soon after another sees what that one saw."""

from __future__ import annotations

import threading
import time

from service.jobs.bell import Bell
from service.jobs.checking import now
from service.store.checks import Checks, Stage
from service.store.notices import DONE, STOP

_FRESH_SECONDS = 0.15
"""A check says how far it is four times a second at most."""
_WATCHED_SECONDS = 3.0
"""After which one that nobody asked for is no longer watched."""


class Watching:
    def __init__(self, checks: Checks, bell: Bell) -> None:
        self._checks = checks
        self._lock = threading.Lock()
        self._asked_at: dict[str, float] = {}
        self._seen: dict[str, Stage] = {}
        self._seen_at = 0.0
        bell.hear(self._hear)

    def _hear(self, word: str, _: str) -> None:
        if word in (DONE, STOP):
            self._seen_at = 0.0  # what was seen is no longer so; without the lock, which is held while the database is asked

    def stage(self, check_id: str) -> Stage | None:
        """None where there is no such check, or no longer. Raises what the database raises."""
        time_now = time.monotonic()
        with self._lock:
            is_new = check_id not in self._asked_at
            self._asked_at[check_id] = time_now
            if is_new or time_now - self._seen_at > _FRESH_SECONDS:
                self._asked_at = {one: at for one, at in self._asked_at.items() if time_now - at < _WATCHED_SECONDS}
                self._seen_at = time_now
                self._seen = self._checks.stages(self._asked_at, now())
            return self._seen.get(check_id)
