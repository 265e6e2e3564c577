"""Which check runs next, and for how long: a first short pass for each, so that long ones do not keep short ones waiting.

* Senders take turns (`service.jobs.line`): how many checks one has waiting is his own matter.
* Each check begins with a first pass. One that is not finished when that is over goes on where a place for long checks is free or
  nobody waits; else it is stopped, stands in the line of long checks, and then goes on to its end with the pages that it has.
* As many checks run as there are workers. Where long ones have all places, one more is there for first passes. Long ones that
  wait get at least one place, however many short ones come.

Nothing here waits or locks: whoever uses it does.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from math import ceil
from threading import Event

from service.jobs.line import Line

LONGEST_RETRY_SECONDS = 3600
_SHORTER = 4


class Job:
    def __init__(self, check_id: str, sender: str) -> None:
        self.check_id, self.sender = check_id, sender
        self.done, self.stop = Event(), Event()
        self.is_long = False
        self.began_at = 0.0
        self.comes_again = False
        """Its first pass was too short: it is to stop, and stands in line for a long one."""


@dataclass
class _Kind:
    """First passes, or long checks."""

    line: Line
    usual_seconds: float
    running: int = 0

    def ended(self, seconds: float) -> None:
        self.running -= 1
        self.usual_seconds += 0.2 * (seconds - self.usual_seconds)

    def begun_a_second(self, sender: str, places: int) -> float:
        """How many of the sender's waiting checks may be expected to begin in a second."""
        return places / (max(self.usual_seconds, 0.05) * self.line.senders) if self.line.of(sender) else 0.0


class Places:
    def __init__(self, workers: int, clock: Callable[[], float], first_pass_seconds: float) -> None:
        self._workers, self._clock, self._first_pass_seconds = workers, clock, first_pass_seconds
        self._first, self._long = _Kind(Line(), usual_seconds=0.5), _Kind(Line(), usual_seconds=10.0)
        self._jobs: dict[str, Job] = {}
        """All that wait or run."""

    def waiting(self, sender: str | None = None) -> int:
        lines = (self._first.line, self._long.line)
        return sum(len(line) if sender is None else line.of(sender) for line in lines)

    def running(self) -> list[Job]:
        return [job for job in self._jobs.values() if job.began_at]

    def find(self, check_id: str) -> Job | None:
        return self._jobs.get(check_id)

    def add(self, check_id: str, sender: str) -> None:
        self._jobs[check_id] = Job(check_id, sender)
        self._first.line.add(check_id, sender)

    def next(self) -> Job | None:
        """The check that begins now; None where none may."""
        if self._first.running + self._long.running >= max(self._workers, self._long.running + 1):
            return None
        long_may = self._long.running < self._workers and (not self._long.running or not self._first.line)
        check_id = self._long.line.next() if long_may else None
        check_id = check_id or self._first.line.next()
        if check_id is None:
            return None
        job = self._jobs[check_id]
        job.began_at = self._clock()
        (self._long if job.is_long else self._first).running += 1
        return job

    def may_go_on(self, job: Job) -> bool:
        """Asked now and then while it runs."""
        if job.stop.is_set() or job.comes_again:
            return False
        if job.is_long or self._clock() - job.began_at < self._first_pass_of(job.sender):
            return True
        if self._long.running < self._workers:
            self._first.running -= 1
            self._long.running += 1
            job.is_long = True
            return True
        job.comes_again = bool(self._first.line)
        return not job.comes_again

    def _first_pass_of(self, sender: str) -> float:
        """Shorter for who has long checks waiting: his next one is as likely as not another."""
        return self._first_pass_seconds / (_SHORTER if self._long.line.of(sender) else 1)

    def ended(self, job: Job) -> bool:
        """Whether it is done with; else it stands in line again."""
        (self._long if job.is_long else self._first).ended(self._clock() - job.began_at)
        job.began_at = 0.0
        if job.comes_again and not job.stop.is_set():
            job.comes_again, job.is_long = False, True
            self._long.line.add(job.check_id, job.sender)
            return False
        self._jobs.pop(job.check_id, None)
        return True

    def cancel(self, check_id: str) -> Job | None:
        """The job, where there is one: it does not run, or it is to stop."""
        job = self._jobs.get(check_id)
        if job is None:
            return None
        job.stop.set()
        if not job.began_at:
            for kind in (self._first, self._long):
                kind.line.remove(check_id, job.sender)
            del self._jobs[check_id]
            job.done.set()
        return job

    def leave(self) -> list[Job]:
        """All that wait: they never run here."""
        left = [self._jobs.pop(check_id) for line in (self._first.line, self._long.line) for check_id in line.leave()]
        for job in left:
            job.stop.set()
        return left

    def retry_after_seconds(self, sender: str) -> int:
        """When one more of the sender's checks may be expected to have begun."""
        begun = self._long.begun_a_second(sender, self._workers)
        if not begun:  # where long ones wait, a first pass that ends makes no room: its check stands in line again
            begun = self._first.begun_a_second(sender, 1)
        return min(LONGEST_RETRY_SECONDS, max(1, ceil(1 / begun))) if begun else 1
