"""Loaded by Python itself in each process that is recorded: the calendar stands still, so that no answer depends on the day.

`time.time` and `time.monotonic` go on: waiting and limits work as ever.
"""

from __future__ import annotations

import datetime
import os
from typing import Any

_DATETIME = datetime.datetime
_NOW = _DATETIME.fromisoformat(os.environ["RECORDED_NOW"])


class _AnyDatetime(type):
    def __instancecheck__(cls, instance: Any) -> bool:
        return isinstance(instance, _DATETIME)


class _Still(_DATETIME, metaclass=_AnyDatetime):
    @classmethod
    def now(cls, tz: datetime.tzinfo | None = None) -> Any:
        return _NOW.astimezone(tz) if tz else _NOW.replace(tzinfo=None)


_Still.__module__, _Still.__name__, _Still.__qualname__ = "datetime", "datetime", "datetime"
"""Pickled as what it stands for: a child process has a calendar that goes on."""
datetime.datetime = _Still  # type: ignore[misc]
