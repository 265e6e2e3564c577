"""The latest measurements as records: a check that was just finished is asked for, told and drawn without reading them again."""

from __future__ import annotations

import threading
from collections import OrderedDict

from service.pdf.facts.measurements import Measurements

MOST_CHARACTERS = 6_000_000
"""Of JSON, all together; as records they take some two to three times as much (measured). Ours, no source."""


class RecentlyMeasured:
    def __init__(self, most_characters: int = MOST_CHARACTERS) -> None:
        self._left = most_characters
        self._lock = threading.Lock()
        self._kept: OrderedDict[str, tuple[Measurements, int]] = OrderedDict()

    def get(self, digest: str) -> Measurements | None:
        with self._lock:
            found = self._kept.get(digest)
            if found is None:
                return None
            self._kept.move_to_end(digest)
            return found[0]

    def keep(self, digest: str, measurements: Measurements, characters: int) -> None:
        """`characters`: of their JSON."""
        with self._lock:
            if digest in self._kept:
                return
            self._kept[digest] = measurements, characters
            self._left -= characters
            while self._left < 0:
                _, (_, freed) = self._kept.popitem(last=False)
                self._left += freed

    def forget(self, digest: str) -> None:
        with self._lock:
            _, freed = self._kept.pop(digest, (None, 0))
            self._left += freed
