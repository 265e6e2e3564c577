"""What a run costs: wall time, processor time and the memory of its largest process, of commands and of a running service."""

from __future__ import annotations

import os
import resource
import threading
import time
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path

_TICKS = os.sysconf("SC_CLK_TCK")
_LOOK_EVERY_SECONDS = 0.02
"""At the memory of what the service has started, and of nothing else: a look through all of /proc took the machine from it."""


@dataclass(frozen=True)
class Cost:
    wall_s: float
    processor_s: float
    peak_mb: float
    """0 where nobody looked."""


def of_commands(run: Callable[[], None]) -> Cost:
    """Of processes that the run starts and waits for."""
    before, began = resource.getrusage(resource.RUSAGE_CHILDREN), time.perf_counter()
    run()
    wall, after = time.perf_counter() - began, resource.getrusage(resource.RUSAGE_CHILDREN)
    return Cost(wall, after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime, 0.0)


def of_service(pid: int, run: Callable[[], None]) -> Cost:
    """Of a process and all that it has started, in a run that asks it for something."""
    done, peak = threading.Event(), [0.0]

    def look() -> None:
        while not done.wait(_LOOK_EVERY_SECONDS):
            peak[0] = max([peak[0], *map(_peak_mb, _family(pid))])

    looking = threading.Thread(target=look)
    before, began = _processor_s(pid), time.perf_counter()
    looking.start()
    try:
        run()
    finally:
        wall = time.perf_counter() - began
        done.set()
        looking.join()
    time.sleep(0.05)  # the last child is buried, and its time counted, by then
    return Cost(wall, _processor_s(pid) - before, peak[0])


def _family(pid: int) -> Iterator[int]:
    """It and all below it, as the kernel lists them by the thread that started each (proc(5), task/…/children)."""
    yield pid
    for one in Path(f"/proc/{pid}/task").glob("*/children"):
        try:
            children = one.read_text().split()
        except OSError:  # gone
            continue
        for child in children:
            yield from _family(int(child))


def _processor_s(pid: int) -> float:
    """Its own, and of what it has waited for."""
    stats = [stat for one in _family(pid) if (stat := _stat(one))]
    return sum(int(stat[at]) for stat in stats for at in (11, 12, 13, 14)) / _TICKS


def _stat(pid: int) -> list[str]:
    """The fields of proc(5) behind the name; empty where it is gone."""
    try:
        return Path(f"/proc/{pid}/stat").read_text().rpartition(")")[2].split()
    except OSError:
        return []


def _peak_mb(pid: int) -> float:
    try:
        lines = Path(f"/proc/{pid}/status").read_text().splitlines()
    except OSError:
        return 0.0
    return next((int(one.split()[1]) / 1024 for one in lines if one.startswith("VmHWM:")), 0.0)
