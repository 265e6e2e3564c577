"""How much an account may use: requests and bytes in windows of time, and what is kept for it."""

from __future__ import annotations

from dataclasses import dataclass, fields, replace
from typing import Literal

Counted = Literal["requests", "bytes"]
MINUTE, DAY = 60, 86_400


@dataclass(frozen=True)
class Limits:
    requests_per_minute: int
    bytes_per_day: int
    """Of the requests' bodies that carry a PDF."""
    disk_bytes: int
    """Of the files of its checks."""
    sheets: int
    """Of its own that are kept."""


@dataclass(frozen=True)
class Wished:
    """What was set for one account; None: as the settings say."""

    requests_per_minute: int | None = None
    bytes_per_day: int | None = None
    disk_bytes: int | None = None
    sheets: int | None = None

    def over(self, usual: Limits) -> Limits:
        own = {one.name: getattr(self, one.name) for one in fields(self)}
        return replace(usual, **{name: value for name, value in own.items() if value is not None})


@dataclass(frozen=True)
class Policy:
    """So much of something in each window of time. Windows begin at whole multiples of their length since 1970."""

    counted: Counted
    quota: int
    window_seconds: int

    def window(self, epoch_seconds: float) -> int:
        return int(epoch_seconds) // self.window_seconds * self.window_seconds

    def seconds_left(self, epoch_seconds: float) -> int:
        """Until the next window; at least one, so that nobody is told to come back at once."""
        return max(1, self.window(epoch_seconds) + self.window_seconds - int(epoch_seconds))


@dataclass(frozen=True)
class Standing:
    """What is left of a policy's quota."""

    policy: Policy
    left: int
    seconds_left: int


def policies(limits: Limits) -> dict[Counted, Policy]:
    return {
        "requests": Policy("requests", limits.requests_per_minute, MINUTE),
        "bytes": Policy("bytes", limits.bytes_per_day, DAY),
    }
