"""There is no room for one more that waits, for a check or for a drawing."""

from __future__ import annotations


class QueueFull(Exception):
    """No more can wait; try again after so many seconds."""

    def __init__(self, retry_after_seconds: int, *, closing: bool = False) -> None:
        """`closing`: the service stops."""
        super().__init__("there is no more room to wait")
        self.retry_after_seconds, self.closing = retry_after_seconds, closing
