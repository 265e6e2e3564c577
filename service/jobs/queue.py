"""What the service asks of a queue of checks."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Protocol


class QueueFull(Exception):
    """No more checks can wait; try again after so many seconds."""

    def __init__(self, retry_after_seconds: int, *, closing: bool = False) -> None:
        """`closing`: the service stops."""
        super().__init__("the queue of checks is full")
        self.retry_after_seconds, self.closing = retry_after_seconds, closing


class Queue(Protocol):
    owner: str
    """Stands in the rows of the checks that this queue holds."""

    def submit(self, check_id: str, sender: str = "") -> None:
        """Raises `QueueFull`. `sender`: who shares places with nobody but himself."""

    def take_up(self, check_ids: Iterable[str]) -> None:
        """Checks that were accepted already, and whose process died: there is always room for them."""

    def wait(self, check_id: str, seconds: float) -> None:
        """Until the check is done with, at most so long; at once for a check of another queue, or where enough callers wait."""

    def cancel(self, check_id: str) -> None:
        """Nobody wants the result any longer."""

    def stop_soon(self) -> None:
        """Begin to close and return at once; may be called from a signal handler."""

    def close(self) -> None:
        """Let running checks finish for a while, let go of the rest; returns when all is done."""
