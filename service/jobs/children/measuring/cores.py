"""How many processes each check may measure in at once: idle cores are shared, and a check that begins gets its own."""

from __future__ import annotations

import os
import threading
from collections.abc import Iterator
from contextlib import contextmanager


class Cores:
    def __init__(self, count: int) -> None:
        self._count = count
        self._changing = threading.Lock()
        self._checks = 0

    @contextmanager
    def check(self) -> Iterator[None]:
        """As long as it lasts, one more check has a share."""
        with self._changing:
            self._checks += 1
        try:
            yield
        finally:
            with self._changing:
                self._checks -= 1

    @property
    def share(self) -> int:
        """Processes of one check, at this moment."""
        return max(1, self._count // max(1, self._checks))


CORES = Cores(len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count() or 1)
"""Those of this machine, for the checks of this process."""
