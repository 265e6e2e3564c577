"""The header Server-Timing (W3C Server Timing): where the time of an answer went, in milliseconds."""

from __future__ import annotations

import time
from collections.abc import Iterator
from contextlib import contextmanager

from flask import g


def note_time(name: str, seconds: float) -> None:
    g.setdefault("times", {})[name] = seconds


@contextmanager
def timed(name: str) -> Iterator[None]:
    began = time.monotonic()
    try:
        yield
    finally:
        note_time(name, time.monotonic() - began)


def server_timing(whole_seconds: float) -> str:
    times: dict[str, float] = g.get("times", {})
    return ", ".join(f"{name};dur={1000 * seconds:.1f}" for name, seconds in {**times, "app": whole_seconds}.items())
