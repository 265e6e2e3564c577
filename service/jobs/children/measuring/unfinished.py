"""What checks had measured when they were stopped for others, kept in memory while they wait for their turn."""

from __future__ import annotations

import threading
from collections import OrderedDict

from service.jobs.children.measuring.check import Unfinished

MOST_UNFINISHED = 32
"""Others begin anew. A first pass is short, so that each has measured little. Ours, no source."""


class UnfinishedChecks:
    def __init__(self) -> None:
        self._lock = threading.Lock()
        self._kept: OrderedDict[str, Unfinished] = OrderedDict()

    def keep(self, check_id: str, unfinished: Unfinished) -> None:
        with self._lock:
            self._kept[check_id] = unfinished
            if len(self._kept) > MOST_UNFINISHED:
                self._kept.popitem(last=False)

    def take(self, check_id: str) -> Unfinished | None:
        with self._lock:
            return self._kept.pop(check_id, None)
