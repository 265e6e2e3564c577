"""Which kind of check may begin now, and for how long: a first short pass for each, so that long ones keep no short ones waiting.

* Each check begins with a first pass. One that is not finished when that is over goes on where a place for long checks is free or
  nobody waits; else it is stopped, stands in the line of long checks, and then goes on to its end with the pages that it has.
* As many checks run as there are workers. Where long ones have all places, one more is there for first passes. Long ones that
  wait get at least one place, however many short ones come.

These are the places of one process; who waits stands in the database (`service.store.line`). Nothing here waits or locks: whoever
uses it does.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from threading import Event

from service.store.line import Pace, Taken
from service.store.models import CheckRow

FIRST_PASS, LONG = False, True
"""As `CheckRow.is_long` says it."""
_SHORTER = 4


class Job:
    def __init__(self, taken: Taken, began_at: float) -> None:
        self.row: CheckRow = taken.row
        self.stop = Event()
        self.is_long = taken.row.is_long
        self.has_long_waiting = taken.has_long_waiting
        self.began_at = began_at
        self.comes_again = False
        """Its first pass was too short: it is to stop, and stands in line for a long one."""


@dataclass
class _Kind:
    """First passes, or long checks."""

    usual_seconds: float
    running: int = 0

    def ended(self, seconds: float) -> None:
        self.running -= 1
        self.usual_seconds += 0.2 * (seconds - self.usual_seconds)


class Places:
    def __init__(self, workers: int, clock: Callable[[], float], first_pass_seconds: float) -> None:
        self._workers, self._clock, self._first_pass_seconds = workers, clock, first_pass_seconds
        self._first, self._long = _Kind(usual_seconds=0.5), _Kind(usual_seconds=10.0)

    @property
    def pace(self) -> Pace:
        return Pace(self._workers, self._first.usual_seconds, self._long.usual_seconds)

    def may_begin(self) -> tuple[bool, ...]:
        """The kinds of which one may begin now, the preferred one first; none where all places are taken."""
        if self._first.running + self._long.running >= max(self._workers, self._long.running + 1):
            return ()
        if self._long.running >= self._workers:
            return (FIRST_PASS,)
        return (FIRST_PASS, LONG) if self._long.running else (LONG, FIRST_PASS)

    def begin(self, taken: Taken) -> Job:
        (self._long if taken.row.is_long else self._first).running += 1
        return Job(taken, self._clock())

    def is_over(self, job: Job) -> bool:
        """Whether it runs in its first pass, and that is over."""
        return not job.is_long and self._clock() - job.began_at >= self._first_pass_of(job)

    def may_go_on(self, job: Job, *, somebody_waits: bool) -> bool:
        """Asked now and then while it runs. `somebody_waits`: for a first pass."""
        if job.stop.is_set() or job.comes_again:
            return False
        if not self.is_over(job):
            return True
        if self._long.running < self._workers:
            self._first.running -= 1
            self._long.running += 1
            job.is_long = True
            return True
        job.comes_again = somebody_waits
        return not job.comes_again

    def _first_pass_of(self, job: Job) -> float:
        """Shorter for who has long checks waiting: his next one is as likely as not another."""
        return self._first_pass_seconds / (_SHORTER if job.has_long_waiting else 1)

    def ended(self, job: Job) -> None:
        (self._long if job.is_long else self._first).ended(self._clock() - job.began_at)
