"""What the service asks of a queue of checks."""

from __future__ import annotations

from typing import Protocol


class QueueFull(Exception):
    """No more checks can wait; try again after so many seconds."""

    def __init__(self, retry_after_seconds: int) -> None:
        super().__init__("the queue of checks is full")
        self.retry_after_seconds = retry_after_seconds


class Queue(Protocol):
    owner: str
    """Stands in the rows of the checks that this queue holds."""

    def submit(self, check_id: str) -> None:
        """Raises `QueueFull`."""

    def wait(self, check_id: str, seconds: float) -> None:
        """Until the check is done with, at most so long; returns at once for a check of another queue."""

    def cancel(self, check_id: str) -> None:
        """Nobody wants the result any longer."""

    def stop_soon(self) -> None:
        """Begin to close and return at once; may be called from a signal handler."""

    def close(self) -> None:
        """Let running checks finish for a while, give up the rest; returns when all is settled."""
