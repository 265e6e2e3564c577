"""The parts of the running service, made once from the settings."""

from __future__ import annotations

from dataclasses import dataclass

from service.jobs.checking import Checking
from service.jobs.child import Limits, Task
from service.jobs.housekeeping import Housekeeping
from service.jobs.local import LocalQueue
from service.jobs.queue import Queue
from service.settings import Settings
from service.store.blobs import Blobs
from service.store.checks import Checks
from service.store.database import open_database


@dataclass(frozen=True)
class Parts:
    settings: Settings
    checks: Checks
    blobs: Blobs
    queue: Queue
    housekeeping: Housekeeping

    def close(self) -> None:
        """Settle what is open, end the threads, let go of the database."""
        self.queue.close()
        self.housekeeping.close()
        self.checks.close()


def make_parts(settings: Settings, measure: str = Task.measure) -> Parts:
    """Makes the data folder where it is missing; raises OSError where that cannot be."""
    settings.data.mkdir(parents=True, exist_ok=True)
    checks = Checks(open_database(settings.database_url, settings.data))
    blobs = Blobs(settings.data / "files")
    checking = Checking(checks, blobs, Limits(settings.check_seconds, settings.check_memory_bytes), measure)
    queue = LocalQueue(
        checking, checking.give_up, workers=settings.workers, length=settings.queue_length, stop_seconds=settings.stop_seconds
    )
    return Parts(settings, checks, blobs, queue, Housekeeping(checks, blobs, queue.owner))
