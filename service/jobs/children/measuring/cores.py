"""How many processes each check may measure in at once: idle cores are shared, and a check that begins gets its own."""

from __future__ import annotations

import os
import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path


class Cores:
    def __init__(self, count: int, running: Callable[[], int] = lambda: 0) -> None:
        """`running`: how many threads of the whole machine run or could, ours that asks among them."""
        self._count, self._running = count, running
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


    @property
    def one_is_idle(self) -> bool:
        """Where others keep the machine busy, another process makes nothing quicker, and costs what it costs to begin."""
        return self._running() <= self._count


def _running_now() -> int:
    """As the kernel counts them at this moment (proc(5), loadavg); 0 where it does not say."""
    try:
        return int(Path("/proc/loadavg").read_text(encoding="ascii").split()[3].partition("/")[0])
    except (OSError, ValueError, IndexError):
        return 0


CORES = Cores(len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count() or 1, _running_now)
"""Those of this machine, for the checks of this process."""
